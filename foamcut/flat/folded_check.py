"""Folds every part and looks it over: panels that pass through each other, edges that should meet and do not.

mm.  Two panels meet when an edge of one lies along a face or an edge of the other, as at the corner of a
box; edges that come near each other there without touching are taken for a mistake of a board's thickness.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

import numpy as np
import shapely

from foamcut.findings import Finding, Level
from foamcut.flat.drawn import FoldKind
from foamcut.flat.outline import Point
from foamcut.flat.panels import Folded, Panel, fold_up
from foamcut.flat.part import Part
from foamcut.flat.solids import solid
from foamcut.flat.tolerances import CLASH_MM, MEETS_MM, ON_EDGE_MM
from foamcut.flat.trace import place_text
from foamcut.units import decimal_text

if TYPE_CHECKING:
    from manifold3d import Manifold

#: edges farther apart than this many thicknesses are not meant to meet
_NEAR = 2.0
#: edges that lean by more than this to each other are not meant to meet, degrees
_PARALLEL_DEG = 3.0
#: shorter edges are corners, mm
_SHORT_MM = 3.0
#: and the two have to run beside each other over this share of the shorter one
_BESIDE = 0.6
#: an edge faces another when the way to it goes at least this much outwards (cosine)
_FACING = 0.3
#: places along two edges at which they are held against each other
_STATIONS = (0.1, 0.5, 0.9)
#: a body thinner than a thousandth of a millimetre all over is where faces touch, mm3
_TOUCH_MM3 = 0.5


def fold_findings(part: Part) -> tuple[Finding, ...]:
    """Advice on the folded shape of a part; none for a part without folds."""
    if not part.folds:
        return ()
    folded = fold_up(part)
    bodies = [_Body(part=part, panel=panel) for panel in folded.panels]
    found: list[Finding] = []
    if folded.open_mm > MEETS_MM:
        found.append(_ring_open(folded))
    for a, b in combinations(bodies, 2):
        if _of_one_roll(a.panel, b.panel):
            continue
        if clash := _clash(a, b):
            found.append(clash)
        elif not set(a.panel.folds) & set(b.panel.folds) and (apart := _apart(a, b)):
            found.append(apart)
    return (*found, *_open_wraps(part))


@dataclass(frozen=True, kw_only=True)
class _Body:
    """A panel of a folded part."""

    part: Part
    panel: Panel

    @cached_property
    def solid(self) -> "Manifold":
        return solid(self.part, self.panel)

    @cached_property
    def matrix(self) -> np.ndarray:
        return self.panel.pose.matrix

    @cached_property
    def edges(self) -> tuple["_Edge", ...]:
        """The free edges, longest corners apart."""
        boundary = self.part.outline.polygon.boundary
        return tuple(
            _Edge(start=a, end=b, body=self)
            for ring in self.panel.outline.rings()
            for a, b in pairwise(ring)
            if math.dist(a, b) >= _SHORT_MM
            and boundary.distance(shapely.Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)) <= ON_EDGE_MM
        )

    @property
    def name(self) -> str:
        """What a builder would call it: the fold that turns it."""
        if self.panel.turned_by is None:
            return "the panel that keeps its place"
        return f"the panel turned by {self.part.folds[self.panel.turned_by].key.rsplit('.', 1)[-1]}"

    def in_space(self, point: Point, z_mm: float) -> np.ndarray:
        moved: np.ndarray = (self.matrix @ (point[0], point[1], z_mm, 1.0))[:3]
        return moved

    def on_flat(self, place: np.ndarray) -> np.ndarray:
        """A place in space as x, y and z of the flat part."""
        flat: np.ndarray = self.matrix[:3, :3].T @ (place - self.matrix[:3, 3])
        return flat

    def off(self, place: np.ndarray) -> float:
        """How far a place in space is off the panel's board."""
        x, y, z = self.on_flat(place).tolist()
        over = max(0.0, z, -self.part.thickness_mm - z)
        return math.hypot(self.panel.outline.polygon.distance(shapely.Point(x, y)), over)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edge:
    """A free edge of a panel: counter-clockwise round it, so that outwards is to its right."""

    start: Point
    end: Point
    body: _Body

    @property
    def length(self) -> float:
        return math.dist(self.start, self.end)

    def place(self, share: float) -> Point:
        """The point at a share of the way along."""
        (x0, y0), (x1, y1) = self.start, self.end
        return x0 + share * (x1 - x0), y0 + share * (y1 - y0)

    def along(self) -> np.ndarray:
        """Unit vector in space."""
        way: np.ndarray = self.body.matrix[:3, :3] @ (*self._flat_way(), 0.0)
        return way

    def outwards(self) -> np.ndarray:
        """Unit vector in space, in the panel's plane."""
        dx, dy = self._flat_way()
        way: np.ndarray = self.body.matrix[:3, :3] @ (dy, -dx, 0.0)
        return way

    def middle(self, share: float = 0.5) -> np.ndarray:
        """The middle of the board's thickness there, in space."""
        return self.body.in_space(self.place(share), -self.body.part.thickness_mm / 2)

    def _flat_way(self) -> Point:
        (x0, y0), (x1, y1) = self.start, self.end
        return (x1 - x0) / self.length, (y1 - y0) / self.length

    def gap_to(self, other: _Body, share: float) -> float:
        """How far the board's end at a share of the way is off another panel."""
        thickness = self.body.part.thickness_mm
        at = self.place(share)
        return min(other.off(self.body.in_space(at, -thickness * k / 2)) for k in range(3))


def _of_one_roll(a: Panel, b: Panel) -> bool:
    """Whether two panels are facets of one roll, or a facet and what it goes over into: foam gives way."""
    rolls = {p.of_roll for p in (a, b) if p.of_roll is not None}
    return bool(rolls) and all(roll in a.folds and roll in b.folds for roll in rolls)


