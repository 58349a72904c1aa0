"""Lift along a wing, and the shear and moment that it makes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from foamcut.flight.lift_values import GRAVITY_M_S2
from foamcut.flight.strength_load import Load

#: 0.80 kg at load factor 4, 1.2 m of span
LIFT_N = 4 * 0.80 * GRAVITY_M_S2
PLANK = ((0.0, 200.0), (600.0, 200.0))


def load(stations: tuple[tuple[float, float], ...] = PLANK, share: float = 0.5) -> Load:
    return Load(lift_n=LIFT_N, stations=stations, elliptic_share=share)


def test_root_moments_of_the_worked_example():
    """Uniform lift n W b / 8, elliptic n W b / (3 pi).  Check: arithmetic (statics; 4.707 and 3.996 N m)."""
    uniform, ellipse = (load(share=share).moment_n_mm(0.0) / 1000 for share in (0.0, 1.0))

    assert uniform == pytest.approx(LIFT_N * 1.2 / 8, rel=1e-12)
    assert ellipse == pytest.approx(LIFT_N * 1.2 / (3 * math.pi), rel=1e-12)
    assert (round(uniform, 3), round(ellipse, 3)) == (4.707, 3.996)


def test_lift_lies_half_way_between_ellipse_and_chords():
    """Check: arithmetic (the mean of both as Schrenk defines it)."""
    tapered = ((0.0, 240.0), (300.0, 220.0), (600.0, 90.0))
    for s in (0.0, 120.0, 300.0, 555.0):
        ends = [load(tapered, share) for share in (0.0, 1.0)]
        mean = load(tapered)
        assert mean.shear_n(s) == pytest.approx(sum(one.shear_n(s) for one in ends) / 2)
        assert mean.moment_n_mm(s) == pytest.approx(sum(one.moment_n_mm(s) for one in ends) / 2)


@st.composite
def wings(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    rows = [(0.0, draw(st.floats(50.0, 400.0)))]
    for _ in range(draw(st.integers(1, 3))):
        rows.append((rows[-1][0] + draw(st.floats(20.0, 600.0)), draw(st.floats(0.0, 400.0))))
    return tuple(rows)


def spread(one: Load, s: float) -> float:
    """Lift per mm by the definition: each share of it over its own area."""
    h = one.half_mm
    ellipse = 4 / (math.pi * 2 * h) * math.sqrt(max(0.0, 1 - (s / h) ** 2))
    chord = 0.0
    for (a, chord_a), (b, chord_b) in zip(one.stations, one.stations[1:], strict=False):
        if a <= s <= b:
            chord = chord_a + (chord_b - chord_a) * (s - a) / (b - a)
    return one.lift_n * (one.elliptic_share * ellipse + (1 - one.elliptic_share) * chord / one.area_mm2)


@given(wings(), st.floats(0.0, 1.0), st.sampled_from([0.0, 0.5, 1.0]))
def test_shear_and_moment_are_the_integrals_of_the_lift(stations, share_out, share):
    """Check: arithmetic (scipy integrates the definition)."""
    one = load(stations, share)
    s = share_out * one.half_mm
    ends = [out for out, _ in stations if s < out < one.half_mm]

    shear = quad(lambda y: spread(one, y), s, one.half_mm, points=ends or None, limit=200)[0]
    moment = quad(lambda y: (y - s) * spread(one, y), s, one.half_mm, points=ends or None, limit=200)[0]

    assert one.shear_n(s) == pytest.approx(shear, rel=1e-5, abs=1e-6)
    assert one.moment_n_mm(s) == pytest.approx(moment, rel=1e-5, abs=1e-3)


@given(wings())
def test_each_half_carries_half_the_lift(stations):
    one = load(stations)
    assert one.shear_n(0.0) == pytest.approx(LIFT_N / 2)
    assert one.moment_n_mm(0.0) < LIFT_N / 2 * one.half_mm


def test_beyond_the_tip_there_is_nothing():
    one = load()
    assert one.shear_n(600.0) == one.shear_n(900.0) == pytest.approx(0.0, abs=1e-9)
    assert one.moment_n_mm(600.0) == one.moment_n_mm(900.0) == pytest.approx(0.0, abs=1e-9)


def test_stations_on_one_place_and_a_pointed_tip_do_no_harm():
    one = load(((0.0, 200.0), (300.0, 200.0), (300.0, 150.0), (600.0, 0.0)))
    assert one.shear_n(0.0) == pytest.approx(LIFT_N / 2)
    assert one.moment_n_mm(450.0) > 0
