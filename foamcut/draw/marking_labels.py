"""Numbers beside points that crowd: no number on another, none on a point, off the lines where it can be.

mm on the page.  Places are tried round each point, near ones first; from a far one a thin line leads back.
"""

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from shapely import MultiLineString

from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import stroke_shape
from foamcut.draw.raster import touched
from foamcut.draw.values import Align, Line, Stroke, Text
from foamcut.flat.outline import Point, straight

Box = tuple[float, float, float, float]
_Squares = NDArray[np.bool_]

#: side of a square in which nothing else may stand, and room kept round a number, mm
_SQUARE_MM = 0.4
_ROUND_MM = 0.35
#: from a point to its number; beyond the last of the near ones a line leads back, mm
_NEAR_MM = (0.8, 1.4)
_FAR_MM = (2.6, 4.0, 5.5, 7.5, 10.0, 13.0)
_WAYS = 16


class Labels:
    """Room for numbers in a box round a drawing of these strokes; `place` takes some of it."""

    def __init__(self, room: Box, strokes: Sequence[Stroke]) -> None:
        x0, y0, x1, y1 = room
        self._x0, self._y0 = x0, y0
        columns, rows = (max(1, math.ceil(side / _SQUARE_MM)) for side in (x1 - x0, y1 - y0))
        self._lines = np.zeros((rows, columns), dtype=bool)
        shapes = [stroke_shape(stroke) for stroke in strokes if stroke.segments]
        if shapes:
            self._lines = touched(MultiLineString(shapes), x0, y0, columns, rows, _SQUARE_MM)
        self._taken = np.zeros((rows, columns), dtype=bool)

    def keep_free(self, at: Point) -> None:
        """No number may stand on this point."""
        self._take(self._along(at, at))

    def place(
        self, name: str, at: Point, height_mm: float, *, inside: bool = False
    ) -> tuple[Text, tuple[Stroke, ...]] | None:
        """The name beside a point, with the line that leads to it; None when all room is taken.

        `inside`: it may stand on the point itself.
        """
        half = text_width_mm(name, height_mm) / 2 + _ROUND_MM, height_mm / 2 + _ROUND_MM
        # whole squares that cover the box wherever it begins in one
        wide, high = (math.floor(2 * side / _SQUARE_MM) + 2 for side in half)
        left, low = at[0] - half[0] - self._x0, at[1] - half[1] - self._y0
        rows, columns = self._taken.shape
        for grid in (self._lines | self._taken, self._taken):
            for dx, dy, is_far in _offsets(half, inside):
                i, j = math.floor((left + dx) / _SQUARE_MM), math.floor((low + dy) / _SQUARE_MM)
                if i < 0 or j < 0 or i + wide > columns or j + high > rows:
                    continue
                if grid[j : j + high, i : i + wide].any():
                    continue
                x, y = at[0] + dx, at[1] + dy
                leader = None
                if is_far:
                    foot = (
                        min(max(at[0], x - half[0]), x + half[0]),
                        min(max(at[1], y - half[1]), y + half[1]),
                    )
                    if not self._is_clear(at, foot):
                        continue
                    leader = at, foot
                self._taken[j : j + high, i : i + wide] = True
                return self._put(name, (x, y), height_mm, leader)
        return None

    def _put(
        self, name: str, middle: Point, height_mm: float, leader: tuple[Point, Point] | None
    ) -> tuple[Text, tuple[Stroke, ...]]:
        text = Text(
            line=Line.DIMENSION,
            at=(middle[0], middle[1] - height_mm / 2),
            text=name,
            height_mm=height_mm,
            align=Align.MIDDLE,
        )
        if leader is None:
            return text, ()
        self._take(self._along(*leader))
        return text, (Stroke(line=Line.DIMENSION, segments=straight(leader)),)

    def _along(self, a: Point, b: Point) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Rows and columns of the squares of a line, from its start on."""
        steps = max(1, math.ceil(math.dist(a, b) / (_SQUARE_MM / 2)))
        share = np.arange(steps + 1) / steps
        i = np.floor((a[0] - self._x0 + (b[0] - a[0]) * share) / _SQUARE_MM).astype(np.intp)
        j = np.floor((a[1] - self._y0 + (b[1] - a[1]) * share) / _SQUARE_MM).astype(np.intp)
        rows, columns = self._taken.shape
        inside = (i >= 0) & (j >= 0) & (i < columns) & (j < rows)
        return j[inside], i[inside]

    def _is_clear(self, start: Point, end: Point) -> bool:
        """Whether a line from a point meets no number; where it starts the point itself is taken."""
        j, i = self._along(start, end)
        return not (self._taken[j, i] & ((j != j[0]) | (i != i[0]))).any() if len(j) else True

    def _take(self, squares: tuple[NDArray[np.intp], NDArray[np.intp]]) -> None:
        self._taken[squares] = True


@lru_cache(maxsize=256)  # numbers of as many digits have the same places
def _offsets(half: tuple[float, float], inside: bool) -> tuple[tuple[float, float, bool], ...]:
    """Middles of boxes round a point, near ones first, and whether a line has to lead back."""
    found = [(0.0, 0.0, False)] if inside else []
    for reach in (*_NEAR_MM, *_FAR_MM):
        for k in range(_WAYS):
            # up and right first, then on the other sides
            angle = math.pi / 4 + 2 * math.pi * k / _WAYS
            ways = math.cos(angle), math.sin(angle)
            out = min(
                (half[i] + reach) / abs(way) if abs(way) > 1e-9 else math.inf for i, way in enumerate(ways)
            )
            found.append((out * ways[0], out * ways[1], reach > _NEAR_MM[-1]))
    return tuple(found)
