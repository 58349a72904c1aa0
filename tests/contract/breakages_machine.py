"""Damages to kerf, bed rectangles and register holes, in layout.json and in the files of the sheets."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import shapely
from breakage import Collection, NotApplicableError, edit_text, load, store
from breakage_dxf import (
    Block,
    change_layer,
    dxf_files,
    is_round,
    moved,
    points_of,
    put,
    read_blocks,
    set_points,
    widened,
    write_pairs,
)
from shapely import Polygon

BREAKAGES = Collection()


def _kerf_mm(folder: Path) -> float:
    match = re.search(r'^kerf *= *"([0-9.]+) mm"', (folder / "design.toml").read_text("utf-8"), re.MULTILINE)
    if match is None or float(match[1]) == 0:
        raise NotApplicableError("no kerf")
    return float(match[1])


def _grow(block: Block, by_mm: float) -> bool:
    """Move a ring of straight edges out (in where negative); whether that was possible."""
    points = points_of(block)
    if len(points) < 4 or any(code == 42 and float(value) for code, value in block):
        return False
    body = shapely.orient_polygons(Polygon(points).buffer(by_mm, join_style="mitre", mitre_limit=20.0))
    ring = [(float(x), float(y)) for x, y in shapely.get_coordinates(body.exterior)[:-1]]
    if len(ring) != len(points):
        return False
    set_points(block, ring)
    return True


def _grow_on(folder: Path, layer: str, by_kerfs: float) -> None:
    by_mm = by_kerfs * _kerf_mm(folder)

    def change(own: list[Block], every: list[Block]) -> None:
        if not any([_grow(block, by_mm) for block in own]):
            raise NotApplicableError("no ring of straight edges")

    change_layer(folder, layer, change)


@BREAKAGES.add("kerf left out", r"\.dxf: THROUGH: .* is not drawn as in the layout with its kerf")
def _no_kerf(folder: Path) -> None:
    _grow_on(folder, "THROUGH", -0.5)


@BREAKAGES.add("kerf put in twice", r"\.dxf: THROUGH: .* is not drawn as in the layout with its kerf")
def _kerf_twice(folder: Path) -> None:
    _grow_on(folder, "THROUGH", 0.5)


@BREAKAGES.add(
    "kerf of an opening outwards", r"\.dxf: OPENING: .* is not drawn as in the layout with its kerf"
)
def _kerf_inside(folder: Path) -> None:
    def change(own: list[Block], every: list[Block]) -> None:
        for block in own:
            if is_round(block):
                widened(block, _kerf_mm(folder))
            else:
                _grow(block, _kerf_mm(folder))

    change_layer(folder, "OPENING", change)


def _edit_notes(folder: Path, edit: Callable[[str], str]) -> None:
    def change(own: list[Block], every: list[Block]) -> None:
        for block in own:
            if block[0][1] == "TEXT":
                put(block, 1, edit(next(value for code, value in block if code == 1)) or ".")

    change_layer(folder, "NOTES", change)


@BREAKAGES.add("kerf told wrongly", r"\.dxf: NOTES: the kerf of .* is not told")
def _kerf_told(folder: Path) -> None:
    kerf = f"{_kerf_mm(folder):g}"
    _edit_notes(folder, lambda words: words.replace(kerf, "0.9"))


@BREAKAGES.add("kerf not said to be in the file", r"\.dxf: NOTES: whether kerf is in the file is not told")
def _kerf_unsaid(folder: Path) -> None:
    _edit_notes(folder, lambda words: words.replace("kerf", "width"))


@BREAKAGES.add("no warning of kerf set twice", r"\.dxf: NOTES: that the kerf must not be set again")
def _kerf_again(folder: Path) -> None:
    _kerf_mm(folder)
    _edit_notes(folder, lambda words: words.replace("again", "then"))


def _bedded(folder: Path) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return the layout and its first sheet with a bed."""
    document = load(folder)
    sheet = next((sheet for sheet in document["sheets"] if sheet.get("bed")), None)
    if sheet is None:
        raise NotApplicableError("no bed")
    return document, sheet


@BREAKAGES.add("a rectangle larger than the bed", r"layout.json: .*is larger than the bed of")
def _large_bed(folder: Path) -> None:
    document, sheet = _bedded(folder)
    sheet["bed"][0]["size"][0] += 1000
    store(folder, document)


@BREAKAGES.add("a bed in the margin", r"layout.json: .*bed .* does not keep the margin")
def _bed_margin(folder: Path) -> None:
    document, sheet = _bedded(folder)
    margin = next(stock["margin"] for stock in document["stocks"] if stock["name"] == sheet["stock"])
    sheet["bed"][0]["corner"][0] = margin - 0.01
    store(folder, document)


@BREAKAGES.add("a bed in another's gap", r"layout.json: .*beds .* mm apart, gap")
def _bed_gap(folder: Path) -> None:
    document, sheet = _bedded(folder)
    if len(sheet["bed"]) < 2:
        raise NotApplicableError("one bed alone")
    first, second = sheet["bed"][:2]
    second["corner"] = [first["corner"][0] + first["size"][0] + 0.5, first["corner"][1]]
    store(folder, document)


@BREAKAGES.add("a piece that leaves its bed", r"layout.json: .*bed .*: piece .* does not lie in it")
def _bed_left(folder: Path) -> None:
    document, sheet = _bedded(folder)
    sheet["bed"][0]["size"][0] *= 0.6
    store(folder, document)


