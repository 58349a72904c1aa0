"""Where motors sit and what their propellers sweep."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.airframe.motor_thrust import Thrust, washer_mm
from foamcut.airframe.motors import discs, motor_parts, skin_openings, skin_slots, with_places
from foamcut.airframe.planform import panel_beside
from foamcut.airframe.values import Run
from foamcut.findings import Level
from tests.airframe.motors_sample import INCH, body, firewall, in_nose, on_wing, propeller, twin, wing
from tests.airframe.section_surfaces import spar


def circle(disc, count: int = 720) -> np.ndarray:
    """Points of the rim of a disc, by two directions square to its shaft."""
    shaft = np.array(disc.forwards)
    across = np.cross(shaft, [0.0, 0.0, 1.0])
    across /= np.linalg.norm(across)
    up = np.cross(across, shaft)
    turns = np.linspace(0, 2 * math.pi, count, endpoint=False)
    radius = disc.diameter_mm / 2
    return np.array(disc.middle) + radius * (np.outer(np.cos(turns), across) + np.outer(np.sin(turns), up))


@pytest.mark.parametrize(("inches", "out"), [(6, 136), (8, 162), (10, 187)])
def test_a_pair_keeps_its_clearance_from_the_body(inches, out):
    """W/2 + D/2 + clearance, W 80, clearance 20: a table of trade practice, whole mm (published)."""
    inputs = twin(on_wing(out_mm=None, clearance_mm=20.0, propeller=propeller(inches)), bodies=(body(80.0),))
    placed, said = with_places(inputs)
    assert not said.refusals
    assert placed.motors[0].out_mm == pytest.approx(out, abs=0.5)


def test_clearance_is_20_mm_when_nothing_is_said():
    """common practice, no source: 62 / 2 + 203.2 / 2 + 20 = 152.6 mm (arithmetic)."""
    placed, _ = with_places(twin(on_wing(out_mm=None)))
    assert placed.motors[0].out_mm == pytest.approx(152.6)
    assert with_places(placed)[0] == placed


@given(
    width=st.floats(30, 120),
    inches=st.floats(4, 10),
    gap=st.floats(0, 60),
    dihedral=st.floats(-5, 10),
    back=st.floats(0, 150),
)
def test_the_rim_of_a_disc_is_its_clearance_from_the_body(width, inches, gap, dihedral, back):
    """arithmetic: of all points of the rim the nearest is as far off the body's side as was asked for."""
    motor = on_wing(out_mm=None, clearance_mm=gap, propeller=propeller(inches), nacelle=None)
    surface = wing(dihedral, back, spar=spar(run=Run.FOLLOW))
    placed, _ = with_places(twin(motor, bodies=(body(width),), surfaces=(surface,)))
    right, left = discs(placed)
    for disc, side in ((right, 1), (left, -1)):
        rim = circle(disc)
        assert (side * rim[:, 1]).min() - width / 2 == pytest.approx(gap, abs=0.01)
        assert (rim - disc.middle) @ disc.forwards == pytest.approx(0, abs=1e-9)
        assert disc.middle[1] == pytest.approx(side * placed.motors[0].out_mm, abs=1e-6)
        assert np.linalg.norm(disc.forwards) == pytest.approx(1)


def test_the_disc_turns_ahead_of_the_leading_edge_at_the_height_of_the_middle_of_the_section():
    """arithmetic: 40 mm before the edge; two strips and two skins of 5 mm have their middle at 10 mm."""
    inputs = twin()
    (surface,) = inputs.surfaces
    right, left = discs(inputs)
    panel, _ = panel_beside(surface, 162.0)
    c, s, n = panel.place(right.middle)
    assert c == pytest.approx(panel.leading(s) - 40)
    assert n == pytest.approx(10)
    assert (right.name, left.name) == ("wing-right", "wing-left")
    assert right.forwards == pytest.approx((-math.cos(math.radians(1)), 0, math.sin(math.radians(1))))
    assert left.middle == pytest.approx((right.middle[0], -right.middle[1], right.middle[2]))


def test_a_nose_motor_sits_at_mid_height_of_the_front():
    """arithmetic: from 12 to 72 mm high, 3 mm of plywood and 40 mm before it."""
    placed, _ = with_places(twin(in_nose()))
    assert placed.motors[0].at_mm == (0.0, 42.0)
    (disc,) = discs(placed)
    assert disc.middle == pytest.approx((-43, 0, 42))
    assert disc.forwards == pytest.approx((-1, 0, 0))


