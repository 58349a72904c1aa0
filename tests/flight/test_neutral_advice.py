"""Advice on margins and on layouts without a tail behind the wing."""

import re
from dataclasses import replace

import pytest

from foamcut.findings import Level
from foamcut.flight.figures import Loaded
from foamcut.flight.neutral import neutral_figures, neutral_of
from foamcut.flight.planform import Planform
from tests.airframe.flat_sample import control
from tests.flight.lattice_sample import A, B, fin, layout, level, loaded, plan, tail, wing


def findings(one: Planform, now: Loaded | None):
    return neutral_figures(one, neutral_of(one), now).findings


def at_margin(one: Planform, margin: float, off_mm: float = 0.0) -> Loaded:
    """Loaded so that the lattice's margin is that."""
    point = neutral_of(one).lattice_m - margin * one.wing.mean_chord_m
    return loaded(point * 1000, off_mm=off_mm)


def number(text: str, pattern: str) -> float:
    found = re.search(pattern, text)
    assert found, text
    return float(found[1])


def test_an_ordinary_margin_gives_no_advice() -> None:
    one = layout(B, 0.05)
    for margin in (0.05, 0.10, 0.15, 0.25):
        assert findings(one, at_margin(one, margin)) == ()


def test_a_balance_behind_the_neutral_point() -> None:
    one = layout(B, 0.05)
    [found] = findings(one, at_margin(one, -0.08))

    assert (found.code, found.level) == ("static-margin", Level.WARNING)
    assert found.where == "surface.wing.balance"
    assert "16 mm behind the neutral point" in found.text
    assert "-8 %" in found.value
    assert found.mend.startswith("balance 27 mm farther forward")


@pytest.mark.parametrize("margin", [-0.12, -0.03, 0.01, 0.04])
def test_what_the_mend_says_is_enough(margin) -> None:
    """The balance as far forward as it says, or the mass moved as far, bring the margin to 5 %; no farther than that
    by more than the rounding up.
    """
    one = layout(B, 0.05)
    now = at_margin(one, margin)
    [found] = findings(one, now)
    forward = number(found.mend, r"balance (\d+) mm farther forward")
    part = number(found.mend, r"\((\d+) g moved")
    far = number(found.mend, r"g moved (\d+) mm forward")

    assert findings(one, loaded(now.at[0] - forward)) == ()
    assert findings(one, loaded(now.at[0] - forward + 1.01)) != ()
    assert part * far / now.mass_g == pytest.approx(forward, abs=1.1)


def test_a_larger_stabiliser_is_a_mend_where_it_is_not_much_larger() -> None:
    """The tail so much larger, built and put in the same place, brings the lattice's margin to 5 % or near it."""
    one = layout(B, 0.05)
    [found] = findings(one, at_margin(one, 0.02))
    percent = number(found.mend, r"or stabiliser (\d+) % larger")
    side = (1 + percent / 100) ** 0.5
    now = at_margin(one, 0.02)
    grown = plan(
        wing(*B[0]), tail(*((y * side, 0.62 + (x - 0.62) * side, c * side) for y, x, c in B[1]), up=0.05)
    )
    margin = (neutral_of(grown).lattice_m - now.at[0] / 1000) / grown.wing.mean_chord_m

    assert 5 <= percent <= 30
    assert margin == pytest.approx(0.05, abs=0.01)


def test_a_stabiliser_that_would_have_to_be_huge_is_no_mend() -> None:
    one = layout(B, 0.05)
    [found] = findings(one, at_margin(one, -0.2))

    assert "stabiliser" not in found.mend


def test_a_small_margin_is_a_note_and_a_warning_when_it_may_be_none() -> None:
    one = layout(B, 0.05)
    [sure] = findings(one, at_margin(one, 0.03))
    [unsure] = findings(one, at_margin(one, 0.03, off_mm=8.0))

    assert (sure.level, unsure.level) == (Level.NOTE, Level.WARNING)
    assert "only 6 mm ahead" in sure.text


def test_a_margin_that_may_be_none() -> None:
    one = layout(B, 0.05)
    [found] = findings(one, at_margin(one, 0.08, off_mm=20.0))

    assert found.level is Level.NOTE
    assert "up to 4 mm behind" in found.text
    assert found.mend.endswith("balance 14 mm farther forward")


