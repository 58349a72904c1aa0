"""Two register holes on every sheet that is worked on both faces, to turn it over by.

Sheet coordinates, mm.  A hole lies wholly on the sheet less its margin, off every piece and every bed
rectangle by the gap; of all such places the two that are farthest apart are taken.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import shapely
from shapely.geometry.base import BaseGeometry

from foamcut.flat.outline import Point
from foamcut.flat.placement import rounded
from foamcut.nest.rooms import nanometres
from foamcut.nest.values import Layout, Sheet

#: diameter of a register hole, mm: a toothpick or a dowel of 3 mm (common practice, no source)
HOLE_MM = 3.0
#: two holes nearer than this turn the sheet too little exactly, mm: a knife's 0.2 mm over 50 is 0.23 degrees
LEAST_APART_MM = 50.0
#: chords to a quarter circle round a corner: 0.0003 mm off at 3.5 mm
_CHORDS = 64


def with_register(layout: Layout) -> Layout:
    """The layout with register holes on the sheets that are worked on both faces and have room for them."""
    return replace(layout, sheets=tuple(_with_holes(sheet, layout) for sheet in layout.sheets))


def _with_holes(sheet: Sheet, layout: Layout) -> Sheet:
    if not sheet.worked_behind:
        return replace(sheet, register=())
    stock = layout.stock
    return replace(sheet, register=_farthest(_free(sheet, stock.margin_mm, stock.gap_mm)))


def _free(sheet: Sheet, margin_mm: float, gap_mm: float) -> BaseGeometry:
    """Where the middle of a hole may lie."""
    within = sheet.outline.polygon.buffer(-(margin_mm + HOLE_MM / 2), quad_segs=_CHORDS)
    taken = [placed.outline.polygon for placed in sheet.placed]
    for bed in sheet.beds:
        x, y = bed.corner
        taken.append(shapely.box(x, y, x + bed.width_mm, y + bed.height_mm))
    near = [shape.buffer(gap_mm + HOLE_MM / 2, quad_segs=_CHORDS) for shape in taken]
    return within.difference(shapely.union_all(near))


def _farthest(free: BaseGeometry) -> tuple[Point, ...]:
    """The two places farthest apart, the lower x, then y, first; none where there is too little room.

    They are corners of the hull of what is free.  Of pairs equally far apart the one with the lowest x,
    then y, is taken.
    """
    corners = sorted(_hull_corners(free))
    if not corners:
        return ()
    units = [(nanometres(x), nanometres(y)) for x, y in corners]
    apart, first, second = min(
        (-((xa - xb) ** 2 + (ya - yb) ** 2), i, j)
        for (i, (xa, ya)), (j, (xb, yb)) in combinations(enumerate(units), 2)
    )
    if -apart < nanometres(LEAST_APART_MM) ** 2:
        return ()
    return corners[first], corners[second]


def _hull_corners(free: BaseGeometry) -> Iterator[Point]:
    hull = shapely.MultiPoint(shapely.get_coordinates(_areas(free))).convex_hull
    if hull.geom_type == "Polygon":
        found = {(rounded(x), rounded(y)) for x, y in shapely.get_coordinates(hull).tolist()}
        yield from sorted(found)


def _areas(free: BaseGeometry) -> BaseGeometry:
    """What has an area: a hole fits nowhere to the nanometre."""
    return shapely.MultiPolygon([part for part in shapely.get_parts(free) if part.geom_type == "Polygon"])
