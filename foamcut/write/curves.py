"""Arcs as Bezier curves, for a format that has no arcs."""

import math
from itertools import pairwise

from foamcut.flat.outline import Point, Segment

#: how far a curve may leave its arc, mm: a tenth of the finest line that a printer draws
OFF_MM = 0.001

#: the most that one curve turns through
PIECE_RAD = math.pi / 4

#: A curve over a quarter turn leaves its circle by 0.000273 of the radius; the error falls with the
#: sixth power of the angle (Goldapp, "Approximation of circular arcs by cubic polynomials", Computer
#: Aided Geometric Design 8, 1991; the number is arithmetic, from the middle of each half curve).
_QUARTER_ERROR = 2.73e-4

Curve = tuple[Point, Point, Point]


def curves(segment: Segment) -> tuple[Curve, ...]:
    """The arc as curves in turn, each by its two control points and its end."""
    swept = math.radians(segment.included_deg)
    count = _count(segment.radius, abs(swept))
    points = [segment.start, *_between(segment, swept, count), segment.end]
    return tuple(_curve(a, b, swept / count) for a, b in pairwise(points))


def _count(radius_mm: float, swept_rad: float) -> int:
    error_mm = _QUARTER_ERROR * radius_mm
    finest = math.pi / 2 * (OFF_MM / error_mm) ** (1 / 6)
    return max(1, math.ceil(swept_rad / min(PIECE_RAD, finest) - 1e-9))


def _between(segment: Segment, swept: float, count: int) -> list[Point]:
    """Points that part the arc in equal pieces."""
    if count == 1:
        return []
    cx, cy = segment.centre
    start = math.atan2(segment.start[1] - cy, segment.start[0] - cx)
    angles = (start + swept * i / count for i in range(1, count))
    return [(cx + segment.radius * math.cos(a), cy + segment.radius * math.sin(a)) for a in angles]


def _curve(a: Point, b: Point, swept: float) -> Curve:
    """The usual curve, its handles 4/3 tan(angle / 4) radii long on the tangents.

    Built on the chord, which stays exact however large the radius is: a tangent leaves the chord by
    half the angle, and with radius = chord / (2 sin(angle / 2)) a handle is chord / (3 cos2(angle / 4)).
    """
    dx, dy = b[0] - a[0], b[1] - a[1]
    handle = 1 / (3 * math.cos(swept / 4) ** 2)
    cos, sin = handle * math.cos(swept / 2), handle * math.sin(swept / 2)
    first = a[0] + dx * cos + dy * sin, a[1] + dy * cos - dx * sin
    second = b[0] - dx * cos + dy * sin, b[1] - dy * cos - dx * sin
    return first, second, b
