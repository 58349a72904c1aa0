"""Where the tool is too wide to go in."""

from shapely import Polygon

from foamcut.flat.kerf_narrows import narrow_places
from foamcut.flat.outline import Outline

NOTCHED = Outline.of_points(
    [(0, 0), (60, 0), (60, 40), (30.4, 40), (30.4, 20), (29.6, 20), (29.6, 40), (0, 40)]
)  # fmt: skip


def test_a_notch_narrower_than_the_kerf_is_found():
    ((x, y),) = narrow_places(NOTCHED, 1.0)
    assert 29.6 < x < 30.4 and 20 < y < 40


def test_a_notch_wider_than_the_kerf_is_none():
    assert narrow_places(NOTCHED, 0.7) == ()
    assert narrow_places(NOTCHED, 0.0) == ()


def test_a_narrow_hole_is_found_and_a_wide_one_is_not():
    narrow = [(10, 10), (10, 20), (10.5, 20), (10.5, 10)]
    wide = [(30, 10), (30, 20), (40, 20), (40, 10)]
    plate = Outline(Polygon([(0, 0), (60, 0), (60, 40), (0, 40)], [narrow, wide]))
    ((x, _),) = narrow_places(plate, 0.6)
    assert 10 < x < 10.5


def test_corners_are_no_places():
    """An inner corner, also a sharp one, is only rounded."""
    star = Outline.of_points([(0, 0), (50, 20), (100, 0), (80, 50), (100, 100), (50, 80), (0, 100), (20, 50)])
    assert narrow_places(star, 0.5) == ()
    assert narrow_places(Outline.circle(0, 0, 20), 0.5) == ()
