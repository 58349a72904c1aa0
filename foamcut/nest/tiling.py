"""Puts pieces together that fill their sheets without a rest, as a cut-up board does.

Method: see `foamcut.nest.tiling_search`.  Some orders lead astray for long, so that the search starts again
with others; what it finds is moved a little until nothing overlaps, and checked.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from shapely import Polygon

from foamcut.flat.placement import Placement, rounded
from foamcut.nest.tiling_nodes import Spot
from foamcut.nest.tiling_search import Search
from foamcut.nest.tiling_settle import lies_well, placed, settled
from foamcut.nest.tiling_shapes import Point, Shape, from_corner, laid, looks_like, ring, shape

#: areas may miss those of the boards by this share, and by this for each mm of edge: half of 0.001 mm
_SHARE = 1e-6
_ROUNDING_MM = 0.0005
#: with more pieces the search has no chance
_MOST_TILES = 120
_MOST_CORNERS = 1500
#: pieces laid down in the first run, and how much longer each next one is
_FIRST_RUN, _LONGER = 100, 1.5
#: with every angle allowed, one of so many longest sides is laid upright or level
_LONG_SIDES = 2

Room = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """A piece, grown by half the gap (mitred), in its own coordinates, mm, and how it may lie.

    `turns` are pairs of degrees and whether it is turned over; with `askew` every angle is allowed, and only
    the second number of each pair counts; of the angles those that lay a long side along the room are tried.
    """

    polygon: Polygon
    turns: tuple[tuple[float, bool], ...]
    askew: bool = False


@dataclass(frozen=True, slots=True)
class _Kind:
    """Pieces that look the same: which tiles, and the shapes in which they lie."""

    members: list[int]
    shapes: list[Shape]


def _never() -> bool:
    return False


def tile(
    tiles: Sequence[Tile],
    room_mm: Room,
    boards: int,
    tries: int,
    is_stopped: Callable[[], bool] = _never,
) -> tuple[tuple[int, Placement], ...] | None:
    """For each tile its board, from 0, and placement in equal rooms x0, y0, x1, y1; None: none was found.

    Nothing overlaps or leaves its room by more than `MOST_MM` of `foamcut.nest.tiling_settle`.  `tries`
    counts pieces laid down, about a thousand in a second with fifteen pieces.  None comes at once when the
    areas do not add up to those of the boards.  Pieces with holes are not put together.
    """
    if not _fill_exactly(tiles, room_mm, boards):
        return None
    rings = [ring(t.polygon) for t in tiles]
    if sum(map(len, rings)) > _MOST_CORNERS:
        return None
    kinds = _kinds(tiles, rings)
    ends = _Ends(tiles, rings, kinds, room_mm)
    search = Search(
        [s for kind in kinds for s in kind.shapes],
        [len(kind.members) for kind in kinds],
        room_mm,
        ends.is_done,
        is_stopped,
    )
    run, rng = _FIRST_RUN, None
    while tries > 0 and not is_stopped():
        answer = search.go(min(run, tries), rng)
        if answer is not None:
            return ends.found if answer else None
        tries -= run
        run, rng = int(run * _LONGER), rng or Random(1)
    return None


def _fill_exactly(tiles: Sequence[Tile], room: Room, boards: int) -> bool:
    if not 1 <= boards <= len(tiles) <= _MOST_TILES:
        return False
    width, height = room[2] - room[0], room[3] - room[1]
    if not (width > 0 and height > 0) or any(t.polygon.interiors or not t.turns for t in tiles):
        return False
    whole = boards * width * height
    slack = _SHARE * whole + _ROUNDING_MM * sum(t.polygon.length for t in tiles)
    return abs(math.fsum(t.polygon.area for t in tiles) - whole) <= slack


def _kinds(tiles: Sequence[Tile], rings: Sequence[tuple[Point, ...]]) -> list[_Kind]:
    kinds: list[_Kind] = []
    count = 0
    for index, (one, points) in enumerate(zip(tiles, rings, strict=True)):
        ways = [(from_corner(laid(points, *turn)), turn) for turn in _turns(one, points)]
        for kind in kinds:
            if _same_ways([w for w, _ in ways], kind):
                kind.members.append(index)
                break
        else:
            shapes: list[Shape] = []
            for way, turn in ways:
                if not any(looks_like(way, s.points) for s in shapes):
                    shapes.append(shape(count, len(kinds), way, *turn))
                    count += 1
            kinds.append(_Kind([index], shapes))
    return kinds


def _turns(one: Tile, points: Sequence[Point]) -> tuple[tuple[float, bool], ...]:
    """How a tile may lie; when every angle is allowed, as drawn or with a long side upright or level."""
    if not one.askew:
        return one.turns
    sides = sorted(pairwise([*points, points[0]]), key=lambda s: -math.dist(*s))[:_LONG_SIDES]
    found: dict[tuple[float, bool], None] = {}
    for flipped in dict.fromkeys(flipped for _, flipped in one.turns):
        level = [math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in sides]
        bases = [0.0, *(rounded((angle if flipped else -angle) % 90) % 90 for angle in level)]
        found.update({((base + 90.0 * k) % 360, flipped): None for base in bases for k in range(4)})
    return tuple(found)


def _same_ways(ways: Sequence[tuple[Point, ...]], kind: _Kind) -> bool:
    return all(any(looks_like(w, s.points) for s in kind.shapes) for w in ways) and all(
        any(looks_like(w, s.points) for w in ways) for s in kind.shapes
    )


class _Ends:
    """Turns what the search lays down into placements of the tiles; keeps them when they hold."""

    def __init__(
        self,
        tiles: Sequence[Tile],
        rings: Sequence[tuple[Point, ...]],
        kinds: Sequence[_Kind],
        room: Room,
    ) -> None:
        self._tiles = tiles
        self._rings = rings
        self._kinds = kinds
        self._room = room
        self.found: tuple[tuple[int, Placement], ...] | None = None

    def is_done(self, boards: tuple[tuple[Spot, ...], ...]) -> bool:
        """Whether the spots, those of each board, stand up to the check."""
        members = [list(kind.members) for kind in self._kinds]
        found: list[tuple[int, tuple[int, Placement]]] = []
        for number, spots in enumerate(boards):
            polygons = []
            for spot, corner in zip(spots, settled(spots, self._room), strict=True):
                index = members[spot.shape.kind].pop(0)
                at = self._placement(index, spot.shape, corner)
                found.append((index, (number, at)))
                polygon = self._tiles[index].polygon
                polygons.append(placed(polygon, at.turn_deg, at.flipped, at.x_mm, at.y_mm))
            if not lies_well(polygons, self._room):
                return False
        self.found = tuple(end for _, end in sorted(found, key=lambda f: f[0]))
        return True

    def _placement(self, index: int, like: Shape, corner: Point) -> Placement:
        """How a tile lies that looks like the shape with its lower left box corner there."""
        for turn, flipped in _turns(self._tiles[index], self._rings[index]):
            points = laid(self._rings[index], turn, flipped)
            if looks_like(from_corner(points), like.points):
                break
        x, y = min(x for x, _ in points), min(y for _, y in points)
        return Placement(
            x_mm=rounded(corner[0] - x), y_mm=rounded(corner[1] - y), turn_deg=turn, flipped=flipped
        )
