"""Damages to joints and doublers in layout.json and in the design."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import shapely
import shapely.affinity
from breakage import Collection, NotApplicableError, edit_text, load, store
from pack_drawn import read_drawn
from pack_geometry import polygon
from shapely import Polygon

BREAKAGES = Collection()
Piece = dict[str, Any]


def _pieces(document: dict[str, Any], role: str) -> list[Piece]:
    found = [piece for piece in document["pieces"] if piece["role"] == role]
    if not found:
        raise NotApplicableError(f"no {role}")
    return found


def _joint_of(document: dict[str, Any], piece: Piece) -> dict[str, Any]:
    letter = piece.get("name", piece["id"])[-1].upper()
    return next(j for j in document["joints"] if j["part"] == piece["part"] and letter in j["doublers"])


def _rings(shape: Polygon) -> list[list[list[float]]]:
    """Write a polygon as layout.json does, its outside from the lowest x, then lowest y."""
    ring = [(float(x), float(y)) for x, y in shapely.get_coordinates(shapely.orient_polygons(shape).exterior)]
    first = ring[:-1].index(min(ring))
    turned = [*ring[first:-1], *ring[:first]]
    return [[[x, y] for x, y in (*turned, turned[0])]]


def _reshape(folder: Path, role: str, change: Callable[[Polygon, Piece, dict[str, Any]], Polygon]) -> None:
    """Give the first piece of a role another polygon, in its list only: the sheets are not looked at here."""
    document = load(folder)
    piece = _pieces(document, role)[0]
    piece["polygon"] = _rings(change(polygon(piece["polygon"]), piece, document))
    store(folder, document)


def _along(joint: dict[str, Any], along: float, across: float) -> tuple[float, float]:
    return (along, across) if joint["axis"] == "x" else (across, along)


@BREAKAGES.add("sections that overlap", r"layout.json: part .*: the area of .* is .* not its part's")
def _overlap(folder: Path) -> None:
    _reshape(folder, "section", lambda shape, piece, document: shape.buffer(0.5, join_style="mitre"))


@BREAKAGES.add("a section with its kerf taken off", r"layout.json: part .* do not rebuild the part")
def _kerf_off(folder: Path) -> None:
    _reshape(folder, "section", lambda shape, piece, document: shape.buffer(-0.01, join_style="mitre"))


@BREAKAGES.add("a section lost", r"layout.json: part .*(sections make no part|do not rebuild the part)")
def _section_lost(folder: Path) -> None:
    _lose(folder, "section")


@BREAKAGES.add("a doubler lost", r"layout.json: part .*its joints list doublers")
def _doubler_lost(folder: Path) -> None:
    _lose(folder, "doubler")


def _lose(folder: Path, role: str) -> None:
    document = load(folder)
    lost = _pieces(document, role)[0]["id"]
    document["pieces"] = [piece for piece in document["pieces"] if piece["id"] != lost]
    for sheet in document["sheets"]:
        sheet["placed"] = [entry for entry in sheet["placed"] if entry["piece"] != lost]
    store(folder, document)


@BREAKAGES.add("a section called whole", r"layout.json: part .*: a whole part has .* as its pieces")
def _called_whole(folder: Path) -> None:
    document = load(folder)
    _pieces(document, "section")[0]["role"] = "whole"
    store(folder, document)


@BREAKAGES.add("a doubler called a section", r"layout.json: part .*: the area of .* is .* not its part's")
def _called_section(folder: Path) -> None:
    document = load(folder)
    _pieces(document, "doubler")[0]["role"] = "section"
    store(folder, document)


@BREAKAGES.add("a doubler of a copy that is not there", r"layout.json: part .*: copies are")
def _copy(folder: Path) -> None:
    document = load(folder)
    _pieces(document, "doubler")[0]["copy"] = 2
    store(folder, document)


@BREAKAGES.add(
    "a joint not listed", r"layout.json: part .*(no joint is listed|where no joint line is listed)"
)
def _joint_unlisted(folder: Path) -> None:
    document = load(folder)
    if not document.get("joints"):
        raise NotApplicableError("no joint")
    document["joints"].pop(0)
    store(folder, document)


@BREAKAGES.add("a joint listed 0.001 mm off", r"layout.json: part .*where no joint line is listed")
def _joint_off(folder: Path) -> None:
    document = load(folder)
    if not document.get("joints"):
        raise NotApplicableError("no joint")
    document["joints"][0]["at"] += 0.001
    store(folder, document)


@BREAKAGES.add("a length over the joint 1 mm short", r"layout.json: .*the length over it is")
def _joint_length(folder: Path) -> None:
    document = load(folder)
    if not document.get("joints"):
        raise NotApplicableError("no joint")
    document["joints"][0]["length"] -= 1
    store(folder, document)


@BREAKAGES.add("a joint line that is not straight", r"layout.json: .*where no joint line is listed")
def _crooked(folder: Path) -> None:
    """Both sections agree, and their line leans by 1 mm."""
    document = load(folder)
    joint = next((joint for joint in document.get("joints", []) if joint["axis"] == "x"), None)
    if joint is None:
        raise NotApplicableError("no joint across")
    own = [piece for piece in _pieces(document, "section") if piece["part"] == joint["part"]]
    top = max(y for piece in own for x, y in piece["polygon"][0] if abs(x - joint["at"]) < 1e-6)
    for piece in own:
        for point in piece["polygon"][0]:
            if abs(point[0] - joint["at"]) < 1e-6 and point[1] == top:
                point[0] += 1
    store(folder, document)


@BREAKAGES.add("a doubler too near an edge", r"layout.json: .*lie nearer than its inset")
def _near_edge(folder: Path) -> None:
    _reshape(folder, "doubler", lambda shape, piece, document: shape.buffer(0.1, join_style="mitre"))


@BREAKAGES.add("a doubler longer than its overlap", r"layout.json: .*from its joint, its overlap is")
def _too_long(folder: Path) -> None:
    def change(shape: Polygon, piece: Piece, document: dict[str, Any]) -> Polygon:
        joint = _joint_of(document, piece)
        return shapely.affinity.scale(shape, *_along(joint, 1.1, 1.0), origin=_along(joint, joint["at"], 0.0))

    _reshape(folder, "doubler", change)


@BREAKAGES.add("a doubler beside its joint", r"layout.json: .*does not lie over its joint")
def _beside(folder: Path) -> None:
    def change(shape: Polygon, piece: Piece, document: dict[str, Any]) -> Polygon:
        return shapely.affinity.translate(shape, *_along(_joint_of(document, piece), 150.0, 0.0))

    _reshape(folder, "doubler", change)


@BREAKAGES.add(
    "a doubler to one side of its joint alone", r"layout.json: .*(reaches to one side|does not lie)"
)
def _one_side(folder: Path) -> None:
    def change(shape: Polygon, piece: Piece, document: dict[str, Any]) -> Polygon:
        joint = _joint_of(document, piece)
        low, high = _along(joint, joint["at"], -1e4), _along(joint, joint["at"] + 1e4, 1e4)
        return shape.intersection(shapely.box(*low, *high))

    _reshape(folder, "doubler", change)


@BREAKAGES.add("a doubler with square ends", r"layout.json: .*its end runs straight across")
def _square_ends(folder: Path) -> None:
    _reshape(folder, "doubler", lambda shape, piece, document: shapely.box(*shape.bounds))


@BREAKAGES.add("doublers over less than half of a joint", r"layout.json: .*doublers cover .* % of the line")
def _half_covered(folder: Path) -> None:
    document = load(folder)
    for piece in _pieces(document, "doubler"):
        joint = _joint_of(document, piece)
        shape = polygon(piece["polygon"])
        piece["polygon"] = _rings(shapely.affinity.scale(shape, *_along(joint, 1.0, 0.4)))
    store(folder, document)


@BREAKAGES.add("a doubler over a fold", r"layout.json: .*lies over a fold of its part")
def _over_fold(folder: Path) -> None:
    """Stand the middle of a doubler on a fold of its part."""
    parts = read_drawn((folder / "design.toml").read_bytes()).parts
    document = load(folder)
    piece = next((p for p in _pieces(document, "doubler") if parts[p["part"]].folds), None)
    if piece is None:
        raise NotApplicableError("no joined part is folded")
    fold, shape = parts[piece["part"]].folds[0], polygon(piece["polygon"])
    middle = ((fold.start[0] + fold.end[0]) / 2, (fold.start[1] + fold.end[1]) / 2)
    x, y = shape.centroid.coords[0]
    piece["polygon"] = _rings(shapely.affinity.translate(shape, middle[0] - x, middle[1] - y))
    store(folder, document)


@BREAKAGES.add("two doublers on each other", r"layout.json: .*lies over .*-doubler-")
def _on_each_other(folder: Path) -> None:
    document = load(folder)
    first, *rest = _pieces(document, "doubler")
    second = next((piece for piece in rest if piece["part"] == first["part"]), None)
    if second is None:
        raise NotApplicableError("one doubler a part")
    second["polygon"] = first["polygon"]
    store(folder, document)


@BREAKAGES.add(
    "a doubler of another stock than asked for", r"layout.json: .*-doubler-.* lies on another stock"
)
def _stock(folder: Path) -> None:
    edit_text(folder, "design.toml", 'doubler = { stock = "ply"', 'doubler = { stock = "board"')


@BREAKAGES.add("a joint elsewhere than the builder said", r"layout.json: .*joined at .* the design says")
def _elsewhere(folder: Path) -> None:
    edit_text(folder, "design.toml", 'joints = [ { x = "280 mm" } ]', 'joints = [ { x = "281 mm" } ]')


@BREAKAGES.add("a joint in a part that must stay whole", r"layout.json: .*its design says joints = none")
def _forbidden(folder: Path) -> None:
    edit_text(folder, "design.toml", 'joints = [ { x = "280 mm" } ]', 'joints = "none"')


@BREAKAGES.add("a joint near a slot", r"layout.json: .*mm from a slot, an overlap of .* is due")
def _near_slot(folder: Path) -> None:
    edit_text(folder, "design.toml", "{ at = [60, 8], length = 5", "{ at = [70, 8], length = 5")


@BREAKAGES.add("a joint where the design keeps clear", r"layout.json: .*mm from what is kept clear")
def _kept_clear(folder: Path) -> None:
    edit_text(folder, "design.toml", "keep_clear = [ { x = [20, 44] } ]", "keep_clear = [ { x = [20, 90] } ]")


@BREAKAGES.add("a section too short for its doubler", r"layout.json: .*a section is .* mm at least")
def _short_section(folder: Path) -> None:
    edit_text(folder, "design.toml", 'overlap = "40 mm"', 'overlap = "120 mm"')


@BREAKAGES.add("a doubler on a mark that is kept clear", r"layout.json: .*from a mark that is kept clear")
def _on_mark(folder: Path) -> None:
    edit_text(folder, "design.toml", "{ circle = 2, at = [98, 9]", "{ circle = 2, at = [82, 9]")


@BREAKAGES.add("a joint in a part that lies whole on a board", r"layout.json: .*lies whole on a board of")
def _needless(folder: Path) -> None:
    _pieces(load(folder), "section")
    edit_text(folder, "design.toml", '{ size = "500 x 350 mm"', '{ size = "2000 x 2000 mm"')
