"""One failed motor of two: what the rudder holds, and what would mend it."""

import math
from dataclasses import replace

import pytest

from foamcut.airframe.meets import Disc
from foamcut.airframe.values import Control, Role
from foamcut.findings import Level
from foamcut.flight.air import air_at
from foamcut.flight.controls_flap import flap_effectiveness
from foamcut.flight.figures import Figures
from foamcut.flight.lift import lift_of_wing
from foamcut.flight.lift_values import surface_slope
from foamcut.flight.planform import Lifting
from foamcut.flight.power import power_figures
from foamcut.flight.power_drives import row
from foamcut.flight.power_hold import Pull, control_speed, lever_m, rudder_hold
from foamcut.flight.values import Site
from tests.flight.power_sample import (
    battery,
    fin,
    flat,
    lifting,
    loaded,
    model,
    pair,
    plan,
    setup,
    single,
    wing,
)

SEA = air_at(Site())


def failed(the_plan=None, inputs=None, mass: float = 800.0, **motor) -> Figures:
    """All numbers of power of the twin, 40 W a motor as it stands."""
    the_plan, now = the_plan or plan(), loaded(mass)
    inputs = inputs or pair(**{"power_w": 40.0} | motor)
    lift = lift_of_wing(the_plan, now, SEA)
    return power_figures(model(inputs), setup(battery()), SEA, the_plan, now, lift)


def finding(found: Figures):
    several = [one for one in found.findings if one.code == "motor-out"]
    assert len(several) <= 1
    return several[0] if several else None


def stall() -> float:
    return lift_of_wing(plan(), loaded(), SEA).stall_m_s[0]


def test_the_hold_is_slope_times_share_times_throw_times_lever():
    """arithmetic: fin 150 x 100 mm, rudder 40 % deep and whole, 25 degrees; 0.425 m behind the balance."""
    the_fin = fin()
    slope = surface_slope(0.15**2 / 0.015)
    turned = flap_effectiveness(0.4) * math.radians(25) * row("flap_effect").value
    arm = 0.7 + 0.1 / 4 - 0.3
    hold = rudder_hold(plan(the_fin), (300.0, 0.0, 40.0))
    assert hold.value == pytest.approx(0.015 * arm * slope * turned, rel=1e-3)
    assert hold.low < hold.value < hold.high == pytest.approx(0.015 * arm * row("cl_max_flat").value)


def test_only_what_lies_behind_with_a_rudder_holds():
    gravity = (300.0, 0.0, 40.0)
    one = rudder_hold(plan(fin()), gravity)
    assert rudder_hold(plan(fin(), fin()), gravity) == pytest.approx([2 * each for each in one])
    assert rudder_hold(plan(fin(throw=0)), gravity).value == 0
    assert rudder_hold(plan(fin(at=100.0)), gravity) == (0, 0, 0)
    assert rudder_hold(replace(plan(), fins=()), gravity) == (0, 0, 0)
    # a fin bears no more than a flat plate, however far its rudder is turned
    far = rudder_hold(plan(fin(throw=80.0, chord=40.0)), gravity)
    assert far.value <= far.high


def test_the_lever_is_the_distance_of_the_thrust_line():
    """arithmetic: 162 mm out and straight; a line turned outwards by its angle passes nearer."""
    forwards = (-1.0, 0.0, 0.0)
    disc = Disc(key="", name="", middle=(200.0, 162.0, 50.0), forwards=forwards, diameter_mm=200.0)
    assert lever_m(disc, (300.0, 0.0, 40.0)) == pytest.approx(0.162)
    a = math.radians(3)
    turned = replace(disc, forwards=(-math.cos(a), math.sin(a), 0.0))
    assert lever_m(turned, (300.0, 0.0, 40.0)) == pytest.approx(0.162 * math.cos(a) - 0.1 * math.sin(a))


@pytest.mark.parametrize("ends", [None, 15.0, 30.0])
def test_moments_balance_at_the_speed_found(ends):
    pull = Pull(static_n=4.0, diameter_m=0.2, density_kg_m3=1.225, ends_m_s=ends)
    speed = control_speed(pull, 0.162, 0.002)
    assert 1.225 / 2 * speed**2 * 0.002 == pytest.approx(pull.at(speed) * 0.162, rel=1e-9)
    assert ends is None or speed < ends
    assert pull.at(0.0) == pytest.approx(4.0)


