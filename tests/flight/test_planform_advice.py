"""Advice on the shapes of wing and stabiliser."""

import math

import pytest

from foamcut.findings import Level
from foamcut.flight.planform import planform_figures
from foamcut.flight.planform_numbers import taper
from tests.flight.lattice_sample import alone, level, oval, plan, tail, wing

TAIL = ((0, 0.6, 0.1), (0.15, 0.6, 0.1))


def advice(*surfaces):
    return planform_figures(plan(*surfaces)).findings


def test_a_pointed_wing() -> None:
    [one] = advice(wing((0, 0, 0.3), (0.6, 0.1, 0.09)), tail(*TAIL))

    assert (one.code, one.level, one.where) == ("planform", Level.NOTE, "surface.wing.stations[1]")
    assert one.value == "taper 0.3"
    assert "tip chord 120 mm or more" in one.mend


def test_what_the_mend_of_a_pointed_wing_says_is_enough() -> None:
    assert advice(wing((0, 0, 0.3), (0.6, 0.1, 0.12)), tail(*TAIL)) == ()


def test_a_pointed_wing_of_several_panels() -> None:
    """arithmetic: 0.3 - 0.2 x (0.48 - 0.3) / 0.3 = 180 at 80 % out; a straight taper of 0.4 has 204 - 48 = 156."""
    [one] = advice(wing((0, 0, 0.3), (0.3, 0, 0.2), (0.6, 0.1, 0.05)), tail(*TAIL))

    assert "chord 156 mm or more at 480 mm out, where it is 110 mm" in one.mend


def test_rounded_tips_are_no_pointed_wing() -> None:
    """arithmetic: the chord of an ellipse at 80 % of the half span is 60 % of the root's: a taper of 0.5."""
    assert taper(oval(6)) == pytest.approx(0.5, abs=0.01)
    assert taper(alone((0, 0, 0.2), (0.55, 0, 0.2), (0.6, 0.1, 0.02))) == 1


def test_a_short_wide_wing_with_a_tail() -> None:
    [one] = advice(wing((0, 0, 0.25), (0.4, 0, 0.25)), tail(*TAIL))

    assert one.value == "aspect ratio 3.2"
    assert one.mend.startswith("span 200 mm longer")
    assert advice(wing((0, 0, 0.25), (0.5, 0, 0.25)), tail(*TAIL)) == ()


def test_a_delta_without_a_tail_is_left_alone() -> None:
    assert advice(wing((0, 0, 0.5), (0.5, 0.5, 0.01))) == ()


def test_a_thin_long_wing() -> None:
    [one] = advice(wing((0, 0, 0.1), (0.9, 0, 0.1)), tail(*TAIL))

    assert one.value == "aspect ratio 18"
    assert one.mend.startswith("chords 29 mm longer")


def test_a_stabiliser_more_slender_than_the_wing() -> None:
    [one] = advice(wing((0, 0, 0.2), (0.45, 0, 0.2)), tail((0, 0.6, 0.08), (0.25, 0.6, 0.08)))

    assert (one.code, one.where) == ("planform", "surface.tail")
    span = math.sqrt(4.5 * 0.04)
    assert f"span of {span * 1000:.0f} mm or less" in one.mend
    assert f"chord of {0.04 / span * 1000:.0f} mm or more" in one.mend


def test_a_slender_foreplane_is_left_to_the_advice_on_its_layout() -> None:
    assert advice(wing((0, 0.6, 0.2), (0.45, 0.6, 0.2)), tail((0, 0, 0.08), (0.25, 0, 0.08))) == ()


def test_a_second_wing_is_named() -> None:
    [one] = advice(wing((0, 0, 0.2), (0.5, 0, 0.2)), level("upper", (0, 0, 0.2), (0.5, 0, 0.2), up=0.2))

    assert one.where == "surface.upper"
    assert '"upper"' in one.text
