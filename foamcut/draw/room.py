"""Free room on a part: where words fit without touching a line.

mm, the part's coordinates.  Places are found on squares of about 1 mm, counted as taken when anything
touches them, so that what is found is free.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Self

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.draw.raster import Squares, enclosed, is_of_lines, touched
from foamcut.flat.outline import Point

#: words keep this far from every line where they can, and this far at least, mm
WIDE_MM = 2.0
CLEARANCE_MM = 1.0
#: side of a square, mm: a share of the narrower extent, within limits; most squares along the longer side
_SQUARES_ACROSS = 24
_SQUARE_MM = (0.25, 0.75)
_MOST_SQUARES = 1200

#: a box is tried first with this much less clearance, mm: what fails then fails in any case
_HAIR_MM = 1e-6

#: lower left corner, columns and rows, side of a square
_Grid = tuple[float, float, int, int, float]


@dataclass(frozen=True, slots=True)
class _View:
    """A grid over the region turned back, and what is free of it after the first `known` shapes.

    `free` has a bit for each square, row by row from the lowest, `stride` bits each; those beyond the
    columns are 0.
    """

    grid: _Grid
    taken: Squares
    known: int
    free: int

    @classmethod
    def of(cls, grid: _Grid, taken: Squares, known: int) -> Self:
        """With the bits of what is taken."""
        rows, columns = taken.shape
        squares = np.zeros((rows, _stride(columns)), dtype=bool)
        np.logical_not(taken, out=squares[:, :columns])
        bits = np.packbits(squares, bitorder="little")
        return cls(grid, taken, known, int.from_bytes(bits.tobytes(), "little"))


class FreeRoom:
    """What is free on a piece of sheet.  `take` makes it less; nothing else changes it."""

    def __init__(self, region: Polygon, lines: Sequence[BaseGeometry] = ()) -> None:
        self._region = region
        self._taken: list[BaseGeometry] = list(lines)
        self._views: dict[float, _View] = {}
        self._whole: FreeRoom | None = None
        self._whole_known = 0
        self._boxes: tuple[int, BaseGeometry, list[BaseGeometry]] | None = None
        shapely.prepare(region)

    def copy(self) -> Self:
        """The same room, to try something in."""
        other = type(self)(self._region, self._taken)
        other._views = dict(self._views)
        other._whole, other._whole_known = self, len(self._taken)
        return other

    def take(self, shape: BaseGeometry) -> None:
        """Nothing else may lie here from now on."""
        self._taken.append(shape)

    def holds(self, box: Polygon) -> bool:
        """Whether a box lies on the sheet, whatever lies there already."""
        return bool(self._region.contains(box))

    def is_free(self, box: Polygon, clearance_mm: float = CLEARANCE_MM) -> bool:
        """Whether a box lies on the sheet and touches nothing."""
        wide = box.buffer(clearance_mm, join_style="mitre")
        return bool(self._region.contains(wide)) and not any(wide.intersects(shape) for shape in self._taken)

    def likely(
        self,
        places: Sequence[tuple[Point, float]],
        size_mm: tuple[float, float],
        clearances_mm: Sequence[float],
    ) -> list[int]:
        """Which of some boxes may be free, by their index: `is_free` is false for all others.

        Parameters
        ----------
        places
            Middle of each box and its turn in degrees.
        size_mm
            Width, along the turn, and height of all.
        clearances_mm
            Of each box.
        """
        if not places:
            return []
        middles, angles = np.array([at for at, _ in places]), np.radians([turn for _, turn in places])
        cos, sin = np.cos(angles)[:, None], np.sin(angles)[:, None]
        beyond = np.array(clearances_mm)[:, None] - _HAIR_MM
        along, across = ((side / 2 + beyond) * signs for side, signs in zip(size_mm, _SIDES, strict=True))
        corners = np.empty((len(places), _SIDES.shape[1], 2))
        corners[:, :, 0] = middles[:, :1] + along * cos - across * sin
        corners[:, :, 1] = middles[:, 1:] + along * sin + across * cos
        boxes = shapely.polygons(corners)
        left = np.flatnonzero(shapely.contains(self._region, boxes))
        lines, others = self._obstacles()
        for shape in (lines, *others):
            if not len(left):
                break
            left = left[~shapely.intersects(shape, boxes[left])]
        return [int(i) for i in left]

    def _obstacles(self) -> tuple[BaseGeometry, list[BaseGeometry]]:
        """All lines that are taken as one, and the other shapes."""
        if self._boxes is None or self._boxes[0] != len(self._taken):
            lines, others = _lines_and_others(self._taken)
            shapely.prepare(lines)
            self._boxes = len(self._taken), lines, others
        return self._boxes[1], self._boxes[2]

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
        view = self._at_turn(turn_deg)
        x0, y0, most_columns, most_rows, square = view.grid
        columns, rows = (math.ceil((v + 2 * clearance_mm) / square) for v in (width_mm, height_mm))
        if columns > most_columns or rows > most_rows:
            return None
        stride = _stride(most_columns)
        # the lower left squares of rectangles that are free
        starts = _in_a_row(_in_a_row(view.free, columns, 1), rows, stride)
        if not starts:
            return None
        near_x, near_y = _turned(near, -turn_deg)
        # doubled and in whole squares, so that equal distances are equal
        off_x = columns - round(2 * (near_x - x0) / square)
        off_y = rows - round(2 * (near_y - y0) / square)
        column, row = _nearest(starts.to_bytes(most_rows * stride // 8, "little"), stride // 8, off_x, off_y)
        middle = x0 + (column + columns / 2) * square, y0 + (row + rows / 2) * square
        return _turned(middle, turn_deg)

    def _at_turn(self, turn_deg: float) -> _View:
        """What is free by now of the grid over the region turned back."""
        view = self._views.get(turn_deg)
        if view is None and self._whole and len(self._whole._taken) == self._whole_known:
            # what this is a copy of can tell the next copy, too
            view = self._whole._at_turn(turn_deg)
        if view is None:
            view = self._first_at_turn(turn_deg)
        if view.known < len(self._taken):
            taken = view.taken.copy()
            for shape in self._taken[view.known :]:
                taken |= touched(_turned_back(shape, turn_deg), *view.grid)
            view = _View.of(view.grid, taken, len(self._taken))
        self._views[turn_deg] = view
        return view

    def _first_at_turn(self, turn_deg: float) -> _View:
        region = _turned_back(self._region, turn_deg)
        x0, y0, x1, y1 = region.bounds
        finest, coarsest = _SQUARE_MM
        square = min(coarsest, max(finest, min(x1 - x0, y1 - y0) / _SQUARES_ACROSS))
        square = max(square, max(x1 - x0, y1 - y0) / _MOST_SQUARES)
        grid = x0, y0, math.ceil((x1 - x0) / square), math.ceil((y1 - y0) / square), square
        lines, others = _lines_and_others(self._taken)
        taken = ~enclosed(region, *grid, _turned_back(lines, turn_deg))
        for shape in others:
            taken |= touched(_turned_back(shape, turn_deg), *grid)
        return _View.of(grid, taken, len(self._taken))


def _nearest(starts: bytes, stride: int, off_x: int, off_y: int) -> tuple[int, int]:
    """Column and row of the bit that is nearest: whose doubled column plus `off_x` and row alike are least.

    Bits stand in rows of `stride` bytes, one of them at least is set.  Of bits as near the first is taken.
    """
    wanted = max(-1, -off_x // 2)
    below = (2 << wanted) - 1 if wanted >= 0 else 0
    best: tuple[int, int, int] | None = None
    for row in _outwards(len(starts) // stride, off_y):
        away = (2 * row + off_y) ** 2
        if best and away > best[0]:
            break
        bits = int.from_bytes(starts[row * stride : (row + 1) * stride], "little")
        lower, upper = bits & below, bits & ~below
        if lower:
            column = lower.bit_length() - 1
            found = away + (2 * column + off_x) ** 2, row, column
            best = min(best, found) if best else found
        if upper:
            column = (upper & -upper).bit_length() - 1
            found = away + (2 * column + off_x) ** 2, row, column
            best = min(best, found) if best else found
    if best is None:
        raise ValueError("no bit is set")
    return best[2], best[1]


def _outwards(rows: int, off_y: int) -> Iterator[int]:
    """All rows, those first whose double plus `off_y` is nearest to 0."""
    down = min(rows - 1, max(-1, -off_y // 2))
    up = down + 1
    while down >= 0 or up < rows:
        if up >= rows or (down >= 0 and abs(2 * down + off_y) <= abs(2 * up + off_y)):
            yield down
            down -= 1
        else:
            yield up
            up += 1


#: signs of the corners of a box along and across, the first told again at the end
_SIDES = np.array([[-1.0, 1.0, 1.0, -1.0, -1.0], [-1.0, -1.0, 1.0, 1.0, -1.0]])


def _lines_and_others(shapes: Sequence[BaseGeometry]) -> tuple[BaseGeometry, list[BaseGeometry]]:
    lines = [shape for shape in shapes if is_of_lines(shape)]
    others = [shape for shape in shapes if not is_of_lines(shape)]
    return shapely.multilinestrings(shapely.get_parts(lines)), others


def _stride(columns: int) -> int:
    """Bits of a row: whole bytes, and one bit at least beyond the columns to part it from the next."""
    return (columns // 8 + 1) * 8


def _in_a_row(bits: int, count: int, step: int) -> int:
    """The bits from which on `count` are set in a row, `step` apart, in as few turns as doubling takes."""
    have = 1
    while bits and have * 2 <= count:
        bits &= bits >> (have * step)
        have *= 2
    return bits & (bits >> ((count - have) * step)) if bits and count > have else bits


def _cos_sin(turn_deg: float) -> tuple[float, float]:
    quarter, rest = divmod(turn_deg % 360, 90)
    if not rest:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    return math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))


def _turned(point: Point, turn_deg: float) -> Point:
    cos, sin = _cos_sin(turn_deg)
    return point[0] * cos - point[1] * sin, point[0] * sin + point[1] * cos


def _turned_back(shape: BaseGeometry, turn_deg: float) -> BaseGeometry:
    if not turn_deg:
        return shape
    cos, sin = _cos_sin(-turn_deg)
    matrix = np.array([[cos, sin], [-sin, cos]])
    return shapely.transform(shape, lambda points: points @ matrix)
