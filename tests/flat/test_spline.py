"""Splines: they meet their points, bend smoothly, and stay near their chords."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.flat.spline import natural_bends, periodic_bends, spline
from foamcut.flat.tolerances import CHORD_MM

steps = st.lists(st.floats(0.01, 100.0), min_size=3, max_size=12)
values = st.lists(st.floats(-100.0, 100.0), min_size=13, max_size=13)


def slopes(knots, heights, bends, i):
    """Slope at the end of span i - 1 and at the start of span i."""
    h = [b - a for a, b in itertools.pairwise(knots)]
    before = (heights[i] - heights[i - 1]) / h[i - 1] + h[i - 1] * (2 * bends[i] + bends[i - 1]) / 6
    after = (heights[i + 1] - heights[i]) / h[i] - h[i] * (2 * bends[i] + bends[i + 1]) / 6
    return before, after


@given(steps=steps, heights=values)
def test_a_natural_spline_has_one_slope_at_each_knot_and_no_bend_at_its_ends(steps, heights):
    knots = [sum(steps[:i]) for i in range(len(steps) + 1)]
    heights = heights[: len(knots)]
    bends = natural_bends(knots, heights)
    assert bends[0] == bends[-1] == 0.0
    for i in range(1, len(knots) - 1):
        before, after = slopes(knots, heights, bends, i)
        assert before == pytest.approx(after, rel=1e-6, abs=1e-5)


@given(steps=steps, heights=values)
def test_a_closed_spline_has_one_slope_where_it_closes(steps, heights):
    knots = [sum(steps[:i]) for i in range(len(steps) + 1)]
    heights = [*heights[: len(steps)], heights[0]]
    bends = periodic_bends(knots, heights)
    assert bends[0] == bends[-1]
    turn = [*knots[1:], knots[-1] + steps[0]]
    before, after = slopes([knots[-2], *turn[-2:]], [*heights[-2:], heights[1]], [*bends[-2:], bends[1]], 1)
    assert before == pytest.approx(after, rel=1e-6, abs=1e-5)


@given(
    points=st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=3, max_size=8, unique=True)
)
def test_chords_stay_near_the_curve(points):
    if any(math.dist(a, b) < 0.01 for a, b in itertools.pairwise(points)):
        return
    for span in spline(points):
        count = span.chord_count()
        for i in range(min(count, 50)):
            a, m, b = (span.at((i + share) / count) for share in (0.0, 0.5, 1.0))
            assert math.dist(m, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)) <= CHORD_MM * 1.001
        assert span.points()[-1] == span.end


def test_points_on_a_line_give_that_line():
    spans = spline([(0.0, 0.0), (10.0, 5.0), (40.0, 20.0)])
    assert [span.chord_count() for span in spans] == [1, 1]


@pytest.mark.parametrize(
    ("solve", "knots", "heights"),
    [
        (natural_bends, [0.0], [1.0]),
        (natural_bends, [0.0, 0.0], [1.0, 2.0]),
        (periodic_bends, [0, 1, 2], [1, 2, 1]),
    ],
)
def test_too_few_or_falling_knots_are_a_bug(solve, knots, heights):
    with pytest.raises(ValueError, match="knots"):
        solve(knots, heights)
