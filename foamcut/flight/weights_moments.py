"""Area, middle and second moments of flat shapes, many at once.  mm; the shapes' own x and y.

Method: Green's theorem along the rings, so that a polygon with holes is exact (the formulas for a polygon
stand in any table of second moments of area; from memory).
"""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

_POLYGON = 3  # shapely's number of that kind


def moments(shapes: Sequence[BaseGeometry]) -> np.ndarray:
    """Rows (n, 6), one a shape: area, x and y of the middle, mean of dx dx, of dy dy, of dx dy about it.

    What a shape holds besides polygons counts nothing; one without an area is a row of zeros.
    """
    found = np.zeros((len(shapes), 6))
    bits, owner = shapely.get_parts(np.array(shapes, dtype=object), return_index=True)
    polygons = (shapely.get_type_id(bits) == _POLYGON) & ~shapely.is_empty(bits)
    bits, owner = bits[polygons], owner[polygons]
    if not len(bits):
        return found
    rings, of_bit = shapely.get_rings(bits, return_index=True)
    outer = np.concatenate([[True], of_bit[1:] != of_bit[:-1]])
    points, of_ring = shapely.get_coordinates(rings, return_index=True)
    # sums about a near point keep their digits
    near = np.zeros((len(shapes), 2))
    near[owner] = shapely.get_coordinates(shapely.get_point(shapely.get_exterior_ring(bits), 0))
    points = points - near[owner[of_bit[of_ring]]]
    sums = _ring_sums(points, of_ring, len(rings))
    sums *= np.where(outer, 1.0, -1.0)[:, None] * np.sign(sums[:, :1])
    total = np.zeros((len(shapes), 6))
    np.add.at(total, owner[of_bit], sums)
    full = total[:, 0] > 0
    area = total[full, :1]
    x, y, xx, yy, xy = (total[full, 1:] / area).T
    found[full] = np.column_stack(
        [area, x + near[full, 0], y + near[full, 1], xx - x * x, yy - y * y, xy - x * y]
    )
    return found


def _ring_sums(points: np.ndarray, of_ring: np.ndarray, count: int) -> np.ndarray:
    """Integrals of 1, x, y, x x, y y and x y over each ring (count, 6), below 0 where it runs clockwise."""
    same = of_ring[1:] == of_ring[:-1]
    (x0, y0), (x1, y1), ring = points[:-1][same].T, points[1:][same].T, of_ring[1:][same]
    twice = x0 * y1 - x1 * y0
    columns = (
        twice / 2,
        (x0 + x1) * twice / 6,
        (y0 + y1) * twice / 6,
        (x0 * x0 + x0 * x1 + x1 * x1) * twice / 12,
        (y0 * y0 + y0 * y1 + y1 * y1) * twice / 12,
        (x0 * y1 + 2 * x0 * y0 + 2 * x1 * y1 + x1 * y0) * twice / 24,
    )
    return np.column_stack([np.bincount(ring, column, count) for column in columns])
