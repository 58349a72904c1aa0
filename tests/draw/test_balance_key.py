"""The key below the side view, the words beside the sections of the wing, signs that keep apart."""

from dataclasses import replace

import pytest
from shapely import Polygon

from foamcut.airframe.values import Inputs, Surface
from foamcut.draw.balance_side import side_picture
from foamcut.draw.picture import PENS, Ink, Picture
from foamcut.flight.figures import Report
from foamcut.flight.values import Setup
from tests.draw.balance_checks import box_of, look_over, of, tick_at, words
from tests.draw.balance_reports import (
    FIN,
    HULL,
    NOSE_MOTOR,
    NUMBERS,
    TAIL,
    THINGS,
    WING,
    model,
    report,
    title,
)


def raised(degrees: float) -> Surface:
    rows = tuple(replace(one, dihedral_deg=degrees) for one in WING.stations)
    return replace(WING, stations=rows)


def picture_of(wing: Surface = WING, found: Report | None = None, inputs: Inputs | None = None) -> Picture:
    given = inputs or Inputs(surfaces=(wing, TAIL, FIN), bodies=(HULL,), motors=(NOSE_MOTOR,))
    picture = side_picture(found or report(), model(given), Setup(aboard=THINGS), title())
    assert picture is not None
    look_over(picture)
    return picture


@pytest.mark.parametrize("up", [55.0, 74.0])
@pytest.mark.parametrize("degrees", [0.0, 3.0, 6.0, 10.0, 20.0])
def test_a_word_beside_a_section_lies_nearer_to_it_than_to_the_other(degrees, up):
    """A wing that rises much looks like two: its tip is an outline alone, and named."""
    picture = picture_of(replace(raised(degrees), at=(240.0, up)))
    root, tip = (Polygon(of(picture, ink)[0].points) for ink in (Ink.LIFTING, Ink.TIP))
    said = {text.text: box_of(text) for text in picture.texts if text.text in ("root", "tip")}
    for word, own, other in (("root", root, tip), ("tip", tip, root)):
        if word in said:
            assert said[word].distance(own) < said[word].distance(other)
            assert said[word].distance(own) <= 5.5
    if degrees >= 6:
        assert "tip" in said
        assert ("root" in said) == (up > 60)  # amid the body there is no room that nothing takes


def test_the_tip_is_an_outline_alone():
    assert PENS[Ink.TIP].fill is None
    assert PENS[Ink.LIFTING].fill is not None
    picture = picture_of(raised(10.0))
    outline = Polygon(of(picture, Ink.TIP)[0].points)
    assert outline.centroid.y > Polygon(of(picture, Ink.LIFTING)[0].points).centroid.y


def test_the_key_says_what_is_drawn_and_nothing_else():
    told = words(picture_of())
    for said in (
        "section at the root", "section at the tip", "propeller from its edge", "what is carried",
        "where it should lie", "down to its row", "middle of what has a number",
    ):  # fmt: skip
        assert said in told
    bare = words(picture_of(inputs=Inputs(bodies=(HULL,)), found=report(numbers=())))
    assert "section at" not in bare
    assert "propeller from" not in bare
    assert "what is carried" in bare


def test_every_sample_in_the_key_stands_before_its_words():
    picture = picture_of()
    line = next(text for text in picture.texts if text.text == "section at the tip")
    swatch = min(of(picture, Ink.TIP), key=lambda one: one.points[0][1])
    assert 0 < line.at[0] - max(x for x, _ in swatch.points) < 3.0
    assert line.at[1] - 1 < swatch.points[0][1] < line.at[1] + 3


@pytest.mark.parametrize("off_mm", [-40.0, -10.0, -2.0, 0.0, 2.0, 10.0, 40.0])
@pytest.mark.parametrize("up", [20.0, 50.0, 55.0, 60.0])
def test_the_signs_of_balance_and_neutral_point_do_not_cover_each_other(off_mm, up):
    """Both stand on their own lines, at their own places along."""
    found = report()
    now = found.loaded
    assert now is not None
    moved = replace(now, at=(now.at[0], 0.0, up))
    numbers = tuple(
        replace(one, value=now.at[0] + off_mm, low=None, high=None) if one.name == "neutral_point" else one
        for one in NUMBERS
    )
    assert any(one.name == "neutral_point" for one in NUMBERS)
    picture = picture_of(found=replace(found, loaded=moved, numbers=numbers))
    circles = [Polygon(one.points) for one in of(picture, Ink.SYMBOL) if len(one.points) == 48]
    marks = [Polygon(one.points) for one in of(picture, Ink.SOLID) if len(one.points) == 3]
    wide = [one for one in marks if abs(one.bounds[2] - one.bounds[0] - 4.0) < 1e-6]
    circle, mark = (max(several, key=lambda one: one.centroid.y) for several in (circles, wide))
    assert circle.distance(mark) > 0
    per = (tick_at(picture, "400") - tick_at(picture, "0")) / 400
    apart = (mark.bounds[0] + mark.bounds[2]) / 2 - circle.centroid.x
    assert apart == pytest.approx(off_mm * per, abs=0.02)
