"""Numbers and advice of the balance: what is told, and that what is told to be done does it."""

import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.airframe.values import Inputs
from foamcut.findings import CODES, Finding, Level
from foamcut.flight.figures import Figures, Item
from foamcut.flight.loading import loading_figures
from foamcut.flight.loading_move import ballast_for, ends_of, shift_mm
from foamcut.flight.loading_sums import mass_of
from foamcut.flight.planform import Planform
from foamcut.flight.values import Aboard, Carried, Target
from tests.airframe.motors_sample import in_nose, twin
from tests.flight.loading_sample import all_of, battery, item, items_of, model, now_of, plank, setup, share

#: with the battery at 132 mm these balance at 290 mm, 25 % of the plank's chord
LEVEL = (item(300, 370.0), item(200, (290 * 680 - 300 * 370 - 180 * 132) / 200))


def figures_of(*things: Aboard, rest: tuple[Item, ...] = LEVEL, **more: Any) -> Figures:
    plan: Planform | None = more.pop("plan", plank())
    built = more.pop("built", model())
    _, _, found = all_of((*items_of(*things), *rest), setup(*things, **more), plan, built)
    assert isinstance(found, Figures)
    return found


def one_of(found: Figures, code: str) -> Finding:
    several = [one for one in found.findings if one.code == code]
    assert len(several) == 1, found.findings
    return several[0]


def test_a_balance_on_its_target_gives_no_advice() -> None:
    found = figures_of(battery(slides_mm=(118.0, 160.0)))
    assert found.findings == ()
    assert found.value("cg_along") == pytest.approx(290)
    assert found.value("cg_mean_chord") == pytest.approx(25)
    assert found.value("battery_along_target") == pytest.approx(132)


def test_names_are_unique_and_stable() -> None:
    found = figures_of(battery(), rest=(*LEVEL, item(40, 0, at=None)))
    names = [one.name for one in found.numbers]
    assert len(names) == len(set(names))
    assert all(re.fullmatch(r"[a-z0-9_]+", name) for name in names)
    assert {
        "mass_all_up", "mass_no_place", "mass_battery", "cg_along", "cg_mean_chord", "cg_up", "cg_out",
        "balance_target_along", "battery_along_target", "inertia_roll", "inertia_pitch", "inertia_yaw",
    } <= set(names)  # fmt: skip


@pytest.mark.parametrize(
    ("share_off", "level"),
    [(0.009, None), (0.011, Level.NOTE), (0.029, Level.NOTE), (0.031, Level.WARNING), (-0.2, Level.WARNING)],
)
def test_how_far_off_matters(share_off: float, level: Level | None) -> None:
    """One hundredth of the mean chord is left alone, three are doubtful."""
    found = figures_of(battery(), target=share(0.25 - share_off))
    told = [one.level for one in found.findings if one.code == "balance-target"]
    assert told == ([] if level is None else [level])


def test_the_battery_is_moved_by_the_shift_formula() -> None:
    """Arithmetic (distance = change x total weight / weight moved): 6 mm x 680 g / 180 g = 22.7 mm."""
    found = one_of(figures_of(battery(slides_mm=(118.0, 160.0)), target=share(0.28)), "balance-target")
    assert found.mend == "battery 22.7 mm back, to 154.7 mm along"
    assert found.where == "aboard[0].at"
    assert "6 mm before" in found.text


def test_beyond_its_way_the_rest_is_ballast() -> None:
    """Arithmetic: 16 mm x 680 / 180 = 60.4 mm, 32.4 past the end; from 160 mm 8.6 mm x 680 g on 558 mm."""
    found = one_of(figures_of(battery(slides_mm=(118.0, 160.0)), target=share(0.33)), "balance-target")
    left = 16 - 28 * 180 / 680
    assert "battery 60.4 mm back, to 192.4 mm along, which is 32.4 mm beyond" in found.mend
    assert "(118 to 160 mm)" in found.mend
    assert (
        f"battery 28 mm back, to 160 mm along and {round(left * 680 / (864 - 306), 1)} g at the tail"
        in found.mend
    )


def test_a_place_where_it_may_sit_is_told() -> None:
    found = one_of(
        figures_of(battery(may_sit=((300.0, 30.0), (340.0, 45.0))), target=share(0.5)), "balance-target"
    )
    assert "where it may not sit; or battery 208 mm back, to 340 mm along and 45 mm up" in found.mend


def test_no_room_at_the_place_is_told() -> None:
    """The place for the target lies on its way, but in a former."""
    found = one_of(figures_of(battery(slides_mm=(60.0, 160.0)), target=share(0.2)), "balance-target")
    assert "where it has no room; or battery 14.5 mm forward, to 117.5 mm along" in found.mend


