"""Shapes without spikes: board that ends in a thin tip tears and has no hold for glue.  mm."""

import math

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.airframe.body_holes import ring_points
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import ROUNDING_MM

#: a corner sharper than this is cut off (common practice, no source)
_SHARP_DEG = 60.0
#: how far a corner may reach while a shape is made narrower, in times the distance
_MITRE = 20.0


def blunted(shape: BaseGeometry, half_mm: float) -> BaseGeometry:
    """A shape without what is narrower than twice a distance, its sharp corners cut off where they are.

    Every other edge stays.  Several pieces, or none, where the shape is too narrow.
    """
    core = shape.buffer(-half_mm, join_style="mitre", mitre_limit=_MITRE)
    wide = core.buffer(half_mm + ROUNDING_MM, join_style="mitre", mitre_limit=_MITRE).intersection(shape)
    tips = [
        tip
        for part in shapely.get_parts(wide)
        if isinstance(part, Polygon) and part.area > ROUNDING_MM
        for tip in _tips(part, half_mm)
    ]
    cut = shapely.union_all(tips).buffer(ROUNDING_MM, join_style="mitre")
    return wide.difference(cut) if tips else wide


def _tips(polygon: Polygon, half_mm: float) -> list[Polygon]:
    """The triangles of sharp corners up to where both edges lie twice a distance apart."""
    points = ring_points(polygon)
    found = []
    for before, at, after in zip([points[-1], *points], points, [*points[1:], points[0]], strict=False):
        back, on = _towards(at, before), _towards(at, after)
        half = math.acos(min(max(back[0] * on[0] + back[1] * on[1], -1.0), 1.0)) / 2
        convex = on[0] * back[1] - on[1] * back[0] > 0
        if convex and 0 < 2 * half < math.radians(_SHARP_DEG):
            far = half_mm / math.sin(half)
            found.append(Polygon([at, *((at[0] + far * x, at[1] + far * y) for x, y in (on, back))]))
    return found


def _towards(start: Point, end: Point) -> Point:
    length = math.dist(start, end)
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length
