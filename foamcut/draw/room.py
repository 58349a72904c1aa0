"""Free room on a part: where words fit without touching a line.

mm, the part's coordinates.  Places are found on squares of about 1 mm, counted as taken when anything
touches them, so that what is found is free.
"""

import math
from collections.abc import Sequence
from typing import Self

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.draw.raster import Squares, enclosed, summed, touched
from foamcut.flat.outline import Point

#: words keep this far from every line where they can, and this far at least, mm
WIDE_MM = 2.0
CLEARANCE_MM = 1.0
#: side of a square, mm: a share of the narrower extent, within limits; most squares along the longer side
_SQUARES_ACROSS = 24
_SQUARE_MM = (0.25, 0.75)
_MOST_SQUARES = 1200

#: lower left corner, columns and rows, side of a square
_Grid = tuple[float, float, int, int, float]


class FreeRoom:
    """What is free on a piece of sheet.  `take` makes it less; nothing else changes it."""

    def __init__(self, region: Polygon, lines: Sequence[BaseGeometry] = ()) -> None:
        self._region = region
        self._taken: list[BaseGeometry] = list(lines)
        self._squares: dict[float, tuple[_Grid, Squares]] = {}
        self._tables: dict[float, NDArray[np.int32]] = {}
        shapely.prepare(region)

    def copy(self) -> Self:
        """The same room, to try something in."""
        other = type(self)(self._region, self._taken)
        other._squares = dict(self._squares)
        other._tables = dict(self._tables)
        return other

    def take(self, shape: BaseGeometry) -> None:
        """Nothing else may lie here from now on."""
        self._taken.append(shape)
        self._tables.clear()
        for turn_deg, (grid, taken) in self._squares.items():
            self._squares[turn_deg] = grid, taken | touched(_turned_back(shape, turn_deg), *grid)

    def holds(self, box: Polygon) -> bool:
        """Whether a box lies on the sheet, whatever lies there already."""
        return bool(self._region.contains(box))

    def is_free(self, box: Polygon, clearance_mm: float = CLEARANCE_MM) -> bool:
        """Whether a box lies on the sheet and touches nothing."""
        wide = box.buffer(clearance_mm, join_style="mitre")
        return bool(self._region.contains(wide)) and not any(wide.intersects(shape) for shape in self._taken)

    def place(
        self,
        width_mm: float,
        height_mm: float,
        turn_deg: float,
        near: Point,
        clearance_mm: float = CLEARANCE_MM,
    ) -> Point | None:
        """Middle of the free rectangle of this size and turn that is nearest to a point; None without any.

        The rectangle keeps the clearance from all lines.
        """
        (x0, y0, _, _, square), table = self._table(turn_deg)
        columns, rows = (math.ceil((v + 2 * clearance_mm) / square) for v in (width_mm, height_mm))
        if columns >= table.shape[1] or rows >= table.shape[0]:
            return None
        upper, lower = table[rows:], table[:-rows]
        taken = upper[:, columns:] - upper[:, :-columns] - lower[:, columns:] + lower[:, :-columns]
        ys, xs = np.nonzero(taken == 0)
        if not len(xs):
            return None
        near_x, near_y = _turned(near, -turn_deg)
        # doubled and in whole squares, so that equal distances are equal
        off_x = 2 * xs + columns - round(2 * (near_x - x0) / square)
        off_y = 2 * ys + rows - round(2 * (near_y - y0) / square)
        best = int(np.argmin(off_x**2 + off_y**2))
        middle = x0 + (xs[best] + columns / 2) * square, y0 + (ys[best] + rows / 2) * square
        return _turned((float(middle[0]), float(middle[1])), turn_deg)

    def _table(self, turn_deg: float) -> tuple[_Grid, NDArray[np.int32]]:
        """The grid over the region turned back, and the table of its taken squares."""
        if turn_deg not in self._squares:
            region = _turned_back(self._region, turn_deg)
            x0, y0, x1, y1 = region.bounds
            finest, coarsest = _SQUARE_MM
            square = min(coarsest, max(finest, min(x1 - x0, y1 - y0) / _SQUARES_ACROSS))
            square = max(square, max(x1 - x0, y1 - y0) / _MOST_SQUARES)
            grid = x0, y0, math.ceil((x1 - x0) / square), math.ceil((y1 - y0) / square), square
            taken = ~enclosed(region, *grid)
            for shape in self._taken:
                taken |= touched(_turned_back(shape, turn_deg), *grid)
            self._squares[turn_deg] = grid, taken
        grid, taken = self._squares[turn_deg]
        if turn_deg not in self._tables:
            self._tables[turn_deg] = summed(taken)
        return grid, self._tables[turn_deg]


def _cos_sin(turn_deg: float) -> tuple[float, float]:
    quarter, rest = divmod(turn_deg % 360, 90)
    if not rest:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter)]
    return math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))


def _turned(point: Point, turn_deg: float) -> Point:
    cos, sin = _cos_sin(turn_deg)
    return point[0] * cos - point[1] * sin, point[0] * sin + point[1] * cos


def _turned_back(shape: BaseGeometry, turn_deg: float) -> BaseGeometry:
    cos, sin = _cos_sin(-turn_deg)
    matrix = np.array([[cos, sin], [-sin, cos]])
    return shapely.transform(shape, lambda points: points @ matrix)
