"""The bevels that a part's edges carry, from the design's own words: where the slope must meet the smaller face."""

import math
from dataclasses import dataclass

import numpy as np
import shapely
from pack_drawn import DrawnPart
from pack_folds import crossing_of
from pack_outline import Edge, Point
from shapely import LineString, Polygon

_PROBE_MM = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """One bevelled edge: t tan(angle) inside it runs the drawn line.

    `inside` is that line in full, as far as it could reach; `core` what must be drawn of it whatever its ends
    do; `ends` are the places at which it may end besides the part's edge: mitres and square to the edge's ends.
    """

    back: bool
    what: str
    inside: shapely.Geometry
    core: shapely.Geometry
    ends: shapely.Geometry


def slopes_of(part: DrawnPart, shape: Polygon) -> list[Slope]:
    """Return the bevels of a part: of straight edges and arcs, no other carries one."""
    slopes = []
    for back in (False, True):
        depths = [_depth(part, edge, back) for edge in part.edges]
        for at in range(len(part.edges)):
            if depths[at] > 0:
                slopes.append(_slope(part, shape, at, depths, back))
    return slopes


def _depth(part: DrawnPart, edge: Edge, back: bool) -> float:
    angle = edge.bevel_back_deg if back else edge.bevel_deg
    return part.thickness_mm * math.tan(math.radians(angle))


def _slope(part: DrawnPart, shape: Polygon, at: int, depths: list[float], back: bool) -> Slope:
    edge, depth = part.edges[at], depths[at]
    line = _moved(edge, shape, depth)
    before, after = part.edges[at - 1], part.edges[(at + 1) % len(part.edges)]
    near = [(before, depths[at - 1]), (after, depths[(at + 1) % len(depths)])]
    ends = [_square(edge, shape, depth, corner) for corner in (edge.start, edge.end)]
    for corner, places in _tangents(edge, before, after):
        feet = [_square(edge, shape, depth, place) for place in places]
        ends.append(feet[0] if len(feet) == 1 else LineString([_square(edge, shape, depth, corner), *feet]))
    for other, other_depth in near:
        if other_depth > 0 and not other.curved:
            ends.append(line.intersection(_moved(other, shape, other_depth)))
    for fold in part.folds:
        own = crossing_of(fold, part.thickness_mm, shape)
        for run in own.runs:
            axis = own.frame.line(own.table.axis, *run)
            if any(axis.distance(shapely.Point(corner)) < 0.01 for corner in (edge.start, edge.end)):
                ends.append(line.intersection(own.frame.line(own.table.axis)))
    stops = shapely.union_all([end for end in ends if not end.is_empty])
    return Slope(
        back=back,
        what=f"bevel of the edge from ({edge.start[0]:.3f}, {edge.start[1]:.3f})",
        inside=line,
        core=_between(edge, shape, depth, line, stops),
        ends=stops,
    )


def _tangents(edge: Edge, before: Edge, after: Edge) -> list[tuple[Point, list[Point]]]:
    """Return where the rounds at a straight edge's ends leave it: r tan(half the turn) from the corner.

    Beside an arc that place is not worked out: then two places, between which it lies.
    """
    if edge.through is not None:
        return []
    found = []
    for corner, far, neighbour, other, radius in (
        (edge.start, edge.end, before, before.start, edge.rounds_mm[0]),
        (edge.end, edge.start, after, after.end, edge.rounds_mm[1]),
    ):
        along = np.array(far) - np.array(corner)
        along /= np.hypot(*along)
        back = np.array(other) - np.array(corner)
        between = math.acos(float(np.clip(along @ back / np.hypot(*back), -1.0, 1.0)))
        reach = [radius * math.tan((math.pi - between) / 2)]
        if neighbour.through is not None and radius > 0:
            reach = [0.0, 2.5 * radius]
        places = [tuple(map(float, np.array(corner) + size * along)) for size in reach]
        found.append((corner, [(x, y) for x, y in places]))
    return found


