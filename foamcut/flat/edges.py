"""Edges of an outline before they are cut into chords: straight, arc or smooth.

mm; a place on an edge is its distance along it from the start.  Corners are rounded between edges,
then each becomes points.
"""

import math
from dataclasses import dataclass, field, replace

from foamcut.flat.outline import Circle, Point, chord_count
from foamcut.flat.spline import Span
from foamcut.flat.tolerances import CHORD_MM, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Line:
    """A straight edge."""

    start: Point
    end: Point
    length: float = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "length", math.dist(self.start, self.end))

    @property
    def circles(self) -> tuple[Circle, ...]:
        """None."""
        return ()

    def direction(self, along: float) -> Point:
        """Unit vector forwards; the same everywhere."""
        del along
        return (self.end[0] - self.start[0]) / self.length, (self.end[1] - self.start[1]) / self.length

    def foot(self, point: Point) -> tuple[float, Point]:
        """The place nearest to a point on the line, which goes on past its ends, and that place's point."""
        dx, dy = self.direction(0)
        along = (point[0] - self.start[0]) * dx + (point[1] - self.start[1]) * dy
        return along, (self.start[0] + along * dx, self.start[1] + along * dy)

    def between(self, start: tuple[float, Point], end: tuple[float, Point]) -> "Line | None":
        """The edge from one place to another; None when nothing is left."""
        return Line(start[1], end[1]) if start[1] != end[1] else None

    def count(self) -> int:
        """How many chords it takes."""
        return 1

    def points(self) -> tuple[Point, ...]:
        """Points without the start."""
        return (self.end,)


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc of less than a full turn; `swept_rad` is positive counter-clockwise."""

    centre: Point
    radius: float
    start: Point
    end: Point
    swept_rad: float

    @property
    def length(self) -> float:
        """Length along the arc."""
        return self.radius * abs(self.swept_rad)

    @property
    def circles(self) -> tuple[Circle, ...]:
        """The circle it lies on."""
        return (Circle(*self.centre, self.radius),)

    @property
    def sense(self) -> int:
        """1 counter-clockwise, -1 clockwise."""
        return 1 if self.swept_rad > 0 else -1

    def _angle(self, point: Point) -> float:
        return math.atan2(point[1] - self.centre[1], point[0] - self.centre[0])

    def direction(self, along: float) -> Point:
        """Unit vector forwards at a place."""
        angle = self._angle(self.start) + self.sense * along / self.radius
        return -self.sense * math.sin(angle), self.sense * math.cos(angle)

    def foot(self, point: Point) -> tuple[float, Point]:
        """The place nearest to a point on the circle, from 0 to once round, and that place's point."""
        angle = self._angle(point)
        turned = self.sense * (angle - self._angle(self.start)) % (2 * math.pi)
        if 2 * math.pi - turned < SAME_POINT_MM / max(self.radius, 1.0):
            turned = 0.0
        x, y = self.centre
        return self.radius * turned, (x + self.radius * math.cos(angle), y + self.radius * math.sin(angle))

    def between(self, start: tuple[float, Point], end: tuple[float, Point]) -> "Arc | None":
        """The edge from one place to another; None when nothing is left."""
        swept = (end[0] - start[0]) / self.radius * self.sense
        if not swept or start[1] == end[1]:
            return None
        return replace(self, start=start[1], end=end[1], swept_rad=swept)

    def count(self) -> int:
        """How many chords it takes."""
        return chord_count(self.radius, self.swept_rad, CHORD_MM)

    def points(self) -> tuple[Point, ...]:
        """Points without the start, all on the circle."""
        first, count = self._angle(self.start), self.count()
        angles = (first + self.swept_rad * i / count for i in range(1, count))
        x, y = self.centre
        return (*((x + self.radius * math.cos(a), y + self.radius * math.sin(a)) for a in angles), self.end)


@dataclass(frozen=True, slots=True)
class Curve:
    """A smooth edge: one span of a spline."""

    span: Span

    @property
    def start(self) -> Point:
        """Where it starts."""
        return self.span.start

    @property
    def end(self) -> Point:
        """Where it ends."""
        return self.span.end

    @property
    def circles(self) -> tuple[Circle, ...]:
        """None: its chords stay lines."""
        return ()

    def count(self) -> int:
        """How many chords it takes."""
        return self.span.chord_count()

    def points(self) -> tuple[Point, ...]:
        """Points without the start."""
        return self.span.points()


Edge = Line | Arc | Curve


def arc_through(start: Point, middle: Point, end: Point) -> Arc | None:
    """The arc from start to end through a point between; None when there is none.

    There is none when two of the points are the same or `middle` is within a chord's tolerance of the
    line through the ends.  Centre: the circumscribed circle of the triangle, measured from `start`.
    """
    bx, by = end[0] - start[0], end[1] - start[1]
    cx, cy = middle[0] - start[0], middle[1] - start[1]
    chord = math.hypot(bx, by)
    near = min(chord, math.hypot(cx, cy), math.dist(middle, end))
    cross = bx * cy - by * cx
    if near <= SAME_POINT_MM or abs(cross) <= CHORD_MM * chord:
        return None
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    ux, uy = (cy * b2 - by * c2) / (2 * cross), (bx * c2 - cx * b2) / (2 * cross)
    centre = start[0] + ux, start[1] + uy
    first = math.atan2(-uy, -ux)
    last = math.atan2(by - uy, bx - ux)
    swept = (last - first) % (2 * math.pi)
    if cross > 0:  # the middle point lies left of start -> end, so the arc runs clockwise
        swept -= 2 * math.pi
    return Arc(centre, math.hypot(ux, uy), start, end, swept)