def test_without_a_battery_ballast_alone() -> None:
    """Arithmetic: 500 g balance at 345 mm; 55 mm off, arm 290 mm: 94.8 g."""
    rest = (item(300, 345), item(200, 345))
    found = one_of(figures_of(rest=rest), "balance-target")
    assert found.mend.startswith("94.8 g at the nose (0 mm along; twice as much at 145 mm)")
    assert found.where == "plan"


def test_masses_too_little_known_give_a_note() -> None:
    """Arithmetic: 50 to 700 g at 370 mm leave 284.3 to 335.9 mm open, 290 mm among them."""
    rest = (item(300, 370.0, range=(50, 700)), item(200, 400.0))
    found = one_of(figures_of(battery(), rest=rest), "balance-target")
    assert found.level is Level.NOTE
    low, high = ((180 * 132 + m * 370 + 200 * 400) / (380 + m) for m in (50, 700))
    assert f"leave {low:.1f} mm to {high:.1f} mm open" in found.text
    sure = (item(300, 370.0, range=(290, 310)), item(200, 400.0))
    assert one_of(figures_of(battery(), rest=sure), "balance-target").level is Level.WARNING


def test_a_model_with_motors_and_no_battery_is_not_finished() -> None:
    found = one_of(figures_of(rest=(item(500, 345),), built=model(twin(in_nose()))), "balance-target")
    assert (found.level, found.where) == (Level.NOTE, "plan")
    assert "this is the bare model" in found.text


def test_two_batteries_are_moved_together() -> None:
    """Arithmetic: both, 180 g and 100 g, by 5 mm x 780 / 280."""
    other = battery((132.0, 60.0), 100.0, key="aboard[1]", name="second", size_mm=None)
    rest = (*LEVEL, item(0.001, 290))
    things = (battery(size_mm=None), other)
    now = now_of((*items_of(*things), *rest), setup(*things), plank())
    wish = share((now.at[0] + 5 - 240) / 200)
    found = one_of(figures_of(*things, rest=rest, target=wish), "balance-target")
    assert found.mend.startswith("battery and second each 13.9 mm back")


@settings(max_examples=30, deadline=None)
@given(st.floats(20, 800), st.floats(0, 700), st.floats(0.0, 0.6))
def test_moving_the_battery_by_what_is_told_brings_the_balance_there(
    mass: float, along: float, wish: float
) -> None:
    """The number battery_along_target, put in, has the balance on its target within 0.01 mm."""
    thing = battery((along, 40.0), mass, size_mm=None)
    found = figures_of(thing, target=share(wish))
    at = found.value("battery_along_target")
    assert at is not None
    moved = replace(thing, at=(at, 40.0))
    again = now_of((*items_of(moved), *LEVEL), setup(moved, target=share(wish)), plank())
    assert again.at[0] == pytest.approx(240 + 200 * wish, abs=0.01)


@settings(max_examples=30, deadline=None)
@given(st.floats(5, 800), st.floats(0, 700), st.floats(0.0, 0.6))
def test_adding_the_ballast_that_is_told_brings_the_balance_there(
    mass: float, along: float, wish: float
) -> None:
    """At the nose or the tail; within 0.01 mm."""
    several = (*items_of(battery((along, 40.0), mass)), *LEVEL)
    now = now_of(several, setup(target=share(wish)), plank())
    assert now.target_mm is not None
    ballast = ballast_for(now.at[0], mass_of(several), now.target_mm, ends_of(model(), plank()))
    if ballast is None:
        assert now.at[0] == now.target_mm
        return
    assert ballast.mass_g > 0
    again = now_of((*several, item(ballast.mass_g, ballast.along_mm)), setup(), plank())
    assert again.at[0] == pytest.approx(now.target_mm, abs=0.01)


@settings(max_examples=30, deadline=None)
@given(st.floats(-60, 60).filter(lambda out: abs(out) > 12), st.floats(50, 400))
def test_the_mass_at_a_tip_brings_the_balance_to_the_middle(out: float, mass: float) -> None:
    """Arithmetic: moments about the centre plane; the text gives 0.1 g, so that 0.1 mm remain."""
    thing = battery(out_mm=out, mass=mass, size_mm=None)
    found = figures_of(thing)
    off = found.value("cg_out")
    assert off is not None
    if abs(off) <= 2:
        assert not [one for one in found.findings if one.code == "balance-side"]
        return
    told = one_of(found, "balance-side")
    grams = float(re.findall(r"or ([\d.]+) g at the tip of the (?:left|right) wing", told.mend)[0])
    light = -1 if off > 0 else 1
    assert ("left" if light < 0 else "right") in told.mend
    now = now_of((*items_of(thing), *LEVEL, item(grams, 300, out=light * 500)), setup(), plank())
    assert abs(now.at[1]) < 0.1
    assert told.where == "aboard[0]"


