"""Bent sheet laid flat, against the developments of cylinders, cones and folded facets; mm."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.flat.develop import Developed, develop, edge_difference


def circle(radius: float, angles: np.ndarray, z: float = 0.0, centre: float = 0.0) -> np.ndarray:
    return np.stack(
        [centre + radius * np.cos(angles), radius * np.sin(angles), np.full_like(angles, z)], axis=1
    )


def chord(radius: float, angle: float, count: int) -> float:
    """Length of `count` equal chords of an arc."""
    return 2 * radius * math.sin(angle / count / 2) * count


def lengths(line: np.ndarray) -> np.ndarray:
    return np.sqrt(((line[1:] - line[:-1]) ** 2).sum(axis=1))


def angle_at(at: np.ndarray, a: np.ndarray, b: np.ndarray) -> float:
    u, v = a - at, b - at
    return math.degrees(math.acos(float(u @ v) / math.sqrt(float(u @ u) * float(v @ v))))


def test_the_first_rail_runs_up_from_the_origin_and_strips_go_to_its_left():
    """Convention of this project: a rectangle 200 long and 30 wide, standing on edge somewhere in space."""
    near = np.array([[50.0, 7.0, 3.0], [250.0, 7.0, 3.0]])
    done = develop(np.stack([near, near + np.array([0.0, 0.0, 30.0])]))
    assert done.flat == pytest.approx(np.array([[[0, 0], [0, 200]], [[-30, 0], [-30, 200]]]), abs=1e-12)
    assert done.error_mm <= 1e-12
    assert done.straight_mm == (0.0, 0.0)


@pytest.mark.parametrize("turn", [30.0, 90.0, 270.0])
def test_a_cylinder_of_straight_rails_is_as_wide_as_its_arc(turn):
    """Published (any handbook of sheet metal): the stretch-out of a cylinder is R times its angle."""
    angles = np.radians(np.linspace(0, turn, 721))
    rails = np.stack([circle(40.0, angles), circle(40.0, angles, z=300.0)], axis=1)
    done = develop(rails)
    assert -done.flat[-1, :, 0] == pytest.approx(40.0 * math.radians(turn), abs=1e-3)
    assert done.flat[:, 0, 1] == pytest.approx(0.0, abs=1e-9)
    assert done.flat[:, 1, 1] == pytest.approx(300.0, abs=1e-9)
    assert done.error_mm <= 1e-9


def test_a_cylinder_whose_rails_are_its_ends_is_the_same_rectangle():
    """Published, as above; the chords of 720 pieces: arithmetic."""
    angles = np.linspace(0, math.pi, 721)
    done = develop(np.stack([circle(40.0, angles), circle(40.0, angles, z=300.0)]))
    assert done.flat[0, -1] == pytest.approx([0.0, chord(40.0, math.pi, 720)], abs=1e-9)
    assert done.flat[1, :, 0] == pytest.approx(-300.0, abs=1e-9)
    assert done.straight_mm == pytest.approx((0.0, 0.0), abs=1e-9)


def test_an_oblique_cut_of_a_cylinder_develops_to_a_sine():
    """Published: the development of a cylinder cut by a slanting plane is a sine curve."""
    angles = np.linspace(0, 2 * math.pi, 1441)
    top = circle(30.0, angles)
    top[:, 2] = 100.0 + 30.0 * np.sin(angles)
    bottom = circle(30.0, angles)
    done = develop(np.stack([bottom, top], axis=1))
    at = -done.flat[:, 1, 0] / 30.0
    assert done.flat[:, 1, 1] == pytest.approx(100.0 + 30.0 * np.sin(at), abs=2e-3)
    whole = develop(np.stack([top, bottom]))
    # the slanting end first: it bends as the sine does, about its own middle, and the other comes out straight
    assert whole.straight_mm[0] == pytest.approx(30.0, abs=0.01)
    assert whole.straight_mm[1] <= 0.01
    assert whole.error_mm <= 0.001


@pytest.mark.parametrize("generators", [True, False])
def test_a_frustum_is_a_sector_of_360_r_over_slant(generators):
    """Published (handbook of sheet metal): sector angle = 360 r / slant; arithmetic: 360 x 30 / 150 = 72."""
    angles = np.linspace(0, 2 * math.pi, 2001)
    height = math.sqrt(150.0**2 - 30.0**2)
    base, top = circle(30.0, angles), circle(10.0, angles, z=height * 2 / 3)
    rails = np.stack([base, top], axis=1) if generators else np.stack([base, top])
    done = develop(rails)
    flat = done.flat if generators else done.flat.transpose(1, 0, 2)
    (x0, y0), (x1, y1) = flat[0]
    apex = np.array([x0 + (x1 - x0) * 1.5, y0 + (y1 - y0) * 1.5])
    assert angle_at(apex, flat[0, 0], flat[-1, 0]) == pytest.approx(72.0, abs=0.001)
    assert np.hypot(*(flat[:, 0] - apex).T) == pytest.approx(150.0, abs=0.001)
    assert np.hypot(*(flat[:, 1] - apex).T) == pytest.approx(50.0, abs=0.001)
    assert done.error_mm <= 1e-6


def _oblique(count: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The apex of an oblique cone, its base circle, and the polar angle of each point of its development.

    Arithmetic: the angle grows by the way of the unit vector from apex to base on the unit sphere; summed
    by Simpson's rule over twenty steps for each point.
    """
    apex = np.array([90.0, 20.0, 160.0])
    fine = np.linspace(0, 2 * math.pi, 20 * (count - 1) + 1)
    out = circle(50.0, fine) - apex
    along = 50.0 * np.stack([-np.sin(fine), np.cos(fine), 0 * fine], axis=1)
    rate = np.sqrt((np.cross(out, along) ** 2).sum(axis=1)) / (out**2).sum(axis=1)
    step = fine[1]
    pairs = (rate[:-2:2] + 4 * rate[1:-1:2] + rate[2::2]) * step / 3
    angles = np.concatenate([[0.0], np.cumsum(pairs.reshape(-1, 10).sum(axis=1))])
    return apex, circle(50.0, fine[::20]), angles


