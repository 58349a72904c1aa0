"""Small pictures of parts: true in shape, the number, the hand and the arrows in their places."""

import math
from dataclasses import replace

import pytest
import shapely

from foamcut.draw.part_picture import part_picture
from foamcut.draw.picture import Ink
from foamcut.flat.drawn import FoldKind, Hand, Place, Side
from foamcut.flat.outline import Outline
from foamcut.write import picture_svg
from tests.draw.balance_checks import NAMES, box_of
from tests.draw.drawn_parts import ON_THE_RIGHT, pair, part, slot
from tests.draw.folded_parts import plate
from tests.draw.gauge_samples import SAMPLES, sample

BOX = (42.0, 26.0)


def look_over(picture):
    field = shapely.box(-0.01, -0.01, picture.width_mm + 0.01, picture.height_mm + 0.01)
    boxes = [box_of(text) for text in picture.texts]
    for box in boxes:
        assert field.contains(box)
    assert len(shapely.union_all(boxes).geoms if len(boxes) > 1 else boxes) == len(boxes)
    for shape in picture.shapes:
        assert field.contains(shapely.LineString(shape.points))


def outline(picture):
    (whole,) = [shape for shape in picture.shapes if shape.ink is Ink.MODEL]
    holes = [shape.points for shape in picture.shapes if shape.ink is Ink.BOARD]
    return shapely.Polygon(whole.points, holes)


def words(picture):
    return [text.text for text in picture.texts]


@pytest.mark.parametrize("box", [BOX, (30.0, 20.0), (24.0, 40.0)])
@pytest.mark.parametrize("name", SAMPLES)
def test_parts_of_the_samples(name, box):
    """Each is drawn in its true shape, and its number is there."""
    for i, one in enumerate(sample(name).parts, 1):
        picture = part_picture(one, i, box)
        look_over(picture)
        assert (picture.width_mm, picture.height_mm) == box
        x0, _, x1, _ = one.outline.bounds
        shown = outline(picture)
        scale = (shown.bounds[2] - shown.bounds[0]) / (x1 - x0)
        assert shown.area == pytest.approx(one.outline.area * scale**2, rel=0.02, abs=0.2)
        assert str(i) in words(picture)
        assert picture_svg.render(picture)


def test_openings_are_seen():
    one = part(Outline.rectangle(0, 0, 90, 60), slots=(slot(30, 30, 20),))
    holed = replace(one, outline=one.outline.minus(slot(30, 30, 20).outline)[0])
    picture = part_picture(holed, 7, BOX)
    look_over(picture)
    assert len(outline(picture).interiors) == 1
    assert "It has 1 opening." in picture.told


def test_nothing_is_drawn_larger_than_it_is():
    picture = part_picture(part(Outline.rectangle(0, 0, 6, 4)), 3, BOX)
    look_over(picture)
    assert outline(picture).area == pytest.approx(24.0)
    assert words(picture) == ["3"]


def test_a_strip_too_thin_for_its_number_has_it_beside():
    picture = part_picture(part(Outline.rectangle(0, 0, 700, 20)), 12, BOX)
    look_over(picture)
    (number,) = picture.texts
    assert not outline(picture).intersects(box_of(number))


def test_both_hands_say_which_they_are_and_point_alike():
    """The nose lies to the left of both, up is up on one and down on its mirror image."""
    right, left = pair()
    ups = []
    for one in (right, left):
        picture = part_picture(replace(one, place=one.place or ON_THE_RIGHT), 4, BOX)
        look_over(picture)
        assert one.hand.value.upper() in words(picture)
        assert f"the {one.hand.value} one" in picture.told
        ups.append("UP is to the top" in picture.told)
    assert {right.hand, left.hand} == {Hand.RIGHT, Hand.LEFT}
    assert ups[0]


def test_arrows_point_to_the_nose_and_up():
    """x aft: FRONT points left, head at the tip."""
    one = replace(part(Outline.rectangle(0, 0, 90, 60)), place=ON_THE_RIGHT)
    picture = part_picture(one, 1, BOX)
    shafts = [shape.points for shape in picture.shapes if shape.ink is Ink.AXIS]
    turns = [math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in shafts]
    assert [round(turn) % 360 for turn in turns] == [180, 90]
    heads = [shape.points for shape in picture.shapes if shape.ink is Ink.SOLID]
    assert [head[0] for head in heads] == [shaft[1] for shaft in shafts]
    level = replace(one, place=Place(key="p", at=(0, 0, 0), x=(1, 0, 0), y=(0, 1, 0)))
    assert "UP" not in words(part_picture(level, 1, BOX))


def test_folds_towards_the_reader_and_away_differ():
    for side, ink in ((Side.UP, Ink.HIDDEN), (Side.DOWN, Ink.CENTRE)):
        picture = part_picture(plate(FoldKind.GROOVE, side), 1, BOX)
        look_over(picture)
        assert [shape.ink for shape in picture.shapes if shape.ink in (Ink.HIDDEN, Ink.CENTRE)] == [ink]
        assert "folded along 1 line." in picture.told


@pytest.mark.parametrize("name", NAMES)
def test_any_name(name):
    picture = part_picture(part(Outline.rectangle(0, 0, 90, 60), name), 1, BOX)
    look_over(picture)
    assert picture_svg.render(picture)


@pytest.mark.parametrize("box", [(5.0, 5.0), (12.0, 8.0)])
def test_a_box_too_small_for_words_has_the_part_alone(box):
    one = replace(part(Outline.rectangle(0, 0, 900, 600)), place=ON_THE_RIGHT, hand=Hand.RIGHT)
    picture = part_picture(one, 123, box)
    assert outline(picture).area > 0
    assert "FRONT" not in words(picture)