@BREAKAGES.add("a piece of a bed not named there", r"layout.json: .*bed .* lies in it and is not named")
def _bed_unnamed(folder: Path) -> None:
    document, sheet = _bedded(folder)
    sheet["bed"][0]["pieces"].pop()
    store(folder, document)


@BREAKAGES.add("beds that do not count from 1", r"layout.json: .*beds are numbered")
def _bed_number(folder: Path) -> None:
    document, sheet = _bedded(folder)
    sheet["bed"][0]["number"] = 7
    store(folder, document)


@BREAKAGES.add("a bed without its files", r"layout.json: .*beds .* are listed, .* have files")
def _bed_files(folder: Path) -> None:
    document, sheet = _bedded(folder)
    sheet["files"] = [name for name in sheet["files"] if "-bed-1." not in name]
    store(folder, document)


@BREAKAGES.add("a bed not marked on its sheet", r"\.dxf: MARK: the rectangle of bed .* is not drawn")
def _bed_unmarked(folder: Path) -> None:
    _, sheet = _bedded(folder)
    x, y = sheet["bed"][0]["corner"]

    path = folder / next(name for name in sheet["files"] if re.search(r"-[0-9]+\.dxf\Z", name))
    before, blocks, after = read_blocks(path)
    frames = [block for block in blocks if (8, "MARK") in block and (70, "1") in block]
    blocks.remove(next(block for block in frames if min(points_of(block)) == (x, y)))
    write_pairs(path, before + [pair for block in blocks for pair in block] + after)


@BREAKAGES.add("a bed's file that counts from the sheet's corner", r"-bed-.*\.dxf: THROUGH: .* is not drawn")
def _bed_origin(folder: Path) -> None:
    _, sheet = _bedded(folder)
    x, y = sheet["bed"][0]["corner"]
    path = folder / next(name for name in sheet["files"] if name.endswith("-bed-1.dxf"))
    before, blocks, after = read_blocks(path)
    for block in blocks:
        if (8, "NOTES") not in block and block[0][1] != "TEXT":
            moved(block, x, y)
    write_pairs(path, before + [pair for block in blocks for pair in block] + after)


@BREAKAGES.add("a bed's file that lacks a piece", r"-bed-.*\.dxf: THROUGH: outline of piece .* is not drawn")
def _bed_piece(folder: Path) -> None:
    change_layer(folder, "THROUGH", lambda own, every: every.remove(own[0]), "bed")


@BREAKAGES.add("a bed in a design without one", r"layout.json: .*bed rectangles, the design has no bed")
def _bed_design(folder: Path) -> None:
    _bedded(folder)
    edit_text(folder, "design.toml", "\nbed = ", "\n# bed = ")


def _registered(folder: Path) -> tuple[dict[str, Any], dict[str, Any]]:
    document = load(folder)
    sheet = next((sheet for sheet in document["sheets"] if "register" in sheet), None)
    if sheet is None:
        raise NotApplicableError("no register holes")
    return document, sheet


@BREAKAGES.add("a register hole on a piece", r"layout.json: .*register hole .* mm from piece")
def _register_piece(folder: Path) -> None:
    document, sheet = _registered(folder)
    sheet["register"][0] = list(sheet["placed"][0]["polygon"][0][0])
    store(folder, document)


@BREAKAGES.add(
    "a register hole over the sheet's edge", r"layout.json: .*register hole .* is not on the sheet"
)
def _register_off(folder: Path) -> None:
    document, sheet = _registered(folder)
    sheet["register"][0] = [1, 1]
    store(folder, document)


@BREAKAGES.add("register holes not told in the layout", r"\.dxf: OPENING: .* is no line of the layout")
def _register_untold(folder: Path) -> None:
    document, sheet = _registered(folder)
    del sheet["register"]
    store(folder, document)


@BREAKAGES.add("a register hole lost behind", r"-back\.dxf: OPENING: a register hole is not drawn")
def _register_lost(folder: Path) -> None:
    change_layer(folder, "OPENING", lambda own, every: every.remove(own[0]), "back")


@BREAKAGES.add("a register hole 0.1 mm off behind", r"-back\.dxf: OPENING: a register hole is not drawn")
def _register_moved(folder: Path) -> None:
    change_layer(folder, "OPENING", lambda own, every: moved(own[0], 0.1, 0.0), "back")


@BREAKAGES.add("a register hole of 4 mm", r"-back\.dxf: OPENING: a register hole is not drawn")
def _register_large(folder: Path) -> None:
    change_layer(folder, "OPENING", lambda own, every: widened(own[0], 0.5), "back")


@BREAKAGES.add("cuts behind and no file of them", r"layout.json: .*its turned-over face has cuts and no file")
def _back_lost(folder: Path) -> None:
    document, sheet = _registered(folder)
    sheet["files"] = [name for name in sheet["files"] if "-back." not in name]
    store(folder, document)


@BREAKAGES.add("a file of a face without cuts", r"layout.json: .*its turned-over face has a file and no cuts")
def _back_needless(folder: Path) -> None:
    document = load(folder)
    names = {path.name for path in dxf_files(folder, "back")}
    for sheet in document["sheets"]:
        plain = [name for name in sheet["files"] if re.search(r"-[0-9]+\.(svg|dxf)\Z", name)]
        backs = [name.replace(".", "-back.") for name in plain]
        if not any(name.removeprefix("sheets/") in names for name in backs):
            for name, back in zip(plain, backs, strict=True):
                (folder / back).write_bytes((folder / name).read_bytes())
            sheet["files"] += backs
            store(folder, document)
            return
    raise NotApplicableError("every sheet is cut on both faces")
