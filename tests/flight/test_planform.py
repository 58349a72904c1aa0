"""Areas, spans and mean chords of shadows."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.airframe.planform import mean_chord
from foamcut.airframe.values import Inputs, Role
from foamcut.flight.figures import Group
from foamcut.flight.planform import planform, planform_figures
from foamcut.flight.planform_lifting import lifting
from tests.airframe.flat_sample import rows, surface
from tests.flight.lattice_sample import A, B, C, alone, fin, layout, level, plan, tail, wing

STRAIGHT = ((0, 0, 0.2), (0.5, 0, 0.2))


def test_the_mean_chord_of_a_swept_trapezoid() -> None:
    """published: Public Domain Aeronautical Software, "Mean aerodynamic chord example 3", www.pdas.com/macex3.html:
    chord 400 at the root, 200 at y 1000, x 600: length 311.1111, y 444.4444, x of a quarter 344.4444, area 300000.
    """
    one = alone((0, 0, 0.4), (1.0, 0.6, 0.2))

    assert one.mean_chord_m == pytest.approx(0.3111111, abs=5e-8)
    assert one.out_m == pytest.approx(0.4444444, abs=5e-8)
    assert one.quarter_m == pytest.approx(0.3444444, abs=5e-8)
    assert one.area_m2 == pytest.approx(0.6)


@pytest.mark.parametrize(
    ("places", "area", "chord", "leading", "out", "ratio"),
    [
        (((0, 0, 0.22), (0.35, 0, 0.22), (0.70, 0.05, 0.14)), 0.28, 0.203333, 0.010417, 0.326667, 7.0),
        (((0, 0, 0.24), (0.6, 0.02, 0.16)), 0.24, 0.202667, 0.009333, 0.280000, 6.0),
    ],
)
def test_mean_chords_worked_by_hand(places, area, chord, leading, out, ratio) -> None:
    """arithmetic: trapezoids' mean chords (2/3 cr (1 + t + t^2) / (1 + t), Raymer) weighted by area."""
    one = alone(*places)

    assert one.area_m2 == pytest.approx(area, abs=1e-12)
    assert one.aspect_ratio == pytest.approx(ratio, abs=1e-9)
    assert (one.mean_chord_m, one.leading_m, one.out_m) == pytest.approx((chord, leading, out), abs=5e-7)


def test_a_shadow_shrinks_with_dihedral_and_angle() -> None:
    """arithmetic: a flat half 500 long that rises 30 deg is 433.013 wide; 12 deg nose up its chord is cos 12 deg."""
    one = lifting(
        surface(
            "wing",
            Role.WING,
            at=(0.0, 0.0),
            stations=rows("wing", (0, 0, 200, 30), (500, 0, 200, 0)),
            angle_deg=12,
        )
    )

    assert one.span_m == pytest.approx(2 * 0.5 * math.cos(math.radians(30)))
    assert one.mean_chord_m == pytest.approx(0.2 * math.cos(math.radians(12)))
    assert one.area_m2 == pytest.approx(one.span_m * one.mean_chord_m)
    # half the rise of the tip, less where its mid-span leading edge falls back with the angle
    assert one.up_m == pytest.approx(0.125 * math.cos(math.radians(12)))
    assert [cross.chord_m for cross in one.crosses] == pytest.approx([0.2, 0.2])
    assert {cross.angle_deg for cross in one.crosses} == {12}


def test_a_fin_is_seen_from_the_side_and_not_doubled() -> None:
    one = lifting(fin((0, 0.6, 0.12), (0.12, 0.62, 0.10)))

    assert one.span_m == pytest.approx(0.12)
    assert one.area_m2 == pytest.approx(0.12 * 0.11)
    assert one.aspect_ratio == pytest.approx(0.12 / 0.11)
    assert one.out_m == 0
    assert one.up_m == pytest.approx(0.12 * (0.12 + 2 * 0.10) / (3 * 0.22))
    assert all(cross.leading_m[1] == 0 for cross in one.crosses)
    assert one.leading_m == pytest.approx(0.6 + 0.02 * (0.12 + 2 * 0.10) / (3 * 0.22))


@st.composite
def surfaces(draw):
    out, several = 0.0, []
    for _ in range(draw(st.integers(2, 6))):
        several.append((out, draw(st.floats(-300, 300)), draw(st.floats(1, 600)), draw(st.floats(-45, 45))))
        out += draw(st.floats(1, 800))
    return surface(
        "wing",
        Role.WING,
        at=(draw(st.floats(-500, 900)), draw(st.floats(-100, 100))),
        stations=rows("wing", *several),
        angle_deg=draw(st.floats(-20, 20)),
    )


