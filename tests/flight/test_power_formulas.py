"""Formulas of propellers against measured runs, closed forms and each other."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.flight.lift_values import surface_slope
from foamcut.flight.power_drives import coefficients, row
from foamcut.flight.power_formulas import (
    bladed_share,
    disc_area,
    disc_thrust,
    figure_of_merit,
    ideal_power,
    moving_thrust,
    pitch_speed,
    rpm_for_power,
    turned_power,
    turned_thrust,
)
from tests.flight.power_sample import propeller

RHO = 1.225
INCH = 0.0254

#: arithmetic: rpm, CT0 and CP0 of the UIUC propeller database, volume 1 (Brandt and Selig, AIAA 2011-1255,
#: runs kt0835 and pg0526), as quoted; thrust N, shaft power W and figure of merit worked out by another
#: program.  First the diameter in inches.
RUNS = (
    (10, 2377, 0.1059, 0.0431, 0.847, 3.47, 0.638),
    (10, 4029, 0.1158, 0.0466, 2.662, 18.27, 0.675),
    (10, 5147, 0.1237, 0.0500, 4.641, 40.88, 0.694),
    (10, 6528, 0.1299, 0.0531, 7.840, 88.57, 0.703),
    (11, 1666, 0.0986, 0.0392, 0.568, 1.75, 0.630),
    (11, 3994, 0.1128, 0.0432, 3.731, 26.58, 0.700),
    (11, 6021, 0.1259, 0.0493, 9.465, 103.91, 0.723),
)
#: the same database, volume 2, the research propeller of 9 in and pitch/diameter 0.75, standing still: all 19
#: rows, as quoted in a public program that checks itself against them
STEEP_CT = (
    0.125931, 0.127314, 0.129033, 0.127408, 0.131518, 0.130653, 0.132682, 0.130863, 0.132955, 0.134311,
    0.134936, 0.136319, 0.135364, 0.138118, 0.138094, 0.138747, 0.139023, 0.139617, 0.140450,
)  # fmt: skip
STEEP_CP = (
    0.088432, 0.088785, 0.087836, 0.085943, 0.087917, 0.086259, 0.086557, 0.083443, 0.083443, 0.083174,
    0.082488, 0.079168, 0.078000, 0.079092, 0.078738, 0.079026, 0.079163, 0.079595, 0.080081,
)  # fmt: skip


@pytest.mark.parametrize(("inches", "rpm", "ct", "cp", "thrust", "power", "merit"), RUNS)
def test_measured_runs_give_their_thrust_power_and_merit(inches, rpm, ct, cp, thrust, power, merit):
    """arithmetic: see RUNS."""
    diameter = inches * INCH
    # the coefficients are quoted to four places, so that the products are good to one in a thousand
    assert turned_thrust(ct, rpm, diameter, RHO) == pytest.approx(thrust, rel=1.5e-3)
    assert turned_power(cp, rpm, diameter, RHO) == pytest.approx(power, rel=3e-3)
    assert figure_of_merit(ct, cp) == pytest.approx(merit, abs=0.0006)
    assert rpm_for_power(cp, turned_power(cp, rpm, diameter, RHO), diameter, RHO) == pytest.approx(rpm)
    # the disc with that merit gives the thrust back
    shaft = turned_power(cp, rpm, diameter, RHO)
    back = disc_thrust(shaft, diameter, RHO, figure_of_merit(ct, cp))
    assert back == pytest.approx(turned_thrust(ct, rpm, diameter, RHO), rel=1e-9)


@pytest.mark.parametrize(("inches", "rpm", "ct", "cp", "thrust", "power", "merit"), RUNS)
def test_rows_of_coefficients_hold_the_measured_runs(inches, rpm, ct, cp, thrust, power, merit):
    """Each measured coefficient lies in the range that is used for its pitch/diameter."""
    usual, low, high = coefficients(propeller(inches=inches, pitch=4.7))
    assert low.thrust <= ct <= high.thrust + 0.002
    assert low.power <= cp <= high.power + 0.001
    assert usual.thrust == pytest.approx(ct, rel=0.22)
    assert usual.power == pytest.approx(cp, rel=0.22)


def test_the_steep_row_is_the_mean_of_its_run():
    """arithmetic: means of STEEP_CT and STEEP_CP, and their ends."""
    thrust, power = row("thrust_coefficient_steep"), row("power_coefficient_steep")
    assert thrust.value == pytest.approx(sum(STEEP_CT) / len(STEEP_CT), abs=0.001)
    assert power.value == pytest.approx(sum(STEEP_CP) / len(STEEP_CP), abs=0.001)
    assert thrust.low < min(STEEP_CT) < max(STEEP_CT) <= thrust.high
    assert power.low < min(STEEP_CP) < max(STEEP_CP) <= power.high
    usual, _, _ = coefficients(propeller(inches=9, pitch=6.75))
    assert usual == pytest.approx((thrust.value, power.value))
    # merit 0.40 to 0.52 at pitch/diameter 0.75
    assert 0.40 < figure_of_merit(*usual) < 0.52


@pytest.mark.parametrize(
    "other",
    [{"pitch": None}, {"pitch": 2.0}, {"pitch": 7.5}, {"blades": 3}, {"inches": 0.001}],
)
def test_beyond_what_was_measured_there_are_no_coefficients(other):
    assert coefficients(propeller(**other)) is None


def test_a_hundred_watts_on_ten_inches():
    """arithmetic: ideal 10.75 N; 7.65 N at a merit of 0.6, 6.77 N at 0.5; T / T_ideal = FM^(2/3)."""
    assert disc_thrust(100, 0.254, RHO, 1.0) == pytest.approx(10.75, abs=0.005)
    assert disc_thrust(100, 0.254, RHO, 0.6) == pytest.approx(7.65, abs=0.005)
    assert disc_thrust(100, 0.254, RHO, 0.5) == pytest.approx(6.77, abs=0.005)
    assert disc_thrust(100, 0.254, RHO, 0.7031) / disc_thrust(100, 0.254, RHO, 1.0) == pytest.approx(
        0.791, abs=0.0005
    )
    assert ideal_power(10.75, 0.254, RHO) == pytest.approx(100, rel=1e-3)


def test_pitch_speed_of_a_small_propeller():
    """arithmetic: 6000 rpm x 4.7 in = 11.94 m/s."""
    assert pitch_speed(6000, 4.7 * INCH) == pytest.approx(11.94, abs=0.005)


@given(thrust=st.floats(0.01, 200), speed=st.floats(0.1, 60), diameter=st.floats(0.05, 1.0))
def test_a_moving_disc_takes_the_power_of_the_textbook(thrust, speed, diameter):
    """arithmetic: P = 1/2 T V (sqrt(1 + T / (1/2 rho A V^2)) + 1), MIT 16.unified notes."""
    dynamic = RHO / 2 * disc_area(diameter) * speed**2
    power = 0.5 * thrust * speed * (math.sqrt(1 + thrust / dynamic) + 1)
    assert moving_thrust(power, diameter, RHO, speed) == pytest.approx(thrust, rel=1e-6)


@given(power=st.floats(0.1, 3000), diameter=st.floats(0.05, 1.0), speed=st.floats(0, 80))
def test_thrust_falls_with_speed_from_that_of_the_standing_disc(power, diameter, speed):
    standing = moving_thrust(power, diameter, RHO, 0.0)
    assert standing == pytest.approx(disc_thrust(power, diameter, RHO, 1.0), rel=1e-9)
    assert ideal_power(standing, diameter, RHO) == pytest.approx(power, rel=1e-9)
    slower, faster = (moving_thrust(power, diameter, RHO, one) for one in (speed, speed + 1))
    assert 0 < faster < slower <= standing * (1 + 1e-12)


@pytest.mark.parametrize(
    ("steep", "static", "ends", "points"),
    [
        # research propeller at 2013 rpm: pitch/diameter 0.75, no thrust left at J 0.857
        (0.75, 0.1290, 0.857, ((0.3155, 0.1032), (0.4651, 0.0839), (0.6427, 0.0469), (0.7800, 0.0141))),
        # slow-flight propeller of 10 in at 6513 rpm: pitch/diameter 0.47, none left at J 0.674
        (0.47, 0.1299, 0.674, ((0.378, 0.0698), (0.599, 0.0176))),
    ],
)
def test_what_blades_have_left_lies_over_measured_runs(steep, static, ends, points):
    """arithmetic: UIUC propeller database as quoted in public programs; advance ratio J, thrust coefficient."""
    multiple = row("thrust_end")
    assert multiple.low - 0.01 <= ends / steep <= multiple.high + 0.01
    for advance, coefficient in points:
        left = static * bladed_share(advance, ends)
        assert 0 <= left - coefficient < 0.03
    assert bladed_share(ends, ends) == bladed_share(ends + 1, ends) == 0
    assert bladed_share(5.0, 0.0) == 1


def test_surface_slope_has_its_two_limits():
    """arithmetic: 2 pi for a long wing; pi A / 2 for a short one (R. T. Jones); square 1.460 (memory)."""
    assert surface_slope(1e6) == pytest.approx(2 * math.pi, rel=1e-5)
    assert surface_slope(0.01) / 0.01 == pytest.approx(math.pi / 2, rel=1e-4)
    assert surface_slope(1.0) == pytest.approx(1.460, rel=0.02)
    assert surface_slope(0.0) == surface_slope(-1.0) == 0


def test_nothing_gives_nothing():
    assert disc_thrust(0, 0.254, RHO, 0.6) == disc_thrust(-5, 0.254, RHO, 0.6) == 0
    assert ideal_power(0, 0.254, RHO) == ideal_power(1, 0, RHO) == ideal_power(1, 0.2, 0) == 0
    assert moving_thrust(0, 0.254, RHO, 10) == moving_thrust(10, 0, RHO, 10) == 0
    assert figure_of_merit(0.1, 0) == figure_of_merit(-0.1, 0.1) == 0
    assert rpm_for_power(0, 10, 0.2, RHO) == rpm_for_power(0.05, -1, 0.2, RHO) == 0
