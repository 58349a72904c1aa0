"""Any bytes as a design: a pack or refusals, never a traceback, never a file outside the folder."""

import hashlib
import json
import os
import re
import shutil
import tomllib
from pathlib import Path

import lxml.html
import pytest

from foamcut.files import File
from tests.fuzz.attempt_packs import file_faults, squeezed
from tests.hostile.designs import GOOD, Hostile, Outcome, all_designs
from tests.hostile.program import Run, run, tree

DESIGNS = all_designs()
REFUSED = [h for h in DESIGNS if h.outcome is Outcome.REFUSED]
GOOD_AFTER_ALL = [h for h in DESIGNS if h.outcome is not Outcome.REFUSED]

FILE_NAME = re.compile(r"(?:sheets/)?[a-z0-9][a-z0-9-]*\.(?:dxf|svg|pdf|json|csv|toml|html|glb)")
DEVICES = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])\..*")


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    """A work folder two levels down, with files all round that nobody may touch, and a good pack."""
    root = tmp_path_factory.mktemp("hostile")
    work = root / "outer" / "bench"
    work.mkdir(parents=True)
    for folder in (root, work.parent, work):
        (folder / "sentinel.txt").write_text("nobody touches this\n")
        (folder / "evil").write_text("nor this\n")
    (work / "good.toml").write_text(GOOD)
    made = run("cut", work / "good.toml", "--out", work / "pack", "--json")
    assert made.code == 0, made.out
    return root


@pytest.fixture(autouse=True)
def in_work_folder(place, monkeypatch):
    monkeypatch.chdir(place / "outer" / "bench")


def cut(hostile: Hostile, folder: str) -> Run:
    design = Path(f"{hostile.name}.toml")
    design.write_bytes(hostile.data)
    try:
        return run("cut", design, "--out", folder, "--json")
    finally:
        design.unlink()


def test_there_are_more_than_sixty():
    assert len(DESIGNS) >= 60


@pytest.mark.parametrize("hostile", REFUSED, ids=lambda h: h.name)
def test_what_cannot_be_built_is_refused_by_line_and_word(hostile, place):
    """Exit code 1, the right lines, words that say what is wrong; the old pack and all else as it was."""
    before = tree(place)
    answer = cut(hostile, "pack")
    assert answer.code == 1
    assert tree(place) == before
    document = answer.document
    assert document["ok"] is False
    assert document["result"] is None
    refusals = document["refusals"]
    _well_formed(refusals, hostile)
    for expected in hostile.expected:
        told = [r for r in refusals if expected.line in (None, r["line"])]
        words = [f"{r['key']}: {r['text']}" for r in told]
        assert any(re.search(expected.words, w, re.IGNORECASE | re.DOTALL) for w in words), refusals
    if hostile.only_these_lines:
        assert {r["line"] for r in refusals} == {e.line for e in hostile.expected}, refusals


def _well_formed(refusals: list[dict[str, object]], hostile: Hostile) -> None:
    lines = len(hostile.data.splitlines()) + 1
    assert refusals
    assert len({(r["line"], r["key"], r["text"]) for r in refusals}) == len(refusals), "said twice"
    for refusal in refusals:
        assert set(refusal) == {"file", "line", "key", "text"}
        line, text = refusal["line"], refusal["text"]
        assert line is None or 1 <= line <= lines
        assert isinstance(text, str)
        assert len(text.strip()) > 10
        assert len(text) < 1000, "a refusal is read by a person"
        assert "Traceback" not in text
        assert "object at 0x" not in text
        assert not re.search(r"\b(pydantic|TypeError|ValueError|KeyError|NoneType)\b", text)


@pytest.mark.parametrize("hostile", GOOD_AFTER_ALL, ids=lambda h: h.name)
def test_what_is_only_odd_is_built(hostile, place):
    """A whole pack inside its folder and nowhere else; or refusals, where both are good answers."""
    before = tree(place)
    answer = cut(hostile, "odd")
    after = tree(place)
    if hostile.outcome is Outcome.EITHER and answer.code == 1:
        assert after == before
        _well_formed(answer.document["refusals"], hostile)
        return
    try:
        assert answer.code == 0, answer.out
        inside = {n.removeprefix("outer/bench/odd/"): data for n, data in after.items() if n not in before}
        assert {n: d for n, d in after.items() if n in before} == before
        document = answer.document
        assert document["ok"] is True
        assert document["refusals"] == []
        assert {f["code"] for f in document["findings"]} >= set(hostile.findings)
        inside.pop("outer/bench/odd")
        _a_good_pack({n: d for n, d in inside.items() if d is not None}, hostile)
    finally:
        shutil.rmtree("odd", ignore_errors=True)


