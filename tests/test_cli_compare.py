"""Two versions at the command line: verdicts, the sheets of what is cut, the next revision."""

import datetime
import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from foamcut.design.design import read_design
from tests.hostile.program import run, tree

SAMPLES = Path(__file__).parent.parent / "sample_designs"
TRAY = SAMPLES / "jar-tray.toml"
BUILT = '\n[[built]]\nkey = "t"\nvalue = "4.8 mm"\nwhy = "measured at last"\ndate = 2031-06-01\n'


@pytest.fixture()
def changed(tmp_path: Path) -> Callable[..., Path]:
    def write(*changes: tuple[str, str], sample: Path = TRAY, more: str = "", name: str = "new.toml") -> Path:
        text = sample.read_text(encoding="utf-8")
        for before, after in changes:
            assert before in text
            text = text.replace(before, after)
        path = tmp_path / name
        path.write_text(text + more, encoding="utf-8")
        return path

    return write


def verdicts(*arguments: str | Path) -> dict[str, str]:
    done = run("compare", *arguments, "--json")
    assert done.code == 0, done.out
    return {part["name"]: part["verdict"] for part in done.document["result"]["parts"]}


def test_the_same_design_is_kept_whole(tmp_path: Path) -> None:
    assert set(verdicts(TRAY, TRAY).values()) == {"keep"}
    done = run("compare", TRAY, TRAY, "--out", tmp_path / "out")
    assert (done.code, (tmp_path / "out").exists()) == (0, False)
    assert "no part changes" in done.out
    assert "nothing is cut" in done.err


def test_a_thinner_board_is_cut_again(changed: Callable[..., Path]) -> None:
    new = changed(('thickness = "t"', 'thickness = "4.8 mm"'))
    assert set(verdicts(TRAY, new).values()) == {"cut again"}


def test_a_pack_counts_by_its_design(
    sample_packs: dict[str, Path], changed: Callable[..., Path], tmp_path: Path
) -> None:
    folder = sample_packs["jar-tray"]
    new = changed(('thickness = "t"', 'thickness = "4.8 mm"'))
    archive = Path(shutil.make_archive(str(tmp_path / "tray"), "zip", folder.parent, folder.name))
    assert verdicts(folder, new) == verdicts(archive, new) == verdicts(TRAY, new)


def test_sheets_of_what_is_cut_alone(changed: Callable[..., Path], tmp_path: Path) -> None:
    """The twin with a longer wing: only what is new is laid, and each piece is one of the verdicts' own."""
    twin = SAMPLES / "cordgrass-2.toml"
    new = changed(("half_span = 92", "half_span = 96"), sample=twin)
    out = tmp_path / "out"
    done = run("compare", twin, new, "--out", out)
    assert done.code == 0, done.err
    assert "half_span 92 -> 96" in done.out
    told = json.loads((out / "comparison.json").read_bytes())
    layout = json.loads((out / "layout.json").read_bytes())
    due = [name for part in told["parts"] for name in part["cut"]]
    assert sorted(part["name"] for part in layout["parts"]) == sorted(due) == sorted(layout["only"])
    assert {part["verdict"] for part in told["parts"] if part["cut"]} <= {"extend", "cut again", "new"}
    keeps = [part for part in told["parts"] if part["verdict"] == "keep"]
    assert len(keeps) > 20
    assert run("verify", out).code == 0
    span = next(row for row in told["numbers"] if row["name"] == "wing_span")
    assert span["after"] - span["before"] == pytest.approx(2 * 4 * 6, abs=0.1)
    again = tree(out)
    assert run("compare", twin, new, "--out", out).code == 0
    assert tree(out) == again


def test_what_was_built_becomes_the_next_revision(changed: Callable[..., Path], tmp_path: Path) -> None:
    new = changed(more=BUILT)
    path = tmp_path / "next.toml"
    done = run("compare", TRAY, new, "--adopt", path)
    assert done.code == 0, done.err
    adopted = read_design(path.read_bytes(), "next.toml")
    assert adopted.plan.revision == "B"
    assert adopted.built == ()
    assert adopted.revisions[-1].date == datetime.date.today()
    assert "t 5 mm -> 4.8 mm" in adopted.revisions[-1].what
    assert adopted.parts == read_design(new.read_bytes(), "new.toml").parts
    assert set(verdicts(new, path).values()) == {"keep"}
    before = path.read_bytes()
    assert run("compare", TRAY, new, "--adopt", path).code == 1
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        (TRAY, SAMPLES / "samphire-1.toml", "no two versions of one design"),
        (TRAY, SAMPLES / "nothing.toml", "cannot be read"),
        (SAMPLES / "pictures", TRAY, "holds no design.toml"),
    ],
)
def test_what_cannot_be_compared_is_refused(old: Path, new: Path, words: str, tmp_path: Path) -> None:
    done = run("compare", old, new, "--out", tmp_path / "out", "--adopt", tmp_path / "next.toml")
    assert done.code == 1
    assert words in done.err
    assert list(tmp_path.iterdir()) == []


def test_the_version_that_is_refused_is_told(changed: Callable[..., Path]) -> None:
    bad = changed(('thickness = "t"', 'thickness = "t mm"'), name="bad.toml")
    for pair in ((bad, TRAY), (TRAY, bad)):
        assert run("compare", *pair).err.startswith(f"{bad}:39: stock.board.thickness")
