"""How far doublers reach over a joint where marks that they keep off lie beside it.

The part's coordinates, mm.  Only clear marks count: lines keep an overlap off everything else that doublers
keep off, and beyond the part's edges there is nothing to be joined.
"""

from collections.abc import Sequence

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.flat.doublers import Line, joined_ranges
from foamcut.flat.drawn import Doubling
from foamcut.flat.obstacles import clear_marks
from foamcut.flat.part import Part
from foamcut.flat.tolerances import CHORD_MM

#: the least share of a joint that doublers have to cover
LEAST_COVERED = 0.5
#: the share of the covered line along which doublers reach that far
REACHING_SHARE = 0.5
#: the least share of the overlap that they have to reach there
LEAST_REACH = 0.5
#: how exactly the reach is found, mm
_STEP_MM = 1e-3

Ranges = Sequence[tuple[float, float]]


def reach_mm(line: Line, covered: Ranges, clear: BaseGeometry, overlap_mm: float) -> float:
    """How far to both sides doublers reach along at least half of what they cover of a line, mm.

    `covered` are ranges along the line; `clear` is what clear marks bar.  The overlap at most; found by
    halving, as what is in the way only grows with the distance.
    """
    if not covered:
        return overlap_mm
    along = covered[0][0], covered[-1][1]
    near = clear.intersection(line.box(-overlap_mm, overlap_mm, *along))
    if near.is_empty:
        return overlap_mm
    most = (1 - REACHING_SHARE) * sum(b - a for a, b in covered) + CHORD_MM  # edges may be chords

    def reaches(far: float) -> bool:
        sides = (near.intersection(line.box(0.0, side * far, *along)) for side in (-1, 1))
        shapes = (shape for side in sides for shape in shapely.get_parts(side))
        ranges = (_range(one, line.axis) for one in shapes if isinstance(one, Polygon) and not one.is_empty)
        barred = joined_ranges(sorted(ranges))
        lost = sum(max(min(b, d) - max(a, c), 0.0) for a, b in barred for c, d in covered)
        return lost <= most

    if reaches(overlap_mm - CHORD_MM):
        return overlap_mm
    good, bad = 0.0, overlap_mm
    while bad - good > _STEP_MM:
        middle = (good + bad) / 2
        if reaches(middle):
            good = middle
        else:
            bad = middle
    return good


def marks_beside(part: Part, line: Line, doubling: Doubling) -> list[str]:
    """The keys of the clear marks within an overlap of a line, without that of the part."""
    x0, y0, x1, y1 = part.outline.bounds
    ends = (y0, y1) if line.axis == 0 else (x0, x1)
    strip = line.box(-doubling.overlap_mm, doubling.overlap_mm, *ends)
    barring = (key for key, shape in clear_marks(part, doubling.inset_mm) if shape.intersects(strip))
    return [key.rsplit(".", 1)[-1] for key in barring]


def _range(shape: BaseGeometry, axis: int) -> tuple[float, float]:
    return shape.bounds[1 - axis], shape.bounds[3 - axis]
