"""Thrust, currents and flight time of whole models, and that no mixture of what is given breaks the sums."""

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.findings import Finding, Level
from foamcut.flight.air import air_at
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Figures, Number
from foamcut.flight.lift import lift_of_wing
from foamcut.flight.power import power_figures
from foamcut.flight.power_currents import flight_min
from foamcut.flight.power_formulas import disc_thrust, turned_power, turned_thrust
from foamcut.flight.values import Carried, Packs, Setup, Site, Wiring
from tests.flight.power_sample import (
    aboard,
    battery,
    control,
    loaded,
    model,
    pair,
    plan,
    propeller,
    setup,
    single,
)

SEA = air_at(Site())
G = 9.80665
ALL = {"power_w": 120.0, "speed_constant_rpm_v": 1100.0, "current_limit_a": 14.0}


def power(inputs=None, things: Setup | None = None, mass: float = 800.0, **motor) -> Figures:
    """The twin with one pack of three cells, unless something else is given."""
    the_plan, now = plan(), loaded(mass)
    lift = lift_of_wing(the_plan, now, SEA)
    return power_figures(model(inputs or pair(**motor)), things or setup(battery()), SEA, the_plan, now, lift)


def number(found: Figures, name: str) -> Number:
    return next(one for one in found.numbers if one.name == name)


def finding(found: Figures, code: str) -> Finding | None:
    several = [one for one in found.findings if one.code == code]
    return several[0] if several else None


def test_thrust_of_the_disc_from_the_power_given():
    """arithmetic: 120 W, three quarters to the shaft, merit 0.58, 8 in."""
    found = power(power_w=120.0)
    thrust = number(found, "static_thrust_wing")
    assert thrust.value == pytest.approx(disc_thrust(90.0, 0.2032, SEA.density_kg_m3, 0.58))
    assert thrust.low < thrust.value < thrust.high
    assert thrust.assumed == ("figure_of_merit", "motor_efficiency")
    assert found.value("thrust_total") == pytest.approx(2 * thrust.value)
    assert found.value("thrust_to_weight") == pytest.approx(2 * thrust.value / (0.8 * G))
    assert found.value("power_total") == 240
    assert found.value("power_per_mass") == pytest.approx(300)


def test_both_ways_are_shown_where_both_can_be_had():
    """arithmetic: 1100 rpm/V x 11.1 V x 0.75; coefficients between two rows at pitch/diameter 0.5."""
    found = power(**ALL)
    rpm = 1100 * 11.1 * 0.75
    thrust_row, steep = (ASSUMED[f"thrust_coefficient_{one}"].value for one in ("flat", "steep"))
    coefficient = thrust_row + (steep - thrust_row) * (0.5 - 0.45) / 0.3
    assert found.value("rpm_wing") == pytest.approx(rpm)
    assert found.value("pitch_speed_wing") == pytest.approx(rpm / 60 * 0.1016)
    expected = turned_thrust(coefficient, rpm, 0.2032, SEA.density_kg_m3)
    assert found.value("static_thrust_turns_wing") == pytest.approx(expected)
    assert found.value("static_thrust_wing") == pytest.approx(
        disc_thrust(90.0, 0.2032, SEA.density_kg_m3, 0.58)
    )
    assert finding(found, "propeller-match") is None


def test_power_alone_gives_turns_and_both_ways():
    found = power(power_w=120.0)
    steep = (0.5 - 0.45) / 0.3
    flat, high = (ASSUMED[f"power_coefficient_{one}"].value for one in ("flat", "steep"))
    rpm = found.value("rpm_wing")
    shaft = turned_power(flat + (high - flat) * steep, rpm, 0.2032, SEA.density_kg_m3)
    assert shaft == pytest.approx(90.0)
    # the two ways agree within their ranges, as measured merit at that pitch does
    disc, turns = number(found, "static_thrust_wing"), number(found, "static_thrust_turns_wing")
    assert disc.low < turns.value < disc.high