def test_a_motor_moves_by_what_is_in_print():
    """5 in and 4 degrees give 11/32 in, to a thirty-second of an inch (published: hobby practice)."""
    side, _ = Thrust(side_deg=4.0, down_deg=0.0, side_word="right").moved(5 * INCH)
    assert side < 0, "right thrust moves the motor to the left"
    assert round(-side / INCH * 32) == 11


def test_washers_are_as_thick_as_a_club_says():
    """25 mm and 2 degrees give 0.9 mm (published: a club's page)."""
    assert round(washer_mm(25.0, 2.0), 1) == 0.9


def test_right_thrust_points_right_and_down_thrust_down():
    """arithmetic: x aft, y right, z up."""
    thrust = Thrust(side_deg=3.0, down_deg=2.0, side_word="right")
    x, y, z = thrust.forwards((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    assert x < 0 < y and z < 0
    assert math.degrees(math.atan2(y, -x)) == pytest.approx(3)
    assert math.degrees(math.asin(-z)) == pytest.approx(2)


@given(outwards=st.floats(-4, 4), down=st.floats(-4, 4), ahead=st.floats(20, 80))
def test_the_shaft_leads_from_the_hole_in_the_firewall_to_the_middle_of_the_disc(outwards, down, ahead):
    """arithmetic: along the shaft from the hole as cut; without a turn the propeller is on the same line."""
    motor = on_wing(outwards_deg=outwards, down_deg=down, ahead_mm=ahead, nacelle=None)
    inputs = twin(motor)
    made = motor_parts(motor, inputs)
    plate = next(part for part in made.parts if part.name == "motor-wing-firewall")
    shaft = next(cut for cut in plate.cutouts if cut.key.endswith(".shaft"))
    at, x, y = (np.array(v) for v in (plate.place.at, plate.place.x, plate.place.y))
    start = at + shaft.at[0] * x + shaft.at[1] * y
    disc, straight = discs(inputs)[0], discs(twin(on_wing(ahead_mm=ahead)))[0]
    off = np.array(disc.middle) - start
    assert np.cross(off, disc.forwards) == pytest.approx(0, abs=1e-6)
    assert np.cross(np.array(disc.middle) - straight.middle, straight.forwards) == pytest.approx(0, abs=1e-6)
    assert np.linalg.norm(np.array(disc.middle) - straight.middle) < 0.01 * np.linalg.norm(off)


def test_a_slot_is_as_long_as_the_firewall_is_wide_and_stands_before_the_spar():
    """arithmetic: 36 mm to the spar's front, half of 1.5 mm before it."""
    inputs = twin()
    (slot,) = skin_slots(inputs.surfaces[0], inputs)
    assert (slot.c_mm, slot.length_mm, slot.takes.name) == (35.25, 45.0, "ply")
    assert slot.s_mm == pytest.approx(162.0 / math.cos(math.radians(2)), abs=0.5)


def test_a_slot_through_a_sloping_skin_is_longer_by_what_the_slope_takes():
    """arithmetic: a plate upright between the two papers of a board that rises by u, by its four corners."""
    inputs = twin()
    (slot,) = skin_slots(inputs.surfaces[0], inputs)
    # the skin's inner paper rises from 5 mm under the nose's 10 mm, square, to the strips' top at 15 mm
    c = 36.0 - 6.0 * slot.s_mm / 552
    u = math.atan2(5, c) + math.asin(5 / math.hypot(c, 5))
    corners = [(x, y) for x in (-0.75, 0.75) for y in (0.0, 5.0)]  # along the model, through the board
    along = [
        (x + y * math.sin(u)) / math.cos(u) if y == 0 else x / math.cos(u) + y * math.tan(u)
        for x, y in corners
    ]
    assert slot.extra_mm == pytest.approx(max(along) - min(along) - 1.5, rel=1e-6)


def test_wires_go_through_the_lower_skin_before_the_firewall():
    """common practice, no source: 3 mm off the slot and off the board that the nose stands on."""
    inputs = twin()
    (opening,) = skin_openings(inputs.surfaces[0], inputs)
    leading = 6.0 * opening.s_mm / 552
    low, high = opening.c_mm - opening.size_mm[0] / 2, opening.c_mm + opening.size_mm[0] / 2
    assert low >= leading + 5 + 3 and high <= 36 - 1.5 - 0.1 - 3
    assert not opening.upper and opening.text == "motor wires, before closing"


def test_no_opening_where_there_is_no_room_and_a_finding_says_so():
    """arithmetic: between cheeks inside a nacelle 27 mm are left of 37, less than 20 and twice 3."""
    motor = on_wing(firewall=firewall(width_mm=35.0), nacelle=on_wing().nacelle)
    inputs = twin(motor)
    assert skin_openings(inputs.surfaces[0], inputs) == ()
    assert any("no room for the motor's wires" in f.text for f in motor_parts(motor, inputs).findings)


def close(motor, inputs):
    found = [f for f in motor_parts(motor, inputs).findings if f.code == "propeller-close"]
    return {f.level: f for f in found}


def test_less_than_15_mm_to_the_body_is_a_warning_and_none_a_stop():
    """common practice, no source: 142.6 mm out leaves 10 mm, 132.6 mm none (arithmetic)."""
    for out, level in ((147.7, Level.NOTE), (142.6, Level.WARNING), (132.6, Level.STOP)):
        motor = on_wing(out_mm=out)
        found = close(motor, twin(motor))
        assert set(found) == {Level.NOTE, level}
    motor = on_wing(out_mm=142.6)
    found = close(motor, twin(motor))[Level.WARNING]
    assert found.value == "10 mm" and "5 mm farther out, to 147.6 mm" in found.mend


def test_a_disc_before_the_body_does_not_pass_beside_it():
    """arithmetic: the body begins 250 mm aft, the disc turns at about 200 mm."""
    rows = tuple(r for r in body().side)
    late = tuple(
        type(r)(key=r.key, along_mm=r.along_mm + 250, bottom_mm=r.bottom_mm, top_mm=r.top_mm) for r in rows
    )
    motor = on_wing(out_mm=132.6)
    assert Level.STOP not in close(motor, twin(motor, bodies=(body(side=late),)))


def test_a_propeller_lower_than_the_belly_is_told_of():
    """arithmetic: the axis is 70.3 mm up at 0 degrees of dihedral's rise, 101.6 mm down from it is -31."""
    motor = on_wing()
    found = close(motor, twin(motor))[Level.NOTE]
    assert float(found.value.split()[0]) == pytest.approx(
        min(circle(disc)[:, 2].min() for disc in discs(twin(motor))), abs=0.05
    )
    small = on_wing(propeller=propeller(5))
    assert Level.NOTE not in close(small, twin(small))


def test_discs_over_each_other_seen_from_ahead_are_told_of():
    """arithmetic: 95 mm out on each side leave 190 mm between the middles of discs of 203.2 mm."""
    motor = on_wing(out_mm=95.0)
    found = [f for f in motor_parts(motor, twin(motor, bodies=())).findings if "over each other" in f.text]
    assert [f.value for f in found] == ["-13.2 mm"]
    motor = on_wing()
    nose = in_nose(propeller=propeller(10, "motor.nose"))
    both = twin(motor, nose)
    assert not any("over each other" in f.text for f in motor_parts(motor, both).findings)
    assert any(
        "over each other" in f.text for f in motor_parts(with_places(both)[0].motors[1], both).findings
    )


def test_a_turned_thrust_line_is_said_with_its_offset_and_its_washers():
    """arithmetic: 40 mm x sin 2 = 1.4 mm; screws on 25 mm are 17.7 mm apart, x tan 2 = 0.62 mm."""
    inputs, _ = with_places(twin(in_nose(right_deg=2.0, down_deg=2.0)))
    (found,) = (f for f in motor_parts(inputs.motors[0], inputs).findings if f.code == "thrust-line")
    for words in (
        "1.4 mm left and 1.4 mm up",
        "0.62 mm go under the left",
        "0.62 mm go under the upper",
        "17.7 mm",
    ):
        assert words in found.text
    inputs, _ = with_places(twin(in_nose()))
    assert not any(f.code == "thrust-line" for f in motor_parts(inputs.motors[0], inputs).findings)
