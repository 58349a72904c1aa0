"""Labels, arrows and letters of lines: nothing that must be read is dropped without a word elsewhere."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foamcut.draw.part import PRICK_RADIUS_MM, left_out, part_lines, stroke_shape
from foamcut.draw.values import Line
from foamcut.draw.words import facts_words, text_box, way_words
from foamcut.flat.drawn import DrawnMark, Face, Grain, Hand, Label, Place
from foamcut.flat.marks import mark_of
from foamcut.flat.outline import Outline
from tests.draw.drawn_parts import ON_THE_RIGHT, TITLE, LineMark, part, slot
from tests.draw.page_checks import crowded

THICK = {"ply": 1.5, "board": 5.0}


def drawn(p, template=False):
    return part_lines(p, TITLE, number=7, template=template, thicknesses=THICK)


def said(p) -> list[str]:
    return [text.text for text in drawn(p)[1]]


def lost(p):
    return left_out(p, TITLE, number=7, thicknesses=THICK)


def test_long_name_leaves_hand_count_face_and_sizes():
    """80 x 40 mm with a name of 100 letters: the name is cut off, nothing else is."""
    p = part(Outline.rectangle(0, 0, 80, 40), "b" * 100, hand=Hand.RIGHT, count=3)
    words = said(p)
    assert any(w.startswith("7 ") and "..." in w for w in words)
    assert "right hand, cut 3, inner face up" in words
    assert any("80 mm" in w for w in words) and any("40 mm" in w for w in words)
    assert not crowded(drawn(p)[1])


@given(st.floats(40, 300), st.floats(20, 120), st.integers(1, 200), st.sampled_from(Hand))
def test_hand_count_and_face_stand_on_every_part_of_some_size(width, height, letters, hand):
    p = part(Outline.rectangle(0, 0, width, height), "n" * letters, hand=hand, count=12)
    words = " ".join(said(p))
    assert "cut 12" in words and "inner face up" in words
    assert hand is Hand.NONE or f"{hand.value} hand" in words


def test_label_in_a_tight_place_gets_smaller_before_it_says_less():
    """The builder's place has room for small letters alone."""
    body = Outline.rectangle(0, 0, 300, 100)
    marks = tuple(LineMark(ends=((0, y), (300, y))) for y in (37.0, 63.0))
    p = part(body, label=Label(key="parts.side.label", at=(150.0, 50.0)), marks=marks)
    texts = [t for t in drawn(p)[1] if t.pivot]
    assert texts[0].pivot == (150.0, 50.0)
    assert {"cut 1, inner face up", "written sizes govern"} <= {t.text for t in texts}
    assert max(t.height_mm for t in texts) < 5.0


def test_label_moves_when_nothing_fits_where_it_was_wanted():
    p = part(Outline.rectangle(0, 0, 300, 100), label=Label(key="parts.side.label", at=(0.0, 0.0)))
    assert "cut 1, inner face up" in said(p)


def test_label_of_a_strip_is_one_long_line():
    """9 x 400 mm: everything is said along the strip, however it is turned."""
    for turn in (0.0, 90.0, 6.0):
        angle = math.radians(turn)
        cos, sin = math.cos(angle), math.sin(angle)
        corners = [(0, 0), (400, 0), (400, 9), (0, 9)]
        (body,) = Outline.of_points([(x * cos - y * sin, x * sin + y * cos) for x, y in corners]),
        words = " ".join(said(part(body)))
        assert "cut 1" in words and "inner face up" in words


def test_short_arrows_before_none():
    """A strip 16 mm wide holds no arrow of 18 mm across it, and still one of 7 mm."""
    p = part(Outline.rectangle(0, 0, 90, 16), place=ON_THE_RIGHT)
    assert {"FRONT", "UP"} <= set(said(p))


@given(st.floats(5, 120), st.floats(5, 120))
def test_arrows_are_drawn_or_told(width, height):
    p = part(Outline.rectangle(0, 0, width, height), place=ON_THE_RIGHT)
    words, missing = said(p), [word for word, _ in lost(p).arrows]
    assert sorted([*(w for w in words if w in ("FRONT", "UP")), *missing]) == ["FRONT", "UP"]


def test_where_a_lost_arrow_points_follows_the_part():
    """x runs aft and y up: FRONT is left as drawn, down after a quarter turn, left still when turned over."""
    tiny = lost(part(Outline.rectangle(0, 0, 8, 8), place=ON_THE_RIGHT))
    assert tiny.ways() == ("FRONT: left", "UP: up")
    assert tiny.ways(90.0) == ("FRONT: down", "UP: left")
    assert tiny.ways(0.0, flipped=True) == ("FRONT: left", "UP: down")


def test_ways_are_the_nearest_eighth():
    assert [way_words(turn) for turn in (0, 22, 23, 90, 359, -90)] == [
        "right", "right", "up and right", "up", "right", "down",
    ]  # fmt: skip


