"""Of one motor the main cause is told alone, and what is said to mend it mends it."""

import pytest

from foamcut.findings import Finding, Level
from foamcut.flight.air import air_at
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Figures
from foamcut.flight.lift import lift_of_wing
from foamcut.flight.power import power_figures
from foamcut.flight.power_words import least, listed, most, same_shape_text, size_text
from foamcut.flight.values import Packs, Setup, Site, Wiring
from tests.flight.power_sample import battery, control, loaded, model, plan, propeller, setup, single

SEA = air_at(Site())
#: 150 W at 11.1 V are 13.5 A; 900 rpm/V turn a propeller of 9 x 6 in so that it takes about as much
MOTOR = {"power_w": 150.0, "speed_constant_rpm_v": 900.0, "current_limit_a": 18.0}
NINE = propeller("motor.nose", 9, 6)
MAIN = ("propeller-match", "current-limit", "pitch-speed", "thrust-weight")


def power(things: Setup | None = None, mass: float = 600.0, **motor) -> Figures:
    """The model with one motor, a pack of three cells."""
    now, the_plan = loaded(mass), plan()
    lift = lift_of_wing(the_plan, now, SEA)
    inputs = single(**{"propeller": NINE} | motor)
    return power_figures(model(inputs), things or setup(battery()), SEA, the_plan, now, lift)


def told(found: Figures, *wanted: str) -> list[Finding]:
    return [one for one in found.findings if one.code in (wanted or MAIN)]


def only(found: Figures, code: str) -> Finding:
    (one,) = told(found, code)
    return one


def after(text: str, start: str) -> float:
    return float(text.split(start)[1].split(" ")[0])


def test_a_sound_motor_is_left_in_peace():
    assert told(power(**MOTOR)) == []
    assert told(power(**MOTOR), "power-unknown", "flight-short") == []


# ---- power and propeller


def test_too_few_cells_are_one_finding_with_all_that_comes_of_it():
    """At 7.4 V 150 W are 20.3 A, and the turns take 0.30 of what they take at 11.1 V."""
    found = power(setup(battery(cells=2)), **MOTOR)
    (note,) = told(found)
    assert (note.code, note.level, note.where) == (
        "propeller-match",
        Level.WARNING,
        "motor.nose.propeller",
    )
    assert "20.3 A in a motor that bears 18 A" in note.text
    assert "a pitch speed of" in note.text
    assert note.mend.startswith("3 cells instead of 2")
    assert told(power(setup(battery(cells=3)), **MOTOR)) == []


def test_too_many_cells_are_told_with_those_that_go():
    note = only(power(setup(battery(cells=5)), **MOTOR), "propeller-match")
    assert note.level is Level.WARNING
    assert note.mend.startswith("3 cells instead of 5")


@pytest.mark.parametrize(("inches", "pitch"), [(12.0, 8.0), (6.5, 4.0)])
def test_another_propeller_is_told_with_the_size_that_goes(inches, pitch):
    """The power typed stays whatever propeller is put on: it is held against the turns."""
    rotor = propeller("motor.nose", inches, pitch)
    note = only(power(**MOTOR | {"propeller": rotor}), "propeller-match")
    size = after(note.mend, "a propeller of about ")
    share = size / (inches * 25.4)
    assert f"({round(size / 25.4, 1)} in)" in note.mend
    mended = power(**MOTOR | {"propeller": propeller("motor.nose", inches * share, pitch * share)})
    assert told(mended, "propeller-match") == []
    assert mended.value("shaft_power_nose") == pytest.approx(112.5, rel=0.04)
    # or the power is measured, and written
    shaft = after(note.text, "takes about ")
    assert told(power(**MOTOR | {"propeller": rotor, "power_w": shaft / 0.75}), "propeller-match") == []


def test_the_range_is_that_of_turns_under_load():
    """arithmetic: shaft power goes with turns cubed; 0.65 and 0.85 of the speed without load for 0.75."""
    row = ASSUMED["loaded_speed"]
    takes = power(**MOTOR).value("shaft_power_nose")
    for factor, fits in (
        ((row.low / row.value) ** 3 * 0.99, False),
        ((row.low / row.value) ** 3 * 1.01, True),
        ((row.high / row.value) ** 3 * 0.99, True),
        ((row.high / row.value) ** 3 * 1.01, False),
    ):
        watts = takes * factor / ASSUMED["motor_efficiency"].value
        found = told(power(**MOTOR | {"power_w": watts, "current_limit_a": 99.0}), "propeller-match")
        assert (found == []) is fits


def test_current_and_flight_time_say_that_the_power_was_typed():
    typed, turned = power(**MOTOR), power(speed_constant_rpm_v=900.0)
    for name in ("motor_current_nose", "current_total", "flight_time"):
        (one,) = (each for each in typed.numbers if each.name == name)
        assert one.title.endswith("of the power as typed")
        (other,) = (each for each in turned.numbers if each.name == name)
        assert "typed" not in other.title + other.source


# ---- limits


