"""The lattice against shapes whose lift is known, against itself, and where it could go wrong."""

import math
import time
import warnings

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.airframe.values import Role
from foamcut.flight.lattice import ROWS, STRIPS, lift_of
from foamcut.flight.lattice_flow import flow_through
from foamcut.flight.lattice_grid import lattice
from foamcut.flight.planform_lifting import lifting
from tests.airframe.flat_sample import rows, surface
from tests.flight.lattice_sample import A, B, C, alone, layout, level, oval, plan, rectangle, tail, wing


def lift(*several, **more):
    return lift_of(several, area_m2=several[0].area_m2, **more)


def share(which, up, **more):
    """Neutral point of a layout as a share of its mean chord."""
    one = layout(which, up)
    found = lift_of(one.all_level, area_m2=one.wing.area_m2, **more)
    return (found.neutral_m - one.wing.leading_m) / one.wing.mean_chord_m


# ---- known lift


def test_the_lift_slope_of_a_circular_wing() -> None:
    """memory: 1.790 per radian is the limit of lifting-surface theory."""
    for count in (13, 25, 60):
        assert lift(oval(4 / math.pi, count)).lift_slope == pytest.approx(1.790, rel=0.01)


def test_the_lift_slope_of_a_square_wing() -> None:
    """memory: 1.460 per radian."""
    assert lift(rectangle(1)).lift_slope == pytest.approx(1.460, rel=0.002)


@pytest.mark.parametrize(("ratio", "slope"), [(5, 3.953), (6, 4.213), (8, 4.585)])
def test_rectangular_wings(ratio, slope) -> None:
    """arithmetic: slopes that another vortex lattice, written apart from this one, gave."""
    assert lift(rectangle(ratio)).lift_slope == pytest.approx(slope, rel=0.001)


def test_long_elliptic_wings_come_near_the_lifting_line() -> None:
    """arithmetic: 2 pi A / (A + 2), Prandtl's lifting line; the lattice lies below it and closes in."""
    short = [1 - lift(oval(ratio)).lift_slope / (2 * math.pi * ratio / (ratio + 2)) for ratio in (6, 12, 24)]

    assert 0 < short[2] < short[1] < short[0] < 0.07
    assert short[2] < 0.015


@pytest.mark.parametrize(("ratio", "off"), [(6, 0.012), (12, 0.005), (24, 0.004)])
def test_elliptic_wings_by_the_lifting_line_of_third_order(ratio, off) -> None:
    """memory: M. Van Dyke, Lifting-line theory as a singular-perturbation problem, 1964:
    2 pi / (1 + 2 / A + 16 (ln pi A - 9/8) / (pi A)^2).
    """
    third = 2 * math.pi / (1 + 2 / ratio + 16 * (math.log(math.pi * ratio) - 9 / 8) / (math.pi * ratio) ** 2)

    assert lift(oval(ratio)).lift_slope == pytest.approx(third, rel=off)


def test_slender_pointed_wings_come_near_the_theory_of_slender_bodies() -> None:
    """arithmetic: pi / 2 x aspect ratio with the lift at two thirds of the length, R. T. Jones."""
    several = [alone((0, 0, 1.0), (half, 1.0, 1e-4)) for half in (0.1, 0.05, 0.01)]
    found = [lift(one, strips=12, rows=16) for one in several]
    shares = [
        each.lift_slope / (math.pi / 2 * one.aspect_ratio) for each, one in zip(found, several, strict=True)
    ]

    assert shares[0] < shares[1] < shares[2] < 1
    assert shares[2] == pytest.approx(1, abs=0.015)
    assert found[2].neutral_m == pytest.approx(2 / 3, abs=0.006)


def test_an_endless_wing_bears_as_a_flat_plate_at_its_quarter() -> None:
    """arithmetic: 2 pi per radian at a quarter of the chord, thin-aerofoil theory."""
    found = lift(alone((0, 0, 0.01), (20, 0, 0.01)), strips=200, rows=2)

    assert found.lift_slope == pytest.approx(2 * math.pi, rel=0.003)
    assert found.neutral_m == pytest.approx(0.0025, rel=0.001)


