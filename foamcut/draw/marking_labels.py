"""Numbers beside points that crowd: no number on another, none on a point, off the lines where it can be.

mm on the page.  Places are tried round each point, near ones first; from a far one a thin line leads back.
"""

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

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
        for stroke in strokes:
            if stroke.segments:
                self._lines |= touched(stroke_shape(stroke), x0, y0, columns, rows, _SQUARE_MM)
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
        for grid in (self._lines | self._taken, self._taken):
            for dx, dy, is_far in _offsets(half, inside):
                x, y = at[0] + dx, at[1] + dy
                box = x - half[0], y - half[1], x + half[0], y + half[1]
                if not self._is_free(grid, box):
                    continue
                leader = None
                if is_far:
                    leader = at, (min(max(at[0], box[0]), box[2]), min(max(at[1], box[1]), box[3]))
                    if not self._is_clear(*leader):
                        continue
                return self._put(name, (x, y), height_mm, box, leader)
        return None

    def _put(
        self, name: str, middle: Point, height_mm: float, box: Box, leader: tuple[Point, Point] | None
    ) -> tuple[Text, tuple[Stroke, ...]]:
        i0, j0, i1, j1 = self._squares(box)
        self._taken[j0 : j1 + 1, i0 : i1 + 1] = True
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

    def _squares(self, box: Box) -> tuple[int, int, int, int]:
        x0, y0, x1, y1 = box
        return (
            math.floor((x0 - self._x0) / _SQUARE_MM),
            math.floor((y0 - self._y0) / _SQUARE_MM),
            math.floor((x1 - self._x0) / _SQUARE_MM),
            math.floor((y1 - self._y0) / _SQUARE_MM),
        )

    def _is_free(self, grid: _Squares, box: Box) -> bool:
        i0, j0, i1, j1 = self._squares(box)
        rows, columns = grid.shape
        if i0 < 0 or j0 < 0 or i1 >= columns or j1 >= rows:
            return False
        return not grid[j0 : j1 + 1, i0 : i1 + 1].any()

    def _along(self, a: Point, b: Point) -> list[tuple[int, int]]:
        """The squares of a line, from its start on."""
        rows, columns = self._taken.shape
        steps = max(1, math.ceil(math.dist(a, b) / (_SQUARE_MM / 2)))
        found = []
        for k in range(steps + 1):
            i = math.floor((a[0] + (b[0] - a[0]) * k / steps - self._x0) / _SQUARE_MM)
            j = math.floor((a[1] + (b[1] - a[1]) * k / steps - self._y0) / _SQUARE_MM)
            if 0 <= j < rows and 0 <= i < columns:
                found.append((j, i))
        return found

    def _is_clear(self, start: Point, end: Point) -> bool:
        """Whether a line from a point meets no number; where it starts the point itself is taken."""
        squares = self._along(start, end)
        own = squares[0] if squares else None
        return not any(self._taken[square] for square in squares if square != own)

    def _take(self, squares: Sequence[tuple[int, int]]) -> None:
        for square in squares:
            self._taken[square] = True


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
