"""What meets what: bodies that touch, slots, cut-outs, hands; parts without a place by their sizes."""

from dataclasses import replace

import pytest

from foamcut.book.chapters_mates import How, Mate, loose_mates, mates
from foamcut.flat.assembled import standing
from foamcut.flat.drawn import Hand, Place
from foamcut.flat.part import Tab
from tests.book.chapter_facts import GLIDER, TRAY, TWIN, facts_of, plate
from tests.draw.drawn_parts import slot


def flat(name, width, height, at, **more):
    """A board that lies level, its upper face at a height."""
    return standing(plate(width, height, name, place=Place(key="p", at=at, x=(1, 0, 0), y=(0, 1, 0)), **more))


def upright(name, width, height, at, **more):
    """A board across the model, its drawn face aft; x to the right, y up."""
    return standing(plate(width, height, name, place=Place(key="p", at=at, x=(0, 1, 0), y=(0, 0, 1)), **more))


@pytest.mark.parametrize(("gap", "meets"), [(0.0, True), (0.5, True), (0.7, False), (5.0, False)])
def test_boards_meet_when_nothing_much_is_between_them(gap, meets):
    """Bodies touch, or bent skins and bevels leave some tenths; more is no contact."""
    floor = flat("floor", 100, 40, (0, 0, 0))
    lid = flat("lid", 100, 40, (20, 0, 5 + gap))

    assert mates([floor, lid]) == ((Mate("floor", "lid", How.FACE),) if meets else ())


def test_beside_each_other_is_no_contact_when_boxes_alone_touch():
    """Boards whose boxes meet at a corner of empty air do not meet."""
    low = flat("low", 40, 40, (0, 0, 0))
    leaning = Place(key="p", at=(70, 0, 0), x=(0.8, 0, 0.6), y=(0, 1, 0))
    away = standing(plate(40, 40, "away", place=leaning))

    assert mates([low, away]) == ()


def test_a_board_in_a_slot():
    """The middle of the slot lies in the board: it stands in a slot, whichever comes first."""
    former = upright("former", 30, 60, (52.5, 5, -30), stock="board")
    deck = flat("deck", 100, 40, (0, 0, 0), slots=(slot(50, 20, 30.2, 90, "board", 5.2),))

    assert mates([former, deck]) == (Mate("former", "deck", How.SLOT),)
    assert mates([deck, former]) == (Mate("former", "deck", How.SLOT),)
    of_ply = replace(former, part=replace(former.part, stock="ply"))
    assert mates([deck, of_ply])[0].how is not How.SLOT


def test_a_board_in_a_cut_out():
    """What reaches through a notch that runs out lies in a cut-out; nobody drew a slot for it."""
    side = upright("side", 100, 60, (0, 0, 0))
    notch = side.part.outline.minus(plate(60, 5.4).outline.placed(_moved(40, 30)))[0]
    side = standing(replace(side.part, outline=notch))
    tail = standing(plate(80, 55, "tail", place=Place(key="p", at=(-40, 42, 35.2), x=(1, 0, 0), y=(0, 1, 0))))

    assert mates([side, tail]) == (Mate("tail", "side", How.CUTOUT),)


def _moved(x, y):
    from foamcut.flat.placement import Placement

    return Placement(x_mm=x, y_mm=y)


def test_of_two_hands_only_a_pair_is_named():
    """Halves butt against each other at the centre plane, where strips of one touch the skin of the other."""
    skin_right = flat("skin-right", 40, 40, (0, 0, 0), hand=Hand.RIGHT)
    skin_left = flat("skin-left", 40, 40, (0, -40, 0), hand=Hand.LEFT)
    spar_left = flat("spar-left", 40, 40, (0, -40, 5), hand=Hand.LEFT)

    assert mates([skin_right, skin_left, spar_left]) == (
        Mate("skin-right", "skin-left", How.FACE),
        Mate("skin-left", "spar-left", How.FACE),
    )


def test_nothing_stands_nowhere():
    """No part with a place, no contact."""
    assert mates([]) == ()
    assert mates([flat("alone", 10, 10, (0, 0, 0))]) == ()


def tab(length):
    return Tab(
        key="t", at=(0, 0), length_mm=length, depth_mm=5, into="board", outline=plate(length, 5).outline
    )


def test_parts_with_a_place_are_asked_where_they_stand():
    """Sizes alone are asked of parts without a place, alone or with one that has one."""
    hole = replace(slot(50, 20, 30.2, 0, "board", 5.2), fit_mm=0.2)
    floor, wall = plate(100, 40, "floor", slots=(hole,)), plate(100, 30, "wall", tabs=(tab(30.0),))
    here = Place(key="p", at=(0, 0, 0), x=(1, 0, 0), y=(0, 1, 0))

    assert loose_mates([floor, wall]) == (Mate("wall", "floor", How.SLOT),)
    assert loose_mates([replace(floor, place=here), wall]) == (Mate("wall", "floor", How.SLOT),)
    assert loose_mates([replace(floor, place=here), replace(wall, place=here)]) == ()
    assert loose_mates([floor, replace(wall, stock="ply")]) == ()
    again = replace(floor, name="lid")
    assert loose_mates([floor, again, wall]) == (
        Mate("wall", "floor", How.FITS),
        Mate("wall", "lid", How.FITS),
    )


def test_the_tray_is_told_by_its_sizes():
    """Walls stand in the floor, dividers in the walls and over each other: as the design's comment has it."""
    found = set(loose_mates(facts_of(TRAY).parts))

    assert found == {
        Mate("long-wall", "floor", How.SLOT),
        Mate("end-wall", "floor", How.SLOT),
        Mate("end-wall", "long-wall", How.SLOT),
        Mate("divider-across", "long-wall", How.SLOT),
        Mate("divider-along", "end-wall", How.SLOT),
        Mate("divider-across", "divider-along", How.CROSS),
    }


def test_the_glider_meets_as_it_is_built():
    """Formers and fin in slots, wing and tail in cut-outs of the trough, joiners at both spars."""
    found = set(mates(facts_of(GLIDER).standing))

    for number in range(1, 6):
        assert Mate(f"hull-former-{number}", "hull-trough", How.SLOT) in found
    assert Mate("fin-panel", "hull-deck", How.SLOT) in found
    assert Mate("tail-panel", "hull-trough", How.CUTOUT) in found
    for hand in ("right", "left"):
        assert Mate(f"wing-skin-{hand}", "hull-trough", How.CUTOUT) in found
        for layer in (1, 2):
            assert Mate(f"wing-spar-{layer}-{hand}", "wing-joiner-front", How.FACE) in found
    assert Mate("wing-skin-right", "wing-skin-left", How.FACE) in found


def test_what_is_told_to_touch_touches_and_the_rest_does_not():
    """Outside of the boxes nothing meets, and each contact is within reach: asked of the bodies themselves."""
    several = facts_of(TWIN).standing
    by_name = {one.part.name: one for one in several}
    found = {frozenset(mate[:2]) for mate in mates(several)}

    for i, one in enumerate(several):
        for other in several[i + 1 :]:
            gap = min(a.solid.min_gap(b.solid, 5.0) for a in one.bodies for b in other.bodies)
            told = frozenset((one.part.name, other.part.name)) in found
            hands = {one.part.hand, other.part.hand}
            if hands == {Hand.RIGHT, Hand.LEFT} and one.pair_name != other.pair_name:
                assert not told
            elif told:
                # a firewall in its slot is as far off as the fit
                assert gap <= 0.6
            else:
                assert gap > 0.6
    assert len(by_name) == len(several)