def test_the_swept_wing_of_a_textbook() -> None:
    """memory: Bertin and Smith, Aerodynamics for Engineers, example of a wing swept 45 deg, aspect ratio 5, one row
    of four vortices a side without an inset: 3.443 per radian (0.0601 per degree, as public test programs quote it).
    """
    one = alone((0, 0, 0.2), (0.5, 0.5, 0.2))
    grid = lattice([one], strips=4, rows=1, inset=0.0)
    strength = np.linalg.solve(flow_through(grid), -grid.normals[:, 2])
    widths = grid.nodes[grid.outer, 1] - grid.nodes[grid.inner, 1]

    assert widths == pytest.approx([0.125] * 4)
    assert 4 * (strength @ widths) / one.area_m2 == pytest.approx(3.443, abs=0.003)


def test_the_swept_wing_in_a_wind_tunnel() -> None:
    """memory: J. Weber and G. G. Brebner, Low-Speed Tests on 45-deg Swept-Back Wings, part I, R. & M. 2882, 1958,
    aspect ratio 5, as public test programs quote it: lift coefficients 0.121, 0.238, 0.350 at 2.1, 4.2, 6.3 deg.
    """
    slope = lift(alone((0, 0, 0.2), (0.5, 0.5, 0.2))).lift_slope

    for angle, measured in ((2.1, 0.121), (4.2, 0.238), (6.3, 0.350)):
        assert slope * math.radians(angle) == pytest.approx(measured, rel=0.04)


# ---- known neutral points


@pytest.mark.parametrize(
    ("which", "up", "neutral"),
    [
        (A, 0.05, 0.4914),
        (A, 0.10, 0.5067),
        (B, 0.05, 0.4803),
        (B, 0.10, 0.4956),
        (C, 0.05, 0.4691),
        (C, 0.10, 0.4766),
    ],
)
def test_a_wing_with_a_tail(which, up, neutral) -> None:
    """arithmetic: what another vortex lattice, written apart from this one, gave; within 0.002 mean chords."""
    assert share(which, up) == pytest.approx(neutral, abs=0.002)


@pytest.mark.parametrize(
    ("places", "slope", "percent"),
    [
        (A[0], 3.953, 23.6),
        (B[0], 4.305, 24.0),
        (C[0], 4.539, 23.8),
        (((0, 0, 0.25), (0.6, 0.35, 0.15)), 4.036, 23.2),
        (((0, 0, 0.50), (0.4, 0.40, 0.10)), 2.908, 29.1),
        (((0, 0, 0.50), (0.5, 0.50, 1e-4)), 3.350, 34.2),
    ],
)
def test_wings_alone(places, slope, percent) -> None:
    """arithmetic: what another vortex lattice, written apart from this one, gave."""
    one = alone(*places)
    found = lift(one)

    assert found.lift_slope == pytest.approx(slope, rel=0.002)
    assert (found.neutral_m - one.leading_m) / one.mean_chord_m * 100 == pytest.approx(percent, abs=0.15)


# ---- against itself


@pytest.mark.parametrize("which", [A, B, C])
@pytest.mark.parametrize("up", [0.1, 0.05, 0.01, 0.0])
def test_twice_as_many_panels_move_the_neutral_point_little(which, up) -> None:
    """Half a hundredth of the mean chord is asked for; the third place holds."""
    coarse = share(which, up)

    assert share(which, up, strips=2 * STRIPS) == pytest.approx(coarse, abs=0.001)
    assert share(which, up, rows=2 * ROWS) == pytest.approx(coarse, abs=0.001)
    assert share(which, up, strips=2 * STRIPS, rows=2 * ROWS) == pytest.approx(coarse, abs=0.001)


