"""Parts that lie whole and may be cut: they are when that saves a board, and not otherwise.

Boards of 700 x 500 mm have 694 x 494 mm inside their margin of 3 mm, gap 2 mm.  By arithmetic, parts of
500 x 260 mm lie one on a board: 500 mm are more than its 494 across, 2 x 500 more than 694, and two of 260
with the gap are 522.  So three are three boards.  With one of them cut along its middle, a section of
500 x 130 and the doubler of 60 x 490 lie above a whole one: 260 + 2 + 130 + 2 + 60 = 454 mm.  One board is
too small for any way to cut them: 3 x 130,000 mm2 are more than its 342,836.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from foamcut.flat.drawn import Doubling, Hand, JointLine
from foamcut.flat.joint import Role
from foamcut.flat.part import Part
from foamcut.nest.together import lay_all
from foamcut.nest.values import Pace, Wanted
from foamcut.nest.verify import faults
from foamcut.plan.checking import check
from foamcut.plan.pieces import Offers
from tests.nest.making import part, rectangle, stock

BOARD = stock((700, 500), margin=3, gap=2)
DESIGN = Path(__file__).parents[1] / "design" / "may-join.toml"
NARROW = Doubling(key="", stock="board", thickness_mm=5.0, overlap_mm=30.0, inset_mm=5.0, taper_mm=15.0)


def skin(name: str, height: float = 260, *, may_join: bool = False, hand: Hand = Hand.NONE) -> Part:
    return replace(part(name, rectangle(500, height)), may_join=may_join, doubling=NARROW, hand=hand)


def laid(*parts: Part, steps: int = 200):
    """What the search makes of the parts, verified, with its doublers lettered."""
    offers = Offers(parts, (BOARD,))
    found = lay_all(offers.wanted, (BOARD,), seed=1, pace=Pace(steps=steps), more_ways=offers.more_ways)
    chosen, layouts = offers.settled(found)
    assert faults(layouts, [Wanted(part=one.part, ways=(one.way,)) for one in chosen]) == ()
    return found, chosen, sum(len(layout.sheets) for layout in layouts)


def test_whole_they_are_three_boards():
    found, chosen, boards = laid(skin("a"), skin("b"), skin("c"))
    assert boards == 3
    assert (found.savings, {one.sections for one in chosen}) == ((), {1})


@pytest.mark.parametrize("every", [False, True], ids=["one may", "all may"])
def test_one_that_may_be_joined_saves_a_board(every: bool):
    """Joints are made least: where all may be cut, one is."""
    found, chosen, boards = laid(skin("a", may_join=every), skin("b", may_join=every), skin("c", may_join=True))
    assert boards == 2
    assert sorted(one.sections for one in chosen) == [1, 1, 2]
    (saving,) = found.savings
    assert (saving.stock, saving.boards) == ("board", 1)
    assert saving.parts == tuple(one.part.name for one in chosen if one.sections == 2)


def test_the_builders_line_is_where_it_is_cut():
    """At y = 130 a board is saved; at x = 250 none is, as sections 260 mm high lie nowhere above a whole one."""
    for key, boards in (("y_mm", 2), ("x_mm", 3)):
        lines = (JointLine(key="parts.c.joints[0]", **{key: 130.0 if key == "y_mm" else 250.0}),)
        found, chosen, count = laid(skin("a"), skin("b"), replace(skin("c", may_join=True), joint_lines=lines))
        assert (count, found.ways[2], len(found.savings)) == (boards, 3 - boards, 3 - boards)
        assert [getattr(joint, key) for joint in chosen[2].way.joints] == [130.0] * (3 - boards)


def test_hands_of_a_pair_are_cut_each_its_own_way():
    """Four of a pair are four boards whole.  Three do when one hand is cut: a section above each of the other's.

    By arithmetic: 4 x 130,000 mm2 are more than one board has, and 260 + 2 + 130 mm lie on one of 494.
    """
    right = skin("skin-right", may_join=True, hand=Hand.RIGHT)
    left = replace(right, name="skin-left", hand=Hand.LEFT, outline=right.outline.mirrored(), mirror_image=True)
    found, chosen, boards = laid(*(replace(one, count=2, key="parts.skin") for one in (right, left)), steps=400)
    assert boards <= 3
    assert found.savings[0].boards == 4 - boards
    letters = [letter for one in chosen for joint in one.way.joints for letter in joint.letters]
    assert letters == sorted(set(letters)) and letters[0] == "A"


def test_it_stays_whole_where_cutting_saves_nothing():
    """Two of 500 x 300 mm are two boards.  By arithmetic one board has the area, 342,836 mm2, for both.

    But beside a whole one no strip is wider than 194 mm, and of the other, cut at one x, a section is
    250 x 300 at least; cut at one y both lie along the board, and are 300 mm together.
    """
    found, chosen, boards = laid(skin("a", 300), skin("b", 300, may_join=True))
    assert (boards, found.savings, found.ways) == (2, (), (0, 0))
    assert [piece.role for one in chosen for piece in one.way.pieces] == [Role.WHOLE] * 2


def test_it_stays_whole_on_one_board():
    found, _, boards = laid(skin("a", may_join=True))
    assert (boards, found.savings, found.ways) == (1, (), (0,))


def test_without_leave_the_same_design_is_three_boards():
    text = DESIGN.read_text().replace("may_join = true", "may_join = false")
    checked = check(text.encode(), DESIGN.name)
    assert sum(len(layout.sheets) for layout in checked.layouts) == 3
    assert not checked.joints_table()
