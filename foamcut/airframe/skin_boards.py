"""Whether skins lie on the boards there are.  mm."""

import math
from collections.abc import Sequence

import shapely
from shapely import Polygon

from foamcut.airframe.folded_flat import FlatSkin
from foamcut.airframe.skin_outline import Corner, lower_corners, sheet_corners, upper_corners
from foamcut.flat.drawn import Turns
from foamcut.flat.tolerances import ON_EDGE_MM


def all_lie(skins: Sequence[FlatSkin], boards: Sequence[tuple[float, float]], *, two: bool) -> bool:
    """Whether every skin lies on a board; `two`: lower and upper are parts of their own."""
    return all(turns_on(shape, boards) is not None for one in skins for shape in shapes(one, two=two))


def shapes(flat: FlatSkin, *, two: bool) -> tuple[list[Corner], ...]:
    """The outlines of the parts of a skin."""
    return (lower_corners(flat), upper_corners(flat)) if two else (sheet_corners(flat),)


def turns_on(corners: Sequence[Corner], boards: Sequence[tuple[float, float]]) -> Turns | None:
    """How a skin has to be turned to lie on one of some boards; None: it lies on none."""
    shape = Polygon([one.at for one in corners])
    x0, y0, x1, y1 = shape.bounds
    if not boards or _lies((x1 - x0, y1 - y0), boards):
        return Turns.QUARTER
    ring = shapely.get_coordinates(shapely.minimum_rotated_rectangle(shape).exterior)
    sizes = (math.dist(ring[0], ring[1]), math.dist(ring[1], ring[2]))
    return Turns.ANY if _lies(sizes, boards) else None


def _lies(size: tuple[float, float], boards: Sequence[tuple[float, float]]) -> bool:
    short, long = sorted(size)
    return any(short <= min(one) + ON_EDGE_MM and long <= max(one) + ON_EDGE_MM for one in boards)
