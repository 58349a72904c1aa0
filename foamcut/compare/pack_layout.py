"""The geometry of a layout read back from its numbers: pieces, where they lie, what they make up.

Works on the document alone with shapely; shares no code with the search, the drawings or the writers.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from typing import Any

import shapely
from shapely import Polygon, affinity

from foamcut.flat.tolerances import PLACED_MM

#: what sections may miss of their part, as a share of its area, and the area that may differ, mm2
_AREA_SHARE, _AREA_MM2 = 1e-6, 1e-3
#: pieces, and points of one polygon, that are looked at
_MAX_PIECES, _MAX_POINTS = 5000, 200_000


def layout_faults(document: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with the geometry of a layout, in words."""
    try:
        read = _Read(document)
    except (KeyError, TypeError, ValueError, AttributeError) as err:
        yield f"cannot be read: {type(err).__name__}: {str(err)[:80]}"
        return
    yield from read.piece_faults()
    yield from read.part_faults()
    for sheet in read.sheets:
        yield from read.sheet_faults(sheet)


def part_shapes(document: Mapping[str, Any]) -> dict[str, Polygon]:
    """The outline of every part by its name, of a layout that has no faults."""
    return {str(one["name"]): _polygon(one["polygon"]) for one in document["parts"]}


class _Read:
    """A layout's parts, pieces and sheets.

    Raises
    ------
    KeyError, TypeError, ValueError, AttributeError
        It is no layout.
    """

    def __init__(self, document: Mapping[str, Any]) -> None:
        self.parts = {str(one["name"]): one for one in document["parts"]}
        self.pieces = {str(one["id"]): one for one in document["pieces"]}
        self.counted = Counter(str(one["id"]) for one in document["pieces"])
        self.sheets = list(document["sheets"])
        self.stocks = {
            str(one["name"]): (_number(one["margin"]), _number(one["gap"])) for one in document["stocks"]
        }
        if len(document["pieces"]) > _MAX_PIECES:
            raise ValueError(f"{len(document['pieces']):,} pieces")
        self.shapes = {name: _polygon(one["polygon"]) for name, one in self.pieces.items()}
        self.outlines = {name: _polygon(one["polygon"]) for name, one in self.parts.items()}
        placed = [str(one["piece"]) for sheet in self.sheets for one in sheet["placed"]]
        self.placed = Counter(placed)
        self.lying = [
            [(str(one["piece"]), one, _polygon(one["polygon"])) for one in sheet["placed"]]
            for sheet in self.sheets
        ]
        self.usable = [_polygon(sheet["outline"]) for sheet in self.sheets]
        for sheet in self.sheets:
            _ = self.stocks[str(sheet["stock"])], sheet["number"]

    def piece_faults(self) -> Iterator[str]:
        """Pieces that are placed never or more than once, or are none."""
        for name, count in sorted(self.counted.items()):
            if count > 1:
                yield f"piece {name} is listed {count} times"
        for name in sorted({*self.pieces, *self.placed}):
            times = self.placed[name]
            if name not in self.pieces:
                yield f"{name} is placed and is no piece"
            elif times != 1:
                yield f"piece {name} is placed {times} times" if times else f"piece {name} is on no sheet"

    def part_faults(self) -> Iterator[str]:
        """Parts whose copies are not all there, or whose sections do not make them up."""
        copies: dict[str, dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
        for name, piece in self.pieces.items():
            if piece.get("role") != "doubler":
                copies[str(piece.get("part"))][piece.get("copy", 0)].append(name)
        for name in sorted(set(copies) - set(self.parts)):
            yield f"pieces are of {name}, which is no part"
        for name, part in self.parts.items():
            if len(copies[name]) != part.get("count"):
                yield f"part {name}: {len(copies[name])} of {part.get('count')} copies are cut"
            due = self.outlines[name]
            for copy, several in sorted(copies[name].items(), key=lambda one: str(one[0])):
                whole = shapely.union_all([self.shapes[piece] for piece in several])
                areas = sum(self.shapes[piece].area for piece in several)
                off = whole.symmetric_difference(due).area
                if off > _AREA_MM2 or abs(areas - due.area) > _AREA_SHARE * due.area:
                    yield f"part {name}, copy {copy}: its pieces do not make it up ({off:.3f} mm2 differ)"

    def sheet_faults(self, sheet: Mapping[str, Any]) -> Iterator[str]:
        """Pieces of a sheet that are not their shape, leave it, or come too near to each other."""
        index = next(i for i, one in enumerate(self.sheets) if one is sheet)
        what = f"sheet {sheet['stock']} {sheet['number']}"
        margin, gap = self.stocks[str(sheet["stock"])]
        room = self.usable[index].buffer(PLACED_MM - margin, join_style="mitre")
        lying = self.lying[index]
        for name, record, shape in lying:
            if name in self.shapes and not _same(_moved(self.shapes[name], record), shape):
                yield f"{what}: {name} lies there in another shape than it is cut in"
            if not room.covers(shape):
                yield f"{what}: {name} reaches into the margin or off the sheet"
        tree = shapely.STRtree([shape for _, _, shape in lying])
        for i, (name, _, shape) in enumerate(lying):
            for j in sorted(
                tree.query(shape, predicate="dwithin", distance=max(gap - PLACED_MM, 0.0)).tolist()
            ):
                if j > i and (gap > PLACED_MM or shape.intersection(lying[j][2]).area > _AREA_MM2):
                    yield f"{what}: {name} and {lying[j][0]} are less than {gap:g} mm apart"


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError(f"{value!r} is no number")
    return float(value)


def _polygon(rings: Any) -> Polygon:
    several = [[(_number(x), _number(y)) for x, y in ring] for ring in rings]
    if not several or sum(map(len, several)) > _MAX_POINTS:
        raise ValueError("a polygon without rings, or with too many points")
    found = Polygon(several[0], several[1:])
    if not found.is_valid or not found.area > 0:
        raise ValueError(f"a polygon that crosses itself or is empty, at {several[0][0]}")
    return found


def _moved(shape: Polygon, record: Mapping[str, Any]) -> Polygon:
    """A piece mirrored, turned about (0, 0) and moved as the record says."""
    if record.get("flipped"):
        shape = affinity.scale(shape, 1.0, -1.0, origin=(0, 0))
    shape = affinity.rotate(shape, _number(record.get("turn_deg")), origin=(0, 0))
    return affinity.translate(shape, _number(record.get("x")), _number(record.get("y")))


def _same(one: Polygon, other: Polygon) -> bool:
    return bool(one.symmetric_difference(other).area <= PLACED_MM * (one.length + other.length))
