"""Outlines moved outwards or inwards: every line to a parallel, every arc to a concentric one.

mm.  Material lies to the left of every ring, so outwards is to the right.  Corners are mitred; one whose
mitre would reach farther than `MITRE_LIMIT` times the move is cut off square.

Two ways are gone.  *By edges*: the moved lines and circles are intersected where they met, which is exact
and comes back to the same outline when it is undone.  *By sweeps*: what the edges sweep over is added or
taken away, which holds whatever vanishes, divides or grows together, but meets chords of arcs instead of
arcs.  The first is given where both agree, or where it agrees with the geometry library's buffer; else the
second.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.flat.offset_corners import MITRE_LIMIT, corner, is_stretched
from foamcut.flat.offset_edges import Apart, Edge, edges, finer
from foamcut.flat.outline import Circle, Outline, Point
from foamcut.flat.tolerances import DUST_MM, OFFSET_MM, SAME_POINT_MM

__all__ = ["moved"]


@lru_cache(maxsize=1024)  # the copies of a piece are alike
def moved(outline: Outline, out_mm: float) -> tuple[Outline, ...]:
    """The outline with every ring moved `out_mm` outwards from the material; below 0 the material shrinks.

    None are left when all vanishes, several when it divides; holes narrower than twice the move vanish,
    and so does what is left with less area than can be cut.

    Raises
    ------
    ValueError
        The move is no finite number.
    """
    if not math.isfinite(out_mm):
        raise ValueError(f"an outline cannot be moved by {out_mm}")
    if out_mm == 0 or outline.polygon.is_empty:
        return (outline,) if outline.area else ()
    rings = list(edges(outline))
    exact = _by_edges(rings, out_mm)
    if exact is not None:
        # a general buffer is quick and mostly near enough to tell that nothing went wrong
        buffer = outline.polygon.buffer(out_mm, join_style="mitre", mitre_limit=MITRE_LIMIT)
        if isinstance(buffer, Polygon) and _agree(exact.polygon, buffer):
            return (exact,)
    swept = _by_sweeps(outline, rings, out_mm)
    if exact is not None and len(swept) == 1 and _agree(exact.polygon, swept[0].polygon):
        return (exact,)
    return swept


def _agree(a: Polygon, b: Polygon) -> bool:
    """Whether all corners of each polygon lie on the other's boundary, but for chords of arcs.

    Not by shrinking what is between them: buffers of long thin slivers are not to be relied on.
    """
    if len(a.interiors) != len(b.interiors):
        return False
    for of, on in ((a, b), (b, a)):
        boundary = on.boundary
        shapely.prepare(boundary)
        # the prepared one has to come first to be of use
        if not shapely.dwithin(boundary, shapely.points(shapely.get_coordinates(of)), OFFSET_MM).all():
            return False
    return True


# by edges


def _by_edges(rings: Sequence[Sequence[Edge]], out_mm: float) -> Outline | None:
    """The outline by its moved edges; None where they do not meet or cross each other."""
    try:
        found = [_moved_ring(list(ring), out_mm) for ring in rings]
    except Apart:
        return None
    if not found[0]:
        return None
    polygon = Polygon(found[0], [ring for ring in found[1:] if ring])
    if not polygon.is_valid:
        return None
    outline = Outline(polygon, _circles(rings, out_mm))
    return outline if outline.fault() is None else None


def _circles(rings: Iterable[Iterable[Edge]], out_mm: float) -> tuple[Circle, ...]:
    found = dict.fromkeys((e.circle, e.moved_radius(out_mm)) for ring in rings for e in ring if e.circle)
    return tuple(Circle(c.x, c.y, radius) for c, radius in found if radius > SAME_POINT_MM)


def _moved_ring(ring: list[Edge], out_mm: float) -> list[Point]:
    """The points of a moved ring; none when it vanishes.  Edges that turn round are left out one by one."""
    while ring:
        if len(ring) == 1:
            return _moved_circle(ring[0], out_mm) if ring[0].closes() else []
        corners = [corner(before, edge, out_mm) for before, edge in _neighbours(ring)]
        ends = [(first[-1], then[0]) for first, then in zip(corners, _after(corners), strict=True)]
        lives = [_life(edge, *pair, out_mm) for edge, pair in zip(ring, ends, strict=True)]
        first_gone = min(range(len(ring)), key=lambda i: (round(lives[i], 9), i))
        if lives[first_gone] > 1:
            points: list[Point] = []
            for edge, at, pair in zip(ring, corners, ends, strict=True):
                points += [*at, *_between(edge, *pair, out_mm)]
            return points if len(points) > 2 else []
        del ring[first_gone]
    return []


def _neighbours(ring: Sequence[Edge]) -> Iterator[tuple[Edge, Edge]]:
    return ((ring[i - 1], edge) for i, edge in enumerate(ring))


def _after(corners: Sequence[tuple[Point, ...]]) -> list[tuple[Point, ...]]:
    return [*corners[1:], corners[0]]


def _life(edge: Edge, start: Point, end: Point, out_mm: float) -> float:
    """The share of the move after which an edge has no length left; infinite when it only grows."""
    if edge.circle is None:
        nx, ny = edge.normal(edge.start)
        before = math.dist(edge.start, edge.end)
        after = (end[1] - start[1]) * nx - (end[0] - start[0]) * ny
    else:
        radius = edge.moved_radius(out_mm)
        if radius <= SAME_POINT_MM:
            return edge.circle.radius / (edge.circle.radius - radius + SAME_POINT_MM)
        before = edge.steps()[-1]
        after = before + edge.angle(edge.end, end) - edge.angle(edge.start, start)
        if after > 2 * math.pi:
            raise Apart
    return before / (before - after) if after < before and after <= 0 else math.inf


def _moved_circle(edge: Edge, out_mm: float) -> list[Point]:
    radius = edge.moved_radius(out_mm)
    if radius <= SAME_POINT_MM:
        return []
    turned = finer(edge.steps(), radius)
    return [edge.on_circle(radius, angle) for angle in turned[:-1]]


def _between(edge: Edge, start: Point, end: Point, out_mm: float) -> list[Point]:
    """The points of a moved edge between its moved ends: none on a line, those of the arc's chords."""
    if edge.circle is None:
        return []
    radius = edge.moved_radius(out_mm)
    first = edge.angle(edge.start, start)
    steps = edge.steps()
    last = steps[-1] + edge.angle(edge.end, end)
    near = SAME_POINT_MM / radius  # two vertices closer than this are one
    own = {first: None, last: None} | {
        angle: point
        for angle, point in zip(steps, edge.points, strict=True)
        if first + near < angle < last - near
    }
    angles = finer(sorted(own), radius, least=2)[1:-1]
    return [
        edge.moved_point(point, out_mm) if (point := own.get(angle)) else edge.on_circle(radius, angle)
        for angle in angles
    ]


