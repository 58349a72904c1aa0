"""The model put together: a body drawn by hand fits, and each planted fault is told in its millimetres.

Every amount is arithmetic: the number by which the part was moved or made larger.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest

from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.values import Inputs
from foamcut.findings import Finding, Level
from foamcut.flat.part import Part
from tests.airframe.box_body import (
    AFT,
    FORE,
    FORMERS,
    HEIGHT,
    INSIDE,
    LENGTH,
    RIGHT,
    UP,
    T,
    box,
    box_with,
    built,
    drawn,
    floor,
    former,
    side,
)
from tests.strategies import hole, rectangle, slot, tab


def found(parts: Sequence[Part]) -> tuple[Finding, ...]:
    return fit_findings(parts, (), Inputs())


def told(*changed, code: str) -> list[Finding]:
    return [finding for finding in found(box_with(*changed)) if finding.code == code]


def codes(*changed) -> list[str]:
    return [finding.code for finding in found(box_with(*changed))]


def test_a_body_that_fits_has_no_finding():
    assert found(box_with()) == ()


@pytest.mark.parametrize("by", [2.0, -0.8])
def test_a_former_that_was_moved_misses_its_slots(by):
    """Both its tabs, each once: 2 mm aft, or 0.8 mm forwards."""
    misses = told(former(0, at=(FORMERS[0] + T + by, 0.0, 0.0)), code="fit-tab")
    assert [finding.where for finding in misses] == ["parts.former-1.tabs[0]", "parts.former-1.tabs[1]"]
    way = "aft" if by > 0 else "forwards"
    for finding, hand in zip(misses, ("right", "left"), strict=True):
        assert f"former-1 and its slot in side-{hand} are {abs(by):g} mm off" in finding.text
        assert f"{abs(by):g} mm {way}" in finding.text
        assert finding.level is Level.WARNING
    assert "fit-through" not in codes(former(0, at=(FORMERS[0] + T + by, 0.0, 0.0)))


def test_what_a_builder_cannot_see_is_not_told():
    assert codes(former(0, at=(FORMERS[0] + T + 0.4, 0.0, 0.0))) == []


@pytest.mark.parametrize(("wider", "words"), [(2.0, "goes 2 mm into"), (-1.5, "stands 1.5 mm off")])
def test_a_former_of_another_width_is_told_by_how_much(wider, words):
    """Made 2 mm wider to each side it goes 2 mm into each; its tabs miss by as much."""
    changed = former(1, wider=wider)
    (finding,) = told(changed, code="fit-former")
    assert finding.where == "parts.former-2"
    assert words in finding.text and "inside face of side-" in finding.text
    assert finding.value == f"{abs(wider):g} mm"
    assert all(f"{abs(wider):g} mm" in finding.text for finding in told(changed, code="fit-tab"))


def test_a_former_cut_for_another_corner_goes_two_boards_into_the_sides():
    """A former as wide as the outside of the body, 10 mm too wide, stands in both sides."""
    (finding,) = told(former(0, wider=T, tabs=()), code="fit-former")
    assert finding.value == "5 mm" and "goes 5 mm into" in finding.text
    (through,) = [f for f in told(former(0, wider=T, tabs=()), code="fit-through")]
    assert "side-right and former-1" in through.text and through.value == "5 mm"


def test_a_slot_that_was_shifted_is_told_of_both_hands_at_once():
    """A slot 3 mm too high: one finding for its tab on each side, none for a slot that a tab is near."""
    slots = [slot(0, (FORMERS[0] + T / 2, 43.0), 20.0, 90.0), slot(1, (FORMERS[1] + T / 2, 40.0), 20.0, 90.0)]
    misses = told(side(slots=slots), code="fit-tab")
    assert [finding.where for finding in misses] == ["parts.former-1.tabs[0]", "parts.former-1.tabs[1]"]
    assert all("3 mm off" in finding.text and "3 mm down" in finding.text for finding in misses)


@pytest.mark.parametrize(("long", "words"), [(24.0, "slot 24.2 mm"), (18.0, "slot 18.2 mm")])
def test_a_slot_of_another_length_is_told(long, words):
    slots = [slot(i, (x + T / 2, 40.0), long, 90.0) for i, x in enumerate(FORMERS)]
    misses = told(side(slots=slots), code="fit-tab")
    assert len(misses) == 4
    assert all("the tab is 20 mm long" in f.text and words in f.text for f in misses)


def test_a_slot_for_thinner_board_is_told():
    slots = [slot(i, (x + T / 2, 40.0), 20.0, 90.0, thickness=3.0) for i, x in enumerate(FORMERS)]
    misses = told(side(slots=slots), code="fit-tab")
    assert len(misses) == 4 and all("5 mm thick, the slot 3.2 mm wide" in f.text for f in misses)


def test_a_slot_turned_the_wrong_way_stands_askew():
    slots = [slot(0, (FORMERS[0] + T / 2, 40.0), 20.0, 0.0), slot(1, (FORMERS[1] + T / 2, 40.0), 20.0, 90.0)]
    misses = told(side(slots=slots), code="fit-tab")
    assert len(misses) == 2 and all("90 degrees askew" in finding.text for finding in misses)


def test_a_slot_with_nothing_in_it_and_a_tab_without_a_slot():
    """A third slot stays empty; a tab through the floor finds no slot there."""
    slots = [slot(i, (x, 40.0), 20.0, 90.0) for i, x in enumerate((52.5, 152.5, 100.0))]
    (empty,) = told(side(slots=slots), code="fit-tab")
    assert empty.where == "parts.side.slots[2]" and "goes into the slot of side-right" in empty.text
    tabs = [tab(0, (INSIDE, 40.0), 20.0), tab(1, (-INSIDE, 40.0), 20.0), tab(2, (0.0, T), 15.0)]
    (lone,) = told(former(0, tabs=tabs), code="fit-tab")
    assert lone.where == "parts.former-1.tabs[2]" and "no slot" in lone.text
    fitting = floor(slots=[slot(0, (FORMERS[0] + T / 2, 0.0), 15.0, 90.0)])
    assert codes(former(0, tabs=tabs), fitting) == []


def stabiliser(z: float, **more):
    """A plate through both sides, its lower face at a height: x aft, y right, drawn from above."""
    shape = rectangle(60.0, 200.0)
    return drawn("plate", shape, (100.0, -100.0, z + T), AFT, RIGHT, **more)


def cut_for_plate(z: float, *, long: float = 60.0):
    """Sides with a slot for the plate in their middle; the formers' slots are kept."""
    slots = [slot(i, (x + T / 2, 40.0), 20.0, 90.0) for i, x in enumerate((FORMERS[0], 170.0))]
    slots.append(slot(2, (130.0, z + T / 2), long))
    return side(slots=slots)


