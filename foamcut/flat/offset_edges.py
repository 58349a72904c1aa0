"""Edges of a ring as they are moved: straight lines, and whole arcs with the circle they lie on.

mm.  Material lies to the left, so outwards is to the right of an edge's direction.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from foamcut.flat.outline import Circle, Outline, Point, Segment, chord_count
from foamcut.flat.tolerances import CHORD_MM, ON_CIRCLE_MM, ROUNDING_MM

#: chords a little flatter than new ones are left as they are
_SAG_MM = 1.05 * CHORD_MM


class Apart(Exception):
    """Moved edges do not meet where the edges met: the other way of moving is taken."""


@dataclass(frozen=True, slots=True)
class Edge:
    """A line through two points, or an arc through all of them on `circle`.

    `turn` is 1 for an arc that turns counter-clockwise, -1 for one that turns clockwise.
    """

    points: tuple[Point, ...]
    circle: Circle | None = None
    turn: int = 0

    @property
    def start(self) -> Point:
        """Where it begins."""
        return self.points[0]

    @property
    def end(self) -> Point:
        """Where it ends."""
        return self.points[-1]

    def normal(self, at: Point) -> Point:
        """The unit direction outwards at one of its points."""
        if self.circle is None:
            (x0, y0), (x1, y1) = self.start, self.end
            length = math.dist(self.start, self.end)
            return (y1 - y0) / length, (x0 - x1) / length
        dx, dy = at[0] - self.circle.x, at[1] - self.circle.y
        far = math.hypot(dx, dy)
        if far <= ROUNDING_MM:
            raise Apart
        return self.turn * dx / far, self.turn * dy / far

    def moved_point(self, at: Point, out_mm: float) -> Point:
        """Where one of its points comes to lie: straight outwards."""
        nx, ny = self.normal(at)
        if self.circle is None:
            return at[0] + out_mm * nx, at[1] + out_mm * ny
        radius = self.turn * (self.radius_at(at) + self.turn * out_mm)
        return self.circle.x + radius * nx, self.circle.y + radius * ny

    def radius_at(self, at: Point) -> float:
        """How far a point lies from the centre: the radius, but for a vertex that was made on a chord."""
        assert self.circle is not None
        far = math.dist(at, self.circle[:2])
        return self.circle.radius if abs(far - self.circle.radius) <= 2 * ROUNDING_MM else far

    def moved_radius(self, out_mm: float) -> float:
        """Radius of the moved circle; 0 or less when the arc is gone."""
        assert self.circle is not None
        return self.circle.radius + self.turn * out_mm

    def angle(self, a: Point, b: Point) -> float:
        """Angle at the centre from one point to another along the edge's turn, in (-pi, pi]."""
        assert self.circle is not None
        cx, cy, _ = self.circle
        ax, ay, bx, by = a[0] - cx, a[1] - cy, b[0] - cx, b[1] - cy
        return math.atan2(self.turn * (ax * by - ay * bx), ax * bx + ay * by)

    def ahead(self, a: Point, b: Point) -> float:
        """Above 0 where, from one point of the moved line or circle, the other lies in its direction."""
        if self.circle is not None:
            return self.angle(a, b)
        nx, ny = self.normal(self.start)
        return (b[1] - a[1]) * nx - (b[0] - a[0]) * ny

    def steps(self) -> list[float]:
        """Angle of each point from the first, along the turn, rising."""
        turned = [0.0]
        for a, b in pairwise(self.points):
            turned.append(turned[-1] + self.angle(a, b))
        return turned

    def on_circle(self, radius: float, turned: float) -> Point:
        """The point at an angle from the first point, along the turn, on a concentric circle."""
        assert self.circle is not None
        x, y = self.start[0] - self.circle.x, self.start[1] - self.circle.y
        at = math.atan2(y, x) + self.turn * turned
        return self.circle.x + radius * math.cos(at), self.circle.y + radius * math.sin(at)

    def closes(self) -> bool:
        """Whether it is a full circle."""
        return self.circle is not None and self.start == self.end


def finer(turned: Sequence[float], radius: float, least: int = 1) -> list[float]:
    """Angles along an arc, more of them where a chord would lie too far off; so many chords at least."""
    fine = [turned[0]]
    for a, b in pairwise(turned):
        sag = radius * (1 - math.cos(min(b - a, math.pi) / 2))
        count = chord_count(radius, b - a) if sag > _SAG_MM else 1
        count = max(count, least) if len(turned) == 2 else count
        fine += [a + (b - a) * i / count for i in range(1, count)] + [b]
    return fine


def edges(outline: Outline) -> Iterator[list[Edge]]:
    """For each ring, outer first, its edges in order; the arcs of one circle in a row are one edge."""
    for ring, segments in zip(outline.rings(), outline.lines(), strict=True):
        yield _joined(list(_walked(ring[:-1], segments, outline.circles)))


def _walked(ring: Sequence[Point], segments: Sequence[Segment], circles: Sequence[Circle]) -> Iterator[Edge]:
    """The segments with the ring's vertices along them."""
    at = ring.index(segments[0].start)
    for segment in segments:
        points = [ring[at]]
        while points[-1] != segment.end or len(points) == 1:
            at = (at + 1) % len(ring)
            points.append(ring[at])
        if segment.bulge:
            yield Edge(tuple(points), _circle_of(segment, points, circles), 1 if segment.bulge > 0 else -1)
        else:
            yield Edge(tuple(points))


def _circle_of(segment: Segment, points: Sequence[Point], circles: Sequence[Circle]) -> Circle:
    """The circle that the points lie on: of several the closest."""
    centre, first = segment.centre, points[0]
    near = [c for c in circles if abs(math.dist(first, c[:2]) - c.radius) <= 2 * ON_CIRCLE_MM]

    def off(circle: Circle) -> tuple[float, float]:
        worst = max(abs(math.dist(point, circle[:2]) - circle.radius) for point in points)
        return round(worst, 6), math.dist(centre, circle[:2])

    return min(near, key=off)


def _joined(found: list[Edge]) -> list[Edge]:
    """Arcs that go on along one circle as one edge, also over the ring's first vertex."""
    joined: list[Edge] = []
    for edge in found:
        if joined and _goes_on(joined[-1], edge):
            joined[-1] = Edge((*joined[-1].points, *edge.points[1:]), edge.circle, edge.turn)
        else:
            joined.append(edge)
    if len(joined) > 1 and _goes_on(joined[-1], joined[0]):
        last = joined.pop()
        joined[0] = Edge((*last.points, *joined[0].points[1:]), last.circle, last.turn)
    return joined


def _goes_on(a: Edge, b: Edge) -> bool:
    return a.circle is not None and a.circle == b.circle and a.turn == b.turn