def test_a_typed_power_over_the_limit_asks_for_what_mends_it():
    """150 W at 11.1 V are 13.5 A for 12: another propeller changes nothing of it, one cell less makes it more."""
    motor = {"power_w": 150.0, "current_limit_a": 12.0}
    note = only(power(**motor), "current-limit")
    assert (note.level, note.where) == (Level.WARNING, "motor.nose.current_limit")
    assert "by the power as typed" in note.text
    assert not note.mend.startswith("a propeller") and "instead of" not in note.mend
    limit = after(note.mend, "a motor that bears ")
    watts = float(note.mend.split(" W and less")[0].split(" ")[-1])
    cells = int(note.mend.split(" cells for the same power")[0].split(" ")[-1])
    for mended in (
        power(**motor | {"current_limit_a": limit}),
        power(**motor | {"power_w": watts}),
        power(setup(battery(cells=cells)), **motor),
    ):
        assert told(mended, "current-limit") == []
    assert watts == 133 and limit == 14 and cells == 4


def test_more_cells_are_not_offered_where_the_propeller_would_take_too_much():
    note = only(power(setup(battery()), **MOTOR | {"current_limit_a": 12.0}), "current-limit")
    assert "cells for the same power" not in note.mend


def test_a_current_by_turns_over_the_limit_asks_for_a_propeller_or_cells():
    motor = {"speed_constant_rpm_v": 900.0, "current_limit_a": 8.0}
    found = power(**motor, mass=400.0)
    note = only(found, "current-limit")
    size = after(note.mend, "a propeller of about ") / 25.4
    cells = int(note.mend.split(" cells instead of 3")[0].split(" ")[-1])
    limit = after(note.mend, "a motor that bears ")
    smaller = propeller("motor.nose", size - 0.04, (size - 0.04) * 6 / 9)
    for mended in (
        power(**motor | {"propeller": smaller}, mass=400.0),
        power(setup(battery(cells=cells)), **motor, mass=400.0),
        power(**motor | {"current_limit_a": limit}, mass=400.0),
    ):
        assert told(mended, "current-limit") == []


def test_a_slow_propeller_of_a_motor_over_its_limit_is_told_with_it():
    """Neither a smaller propeller of that shape nor fewer cells, since both make it slower still."""
    motor = {
        "speed_constant_rpm_v": 700.0,
        "current_limit_a": 5.0,
        "propeller": propeller("motor.nose", 11, 5),
    }
    found = power(**motor)
    assert told(found, "pitch-speed") == []
    note = only(found, "current-limit")
    assert "with it goes a pitch speed of" in note.text
    assert "propeller" not in note.mend and "cell" not in note.mend
    mended = power(**motor | {"current_limit_a": after(note.mend, "a motor that bears ")})
    assert told(mended, "current-limit") == []
    assert len(told(mended, "pitch-speed")) == 1


def test_more_power_than_a_motor_bears_is_told_with_what_bears_it():
    note = only(power(power_w=30.0, current_limit_a=3.0, mass=900.0), "thrust-weight")
    more = after("x " + note.mend, "x ")
    limit = after(note.mend, "a motor that bears ")
    mended = power(power_w=30.0 * (1 + more / 100), current_limit_a=limit, mass=900.0)
    assert told(mended, "thrust-weight", "current-limit") == []


# ---- batteries


def test_a_small_battery_is_told_with_the_capacity_that_lasts():
    """arithmetic: 0.13 Ah x 0.8 / (13.5 A x 0.35) are 1.3 min; six minutes take 600 mAh."""
    things = setup(battery(capacity_mah=130.0, current_limit_a=None))
    found = power(things, **MOTOR)
    assert found.value("flight_time") == pytest.approx(1.319, abs=0.001)
    short = only(found, "flight-short")
    assert (short.level, short.where) == (Level.WARNING, "aboard[0].capacity")
    assert "1.3 min" in short.text and "as typed" in short.text
    asked = after("x " + short.mend, "x ")
    assert asked == 600
    mended = power(setup(battery(capacity_mah=asked)), **MOTOR)
    assert 6.0 <= mended.value("flight_time") < 6.6
    assert told(mended, "flight-short") == []
    rate = only(found, "current-limit")
    assert (rate.level, rate.where, rate.value) == (Level.NOTE, "aboard[0].current_limit", "104 C")
    enough = float(rate.mend.split(" mAh")[0].split(" ")[-1])
    label = after(rate.mend, "by the label, ")
    for pack in (
        battery(capacity_mah=enough, current_limit_a=None),
        battery(capacity_mah=130.0, current_limit_a=label),
    ):
        assert told(power(setup(pack), **MOTOR), "current-limit") == []


@pytest.mark.parametrize(("capacity", "level"), [(380.0, Level.NOTE), (400.0, None)])
def test_four_minutes_are_enough(capacity, level):
    found = told(power(setup(battery(capacity_mah=capacity)), **MOTOR), "flight-short")
    assert [one.level for one in found] == ([level] if level else [])


def test_several_packs_are_told_of_together():
    things = setup(battery(capacity_mah=60.0, mirrored=True, current_limit_a=None))
    short, rate = only(power(things, **MOTOR), "flight-short"), only(power(things, **MOTOR), "current-limit")
    assert "in all" in short.mend and "in all" in rate.mend
    apart = setup(battery(capacity_mah=60.0, mirrored=True), wiring=Wiring(packs=Packs.APART))
    assert "in all" not in only(power(apart, **MOTOR), "flight-short").mend


