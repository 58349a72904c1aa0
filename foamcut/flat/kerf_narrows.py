"""Places of an outline that are narrower than the kerf, so that the tool cannot go in.  mm."""

import shapely

from foamcut.flat.outline import Outline, Point
from foamcut.flat.placement import rounded


def narrow_places(outline: Outline, kerf_mm: float) -> tuple[Point, ...]:
    """A point of each notch and hole that a kerf of full width `kerf_mm` closes, by x, then y.

    Method: the outline grown by half the kerf and shrunk again (a closing); what it gained beyond the
    outline is where the tool does not fit.  Bits smaller than the kerf squared are corners, not places.
    """
    if not kerf_mm > 0:
        return ()
    half = kerf_mm / 2
    polygon = outline.polygon
    closed = polygon.buffer(half, join_style="mitre").buffer(-half, join_style="mitre")
    gained = shapely.get_parts(closed.difference(polygon))
    points = (part.representative_point() for part in gained if part.area > kerf_mm**2)
    return tuple(sorted((rounded(point.x), rounded(point.y)) for point in points))
