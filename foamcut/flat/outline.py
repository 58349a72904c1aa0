"""Outlines: a polygon with holes, and the circles that its arcs lie on.

mm, x right, y up.  The polygon is the truth: its vertices lie on the arcs, chords are at most
`CHORD_MM` off.  The circles let a writer find the arcs again.  Operations go through the methods
here, so that circles are never lost.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple, Self

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.flat.placement import Placement, rounded
from foamcut.flat.tolerances import (
    CHORD_MM,
    DUST_MM,
    ON_CIRCLE_MM,
    OUTSIDE_CIRCLE_MM,
    SMALLEST_AREA_MM2,
)

Point = tuple[float, float]

#: the widest arc that `Outline.lines` gives: a quarter turn, four to a circle
_WIDEST_ARC_RAD = math.pi / 2 + 1e-4


class Circle(NamedTuple):
    """A circle that arcs of an outline lie on, mm."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True)
class Segment:
    """A straight line, or with a bulge an arc, from start to end.

    Bulge = tan(included angle / 4), positive counter-clockwise, 0 for a line, at most 1 either way
    (the definition of the DXF reference, LWPOLYLINE group 42).
    """

    start: Point
    end: Point
    bulge: float = 0.0

    @property
    def included_deg(self) -> float:
        """Angle at the centre, degrees, positive counter-clockwise."""
        return math.degrees(4 * math.atan(self.bulge))

    @property
    def radius(self) -> float:
        """Radius of an arc, mm; infinite for a line."""
        if not self.bulge:
            return math.inf
        return math.dist(self.start, self.end) * (1 + self.bulge**2) / (4 * abs(self.bulge))

    @property
    def centre(self) -> Point:
        """Centre of an arc.

        Raises
        ------
        ValueError
            This is a straight line.
        """
        if not self.bulge:
            raise ValueError("a line has no centre")
        (x0, y0), (x1, y1) = self.start, self.end
        along = (1 - self.bulge**2) / (4 * self.bulge)
        return (x0 + x1) / 2 - along * (y1 - y0), (y0 + y1) / 2 + along * (x1 - x0)

    def points(self, chord_mm: float = CHORD_MM) -> tuple[Point, ...]:
        """Points along the segment without its start; chords of an arc at most `chord_mm` off."""
        if not self.bulge:
            return (self.end,)
        cx, cy = self.centre
        start = math.atan2(self.start[1] - cy, self.start[0] - cx)
        swept = math.radians(self.included_deg)
        count = chord_count(self.radius, swept, chord_mm)
        inner = (start + swept * i / count for i in range(1, count))
        return (*((cx + self.radius * math.cos(a), cy + self.radius * math.sin(a)) for a in inner), self.end)

    def placed(self, placement: Placement) -> "Segment":
        """The segment mirrored, turned and moved."""
        bulge = -self.bulge if placement.flipped else self.bulge
        return Segment(placement.point(*self.start), placement.point(*self.end), bulge)


def chord_count(radius: float, swept_rad: float, chord_mm: float = CHORD_MM) -> int:
    """How many equal chords keep within `chord_mm` of an arc (sagitta r (1 - cos(step / 2)))."""
    if radius <= chord_mm:
        return max(2, math.ceil(abs(swept_rad) / (math.pi / 2)))
    step = 2 * math.acos(1 - chord_mm / radius)
    return max(2, math.ceil(abs(swept_rad) / step - 1e-9))


def straight(points: Sequence[Point]) -> tuple[Segment, ...]:
    """Line segments through the points in turn."""
    return tuple(Segment(a, b) for a, b in pairwise(points))