@pytest.mark.parametrize(
    "surfaces",
    [
        (wing((0, 0, 0.25), (0.6, 0.35, 0.15)),),
        (wing((0, 0, 0.5), (0.5, 0.5, 1e-4)),),
        (wing((0, 0, 0.2), (0.5, 0, 0.2)), tail((0, -0.4, 0.1), (0.2, -0.4, 0.08))),
        (wing((0, 0, 0.2), (0.5, 0, 0.2)), tail((0, 0.4, 0.15), (0.5, 0.4, 0.15))),
        (wing((0, 0, 0.2), (0.5, 0, 0.2)), level("upper", (0, 0.05, 0.2), (0.6, 0.05, 0.2), up=0.15)),
        (
            wing((0, 0, 0.2), (0.3, 0, 0.2), (0.5, 0.03, 0.12), dihedral=(0.0, 20.0), up=0.0),
            tail((0, 0.5, 0.1), (0.4, 0.5, 0.1), up=0.01),
        ),
    ],
    ids=[
        "swept",
        "delta",
        "foreplane in the wing's plane",
        "tandem of one span",
        "biplane",
        "tail through wake",
    ],
)
def test_other_layouts_are_settled_too(surfaces) -> None:
    one = plan(*surfaces)
    found = lift_of(one.all_level, area_m2=one.wing.area_m2)
    finer = lift_of(one.all_level, area_m2=one.wing.area_m2, strips=2 * STRIPS, rows=2 * ROWS)

    assert finer.neutral_m == pytest.approx(found.neutral_m, abs=0.005 * one.wing.mean_chord_m)
    assert finer.lift_slope == pytest.approx(found.lift_slope, rel=0.005)


@pytest.mark.parametrize("which", [A, B, C])
def test_a_tail_comes_down_into_the_wake_without_a_jump(which) -> None:
    """From 50 mm above the wake to its plane the point moves the less the nearer it comes."""
    far, near, close, in_it, below = (share(which, up) for up in (0.05, 0.01, 0.001, 0.0, -0.001))

    assert abs(close - in_it) < 0.0005
    assert abs(near - in_it) < 0.004
    assert abs(far - in_it) < 0.02
    if which is not C:  # the wing of C rises, so up and down are not alike
        assert below == pytest.approx(close, abs=1e-6)


def test_a_wing_s_tip_may_lie_close_to_the_tail_s() -> None:
    """The span of the tail grows past the wing's by hundredths of a strip: the lift grows evenly."""
    one = alone(*A[0])
    slopes = [
        lift(one, lifting(tail((0, 0.4, 0.15), (half, 0.4, 0.15), up=0.03))).lift_slope
        for half in np.linspace(0.495, 0.505, 11)
    ]
    steps = np.diff(slopes)

    assert (steps > 0).all()
    assert steps.max() < 2.5 * steps.min()


@given(
    st.floats(0.01, 100), st.floats(-10, 10), st.floats(-10, 10), st.floats(0.05, 0.3), st.floats(0.0, 0.05)
)
@settings(deadline=None, max_examples=15)
def test_size_and_place_change_nothing(size, along, height, half, up) -> None:
    """Lift slopes have no size; the neutral point moves and grows with the model."""

    def lifted(scale, x, z):
        several = (
            wing((0, x, 0.2 * scale), (0.5 * scale, x, 0.15 * scale), up=z),
            tail(
                (0, x + 0.6 * scale, 0.1 * scale),
                (half * scale, x + 0.6 * scale, 0.1 * scale),
                up=z + up * scale,
            ),
        )
        one = plan(*several)
        return lift_of(one.all_level, area_m2=one.wing.area_m2, strips=12, rows=3)

    base, moved = lifted(1.0, 0.0, 0.0), lifted(size, along, height)

    assert moved.lift_slope == pytest.approx(base.lift_slope, rel=1e-6)
    assert moved.neutral_m == pytest.approx(along + size * base.neutral_m, abs=1e-6 * (1 + size + abs(along)))


def test_an_angle_of_the_wing_changes_next_to_nothing() -> None:
    level_one = layout(A, 0.05)
    turned = plan(wing(*A[0], angle_deg=3.0), tail(*A[1], up=0.05))
    found, other = (lift_of(one.all_level, area_m2=one.wing.area_m2) for one in (level_one, turned))

    assert other.neutral_m == pytest.approx(found.neutral_m, abs=0.001)
    assert other.lift_slope == pytest.approx(found.lift_slope, rel=0.003)


def test_dihedral_costs_lift() -> None:
    """arithmetic: about the square of its cosine over the shadow's area times its cosine: 30 deg, less by 13 to 25 %."""
    flat, raised = alone(*A[0]), alone(*A[0], dihedral=(30.0,))
    assert raised.span_m == pytest.approx(flat.span_m)

    assert 0.75 < lift(raised).lift_slope / lift(flat).lift_slope < 1.0


# ---- the flow itself