@pytest.mark.parametrize("shape", ["generators", "from the apex", "rings"])
def test_an_oblique_cone_keeps_its_distances_from_the_apex_and_its_arcs(shape):
    """Arithmetic: numerically integrated development, all within 0.01 mm."""
    apex, base, angles = _oblique(1441)
    tip = np.broadcast_to(apex, base.shape)
    slant = np.sqrt(((base - apex) ** 2).sum(axis=1))
    true = slant * np.exp(1j * angles)
    if shape == "generators":
        done = develop(np.stack([base, tip], axis=1))
        flat, top = done.flat[:, 0], done.flat[0, 1]
    elif shape == "from the apex":
        done = develop(np.stack([tip, base], axis=1))
        flat, top = done.flat[:, 1], done.flat[0, 0]
    else:
        ring = base + 0.9 * (apex - base)
        done = develop(np.stack([ring, base]))
        flat = done.flat[1]
        top = done.flat[1, 0] + (done.flat[0, 0] - done.flat[1, 0]) / 0.9
    assert np.hypot(*(flat - top).T) == pytest.approx(slant, abs=0.01)
    # the same development turned (and, going the other way about the apex, turned over)
    found = (flat[:, 0] - top[0]) + 1j * (flat[:, 1] - top[1])
    found = found / (found[0] / abs(found[0]))
    found = np.conj(found) if found[100].imag < 0 else found
    assert np.abs(found - true).max() <= 0.01
    assert done.error_mm <= 1e-6


facets = st.integers(2, 5).flatmap(
    lambda n: st.tuples(
        st.lists(st.floats(5, 200), min_size=n, max_size=n),
        st.lists(st.floats(5, 200), min_size=n, max_size=n),
        st.lists(st.floats(-60, 60), min_size=n, max_size=n),
        st.lists(st.floats(-170, 170), min_size=n, max_size=n),
    )
)