def test_a_mark_elsewhere_than_the_target() -> None:
    """5 mm of 200 mm are 2.5 %: told; the level balance stays."""
    found = one_of(figures_of(battery(), target=share(0.275)), "balance-mark")
    assert found.where == "surface.wing.balance"
    assert "5 mm before the target at 27.5 %" in found.text
    assert 'balance = "27.5 %"' in found.mend
    same = figures_of(battery(), target=Target(key="balance.target", along_mm=291.0))
    assert [one.code for one in same.findings] == []


def test_a_target_along_needs_no_share() -> None:
    found = figures_of(battery(), target=Target(key="balance.target", along_mm=300.0))
    assert found.value("balance_target_along") == 300
    assert found.value("balance_target_mean_chord") == pytest.approx(30)


def test_weight_without_a_place_is_told_with_what_it_could_do() -> None:
    """Arithmetic: 100 g of 780 g; at the nose the balance would move by 290 x 100 / 780 = 37.2 mm."""
    found = figures_of(battery(), rest=(*LEVEL, item(100, 0, at=None, key="parts.hook", name="hook")))
    told = one_of(found, "mass-no-place")
    assert told.where == "parts.hook"
    assert "100 g of 780 g" in told.text
    assert "37.2 mm forward" in told.text
    assert found.value("mass_no_place") == 100
    assert found.value("mass_all_up") == pytest.approx(780)
    little = figures_of(battery(), rest=(*LEVEL, item(10, 0, at=None)))
    assert little.findings == ()


def test_assumed_rows_are_carried_on_once() -> None:
    rest = (*LEVEL, item(1, 290, assumed=("glue",)), item(1, 290, assumed=("glue", "tape")))
    found = figures_of(battery(), rest=rest)
    number = next(one for one in found.numbers if one.name == "mass_all_up")
    assert number.assumed == ("glue", "tape")


def test_a_flying_wing_without_a_body_takes_ballast_on_the_wing() -> None:
    """Ends of the wing stand for those of a body."""
    plan, bare = plank(at=20.0, tip_back=250.0), model(Inputs())
    assert ends_of(bare, plan) == pytest.approx((20.0, 470.0))
    found = figures_of(rest=(item(400, 300),), plan=plan, built=bare)
    assert "at the nose (20 mm along" in one_of(found, "balance-target").mend


def test_no_place_for_ballast_still_says_what_to_do() -> None:
    """A target before the nose: nothing there can carry ballast."""
    found = figures_of(rest=(item(400, 300),), target=Target(key="balance.target", along_mm=-50.0))
    assert "1400 g moved 100 mm forward" in one_of(found, "balance-target").mend
    assert ballast_for(300, 400, -50, (0, 864)) is None
    assert ballast_for(300, 400, 300, (0, 864)) is None
    assert ballast_for(300, 400, 200, None) is None


def test_a_battery_too_light_to_balance_it_has_no_place_for_that() -> None:
    """arithmetic: some 50 mm x 580 g are 1 g moved 29 m, or 10 g moved 3 m, which is told."""
    rest = (item(579, 240),)
    for mass, told in ((1.0, False), (10.0, True)):
        found = figures_of(battery(mass=mass), rest=rest)
        assert (found.value("battery_along_target") is not None) is told


def test_a_weightless_battery_moves_nothing() -> None:
    found = figures_of(battery(mass=0.0), rest=(item(400, 300),))
    assert found.value("battery_along_target") is None
    assert "at the nose" in one_of(found, "balance-target").mend
    with pytest.raises(ValueError, match="weighs nothing"):
        shift_mm(1, 100, 0)


def test_without_a_wing_weight_and_balance_alone() -> None:
    several = (item(100, 50), item(50, 80))
    now = now_of(several, setup(), None)
    found = loading_figures(several, now, (), model(Inputs()), setup(), None)
    assert found.value("cg_along") == pytest.approx(60)
    assert found.value("cg_mean_chord") is None
    assert found.value("balance_target_along") is None
    assert found.findings == ()


def test_a_motor_drawn_by_hand_wants_a_battery_too() -> None:
    motor = Aboard(key="aboard[0]", name="motor", kind=Carried.MOTOR, at=(0.0, 40.0), mass_g=50)
    found = figures_of(motor, rest=(item(400, 340),))
    assert "this is the bare model" in one_of(found, "balance-target").text
    assert one_of(found, "bare-model").text.startswith("no battery is given:")


def test_codes_are_known() -> None:
    assert {"balance-target", "balance-mark", "balance-side", "balance-places", "mass-no-place"} <= set(CODES)
