"""The line of each bevelled edge: the edge moved into the part, mitred with the bevels beside it.

A place on a moved edge is its distance along the edge from square to where the edge starts.  At a corner
with an edge that is not bevelled, the line runs on to that edge where the corner is convex; at a reflex
corner, or where the outline hardly turns, it ends square.  mm.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely import LineString, Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from foamcut.errors import Refusal
from foamcut.flat.bevels import Bevel
from foamcut.flat.clipping import Run, clipped, run_points
from foamcut.flat.corners import Round, Straight, meetings, moved
from foamcut.flat.edges import Arc, Curve, Line
from foamcut.flat.outline import Point, Segment
from foamcut.flat.placement import rounded
from foamcut.flat.tolerances import ON_EDGE_MM, ROUNDING_MM, SAME_POINT_MM
from foamcut.flat.trace import TracedEdge, length_text, place_text

#: a corner that turns less than this is hardly one: what is not mitred ends square there
_LEAST_TURN_DEG = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Moved:
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
class _Course:
    """A moved edge from place to place; `core` is what of it lies square to the edge."""

    moved: _Moved
    start: float
    end: float

    @property
    def core(self) -> tuple[float, float]:
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


def bevels_of(
    edges: Sequence[TracedEdge], thickness_mm: float, body: Polygon
) -> tuple[tuple[Bevel, ...], list[Refusal]]:
    """The bevels of an outline drawn by its edges, and what was refused.

    `body` is the outline without its cuts.  Source of the width: t tan(angle), a right triangle.
    """
    bevels: list[Bevel] = []
    refusals: list[Refusal] = []
    side = 1 if _turns_left(edges) else -1
    for back in (False, True):
        courses, refused = _courses(edges, thickness_mm, side, back=back)
        refusals += refused
        if not courses:
            continue
        found = [_bevel(course, body, back=back) for course in courses]
        made = [one for one in found if isinstance(one, Bevel)]
        refusals += [one for one in found if isinstance(one, Refusal)]
        if len(made) == len(found):
            refusals += _bands_meet(courses)
        bevels += made
    return tuple(bevels), refusals


def _turns_left(edges: Sequence[TracedEdge]) -> bool:
    """Whether the line goes round counter-clockwise, so that the part lies on its left."""
    points = [point for one in edges for point in one.edge.points()]
    x0, y0 = points[0]
    following = [*points[1:], points[0]]
    doubled_area = math.fsum(
        (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
        for (x1, y1), (x2, y2) in zip(points, following, strict=True)
    )
    return doubled_area > 0


def _angle(one: TracedEdge, *, back: bool) -> float | None:
    return one.bevel_back_deg if back else one.bevel_deg


def _courses(
    edges: Sequence[TracedEdge], thickness_mm: float, side: int, *, back: bool
) -> tuple[list[_Course], list[Refusal]]:
    """The bevelled edges of one face, each moved and cut off where it meets its neighbours."""
    refusals: list[Refusal] = []
    placed: dict[int, _Moved] = {}
    gone: set[int] = set()
    for i, one in enumerate(edges):
        angle = _angle(one, back=back)
        if angle is None or isinstance(one.edge, Curve):
            continue
        width = thickness_mm * math.tan(math.radians(angle))
        on = moved(one.edge, side * width)
        if on is not None and not (isinstance(on[1], float) and on[1] <= SAME_POINT_MM):
            placed[i] = _Moved(
                index=i, key=one.key, edge=one.edge, angle_deg=angle, width_mm=width, on=on
            )
        elif one.rounding:
            gone.add(i)  # the lines of the edges beside it meet in a corner
        else:
            text = (
                f"the bevel takes {length_text(width)}, and the arc's radius is"
                f" {length_text(getattr(one.edge, 'radius', 0.0))}: nothing is left for its line; make the"
                " angle smaller"
            )
            refusals.append(Refusal(key=one.key, text=text))
    if refusals:
        return [], refusals
    starts: dict[int, float] = {}
    ends: dict[int, float] = {}
    count = len(edges)
    for i, here in placed.items():
        before = (i - 1) % count if (i - 1) % count not in gone else (i - 2) % count
        after = (i + 1) % count if (i + 1) % count not in gone else (i + 2) % count
        if before in placed:
            starts[i] = _mitre(placed[before], here)[1]
        else:
            starts[i] = _run_out(here, edges, side, at_start=True)
        if after in placed:
            ends[i] = _mitre(here, placed[after])[0]
        else:
            ends[i] = _run_out(here, edges, side, at_start=False)
    courses = [_Course(moved=here, start=starts[i], end=ends[i]) for i, here in placed.items()]
    for course in courses:
        low, high = course.core
        if high - low <= SAME_POINT_MM or course.end - course.start <= SAME_POINT_MM:
            at = course.moved.square(course.moved.edge.length / 2)
            text = (
                f"the bevel takes {length_text(course.moved.width_mm)}, and the edges beside it leave nothing"
                f" of its line near {place_text(at)}; make the angle smaller, or the edge longer"
            )
            refusals.append(Refusal(key=course.moved.key, text=text))
    return ([] if refusals else courses), list(dict.fromkeys(refusals))


def _mitre(arriving: _Moved, leaving: _Moved) -> tuple[float, float]:
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


def _run_out(here: _Moved, edges: Sequence[TracedEdge], side: int, *, at_start: bool) -> float:
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


def _bevel(course: _Course, body: Polygon, *, back: bool) -> Bevel | Refusal:
    """A bevel with its line inside the body; a refusal when the body is narrower than the bevel."""
    here = course.moved
    core = LineString(run_points(course.run(*course.core)))
    # what runs along another edge is as good as outside: nothing of that face is left
    outside = core.difference(body.buffer(-SAME_POINT_MM, join_style="mitre"))
    if outside.length > ON_EDGE_MM:
        at = _longest(outside).interpolate(0.5, normalized=True)
        text = (
            f"the bevel takes {length_text(here.width_mm)}, more than the part has at"
            f" {place_text((at.x, at.y))}; make the angle smaller, or the part wider there"
        )
        return Refusal(key=here.key, text=text)
    runs = clipped([course.run(course.start, course.end)], body)
    runs = tuple(run for run in runs if LineString(run_points(run)).distance(core) <= SAME_POINT_MM)
    return Bevel(
        key=here.key,
        angle_deg=here.angle_deg,
        back=back,
        width_mm=here.width_mm,
        edge=(_edge_run(here.edge),),
        runs=runs,
    )


def _longest(geometry: BaseGeometry) -> LineString:
    lines = [part for part in shapely.get_parts(geometry) if isinstance(part, LineString)]
    return max(lines, key=lambda line: line.length)


def _edge_run(edge: Line | Arc) -> Run:
    """An edge as it stands on the outline, to the nanometre."""
    if isinstance(edge, Line):
        return (Segment(_on_outline(edge.start), _on_outline(edge.end)),)
    course = _Course(
        moved=_Moved(index=0, key="", edge=edge, angle_deg=0.0, width_mm=0.0, on=(edge.centre, edge.radius)),
        start=0.0,
        end=edge.length,
    )
    return tuple(
        Segment(_on_outline(s.start), _on_outline(s.end), s.bulge) for s in course.run(0.0, edge.length)
    )


def _on_outline(point: Point) -> Point:
    return rounded(point[0]), rounded(point[1])


def _bands_meet(courses: Sequence[_Course]) -> list[Refusal]:
    """Bevels of one face that take the same board, from edges that face each other."""
    bands = [_band(course) for course in courses]
    refusals = []
    for i, j in _pairs(bands):
        shared = bands[i].intersection(bands[j])
        if shared.area <= ON_EDGE_MM:
            continue
        at = shared.representative_point()
        first, second = courses[i].moved, courses[j].moved
        text = (
            f"the bevel takes {length_text(second.width_mm)} and meets the one of"
            f" {first.key.rsplit('.', 1)[-1]} at {place_text((at.x, at.y))}: nothing of that face is left"
            " between them; make an angle smaller, or the part wider there"
        )
        refusals.append(Refusal(key=second.key, text=text))
    return refusals


def _band(course: _Course) -> BaseGeometry:
    """What of the face a bevel takes, between its edge and its line."""
    edge = [course.moved.edge.start, *course.moved.edge.points()]
    line = run_points(course.run(course.start, course.end))
    return shapely.make_valid(Polygon([*edge, *reversed(line)]))


def _pairs(bands: Sequence[BaseGeometry]) -> Iterator[tuple[int, int]]:
    firsts, seconds = STRtree(bands).query(bands, predicate="intersects")
    yield from sorted((i, j) for i, j in zip(firsts.tolist(), seconds.tolist(), strict=True) if i < j)