def test_a_whole_part_may_pass_a_slot():
    """The second former stands behind the plate, clear of it."""
    back = former(1, at=(170.0 + T, 0.0, 0.0))
    assert codes(cut_for_plate(50.0), stabiliser(50.0), back) == []
    (off,) = told(cut_for_plate(50.0), stabiliser(51.5), back, code="fit-tab")
    assert off.where == "parts.side.slots[2]" and "plate passes the slot of side-right 1.5 mm off" in off.text
    (short,) = told(cut_for_plate(50.0, long=58.0), stabiliser(50.0), back, code="fit-tab")
    assert "slot is 58.2 mm long, the part 60 mm" in short.text


def test_parts_that_pass_through_each_other_are_told_with_how_deep():
    """A plate through both sides that nothing is cut for: the least width of what they share, its thickness."""
    back, uncut = former(1, at=(170.0 + T, 0.0, 0.0)), side(slots=cut_for_plate(0.0).slots[:2])
    (finding,) = told(stabiliser(60.0), back, uncut, code="fit-through")
    assert finding.value == "5 mm"
    assert "side-right and plate" in finding.text or "side-left and plate" in finding.text


@pytest.mark.parametrize("deep", [0.3, 2.0])
def test_a_floor_laid_too_high_goes_into_the_formers(deep):
    """Formers stand on the floor: raised by 2 mm it goes 2 mm into both; 0.3 mm is what foam gives."""
    several = told(floor(at=(0.0, 0.0, T + deep)), code="fit-through")
    assert [finding.value for finding in several] == (["2 mm", "2 mm"] if deep > 0.5 else [])


def test_sides_mirrored_wrongly_are_told():
    """Two parts drawn each for itself, the left one not mirrored: its slots lie at other places."""
    slots = [slot(0, (52.5, 40.0), 20.0, 90.0), slot(1, (152.5, 40.0), 20.0, 90.0)]
    shape = rectangle(LENGTH, HEIGHT)
    right = drawn("side-right", shape, (0.0, INSIDE, 0.0), AFT, UP, slots=slots)
    left = drawn("side-left", shape, (LENGTH, -INSIDE, 0.0), FORE, UP, slots=slots)
    others = [one for one in box_with() if not one.name.startswith("side")]
    misses = [f for f in found([*built([right, left]), *others]) if f.code == "fit-tab"]
    assert {f.where for f in misses} == {"parts.former-1.tabs[1]", "parts.former-2.tabs[1]"}
    assert all("5 mm off" in f.text for f in misses)


def test_halves_that_are_not_alike_are_told():
    """A hole of 10 mm in one side alone takes pi 25 mm2; the same part 4 mm higher lies 4 mm off."""
    shape, others = rectangle(LENGTH, HEIGHT), [one for one in box_with() if not one.name.startswith("side")]

    def sides(left_at=(0.0, -INSIDE - T, 0.0), **more):
        slots = [slot(0, (52.5, 40.0), 20.0, 90.0), slot(1, (152.5, 40.0), 20.0, 90.0)]
        right = drawn("starboard", shape, (0.0, INSIDE, 0.0), AFT, UP, slots=slots)
        left = drawn("port", shape, left_at, AFT, UP, slots=slots, **more)
        parts = [*built([right, left]), *others]
        return [f for f in found(parts) if f.code == "fit-halves"]

    assert sides() == []
    (holed,) = sides(cutouts=(hole(0, (100.0, 20.0), 10.0),))
    assert "starboard and port differ" in holed.text
    assert float(holed.value.split()[0]) == pytest.approx(math.pi * 25, abs=0.2)
    (higher,) = sides(left_at=(0.0, -INSIDE - T, 4.0))
    assert higher.value == "4 mm" and "do not lie mirrored" in higher.text
    rack = drawn("rack", rectangle(30.0, 10.0), (80.0, 12.0, 30.0), AFT, RIGHT)
    (lone,) = told(rack, code="fit-halves")
    assert "rack, 17 mm right of the centre plane, has no counterpart" in lone.text


def test_a_part_across_the_middle_whose_halves_differ_has_a_note():
    """A floor moved 2 mm right lies 2 mm off the centre plane; a hole on one side of it moves it less than 0.5."""
    (note,) = told(floor(at=(0.0, 2.0, T)), code="fit-halves")
    assert (note.level, note.value) == (Level.NOTE, "2 mm")
    assert "the halves of floor are not alike" in note.text
    assert codes(floor(cutouts=(hole(0, (100.0, 15.0), 10.0),))) == []


def test_parts_without_a_place_are_left_out():
    parts = built([replace(one, place=None) for one in box().values()])
    assert found(parts) == ()