# by sweeps


def _by_sweeps(outline: Outline, rings: Sequence[Sequence[Edge]], out_mm: float) -> tuple[Outline, ...]:
    """The outline with what its edges sweep over added, or taken away."""
    swept = shapely.union_all([shape for ring in rings for shape in _ring_sweeps(ring, out_mm)])
    polygon = outline.polygon
    whole = polygon.union(swept) if out_mm > 0 else polygon.difference(swept)
    circles = _circles(rings, out_mm)
    found: list[Outline] = []
    for part in _polygons(whole):
        piece = Outline(part, circles)
        if piece.fault() is None:
            found += piece.plus()
        else:  # rounding made two corners one
            found += [o for p in _polygons(piece.polygon.buffer(0)) for o in Outline(p, circles).plus()]
    return tuple(sorted((o for o in found if o.fault() is None), key=lambda o: o.bounds))


def _polygons(geometry: BaseGeometry) -> Iterator[Polygon]:
    """The polygons of a result without dust, neither as material nor as holes."""
    for part in shapely.get_parts(geometry):
        if isinstance(part, Polygon) and part.area > part.length * DUST_MM:
            holes = [hole for hole in part.interiors if Polygon(hole).area > hole.length * DUST_MM]
            yield Polygon(part.exterior, holes)


def _ring_sweeps(ring: Sequence[Edge], out_mm: float) -> Iterator[Polygon]:
    for before, edge in _neighbours(ring):
        yield from _sweeps(edge, out_mm)
        if len(ring) > 1 and is_stretched(before, edge, out_mm):
            yield _wedge(before, edge, out_mm)


def _sweeps(edge: Edge, out_mm: float) -> Iterator[Polygon]:
    """What an edge sweeps over, an arc chord by chord: past its centre the chord comes out beyond."""
    for a, b in pairwise(edge.points):
        if edge.circle is None:
            yield Polygon([a, b, edge.moved_point(b, out_mm), edge.moved_point(a, out_mm)])
            continue
        radius = edge.moved_radius(out_mm)
        turned = finer([0.0, edge.angle(a, b)], abs(radius) or 1.0)[1:-1]
        chord = Edge((a, b), edge.circle, edge.turn)
        far = [
            chord.moved_point(a, out_mm),
            *(chord.on_circle(radius, angle) for angle in turned),
            chord.moved_point(b, out_mm),
        ]
        if min(edge.radius_at(a), edge.radius_at(b)) + edge.turn * out_mm > 0:
            yield Polygon([a, b, *reversed(far)])
        else:
            centre = edge.circle[:2]
            yield Polygon([a, b, centre])
            if radius < -SAME_POINT_MM:
                yield Polygon([centre, *far])


def _wedge(a: Edge, b: Edge, out_mm: float) -> Polygon:
    """What a stretched corner sweeps over: from edge to edge by the mitre."""
    try:
        points = corner(a, b, out_mm)
    except Apart:  # circles that bend away from each other: straight on
        points = corner(Edge(_tangent(a, a.end)), Edge(_tangent(b, b.start)), out_mm)
    first, last = a.moved_point(a.end, out_mm), b.moved_point(b.start, out_mm)
    before = _along(a, a.end, first, points[0], out_mm)
    after = _along(b, b.start, last, points[-1], out_mm)
    return Polygon([a.end, first, *before, *points, *reversed(after), last])


def _tangent(edge: Edge, at: Point) -> tuple[Point, Point]:
    """Two points on the tangent at a point, which ends the one edge and starts the other."""
    nx, ny = edge.normal(at)
    return ((at[0] + ny, at[1] - nx), at) if at == edge.end else (at, (at[0] - ny, at[1] + nx))


def _along(edge: Edge, at: Point, moved_at: Point, tip: Point, out_mm: float) -> list[Point]:
    """Points on a moved circle from a moved end of an arc to a mitre's tip."""
    if edge.circle is None or math.dist(moved_at, tip) <= SAME_POINT_MM:
        return []
    radius = edge.moved_radius(out_mm)
    if radius <= SAME_POINT_MM or abs(math.dist(tip, edge.circle[:2]) - radius) > OFFSET_MM:
        return []
    turned = edge.angle(at, tip)
    side = 1 if turned >= 0 else -1
    from_here = Edge((at, at), edge.circle, edge.turn)
    return [from_here.on_circle(radius, side * angle) for angle in finer([0.0, abs(turned)], radius)[1:-1]]
