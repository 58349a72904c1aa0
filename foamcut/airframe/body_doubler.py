"""The nose doublers of a body: a second board inside each side, its rear end bevelled.  mm.

A bevel and an end that lies on no other edge lead the load from two boards into one (from memory).
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely import Polygon

from foamcut.airframe.body_holes import ROUND_MM, Hole, Laying, cuts_of, ring_points, ring_readings
from foamcut.airframe.body_side import shows
from foamcut.airframe.body_view import View
from foamcut.airframe.body_words import word_marks
from foamcut.flat.drawn import DrawnMark, DrawnPart, Face, Hand, Place, Readings

#: the slope of a doubler's rear end, from square (common practice, no source: a long bevel)
_TAPER_DEG = 60.0
#: a lower end is left square
_TAPER_LEAST_MM = 30.0
#: what meets a hole less than this leaves it alone, mm2
_MEETS_MM2 = 0.01


def doubler_part(view: View, shape: Polygon, holes: Sequence[Hole]) -> DrawnPart:
    """The right-hand nose doubler with the openings of the side; those at its edge run out of it."""
    body, t = view.body, view.thickness_mm
    key = f"{body.key}.nose_doubler"
    through = [hole for hole in holes if hole.reaches_in]
    room = shape.buffer(-ROUND_MM, join_style="mitre")
    kept = [hole for hole in through if room.contains(hole.shape)]
    edge = [
        hole.shape
        for hole in through
        if hole not in kept and hole.shape.intersection(shape).area > _MEETS_MM2
    ]
    outline = _largest(shape.difference(shapely.union_all(edge))) if edge else shape
    cuts = cuts_of(kept, Laying(), "doubler")
    lines = [(s, ((s.front_mm, s.foot_mm), (s.front_mm, s.head_mm))) for s in view.stands]
    marks = tuple(
        DrawnMark(
            key=f"{stand.key}.doubler-mark[{i}]", kind="line", face=Face.INNER, points=line, text=stand.marked
        )
        for i, (stand, line) in enumerate(lines)
        if shows(line, outline)
    )
    return DrawnPart(
        key=key,
        name=f"{body.name}-doubler",
        stock=body.material.name,
        thickness_mm=t,
        shape=_tapered(key, outline, t),
        pair=Hand.RIGHT,
        face=Face.INNER,
        cutouts=cuts.cutouts,
        slots=cuts.slots,
        marks=(*marks, *word_marks(outline, kept, marks, "doubler")),
        kerf_mm=body.material.kerf_mm,
        place=Place(key=key, at=(0.0, body.width_mm / 2 - 2 * t, 0.0), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0)),
    )


def _largest(left: shapely.Geometry) -> Polygon:
    parts = [part for part in shapely.get_parts(left) if isinstance(part, Polygon)]
    return max(parts, key=lambda part: round(part.area, 3))


def _tapered(key: str, outline: Polygon, thickness_mm: float) -> Readings:
    """The outline with a long bevel along its rear end, where the doubler is long enough for it."""
    points = ring_points(outline)
    shape = ring_readings(key, points)
    last = max(x for x, _ in points)
    room = 2 * thickness_mm * math.tan(math.radians(_TAPER_DEG))
    rows = []
    for i, row in enumerate(shape.points):
        before, after, beyond = points[i - 1], points[(i + 1) % len(points)], points[(i + 2) % len(points)]
        upright = abs(row.at[0] - last) <= 0.001 and abs(after[0] - last) <= 0.001
        long = abs(row.at[1] - after[1]) > _TAPER_LEAST_MM
        low, high = sorted((row.at[1], after[1]))
        ahead = shapely.box(last - room, low + 1.0, last - 0.001, high - 1.0)
        beside = min(math.dist(before, row.at), math.dist(after, beyond))
        tapers = upright and long and beside > room and outline.contains(ahead)
        rows.append(replace(row, bevel_deg=_TAPER_DEG) if tapers else row)
    return Readings(key=key, points=tuple(rows))