def test_a_stronger_rudder_or_less_thrust_holds_at_less_speed():
    pull = Pull(static_n=4.0, diameter_m=0.2, density_kg_m3=1.225, ends_m_s=None)
    speed = control_speed(pull, 0.162, 0.002)
    assert control_speed(pull, 0.162, 0.004) < speed < control_speed(pull, 0.3, 0.002)
    assert control_speed(replace(pull, static_n=2.0), 0.162, 0.002) < speed
    assert control_speed(replace(pull, static_n=0.0), 0.162, 0.002) == 0
    assert control_speed(pull, 0.162, 1e-9) is None


def test_a_twin_is_told_its_speed_and_to_close_the_throttle():
    found = failed()
    note = finding(found)
    speed, ratio = found.value("control_speed"), found.value("control_speed_ratio")
    assert speed == pytest.approx(ratio * stall())
    assert note.mend.startswith("close the throttle at once") and "throttle at once" not in note.text
    assert note.where == "motor.wing"


def test_a_twin_that_is_held_is_not_asked_to_change():
    found = failed(power_w=4.0)
    note = finding(found)
    assert found.value("control_speed_ratio") < 1.2
    assert note.level is Level.NOTE
    assert note.mend.startswith("close the throttle")


def wishes(note) -> dict[str, float]:
    """The numbers of the ways that a finding names."""
    ways = {"larger": "fin and rudder ", "throw": "rudder throw ", "closer": "the motors "}
    parts = note.mend.partition("it holds with ")[2].split("; or ")
    return {
        name: float(part.removeprefix(start).split(" ")[0])
        for name, start in ways.items()
        for part in parts
        if part.startswith(start)
    }


def test_what_is_said_to_mend_it_mends_it():
    """Each way alone brings the speed to 1.2 x stall."""
    slow = {"power_w": 30.0, "out_mm": 190.0}
    note = finding(failed(**slow))
    ways = wishes(note)
    assert set(ways) == {"larger", "throw", "closer"}, note.mend
    # half again as high and as deep by the root of the factor: area larger, shape and lever the same
    size = math.sqrt(1 + ways["larger"] / 100)
    larger = fin(chord=100 * size, height=150 * size, at=700 + 25 - 25 * size)
    mended = (
        failed(plan(larger), **slow),
        failed(plan(fin(throw=ways["throw"])), **slow),
        failed(**slow | {"out_mm": 190.0 - ways["closer"]}),
    )
    for found in mended:
        assert found.value("control_speed_ratio") == pytest.approx(1.2, abs=0.03)


def test_a_fin_without_a_rudder_is_told():
    note = finding(failed(plan(fin(throw=0))))
    assert (note.level, note.value) == (Level.WARNING, "no rudder")
    assert note.where == "surface.fin"
    assert finding(failed(replace(plan(), fins=()))).where == "motor.wing"


def test_half_of_the_thrust_in_flight_tells_a_note_from_a_warning():
    """arithmetic: rudder's moment at 1.5 x stall against half of the static thrust times its distance out."""
    hold, lever = rudder_hold(plan(), loaded().at).value, 0.162
    pressure = SEA.density_kg_m3 / 2 * (1.5 * stall()) ** 2
    levels = []
    for watts in (10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 60.0):
        found = failed(power_w=watts)
        held = pressure * hold >= found.value("static_thrust_wing") / 2 * lever
        levels.append(finding(found).level)
        assert levels[-1] is (Level.NOTE if held else Level.WARNING)
        assert len(finding(found).text) < 130
    assert set(levels) == {Level.NOTE, Level.WARNING}


def test_far_too_little_rudder_offers_part_throttle_alone():
    note = finding(failed(power_w=200.0))
    assert note.level is Level.WARNING
    assert wishes(note) == {}
    assert "% of the power on each motor" in note.mend


def test_nothing_is_said_where_no_motor_stands_off_the_centre():
    found = failed(inputs=single(power_w=40.0))
    assert finding(found) is None
    assert found.value("control_speed") is None


