"""Squares that shapes touch: beside asking every square by itself."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foamcut.draw.raster import enclosed, summed, touched

GRID = (-3.25, 10 / 3, 40, 33, 0.75)

#: places anywhere, on the sides of squares, and far outside the grid
_PLACES = st.one_of(
    st.floats(-10, 40),
    st.integers(-4, 44).map(lambda i: GRID[0] + i * GRID[4]),
    st.integers(-4, 44).map(lambda i: GRID[1] + i * GRID[4]),
    st.sampled_from([-5000.0, 5000.0]),
)
_POINTS = st.lists(st.tuples(_PLACES, _PLACES), min_size=2, max_size=9)


def _squares(grid):
    x0, y0, columns, rows, step = grid
    xs, ys = np.meshgrid(np.arange(columns), np.arange(rows))
    return shapely.box(x0 + xs * step, y0 + ys * step, x0 + (xs + 1) * step, y0 + (ys + 1) * step)


def _areas(points):
    """Any polygons with corners at the points; empty when they lie on a line."""
    lines = shapely.node(shapely.LineString([*points, points[0]]))
    return shapely.union_all(shapely.get_parts(shapely.polygonize([lines])))


@given(_POINTS)
def test_lines_touch_what_each_square_tells_by_itself(points):
    lines = shapely.MultiLineString([points, [(x + 0.1, y) for x, y in reversed(points)]])
    assert (touched(lines, *GRID) == shapely.intersects(lines, _squares(GRID))).all()


@given(_POINTS)
def test_polygons_touch_and_enclose_what_each_square_tells_by_itself(points):
    area = _areas(points)
    squares = _squares(GRID)
    assert (touched(area, *GRID) == shapely.intersects(area, squares)).all()
    assert (enclosed(area, *GRID) == shapely.contains_properly(area, squares)).all()


@given(st.tuples(_PLACES, _PLACES), st.floats(0.01, 16), st.floats(0.01, 9), st.floats(0, 360))
def test_boxes_touch_what_each_square_tells_by_itself(corner, wide, high, turn):
    box = shapely.affinity.rotate(shapely.box(*corner, corner[0] + wide, corner[1] + high), turn)
    assert (touched(box, *GRID) == shapely.intersects(box, _squares(GRID))).all()


def test_what_is_enclosed_beside_lines_meets_none_of_them():
    box, line = shapely.box(0, 0, 20, 20), shapely.LineString([(-2, 3), (9, 12), (9, 30)])
    wanted = shapely.contains_properly(box, _squares(GRID)) & ~shapely.intersects(line, _squares(GRID))
    assert (enclosed(box, *GRID, line) == wanted).all()


@pytest.mark.parametrize("shape", ["LINESTRING EMPTY", "POLYGON EMPTY", "MULTIPOLYGON EMPTY"])
def test_nothing_touches_nothing(shape):
    assert not touched(shapely.from_wkt(shape), *GRID).any()


def test_a_shape_beside_the_grid_and_a_grid_without_squares():
    assert not touched(shapely.box(100, 100, 120, 120), *GRID).any()
    assert not touched(shapely.LineString([(100, 100), (120, 120)]), *GRID).any()
    assert touched(shapely.box(0, 0, 1, 1), 0.0, 0.0, 0, 0, 1.0).shape == (0, 0)


def test_holes_are_free():
    ring = shapely.box(0, 0, 30, 30).difference(shapely.box(5, 8, 21, 24))
    assert not touched(ring, *GRID)[12, 20]
    assert (touched(ring, *GRID) == shapely.intersects(ring, _squares(GRID))).all()


@given(st.integers(0, 6), st.integers(0, 6), st.integers(0, 2**36 - 1))
def test_sums_count_the_squares_below_and_left(rows, columns, bits):
    squares = np.array([[bits >> (6 * j + i) & 1 for i in range(columns)] for j in range(rows)], dtype=bool)
    squares = squares.reshape(rows, columns)
    table = summed(squares)
    assert all(table[j, i] == squares[:j, :i].sum() for j in range(rows + 1) for i in range(columns + 1))