@pytest.mark.parametrize(("share", "arrow"), [(0.36, True), (0.3, False)])
def test_arrow_from_a_third_in_the_plane(share, arrow):
    """A panel that is all but level: UP is drawn when a third of it lies in the plane."""
    level = math.sqrt(1 - share**2)
    p = part(
        Outline.rectangle(0, 0, 300, 200), place=Place(key="p", at=(0, 0, 0), x=(1, 0, 0), y=(0, level, share))
    )
    assert ("UP" in said(p)) is arrow


def test_arrows_and_label_keep_two_mm_where_there_is_room():
    p = part(Outline.rectangle(0, 0, 300, 150), place=ON_THE_RIGHT, slots=(slot(150, 75, 40),))
    strokes, texts = drawn(p)
    cuts = shapely.union_all([stroke_shape(s) for s in strokes if s.line in (Line.THROUGH, Line.OPENING)])
    arrows = [stroke_shape(s) for s in strokes if s.line is Line.MARK]
    assert len(arrows) == 4 and all(cuts.distance(a) > 2 - 1e-6 for a in arrows)
    for text in texts:
        if text.text != "O":
            assert cuts.distance(text_box(text)) > 2 - 1e-6, text
    label = shapely.union_all([text_box(t) for t in texts if t.pivot])
    assert all(label.distance(a) > 2 - 1e-6 for a in arrows)


def test_words_without_room_are_told():
    """A slot and a mark on a part too small for their words."""
    mark = LineMark(ends=((2, 2), (2, 7)), text="belly tape")
    p = part(Outline.rectangle(0, 0, 7, 8), marks=(mark,), slots=(slot(4.5, 4, 5, 90, "ply"),))
    assert set(lost(p).words) == {"mark: belly tape", "slot takes ply 1.5"}
    facts = facts_words(p, TITLE, 7, lost(p).told())
    assert facts[0] == "7  side, cut 1, inner face up"
    assert any("belly tape" in line and "ply 1.5" in line for line in facts)


def test_facts_without_what_was_left_out_tell_all_marks_and_slots():
    mark = LineMark(ends=((20, 20), (20, 60)), text="F2")
    p = part(Outline.rectangle(0, 0, 200, 100), marks=(mark,), slots=(slot(90, 50, 40),), grain=Grain.Y)
    facts = facts_words(p, TITLE, 3)
    assert facts[1:3] == (
        "length 200 mm (~7 7/8 in), sketch 33.33 mm",
        "width 100 mm (3 15/16 in), sketch 16.67 mm",
    )
    assert "grain across its length" in facts and "mark: F2; slot takes ply" in facts
    assert "either face up" in facts_words(replace(p, face=Face.EITHER), TITLE, 3)[0]


def test_words_of_a_far_mark_stand_at_its_prick_circle():
    """On the template nothing is drawn between the circles, so the words stand at one of them."""
    mark = LineMark(ends=((60, 75), (260, 75)), text="hinge tape", face=Face.OUTER)
    p = part(Outline.rectangle(0, 0, 320, 150), marks=(mark,))
    strokes, texts = drawn(p, template=True)
    words = text_box(next(t for t in texts if t.text == "hinge tape"))
    circles = [stroke_shape(s) for s in strokes if s.line is Line.MARK_BACK]
    assert 1.5 < min(words.distance(c) for c in circles) < 3


def test_balance_is_told_from_the_end_of_its_line():
    """A cross in the circle at the place itself, and there alone."""
    drawn_mark = DrawnMark(
        key="m", kind="balance", face=Face.OUTER, points=((50.0, 60.0), (250.0, 60.0)), ratio=0.3
    )
    p = part(Outline.rectangle(0, 0, 320, 150), marks=(mark_of(drawn_mark),))
    strokes = [s for s in drawn(p, template=True)[0] if s.line is Line.MARK_BACK]
    assert len([s for s in strokes if s.closed]) == 2
    crosses = [stroke_shape(s) for s in strokes if not s.closed]
    assert len(crosses) == 2
    for line in crosses:
        assert line.centroid.distance(shapely.Point(110, 60)) < 1e-6
        assert line.length < 2 * PRICK_RADIUS_MM
    assert not [s for s in drawn(p)[0] if s.line is Line.MARK_BACK and stroke_shape(s).length < 5]


def test_letters_at_openings_stand_in_the_waste():
    """Lines that are no plain outline or mark say what they are, without a colour."""
    (body,) = Outline.rectangle(0, 0, 200, 100).minus(Outline.circle(100, 50, 10))
    letters = [t for t in drawn(part(body))[1] if t.text == "O"]
    assert len(letters) == 1
    assert shapely.Point(100, 50).buffer(10).contains(text_box(letters[0]))
    far = LineMark(ends=((20, 20), (60, 20)), face=Face.OUTER)
    assert "MB" in said(part(body, marks=(far,))) and "M" not in said(part(body, marks=(far,)))