def test_nothing_is_said_without_thrust_weight_or_wing():
    assert finding(failed(power_w=None)) is None
    inputs = model(pair(power_w=40.0))
    for the_plan, now in ((None, loaded()), (plan(), None), (None, None)):
        found = power_figures(inputs, setup(battery()), SEA, the_plan, now, None)
        assert finding(found) is None
        assert found.value("static_thrust_wing") > 0


def test_motors_without_a_spar_to_sit_on_count_by_their_distance():
    """A flat wing gives no seat and no disc; the distance out is still known."""
    inputs = pair(power_w=40.0)
    bare = replace(inputs, surfaces=(wing().surface,))
    assert failed(inputs=bare).value("control_speed") == pytest.approx(
        failed(inputs=inputs).value("control_speed"), rel=0.02
    )


def vee(rise: float = 35.0) -> Lifting:
    """A V tail of two boards 180 by 100, controls 30 deep on both."""
    control = Control(
        key="surface.tail.elevator", word="elevator", from_mm=0.0, to_mm=180.0, chord_mm=30.0, throw_deg=20.0
    )
    surface = flat("tail", Role.STABILISER, (100.0, 100.0), 180.0, at=(700.0, 50.0), controls=(control,))
    root = replace(surface.stations[0], dihedral_deg=rise)
    return lifting(replace(surface, stations=(root, surface.stations[1])))


def test_the_controls_of_a_v_tail_hold_by_what_of_their_force_goes_sideways():
    """arithmetic: boards of 2 x 180 x 100 mm, sin of their rise; 0.425 m behind the balance."""
    tail = vee()
    bare = replace(plan(), tail=tail, fins=())
    slope = surface_slope(tail.aspect_ratio) * flap_effectiveness(0.3) * math.radians(20)
    sideways = 0.036 * math.sin(math.radians(35)) * 0.425
    hold = rudder_hold(bare, (300.0, 0.0, 40.0))
    assert hold.value == pytest.approx(sideways * slope * row("flap_effect").value, rel=1e-3)
    assert hold.high == pytest.approx(sideways * row("cl_max_flat").value)
    note = finding(failed(bare))
    assert note is not None and note.value != "no rudder"
    told = [finding(failed(bare, power_w=watts)).mend for watts in (60.0, 80.0, 100.0, 120.0)]
    assert any("V tail" in words for words in told) and not any("fin and rudder" in words for words in told)
    still = replace(tail, surface=replace(tail.surface, controls=()))
    assert finding(failed(replace(bare, tail=still))).where == "surface.tail"
    # one that hardly rises is a stabiliser, and holds nothing
    assert rudder_hold(replace(bare, tail=vee(10.0)), (300.0, 0.0, 40.0)) == (0, 0, 0)


def test_more_throw_is_no_mend_of_a_fin_that_bears_no_more():
    """A long fin whose rudder already brings it near the most that a flat plate bears."""
    slender = fin(throw=24.0, chord=60.0, height=250.0)
    hold = rudder_hold(plan(slender), loaded().at)
    assert hold.value > 0.9 * hold.high
    told = [wishes(finding(failed(plan(slender), power_w=watts))) for watts in range(10, 60, 5)]
    assert all("throw" not in ways or ways["throw"] <= 24 * hold.high / hold.value + 0.5 for ways in told)
    assert any("larger" in ways for ways in told)


def test_the_farther_of_two_motors_counts_and_less_thrust_asks_for_less_speed():
    found = failed()
    speed = next(one for one in found.numbers if one.name == "control_speed")
    assert speed.low < speed.value < speed.high
    the_plan, now = plan(), replace(loaded(), at=(300.0, 8.0, 40.0))
    lift = lift_of_wing(the_plan, now, SEA)
    beside = power_figures(model(pair(power_w=40.0)), setup(battery()), SEA, the_plan, now, lift)
    mirrored = replace(now, at=(300.0, -8.0, 40.0))
    other = power_figures(model(pair(power_w=40.0)), setup(battery()), SEA, the_plan, mirrored, lift)
    assert beside.value("control_speed") == pytest.approx(other.value("control_speed"))
    assert beside.value("control_speed") > found.value("control_speed")