def test_the_speed_constant_alone_gives_power_and_current():
    found = power(speed_constant_rpm_v=1100.0)
    assert found.value("static_thrust_turns_wing") is None  # it is the only one, and the thrust
    thrust = number(found, "static_thrust_wing")
    assert "thrust_coefficient_flat" in thrust.assumed and "loaded_speed" in thrust.assumed
    shaft, electric = found.value("shaft_power_wing"), found.value("motor_power_wing")
    assert electric == pytest.approx(shaft / 0.75)
    assert found.value("motor_current_wing") == pytest.approx(electric / 11.1)
    assert finding(found, "power-unknown") is None


def test_a_current_limit_alone_is_the_most():
    found = power(current_limit_a=14.0)
    assert found.value("motor_power_wing") == pytest.approx(14 * 11.1)
    for name in ("static_thrust_wing", "thrust_total", "thrust_to_weight", "current_total"):
        assert number(found, name).title.endswith(", at most")
        assert number(found, name).low is None
    note = finding(found, "power-unknown")
    assert "the most that it bears" in note.text
    assert finding(found, "current-limit") is None  # its own limit is not held against itself


def test_what_is_not_known_is_named_not_guessed():
    for motor, things in (({}, setup(battery())), ({"speed_constant_rpm_v": 1100.0}, setup())):
        found = power(things=things, **motor)
        assert found.value("thrust_total") is None
        note = finding(found, "power-unknown")
        assert (note.level, note.where) == (Level.NOTE, "motor.wing")
        assert 'power = "..W"' in note.mend
        assert "not known" in finding(found, "launch").text


def test_a_power_without_a_battery_has_thrust_and_no_currents():
    found = power(things=setup(), power_w=120.0)
    assert found.value("thrust_total") > 0
    assert found.value("current_total") is None and found.value("flight_time") is None
    assert "nothing feeds" in finding(found, "power-unknown").text


def test_a_pack_without_cells_or_capacity_is_named():
    found = power(things=setup(battery(cells=None, capacity_mah=None)), power_w=120.0)
    note = finding(found, "power-unknown")
    assert note.where == "aboard[0]"
    assert "cells" in note.text and "capacity" in note.text
    assert found.value("battery_energy") is None and found.value("flight_time") is None


def test_a_motor_that_is_only_aboard_has_no_numbers():
    found = power(things=setup(battery(), aboard(Carried.MOTOR, 1, name="pusher")), power_w=120.0)
    assert found.value("static_thrust_wing") > 0
    assert found.value("thrust_total") is None and found.value("current_total") is None
    assert "pusher" in finding(found, "power-unknown").text


def test_currents_energy_and_flight_time():
    """arithmetic: 240 W at 11.1 V; 2.2 Ah x 11.1 V; four fifths of it at 0.35 of the current."""
    found = power(power_w=120.0)
    assert found.value("motor_current_wing") == pytest.approx(120 / 11.1)
    assert found.value("current_total") == pytest.approx(240 / 11.1)
    assert found.value("battery_energy") == pytest.approx(2.2 * 11.1)
    assert found.value("flight_time") == pytest.approx(2.2 * 0.8 / (240 / 11.1 * 0.35) * 60)


def test_example_of_a_battery():
    """arithmetic: 1300 mAh, three cells: 14.43 Wh; 25 C 32.5 A; 15 A, 80 %: 4.16 min; 1.5 Ah x 100 C 150 A."""
    found = power(things=setup(battery(capacity_mah=1300.0)), power_w=120.0)
    assert found.value("battery_energy") == pytest.approx(14.43)
    assert flight_min(1.3, 0.8, 15.0) == pytest.approx(4.16)
    assert flight_min(1.3, 0.8, 0.0) == 0
    for capacity, rate, limit in ((1.3, 25, 32.5), (1.5, 100, 150.0)):
        assert capacity * rate == pytest.approx(limit)
        # a limit is held with a fifth in hand
        for watts, told in ((limit / 1.2 * 11.1 / 2 * 0.99, False), (limit / 1.2 * 11.1 / 2 * 1.01, True)):
            pack = battery(capacity_mah=1000 * capacity, current_limit_a=limit)
            assert bool(finding(power(things=setup(pack), power_w=watts), "current-limit")) is told


