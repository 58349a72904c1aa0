"""Rounded corners: the arc of a radius that touches the edge that arrives and the edge that leaves.

Between two lines the arc takes r tan(turn / 2) of each edge (turn: how far the outline turns there).
Between a line and an arc, or two arcs, its centre is where both edges, moved inwards by r, meet.
"""

import math
from dataclasses import dataclass

from foamcut.flat.edges import Arc, Line
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import ROUNDING_MM

Straight = tuple[Point, Point]  # a point on it and its unit direction
Round = tuple[Point, float]  # centre and radius

#: directions whose cross product is smaller make no corner: 1 mm in ten kilometres
_NO_TURN = 1e-7
#: halvings that find the largest radius to far below what is shown
_HALVINGS = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Fillet:
    """A rounded corner: its arc, and how much of the arriving and the leaving edge it takes, mm."""

    arc: Arc
    off_arriving: float
    off_leaving: float


def turn_at(arriving: Line | Arc, leaving: Line | Arc) -> float:
    """Cross product of the directions at a corner: positive for a left turn, 0 for none (or a spike)."""
    ax, ay = arriving.direction(arriving.length)
    bx, by = leaving.direction(0.0)
    cross = ax * by - ay * bx
    return cross if abs(cross) > _NO_TURN else 0.0


def fillet(arriving: Line | Arc, leaving: Line | Arc, radius: float) -> Fillet | None:
    """The arc of a radius that rounds the corner between two edges; None when it does not fit."""
    turn = turn_at(arriving, leaving)
    if not turn:
        return None
    side = 1 if turn > 0 else -1
    first, second = moved(arriving, side * radius), moved(leaving, side * radius)
    found = (_touching(arriving, leaving, centre, radius, side) for centre in meetings(first, second))
    fitting = [f for f in found if f is not None]
    return min(fitting, key=lambda f: f.off_arriving + f.off_leaving, default=None)


def largest_radius(
    arriving: Line | Arc, leaving: Line | Arc, radius: float, *, room: tuple[float, float]
) -> float:
    """The largest radius up to `radius` that takes at most `room` of either edge, to 0.01 mm below."""

    def fits(r: float) -> bool:
        f = fillet(arriving, leaving, r)
        return f is not None and f.off_arriving <= room[0] and f.off_leaving <= room[1]

    low, high = 0.0, radius
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return math.floor(low * 100 + ROUNDING_MM) / 100


def moved(edge: Line | Arc, left: float) -> Straight | Round | None:
    """The line or circle an edge lies on, moved to its left; None when the circle shrinks to nothing."""
    if isinstance(edge, Line):
        dx, dy = edge.direction(0.0)
        return (edge.start[0] - left * dy, edge.start[1] + left * dx), (dx, dy)
    radius = edge.radius - edge.sense * left
    return (edge.centre, radius) if radius > 0 else None


def meetings(first: Straight | Round | None, second: Straight | Round | None) -> tuple[Point, ...]:
    """Where two endless lines or full circles meet: at most two points, none when one of them is None."""
    if first is None or second is None:
        return ()
    if isinstance(first[1], tuple):
        if isinstance(second[1], tuple):
            return _line_line(first[0], first[1], second[0], second[1])
        return _line_circle(first[0], first[1], second[0], second[1])
    if isinstance(second[1], tuple):
        return _line_circle(second[0], second[1], first[0], first[1])
    return _circle_circle(first[0], first[1], second[0], second[1])


def _line_line(p: Point, d: Point, q: Point, e: Point) -> tuple[Point, ...]:
    cross = d[0] * e[1] - d[1] * e[0]
    if not cross:
        return ()
    along = ((q[0] - p[0]) * e[1] - (q[1] - p[1]) * e[0]) / cross
    return ((p[0] + along * d[0], p[1] + along * d[1]),)


def _line_circle(p: Point, d: Point, centre: Point, radius: float) -> tuple[Point, ...]:
    along = (centre[0] - p[0]) * d[0] + (centre[1] - p[1]) * d[1]
    foot = p[0] + along * d[0], p[1] + along * d[1]
    apart = math.dist(foot, centre)
    if apart > radius:
        return ()
    half = math.sqrt((radius - apart) * (radius + apart))
    return tuple((foot[0] + s * half * d[0], foot[1] + s * half * d[1]) for s in (1, -1))


def _circle_circle(a: Point, ra: float, b: Point, rb: float) -> tuple[Point, ...]:
    apart = math.dist(a, b)
    if not apart or apart > ra + rb or apart < abs(ra - rb):
        return ()
    along = (apart + (ra - rb) * (ra + rb) / apart) / 2
    half = math.sqrt(max((ra - along) * (ra + along), 0.0))
    dx, dy = (b[0] - a[0]) / apart, (b[1] - a[1]) / apart
    return tuple((a[0] + along * dx - s * half * dy, a[1] + along * dy + s * half * dx) for s in (1, -1))


def _touching(
    arriving: Line | Arc, leaving: Line | Arc, centre: Point, radius: float, side: int
) -> Fillet | None:
    """The fillet with a centre, if it touches both edges between their ends."""
    on_arriving, start = arriving.foot(centre)
    on_leaving, end = leaving.foot(centre)
    off_arriving, off_leaving = arriving.length - on_arriving, on_leaving
    if not (
        0 < off_arriving <= arriving.length + ROUNDING_MM and 0 < off_leaving <= leaving.length + ROUNDING_MM
    ):
        return None
    ax, ay = start[0] - centre[0], start[1] - centre[1]
    bx, by = end[0] - centre[0], end[1] - centre[1]
    swept = side * math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    swept = side * (swept if swept > 0 else swept + 2 * math.pi)
    arc = Arc(centre, radius, start, end, swept)
    return Fillet(arc=arc, off_arriving=off_arriving, off_leaving=off_leaving)
