"""Neutral points and margins by both methods."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.flight.figures import Group
from foamcut.flight.neutral import neutral_figures, neutral_of
from foamcut.flight.neutral_formula import share_by_formula, simple_share, slope_ratio, tail_factor
from foamcut.flight.neutral_margin import balance_range_m, margin_of
from foamcut.flight.planform_lifting import lifting
from tests.flight.lattice_sample import A, B, C, alone, fin, layout, level, loaded, plan, tail, wing


def pair(which):
    one = layout(which, 0.05)
    assert one.tail is not None
    return one.wing, one.tail


def test_the_formula_as_printed() -> None:
    """arithmetic: M. Drela, Basic Aircraft Design Rules, MIT, 2006, on a notebook's wing of 3050 x 230 with a tail of
    400 x 75, 1945 behind, as the project's notes quote it: Vh 0.361647, neutral point at 0.473348 of the chord.
    """
    one = alone((0, 0, 0.230), (1.525, 0, 0.230))
    other = lifting(tail((0, 1.945 + 0.0575 - 0.01875, 0.075), (0.2, 1.945 + 0.0575 - 0.01875, 0.075)))

    volume = other.area_m2 / one.area_m2 * (other.quarter_m - one.quarter_m) / one.mean_chord_m
    assert one.aspect_ratio == pytest.approx(13.26087, abs=5e-6)
    assert volume == pytest.approx(0.361647, abs=5e-7)
    assert simple_share(one, other) == pytest.approx(0.473348, abs=5e-7)


@pytest.mark.parametrize(
    ("which", "simple", "right"), [(A, 0.4703, 0.4552), (B, 0.4982, 0.4789), (C, 0.5000, 0.4799)]
)
def test_the_formula_printed_and_set_right(which, simple, right) -> None:
    """arithmetic: by Drela's formula, worked apart from this program."""
    assert simple_share(*pair(which)) == pytest.approx(simple, abs=1.5e-4)
    assert share_by_formula(*pair(which)) == pytest.approx(right, abs=1.5e-4)


def test_the_formula_set_right_balances_the_moments() -> None:
    """arithmetic: wing lift 1 at its quarter point and tail lift k Sh/S at its own balance about the point found."""
    one, other = pair(B)
    weight = slope_ratio(one.aspect_ratio, other.aspect_ratio) * other.area_m2 / one.area_m2
    point = one.leading_m + share_by_formula(one, other) * one.mean_chord_m

    assert (point - one.quarter_m) == pytest.approx(weight * (other.quarter_m - point))


@pytest.mark.parametrize("which", [A, B, C])
@pytest.mark.parametrize("up", [0.0, 0.05, 0.1])
def test_lattice_and_formula_agree(which, up) -> None:
    """Within 0.055 mean chords at every height; within 0.04 at 50 mm, where the formula is at home."""
    one = layout(which, up)
    found = neutral_of(one)

    assert found.formula_m is not None
    off = abs(found.lattice_m - found.formula_m) / one.wing.mean_chord_m
    assert off < (0.04 if up == 0.05 else 0.055)


@pytest.mark.parametrize("which", [A, B, C])
@pytest.mark.parametrize("more", [0.01, 0.05, 0.1])
def test_a_tail_grown_by_the_factor_moves_the_point_as_wanted(which, more) -> None:
    """The factor is checked by building the larger tail: both its sides longer by its root, quarter point kept."""
    one, other = pair(which)
    factor = tail_factor(one, other, more)
    assert factor is not None
    side = factor**0.5
    grown = [(y * side, x * side, c * side) for y, x, c in which[1]]
    moved = other.quarter_m - lifting(tail(*grown)).quarter_m
    larger = lifting(tail(*((y, x + moved, c) for y, x, c in grown)))

    assert larger.area_m2 == pytest.approx(factor * other.area_m2)
    assert share_by_formula(one, larger) == pytest.approx(share_by_formula(one, other) + more, abs=1e-9)


