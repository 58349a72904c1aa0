"""Bevelled edges moved into the part, and from where to where: mitred with the bevels beside them.

A place on a moved edge is its distance along the edge from square to where the edge starts.  At a corner
with an edge that is not bevelled, the line runs on to that edge where the corner is convex; at a reflex
corner, or where the outline hardly turns, it ends square.  mm.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from foamcut.errors import Refusal
from foamcut.flat.clipping import Run
from foamcut.flat.corners import Round, Straight, meetings, moved
from foamcut.flat.edges import Arc, Curve, Line
from foamcut.flat.outline import Point, Segment
from foamcut.flat.tolerances import ROUNDING_MM, SAME_POINT_MM
from foamcut.flat.trace import TracedEdge, length_text, place_text

#: a corner that turns less than this is hardly one: what is not mitred ends square there
_LEAST_TURN_DEG = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """One bevelled edge of a face and the endless line or full circle that its bevel lies on."""

    index: int
    key: str
    edge: Line | Arc
    angle_deg: float
    width_mm: float
    on: Straight | Round

    def square(self, along: float) -> Point:
        """The place of the moved edge that is square to a place of the edge."""
        return _at(self.on, self.edge, along)

    def place_of(self, point: Point) -> float:
        """The place along the edge that a point of the moved edge is square to; it may lie past the ends."""
        along, _ = self.edge.foot(point)
        if isinstance(self.edge, Line):
            return along
        once = 2 * math.pi * self.edge.radius
        # the circle is closed: past the end goes on to half way round the rest, from there before the start
        return along if along <= (once + self.edge.length) / 2 else along - once


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """A moved edge from place to place; it may go on past the ends of its edge."""

    moved: Moved
    start: float
    end: float

    @property
    def core(self) -> tuple[float, float]:
        """From where to where it lies square to its edge."""
        return max(self.start, 0.0), min(self.end, self.moved.edge.length)

    def run(self, start: float, end: float) -> Run:
        """The stretch from place to place, arcs of a quarter turn at most."""
        edge = self.moved.edge
        if isinstance(edge, Line):
            return (Segment(self.moved.square(start), self.moved.square(end)),)
        swept = (end - start) / edge.radius
        count = max(1, math.ceil(swept / (math.pi / 2) - ROUNDING_MM))
        places = [start + (end - start) * i / count for i in range(count + 1)]
        bulge = edge.sense * math.tan(swept / count / 4)
        points = [self.moved.square(place) for place in places]
        return tuple(Segment(a, b, bulge) for a, b in pairwise(points))


def courses_of(
    edges: Sequence[TracedEdge], thickness_mm: float, side: int, *, back: bool
) -> tuple[list[Course], list[Refusal]]:
    """The bevelled edges of one face, each moved and cut off where it meets its neighbours.

    `side` is 1 when the part lies on the left of its edges, -1 when on the right; no course when any is
    refused.
    """
    placed, gone, refusals = _moved_edges(edges, thickness_mm, side, back=back)
    if refusals:
        return [], refusals
    courses: list[Course] = []
    count = len(edges)
    for i, here in placed.items():
        before = (i - 1) % count if (i - 1) % count not in gone else (i - 2) % count
        after = (i + 1) % count if (i + 1) % count not in gone else (i + 2) % count
        if before in placed:
            start = _mitre(placed[before], here)[1]
        else:
            start = _run_out(here, edges, side, at_start=True)
        if after in placed:
            end = _mitre(here, placed[after])[0]
        else:
            end = _run_out(here, edges, side, at_start=False)
        courses.append(Course(moved=here, start=start, end=end))
    refusals = [refusal for course in courses for refusal in _nothing_left(course)]
    return ([] if refusals else courses), refusals


def _moved_edges(
    edges: Sequence[TracedEdge], thickness_mm: float, side: int, *, back: bool
) -> tuple[dict[int, Moved], set[int], list[Refusal]]:
    """The bevelled edges of one face, moved, by index; the roundings that shrink to nothing; refusals."""
    placed: dict[int, Moved] = {}
    gone: set[int] = set()
    refusals: list[Refusal] = []
    for i, one in enumerate(edges):
        angle = one.bevel_back_deg if back else one.bevel_deg
        if angle is None or isinstance(one.edge, Curve):
            continue
        width = thickness_mm * math.tan(math.radians(angle))
        on = moved(one.edge, side * width)
        if on is not None and not (isinstance(on[1], float) and on[1] <= SAME_POINT_MM):
            placed[i] = Moved(index=i, key=one.key, edge=one.edge, angle_deg=angle, width_mm=width, on=on)
        elif one.rounding:
            gone.add(i)  # the lines of the edges beside it meet in a corner
        else:
            text = (
                f"the bevel takes {length_text(width)}, and the arc's radius is"
                f" {length_text(getattr(one.edge, 'radius', 0.0))}: nothing is left for its line; make the"
                " angle smaller"
            )
            refusals.append(Refusal(key=one.key, text=text))
    return placed, gone, refusals


def _nothing_left(course: Course) -> list[Refusal]:
    """A line that the edges beside it use up."""
    low, high = course.core
    if min(high - low, course.end - course.start) > SAME_POINT_MM:
        return []
    at = course.moved.square(course.moved.edge.length / 2)
    text = (
        f"the bevel takes {length_text(course.moved.width_mm)}, and the edges beside it leave nothing of its"
        f" line near {place_text(at)}; make the angle smaller, or the edge longer"
    )
    return [Refusal(key=course.moved.key, text=text)]


def _mitre(arriving: Moved, leaving: Moved) -> tuple[float, float]:
    """The places at which two moved edges meet, on the one and on the other."""
    first, second = arriving.square(arriving.edge.length), leaving.square(0.0)
    if math.dist(first, second) <= SAME_POINT_MM:
        return arriving.edge.length, 0.0
    turn = _turn_deg(arriving.edge, leaving.edge)
    found = meetings(arriving.on, leaving.on)
    if not found or (abs(turn) < _LEAST_TURN_DEG and arriving.width_mm != leaving.width_mm):
        return arriving.edge.length, 0.0
    at = min(found, key=lambda point: math.dist(point, first) + math.dist(point, second))
    return arriving.place_of(at), leaving.place_of(at)


def _run_out(here: Moved, edges: Sequence[TracedEdge], side: int, *, at_start: bool) -> float:
    """The place at which a moved edge ends beside an edge that is not bevelled."""
    step = -1 if at_start else 1
    square = 0.0 if at_start else here.edge.length
    corner = here.edge.start if at_start else here.edge.end
    one = edges[(here.index + step) % len(edges)]
    if one.rounding and isinstance(one.edge, Arc) and one.edge.sense == side:
        found = [here.place_of(at) for at in meetings(here.on, moved(one.edge, 0.0)) if _is_on(at, one.edge)]
        if found:
            return min(found) if at_start else max(found)
        one = edges[(here.index + 2 * step) % len(edges)]
    beside = one.edge
    turn = _turn_deg(beside, here.edge) if at_start else _turn_deg(here.edge, beside)
    if turn * side < _LEAST_TURN_DEG:
        return square
    on = (corner, _direction(beside, at_end=at_start)) if isinstance(beside, Curve) else moved(beside, 0.0)
    met = meetings(here.on, on)
    return here.place_of(min(met, key=lambda point: math.dist(point, corner))) if met else square


def _is_on(point: Point, arc: Arc) -> bool:
    return arc.foot(point)[0] <= arc.length


def _direction(edge: Line | Arc | Curve, *, at_end: bool) -> Point:
    if not isinstance(edge, Curve):
        return edge.direction(edge.length if at_end else 0.0)
    points = (edge.start, *edge.points())
    a, b = points[-2:] if at_end else points[:2]
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _turn_deg(arriving: Line | Arc | Curve, leaving: Line | Arc | Curve) -> float:
    """How far the line turns at a corner, degrees, positive to the left."""
    (ax, ay), (bx, by) = _direction(arriving, at_end=True), _direction(leaving, at_end=False)
    return math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))


def _at(on: Straight | Round, edge: Line | Arc, along: float) -> Point:
    """The point of a moved line or circle square to a place of its edge."""
    if isinstance(edge, Line):
        (x, y), (dx, dy) = on[0], edge.direction(0.0)
        return x + along * dx, y + along * dy
    radius = on[1] if isinstance(on[1], float) else edge.radius
    cx, cy = edge.centre
    start = math.atan2(edge.start[1] - cy, edge.start[0] - cx)
    angle = start + edge.sense * along / edge.radius
    return cx + radius * math.cos(angle), cy + radius * math.sin(angle)
