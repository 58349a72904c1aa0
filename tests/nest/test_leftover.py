"""What a sheet keeps in one piece: against every rectangle of a grid, and by construction."""

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from foamcut.nest.leftover import Box, free_area


def by_hand(room: Box, obstacles: list[Box]) -> int:
    """Every rectangle of the grid (arithmetic)."""
    x0, y0, x1, y1 = room
    best = 0
    for left, low in product(range(x0, x1), range(y0, y1)):
        for right, high in product(range(left + 1, x1 + 1), range(low + 1, y1 + 1)):
            if all(o[0] >= right or o[2] <= left or o[1] >= high or o[3] <= low for o in obstacles):
                best = max(best, (right - left) * (high - low))
    return best


def boxes(most: int) -> st.SearchStrategy[list[Box]]:
    side = st.tuples(st.integers(-3, 9), st.integers(1, 5))
    one = st.tuples(side, side).map(lambda s: (s[0][0], s[1][0], s[0][0] + s[0][1], s[1][0] + s[1][1]))
    return st.lists(one, max_size=most)


@given(boxes(8))
def test_no_rectangle_of_the_grid_is_larger(obstacles: list[Box]):
    room = (-1, 0, 8, 7)
    assert free_area(room, obstacles) == by_hand(room, obstacles)


def test_a_bare_room_is_all_free_and_a_full_one_has_nothing():
    assert free_area((0, 0, 30, 20), []) == 600
    assert free_area((0, 0, 30, 20), [(0, 0, 30, 20)]) == 0
    assert free_area((0, 0, 30, 20), [(-5, 3, 40, 4)]) == 30 * 16