def test_packs_together_add_up_and_apart_share_alike():
    two = battery(mirrored=True)
    together = power(things=setup(two), power_w=120.0)
    apart = power(things=setup(two, wiring=Wiring(packs=Packs.APART)), power_w=120.0)
    one = power(power_w=120.0)
    for found in (together, apart):
        assert found.value("flight_time") == pytest.approx(2 * one.value("flight_time"))
        assert found.value("battery_energy") == pytest.approx(2 * one.value("battery_energy"))
        assert found.value("current_total") == pytest.approx(one.value("current_total"))


def test_of_unlike_packs_apart_the_smaller_ends_the_flight():
    packs = battery(0), battery(1, capacity_mah=1100.0)
    apart = power(things=setup(*packs, wiring=Wiring(packs=Packs.APART)), power_w=120.0)
    one = power(power_w=120.0)
    assert apart.value("flight_time") == pytest.approx(one.value("flight_time"))


@pytest.mark.parametrize(
    ("limit", "level"), [(10.0, Level.WARNING), (12.0, Level.NOTE), (13.0, None), (30.0, None)]
)
def test_a_speed_control_is_held_against_its_motor(limit, level):
    """120 W at 11.1 V are 10.8 A; with a fifth in hand 13.0 A."""
    found = power(things=setup(battery(), control(mirrored=True, current_limit_a=limit)), power_w=120.0)
    note = finding(found, "current-limit")
    assert (note.level if note else None) is level
    if note:
        assert note.where == "aboard[1]"
        asked = float(note.mend.split("a speed control of ")[1].split(" A")[0])
        mended = setup(battery(), control(mirrored=True, current_limit_a=asked))
        assert finding(power(things=mended, power_w=120.0), "current-limit") is None
        watts = float(note.mend.split(" or ")[1].split(" W")[0])
        kept = setup(battery(), control(mirrored=True, current_limit_a=limit))
        assert finding(power(things=kept, power_w=watts), "current-limit") is None


def test_one_speed_control_for_two_motors_carries_both():
    found = power(things=setup(battery(), control(current_limit_a=20.0)), power_w=120.0)
    assert finding(found, "current-limit").value == "21.6 A"


@pytest.mark.parametrize(("watts", "level"), [(60.0, None), (18.0, Level.NOTE), (8.0, Level.WARNING)])
def test_little_thrust_is_told_with_the_power_that_mends_it(watts, level):
    found = power(power_w=watts)
    note = finding(found, "thrust-weight")
    assert (note.level if note else None) is level
    if note:
        more = float(note.mend.split(" % more power")[0])
        lighter = float(note.mend.split(", or ")[1].split(" g lighter")[0])
        for mended in (power(power_w=watts * (1 + more / 100)), power(power_w=watts, mass=800 - lighter)):
            assert mended.value("thrust_to_weight") == pytest.approx(0.5, abs=0.01)


def test_little_pitch_is_told_with_the_pitch_that_mends_it():
    for motor in ({"speed_constant_rpm_v": 1050.0}, {"power_w": 100.0}):
        found = power(**motor)
        note = finding(found, "pitch-speed")
        assert note.where == "motor.wing.propeller.pitch"
        pitch = float(note.mend.split("a pitch of ")[1].split(" mm")[0]) / 25.4
        mended = power(propeller=propeller(pitch=pitch), **motor)
        assert mended.value("pitch_speed_ratio") == pytest.approx(2.5, abs=0.03)
        assert finding(mended, "pitch-speed") is None or mended.value("pitch_speed_ratio") < 2.5


def test_no_pitch_is_named_that_no_propeller_has():
    note = finding(power(power_w=8.0), "pitch-speed")
    assert note.level is Level.WARNING
    assert "a pitch of" not in note.mend and "more turns" in note.mend


def test_clearances_are_those_of_the_discs():
    """arithmetic: 162 - 31 - 101.6 mm beside the body; twice (162 - 101.6) between the tips."""
    found = power(power_w=120.0)
    assert found.value("tip_to_body_wing") == pytest.approx(29.4)
    assert found.value("tip_to_tip_wing") == pytest.approx(120.8)
    assert "14 CFR 23.925" in number(found, "tip_to_body_wing").usual
    nose = power(single(power_w=120.0))
    # the middle of a front from 12 to 72 mm less half of 203.2 mm, over a belly at 0
    assert nose.value("tip_to_belly_nose") == pytest.approx(42 - 101.6)
    assert nose.value("tip_to_body_nose") is None and nose.value("tip_to_tip_nose") is None