def test_no_tail_is_large_enough_to_move_the_point_behind_itself() -> None:
    assert tail_factor(*pair(A), more=5.0) is None


def test_a_short_wing_takes_all_lift_off_a_tail_by_the_formula() -> None:
    one = alone((0, 0, 0.5), (0.4, 0, 0.5))
    other = pair(A)[1]

    assert share_by_formula(one, other) == 0.25
    assert tail_factor(one, other, 0.05) is None


def test_the_formula_is_for_a_tail_behind_a_single_wing() -> None:
    canard = plan(wing((0, 0.5, 0.2), (0.5, 0.5, 0.2)), tail((0, 0, 0.1), (0.2, 0, 0.1)))
    plank = plan(wing(*A[0]), fin((0, 0.2, 0.1), (0.1, 0.2, 0.1)))
    biplane = plan(wing(*A[0]), tail(*A[1]), level("upper", *A[0], up=0.2))

    assert canard.foreplane
    for one in (canard, plank, biplane):
        assert neutral_of(one).formula_m is None
    assert neutral_of(plank).lift_slope == neutral_of(plank).wing_slope
    assert neutral_of(canard).lattice_m < canard.wing.quarter_m


@given(st.floats(0.05, 0.3), st.floats(0.1, 1.5), st.floats(0.05, 0.3), st.floats(0.0, 0.2))
@settings(deadline=None, max_examples=15)
def test_a_tail_moves_the_point_aft_and_less_than_to_itself(half, behind, chord, up) -> None:
    one = plan(wing(*A[0]), tail((0, 0.2 + behind, chord), (half, 0.2 + behind, chord), up=up))
    found = neutral_of(one)
    assert one.tail is not None

    assert neutral_of(plan(wing(*A[0]))).lattice_m < found.lattice_m < one.tail.quarter_m
    assert found.lift_slope > 0


def test_margins() -> None:
    """arithmetic: points at 110 and 100 mm, balance at 90, from 88 to 93, chord 200: 10 %, from 3.5 to 11 %."""
    one = alone(*A[0])
    now = loaded(90.0, off_mm=2.0)
    margin = margin_of(one, (0.110, 0.100), now)

    assert margin == pytest.approx((0.10, 0.04, 0.11))
    assert balance_range_m(one, (0.110, 0.100)) == pytest.approx((0.070, 0.090))


def test_margins_hold_the_balance_as_drawn_within_their_range() -> None:
    """Even when the range of the masses' does not."""
    odd = margin_of(alone(*A[0]), (0.1,), loaded(90.0, off_mm=-5.0))

    assert odd.low <= odd.value <= odd.high


def test_numbers() -> None:
    one = layout(A, 0.05)
    found = neutral_of(one)
    figures = neutral_figures(one, found, loaded(70.0, off_mm=3.0))
    numbers = {number.name: number for number in figures.numbers}

    assert list(numbers) == [
        "neutral_point_lattice",
        "neutral_point_formula",
        "neutral_point_share",
        "balance_front",
        "balance_back",
        "lift_slope",
        "wing_lift_slope",
        "static_margin",
    ]
    assert numbers["neutral_point_lattice"].value == pytest.approx(found.lattice_m * 1000)
    margin = numbers["static_margin"]
    assert margin.value == pytest.approx((98.2 - 70) / 200 * 100, abs=0.3)
    assert margin.low == pytest.approx((91.04 - 73) / 200 * 100, abs=0.05)
    assert margin.high == pytest.approx((98.2 - 67) / 200 * 100, abs=0.3)
    assert "Drela" in margin.usual
    assert "propeller" in numbers["neutral_point_lattice"].source
    assert {number.group for number in figures.numbers} == {Group.STABILITY}


def test_without_a_weight_there_is_a_neutral_point_and_no_margin() -> None:
    one = layout(A, 0.05)
    figures = neutral_figures(one, neutral_of(one), None)

    assert figures.value("neutral_point_lattice") is not None
    assert figures.value("static_margin") is None
    assert figures.findings == ()
