"""The geometry of a layout read back from its numbers: pieces, where they lie, what they make up.

Works on the document alone with shapely; shares no code with the search, the drawings or the writers.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import shapely
from shapely import Polygon, affinity

from foamcut.compare.pack_records import (
    LayoutError,
    Lies,
    PartTold,
    PieceTold,
    SheetTold,
    Told,
    parts_told,
    pieces_told,
    same,
    sheets_told,
)
from foamcut.flat.tolerances import PLACED_MM

#: what sections may miss of their part, as a share of its area, and the area that may differ, mm2
_AREA_SHARE, _AREA_MM2 = 1e-6, 1e-3


def layout_faults(document: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with the geometry of a layout, in words."""
    told = Told(document, "")
    try:
        parts, pieces, sheets = parts_told(told), pieces_told(told), sheets_told(told)
    except LayoutError as err:
        yield f"cannot be read: {err}"
        return
    yield from _piece_faults(pieces, sheets)
    yield from _part_faults(parts, pieces)
    shapes = {piece.id: piece.shape for piece in pieces}
    for sheet in sheets:
        yield from _sheet_faults(sheet, shapes)


def part_shapes(document: Mapping[str, Any]) -> dict[str, Polygon]:
    """The outline of every part by its name, of a layout that has no faults."""
    return {part.name: part.outline for part in parts_told(Told(document, ""))}


def _piece_faults(pieces: Sequence[PieceTold], sheets: Sequence[SheetTold]) -> Iterator[str]:
    """Pieces that are placed never or more than once, or are none."""
    counted = Counter(piece.id for piece in pieces)
    placed = Counter(lies.piece for sheet in sheets for lies in sheet.placed)
    yield from _listed_twice("piece", counted)
    for name in sorted({*counted, *placed}):
        times = placed[name]
        if name not in counted:
            yield f"{name} is placed and is no piece"
        elif times != 1:
            yield f"piece {name} is placed {times} times" if times else f"piece {name} is on no sheet"


def _listed_twice(what: str, counted: Mapping[str, int]) -> Iterator[str]:
    for name, count in sorted(counted.items()):
        if count > 1:
            yield f"{what} {name} is listed {count} times"


def _part_faults(parts: Sequence[PartTold], pieces: Sequence[PieceTold]) -> Iterator[str]:
    """Parts whose copies are not all there, or whose sections do not make them up."""
    copies: dict[str, dict[int, list[Polygon]]] = defaultdict(lambda: defaultdict(list))
    for piece in pieces:
        if piece.role != "doubler":
            copies[piece.part][piece.copy].append(piece.shape)
    by_name = {part.name: part for part in parts}
    yield from _listed_twice("part", Counter(part.name for part in parts))
    for name in sorted(set(copies) - set(by_name)):
        yield f"pieces are of {name}, which is no part"
    for name, part in by_name.items():
        if len(copies[name]) != part.count:
            yield f"part {name}: {len(copies[name])} of {part.count} copies are cut"
        due = part.outline
        for copy, several in sorted(copies[name].items()):
            areas = sum(one.area for one in several)
            off = shapely.union_all(several).symmetric_difference(due).area
            if off > _AREA_MM2 or abs(areas - due.area) > _AREA_SHARE * due.area:
                yield f"part {name}, copy {copy}: its pieces do not make it up ({off:.3f} mm2 differ)"


def _sheet_faults(sheet: SheetTold, shapes: Mapping[str, Polygon]) -> Iterator[str]:
    """Pieces of a sheet that are not their shape, leave it, or come too near to each other."""
    what = f"sheet {sheet.stock} {sheet.number}"
    room = sheet.outline.buffer(PLACED_MM - sheet.margin, join_style="mitre")
    for lies in sheet.placed:
        if lies.piece in shapes and not same(_moved(shapes[lies.piece], lies), lies.shape, PLACED_MM):
            yield f"{what}: {lies.piece} lies there in another shape than it is cut in"
        if not room.covers(lies.shape):
            yield f"{what}: {lies.piece} reaches into the margin or off the sheet"
    gap = sheet.gap
    tree = shapely.STRtree([lies.shape for lies in sheet.placed])
    for i, lies in enumerate(sheet.placed):
        near = tree.query(lies.shape, predicate="dwithin", distance=max(gap - PLACED_MM, 0.0))
        for j in sorted(near.tolist()):
            other = sheet.placed[j]
            if j > i and (gap > PLACED_MM or lies.shape.intersection(other.shape).area > _AREA_MM2):
                yield f"{what}: {lies.piece} and {other.piece} are less than {gap:g} mm apart"


def _moved(shape: Polygon, lies: Lies) -> Polygon:
    """A piece mirrored, turned about (0, 0) and moved to where it lies."""
    if lies.flipped:
        shape = affinity.scale(shape, 1.0, -1.0, origin=(0, 0))
    return affinity.translate(affinity.rotate(shape, lies.turn_deg, origin=(0, 0)), lies.x, lies.y)
