"""Doublers without thin ends, held against arithmetic."""

import math

import pytest
import shapely
from shapely import Polygon

from foamcut.airframe.body_blunt import blunted
from tests.airframe.body_sample import bare, built, plain

LONG = ((0.0, 0.0, 60.0), (600.0, 0.0, 60.0))


@pytest.mark.parametrize(("hatch_end", "top"), [(94.0, 54.0), (87.0, 59.0)])
def test_a_doubler_has_no_spike_behind_the_hatch(hatch_end, top):
    """arithmetic: under the hatch 60 - 5 - 1; behind it 1 mm under the edge, where 10 mm or more are left."""
    one = plain(LONG, hatch_mm=(0.0, hatch_end), nose_doubler_mm=(0.0, 100.0))
    bounds = built(bare(one))["fuselage-doubler-right"].outline.bounds
    assert bounds == pytest.approx((0.0, 5.0, 100.0, top), abs=1e-5)


@pytest.mark.parametrize("angle", [10.0, 33.0, 55.0])
def test_a_sharp_tip_is_cut_square_where_it_is_two_boards_thick(angle):
    """arithmetic: a wedge of angle a is 10 mm thick 5 / tan(a / 2) from its tip."""
    half = math.radians(angle / 2)
    wedge = Polygon([(0.0, 0.0), (200.0, -200.0 * math.tan(half)), (200.0, 200.0 * math.tan(half))])
    left = blunted(wedge, 5.0)
    x0, _, x1, _ = left.bounds
    assert x0 == pytest.approx(5.0 / math.tan(half), abs=1e-4)
    assert x1 == pytest.approx(200.0)
    end = left.intersection(shapely.LineString([(x0 + 1e-4, -99.0), (x0 + 1e-4, 99.0)]))
    assert end.length == pytest.approx(10.0, abs=1e-3)


def test_a_shape_without_thin_ends_stays_as_it_is():
    shape = Polygon([(0.0, 0.0), (80.0, 5.0), (80.0, 60.0), (30.0, 40.0), (0.0, 50.0)])
    assert shape.symmetric_difference(blunted(shape, 5.0)).area < 1e-3
