"""Corners of moved edges: where two moved lines or circles meet, mitred, or cut off square when sharp.

mm; see `foamcut.flat.offset`.
"""

import math

from foamcut.flat.offset_edges import Apart, Edge
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import ROUNDING_MM

#: a mitre reaches at most this many times as far as the edges are moved
MITRE_LIMIT = 4.0


def is_stretched(a: Edge, b: Edge, out_mm: float) -> bool:
    """Whether the corner from `a` to `b` opens a wedge when its edges are moved."""
    (ax, ay), (bx, by) = a.normal(a.end), b.normal(b.start)
    return (ax * by - ay * bx) * out_mm > 0


def corner(a: Edge, b: Edge, out_mm: float) -> tuple[Point, ...]:
    """The moved corner between an edge and the one after it: a point, or those of a square cut.

    Raises
    ------
    Apart
        The moved edges do not meet.
    """
    if a.end != b.start:  # what stood between them is gone
        (ax, ay), (bx, by) = a.moved_point(a.end, out_mm), b.moved_point(b.start, out_mm)
        near = (ax + bx) / 2, (ay + by) / 2
        return (min(_meetings(a, b, out_mm), key=lambda point: round(math.dist(point, near) * 1e6)),)
    (x, y), na, nb = a.end, a.normal(a.end), b.normal(b.start)
    both = 1 + na[0] * nb[0] + na[1] * nb[1]  # 2 cos^2 of half the turn
    stretched = is_stretched(a, b, out_mm)
    if stretched and both < 2 / MITRE_LIMIT**2:
        return _straight_on(a, b, out_mm, _square_cut(a, b, out_mm))
    if both <= ROUNDING_MM:
        raise Apart
    mitre = x + out_mm * (na[0] + nb[0]) / both, y + out_mm * (na[1] + nb[1]) / both
    if (a.circle is None and b.circle is None) or _is_smooth(a, b, out_mm, both):
        return (mitre,)
    try:
        return (_nearest(a, b, out_mm, mitre, stretched),)
    except Apart:
        if not stretched:
            raise
        return _straight_on(a, b, out_mm, (mitre,))


def _nearest(a: Edge, b: Edge, out_mm: float, mitre: Point, stretched: bool) -> Point:
    """Where moved edges meet nearest to their tangents' mitre: beyond both their ends, or before both."""
    ends = a.moved_point(a.end, out_mm), b.moved_point(b.start, out_mm)
    side = 1 if stretched else -1
    found = [
        (round(math.dist(point, mitre) * 1e6), point)
        for point in _meetings(a, b, out_mm)
        if side * a.ahead(ends[0], point) >= 0 >= side * b.ahead(ends[1], point)
    ]
    # arcs may meet a little farther off than their tangents, which keep within the limit
    if not found or (stretched and math.dist(min(found)[1], a.end) > 2 * MITRE_LIMIT * abs(out_mm)):
        raise Apart
    return min(found)[1]


def _is_smooth(a: Edge, b: Edge, out_mm: float, both: float) -> bool:
    """Whether tangents serve for the moved circles: they are off by (out tan(turn / 2))^2 / 2r."""
    tan2 = max(0.0, 2 - both) / both
    radii = [abs(edge.moved_radius(out_mm)) for edge in (a, b) if edge.circle is not None]
    return out_mm**2 * tan2 <= 2 * min(radii) * ROUNDING_MM / 10


def _straight_on(a: Edge, b: Edge, out_mm: float, points: tuple[Point, ...]) -> tuple[Point, ...]:
    """The points of a corner that arcs are lengthened to by their tangents."""
    first = [] if a.circle is None else [a.moved_point(a.end, out_mm)]
    last = [] if b.circle is None else [b.moved_point(b.start, out_mm)]
    return (*first, *points, *last)


def _square_cut(a: Edge, b: Edge, out_mm: float) -> tuple[Point, ...]:
    """The corner cut off across its middle line, `MITRE_LIMIT` times the move away from it."""
    na, nb = a.normal(a.end), b.normal(b.start)
    side = math.copysign(1.0, out_mm)
    # both edges lengthened beyond the corner: the one runs on, the other back
    ways = (-na[1], na[0]), (nb[1], -nb[0])
    axis = ways[0][0] + ways[1][0], ways[0][1] + ways[1][1]
    length = math.hypot(*axis)
    axis = axis[0] / length, axis[1] / length
    points = []
    for normal, way in zip((na, nb), ways, strict=True):
        foot = side * (normal[0] * axis[0] + normal[1] * axis[1])
        along = abs(out_mm) * (MITRE_LIMIT - foot) / (way[0] * axis[0] + way[1] * axis[1])
        points.append(
            (a.end[0] + out_mm * normal[0] + along * way[0], a.end[1] + out_mm * normal[1] + along * way[1])
        )
    return tuple(points)


def _meetings(a: Edge, b: Edge, out_mm: float) -> list[Point]:
    """Where the moved lines or circles meet, none to two points."""
    if a.circle is not None and b.circle is not None:
        return _circles(a, b, out_mm)
    if a.circle is not None:
        return _line_and_circle(b, b.start, a, a.end, out_mm)
    if b.circle is not None:
        return _line_and_circle(a, a.end, b, b.start, out_mm)
    return _lines(a, b, out_mm)


def _lines(a: Edge, b: Edge, out_mm: float) -> list[Point]:
    (px, py), (qx, qy) = a.moved_point(a.end, out_mm), b.moved_point(b.start, out_mm)
    na, nb = a.normal(a.end), b.normal(b.start)
    cross = na[0] * nb[1] - na[1] * nb[0]
    if abs(cross) <= ROUNDING_MM:
        raise Apart
    along = ((qx - px) * nb[0] + (qy - py) * nb[1]) / cross
    return [(px - along * na[1], py + along * na[0])]


def _line_and_circle(line: Edge, on: Point, arc: Edge, at: Point, out_mm: float) -> list[Point]:
    assert arc.circle is not None
    radius = arc.radius_at(at) + arc.turn * out_mm
    (px, py), (nx, ny) = line.moved_point(on, out_mm), line.normal(on)
    off = (px - arc.circle.x) * nx + (py - arc.circle.y) * ny
    if radius <= 0 or abs(off) > radius:
        raise Apart
    half = math.sqrt(radius**2 - off**2)
    foot = arc.circle.x + off * nx, arc.circle.y + off * ny
    return [(foot[0] - side * half * ny, foot[1] + side * half * nx) for side in (1, -1)]


def _circles(a: Edge, b: Edge, out_mm: float) -> list[Point]:
    assert a.circle is not None and b.circle is not None
    r, s = a.radius_at(a.end) + a.turn * out_mm, b.radius_at(b.start) + b.turn * out_mm
    (ax, ay), (bx, by) = a.circle[:2], b.circle[:2]
    apart = math.hypot(bx - ax, by - ay)
    if r <= 0 or s <= 0 or apart <= ROUNDING_MM or not abs(r - s) <= apart <= r + s:
        raise Apart
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    along = (apart**2 + r**2 - s**2) / (2 * apart)
    half = math.sqrt(max(0.0, r**2 - along**2))
    foot = ax + along * ux, ay + along * uy
    return [(foot[0] - side * half * uy, foot[1] + side * half * ux) for side in (1, -1)]
