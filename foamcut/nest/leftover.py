"""The largest rectangle that a sheet keeps in one piece, to be cut from another day.

It may lie in the margin, which is board like any other, and keeps the gap off every piece, bed rectangle and
register hole; the holes of a piece are no room.  Lengths are whole nanometres unless a name says mm.

Method: all that is in the way is drawn on a grid, in which a cell counts as free only when nothing reaches
into it; the largest rectangles of free cells are found row by row, keeping for each cell how far up and to
both sides the cells are free (from memory, a textbook exercise).  Then the sides of the best few are pushed
out from the grid to the true lines.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import islice

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from foamcut.flat.stock import Stock
from foamcut.nest.register import HOLE_MM
from foamcut.nest.rooms import NM_PER_MM, nanometres
from foamcut.nest.values import Kind, Layout, Left, Sheet

#: what is narrower is scrap, mm: hardly a part of a model is cut from it (common practice, no source)
USEFUL_MM = 50.0
#: chords to a quarter circle round a corner: less than 0.001 mm off at a gap of 10 mm
_CHORDS = 64
#: cells of the grid at most; beyond, a cell is two or more steps wide
_MOST_CELLS = 1_500_000
#: rectangles of the grid whose sides are pushed out
_TRIED = 16
#: what lines may reach into a cell or a strip, nm: rounding, far below what a knife does
_SLIGHT = 10
#: what the gap may lack, mm: as much as everywhere in a layout
_ROOM_MM = 0.001

#: x0, y0, x1, y1, whole numbers
Box = tuple[int, int, int, int]
#: (n, 4) floats: x0, y0, x1, y1 of lines
Lines = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


def with_left(layout: Layout, step_mm: float = 1.0) -> Layout:
    """The layout with `Sheet.left` of the new board with the least on it, the last of equals; of no other."""
    areas = [
        (round(sum(placed.outline.area for placed in sheet.placed) * NM_PER_MM), -i)
        for i, sheet in enumerate(layout.sheets)
        if sheet.kind is Kind.NEW
    ]
    chosen = -min(areas)[1] if areas else None
    sheets = (
        replace(sheet, left=largest_left(sheet, layout.stock, step_mm) if i == chosen else None)
        for i, sheet in enumerate(layout.sheets)
    )
    return replace(layout, sheets=tuple(sheets))


def largest_left(sheet: Sheet, stock: Stock, step_mm: float = 1.0) -> Left | None:
    """The largest upright rectangle of the sheet that keeps the gap off everything on it.

    Width and height are whole steps, rounded down.  None: the best is narrower than `USEFUL_MM`, or has no
    room inside its own margin.  Of equal ones the lowest is taken, then the leftmost.
    """
    things = _things(sheet)
    near = [shape.buffer(stock.gap_mm, quad_segs=_CHORDS) for shape in things] if stock.gap_mm else things
    step = nanometres(step_mm)
    board, taken = _lines([sheet.outline.polygon]), _lines(near)
    width, height = nanometres(sheet.width_mm), nanometres(sheet.height_mm)
    cell = step * max(1, math.ceil(math.sqrt(width * height / step**2 / _MOST_CELLS)))
    shape = height // cell, width // cell
    free = _inside(board, cell, shape) & ~_reached(taken, cell, shape)
    lines = np.concatenate([board, taken])
    useful = max(nanometres(USEFUL_MM), 2 * nanometres(stock.margin_mm) + 1)
    wide = -(-useful // cell)
    # those that are useful on the grid, and those that only come to it pushed out
    found = {
        box
        for least in (wide, wide - 2)
        for x0, y0, x1, y1 in _rectangles(free, least)
        for box in _pushed_out((x0 * cell, y0 * cell, x1 * cell, y1 * cell), lines, step, (width, height))
    }
    for x0, y0, x1, y1 in sorted(found, key=lambda b: ((b[0] - b[2]) * (b[3] - b[1]), b[1], b[0])):
        if min(x1 - x0, y1 - y0) < useful:
            continue
        box = shapely.box(x0 / NM_PER_MM, y0 / NM_PER_MM, x1 / NM_PER_MM, y1 / NM_PER_MM)
        if _is_free(box, sheet, things, stock.gap_mm):
            corner = x0 / NM_PER_MM, y0 / NM_PER_MM
            return Left(corner=corner, width_mm=(x1 - x0) / NM_PER_MM, height_mm=(y1 - y0) / NM_PER_MM)
    return None


def _things(sheet: Sheet) -> list[Polygon]:
    """All that the gap is kept off."""
    things = [Polygon(placed.outline.polygon.exterior) for placed in sheet.placed]
    for bed in sheet.beds:
        x, y = bed.corner
        things.append(shapely.box(x, y, x + bed.width_mm, y + bed.height_mm))
    holes = (shapely.Point(at).buffer(HOLE_MM / 2, quad_segs=_CHORDS) for at in sheet.register)
    return [*things, *holes]


def _is_free(box: Polygon, sheet: Sheet, things: Sequence[Polygon], gap_mm: float) -> bool:
    core = box.buffer(-_ROOM_MM, join_style="mitre")
    near = any(core.intersects(thing) or box.distance(thing) < gap_mm - _ROOM_MM for thing in things)
    return bool(sheet.outline.polygon.covers(core)) and not near


def _lines(polygons: Iterable[Polygon]) -> Lines:
    """The lines of all rings in nm, outer rings counter-clockwise, holes clockwise."""
    found = [np.empty((0, 4))]
    for polygon in polygons:
        turned = shapely.orient_polygons(polygon)
        for ring in (turned.exterior, *turned.interiors):
            points = np.rint(shapely.get_coordinates(ring) * NM_PER_MM)
            found.append(np.hstack([points[:-1], points[1:]]))
    return np.concatenate(found)


def _inside(board: Lines, cell: int, shape: tuple[int, int]) -> Flags:
    """Cells that lie wholly in the outline."""
    return (_winding(board, cell, shape) > 0) & ~_touched(board, cell, shape)


def _reached(taken: Lines, cell: int, shape: tuple[int, int]) -> Flags:
    """Cells that something reaches into."""
    return (_winding(taken, cell, shape) > 0) | _touched(taken, cell, shape)


def _winding(lines: Lines, cell: int, shape: tuple[int, int]) -> Ints:
    """How often rings go round the middle of each cell."""
    rows, columns = shape
    low, high = (np.ceil(side(lines[:, 1], lines[:, 3]) / cell - 0.5) for side in (np.minimum, np.maximum))
    which, row = _each_row(low, high, rows)
    x0, y0, x1, y1 = lines[which].T
    x = x0 + (x1 - x0) * (((row + 0.5) * cell - y0) / (y1 - y0))
    column = np.clip(np.ceil(x / cell - 0.5), 0, columns).astype(np.int64)
    return _summed(row, column, np.where(y1 < y0, 1, -1), shape)


def _touched(lines: Lines, cell: int, shape: tuple[int, int]) -> Flags:
    """Cells that lines pass through the inside of."""
    slight = _SLIGHT / cell
    low, high = np.minimum(lines[:, 1], lines[:, 3]) / cell, np.maximum(lines[:, 1], lines[:, 3]) / cell
    which, row = _each_row(np.floor(low + slight), np.ceil(high - slight), shape[0])
    first, last = _reach(lines[which], (row * cell).astype(np.float64), ((row + 1) * cell).astype(np.float64))
    begin = np.clip(np.floor(first / cell + slight), 0, shape[1]).astype(np.int64)
    end = np.clip(np.ceil(last / cell - slight), 0, shape[1]).astype(np.int64)
    some = begin < end
    ones = np.ones(some.sum(), dtype=np.int64)
    starts, ends = _summed(row[some], begin[some], ones, shape), _summed(row[some], end[some], ones, shape)
    return starts > ends


def _each_row(low: Lines, high: Lines, rows: int) -> tuple[Ints, Ints]:
    """For each row that lines reach into, from `low` to before `high`: the line's index and the row."""
    first, last = np.clip(low, 0, rows).astype(np.int64), np.clip(high, 0, rows).astype(np.int64)
    counts = np.maximum(last - first, 0)
    which = np.repeat(np.arange(len(counts)), counts)
    return which, np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts - first, counts)


