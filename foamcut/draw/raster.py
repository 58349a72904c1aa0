"""Which squares of a grid a shape touches.

Errs on one side: a square that the shape only touches with its edge counts.  Blocks of many squares are
asked first and divided where the edge of the shape runs through them, so that the work grows with the
length of the edge and not with the area.
"""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Squares = NDArray[np.bool_]


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
    squares = np.zeros((rows, columns), dtype=bool)
    if geometry.is_empty or not rows or not columns:
        return squares
    shapely.prepare(geometry)
    size = 1
    while size < max(rows, columns) and size < 64:
        size *= 2
    across, up = (np.arange(0, n, size) for n in (columns, rows))
    xs, ys = (grid.ravel() for grid in np.meshgrid(across, up))
    # what lies wholly beside the shape needs no box
    left, low, right, high = geometry.bounds
    while len(xs):
        near = (x0 + (xs + size) * step >= left) & (x0 + xs * step <= right)
        near &= (y0 + (ys + size) * step >= low) & (y0 + ys * step <= high)
        xs, ys = xs[near], ys[near]
        boxes = shapely.box(x0 + xs * step, y0 + ys * step, x0 + (xs + size) * step, y0 + (ys + size) * step)
        hit = shapely.intersects(geometry, boxes)
        whole = np.zeros(len(xs), dtype=bool)
        whole[hit] = shapely.contains(geometry, boxes[hit]) if size > 1 else True
        for x, y in zip(xs[whole], ys[whole], strict=True):
            squares[y : y + size, x : x + size] = True
        xs, ys = xs[hit & ~whole], ys[hit & ~whole]
        size //= 2
        xs = np.concatenate([xs, xs + size, xs, xs + size])
        ys = np.concatenate([ys, ys, ys + size, ys + size])
        inside = (xs < columns) & (ys < rows)
        xs, ys = xs[inside], ys[inside]
    return squares


def summed(squares: Squares) -> NDArray[np.int64]:
    """Table whose entry [j, i] is the number of true squares below row j and left of column i."""
    table = np.zeros((squares.shape[0] + 1, squares.shape[1] + 1), dtype=np.int64)
    table[1:, 1:] = squares.cumsum(axis=0, dtype=np.int64).cumsum(axis=1)
    return table
