"""A part says everything that its builder must read, and no word lies on a line."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import PRICK_RADIUS_MM, part_lines, stroke_shape
from foamcut.draw.sheet import placed_text
from foamcut.draw.values import Align, Line
from foamcut.draw.words import right_way_up, text_box
from foamcut.flat.drawn import Face, Grain, Hand, Label, Place
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement
from tests.draw.drawn_parts import ON_THE_RIGHT, TITLE, LineMark, part, side, slot
from tests.draw.page_checks import crowded


def lines_of(p, **more):
    return part_lines(p, TITLE, **{"number": 7, "template": True, "thicknesses": {"ply": 1.5}} | more)


def said(p, **more) -> list[str]:
    return [text.text for text in lines_of(p, **more)[1]]


def test_everything_is_said():
    """Name, number, hand, count, face, sizes in mm, inches and off the sketch, arrows, what slots take."""
    words = said(side(hand=Hand.RIGHT, count=2))
    assert "7  side" in words
    assert "right hand, cut 2, inner face up" in words
    assert "length 864 mm (34 1/64 in), sketch 144 mm" in words
    assert "width 84 mm (~3 5/16 in), sketch 14 mm" in words
    assert "written sizes govern" in words
    assert {"FRONT", "UP", "board 5", "F2"} <= set(words)
    assert words.count("ply 1.5") == 2


def test_sketch_in_inches_is_read_as_a_fraction():
    """2 1/2 in on the sketch at 1:8 is 20 in on the board."""
    inches = replace(TITLE, sketch_unit="in", sketch_scale=8.0)
    words = [
        t.text
        for t in part_lines(part(Outline.rectangle(0, 0, 508, 100)), inches, number=1, template=True)[1]
    ]
    assert "length 508 mm (20 in), sketch 2 1/2 in" in words
    assert "width 100 mm (3 15/16 in), sketch 0.492 in" in words


def test_layers_of_the_lines():
    """Outer ring THROUGH, holes OPENING, marks by their face."""
    strokes, _ = lines_of(side(place=None), template=False)
    kinds = [stroke.line for stroke in strokes]
    assert kinds.count(Line.THROUGH) == 1 and kinds.count(Line.OPENING) == 4
    assert kinds.count(Line.MARK) == 1 and kinds.count(Line.MARK_BACK) == 1
    assert all(s.closed == (s.line in (Line.THROUGH, Line.OPENING)) for s in strokes)


def test_far_mark_is_pricked_on_templates():
    """On a template a mark of the far face is a circle at each prick point and no line."""
    strokes, _ = lines_of(side())
    far = [stroke for stroke in strokes if stroke.line is Line.MARK_BACK]
    middles = [shapely.get_coordinates(stroke_shape(s).envelope.centroid)[0] for s in far]
    assert [list(map(float, m)) for m in middles] == [pytest.approx([150, 40]), pytest.approx([190, 40])]
    assert all(
        shape.length == pytest.approx(2 * math.pi * PRICK_RADIUS_MM, rel=0.02)
        for shape in map(stroke_shape, far)
    )


def test_mark_of_either_face_is_near():
    """A part drawn on either face has no far mark."""
    either = side(face=Face.EITHER)
    assert Line.MARK_BACK not in {stroke.line for stroke in lines_of(either)[0]}
    assert "cut 1, either face up" in said(either)


def test_no_place_no_arrows():
    assert not {"FRONT", "UP"} & set(said(side(place=None)))


def test_direction_out_of_the_plane_has_no_arrow():
    """A bottom panel lies level: it has a front, and no up."""
    level = Place(key="p", at=(0, 0, 0), x=(1, 0, 0), y=(0, 1, 0))
    words = said(side(place=level))
    assert "FRONT" in words and "UP" not in words


def test_arrow_points_to_the_nose():
    """x runs aft, so the tip of the FRONT arrow lies left of its tail."""
    strokes, texts = lines_of(side())
    word = next(text for text in texts if text.text == "FRONT")
    shafts = [s.segments[0] for s in strokes if s.line is Line.MARK and len(s.segments) == 1]
    level = next(s for s in shafts if abs(s.start[1] - s.end[1]) < 1e-9)
    assert level.end[0] < level.start[0] < word.at[0]


def test_grain_is_said():
    assert "grain along its length" in said(side(grain=Grain.X))
    assert "grain across its length" in said(side(grain=Grain.Y))


def test_small_part_has_its_number_only():
    assert said(part(Outline.circle(0, 0, 4))) == ["7"]


def test_needle_still_has_its_number():
    """No room at all: the number stands on the part all the same."""
    assert said(part(Outline.rectangle(0, 0, 100, 1.5))) == ["7"]


def test_label_where_the_builder_wants_it():
    at = Label(key="parts.side.label", at=(700.0, 50.0), turn_deg=0.0)
    _, texts = lines_of(side(label=at))
    name = next(text for text in texts if text.text == "7  side")
    assert name.at[0] == pytest.approx(700) and abs(name.at[1] - 50) < 15


def test_lines_of_a_label_stand_in_reading_order_after_the_placement():
    """Turned and turned over in any way, the first line of the label is the first to be read."""
    texts = [text for text in lines_of(side())[1] if text.pivot]
    for turn in (0.0, 90.0, 180.0, 270.0, 33.0):
        for flipped in (False, True):
            placed = [placed_text(t, Placement(turn_deg=turn, flipped=flipped)) for t in texts]
            turns = {round(text.turn_deg, 3) for text in placed}
            assert len(turns) == 1
            angle = math.radians(turns.pop())
            assert math.cos(angle) > -1e-9
            down = [text.at[0] * math.sin(angle) - text.at[1] * math.cos(angle) for text in placed]
            assert down == sorted(down)
            assert placed[0].text == "7  side"


@given(st.floats(0, 359), st.floats(0, 359))
def test_right_way_up_keeps_the_box(turn, page_turn):
    """A text that would stand on its head is turned within its box."""
    text = replace(lines_of(side())[1][0], turn_deg=turn)
    turned = right_way_up(text, page_turn)
    assert not 90 < (turned.turn_deg + page_turn) % 360 <= 270
    assert middle_of_capitals(turned) == pytest.approx(middle_of_capitals(text), abs=1e-9)


def middle_of_capitals(text):
    up = math.radians(text.turn_deg + 90)
    back = {Align.LEFT: 0.5, Align.MIDDLE: 0.0, Align.RIGHT: -0.5}[text.align]
    along, level = back * text_width_mm(text.text, text.height_mm), text.height_mm / 2
    x, y = text.at
    return x + along * math.sin(up) + level * math.cos(up), y - along * math.cos(up) + level * math.sin(up)


sizes = st.floats(8, 400)


@given(
    sizes,
    sizes,
    st.lists(st.tuples(st.floats(0.1, 0.9), st.floats(0.1, 0.9), st.sampled_from([0.0, 90.0])), max_size=3),
)
def test_words_touch_no_line(width, height, places):
    """Words lie on the part, clear of every line and of one another, when the part is large enough for any."""
    slots = [slot(x * width, y * height, 6.0, turn) for x, y, turn in places]
    body = Outline.rectangle(0, 0, width, height)
    kept = []
    for each in slots:
        inside = body.polygon.buffer(-1).contains(each.outline.polygon)
        if inside and not any(each.outline.polygon.distance(k.outline.polygon) < 1 for k in kept):
            kept.append(each)
    p = part(body, slots=tuple(kept), place=ON_THE_RIGHT)
    strokes, texts = lines_of(p)
    assert not crowded(texts)
    if len(texts) < 2:
        return
    cuts = shapely.union_all([stroke_shape(s) for s in strokes])
    for text in texts:
        box = text_box(text)
        assert not cuts.intersects(box), text
        in_the_waste = any(s.outline.polygon.contains(box) for s in kept)
        assert p.outline.polygon.contains(box) or in_the_waste


def test_marks_are_kept_clear_of():
    """The label moves away from a mark across the middle."""
    mark = LineMark(ends=((0, 30), (200, 30)))
    strokes, texts = lines_of(part(Outline.rectangle(0, 0, 200, 60), marks=(mark,)))
    line = stroke_shape(next(s for s in strokes if s.line is Line.MARK))
    assert len(texts) > 2 and not any(line.intersects(text_box(text)) for text in texts)


def test_same_part_same_drawing():
    """Asked twice, and of an equal part, the answer is the same."""
    assert lines_of(side()) == lines_of(side())


def test_words_of_a_mark_move_off_lines_and_onto_the_part():
    """Words that would cross a cut or leave the part stand near by instead; on a part too small for them, nowhere."""
    mark = LineMark(ends=((95, 10), (95, 50)), text="hinge line")  # its words would begin at x = 99 of 100
    strokes, texts = lines_of(part(Outline.rectangle(0, 0, 100, 60), marks=(mark,)))
    words = text_box(next(text for text in texts if text.text == "hinge line"))
    assert shapely.box(0, 0, 100, 60).contains(words)
    assert not any(stroke_shape(s).intersects(words) for s in strokes)
    tiny = part(Outline.rectangle(92, 8, 98, 20), marks=(LineMark(ends=((95, 10), (95, 15)), text="hinge line"),))
    assert "hinge line" not in said(tiny)


def test_sheets_and_templates_have_words_and_arrows_at_one_place():
    """What is found on the template is found at the same place on the sheet."""
    on_template, on_sheet = (lines_of(side(), template=template) for template in (True, False))
    assert on_template[1] == on_sheet[1]
    far = {Line.MARK_BACK}
    assert [s for s in on_template[0] if s.line not in far] == [s for s in on_sheet[0] if s.line not in far]
