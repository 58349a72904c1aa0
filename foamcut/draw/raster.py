"""Which squares of a grid a shape touches.

Errs on one side: a square that the shape only touches with its edge counts.  Every edge of the shape is
followed from square to square, so that the work grows with the length of the edge and not with the area.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Squares = NDArray[np.bool_]
_Numbers = NDArray[np.float64]
_Places = NDArray[np.int64]

#: nearer to a side of a square than this, in squares, and it is asked exactly whether an edge meets it
_NEAR = 1e-6
#: a side that rises by less, in squares, is level; four corners that turn by less are no box
_LEVEL = 0.01
#: corners of a box, the first told again at the end
_CORNERS_OF_BOX = 5


def touched(geometry: BaseGeometry, x0: float, y0: float, columns: int, rows: int, step: float) -> Squares:
    """For each square of a grid from (x0, y0), whether the shape meets it.

    Parameters
    ----------
    geometry
        Polygons, or lines, not both in one.
    columns, rows, step
        Number of squares along x and y, and their side in mm.

    Returns an array [row, column], row 0 lowest.
    """
    if is_of_lines(geometry):
        return _on_lines(geometry, x0, y0, columns, rows, step)
    quick = _of_box(geometry, x0, y0, columns, rows, step)
    if quick is not None:
        return quick
    edge = _on_lines(_edges(geometry), x0, y0, columns, rows, step)
    return edge | _between(edge, geometry, x0, y0, step)


def enclosed(
    geometry: BaseGeometry,
    x0: float,
    y0: float,
    columns: int,
    rows: int,
    step: float,
    lines: BaseGeometry | None = None,
) -> Squares:
    """For each square of a grid, whether it lies in the polygons without meeting their edge; as `touched`.

    Nor does it meet any of the `lines`.
    """
    every = _edges(geometry)
    if lines is not None:
        every = shapely.multilinestrings([*shapely.get_parts(every), *shapely.get_parts(lines)])
    edge = _on_lines(every, x0, y0, columns, rows, step)
    return _between(edge, geometry, x0, y0, step)


def summed(squares: Squares) -> NDArray[np.int32]:
    """Table whose entry [j, i] is the number of true squares below row j and left of column i."""
    table = np.zeros((squares.shape[0] + 1, squares.shape[1] + 1), dtype=np.int32)
    table[1:, 1:] = squares.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)
    return table


def is_of_lines(geometry: BaseGeometry) -> bool:
    """Whether a shape is made of lines and not of polygons."""
    return geometry.geom_type in ("LineString", "LinearRing", "MultiLineString")


def _of_box(
    geometry: BaseGeometry, x0: float, y0: float, columns: int, rows: int, step: float
) -> Squares | None:
    """The squares that a convex shape of four corners meets: in each row those from its left to its right.

    None for any other shape, for one that leaves the grid, and where a corner or a side is too near to a
    side of a square to tell.
    """
    if geometry.geom_type != "Polygon" or shapely.get_num_coordinates(geometry) != _CORNERS_OF_BOX:
        return None
    corners = [((x - x0) / step, (y - y0) / step) for x, y in shapely.get_coordinates(geometry).tolist()]
    us, vs = zip(*corners, strict=True)
    if min(us) < 0 or min(vs) < 0 or max(us) >= columns or max(vs) >= rows or not _is_convex(corners):
        return None
    if any(_is_near(v) for v in vs):
        return None
    sides = min(us), max(us), min(vs), max(vs)
    if all(_is_along(u, *sides[:2]) and _is_along(v, *sides[2:]) for u, v in corners):
        if any(map(_is_near, sides)):
            return None
        left, right, low, high = map(math.floor, sides)
        squares = np.zeros((rows, columns), dtype=bool)
        squares[low : high + 1, left : right + 1] = True
        return squares
    return _of_turned_box(corners, columns, rows)


def _is_along(value: float, low: float, high: float) -> bool:
    """Whether a corner of a box lies on one of its two sides: much nearer to it than `_NEAR`."""
    return min(value - low, high - value) < _NEAR / 10


def _of_turned_box(corners: Sequence[tuple[float, float]], columns: int, rows: int) -> Squares | None:
    """As `_of_box`, of corners within the grid, in squares, that may lie askew."""
    us, vs = zip(*corners, strict=True)
    low, high = math.floor(min(vs)), math.floor(max(vs))
    levels = np.arange(low, high + 1, dtype=np.float64)
    left, right = np.full(len(levels), math.inf), np.full(len(levels), -math.inf)
    for end, other in pairwise(corners):
        (u0, v0), (u1, v1) = (end, other) if end[1] <= other[1] else (other, end)
        first, last = math.floor(v0), math.floor(v1)
        if v1 - v0 < _LEVEL and first != last:
            return None
        rows_met = slice(first - low, last - low + 1)
        met: tuple[float | _Numbers, ...] = u0, u1
        if v1 - v0 >= _LEVEL:
            slope, level = (u1 - u0) / (v1 - v0), levels[rows_met]
            met = tuple(u0 + slope * (at - v0) for at in (np.maximum(v0, level), np.minimum(v1, level + 1)))
        for place in met:
            left[rows_met] = np.minimum(left[rows_met], place)
            right[rows_met] = np.maximum(right[rows_met], place)
    ends = np.concatenate((left, right))
    if (np.abs(ends - np.rint(ends)) < _NEAR).any():
        return None
    squares = np.zeros((rows, columns), dtype=bool)
    start, stop = math.floor(min(us)), math.floor(max(us)) + 1
    places = np.arange(start, stop)
    from_left = places >= np.floor(left)[:, None]
    squares[low : high + 1, start:stop] = from_left & (places <= right[:, None])
    return squares


def _is_convex(corners: Sequence[tuple[float, float]]) -> bool:
    """Whether a closed line of four corners turns the same way at all of them."""
    sides = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(corners)]
    turns = [p[0] * q[1] - p[1] * q[0] for p, q in pairwise((*sides, sides[0]))]
    return min(turns) > _LEVEL or max(turns) < -_LEVEL


def _is_near(value: float) -> bool:
    """Whether a place, in squares, is too near to a side of a square to tell on which side it lies."""
    return abs(value - round(value)) < _NEAR


def _edges(polygons: BaseGeometry) -> BaseGeometry:
    return shapely.multilinestrings(shapely.get_rings(shapely.get_parts(polygons)))


def _on_lines(lines: BaseGeometry, x0: float, y0: float, columns: int, rows: int, step: float) -> Squares:
    squares = np.zeros((rows, columns), dtype=bool)
    if lines.is_empty or not rows or not columns:
        return squares
    (c0, c1), (r0, r1) = _window(lines, x0, y0, columns, rows, step)
    if c0 >= c1 or r0 >= r1:
        return squares
    points, of_line = shapely.get_coordinates(shapely.get_parts(lines), return_index=True)
    joined = of_line[1:] == of_line[:-1]
    starts, stops = points[:-1][joined], points[1:][joined]
    level = (starts == stops).any(axis=1)
    if level.any():
        _fill(squares, starts[level], stops[level], x0, y0, step)
        starts, stops = starts[~level], stops[~level]
    if not len(starts):
        return squares
    ends = tuple(
        (values - origin) / step - first
        for at in (starts, stops)
        for values, origin, first in ((at[:, 0], x0, c0), (at[:, 1], y0, r0))
    )
    flat = np.abs(ends[2] - ends[0]) >= np.abs(ends[3] - ends[1])
    met = squares[r0:r1, c0:c1]
    doubtful = np.zeros_like(met)
    u0, v0, u1, v1 = (values[flat] for values in ends)
    _follow(met, doubtful, u0, v0, u1, v1)
    u0, v0, u1, v1 = (values[~flat] for values in ends)
    _follow(met.T, doubtful.T, v0, u0, v1, u1)
    ys, xs = np.nonzero(doubtful & ~met)
    if len(xs):
        shapely.prepare(lines)
        left, low = c0 + xs, r0 + ys
        boxes = shapely.box(x0 + left * step, y0 + low * step, x0 + (left + 1) * step, y0 + (low + 1) * step)
        met[ys, xs] = shapely.intersects(lines, boxes)
    return squares


def _window(
    geometry: BaseGeometry, x0: float, y0: float, columns: int, rows: int, step: float
) -> tuple[tuple[int, int], tuple[int, int]]:
    """First and last but one of the columns and of the rows that a shape may meet."""
    left, low, right, high = geometry.bounds

    def span(start: float, end: float, origin: float, most: int) -> tuple[int, int]:
        first, last = math.floor((start - origin) / step), math.floor((end - origin) / step)
        return max(0, first - 1), min(most, last + 2)

    return span(left, right, x0, columns), span(low, high, y0, rows)


def _fill(squares: Squares, starts: _Numbers, stops: _Numbers, x0: float, y0: float, step: float) -> None:
    """Mark the squares that lines meet which run along x or along y, by the exact sides of the squares."""
    spans = []
    for axis, origin in enumerate((x0, y0)):
        most = squares.shape[1 - axis]
        sides = origin + np.arange(most + 1) * step
        low = np.minimum(starts[:, axis], stops[:, axis])
        high = np.maximum(starts[:, axis], stops[:, axis])
        first = np.maximum(np.searchsorted(sides, low, side="left") - 1, 0)
        last = np.minimum(np.searchsorted(sides, high, side="right"), most)
        # what ends before the first side meets no square
        first = np.where(high < sides[0], most, first)
        spans += [first.tolist(), last.tolist()]
    for left, right, below, above in zip(*spans, strict=True):
        squares[below:above, left:right] = True


def _follow(
    squares: Squares, doubtful: Squares, u0: _Numbers, v0: _Numbers, u1: _Numbers, v1: _Numbers
) -> None:
    """Mark the squares [row, column] that segments pass through, and those that they pass too near to tell.

    Ends are in squares; no segment rises or falls by more than it goes along u.
    """
    if not len(u0):
        return
    u0, v0, u1, v1 = (np.where(u0 <= u1, a, b) for a, b in ((u0, u1), (v0, v1), (u1, u0), (v1, v0)))
    first = np.maximum(np.floor(u0 - _NEAR), 0).astype(np.int64)
    last = np.minimum(np.floor(u1 + _NEAR), squares.shape[1] - 1).astype(np.int64)
    counts = np.maximum(last - first + 1, 0)
    which = np.repeat(np.arange(len(counts)), counts)
    if not len(which):
        return
    column = np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts) + first[which]
    u0, v0, u1, v1 = u0[which], v0[which], u1[which], v1[which]
    slope = (v1 - v0) / np.maximum(u1 - u0, _NEAR)

    def heights(margin: float) -> tuple[_Numbers, _Numbers, Squares]:
        """Between which heights a segment runs within its column less a margin, and whether it does."""
        low, high = np.maximum(u0, column + margin), np.minimum(u1, column + 1 - margin)
        a, b = v0 + slope * (low - u0), v0 + slope * (high - u0)
        return np.minimum(a, b), np.maximum(a, b), low <= high

    outer_low, outer_high, _ = heights(-_NEAR)
    low, high, is_within = heights(_NEAR)
    lowest = np.floor(outer_low - 2 * _NEAR).astype(np.int64)
    highest = np.floor(outer_high + 2 * _NEAR).astype(np.int64)
    for up in range(3):
        row = lowest + up
        there = (row <= highest) & (row >= 0) & (row < squares.shape[0])
        _mark(doubtful, row, column, there)
        there &= is_within & (high >= row + 2 * _NEAR) & (low <= row + 1 - 2 * _NEAR)
        _mark(squares, row, column, there)


def _mark(squares: Squares, row: _Places, column: _Places, there: Squares) -> None:
    squares[row[there], column[there]] = True


def _between(edge: Squares, geometry: BaseGeometry, x0: float, y0: float, step: float) -> Squares:
    """The squares of the polygons that their edge does not meet: such neighbours in a row are alike."""
    inside = np.zeros_like(edge)
    if geometry.is_empty or not edge.size:
        return inside
    (c0, c1), (r0, r1) = _window(geometry, x0, y0, edge.shape[1], edge.shape[0], step)
    if c0 >= c1 or r0 >= r1:
        return inside
    free = ~edge[r0:r1, c0:c1]
    begins = free.copy()
    begins[:, 1:] &= ~free[:, :-1]
    places = np.flatnonzero(begins)
    if len(places):
        ys, xs = np.divmod(places, c1 - c0)
        shapely.prepare(geometry)
        holds = shapely.contains_xy(geometry, x0 + (c0 + xs + 0.5) * step, y0 + (r0 + ys + 0.5) * step)
        # each as far as to the next; before the first nothing is free
        flat = np.repeat(holds, np.diff(places, append=free.size))
        free.ravel()[places[0] :] &= flat
        inside[r0:r1, c0:c1] = free
    return inside
