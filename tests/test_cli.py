"""The commands as a person uses them: words, exit codes, JSON, and what stays where it was."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.thorough import EVERY

ROOT = Path(__file__).parent.parent


_OF_AEROPLANES = (
    "model.glb", "balance.json", "balance-side.svg", "balance-speeds.svg", "balance-weights.svg"
)  # fmt: skip


def foamcut(*words: object, cwd: Path, stdin: str = "") -> subprocess.CompletedProcess:
    return subprocess.run(
        [sys.executable, "-m", "foamcut", *map(str, words)],
        cwd=cwd, capture_output=True, text=True, input=stdin, check=False, encoding="utf-8",
    )  # fmt: skip


_STARTERS = [
    (units, name) for name in ("trainer", "twin", "glider", "flying-wing", "box") for units in ("mm", "in")
]
#: an aeroplane and a box, one in each unit; the others are looked over
_CUT = [("mm", "trainer"), ("in", "box")]
_LOOKED_OVER = [("mm", "twin"), ("in", "trainer"), ("in", "glider"), ("mm", "flying-wing"), ("in", "flying-wing")]


@pytest.mark.parametrize(("units", "starter"), _LOOKED_OVER)
def test_a_starter_can_be_checked_as_it_stands(tmp_path, units, starter):
    assert foamcut("new", "first.toml", "--units", units, "--starter", starter, cwd=tmp_path).returncode == 0
    checked = foamcut("check", "first.toml", "--strict", cwd=tmp_path)
    assert checked.returncode == 0, checked.stderr


@pytest.mark.parametrize(("units", "starter"), _STARTERS if EVERY else _CUT)
def test_a_starter_can_be_checked_and_cut_as_it_stands(tmp_path, units, starter):
    assert foamcut("new", "first.toml", "--units", units, "--starter", starter, cwd=tmp_path).returncode == 0
    checked = foamcut("check", "first.toml", "--strict", cwd=tmp_path)
    assert checked.returncode == 0, checked.stderr
    cut = foamcut("cut", "first.toml", cwd=tmp_path)
    assert cut.returncode == 0, cut.stderr
    assert cut.stdout == ""
    pack = tmp_path / "output" / "first"
    paper = {"mm": "a4", "in": "letter"}[units]
    assert {p.name for p in pack.iterdir()} == {
        "design.toml", "layout.json", "manifest.json", "shopping.csv", "sheets",
        "full-size.pdf", f"templates-{paper}.pdf", "marking-out.pdf", "marking-out.csv", "overview.pdf",
        "gauges.pdf", "book.html", "book.pdf", *(_OF_AEROPLANES if starter != "box" else []),
    }  # fmt: skip
    assert (pack / "design.toml").read_bytes() == (tmp_path / "first.toml").read_bytes()
    assert "buy" in cut.stderr.splitlines()[0]


def test_new_never_overwrites(tmp_path):
    (tmp_path / "mine.toml").write_text("mine")
    done = foamcut("new", "mine.toml", cwd=tmp_path)
    assert done.returncode == 1
    assert "is there already" in done.stderr
    assert (tmp_path / "mine.toml").read_text() == "mine"


def test_the_schema_is_printed_on_standard_output(tmp_path):
    done = foamcut("schema", cwd=tmp_path)
    assert done.returncode == 0
    assert json.loads(done.stdout)["$schema"].startswith("http://json-schema.org/draft-04/")


def test_a_refusal_names_file_line_key_and_what_to_do(tmp_path):
    foamcut("new", "a.toml", cwd=tmp_path)
    text = (tmp_path / "a.toml").read_text()
    line = next(i for i, row in enumerate(text.splitlines(), 1) if row.startswith("thickness"))
    (tmp_path / "a.toml").write_text(text.replace('thickness = "', 'thicknes = "', 1))
    for command in ("check", "cut"):
        done = foamcut(command, "a.toml", cwd=tmp_path)
        assert done.returncode == 1
        assert f"a.toml:{line}: stock." in done.stderr
        assert "thickness" in done.stderr
        assert "Traceback" not in done.stderr
    assert not (tmp_path / "output").exists()


def test_json_is_one_document_also_when_refused(tmp_path):
    foamcut("new", "a.toml", "--starter", "box", cwd=tmp_path)
    good = json.loads(foamcut("check", "a.toml", "--json", cwd=tmp_path).stdout)
    assert set(good) == {"command", "foamcut", "ok", "design", "refusals", "findings", "result"}
    assert good["ok"] is True
    assert set(good["result"]) == {"parts", "sizes", "joints"}
    cut = json.loads(foamcut("cut", "a.toml", "--json", cwd=tmp_path).stdout)
    assert set(cut["result"]) == {"dir", "files", "bound", "pages", "joints"}
    (tmp_path / "a.toml").write_text("format = 1\n[plan]\nname = 3\n")
    for command in ("check", "cut"):
        done = foamcut(command, "a.toml", "--json", cwd=tmp_path)
        document = json.loads(done.stdout)
        assert done.returncode == 1
        assert document["ok"] is False
        assert document["result"] is None
        assert all(set(r) == {"file", "line", "key", "text"} for r in document["refusals"])
        assert document["refusals"]


@pytest.mark.parametrize(
    "words",
    [["cut"], ["cut", "a.toml", "--squeeze"], ["cut", "a.toml", "--paper", "a5"], ["fold", "a.toml"], ["new", "x.toml", "--units", "cubit"], []],
)
def test_a_wrong_command_line_exits_with_2(tmp_path, words):
    assert foamcut(*words, cwd=tmp_path).returncode == 2


@pytest.mark.parametrize("seconds", ["0", "-3", "nan", "inf", "86401", "a while", ""])
def test_a_squeeze_takes_more_than_no_time_and_at_most_a_day(tmp_path, seconds):
    """A day has 86400 seconds (arithmetic)."""
    done = foamcut("cut", "a.toml", "--squeeze", seconds, cwd=tmp_path)
    assert done.returncode == 2
    assert "--squeeze" in done.stderr
    assert "number" in done.stderr or "float" in done.stderr
    assert "no such file" not in done.stderr


@pytest.mark.parametrize("seconds", ["0.001", "86400"])
def test_a_squeeze_within_a_day_is_taken(tmp_path, seconds):
    done = foamcut("cut", "nowhere.toml", "--squeeze", seconds, cwd=tmp_path)
    assert done.returncode == 1
    assert "no such file" in done.stderr


@pytest.mark.parametrize("words", [["-h"], ["cut", "-h"], ["check", "--help"], ["new", "-h"], ["schema", "-h"]])
def test_help_is_everywhere(tmp_path, words):
    done = foamcut(*words, cwd=tmp_path)
    assert done.returncode == 0
    assert "Usage" in done.stdout


def test_a_missing_design_is_said_plainly(tmp_path):
    done = foamcut("check", "nowhere.toml", cwd=tmp_path)
    assert done.returncode == 1
    assert "nowhere.toml" in done.stderr
    assert "no such file" in done.stderr


def test_help_imports_nothing_heavy(tmp_path):
    """So that help comes at once; the time itself is measured by the benchmarks."""
    code = (
        "import sys; sys.argv = ['foamcut', '-h']\n"
        "from foamcut.cli import run\n"
        "run()\n"
        "heavy = {'shapely', 'numpy', 'pydantic', 'reportlab', 'ezdxf', 'svgwrite', 'pyclipper', 'tomllib'}\n"
        "print(sorted(heavy & set(sys.modules)), file=sys.stderr)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stderr.strip() == "[]"


def test_a_side_longer_than_its_boards_is_cut_in_two_and_said_so(tmp_path):
    """A line for each joined part, the joints as records, sections and doublers in layout.json."""
    design = ROOT / "tests" / "design" / "ply-doubler.toml"
    done = foamcut("cut", design, "--out", "pack", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    lines = done.stderr.splitlines()
    joined = [line for line in lines if ": cut in 2 at " in line and "note:" not in line]
    assert [line.split(":")[0] for line in joined] == ["side-right", "side-left", "deck", "wall"]
    assert [line.rpartition(", ")[2] for line in joined] == [f"doubler {letter}" for letter in "ABCD"]
    layout = json.loads((tmp_path / "pack" / "layout.json").read_text())
    told = json.loads(foamcut("check", design, "--json", cwd=tmp_path).stdout)["result"]
    assert told["joints"] == layout["joints"]
    assert [joint["part"] for joint in told["joints"]] == ["side-right", "side-left", "deck", "wall"]
    assert {part["name"] for part in told["parts"]} == {part["name"] for part in layout["parts"]}
    roles = {piece["name"]: piece["role"] for piece in layout["pieces"] if piece["part"] == "side-right"}
    assert roles == {
        "side-right-section-1": "section", "side-right-section-2": "section", "side-right-doubler-a": "doubler",
    }  # fmt: skip
    stock_of = {placed["piece"]: sheet["stock"] for sheet in layout["sheets"] for placed in sheet["placed"]}
    assert stock_of["side-right-1-doubler-a"] == "ply"


def test_what_cannot_be_joined_and_what_finds_no_room_is_refused_together(tmp_path):
    """Of all parts and stocks at once, each at its own line."""
    (tmp_path / "a.toml").write_text(
        'format = 1\n[plan]\nname = "a"\n[sketch]\nunits = "mm"\nscale = 1\n'
        '[stock.board]\nmaterial = "foam board"\nthickness = "5 mm"\nsheets = [ { size = "400 x 300 mm" } ]\n'
        '[stock.ply]\nmaterial = "plywood"\nthickness = "1 mm"\noffcuts = [ { size = "80 x 80 mm" } ]\n'
        '[parts.side]\nstock = "board"\nrectangle = ["600 mm", "60 mm"]\njoints = "none"\n'
        '[parts.plate]\nstock = "ply"\ncount = 2\nrectangle = ["60 mm", "60 mm"]\n'
    )
    for command in ("check", "cut"):
        done = foamcut(command, "a.toml", "--json", cwd=tmp_path)
        refusals = json.loads(done.stdout)["refusals"]
        assert done.returncode == 1
        assert [(r["line"], r["key"].split(".")[1]) for r in refusals] == [(15, "side"), (19, "plate")], refusals


_FOLDED = (
    'format = 1\n[plan]\nname = "a"\n[sketch]\nunits = "{units}"\nscale = {scale}\n'
    '[stock.board]\nmaterial = "foam board"\nthickness = "5 mm"\nsheets = [ {{ size = "700 x 500 mm" }} ]\n'
    '[parts.a]\nstock = "board"\nrectangle = [4, 3]\n'
    'folds = [ {{ kind = "{kind}", from = [2, -1], to = [2, {to}], turn = {turn} }} ]\n'
)


@pytest.mark.parametrize(
    ("units", "scale", "words"),
    [
        ("mm", "20", "places are in mm at full size; one on the sketch is 20"),
        ("in", "8", "places are in mm at full size; one inch on the sketch is 203.2 mm"),
        ("in", "1.5", "places are in mm at full size; one inch on the sketch is 38.1 mm"),
    ],
)
def test_what_places_are_measured_in_is_said_once(tmp_path, units, scale, words):
    """Behind the list, on standard error alone; an inch is 25.4 mm (published: ISO 31-1)."""
    # one that stops inside the part, and one that can be built and creases
    stops = _FOLDED.format(units=units, scale=scale, kind="score", to=2, turn=20)
    creases = _FOLDED.format(units=units, scale=scale, kind="roll", to=4, turn=20).replace("[2,", "[1,")
    creases = creases.replace("turn = 20", 'turn = 20, radius = "8 mm"')
    for text, begins in ((stops, "later steps"), (creases, "Nothing listed")):
        (tmp_path / "a.toml").write_text(text)
        lines = foamcut("check", "a.toml", cwd=tmp_path).stderr.splitlines()
        assert lines.count(words) == 1
        assert lines[lines.index(words) - 1].startswith(begins)
        told = foamcut("check", "a.toml", "--json", cwd=tmp_path)
        assert "places are in" not in told.stdout + told.stderr


def test_nothing_is_said_of_places_at_full_size_or_where_there_are_none(tmp_path):
    for scale, more in (("1", {"kind": "score", "to": 2, "turn": 20}), ("20", {"kind": "score", "to": 4, "turn": 20})):
        (tmp_path / "a.toml").write_text(_FOLDED.format(units="mm", scale=scale, **more))
        done = foamcut("check", "a.toml", cwd=tmp_path)
        assert done.stderr
        assert "places are in" not in done.stderr