@given(surfaces())
def test_against_a_sum_over_many_thin_strips(one) -> None:
    """The integrals in closed form are those of ten thousand strips, from the crosses alone."""
    found = lifting(one)
    outs = np.array([cross.leading_m[1] for cross in found.crosses])
    y = np.concatenate([np.linspace(a, b, 2001)[:-1] + (b - a) / 4000 for a, b in pairwise(outs)])
    step = np.concatenate([np.full(2000, (b - a) / 2000) for a, b in pairwise(outs)])
    shade = math.cos(math.radians(one.angle_deg))
    chord = np.interp(y, outs, [cross.chord_m * shade for cross in found.crosses])
    back = np.interp(y, outs, [cross.leading_m[0] for cross in found.crosses])
    area = (chord * step).sum()

    assert found.area_m2 == pytest.approx(2 * area, rel=1e-6)
    assert found.mean_chord_m == pytest.approx((chord * chord * step).sum() / area, rel=1e-5)
    assert found.leading_m == pytest.approx((chord * back * step).sum() / area, abs=1e-5)
    assert found.out_m == pytest.approx((chord * y * step).sum() / area, rel=1e-5)


@given(surfaces())
def test_flat_and_level_it_is_the_mean_chord_that_is_marked_on_the_wing(one) -> None:
    level_one = surface(
        "wing",
        Role.WING,
        at=one.at,
        stations=rows("wing", *((s.out_mm, s.back_mm, s.chord_mm, 0.0) for s in one.stations)),
    )
    found, marked = lifting(level_one), mean_chord(level_one)

    assert found.mean_chord_m * 1000 == pytest.approx(marked.chord_mm, rel=1e-9)
    assert found.leading_m * 1000 - one.at[0] == pytest.approx(marked.leading_mm, abs=1e-6)
    assert found.out_m * 1000 == pytest.approx(marked.out_mm, rel=1e-9)


def test_who_is_who() -> None:
    one = plan(
        fin((0, 0.6, 0.1), (0.1, 0.6, 0.1)),
        tail((0, 0.6, 0.1), (0.2, 0.6, 0.1)),
        wing(*STRAIGHT),
        level("upper", *STRAIGHT, up=0.2),
        level("second", (0, 0.9, 0.1), (0.1, 0.9, 0.1), role=Role.STABILISER),
    )

    assert one.wing.surface.name == "wing"
    assert one.tail is not None
    assert one.tail.surface.name == "tail"
    assert [each.surface.name for each in one.others] == ["upper", "second"]
    assert [each.surface.name for each in one.all_level] == ["wing", "tail", "upper", "second"]
    assert [each.surface.name for each in one.fins] == ["fin"]
    assert not one.foreplane


def test_nothing_to_see() -> None:
    """No wing, a wing on edge, of one station, of no chord: none; a tail like that is left out."""
    on_edge = surface(
        "wing", Role.WING, at=(0.0, 0.0), stations=rows("wing", (0, 0, 200, 90), (500, 0, 200, 0))
    )
    single = surface("wing", Role.WING, at=(0.0, 0.0), stations=rows("wing", (0, 0, 200, 0)))

    assert planform(Inputs()) is None
    assert planform(Inputs(surfaces=(tail(*STRAIGHT),))) is None
    assert planform(Inputs(surfaces=(on_edge,))) is None
    assert planform(Inputs(surfaces=(single,))) is None
    assert planform(Inputs(surfaces=(wing((0, 0, 0), (0.5, 0, 0)),))) is None
    assert plan(wing(*STRAIGHT), tail((0, 0.6, 0), (0.2, 0.6, 0))).tail is None


def test_numbers_of_a_twin_with_a_fin() -> None:
    """arithmetic: planform A with a fin 120 high of 120 and 100."""
    places, behind, _ = A
    figures = planform_figures(
        plan(wing(*places), tail(*behind, up=0.05), fin((0, 0.6, 0.12), (0.12, 0.6, 0.10)))
    )

    expected = {
        "wing_area": 20.0,
        "wing_span": 1000.0,
        "wing_aspect_ratio": 5.0,
        "wing_taper": 1.0,
        "wing_sweep": 0.0,
        "mean_chord": 200.0,
        "mean_chord_leading": 0.0,
        "mean_chord_out": 250.0,
        "tail_area": 3.96,
        "tail_span": 360.0,
        "tail_aspect_ratio": 3.2727,
        "tail_mean_chord": 110.0,
        "tail_area_share": 19.8,
        "fin_area": 1.32,
        "fin_height": 120.0,
        "fin_aspect_ratio": 1.0909,
        "fin_area_share": 6.6,
    }
    assert {one.name: pytest.approx(one.value, abs=1e-3) for one in figures.numbers} == expected
    assert {one.group for one in figures.numbers} == {Group.PLANFORM}
    assert figures.findings == ()


@pytest.mark.parametrize("which", [A, B, C])
def test_ordinary_shapes_give_no_advice(which) -> None:
    assert planform_figures(layout(which, 0.05)).findings == ()


def test_several_fins_are_added() -> None:
    figures = planform_figures(
        plan(wing(*STRAIGHT), fin((0, 0.6, 0.1), (0.1, 0.6, 0.1)), fin((0, 0.8, 0.1), (0.2, 0.8, 0.1)))
    )

    assert figures.value("fin_area") == pytest.approx(3.0)
    assert figures.value("fin_height") == pytest.approx(100.0)