@dataclass(frozen=True, slots=True)
class Outline:
    """A piece of sheet seen flat: one outer ring, holes, and the circles of its arcs.

    The polygon is in one form only: coordinates to the nanometre, outer ring counter-clockwise, holes
    clockwise, each ring from its lowest x, then lowest y, holes in the order of their first point.
    An `Outline` may hold a polygon that cannot be cut; `fault` says so, and a `Part` refuses it.
    """

    polygon: Polygon
    circles: tuple[Circle, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "polygon", _in_one_form(self.polygon))
        circles = (Circle(rounded(c.x), rounded(c.y), rounded(c.radius)) for c in self.circles)
        object.__setattr__(self, "circles", tuple(dict.fromkeys(circles)))

    @classmethod
    def of_points(cls, points: Iterable[Point], circles: Iterable[Circle] = ()) -> Self:
        """An outline without holes through the points."""
        return cls(Polygon(points), tuple(circles))

    @classmethod
    def rectangle(cls, x0: float, y0: float, x1: float, y1: float) -> Self:
        """An upright rectangle from corner to corner."""
        return cls.of_points([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])

    @classmethod
    def circle(cls, x: float, y: float, radius: float) -> Self:
        """A full circle, vertices on it, four of them its extremes."""
        count = max(8, -(-chord_count(radius, 2 * math.pi) // 4) * 4)
        steps = (2 * math.pi * i / count for i in range(count))
        return cls.of_points(
            ((x + radius * math.cos(a), y + radius * math.sin(a)) for a in steps), [Circle(x, y, radius)]
        )

    @property
    def area(self) -> float:
        """Area without the holes, mm2."""
        return float(self.polygon.area)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Lowest x, lowest y, highest x, highest y, mm."""
        x0, y0, x1, y1 = self.polygon.bounds
        return x0, y0, x1, y1

    @property
    def corner_count(self) -> int:
        """Vertices of all rings together."""
        return sum(len(ring) - 1 for ring in self.rings())

    def rings(self) -> tuple[tuple[Point, ...], ...]:
        """All rings, closed, the outer first."""
        rings = (self.polygon.exterior, *self.polygon.interiors)
        return tuple(tuple((x, y) for x, y in shapely.get_coordinates(ring).tolist()) for ring in rings)

    def fault(self) -> str | None:
        """Why the polygon cannot be cut, with the place; None when it can."""
        if self.polygon.is_empty:
            return "nothing is left"
        if not self.polygon.is_valid:
            return _fault_words(shapely.is_valid_reason(self.polygon))
        if self.area < SMALLEST_AREA_MM2:
            return f"its area is {self.area:.3f} mm2, less than can be cut"
        return None

    def placed(self, placement: Placement) -> "Outline":
        """The outline mirrored, turned and moved, circles with it."""
        circles = (Circle(*placement.point(c.x, c.y), c.radius) for c in self.circles)
        rings = [[placement.point(x, y) for x, y in ring] for ring in self.rings()]
        return Outline(Polygon(rings[0], rings[1:]), tuple(circles))

    def mirrored(self) -> "Outline":
        """The outline seen from the back: y -> -y."""
        return self.placed(Placement(flipped=True))

    def plus(self, *others: "Outline") -> tuple["Outline", ...]:
        """The outlines that all together cover; several when they do not hang together."""
        return self._pieces(shapely.union_all([self.polygon, *(o.polygon for o in others)]), others)

    def minus(self, *others: "Outline") -> tuple["Outline", ...]:
        """What is left when the others are taken away: none, one or several outlines."""
        taken = shapely.union_all([other.polygon for other in others])
        return self._pieces(self.polygon.difference(taken), others)

    def within(self, region: Polygon) -> tuple["Outline", ...]:
        """The pieces that lie in a region of straight edges (a section of a joined part)."""
        return self._pieces(self.polygon.intersection(region), ())

    def _pieces(self, geometry: BaseGeometry, others: Iterable["Outline"]) -> tuple["Outline", ...]:
        circles = (*self.circles, *(c for other in others for c in other.circles))
        polygons = sorted(_polygons(geometry), key=lambda p: tuple(p.bounds))
        pieces = (Outline(polygon, circles) for polygon in polygons)
        return tuple(Outline(piece.polygon, piece._used_circles()) for piece in pieces)

    def _used_circles(self) -> tuple[Circle, ...]:
        """The circles of which two chords in a row are left; fewer make no arc."""
        used: set[int] = set()
        for ring in self.rings() if self.circles else ():
            owners = _owners(ring, self.circles)
            used.update(owners[(owners >= 0) & (owners == np.roll(owners, 1))].tolist())
        return tuple(circle for i, circle in enumerate(self.circles) if i in used)

    def lines(self) -> tuple[tuple[Segment, ...], ...]:
        """For each ring, outer first, its straight lines and arcs in order, closed."""
        return tuple(_segments(ring, self.circles) for ring in self.rings())


def _polygons(geometry: BaseGeometry) -> Iterator[Polygon]:
    """The polygons of a result, without dust: bits thinner than the rounding of their corners."""
    for part in shapely.get_parts(geometry):
        if isinstance(part, Polygon) and part.area > part.length * DUST_MM:
            yield part


def _in_one_form(polygon: Polygon) -> Polygon:
    if polygon.is_empty:
        return Polygon()
    outer = _ring(polygon.exterior.coords, clockwise=False)
    holes = sorted(filter(None, (_ring(ring.coords, clockwise=True) for ring in polygon.interiors)))
    return Polygon(outer, holes) if outer else Polygon()


def _ring(coords: Iterable[Sequence[float]], *, clockwise: bool) -> list[Point]:
    """A closed ring to the nanometre without repeated points, turned and started as the class says."""
    points: list[Point] = []
    for x, y, *_ in coords:
        point = rounded(x), rounded(y)
        if not points or point != points[-1]:
            points.append(point)
    if len(points) > 1 and points[0] == points[-1]:
        points.pop()
    if len(points) < 3:
        return []
    if (_doubled_area(points) < 0) != clockwise:
        points.reverse()
    first = points.index(min(points))
    ring = points[first:] + points[:first]
    return [*ring, ring[0]]


def _doubled_area(points: Sequence[Point]) -> float:
    """Twice the signed area of an open ring, measured from its first point to keep digits."""
    x0, y0 = points[0]
    return math.fsum(
        (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
        for (x1, y1), (x2, y2) in pairwise(points)
    )


def _fault_words(reason: str) -> str:
    words = {
        "Self-intersection": "it crosses itself",
        "Ring Self-intersection": "it touches itself",
        "Too few points": "it has too few points",
        "Hole lies outside shell": "a hole lies outside it",
        "Interior is disconnected": "it hangs together only by a point",
        "Nested holes": "a hole lies within a hole",
        "Duplicate Rings": "the same hole is there twice",
    }
    name, _, place = reason.partition("[")
    at = place.rstrip("]").split()
    where = f" at {float(at[0]):.3f}, {float(at[1]):.3f} mm" if len(at) == 2 else ""
    return words.get(name.strip(), name.strip().lower()) + where


def _segments(ring: Sequence[Point], circles: Sequence[Circle]) -> tuple[Segment, ...]:
    """The ring's edges, runs of chords of one circle put together as arcs."""
    edges = list(pairwise(ring))
    if not circles:
        return tuple(Segment(a, b) for a, b in edges)
    owners = _owners(ring, circles).tolist()
    first = next((i for i in range(len(edges)) if owners[i] < 0 or owners[i] != owners[i - 1]), 0)
    edges, owners = edges[first:] + edges[:first], owners[first:] + owners[:first]
    segments: list[Segment] = []
    run: list[tuple[Point, Point]] = []
    for i, edge in enumerate(edges):
        run.append(edge)
        if owners[i] < 0 or i + 1 == len(edges) or owners[i + 1] != owners[i]:
            segments.extend(arcs(run, circles[owners[i]]) if owners[i] >= 0 else [Segment(*edge)])
            run = []
    return tuple(segments)


def _owners(ring: Sequence[Point], circles: Sequence[Circle]) -> np.ndarray:
    """For each edge the index of the circle that it is a chord of, the closest if several; -1 for none.

    A vertex that an operation made on a chord lies up to its sagitta inside the circle; none lies
    outside, so that a line tangent to the circle is not taken for a part of it.
    """
    xy = np.asarray(ring, dtype=float)
    x, y = xy[:, 0], xy[:, 1]
    half = np.hypot(np.diff(x), np.diff(y)) / 2
    owners = np.full(len(half), -1)
    closest = np.full(len(half), np.inf)
    for index, circle in enumerate(circles):
        out = np.hypot(x - circle.x, y - circle.y) - circle.radius
        on = (out <= OUTSIDE_CIRCLE_MM) & (out >= -ON_CIRCLE_MM)
        if not on.any():
            continue
        root = np.sqrt(np.maximum(circle.radius**2 - half**2, 0.0))
        sagitta = half**2 / (circle.radius + root)
        off = np.maximum(np.abs(out[:-1]), np.abs(out[1:]))
        ours = on[:-1] & on[1:] & (half <= circle.radius + ON_CIRCLE_MM) & (sagitta <= ON_CIRCLE_MM)
        ours &= off < closest
        owners[ours] = index
        closest[ours] = off[ours]
    return owners


def arcs(run: Sequence[tuple[Point, Point]], circle: Circle) -> list[Segment]:
    """A run of chords of a circle as arcs; a single chord stays a line, it may as well be drawn so.

    No arc is over a quarter turn: ends and bulge of half a turn leave the centre to rounding, and some
    readers of DXF lose an arc of just half a turn.
    """
    if len(run) == 1:
        return [Segment(*run[0])]
    found: list[Segment] = []
    start, swept = run[0][0], 0.0
    for a, b in run:
        step = _angle(circle, a, b)
        if abs(swept + step) > _WIDEST_ARC_RAD:
            found.append(Segment(start, a, math.tan(swept / 4)))
            start, swept = a, 0.0
        swept += step
    found.append(Segment(start, run[-1][1], math.tan(swept / 4)))
    return found


def _angle(circle: Circle, a: Point, b: Point) -> float:
    ax, ay, bx, by = a[0] - circle.x, a[1] - circle.y, b[0] - circle.x, b[1] - circle.y
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)