@given(facets, st.integers(2, 6))
def test_flat_facets_folded_about_their_rails_come_flat_as_they_were(given_facets, count):
    """Arithmetic: quadrilaterals drawn in the plane, folded by turning all beyond each rail about it."""
    roots, tips, sweeps, turns = given_facets
    far = np.concatenate([[0.0], np.cumsum(roots)])
    tip = np.concatenate([[0.0], np.cumsum(tips)])
    rise = np.concatenate([[0.0], np.cumsum(sweeps)])
    along = np.linspace(0, 1, count)[:, None]
    plain = []
    for j in range(len(far)):
        start, end = np.array([-far[j], rise[j], 0.0]), np.array([-tip[j], 900.0, 0.0])
        plain.append(start + along * (end - start))
    rails = np.stack(plain)
    folded = rails.copy()
    for j in range(1, len(rails) - 1):
        folded[j + 1 :] = _turned(folded[j + 1 :], folded[j, 0], folded[j, -1], math.radians(turns[j]))
    done = develop(folded)
    assert done.flat == pytest.approx(rails[:, :, :2], abs=1e-9)
    assert done.error_mm <= 1e-9
    assert max(done.straight_mm) <= 1e-9


def _turned(points: np.ndarray, start: np.ndarray, end: np.ndarray, angle: float) -> np.ndarray:
    """Points turned about a line, by the formula of Rodrigues (published)."""
    axis = (end - start) / np.sqrt(((end - start) ** 2).sum())
    v = points - start
    return (
        start
        + v * math.cos(angle)
        + np.cross(np.broadcast_to(axis, v.shape), v) * math.sin(angle)
        + axis * (v @ axis)[..., None] * (1 - math.cos(angle))
    )


def _saddle(lift: float, count: int = 2) -> np.ndarray:
    """A square of 100, one corner lifted, its edges straight: a hyperbolic paraboloid."""
    along = np.linspace(0, 1, count)[:, None]
    return np.stack(
        [
            along * np.array([0.0, 100.0, 0.0]),
            np.array([-100.0, 0.0, 0.0]) + along * np.array([0.0, 100.0, lift]),
        ]
    )


@pytest.mark.parametrize("lift", [1.0, 5.0, 10.0, 20.0])
def test_a_warped_facet_shares_its_error_between_both_diagonals(lift):
    """Arithmetic: laid flat with one diagonal and four edges kept, the other is too long by `out`."""
    (a, b), (d, c) = _saddle(lift)
    done = develop(_saddle(lift))
    flat = done.flat.reshape(4, 2)

    def far(p, q):
        return float(np.sqrt(((p - q) ** 2).sum()))

    # unfolded about b d: heights of a and c over it, and where their feet lie
    foot_a = float((a - b) @ (d - b)) / far(b, d)
    foot_c = float((c - b) @ (d - b)) / far(b, d)
    high_a = math.sqrt(far(a, b) ** 2 - foot_a**2)
    high_c = math.sqrt(far(c, b) ** 2 - foot_c**2)
    out = math.hypot(foot_c - foot_a, high_a + high_c) - far(a, c)
    assert out > 0
    assert done.error_mm == pytest.approx(out / 2, rel=0.06)
    assert far(flat[0], flat[3]) > far(a, c)
    assert far(flat[1], flat[2]) > far(b, d)


def test_the_error_of_a_warped_facet_grows_with_its_twist():
    """Arithmetic: a lift of nothing is flat; more lift is more error."""
    errors = [develop(_saddle(lift)).error_mm for lift in (0.0, 2.0, 4.0, 8.0, 16.0)]
    assert errors[0] <= 1e-12
    assert all(b > 2 * a + 1e-6 for a, b in pairwise(errors))


