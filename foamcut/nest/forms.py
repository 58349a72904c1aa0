"""Pieces as the search sees them: whole-number rings, with few corners, one for each way to lie.

Units as in `foamcut.nest.rooms`.  A form may be larger than its piece, never smaller.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import pairwise

import pyclipper
from shapely import Polygon, box
from shapely.ops import unary_union

from foamcut.flat.joint import Piece
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.nest.rooms import Path, Paths, nanometres, unit_rings
from foamcut.nest.turning import askew_bases, flips, may_lie_askew, upright_turns

#: corners that a form may have: no-fit outlines of convex forms are quick
_MOST_CONVEX = 40
_MOST_CONCAVE = 32
_LEAST_CONCAVE = 14
#: and a form that is to be exact
_MOST_EXACT = 250
#: with more shapes than this each counts as its hull: the pairs of shapes grow with the square
_MANY_SHAPES = 120
_TOLERANCES_MM = (0.01, 0.02, 0.05, 0.1, 0.2, 0.4, 0.8)


@dataclass(frozen=True, slots=True)
class Lie:
    """One way for a piece to lie: form, quarter turns of the form, and the placement's turn and flip.

    `bounds` are those of the form so turned, units.
    """

    form: int
    quarter: int
    turn_deg: float
    flipped: bool
    bounds: tuple[int, int, int, int]


class Forms:
    """All forms of one stock's pieces; equal ones are kept once.  Outlines in `exact` (WKB) stay whole."""

    def __init__(
        self,
        pieces: Sequence[Piece],
        stock: Stock,
        rooms_mm: Sequence[tuple[float, float]],
        exact: Collection[bytes] = (),
    ) -> None:
        self.rings: list[Paths] = []
        self.convex: list[bool] = []
        self._stock = stock
        self._rooms_mm = rooms_mm
        self._exact = exact
        self._index: dict[tuple[tuple[tuple[int, int], ...], ...], int] = {}
        boxes = [extent_mm(p.outline) for p in pieces]
        self._least_mm = min(min(b) for b in boxes)
        self._least_long_mm = min(max(b) for b in boxes)
        shapes = len({p.outline.polygon.wkb for p in pieces})
        self._most_concave = max(_LEAST_CONCAVE, min(_MOST_CONCAVE, 400 // shapes))
        self._most_convex = _MOST_CONVEX if shapes <= _MANY_SHAPES else _LEAST_CONCAVE
        self._hulls_only = shapes > _MANY_SHAPES

    def lies(self, piece: Piece) -> tuple[Lie, ...]:
        """The ways in which a piece may lie, those that look the same only once."""
        part = piece.flat
        bases: tuple[float, ...] = (0.0,)
        if may_lie_askew(part, self._stock):
            bases += askew_bases(piece.outline, self._rooms_mm)
        found: dict[tuple[tuple[int, int], ...], Lie] = {}
        for flipped in flips(part):
            for base in bases:
                form = self._form(piece, base, flipped)
                turns = upright_turns(part, self._stock) if base == 0.0 else (0.0, 90.0, 180.0, 270.0)
                for turn in turns:
                    quarter = int(turn // 90)
                    rings = [turned(path, quarter) for path in self.rings[form]]
                    bounds = _bounds(rings[0])
                    lie = Lie(form, quarter, (base + turn) % 360, flipped, bounds)
                    found.setdefault(_looks(rings, bounds), lie)
        return tuple(found.values())

    def _form(self, piece: Piece, base: float, flipped: bool) -> int:
        polygon = piece.outline.placed(Placement(turn_deg=base, flipped=flipped)).polygon
        rings = self._rings(polygon, exactly=piece.outline.polygon.wkb in self._exact)
        key = tuple(tuple(path) for path in rings)
        if key not in self._index:
            self._index[key] = len(self.rings)
            self.rings.append(rings)
            self.convex.append(len(rings) == 1 and is_convex(rings[0]))
        return self._index[key]

    def _rings(self, polygon: Polygon, *, exactly: bool) -> Paths:
        gap = self._stock.gap_mm
        if not exactly and self._hulls_only and isinstance(polygon.convex_hull, Polygon):
            polygon = polygon.convex_hull
        holes = [h for h in polygon.interiors if self._could_hold(h.bounds, gap)]
        exact = polygon if len(holes) == len(polygon.interiors) else Polygon(polygon.exterior, holes)
        rings = unit_rings(exact)
        convex = len(rings) == 1 and is_convex(rings[0])
        most = self._most_convex if convex else self._most_concave
        if sum(map(len, rings)) <= (_MOST_EXACT if exactly else most):
            return rings
        return unit_rings(_simpler(exact, most, self._least_mm / 2 + gap))

    def _could_hold(self, bounds: tuple[float, float, float, float], gap: float) -> bool:
        """Whether some piece might lie inside a hole of this box; a hole that can hold none is filled."""
        width, height = bounds[2] - bounds[0], bounds[3] - bounds[1]
        return (
            min(width, height) >= self._least_mm + 2 * gap - 1e-6
            and max(width, height) >= self._least_long_mm + 2 * gap - 1e-6
        )


def _simpler(polygon: Polygon, most: int, reach_mm: float) -> Polygon:
    """A polygon of fewer corners that covers the given one and has the same box.

    Notches that no piece of half-width `reach_mm` enters are filled first; then the outline is grown by a
    tolerance and simplified within it (Douglas and Peucker), which cannot come back to the old outline.
    """
    upright = box(*polygon.bounds)
    best = polygon
    closed = polygon.buffer(reach_mm, quad_segs=4).buffer(-reach_mm * 1.0001, quad_segs=4)
    filled = unary_union([polygon, closed])
    if isinstance(filled, Polygon):
        polygon = filled.intersection(upright)
    for tolerance in _TOLERANCES_MM:
        grown = polygon.buffer(tolerance, join_style="mitre", mitre_limit=2.0).simplify(tolerance)
        grown = grown.intersection(upright)
        sound = isinstance(grown, Polygon) and grown.is_valid and grown.covers(polygon)
        if sound and _count(grown) < _count(best):
            best = grown
        if _count(best) <= most:
            return best
    hull = polygon.convex_hull
    return hull if _count(best) > 3 * most and isinstance(hull, Polygon) else best


def extent_mm(outline: Outline) -> tuple[float, float]:
    """Width and height of an outline's box, mm."""
    x0, y0, x1, y1 = outline.bounds
    return x1 - x0, y1 - y0


def _count(polygon: Polygon) -> int:
    return sum(len(ring.coords) - 1 for ring in (polygon.exterior, *polygon.interiors))


def turned(path: Path, quarter: int) -> Path:
    """A path turned about (0, 0) by quarter turns, counter-clockwise."""
    if quarter == 1:
        return [(-y, x) for x, y in path]
    if quarter == 2:
        return [(-x, -y) for x, y in path]
    if quarter == 3:
        return [(y, -x) for x, y in path]
    return path


def is_convex(path: Path) -> bool:
    """Whether a counter-clockwise ring never turns right and goes round once."""
    if len(path) < 3:
        return False
    turns = 0
    for (ax, ay), (bx, by), (cx, cy) in zip(path, path[1:] + path[:1], path[2:] + path[:2], strict=True):
        if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) < 0:
            return False
        turns += (ay < by or (ay == by and ax < bx)) and not (by < cy or (by == cy and bx < cx))
    return turns == 1


def exact_area_nm2(polygon: Polygon) -> int:
    """Area in whole square nanometres, halves rounded down."""
    doubled = 0
    for ring in (polygon.exterior, *polygon.interiors):
        points = [(nanometres(x), nanometres(y)) for x, y in ring.coords]
        doubled += sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise(points))
    return abs(doubled) // 2


def _bounds(path: Path) -> tuple[int, int, int, int]:
    xs, ys = [x for x, _ in path], [y for _, y in path]
    return min(xs), min(ys), max(xs), max(ys)


def _looks(rings: Paths, bounds: tuple[int, int, int, int]) -> tuple[tuple[int, int], ...]:
    """The same for two lies that cover the same place: all corners, moved to the box, in order."""
    x0, y0, _, _ = bounds
    moved: list[tuple[int, int]] = []
    for path in rings:
        ring = [(x - x0, y - y0) for x, y in path]
        first = ring.index(min(ring))
        moved.extend(ring[first:] + ring[:first])
        moved.append((-1, len(ring)))
    return tuple(moved)


def signed_area(path: Path) -> float:
    """Area of a ring in square units, positive counter-clockwise."""
    return float(pyclipper.Area(path))
