"""Numbers beside points that crowd: no number on another, none on a point, off the lines where it can be.

mm on the page.  Places are tried round each point, near ones first; from a far one a thin line leads back.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

import numpy as np
from shapely import MultiLineString

from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import stroke_shape
from foamcut.draw.raster import touched
from foamcut.draw.values import Align, Line, Stroke, Text
from foamcut.flat.outline import Point, straight

Box = tuple[float, float, float, float]

#: side of a square in which nothing else may stand, and room kept round a number, mm
_SQUARE_MM = 0.4
_ROUND_MM = 0.35
#: from a point to its number; beyond the last of the near ones a line leads back, mm
_NEAR_MM = (0.8, 1.4)
_FAR_MM = (2.6, 4.0, 5.5, 7.5, 10.0, 13.0)
_WAYS = 16
#: a line is followed in steps of this share of a square
_STEP = 0.7


class Labels:
    """Room for numbers in a box round a drawing of these strokes; `place` takes some of it."""

    def __init__(self, room: Box, strokes: Sequence[Stroke]) -> None:
        x0, y0, x1, y1 = room
        self._x0, self._y0 = x0, y0
        columns, rows = (max(1, math.ceil(side / _SQUARE_MM)) for side in (x1 - x0, y1 - y0))
        self._columns = columns
        # a whole number for each row of squares, with a bit for each that is taken
        self._taken = [0] * rows
        self._lines = [0] * rows
        shapes = [stroke_shape(stroke) for stroke in strokes if stroke.segments]
        if shapes:
            squares = touched(MultiLineString(shapes), x0, y0, columns, rows, _SQUARE_MM)
            packed = np.packbits(squares, axis=1, bitorder="little")
            self._lines = [int.from_bytes(row.tobytes(), "little") for row in packed]
        # both in one, kept up with what is taken
        self._both = list(self._lines)

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
        mask, last_column, last_row = (1 << wide) - 1, self._columns - wide, len(self._taken) - high
        for grid in (self._both, self._taken):
            for dx, dy, is_far in _offsets(half, inside):
                i, j = math.floor((left + dx) / _SQUARE_MM), math.floor((low + dy) / _SQUARE_MM)
                if not (0 <= i <= last_column and 0 <= j <= last_row):
                    continue
                box = mask << i
                if _meets(grid[j : j + high], box):
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
                for k in range(j, j + high):
                    self._taken[k] |= box
                    self._both[k] |= box
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

    def _along(self, a: Point, b: Point) -> Iterator[tuple[int, int]]:
        """Row and bit of the squares of a line, from its start on; some more than once."""
        steps = max(1, math.ceil(math.dist(a, b) / (_SQUARE_MM * _STEP)))
        x, y = (a[0] - self._x0) / _SQUARE_MM, (a[1] - self._y0) / _SQUARE_MM
        dx, dy = (b[0] - a[0]) / _SQUARE_MM / steps, (b[1] - a[1]) / _SQUARE_MM / steps
        columns, rows = self._columns, len(self._taken)
        for k in range(steps + 1):
            i, j = int(x + dx * k), int(y + dy * k)
            if 0 <= i < columns and 0 <= j < rows:
                yield j, 1 << i

    def _is_clear(self, start: Point, end: Point) -> bool:
        """Whether a line from a point meets no number; where it starts the point itself is taken."""
        own = next(self._along(start, start), None)
        return not any(self._taken[j] & bit for j, bit in self._along(start, end) if (j, bit) != own)

    def _take(self, squares: Iterable[tuple[int, int]]) -> None:
        for j, bit in squares:
            self._taken[j] |= bit
            self._both[j] |= bit


def _meets(rows: Sequence[int], box: int) -> bool:
    # asked so often that a loop, which is quicker than `any`, pays
    for row in rows:  # noqa: SIM110
        if row & box:
            return True
    return False


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