def _summed(row: Ints, column: Ints, what: Ints, shape: tuple[int, int]) -> Ints:
    """For each cell the sum of what stands in its row in its own column and those before."""
    wide = shape[1] + 1
    sums = np.bincount(row * wide + column, weights=what, minlength=shape[0] * wide)
    return np.cumsum(sums.reshape(shape[0], wide)[:, :-1], axis=1).astype(np.int64)


def _reach(lines: Lines, low: Lines | float, high: Lines | float) -> tuple[Lines, Lines]:
    """Lowest and highest x of what of each line lies between two heights; some of it does."""
    x0, y0, x1, y1 = lines.T
    rise = np.where(y1 == y0, 1.0, y1 - y0)
    from_x = np.where(y1 == y0, x0, x0 + (x1 - x0) * ((np.clip(y0, low, high) - y0) / rise))
    to_x = np.where(y1 == y0, x1, x0 + (x1 - x0) * ((np.clip(y1, low, high) - y0) / rise))
    return np.minimum(from_x, to_x), np.maximum(from_x, to_x)


def _rectangles(free: Flags, least: int) -> list[Box]:
    """The largest rectangle of free cells, `least` wide either way, and those that could come out larger.

    At most one for each highest row.  None can gain a whole cell on any side.
    """
    rows, columns = free.shape
    at = np.arange(columns)
    before = np.maximum.accumulate(np.where(free, 0, at + 1), axis=1)
    behind = np.minimum.accumulate(np.where(free, columns, at)[:, ::-1], axis=1)[:, ::-1]
    tall, left, right = np.zeros(columns, np.int64), np.zeros(columns, np.int64), np.full(columns, columns)
    found = []
    for row in range(rows):
        is_free = free[row]
        tall = (tall + 1) * is_free
        left = np.where(is_free, np.maximum(left, before[row]), 0)
        right = np.where(is_free, np.minimum(right, behind[row]), columns)
        areas = tall * (right - left) * (np.minimum(tall, right - left) >= least)
        best = int(areas.argmax()) if columns else 0
        if not columns or not areas[best]:
            continue
        x0, x1 = int(left[best]), int(right[best])
        # one that goes on in the next row is found there, larger
        if row + 1 == rows or not free[row + 1, x0:x1].all():
            found.append((-int(areas[best]), (x0, row + 1 - int(tall[best]), x1, row + 1)))
    most = -min(found)[0] if found else 0
    could = (box for _, box in sorted(found) if (box[2] - box[0] + 2) * (box[3] - box[1] + 2) > most)
    return list(islice(could, _TRIED))


