"""Heights and inside sizes of a body along it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString

from foamcut.airframe.body_profile import Profile
from foamcut.airframe.body_unroll import offset_line
from tests.airframe.body_sample import READINGS, T, body, plain


def profile(**more):
    return Profile(body=body(**more))


def test_heights_lie_on_straight_lines_between_the_readings():
    """arithmetic: half way between two readings it is half way between their heights."""
    assert profile().bottom(24.0) == pytest.approx(6.0)
    assert profile().top(24.0) == pytest.approx(54.0)
    assert profile().bottom(624.0) == pytest.approx(24.0)
    assert (profile().bottom(-5.0), profile().top(900.0)) == (12.0, 66.0)


def test_the_inside_is_two_boards_narrower_and_four_beside_nose_doublers():
    """arithmetic: 62 - 2 x 5 = 52, 62 - 4 x 5 = 42 (common practice: inside = outside - 2 t)."""
    one = profile()
    assert (one.inside_width(227.9), one.inside_width(228.0), one.inside_width(800.0)) == (42.0, 52.0, 52.0)


def test_a_sloping_floor_is_thicker_upright():
    """arithmetic: a board of 5 mm that rises 12 in 336 is 5 / cos(atan(12/336)) mm high upright."""
    upright = T / math.cos(math.atan(12 / 336))
    assert profile().inside_height(216.0)[0] == pytest.approx(6.0 + upright)


def test_deck_and_hatch_close_the_inside_and_elsewhere_it_is_open_to_the_edge():
    """arithmetic: level top at 84, hatch of 5 mm under it to 228, nothing over 300."""
    one = profile()
    assert one.inside_height(100.0)[1] == pytest.approx(79.0)
    assert one.inside_height(228.0)[1] == one.inside_height(300.0)[1] == 84.0
    assert one.inside_height(864.0)[1] < 66.0


@given(
    st.lists(st.floats(-20, 20), min_size=2, max_size=6),
    st.floats(0.05, 0.95),
)
def test_the_floor_lies_as_far_inside_as_shapely_moves_its_line(heights, share):
    """reference library: the upper edge of shapely's buffer of the lower line."""
    rows = tuple((60.0 * i, z, 80.0) for i, z in enumerate(heights))
    one = Profile(body=plain(rows))
    x = share * rows[-1][0]
    wide = LineString(one.bottom_line).buffer(T, quad_segs=256)
    ray = wide.intersection(LineString([(x, -200.0), (x, 200.0)]))
    assert one.floor(x) == pytest.approx(ray.bounds[3], abs=0.002)


def test_an_offset_line_keeps_its_distance_and_its_mitres():
    """reference library: shapely's parallel line with mitred joints."""
    line = [(x, low) for x, low, _ in READINGS]
    ours = LineString(offset_line(line, T, down=False))
    theirs = LineString(line).offset_curve(T, join_style="mitre")
    assert ours.hausdorff_distance(theirs) < 1e-9