def test_a_battery_over_its_limit_is_mended_by_less_power():
    things = setup(battery(current_limit_a=10.0))
    note = only(power(things, **MOTOR), "current-limit")
    share = float(note.mend.split(" % of the power")[0].split(" ")[-1]) / 100
    gives = after(note.mend, "a battery that gives ")
    assert told(power(things, power_w=150.0 * share), "current-limit") == []
    assert told(power(setup(battery(current_limit_a=gives)), **MOTOR), "current-limit") == []


def test_one_control_of_two_limits_is_told_once():
    things = setup(battery(), control(current_limit_a=10.0))
    assert [one.where for one in told(power(things, **MOTOR), "current-limit")] == ["aboard[1]"]


# ---- turns of any propeller


@pytest.mark.parametrize(("pitch", "why"), [(9.0, "pitch/diameter 1 "), (2.0, "pitch/diameter 0.22")])
def test_pitch_speed_needs_no_coefficients(pitch, why):
    """arithmetic: 900 rpm/V x 11.1 V x 0.75 x the pitch."""
    rotor = propeller("motor.nose", 9, pitch)
    found = power(**MOTOR | {"propeller": rotor})
    assert found.value("rpm_nose") == pytest.approx(900 * 11.1 * 0.75)
    assert found.value("pitch_speed_nose") == pytest.approx(900 * 11.1 * 0.75 / 60 * pitch * 0.0254)
    assert found.value("pitch_speed_ratio") > 0
    assert found.value("static_thrust_nose") > 0 and found.value("static_thrust_turns_nose") is None
    assert found.value("shaft_power_nose") is None
    note = only(found, "power-unknown")
    assert f"no coefficients at {why}" in note.text and "thrust by turns is left out" in note.text
    (turns,) = (one for one in found.numbers if one.name == "rpm_nose")
    assert turns.assumed == ("cell_voltage", "loaded_speed")


def test_a_flat_pitch_is_warned_of_and_mended_by_the_pitch_told():
    flat = power(**MOTOR | {"propeller": propeller("motor.nose", 9, 2.5)})
    note = only(flat, "pitch-speed")
    assert note.level is Level.WARNING
    pitch = after(note.mend, "a pitch of ")
    assert "in) instead of 64 mm (2.5 in)" in note.mend
    mended = power(**MOTOR | {"propeller": propeller("motor.nose", 9, pitch / 25.4)})
    assert told(mended, "pitch-speed") == []


@pytest.mark.parametrize(
    "motor", [{"speed_constant_rpm_v": 700.0}, {"power_w": 40.0}], ids=["by constant", "by power"]
)
def test_more_turns_mend_little_pitch_speed(motor):
    rotor = propeller("motor.nose", 9, 6)
    note = only(power(**motor, propeller=rotor, mass=900.0), "pitch-speed")
    more = float(note.mend.split(" % more turns")[0].split(" ")[-1])
    taken = float(note.mend.split(" % more power")[0].split(" ")[-1])
    name, factor = ("power_w", taken) if "power_w" in motor else ("speed_constant_rpm_v", more)
    mended = power(**{name: motor[name] * (1 + factor / 100)}, propeller=rotor, mass=900.0)
    assert told(mended, "pitch-speed") == [] or mended.value("pitch_speed_ratio") == pytest.approx(
        2.5, abs=0.01
    )
    before, later = (
        power(**{"speed_constant_rpm_v": 700.0 * (1 + each / 100)}, propeller=rotor).value("shaft_power_nose")
        for each in (0, more)
    )
    assert later / before == pytest.approx(1 + taken / 100, rel=0.03)


def test_an_unknown_pitch_speed_is_said_once_with_what_tells_it():
    nine = propeller("motor.nose", 9, 9)
    for motor, wants in (
        ({"power_w": 150.0, "propeller": nine}, "speed_constant"),
        (MOTOR | {"propeller": propeller("motor.nose", 9, None)}, "motor.nose.propeller its pitch"),
        ({"power_w": 150.0, "propeller": propeller("motor.nose", 9, 6, blades=3)}, "speed_constant"),
    ):
        note = only(power(**motor), "power-unknown")
        assert note.text.count("the pitch speed of motor") == 1
        assert wants in note.mend
    told_now = only(power(**MOTOR | {"propeller": nine}), "power-unknown").text
    assert "pitch speed of motor" not in told_now
    three = only(power(**MOTOR | {"propeller": propeller("motor.nose", 9, 6, blades=3)}), "power-unknown")
    assert "no coefficients for 3 blades" in three.text


def test_words():
    assert size_text(137.16) == "137 mm (5.4 in)"
    assert (listed([]), listed(["a"]), listed(["a", "b", "c"])) == ("", "a", "a, b, or c")
    assert (least(13.51), least(13.0), most(13.99), most(14.0)) == (14, 13, 13, 14)
    assert same_shape_text(200.0, 3.0) == same_shape_text(200.0, 0.1) == ""