def test_a_helicoid_keeps_its_rails_and_tells_its_error():
    """Arithmetic: a surface with curvature cannot lie flat; the cylinder over the same rail can."""
    turns = np.linspace(-0.1, 0.1, 41)
    near = np.stack([20.0 * np.cos(turns), 20.0 * np.sin(turns), 2000.0 * turns], axis=1)
    done = develop(np.stack([near, near * [6.0, 6.0, 1.0]]))
    assert 0 < done.error_mm < 0.01
    assert edge_difference(done.flat[0], near) == pytest.approx(0.0, abs=1e-9)
    straight = develop(np.stack([near, near + np.array([100.0, 0.0, 0.0])]))
    assert straight.error_mm < done.error_mm / 100


def test_a_hollow_cell_is_parted_at_its_hollow_corner():
    """Arithmetic: a flat arrowhead comes flat as it was."""
    near = np.array([[0.0, 0.0, 0.0], [0.0, 100.0, 0.0]])
    far = np.array([[-10.0, 40.0, 0.0], [-80.0, 130.0, 0.0]])
    done = develop(np.stack([near, far]))
    assert done.flat == pytest.approx(np.stack([near, far])[:, :, :2], abs=1e-9)


def test_strips_that_meet_at_both_ends_develop():
    """Arithmetic: a lens in the plane."""
    along = np.linspace(0, 1, 9)
    near = np.stack([0 * along, 100 * along, 0 * along], axis=1)
    far = np.stack([-40 * along * (1 - along), 100 * along, 0 * along], axis=1)
    done = develop(np.stack([near, far]))
    assert done.flat == pytest.approx(np.stack([near, far])[:, :, :2], abs=1e-9)
    assert done.straight_mm == pytest.approx((0.0, 10.0))


def test_edges_to_be_glued_are_compared_by_length():
    """Arithmetic: 3-4-5 triangle; positive where the first is longer."""
    a = np.array([[0.0, 0.0], [3.0, 4.0], [3.0, 14.0]])
    b = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 13.5]])
    assert edge_difference(a, b) == pytest.approx(1.5)
    assert edge_difference(b, a) == pytest.approx(-1.5)


RAIL = [[0.0, 0.0, 0.0], [0.0, 50.0, 0.0], [0.0, 100.0, 0.0]]
ASIDE = [[-9.0, 0.0, 0.0], [-9.0, 50.0, 0.0], [-9.0, 100.0, 0.0]]


@pytest.mark.parametrize(
    ("rails", "words"),
    [
        ([RAIL], "shape"),
        ([RAIL, [[float("nan")] * 3] * 3], "rail 1 has a point that is no number"),
        ([RAIL, [ASIDE[0]] * 3], "rail 1 has no length"),
        ([RAIL, [ASIDE[0], ASIDE[2], ASIDE[2]]], "points 1 and 2 of rail 1 coincide"),
        ([RAIL, [ASIDE[0], RAIL[1], ASIDE[2]]], "rails 0 and 1 share point 1"),
        ([RAIL[::2], RAIL[::2]], "rails 0 and 1 share point 0"),
        ([ASIDE, RAIL, RAIL], "rails 1 and 2 share point 0"),
        ([RAIL, ASIDE[::-1]], "rulings 0 and 1 between rails 0 and 1 cross"),
        (
            [circle(r, np.linspace(0, 2 * math.pi, 25)).tolist() for r in (20.0, 30.0)],
            "ends of rail 0 meet",
        ),
    ],
)
def test_what_cannot_be_laid_flat_is_an_error_that_says_which(rails, words):
    with pytest.raises(ValueError, match=words):
        develop(np.array(rails, dtype=float))


def test_the_result_does_not_change_from_run_to_run():
    angles = np.linspace(0, 1, 30)
    rails = np.stack([circle(30.0, angles), circle(12.0, angles, z=70.0, centre=9.0)])
    first, second = develop(rails), develop(rails.copy())
    assert isinstance(first, Developed)
    assert np.array_equal(first.flat, second.flat)
    assert first.error_mm == second.error_mm