def _clash(a: _Body, b: _Body) -> Finding | None:
    both = a.solid ^ b.solid
    if both.volume() <= _TOUCH_MM3:
        return None
    corners = np.asarray(both.to_mesh().vert_properties)[:, :3]
    depth = min(_thinnest(corners, body) for body in (a, b))
    if depth <= CLASH_MM:
        return None
    middle = (corners.min(axis=0) + corners.max(axis=0)) / 2
    places = " and ".join(place_text(_point(body.on_flat(middle))) for body in (a, b))
    return _finding(
        "panels-clash",
        a.part,
        b,
        f"folded up, {a.name} and {b.name} pass through each other by {decimal_text(depth, 2)} mm,"
        f" at {places} of the flat part",
        f"{decimal_text(depth, 2)} mm",
        "bevel both edges by half the angle between them, or end one a board's thickness sooner",
    )


def _point(flat: np.ndarray) -> Point:
    return round(float(flat[0]), 2), round(float(flat[1]), 2)


def _thinnest(corners: np.ndarray, body: _Body) -> float:
    """The least extent of a body along a panel's three directions."""
    local = corners @ body.matrix[:3, :3]
    return float((local.max(axis=0) - local.min(axis=0)).min())


def _apart(a: _Body, b: _Body) -> Finding | None:
    """The widest gap between edges of two panels that should meet."""
    near = _NEAR * a.part.thickness_mm
    if a.solid.min_gap(b.solid, near) >= near:
        return None
    worst: tuple[float, _Edge, _Edge] | None = None
    for one in a.edges:
        for other in b.edges:
            gap = _gap(one, other, near)
            if gap is not None and (worst is None or gap > worst[0]):
                worst = gap, one, other
    if worst is None:
        return None
    gap, one, other = worst
    places = " and ".join(place_text(_rounded(edge.place(0.5))) for edge in (one, other))
    return _finding(
        "panels-apart",
        a.part,
        b,
        f"folded up, the edges of {a.name} and {b.name} at {places} of the flat part come close and do not"
        f" meet: {decimal_text(gap, 2)} mm are missing",
        f"{decimal_text(gap, 2)} mm",
        "make one of them longer by that much, or mean it",
    )


def _rounded(point: Point) -> Point:
    return round(point[0], 2), round(point[1], 2)


def _gap(one: _Edge, other: _Edge, near: float) -> float | None:
    """How far two edges that should meet are apart at most; None when they meet, or are not meant to."""
    if abs(float(one.along() @ other.along())) < math.cos(math.radians(_PARALLEL_DEG)):
        return None
    way = other.middle() - one.middle()
    way = way - one.along() * float(way @ one.along())
    distance = float(np.linalg.norm(way))
    if distance > 2 * near:
        return None
    if distance and max(float(way @ one.outwards()), -float(way @ other.outwards())) < _FACING * distance:
        return None
    if _beside(one, other) < _BESIDE * min(one.length, other.length):
        return None
    short, long = (one, other) if one.length <= other.length else (other, one)
    gaps = [_station(short, long, share) for share in _STATIONS]
    return max(gaps) if max(gaps) > MEETS_MM and max(gaps) < near else None


def _beside(one: _Edge, other: _Edge) -> float:
    """Over what length two parallel edges run beside each other."""
    way = one.along()
    a = sorted(float(way @ one.middle(share)) for share in (0.0, 1.0))
    b = sorted(float(way @ other.middle(share)) for share in (0.0, 1.0))
    return min(a[1], b[1]) - max(a[0], b[0])


def _station(short: _Edge, long: _Edge, share: float) -> float:
    """The gap at a place of the shorter edge, seen from either."""
    way = long.along()
    there = float(way @ (short.middle(share) - long.middle(0.0))) / long.length
    back = long.gap_to(short.body, min(max(there, 0.0), 1.0))
    return min(short.gap_to(long.body, share), back)


def _ring_open(folded: Folded) -> Finding:
    gap = decimal_text(folded.open_mm, 2)
    return Finding(
        code="panels-apart",
        level=Level.WARNING,
        where=f"{folded.part.key}.folds",
        text=f"these folds go round a hole and do not close: {gap} mm are missing when all are folded",
        value=f"{gap} mm",
        range=f"up to {decimal_text(MEETS_MM, 2)} mm",
        mend="board folds round a hole only by turns that bring it back; change a turn or a line",
    )


def _open_wraps(part: Part) -> Iterator[Finding]:
    """Strips lifted out that are wider than the panel that lands in them, this board's."""
    for fold in part.folds:
        width = fold.band_mm[1] - fold.band_mm[0]
        gap = width - part.thickness_mm
        if fold.kind is FoldKind.WRAP and gap > MEETS_MM:
            yield Finding(
                code="panels-apart",
                level=Level.WARNING,
                where=fold.key,
                text=f"the strip lifted out is {decimal_text(width, 2)} mm wide, the board that lands in it"
                f" {decimal_text(part.thickness_mm, 2)} mm thick: {decimal_text(gap, 2)} mm stay open",
                value=f"{decimal_text(gap, 2)} mm",
                range=f"up to {decimal_text(MEETS_MM, 2)} mm",
                mend="leave `lands` out where this part's own panel lands there",
            )


def _finding(code: str, part: Part, body: _Body, text: str, value: str, mend: str) -> Finding:
    turned_by = body.panel.turned_by
    return Finding(
        code=code,
        level=Level.WARNING,
        where=part.key if turned_by is None else part.folds[turned_by].key,
        text=text,
        value=value,
        range=f"up to {decimal_text(CLASH_MM if code == 'panels-clash' else MEETS_MM, 2)} mm",
        mend=mend,
    )
