"""Where labels find room."""

import math

import pytest
from hypothesis import given
from shapely import Point, box
from shapely.affinity import rotate, translate

from foamcut.flat.build import build_part
from foamcut.flat.drawn import Disc, Label
from foamcut.flat.lettering import HEIGHTS_MM, Spot, label_spot
from foamcut.flat.part import Part
from tests.strategies import KEY, hole, mark, panel, readings, rectangle, slot, sound_parts


def built(drawn) -> Part:
    return build_part(drawn)[0][0]


def placed_box(spot: Spot, width: float, height: float):
    scale = spot.height_mm / height
    w, h = width * scale / 2, height * scale / 2
    return translate(rotate(box(-w, -h, w, h), spot.turn_deg, origin=(0, 0)), *spot.at)


def test_an_empty_part_has_its_label_in_the_middle():
    assert label_spot(built(panel()), 60, 5) == Spot(at=(50.0, 25.0), turn_deg=0.0, height_mm=5)


def test_the_label_keeps_off_slots_and_cutouts():
    part = built(panel(cutouts=(hole(0, (70, 25), 40),), slots=(slot(0, (25, 40), 30),)))
    spot = label_spot(part, 35, 5)
    assert spot.height_mm == 5
    assert part.outline.polygon.contains(placed_box(spot, 35, 5))


def test_the_label_keeps_off_the_words_and_lines_of_marks():
    line = mark(0, "line", (0, 25), (100, 25), text="a long word on a mark")
    part = built(panel(marks=(line,)))
    spot = label_spot(part, 60, 5)
    assert not placed_box(spot, 60, 5).intersects(box(20, 24, 80, 30))
    assert spot.height_mm == 5


def test_a_label_may_cross_lines_where_there_is_no_other_room():
    lines = tuple(mark(i, "line", (10.0 * i, 0), (10.0 * i, 50)) for i in range(1, 10))
    spot = label_spot(built(panel(marks=lines)), 60, 5)
    assert (spot.turn_deg, spot.height_mm) in {(0.0, 5), (90.0, 5)}


def test_a_narrow_upright_part_has_its_label_along_it():
    assert label_spot(built(panel(rectangle(8, 200))), 80, 5).turn_deg == 90


def test_a_sloping_strip_has_its_label_along_its_long_edge():
    along = math.radians(30)
    corners = [(0, 0), (200, 0), (200, 9), (0, 9)]
    turned = [
        (x * math.cos(along) - y * math.sin(along), x * math.sin(along) + y * math.cos(along))
        for x, y in corners
    ]
    part = built(panel(readings(*turned)))
    spot = label_spot(part, 80, 5)
    assert (spot.turn_deg, spot.height_mm) == (30.0, 5)
    assert part.outline.polygon.contains(placed_box(spot, 80, 5))


def test_letters_shrink_to_a_height_of_the_series():
    spot = label_spot(built(panel(rectangle(30, 30))), 58, 5)
    assert spot.height_mm == 2.5
    assert spot.height_mm in HEIGHTS_MM


def test_a_tiny_part_has_no_room():
    assert label_spot(built(panel(Disc(key="d", diameter_mm=4.0))), 60, 5) is None


def test_the_builders_place_wins_and_shrinks_if_it_must():
    here = panel(label=Label(key=f"{KEY}.label", at=(12, 40), turn_deg=90.0))
    assert label_spot(built(here), 15, 5) == Spot(at=(12, 40), turn_deg=90.0, height_mm=5)
    assert label_spot(built(here), 30, 5) == Spot(at=(12, 40), turn_deg=90.0, height_mm=2.5)
    assert label_spot(built(here), 3000, 5).height_mm == HEIGHTS_MM[-1]


@pytest.mark.parametrize("size", [(0, 5), (5, -1), (math.nan, 5)])
def test_a_box_without_size_is_a_bug(size):
    with pytest.raises(ValueError, match="positive"):
        label_spot(built(panel()), *size)


@given(drawn=sound_parts())
def test_a_label_lies_in_the_material(drawn):
    part = built(drawn)
    spot = label_spot(part, 50, 7)
    assert spot is not None
    assert part.outline.polygon.contains(placed_box(spot, 50, 7))
    assert part.outline.polygon.contains(Point(spot.at))
    assert label_spot(part, 50, 7) == spot