def test_heavy_in_the_nose() -> None:
    one = layout(B, 0.05)
    [found] = findings(one, at_margin(one, 0.40))

    assert (found.code, found.level) == ("static-margin", Level.NOTE)
    assert "heavy in the nose" in found.text
    back = number(found.mend, r"balance up to (\d+) mm farther back")
    assert back == pytest.approx(0.25 * 202.67, abs=1)


def test_a_weightless_model_is_not_divided_by() -> None:
    one = layout(B, 0.05)
    now = replace(at_margin(one, -0.1), mass_g=0.0)
    [found] = findings(one, now)

    assert found.mend == "balance 31 mm farther forward"


def test_a_plank() -> None:
    """arithmetic: 5 and 10 % of 200 before the neutral point, 47.2 mm; tips 500 tan 20 deg behind."""
    [found] = findings(plan(wing(*A[0]), fin((0, 0.2, 0.1), (0.1, 0.2, 0.1))), None)

    assert (found.code, found.level, found.where) == ("no-tail", Level.WARNING, "surface.wing")
    assert "between 27 mm and 37 mm along (13.6 % to 18.6 % of" in found.mend
    assert "tips 182 mm behind the root" in found.mend
    assert "neutral point 23.6 % of the mean chord" in found.value


def test_a_plank_with_elevons_has_been_thought_of() -> None:
    elevon = control("wing", "elevon", 100.0, 480.0, 40.0, 20.0)
    [found] = findings(plan(wing(*A[0], controls=(elevon,))), None)

    assert (found.code, found.level) == ("no-tail", Level.NOTE)


def test_a_wing_swept_forward_is_no_flying_wing() -> None:
    [found] = findings(plan(wing((0, 0.3, 0.25), (0.6, 0, 0.15))), None)

    assert found.level is Level.WARNING
    assert "deg forward" in found.value


def test_a_swept_wing_without_a_tail() -> None:
    one = plan(wing((0, 0, 0.25), (0.6, 0.35, 0.15)))
    [found] = findings(one, at_margin(one, 0.08))

    assert (found.code, found.level) == ("no-tail", Level.NOTE)
    assert "208 mm along" in found.text
    assert "1.9 % of the mean chord ahead of its quarter point" in found.text
    assert "between 187 mm and 197 mm along" in found.mend


def test_a_delta_has_its_point_behind_the_quarter() -> None:
    [found] = findings(plan(wing((0, 0, 0.5), (0.5, 0.5, 0.001))), None)

    assert "behind its quarter point" in found.text


def test_a_biplane_without_a_tail_has_none_and_a_tandem_needs_none() -> None:
    biplane = plan(wing(*A[0]), level("upper", *A[0], up=0.2))
    tandem = plan(wing(*A[0]), level("rear", *((y, x + 0.6, c) for y, x, c in A[0])))

    assert [one.code for one in findings(biplane, None)] == ["no-tail"]
    assert findings(tandem, None) == ()


def test_a_foreplane() -> None:
    one = plan(wing((0, 0.5, 0.2), (0.5, 0.5, 0.2), angle_deg=1.0), tail((0, 0, 0.1), (0.2, 0, 0.1)))
    [found] = findings(one, at_margin(one, 0.10))

    assert (found.code, found.level, found.where) == ("foreplane", Level.NOTE, "surface.tail.angle")
    assert "set 1 deg less nose up than the wing" in found.value
    assert "foreplane 3 deg more nose up" in found.mend


def test_a_foreplane_set_as_it_shall_be_is_not_turned_more() -> None:
    one = plan(wing((0, 0.5, 0.2), (0.5, 0.5, 0.2)), tail((0, 0, 0.1), (0.2, 0, 0.1), angle_deg=2.5))
    [found] = findings(one, at_margin(one, 0.10))

    assert "foreplane" not in found.mend
    assert found.mend.startswith("balance between")


def test_a_margin_behind_a_foreplane_is_not_mended_by_a_larger_one() -> None:
    """A larger foreplane moves the neutral point forward."""
    one = plan(wing((0, 0.5, 0.2), (0.5, 0.5, 0.2)), tail((0, 0, 0.1), (0.2, 0, 0.1)))
    margin, layout_note = findings(one, at_margin(one, 0.01))

    assert "stabiliser" not in margin.mend
    assert layout_note.code == "foreplane"


def test_the_tail_of_a_margin_that_no_one_knows() -> None:
    """The utmost: a balance kilometres away reads as such and nothing breaks."""
    one = layout(B, 0.05)
    [found] = findings(one, loaded(1e6))

    assert found.level is Level.WARNING
    assert "stabiliser" not in found.mend
