"""What the optional solver proposes for several boards holds by shapely (reference library)."""

import itertools
import time
from random import Random

from shapely import Polygon, box
from shapely.affinity import rotate, translate

from foamcut.nest import extra
from foamcut.nest.squeezing import Helper

GAP = 4.0
ROOM = (400.0, 300.0)
PIECES = [*[box(0, 0, 190, 90)] * 9, *[Polygon([(0, 0), (80, 0), (0, 80)])] * 4]
TURNS = (0.0, 90.0, 180.0, 270.0)
#: on three boards, though the grown areas fill less than one and a half (arithmetic)
BOARDS = [[0, 1, 2, 3, 4], [5, 6, 7, 8, 9], [10, 11, 12]]


def proposed(helper: Helper, boards, *, may_save: bool, within_s: float = 60.0):
    """The first proposal; the wait ends as soon as there is one."""
    end = time.monotonic() + within_s
    try:
        while time.monotonic() < end:
            if found := helper.poll(boards, may_save=may_save):
                return found
            time.sleep(0.01)
    finally:
        helper.stop()
    raise AssertionError("nothing is proposed")


def holds(found, turns) -> None:
    """Each piece once, apart by the gap, on its board, turned as it may be."""
    assert sorted(n for board in found for n, _ in board) == sorted(range(len(PIECES)))
    for board in found:
        laid = [
            translate(rotate(PIECES[n], p.turn_deg, origin=(0, 0)), p.x_mm, p.y_mm) for n, p in board
        ]
        assert all(a.distance(b) >= GAP - 0.001 for a, b in itertools.combinations(laid, 2))
        for shape in laid:
            x0, y0, x1, y1 = shape.bounds
            assert min(x0, y0, ROOM[0] - x1, ROOM[1] - y1) >= -0.001
        assert turns is None or {p.turn_deg for _, p in board} <= set(turns)


def test_a_board_is_saved():
    found = proposed(Helper(PIECES, [TURNS] * 13, ROOM, GAP, Random(1)), BOARDS, may_save=True)
    assert len(found) == 2
    holds(found, TURNS)


def test_with_no_board_to_save_all_is_laid_anew_on_as_many():
    turns = (0.0, 180.0)
    found = proposed(Helper(PIECES, [turns] * 13, ROOM, GAP, Random(2)), BOARDS, may_save=False)
    assert [sorted(n for n, _ in board) for board in found] == BOARDS
    holds(found, turns)


def test_a_board_that_areas_rule_out_is_not_asked_for():
    """Two boards full by nine tenths do not go on one (arithmetic)."""
    full = [box(0, 0, 390, 270)] * 2
    helper = Helper(full, [(0.0,)] * 2, ROOM, GAP, Random(1))
    assert len(proposed(helper, [[0], [1]], may_save=True)) == 2


def test_nothing_comes_of_it_without_the_package_or_without_a_turn(monkeypatch):
    no_turn = Helper(PIECES, [()] * 13, ROOM, GAP, Random(1))
    assert {no_turn.poll(BOARDS, may_save=save) for save in (True, False) for _ in range(50)} == {None}
    monkeypatch.setattr(extra, "PACKAGE", "no_such_package_of_this_name")
    helper = Helper(PIECES, [TURNS] * 13, ROOM, GAP, Random(1))
    assert {helper.poll(BOARDS, may_save=save) for save in (True, False) for _ in range(50)} == {None}


def test_a_helper_can_be_stopped_at_any_time():
    helper = Helper(PIECES, [TURNS] * 13, ROOM, GAP, Random(1))
    helper.stop()
    helper.poll(BOARDS, may_save=True)
    helper.stop()
    helper.stop()
