"""Panels of surfaces on the model, and the mean chord."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.airframe.planform import mean_chord, panel_beside, panels
from foamcut.airframe.values import Role
from tests.airframe.flat_sample import fin, rows, surface


@st.composite
def surfaces(draw):
    """Up to four panels with any dihedral and any angle."""
    out, several = 0.0, []
    for _ in range(draw(st.integers(2, 5))):
        several.append((out, draw(st.floats(-50, 200)), draw(st.floats(40, 300)), draw(st.floats(-40, 40))))
        out += draw(st.floats(20, 400))
    at = draw(st.floats(-100, 900)), draw(st.floats(-100, 100))
    return surface(
        "wing", Role.WING, at=at, stations=rows("wing", *several), angle_deg=draw(st.floats(-10, 10))
    )


def test_the_mean_chord_of_a_swept_trapezoid() -> None:
    """published: Public Domain Aeronautical Software, "Mean aerodynamic chord example 3", pdas.com/macex3.html:
    chords 400 and 200, semispan 1000, tip 600 back: 311.1111 long, 444.4444 out, quarter point at 344.4444.
    """
    mean = mean_chord(
        surface("wing", Role.WING, at=(0.0, 0.0), stations=rows("wing", (0, 0, 400, 0), (1000, 600, 200, 0)))
    )

    assert mean.chord_mm == pytest.approx(311.1111, abs=5e-5)
    assert mean.out_mm == pytest.approx(444.4444, abs=5e-5)
    assert mean.leading_mm + mean.chord_mm / 4 == pytest.approx(344.4444, abs=5e-5)
    assert mean.area_mm2 == pytest.approx(300000)


def test_the_mean_chord_of_two_panels() -> None:
    """arithmetic: the parts' means weighted by area: 350 x 220 with mean 220 at back 0, out 175; 350 x 180 with
    2/3 (220 + 140 - 220 x 140 / 360) = 182.963 at back 23.148, out 350 + 162.037.
    """
    several = rows("wing", (0, 0, 220, 0), (350, 0, 220, 0), (700, 50, 140, 0))
    mean = mean_chord(surface("wing", Role.WING, at=(0.0, 0.0), stations=several))

    areas = 350 * 220, 350 * 180
    assert mean.area_mm2 == pytest.approx(sum(areas))
    for value, parts in (
        (mean.chord_mm, (220.0, 182.963)),
        (mean.leading_mm, (0.0, 23.148)),
        (mean.out_mm, (175.0, 512.037)),
    ):
        assert value == pytest.approx(np.average(parts, weights=areas), abs=1e-3)


@given(surfaces(), st.floats(-300, 300), st.floats(-300, 300), st.floats(-30, 30))
def test_a_point_goes_to_the_model_and_back(one, c: float, s: float, n: float) -> None:
    """arithmetic: a turn and a move, undone; lengths stay."""
    for panel in panels(one):
        assert panel.place(panel.point(c, s, n)) == pytest.approx((c, s, n), abs=1e-9)
        assert math.dist(panel.point(c, s, n), panel.point(0, 0, 0)) == pytest.approx(
            math.hypot(c, s, n), abs=1e-9
        )


@given(surfaces(), st.floats(0, 300), st.floats(0, 30))
def test_the_halves_meet_on_the_centre_plane(one, c: float, n: float) -> None:
    """arithmetic: the right half's inner end lies at y = 0, so that its mirror image touches it."""
    root = panels(one)[0]
    s = root.first.out_mm + n * math.tan(math.radians(root.first_tilt_deg))

    assert root.point(c, s, n)[1] == pytest.approx(0, abs=1e-9)


@given(surfaces(), st.floats(0, 300), st.floats(0, 30))
def test_neighbours_meet_in_one_plane(one, c: float, n: float) -> None:
    """arithmetic: ends that lean by half the angle between two boards are one edge in space."""
    for before, after in pairwise(panels(one)):
        s = before.last.out_mm
        ends = [
            panel.point(c, s + n * math.tan(math.radians(tilt)), n)
            for panel, tilt in ((before, before.last_tilt_deg), (after, after.first_tilt_deg))
        ]
        assert ends[0] == pytest.approx(ends[1], abs=1e-8)


@given(surfaces(), st.floats(1, 1500))
def test_the_panel_beside_the_centre_plane(one, y: float) -> None:
    """arithmetic: the lower paper at the s that is found lies so far out."""
    panel, s = panel_beside(one, y)

    assert panel.point(0, s, 0)[1] == pytest.approx(y, abs=1e-9)
    assert s >= panel.first.out_mm - 1e-9


def test_a_fin_stands_on_the_centre_plane() -> None:
    """arithmetic: half its board lies to each side, its height along z."""
    (panel,) = panels(fin())

    assert panel.point(10, 20, 0) == (766.0, 2.5, 92.0)
    assert panel.point(10, 20, 5) == (766.0, -2.5, 92.0)
