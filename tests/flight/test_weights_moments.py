"""Area, middle and second moments of flat shapes."""

import math

import numpy as np
import pytest
import shapely
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon, Polygon, box

from foamcut.flight.weights_moments import moments


def test_a_rectangle_has_its_sides_squared_over_twelve():
    """Arithmetic: second moments of a rectangle, b h^3 / 12 over b h; in any table of sections."""
    (row,) = moments([box(10, 20, 70, 50)])
    assert row == pytest.approx([1800, 40, 35, 300, 75, 0])


def test_a_right_triangle_has_its_legs_squared_over_eighteen():
    """Arithmetic: b h^3 / 36 and -b^2 h^2 / 72 over b h / 2; in any table of sections."""
    (row,) = moments([Polygon([(0, 0), (90, 0), (0, 60)])])
    assert row == pytest.approx([2700, 30, 20, 450, 200, -150])


def test_holes_are_taken_off_whichever_way_their_ring_runs():
    """Arithmetic: a square of 20 less one of 10 in its middle, (20^4 - 10^4) / 12 over 300."""
    hole = [(5, 5), (15, 5), (15, 15), (5, 15)]
    for ring in (hole, hole[::-1]):
        (row,) = moments([Polygon(box(0, 0, 20, 20).exterior, [ring])])
        assert row == pytest.approx([300, 10, 10, (20**4 - 10**4) / 12 / 300, (20**4 - 10**4) / 12 / 300, 0])


def test_shapes_of_several_bits_count_as_one_and_others_not_at_all():
    """Arithmetic: parallel axes, two squares of 2 whose middles are 10 apart: 25 + 4 / 12."""
    several = MultiPolygon([box(0, 0, 2, 2), box(10, 0, 12, 2)])
    rows = moments([Polygon(), several, LineString([(0, 0), (1, 1)])])
    assert rows[1] == pytest.approx([8, 6, 1, 25 + 1 / 3, 1 / 3, 0])
    assert not rows[0].any() and not rows[2].any()
    assert moments([]).shape == (0, 6)


def test_digits_are_kept_far_from_the_origin():
    near, far = moments([box(0, 0, 3, 2), box(1e6, -1e6, 1e6 + 3, -1e6 + 2)])
    assert far[3:] == pytest.approx(near[3:], rel=1e-9)


@given(st.lists(st.floats(1.0, 50.0), min_size=3, max_size=12), st.floats(-300, 300), st.floats(-300, 300))
def test_another_program_finds_the_same(radii, x, y):
    """Star shapes: shapely for area and middle, trimesh for second moments."""
    turns = [2 * math.pi * i / len(radii) for i in range(len(radii))]
    star = Polygon([(x + r * math.cos(a), y + r * math.sin(a)) for r, a in zip(radii, turns, strict=True)])
    (row,) = moments([star])
    assert row[0] == pytest.approx(star.area)
    assert row[1:3] == pytest.approx([star.centroid.x, star.centroid.y])
    flat = shapely.transform(star, lambda points: points - np.array([star.centroid.x, star.centroid.y]))
    about_x, about_y, both = trimesh.path.polygons.second_moments(flat)
    assert row[3:] * row[0] == pytest.approx([about_y, about_x, both], rel=1e-6, abs=1e-6 * about_x)
