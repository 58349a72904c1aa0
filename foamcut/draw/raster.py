"""Which squares of a grid a shape touches.

Errs on one side: a square that the shape only touches with its edge counts.  Every edge of the shape is
followed from square to square, so that the work grows with the length of the edge and not with the area.
"""

import math

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Squares = NDArray[np.bool_]
_Numbers = NDArray[np.float64]
_Places = NDArray[np.int64]

#: nearer to a side of a square than this, in squares, and it is asked exactly whether an edge meets it
_NEAR = 1e-6


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
    if _is_of_lines(geometry):
        return _on_lines(geometry, x0, y0, columns, rows, step)
    edge = _on_lines(_edges(geometry), x0, y0, columns, rows, step)
    return edge | _between(edge, geometry, x0, y0, step)


def enclosed(geometry: BaseGeometry, x0: float, y0: float, columns: int, rows: int, step: float) -> Squares:
    """For each square of a grid, whether it lies in the polygons without meeting their edge; as `touched`."""
    edge = _on_lines(_edges(geometry), x0, y0, columns, rows, step)
    return _between(edge, geometry, x0, y0, step)


def summed(squares: Squares) -> NDArray[np.int32]:
    """Table whose entry [j, i] is the number of true squares below row j and left of column i."""
    table = np.zeros((squares.shape[0] + 1, squares.shape[1] + 1), dtype=np.int32)
    table[1:, 1:] = squares.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)
    return table


def _is_of_lines(geometry: BaseGeometry) -> bool:
    return geometry.geom_type in ("LineString", "LinearRing", "MultiLineString")


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
    us, vs = (points[:, 0] - x0) / step - c0, (points[:, 1] - y0) / step - r0
    joined = of_line[1:] == of_line[:-1]
    ends = us[:-1][joined], vs[:-1][joined], us[1:][joined], vs[1:][joined]
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
    ys, xs = np.nonzero(begins)
    if len(xs):
        shapely.prepare(geometry)
        holds = shapely.contains_xy(geometry, x0 + (c0 + xs + 0.5) * step, y0 + (r0 + ys + 0.5) * step)
        inside[r0:r1, c0:c1] = free & holds[np.maximum(np.cumsum(begins) - 1, 0)].reshape(free.shape)
    return inside