def _about_through(edge: Edge, shape: Polygon, depth: float) -> shapely.Geometry:
    """Return two degrees of a moved arc to either side of the point that it runs through."""
    middle, radius = _moved_circle(edge, shape, depth)
    x, y = np.array(edge.through) - middle
    steps = np.linspace(-2, 2, 41) * math.pi / 180 + math.atan2(y, x)
    arc = LineString(np.column_stack([np.cos(steps), np.sin(steps)]) * radius + middle)
    return arc.intersection(shape)


def _between(
    edge: Edge, shape: Polygon, depth: float, line: LineString, stops: shapely.Geometry
) -> shapely.Geometry:
    """Return what lies between the nearest stops on either side of the edge's middle."""
    if edge.through is not None:
        return _about_through(edge, shape, depth)
    middle = (np.array(edge.start) + np.array(edge.end)) / 2 + depth * _inwards(edge, shape)
    along = np.array(edge.end) - np.array(edge.start)
    along /= np.hypot(*along)
    for part in shapely.get_parts(line.intersection(shape)):
        if part.geom_type != "LineString" or part.distance(shapely.Point(middle)) > 1e-6:
            continue
        ends = (shapely.get_coordinates(part) - middle) @ along
        inner = (shapely.get_coordinates(stops) - middle) @ along
        low = max([*ends[ends <= 0], *inner[inner <= 0]], default=0.0)
        high = min([*ends[ends > 0], *inner[inner > 0]], default=0.0)
        if high > low:
            return LineString([middle + low * along, middle + high * along])
    return LineString()


def _inwards(edge: Edge, shape: Polygon) -> np.ndarray:
    """Return the unit normal of a straight edge that points into the part; raises ValueError when neither does."""
    start, end = np.array(edge.start), np.array(edge.end)
    along = (end - start) / np.hypot(*(end - start))
    normal = np.array((-along[1], along[0]))
    for share in (0.5, 0.31, 0.71):
        for side in (1, -1):
            probe = start + share * (end - start) + side * _PROBE_MM * normal
            other = start + share * (end - start) - side * _PROBE_MM * normal
            if shape.contains(shapely.Point(probe)) and not shape.contains(shapely.Point(other)):
                return side * normal
    raise ValueError(f"the edge from {edge.start} is not on the part")


def _circle(edge: Edge) -> tuple[np.ndarray, float]:
    (ax, ay), (bx, by), (cx, cy) = edge.start, edge.through or edge.start, edge.end
    d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by))
    squares = (ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy)
    x = (squares[0] * (by - cy) + squares[1] * (cy - ay) + squares[2] * (ay - by)) / d
    y = (squares[0] * (cx - bx) + squares[1] * (ax - cx) + squares[2] * (bx - ax)) / d
    return np.array((x, y)), math.hypot(ax - x, ay - y)


def _moved_circle(edge: Edge, shape: Polygon, depth: float) -> tuple[np.ndarray, float]:
    middle, radius = _circle(edge)
    on = np.array(edge.through)
    towards = (middle - on) / radius
    inwards = 1 if shape.contains(shapely.Point(on + _PROBE_MM * towards)) else -1
    return middle, radius - inwards * depth


def _moved(edge: Edge, shape: Polygon, depth: float) -> LineString:
    """Return an edge's whole line or circle, moved into the part."""
    if edge.through is not None:
        middle, radius = _moved_circle(edge, shape, depth)
        steps = np.linspace(0, 2 * math.pi, 7201)
        return LineString(np.column_stack([np.cos(steps), np.sin(steps)]) * radius + middle)
    start, end = np.array(edge.start), np.array(edge.end)
    along = (end - start) / np.hypot(*(end - start))
    shift = depth * _inwards(edge, shape)
    return LineString([start - 2e4 * along + shift, end + 2e4 * along + shift])


def _square(edge: Edge, shape: Polygon, depth: float, corner: tuple[float, float]) -> shapely.Point:
    """Return the point of the moved edge square to one of its ends."""
    if edge.through is not None:
        middle, radius = _moved_circle(edge, shape, depth)
        away = np.array(corner) - middle
        return shapely.Point(middle + away / np.hypot(*away) * radius)
    return shapely.Point(np.array(corner) + depth * _inwards(edge, shape))