def _pushed_out(box: Box, lines: Lines, step: int, size: tuple[int, int]) -> Iterator[Box]:
    """The rectangle with its sides on the nearest lines, in whole steps: x first, and y first."""
    (x0, x1), (y0, y1) = (box[0], box[2]), (box[1], box[3])
    across = lines[:, [1, 0, 3, 2]]
    wide = _between((x0, x1), (y0, y1), lines, step, size[0])
    high = _between((y0, y1), wide, across, step, size[1])
    yield wide[0], high[0], wide[1], high[1]
    high = _between((y0, y1), (x0, x1), across, step, size[1])
    wide = _between((x0, x1), high, lines, step, size[0])
    yield wide[0], high[0], wide[1], high[1]


def _between(
    span: tuple[int, int], strip: tuple[int, int], lines: Lines, step: int, end: int
) -> tuple[int, int]:
    """A span along x as long as a strip of y lets it be, in whole steps; at the sheet's end it stays."""
    low, high = strip[0] + _SLIGHT, strip[1] - _SLIGHT
    within = (np.minimum(lines[:, 1], lines[:, 3]) < high) & (np.maximum(lines[:, 1], lines[:, 3]) > low)
    first, last = _reach(lines[within], float(low), float(high))
    before, behind = last[last <= span[0] + _SLIGHT], first[first >= span[1] - _SLIGHT]
    start = math.ceil(before.max(initial=0.0))
    stop = math.floor(behind.min(initial=float(end)))
    length = (stop - start + _SLIGHT) // step * step
    return (stop - length, stop) if stop == end and start else (start, start + length)


def free_area(room: Box, obstacles: Sequence[Box]) -> int:
    """Area of the largest upright rectangle inside a room that shares no inside with any obstacle.

    Exact.  Its left side lies on the room's or on an obstacle's right side; from each such side the sweep
    goes right, and every obstacle on the way cuts what is still open up and down, or splits it.
    """
    x0, y0, x1, y1 = room
    boxes = sorted(b for b in obstacles if max(x0, b[0]) < min(x1, b[2]) and max(y0, b[1]) < min(y1, b[3]))
    best = 0
    for left in sorted({x0, *(box[2] for box in boxes if box[2] < x1)}):
        most = x1 - left
        if most * (y1 - y0) <= best:
            break
        spans = [(y0, y1)]
        for near, low, far, high in boxes:
            if far <= left:
                continue
            still = []
            for below, above in spans:
                if low >= above or high <= below:
                    still.append((below, above))
                    continue
                best = max(best, (near - left) * (above - below))
                still += [s for s in ((below, low), (high, above)) if (s[1] - s[0]) * most > best]
            spans = still
            if not spans:
                break
        best = max([best, *(most * (above - below) for below, above in spans)])
    return best
