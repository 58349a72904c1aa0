"""Throws in mm and degrees, sizes of control surfaces, and what a flap does to a section."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad

from foamcut.airframe.values import Build, Role
from foamcut.flight.controls import control_figures, throws
from foamcut.flight.controls_flap import flap_effectiveness, flap_moment, lift_share
from foamcut.flight.controls_shape import board_mm2, hung
from tests.flight.stability_sample import control, plan, surface, trainer


def wing_with(*controls, rows=((0, 0, 200, 0), (500, 0, 200, 0))):
    return plan(surface("wing", Role.WING, (100, 50), rows, build=Build.FOLDED, controls=controls))


def codes(found):
    return [finding.code for finding in found.findings]


@pytest.mark.parametrize(("deg", "mm"), [(15, 10.4), (20, 13.7), (30, 20.0)])
def test_the_trailing_edge_moves_by_chord_times_sine(deg, mm):
    """arithmetic: mm = chord x sin(angle); a chord of 40 mm, to the printed digit."""
    (throw,) = throws(wing_with(control("wing", "aileron", 250, 480, 40, deg)))
    assert round(throw.mm, 1) == mm
    assert (throw.surface, throw.word, throw.deg, throw.chord_mm) == ("wing", "aileron", deg, 40)


def test_a_swept_hinge_is_measured_square_to_itself():
    """A trailing edge that runs back 100 mm on 400: the hinge leans by atan(1/4), depth by its cosine."""
    swept = wing_with(control("wing", "elevon", 0, 400, 40, 20), rows=((0, 0, 200, 0), (400, 100, 200, 0)))
    (throw,) = throws(swept)
    assert throw.chord_mm == pytest.approx(40 * math.cos(math.atan(0.25)))
    assert throw.mm == pytest.approx(throw.chord_mm * math.sin(math.radians(20)))


def test_the_widest_place_may_be_a_station_between_the_ends():
    rows = ((0, 0, 200, 0), (200, 0, 230, 0), (400, 0, 200, 0))
    (throw,) = throws(wing_with(control("wing", "elevon", 0, 400, 40, 30), rows=rows))
    assert throw.chord_mm == pytest.approx(70)
    assert throw.mm == pytest.approx(35)


def test_every_throw_is_told_in_mm_and_in_degrees():
    found = trainer(ailerons=True)
    numbers = {one.name: one for one in control_figures(found, throws(found)).numbers}
    for name, mm, deg in (
        ("throw_wing_aileron", 40 * math.sin(math.radians(18)), 18),
        ("throw_tail_elevator", 35 * math.sin(math.radians(20)), 20),
        ("throw_fin_rudder", None, 25),
    ):
        if mm is not None:
            assert numbers[name].value == pytest.approx(mm, rel=0.01)
        assert numbers[name].unit == "mm"
        assert (numbers[f"{name}_deg"].value, numbers[f"{name}_deg"].unit) == (deg, "deg")
    assert (numbers["low_rate"].low, numbers["low_rate"].high) == (60, 70)


def test_two_ailerons_on_one_wing_keep_names_of_their_own():
    found = wing_with(
        control("wing", "aileron", 100, 250, 40, 18), control("wing", "aileron", 260, 480, 40, 18)
    )
    names = [one.name for one in control_figures(found, throws(found)).numbers]
    assert len(names) == len(set(names))
    assert {"throw_wing_aileron", "throw_wing_aileron_2", "throw_wing_aileron_2_deg"} <= set(names)


def test_surfaces_whose_names_differ_by_a_sign_alone_keep_names_of_their_own():
    fins = [
        surface(
            name, Role.FIN, (600, 60), [(0, 0, 100, 0), (100, 0, 80, 0)],
            controls=[control(name, "rudder", 5, 95, 30, 25)],
        )
        for name in ("fin-1", "fin_1", "Fin 1")
    ]  # fmt: skip
    found = replace(wing_with(), fins=plan(fins[0], None, *fins).fins)
    names = [one.name for one in control_figures(found, throws(found)).numbers]
    assert len(names) == len(set(names))
    assert sum(name.endswith("_deg") for name in names) == 3


def test_a_sound_trainer_has_no_advice_about_its_controls():
    for found in (trainer(), trainer(ailerons=True)):
        assert codes(control_figures(found, throws(found))) == []


@pytest.mark.parametrize(("deg", "odd"), [(4, True), (11, False), (20, False), (43, False), (70, True)])
def test_only_throws_far_off_are_told(deg, odd):
    """An elevator 35 mm deep on 1 m: usual 10 to 15 mm; told below 6 and above 24 mm."""
    found = trainer(elevator=deg)
    assert ("throw-size" in codes(control_figures(found, throws(found)))) is odd


def test_the_mend_of_a_throw_gives_the_usual_mm():
    found = trainer(elevator=4)
    (finding,) = control_figures(found, throws(found)).findings
    assert finding.where == "surface.tail.elevator.throw"
    low, high = (int(word) for word in finding.mend.split() if word.isdigit())
    widest = hung(found.tail.surface)[0].widest_mm
    usual = (10 * found.wing.span_m, 15 * found.wing.span_m)
    assert widest * math.sin(math.radians(low)) == pytest.approx(usual[0], abs=0.4)
    assert widest * math.sin(math.radians(high)) == pytest.approx(usual[1], abs=0.4)


def test_a_control_too_shallow_for_its_throw_is_to_be_made_deeper():
    """No angle above 35 degrees is told; 12 mm on a span of 1 m then take 21 mm of depth."""
    found = wing_with(control("wing", "aileron", 250, 480, 12, 20))
    finding = next(one for one in control_figures(found, throws(found)).findings if one.code == "throw-size")
    assert "a throw of 35 degrees and a depth of 21 mm" in finding.mend
    (mended,) = throws(wing_with(control("wing", "aileron", 250, 480, 21, 35)))
    assert 12 <= mended.mm < 12.5


def test_shares_are_areas_of_board():
    """arithmetic: 2 x 230 x 40 mm of a wing of 2 x 500 x 200."""
    found = wing_with(control("wing", "aileron", 250, 480, 40, 18))
    figures = control_figures(found, throws(found))
    assert figures.value("share_wing_aileron") == pytest.approx(100 * 230 * 40 / (500 * 200))


def test_a_control_that_is_too_large_or_too_small_is_told_with_a_mend_that_mends():
    for first, chord, ok in ((20, 60, False), (450, 30, False), (250, 40, True)):
        found = wing_with(control("wing", "aileron", first, 490, chord, 15))
        told = [one for one in control_figures(found, throws(found)).findings if one.code == "control-size"]
        assert bool(told) is not ok
        if told:
            again = float(told[0].mend.split()[0])
            mended = wing_with(control("wing", "aileron", first, 490, again, 15))
            share = control_figures(mended, throws(mended)).value("share_wing_aileron")
            assert 3 <= share < 3.4 or 11.6 < share <= 12


def test_nasty_controls_are_no_crash():
    nasty = [
        control("wing", "aileron", 0, 0, 40, 20),
        control("wing", "aileron", 600, 900, 40, 20),
        control("wing", "aileron", 400, 100, 40, 20),
        control("wing", "aileron", 0, 500, 0, 20),
        control("wing", "aileron", 0, 500, 900, 20),
        control("wing", "aileron", 0, 500, 40, 0),
        control("wing", "aileron", 0, 500, 40, 400),
    ]
    for one in nasty:
        found = wing_with(one)
        figures = control_figures(found, throws(found))
        assert all(math.isfinite(number.value) for number in figures.numbers)
    none = wing_with()
    assert throws(none) == ()
    assert control_figures(none, ()).numbers == ()


# ---- flaps


def by_quadrature(share):
    """Lift and moment about the quarter point per radian of flap: the integrals of thin-aerofoil theory, done
    numerically over the bent mean line (arithmetic: Glauert's integrals; numbers by scipy)."""
    hinge = math.acos(1 - 2 * (1 - share))
    a0 = quad(lambda _: 1.0, hinge, math.pi)[0] / math.pi
    a1 = -2 / math.pi * quad(math.cos, hinge, math.pi)[0]
    a2 = -2 / math.pi * quad(lambda t: math.cos(2 * t), hinge, math.pi)[0]
    return math.pi * (2 * a0 + a1), -math.pi / 4 * (a1 - a2)


@pytest.mark.parametrize("share", [0.0, 0.1, 0.25, 0.3, 0.5, 0.8, 1.0])
def test_a_flap_does_what_the_integrals_of_thin_aerofoil_theory_give(share):
    lift, moment = by_quadrature(share)
    assert flap_effectiveness(share) == pytest.approx(lift / (2 * math.pi), abs=1e-9)
    assert flap_moment(share) == pytest.approx(moment, abs=1e-9)


@pytest.mark.parametrize("share", [0.25, 0.5])
def test_a_flap_does_what_a_row_of_vortices_gives(share):
    """arithmetic: vortices at quarter points, flow met at three-quarter points of 800 pieces of the chord."""
    n = 800
    edges = np.linspace(0.0, 1.0, n + 1)
    vortex = edges[:-1] + 0.25 / n
    met = edges[:-1] + 0.75 / n
    wash = 1 / (2 * math.pi * (met[:, None] - vortex[None, :]))
    strength = np.linalg.solve(wash, np.where(met > 1 - share, 1.0, 0.0))
    assert flap_effectiveness(share) == pytest.approx(2 * strength.sum() / (2 * math.pi), rel=0.002)
    assert flap_moment(share) == pytest.approx((2 * strength * (0.25 - vortex)).sum(), rel=0.005)


def test_known_values_of_flap_effectiveness():
    """published (excerpt read): Houghton and Carpenter, Aerodynamics for Engineering Students, p. 183,
    eq. 4.52, cl = 2 (pi - p + sin p) d, cos p = 2 E - 1; the numbers are ours."""
    for share, p in ((0.25, 2 * math.pi / 3), (0.5, math.pi / 2), (1.0, 0.0)):
        assert flap_effectiveness(share) == pytest.approx((math.pi - p + math.sin(p)) / math.pi)
    assert [round(flap_effectiveness(one), 4) for one in (0.25, 0.5, 1.0)] == [0.609, 0.8183, 1.0]


def test_a_flap_over_the_whole_span_turns_a_surface_as_it_turns_its_section():
    found = wing_with(control("wing", "elevon", 0, 500, 50, 20)).wing.surface
    assert lift_share(hung(found), board_mm2(found)) == pytest.approx(flap_effectiveness(0.25))
    half = wing_with(control("wing", "elevon", 250, 500, 50, 20)).wing.surface
    assert lift_share(hung(half), board_mm2(half)) == pytest.approx(flap_effectiveness(0.25) / 2)
    assert lift_share((), 0.0) == 0.0