def test_the_flow_of_a_horseshoe_against_a_sum_of_short_pieces() -> None:
    """arithmetic: the law of Biot and Savart summed over 1 mm pieces of bound vortex and legs, both sides."""
    grid = lattice([alone((0, 0, 0.2), (0.5, 0.1, 0.1), dihedral=(10.0,))], strips=2, rows=1)
    flow = flow_through(grid)
    for j in range(2):
        a, b = grid.nodes[grid.inner[j]], grid.nodes[grid.outer[j]]
        legs = np.geomspace(1e-4, 2000, 40001) - 1e-4
        aft = [np.stack([end[0] + legs, 0 * legs + end[1], 0 * legs + end[2]], axis=1) for end in (a, b)]
        path = np.concatenate([aft[0][::-1], np.linspace(a, b, 2001)[1:], aft[1][1:]])
        for i in range(2):
            whole = 0.0
            for turn in (1.0, -1.0):
                # the image runs from the mirrored outer end to the inner one
                line = path if turn > 0 else (path * [1.0, -1.0, 1.0])[::-1]
                piece, middle = np.diff(line, axis=0), (line[1:] + line[:-1]) / 2
                r = grid.points[i] - middle
                field = np.cross(piece, r) / (np.linalg.norm(r, axis=1) ** 3)[:, None]
                whole += float(field.sum(axis=0) @ grid.normals[i]) / (4 * math.pi)
            assert flow[i, j] == pytest.approx(whole, rel=2e-4)


# ---- nasty shapes


def _zigzag():
    several = [(i * 10.0, 20 + (-1) ** i * 20.0, 200.0, (-1) ** i * 40.0) for i in range(60)]
    return lifting(surface("wing", Role.WING, at=(0.0, 0.0), stations=rows("wing", *several)))


STRAIGHT = alone(*A[0])


@pytest.mark.parametrize(
    ("surfaces", "low", "high"),
    [
        ([STRAIGHT, STRAIGHT], 3.9, 4.0),
        ([STRAIGHT, lifting(tail((0, 0, 0.2), (0.2, 0, 0.2)))], 3.9, 4.0),
        ([STRAIGHT, lifting(tail((0, 0.1, 0.1), (0.2, 0.1, 0.1)))], 3.0, 6.0),
        ([STRAIGHT, lifting(tail((0, 0.6, 0.001), (0.001, 0.6, 0.001)))], 3.94, 3.96),
        ([alone((0, 0, 0.2), (0.5, 0.1, 0.0))], 4.6, 5.0),
        ([alone((0, 0, 0.2), (0.3, 0.1, 0.0), (0.5, 0.1, 0.0))], 2.0, 6.0),
        ([alone((0, 0, 5.0), (3.5, -3.0, 5.0), dihedral=(45.0,))], 1.0, 3.0),
        ([alone((0, 0, 5.0), (0.01, 0, 5.0))], 0.006, 0.0065),
        ([alone((0, 0, 0.2), (0.1, 5.0, 0.2))], 0.05, 0.3),
        ([_zigzag()], 2.5, 4.0),
    ],
    ids=[
        "two in one place",
        "a tail inside the wing",
        "a tail over the wing's trailing edge",
        "a speck of a tail",
        "pointed",
        "a tip of no chord",
        "huge, forward, steep",
        "a stick",
        "swept to the utmost",
        "sixty kinks",
    ],
)
def test_nothing_breaks_it(surfaces, low, high) -> None:
    with warnings.catch_warnings(), np.errstate(all="raise"):
        warnings.simplefilter("error")
        found = lift(*surfaces)

    assert low < found.lift_slope < high
    assert math.isfinite(found.neutral_m)


def test_what_it_cannot_take_is_refused() -> None:
    flat = alone(*A[0])
    with pytest.raises(ValueError, match="above 0"):
        lift_of([flat], area_m2=0.0)
    with pytest.raises(ValueError, match="above 0"):
        lift_of([flat], area_m2=math.nan)
    with pytest.raises(ValueError, match="needs a surface"):
        lift_of([], area_m2=1.0)


def test_the_same_twice_and_quickly() -> None:
    """Within 60 ms on an idle machine; a wide margin here, for one that is not."""
    one = layout(C, 0.05)
    first = lift_of(one.all_level, area_m2=one.wing.area_m2)
    spent = []
    for _ in range(5):
        begun = time.perf_counter()
        assert lift_of(one.all_level, area_m2=one.wing.area_m2) == first
        spent.append(time.perf_counter() - begun)

    assert min(spent) < 0.3