def _a_good_pack(files: dict[str, bytes], hostile: Hostile) -> None:
    manifest = json.loads(files["manifest.json"])
    listed = {row["name"]: (row["bytes"], row["sha256"]) for row in manifest["files"]}
    found = {n: (len(d), hashlib.sha256(d).hexdigest()) for n, d in files.items() if n != "manifest.json"}
    assert listed == found
    assert files["design.toml"] == hostile.data
    for name in files:
        assert FILE_NAME.fullmatch(name), name
        assert not DEVICES.fullmatch(name.split("/")[-1]), name
        assert len(name.split("/")[-1]) <= 80
    layout = json.loads(files["layout.json"])
    assert sum(len(sheet["placed"]) for sheet in layout["sheets"]) == len(layout["pieces"]) > 0
    assert b"-0.0," not in files["layout.json"]
    assert list(file_faults([File(name=name, data=data) for name, data in files.items()])) == []
    _a_book_of(hostile.data, files["book.html"].decode())


def _a_book_of(design: bytes, book: str) -> None:
    """Texts of the design stand in the book as they are, whatever they want to be."""
    tables = tomllib.loads(design.decode("utf-8-sig"))
    read = squeezed(lxml.html.document_fromstring(book).text_content())
    texts = [tables["plan"].get(key, "") for key in ("title", "maker", "licence")]
    texts += [one["what"] for one in tables.get("revision", ())]
    texts += [one["why"] for one in tables.get("built", ())]
    texts += [one["name"] for key in ("aboard", "hardware") for one in tables.get(key, ())]
    texts += tables.get("parts", {})
    assert [text for text in texts if squeezed(text) not in read] == []


def test_several_steps_are_not_mixed(place):
    """Faults of the geometry wait until the numbers are right, and the reader is told."""
    hostile = next(h for h in DESIGNS if h.name == "all-faults-of-one-step")
    Path("several.toml").write_bytes(hostile.data)
    answer = run("check", "several.toml")
    Path("several.toml").unlink()
    assert answer.code == 1
    assert "later steps not yet looked at" in answer.err
    assert "several.toml:" in answer.err
    assert "cross" not in answer.err


@pytest.mark.parametrize("hostile", [h for h in DESIGNS if len(h.data) < 100_000], ids=lambda h: h.name)
def test_check_and_cut_read_alike(hostile, place):
    """`check` leaves no file behind, and what it refuses has a line that can be shown."""
    design = Path("looked-at.toml")
    design.write_bytes(hostile.data)
    before = tree(place)
    answer = run("check", design, "--sizes")
    assert tree(place) == before
    design.unlink()
    assert answer.code in (0, 1)
    assert "Traceback" not in answer.err
    assert answer.code == 1 or answer.out
    if hostile.outcome is Outcome.BUILDS:
        assert answer.code == 0, answer.err
    unprintable = [c for c in answer.err if not c.isprintable() and c != "\n"]
    assert not unprintable, "a design may not steer the terminal"


def test_a_missing_design_is_refused(place):
    before = tree(place)
    answer = run("cut", "nowhere.toml", "--out", "pack", "--json")
    assert answer.code == 1
    assert "nowhere.toml" in answer.document["refusals"][0]["text"]
    assert tree(place) == before


def test_a_folder_is_no_design(place):
    before = tree(place)
    assert run("cut", "pack", "--out", "pack").code in (1, 2)
    assert tree(place) == before


@pytest.mark.skipif(os.name != "posix", reason="no endless file here")
def test_an_endless_file_is_refused(place):
    before = tree(place)
    answer = run("cut", "/dev/zero", "--out", "pack", "--json")
    assert answer.code == 1
    assert tree(place) == before


def test_the_output_folder_may_not_be_a_file(place):
    before = tree(place)
    assert run("cut", "good.toml", "--out", "sentinel.txt").code in (1, 2)
    assert tree(place) == before


def test_a_pack_cut_from_its_own_design_stays_the_same(place):
    """The design in a pack may be cut into the folder that it lies in."""
    before = tree(place)
    assert run("cut", "pack/design.toml", "--out", "pack").code == 0
    assert tree(place) == before


def test_a_link_out_of_the_folder_is_not_followed(place):
    """A pack is not written through a link that leads elsewhere."""
    outside = Path("elsewhere")
    outside.mkdir()
    Path("linked").mkdir()
    Path("linked/sheets").symlink_to(outside.resolve(), target_is_directory=True)
    before = tree(outside)
    answer = run("cut", "good.toml", "--out", "linked", "--json")
    assert answer.code == 1
    assert "link" in answer.document["refusals"][0]["text"]
    assert tree(outside) == before
    shutil.rmtree("linked")
    outside.rmdir()
