"""Free room on a part: places beside asking every rectangle of squares by itself."""

import math

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.draw.raster import touched
from foamcut.draw.room import FreeRoom

REGION = shapely.Polygon([(0, 0), (31, 2), (26, 19), (11, 15), (3, 22)])
_AT = st.tuples(st.floats(-3, 34), st.floats(-3, 25))
_LINES = st.lists(st.lists(_AT, min_size=2, max_size=4).map(shapely.LineString), max_size=3)
_BOXES = st.lists(st.tuples(_AT, st.floats(0.1, 6)), max_size=2).map(
    lambda found: [shapely.box(x, y, x + side, y + side / 3) for (x, y), side in found]
)
_SIZE = st.tuples(st.floats(0.3, 14), st.floats(0.3, 6))


def _nearest(region, taken, size, near, clearance):
    """The middle of the nearest free rectangle of whole squares, each rectangle asked by itself."""
    x0, y0, x1, y1 = region.bounds
    square = min(0.75, max(0.25, min(x1 - x0, y1 - y0) / 24))
    grid = x0, y0, math.ceil((x1 - x0) / square), math.ceil((y1 - y0) / square), square
    free = ~np.logical_or.reduce([touched(shape, *grid) for shape in (region.boundary, *taken)])
    xs, ys = (
        origin + (np.arange(many) + 0.5) * square for origin, many in zip(grid[:2], grid[2:4], strict=True)
    )
    free &= shapely.contains_xy(region, *np.meshgrid(xs, ys))
    columns, rows = (math.ceil((side + 2 * clearance) / square) for side in size)
    goal = [round(2 * (near[axis] - grid[axis]) / square) for axis in (0, 1)]
    found = [
        ((2 * i + columns - goal[0]) ** 2 + (2 * j + rows - goal[1]) ** 2, j, i)
        for j in range(grid[3] - rows + 1)
        for i in range(grid[2] - columns + 1)
        if free[j : j + rows, i : i + columns].all()
    ]
    if not found:
        return None
    _, j, i = min(found)
    return x0 + (i + columns / 2) * square, y0 + (j + rows / 2) * square


@settings(max_examples=60)
@given(_LINES, _BOXES, _SIZE, _AT, st.sampled_from([0.0, 0.3, 1.0]))
def test_the_place_is_the_nearest_of_all_that_are_free(lines, boxes, size, near, clearance):
    room = FreeRoom(REGION, lines)
    room.place(*size, 0.0, near, clearance)
    for box in boxes:
        room.take(box)
    wanted = _nearest(REGION, [*lines, *boxes], size, near, clearance)
    assert room.place(*size, 0.0, near, clearance) == wanted


@settings(max_examples=60)
@given(_BOXES, _SIZE, st.floats(0, 180), _AT)
def test_what_a_copy_takes_the_room_keeps_and_what_the_room_takes_a_copy_keeps(boxes, size, turn, near):
    room = FreeRoom(REGION)
    trial = room.copy()
    for box in boxes:
        trial.take(box)
    assert trial.place(*size, turn, near) == FreeRoom(REGION, boxes).place(*size, turn, near)
    assert room.place(*size, turn, near) == FreeRoom(REGION).place(*size, turn, near)
    for box in boxes:
        room.take(box)
    other = FreeRoom(REGION, boxes)
    assert room.place(*size, turn, near) == other.place(*size, turn, near)
    assert trial.copy().place(*size, turn, near) == other.place(*size, turn, near)


@settings(max_examples=60)
@given(_LINES, _BOXES, st.lists(st.tuples(_AT, st.floats(0, 180)), max_size=9), _SIZE, st.floats(0.3, 2))
def test_every_free_box_is_likely(lines, boxes, places, size, clearance):
    room = FreeRoom(REGION, [*lines, *boxes])
    likely = room.likely(places, size, [clearance] * len(places))
    for i, ((x, y), turn) in enumerate(places):
        box = shapely.box(-size[0] / 2, -size[1] / 2, size[0] / 2, size[1] / 2)
        box = shapely.affinity.translate(shapely.affinity.rotate(box, turn, origin=(0, 0)), x, y)
        assert i in likely or not room.is_free(box, clearance)


def test_a_box_that_is_in_the_way_is_not_likely():
    room = FreeRoom(REGION, [shapely.LineString([(12, 0), (12, 20)])])
    places = [((12.0, 8.0), 0.0), ((20.0, 8.0), 90.0), ((40.0, 8.0), 0.0), ((10.2, 8.0), 0.0)]
    assert room.likely(places, (3.0, 2.0), (0.5, 0.5, 0.5, 0.2)) == [1, 3]
    room.take(shapely.box(19, 7, 21, 9))
    assert room.likely(places, (3.0, 2.0), (0.5, 0.5, 0.5, 0.2)) == [3]
