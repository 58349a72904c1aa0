"""A pack read back: every damage to its manifest, its documents or its geometry is told."""

import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.compare.pack import pack_read
from foamcut.plan.verifying import verified

Files = dict[str, bytes]


@pytest.fixture(scope="module")
def tray(sample_packs: dict[str, Path]) -> Files:
    folder = sample_packs["jar-tray"]
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def signed(files: Files) -> Files:
    """The files with a manifest that fits them: what somebody has who changes both."""
    manifest = json.loads(files["manifest.json"])
    manifest["files"] = [
        {"name": name, "bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}
        for name, data in sorted(files.items())
        if name != "manifest.json"
    ]
    return {**files, "manifest.json": json.dumps(manifest).encode()}


def told(files: Files) -> list[str]:
    return [f"{fault.file}: {fault.text}" for fault in verified(files, "pack").faults]


def test_a_pack_as_made_is_whole(tray: Files) -> None:
    read = verified(tray, "pack")
    assert read.whole
    assert read.sentence == f"jar-tray, revision A: {len(tray) - 1} files by foamcut 0.1.0; whole"
    assert told(signed(tray)) == []


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda f: f.pop("manifest.json"), "manifest.json: is missing"),
        (lambda f: f.pop("shopping.csv"), "shopping.csv: is missing"),
        (lambda f: f.update({"shopping.csv": f["shopping.csv"][:-1]}), "shopping.csv: has"),
        (
            lambda f: f.update({"sheets/board-1.svg": f["sheets/board-1.svg"].replace(b"1", b"2", 1)}),
            "contents were changed",
        ),
        (lambda f: f.update({"sheets/board-9.svg": b"<svg/>"}), "board-9.svg: is not in the manifest"),
        (lambda f: f.update({".replacing.json": b"{}"}), "half in place"),
        (lambda f: f.update({"manifest.json": b"{"}), "manifest.json: is no JSON"),
        (lambda f: f.update({"manifest.json": b"[" * 100_000}), "manifest.json: is no JSON"),
        (lambda f: f.update({"manifest.json": b'{"format": "x"}'}), "no document of the kind"),
        (
            lambda f: f.update(
                {"manifest.json": f["manifest.json"].replace(b'"version": 1', b'"version": 2')}
            ),
            "newer version",
        ),
        (
            lambda f: f.update(
                {"manifest.json": f["manifest.json"].replace(b'"version": 1', b'"version": "1"')}
            ),
            "no known version",
        ),
    ],
)
def test_what_is_missing_changed_or_added_is_told(
    tray: Files, change: Callable[[Files], Any], words: str
) -> None:
    files = dict(tray)
    change(files)
    assert any(words in one for one in told(files))
    assert "NOT whole" in verified(files, "pack").sentence


def test_files_of_the_builders_own_are_left_alone(tray: Files) -> None:
    assert told({**tray, "photo.jpg": b"x", "notes.txt": b"y"}) == []


def layout_with(tray: Files, change: Callable[[dict[str, Any]], Any]) -> Files:
    layout = json.loads(tray["layout.json"])
    change(layout)
    return signed({**tray, "layout.json": json.dumps(layout).encode()})


