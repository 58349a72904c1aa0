"""The line of each bevelled edge, held against the part: what is narrower than its bevel is refused.

mm; widths are t tan(angle).
"""

import math
from collections.abc import Iterator, Sequence

import shapely
from shapely import LineString, Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from foamcut.errors import Refusal
from foamcut.flat.bevel_courses import Course, Moved, courses_of
from foamcut.flat.bevels import Bevel
from foamcut.flat.clipping import Run, clipped, run_points
from foamcut.flat.edges import Arc, Line
from foamcut.flat.outline import Point, Segment
from foamcut.flat.placement import rounded
from foamcut.flat.tolerances import ON_EDGE_MM, SAME_POINT_MM
from foamcut.flat.trace import TracedEdge, length_text, place_text


def bevels_of(
    edges: Sequence[TracedEdge], thickness_mm: float, body: Polygon
) -> tuple[tuple[Bevel, ...], list[Refusal]]:
    """The bevels of an outline drawn by its edges, and what was refused.

    `body` is the outline without its cuts.  Source of the width: t tan(angle), a right triangle.
    """
    bevels: list[Bevel] = []
    refusals: list[Refusal] = []
    side = 1 if _turns_left(edges) else -1
    # what runs along another edge is as good as outside: nothing of that face is left
    inner = body.buffer(-SAME_POINT_MM, join_style="mitre")
    shapely.prepare(body)
    shapely.prepare(inner)
    for back in (False, True):
        courses, refused = courses_of(edges, thickness_mm, side, back=back)
        refusals += refused
        if not courses:
            continue
        found = [_bevel(course, body, inner, back=back) for course in courses]
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


def _bevel(course: Course, body: Polygon, inner: BaseGeometry, *, back: bool) -> Bevel | Refusal:
    """A bevel with its line inside the body; a refusal when the body is narrower than the bevel."""
    here = course.moved
    core = LineString(run_points(course.run(*course.core)))
    if not inner.covers(core) and (outside := core.difference(inner)).length > ON_EDGE_MM:
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
    course = Course(
        moved=Moved(index=0, key="", edge=edge, angle_deg=0.0, width_mm=0.0, on=(edge.centre, edge.radius)),
        start=0.0,
        end=edge.length,
    )
    return tuple(
        Segment(_on_outline(s.start), _on_outline(s.end), s.bulge) for s in course.run(0.0, edge.length)
    )


def _on_outline(point: Point) -> Point:
    return rounded(point[0]), rounded(point[1])


def _bands_meet(courses: Sequence[Course]) -> list[Refusal]:
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


def _band(course: Course) -> BaseGeometry:
    """What of the face a bevel takes, between its edge and its line."""
    edge = [course.moved.edge.start, *course.moved.edge.points()]
    line = run_points(course.run(course.start, course.end))
    return shapely.make_valid(Polygon([*edge, *reversed(line)]))


def _pairs(bands: Sequence[BaseGeometry]) -> Iterator[tuple[int, int]]:
    firsts, seconds = STRtree(bands).query(bands, predicate="intersects")
    yield from sorted((i, j) for i, j in zip(firsts.tolist(), seconds.tolist(), strict=True) if i < j)
