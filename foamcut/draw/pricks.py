"""What lies on the far face, and where it is pricked through a template to get there.

The part's coordinates, mm.
"""

import math
from collections.abc import Iterable

import shapely
from shapely.geometry.base import BaseGeometry

from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line
from foamcut.flat.clipping import Run
from foamcut.flat.drawn import Face
from foamcut.flat.marks import Mark
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.flat.tolerances import ON_EDGE_MM

#: radius of the small circles at which a line of the far face is pricked through, mm: two dashes go round
PRICK_RADIUS_MM = sum(STYLES[Line.MARK_BACK].dashes_mm) / math.pi
#: a line that bends little is pricked so often, mm; at a point where it bends more than this, degrees, too
_EVERY_MM = 15.0
_CORNER_DEG = 10.0
#: an end on the edge is pricked so far from it, mm, or this share of the way to the next prick
_INWARDS_MM, _INWARDS_SHARE = 3.0, 0.25


def is_far(mark: Mark, part: Part) -> bool:
    """Whether a mark belongs on the face that lies down."""
    return Face.EITHER not in (mark.face, part.face) and mark.face is not part.face


def prick_points(runs: Iterable[Run], edge: BaseGeometry) -> tuple[Point, ...]:
    """Where lines are pricked so that they can be joined by rule or by eye; each point once.

    Ends and corners, and points along curves.  A hole on the cut edge itself would be lost with the waste:
    the end of a line on `edge` is pricked a little before it.
    """
    points = [point for run in runs if run for point in _off_the_edge(_along(run), edge)]
    return tuple({(round(x, 3), round(y, 3)): (x, y) for x, y in points}.values())


def _off_the_edge(points: list[Point], edge: BaseGeometry) -> list[Point]:
    first, *_, last = points
    second, before = points[1], points[-2]
    return [_before(first, second, edge), *points[1:-1], _before(last, before, edge)]


def _before(end: Point, inner: Point, edge: BaseGeometry) -> Point:
    """The end, or if that lies on the edge, a point of the line towards the next prick."""
    length = math.dist(end, inner)
    if edge.distance(shapely.Point(end)) > ON_EDGE_MM or not length:
        return end
    share = min(_INWARDS_MM / length, _INWARDS_SHARE)
    return end[0] + share * (inner[0] - end[0]), end[1] + share * (inner[1] - end[1])


def _along(run: Run) -> list[Point]:
    kept = [run[0].start]
    points = [point for segment in run for point in segment.points()]
    for before, point, after in zip([run[0].start, *points], points, points[1:], strict=False):
        if math.dist(kept[-1], point) >= _EVERY_MM or _bend_deg(before, point, after) > _CORNER_DEG:
            kept.append(point)
    return [*kept, run[-1].end]


def _bend_deg(before: Point, point: Point, after: Point) -> float:
    """By how much a line turns at a point, 0 for straight on."""
    first = math.atan2(point[1] - before[1], point[0] - before[0])
    second = math.atan2(after[1] - point[1], after[0] - point[0])
    turn = math.degrees(second - first) % 360
    return min(turn, 360 - turn)