def test_a_glider_has_no_numbers_of_power():
    inputs = replace(pair(), motors=())
    found = power(inputs, setup(battery()))
    assert found == Figures()
    fast = power(inputs, setup(), mass=3000.0)
    (note,) = fast.findings
    assert not fast.numbers
    assert note.code == "launch"
    assert not re.search("propeller|disc|throttle", note.text + note.mend)


def test_names_stay_unlike_each_other():
    motors = pair(power_w=50.0).motors
    inputs = replace(pair(), motors=(motors[0], replace(motors[0], name="Wing", key="motor.Wing")))
    found = power(inputs)
    several = [one.name for one in found.numbers]
    assert len(set(several)) == len(several)
    assert "static_thrust_wing" in several and "static_thrust_wing_2" in several


def maybe(values: st.SearchStrategy) -> st.SearchStrategy:
    return st.none() | values


PACKS = st.builds(
    battery,
    st.integers(0, 1),
    cells=maybe(st.integers(1, 14)),
    capacity_mah=maybe(st.floats(0.001, 1e5)),
    current_limit_a=maybe(st.floats(0.001, 1e4)),
    feeds=st.sampled_from(["", "motor.wing", "nose", "speed_control", "elsewhere"]),
    mirrored=st.booleans(),
)
CONTROLS = st.builds(
    control,
    st.integers(2, 3),
    current_limit_a=maybe(st.floats(0.001, 1e4)),
    feeds=st.sampled_from(["", "motor.wing", "motor.nose", "battery"]),
    mirrored=st.booleans(),
)
OTHERS = st.sampled_from(
    [aboard(Carried.MOTOR, 5), aboard(Carried.GEAR, 6), aboard(Carried.RECEIVER, 7), aboard(Carried.OTHER, 8)]
)


@given(
    motor=st.fixed_dictionaries(
        {},
        optional={
            "power_w": st.floats(0, 1e5),
            "speed_constant_rpm_v": st.floats(0.001, 1e5),
            "current_limit_a": st.floats(0.001, 1e4),
        },
    ),
    inches=st.floats(0.5, 30),
    pitch=maybe(st.floats(0.01, 40)),
    blades=st.integers(1, 4),
    things=st.lists(PACKS | CONTROLS | OTHERS, max_size=5, unique_by=lambda one: one.key),
    wiring=st.sampled_from([None, *Packs]),
    kind=st.sampled_from(["pair", "single", "both", "none"]),
    bodies=st.booleans(),
    known=st.sampled_from(["all", "no wing", "no weight"]),
)
def test_no_mixture_breaks_the_sums(motor, inches, pitch, blades, things, wiring, kind, bodies, known):
    """Every number is finite and in its range, every row is of the table, every name stays."""
    rotor = propeller(inches=inches, pitch=pitch, blades=blades)
    one, other = pair(propeller=rotor, **motor), single(propeller=rotor, **motor)
    motors = {
        "pair": one.motors, "single": other.motors, "both": (*one.motors, *other.motors), "none": (),
    }[kind]  # fmt: skip
    inputs = replace(one, motors=motors, bodies=one.bodies if bodies else ())
    now = None if known == "no weight" else loaded()
    the_plan = None if known == "no wing" else plan()
    lift = lift_of_wing(the_plan, now, SEA) if the_plan and now else None
    found = power_figures(
        model(inputs), setup(*things, wiring=Wiring(packs=wiring)), SEA, the_plan, now, lift
    )
    names = [each.name for each in found.numbers]
    assert len(set(names)) == len(names)
    for each in found.numbers:
        assert re.fullmatch("[a-z0-9_]+", each.name)
        assert math.isfinite(each.value)
        assert each.low is None or each.low <= each.value * (1 + 1e-9)
        assert each.high is None or each.high >= each.value * (1 - 1e-9)
        assert all(row in ASSUMED for row in each.assumed)
    for each in found.findings:
        assert each.text and each.mend and each.where
        assert not re.search(r"\bnan\b|\binf\b|None", each.text + each.mend + each.value)