def _swap(layout: dict[str, Any]) -> None:
    one, other = layout["sheets"][0]["placed"][:2]
    one["x"], other["x"] = other["x"], one["x"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda d: d["sheets"][0]["placed"].pop(), "is on no sheet"),
        (lambda d: d["sheets"][0]["placed"].append(d["sheets"][0]["placed"][0]), "is placed 2 times"),
        (
            lambda d: d["sheets"][0]["placed"][0].update(x=d["sheets"][0]["placed"][0]["x"] + 1),
            "another shape",
        ),
        (lambda d: d["sheets"][0]["placed"][0].update(flipped=True), "another shape"),
        (_swap, "another shape"),
        (
            lambda d: d["sheets"][0].update(outline=[[[0, 0], [50, 0], [50, 50], [0, 50], [0, 0]]]),
            "off the sheet",
        ),
        (lambda d: d["stocks"][0].update(gap=60), "apart"),
        (lambda d: d["stocks"][0].update(margin=200), "margin"),
        (lambda d: d["parts"][0].update(count=9), "copies are cut"),
        (lambda d: d["parts"].pop(), "no part"),
        (lambda d: d["pieces"].append(d["pieces"][0]), "listed 2 times"),
        (lambda d: d.pop("sheets"), "cannot be read"),
        (
            lambda d: d["pieces"][0].update(polygon=[[[0, 0], [9, 9], [9, 0], [0, 9], [0, 0]]]),
            "crosses itself",
        ),
        (lambda d: d["pieces"][0].update(polygon=[[["a", 0]]]), "cannot be read"),
        (lambda d: d["design"].update(revision="Z"), "made from another design"),
        (lambda d: d.update(version=2), "newer version"),
    ],
)
def test_a_changed_layout_is_told_although_the_manifest_fits(
    tray: Files, change: Callable[[dict[str, Any]], Any], words: str
) -> None:
    assert any(words in one for one in told(layout_with(tray, change))), told(layout_with(tray, change))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda d: d.update(parts={}), "parts is no list"),
        (lambda d: d["parts"].append(7), "is no record"),
        (lambda d: d["parts"][0].pop("name"), "parts[0].name is missing"),
        (lambda d: d["parts"][0].update(name=["a"]), "parts[0].name is no text"),
        (lambda d: d["parts"][0].update(count=0.5), "parts[0].count is no whole number"),
        (lambda d: d["parts"].append(d["parts"][0]), "is listed 2 times"),
        (lambda d: d["pieces"][0].update(copy={"a": 1}), "pieces[0].copy is no number"),
        (lambda d: d["pieces"][0].update(polygon=[]), "pieces[0].polygon is a polygon without rings"),
        (lambda d: d["pieces"][0].update(polygon=[[], [[0, 0]] * 5]), "polygon[0] is no ring"),
        (lambda d: d["pieces"][0]["polygon"][0].insert(1, [0]), "polygon[0][1] is no point of two numbers"),
        (lambda d: d["pieces"][0]["polygon"][0].insert(1, [0, 10**400]), "is no point of two numbers"),
        (lambda d: d["sheets"][0].update(outline=[]), "sheets[0].outline"),
        (lambda d: d["sheets"][0].update(stock="cork"), "sheets[0].stock names a stock that is not there"),
        (lambda d: d["sheets"][0].update(placed=[{}] * 5001), "more than 5,000 pieces"),
        (lambda d: d["sheets"][0]["placed"][0].update(turn_deg=None), "placed[0].turn_deg is no number"),
        (lambda d: d["sheets"][0]["placed"][0].update(x=float("nan")), "placed[0].x is no number"),
        (lambda d: d["sheets"][0]["placed"][0].update(flipped="no"), "flipped is neither true nor false"),
        (lambda d: d["stocks"][0].update(gap=True), "stocks[0].gap is no number"),
        (lambda d: d["pieces"][0].update(id="\u202e" + "w" * 5000), "?www"),
    ],
)
def test_a_layout_that_is_none_is_told_by_its_place(
    tray: Files, change: Callable[[dict[str, Any]], Any], words: str
) -> None:
    """One line for a builder, never the words of the program itself."""
    found = told(layout_with(tray, change))
    assert any(words in one for one in found), found
    assert all(one.isprintable() and len(one) < 700 and "Error" not in one for one in found)


def test_a_layout_piled_up_is_told_soon(tray: Files) -> None:
    """Each of so many pieces lies on each other: a few faults are told, not one for each two."""

    def pile(layout: dict[str, Any]) -> None:
        placed = layout["sheets"][0]["placed"]
        placed[:] = [placed[0]] * 300

    assert len(told(layout_with(tray, pile))) == 100


def test_a_layout_of_some_parts_whose_names_are_none_is_told(tray: Files) -> None:
    found = told(layout_with(tray, lambda d: d.update(only=["\u202elid", 7, {}], added=[[], 3])))
    assert any("the part ?lid of the design is not in it" in one for one in found), found
    assert all(one.isprintable() for one in found)


def test_a_layout_of_another_design_is_told(tray: Files) -> None:
    """The design has other numbers than the layout was made from, and every sum was made to fit."""
    other = tray["design.toml"].replace(b"thickness = ", b'thickness = "7 mm" # ', 1)
    assert other != tray["design.toml"]
    digest = hashlib.sha256(other).hexdigest()
    old = hashlib.sha256(tray["design.toml"]).hexdigest().encode()
    files = {name: data.replace(old, digest.encode()) for name, data in tray.items()}
    files["design.toml"] = other
    assert any("has not the outline of the design" in one for one in told(signed(files)))


@given(st.data())
def test_any_json_gives_an_answer(data: st.DataObject) -> None:
    """Whatever stands in the documents, there is an answer and no exception."""
    value = st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
        max_leaves=8,
    )
    keys = ["parts", "pieces", "sheets", "stocks", "design", "version", "format"]
    layout = {"format": "foamcut-layout", "version": 1}
    layout |= {key: data.draw(value) for key in keys[:5]}
    manifest = {
        "format": "foamcut-manifest",
        "version": 1,
        "design": data.draw(value),
        "files": data.draw(value),
    }
    files = {"manifest.json": json.dumps(manifest).encode(), "layout.json": json.dumps(layout).encode()}
    assert not pack_read(files).whole
    assert pack_read(files).sentence.isprintable()
