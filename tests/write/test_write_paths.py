"""Strokes made ready for a file, boxes, numbers, and arcs as curves."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.draw.values import Align, Drawing, Line, Stroke, Text
from foamcut.flat.outline import Segment, straight
from foamcut.write.curves import OFF_MM, curves
from foamcut.write.extents import drawing_box, segment_box, text_box
from foamcut.write.layers import layers
from foamcut.write.numbers import plain
from foamcut.write.paths import path
from tests.write.sheet_drawings import circle, rectangle, sheet

COORDINATES = st.floats(-5000, 5000)
BULGES = st.one_of(st.floats(-1, 1), st.sampled_from([0.0, 1.0, -1.0, 1e-9, math.tan(math.pi / 8)]))


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.1 + 0.2, "0.3"),
        (-0.0, "0"),
        (-1e-9, "0"),
        (1e-6, "0.000001"),
        (1e7, "10000000"),
        (100.0, "100"),
        (-2.5, "-2.5"),
    ],
)
def test_numbers_are_plain(value, text):
    assert plain(value) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_none_are_refused(value):
    with pytest.raises(ValueError, match="not a number"):
        plain(value)


def stroke(*segments: Segment, closed: bool = False) -> Stroke:
    return Stroke(line=Line.MARK, segments=segments, closed=closed)


def test_a_closed_path_does_not_repeat_its_first_point():
    drawn = path(stroke(*rectangle(0, 0, 10, 5), closed=True))
    assert drawn.points == ((0, 0), (10, 0), (10, 5), (0, 5))
    assert drawn.bulges == (0, 0, 0, 0)


def test_a_full_circle_is_two_half_turns():
    drawn = path(stroke(*circle(5, 5, 2), closed=True))
    assert drawn.points == ((3, 5), (7, 5))
    assert drawn.bulges == (1, 1)


def test_a_closed_stroke_that_stops_short_is_closed_by_a_line():
    drawn = path(stroke(*straight([(0, 0), (10, 0), (10, 5)]), closed=True))
    assert drawn.points == ((0, 0), (10, 0), (10, 5))
    assert len(drawn.bulges) == 3


def test_an_open_stroke_keeps_both_ends():
    drawn = path(stroke(*straight([(0, 0), (10, 0), (0, 0)])))
    assert drawn.points == ((0, 0), (10, 0), (0, 0))
    assert drawn.bulges == (0, 0)


def test_points_that_fall_together_are_left_out():
    drawn = path(stroke(*straight([(0, 0), (1e-8, 0), (10, 0)])))
    assert drawn.points == ((0, 0), (10, 0))


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (stroke(), "no length"),
        (stroke(Segment((1, 1), (1, 1))), "no length"),
        (stroke(Segment((0, 0), (math.nan, 1))), "not a number"),
        (stroke(Segment((0, 0), (math.inf, 1))), "not a number"),
        (stroke(Segment((0, 0), (1, 1), math.nan)), "not an arc"),
        (stroke(Segment((0, 0), (1, 1), 1.5)), "not an arc"),
        (stroke(Segment((0, 0), (1, 1)), Segment((1, 2), (3, 3))), "breaks"),
        (stroke(Segment((0, 0), (1, 1)), closed=True), "encloses nothing"),
        (stroke(*straight([(0, 0), (1, 1), (0, 0)]), closed=True), "encloses nothing"),
    ],
)
def test_what_cannot_be_drawn_is_refused(wrong, message):
    with pytest.raises(ValueError, match=message):
        path(wrong)


def test_layers_come_in_the_order_of_the_table_and_only_with_something_on_them():
    assert [layer.line.value for layer in layers(sheet())] == [
        "SHEET", "MARK", "MARK_BACK", "LETTERING", "OPENING", "THROUGH", "NOTES",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("strokes", "texts", "message"),
    [
        ([Stroke(line=Line.TRIM, segments=straight([(0, 0), (1, 0)]))], [], "trim"),
        ([Stroke(line=Line.THROUGH, segments=straight([(0, 0), (1, 0), (1, 1)]))], [], "open line on THROUGH"),
        ([], [Text(line=Line.MARK, at=(0, 0), text="A", height_mm=3)], "text 'A' on MARK"),
    ],
)
def test_what_a_machine_would_mistake_is_refused(strokes, texts, message):
    drawing = Drawing(name="x", width_mm=10, height_mm=10, strokes=tuple(strokes), texts=tuple(texts))
    with pytest.raises(ValueError, match=message):
        list(layers(drawing))


def test_an_empty_text_makes_no_layer():
    blank = Text(line=Line.LETTERING, at=(0, 0), text="  ", height_mm=3)
    assert not list(layers(Drawing(name="x", width_mm=10, height_mm=10, strokes=(), texts=(blank,))))


@given(x0=COORDINATES, y0=COORDINATES, x1=COORDINATES, y1=COORDINATES, bulge=BULGES)
def test_the_box_of_a_segment_is_the_box_of_its_points(x0, y0, x1, y1, bulge):
    segment = Segment((x0, y0), (x1, y1), bulge)
    if math.dist(segment.start, segment.end) < 0.01 or 0 < abs(bulge) < 1e-6:
        return
    points = [segment.start, *segment.points(0.001)]
    box = segment_box(segment)
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    assert box == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=0.002)


def test_the_box_of_a_turned_text():
    flat = text_box(Text(line=Line.NOTES, at=(10, 10), text="HHH", height_mm=4))
    up = text_box(Text(line=Line.NOTES, at=(10, 10), text="HHH", height_mm=4, turn_deg=90))
    assert flat[0] == 10
    assert flat[3] == 14
    assert up[3] - up[1] == pytest.approx(flat[2] - flat[0])
    assert up[0] == pytest.approx(6)
    end = text_box(Text(line=Line.NOTES, at=(10, 10), text="HHH", height_mm=4, align=Align.RIGHT))
    assert end[2] == pytest.approx(10)


def test_the_box_of_a_drawing_takes_in_the_notes():
    assert drawing_box(sheet()) == (0, 0, 420, 200)


@given(
    radius=st.floats(0.1, 5000),
    start_deg=st.floats(0, 360),
    swept_deg=st.one_of(st.floats(-180, -0.01), st.floats(0.01, 180), st.just(180.0)),
)
def test_curves_stay_on_their_arc(radius, start_deg, swept_deg):
    """Radius of the Bezier curves at 33 places, against the circle: within a thousandth of a mm."""
    a, swept = math.radians(start_deg), math.radians(swept_deg)
    segment = Segment(
        (radius * math.cos(a), radius * math.sin(a)),
        (radius * math.cos(a + swept), radius * math.sin(a + swept)),
        math.tan(swept / 4),
    )
    at = segment.start
    for first, second, end in curves(segment):
        for step in range(33):
            t = step / 32
            weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
            x, y = (
                sum(w * p[i] for w, p in zip(weights, (at, first, second, end), strict=True)) for i in (0, 1)
            )
            assert math.hypot(x, y) == pytest.approx(radius, abs=1.1 * OFF_MM)
        at = end
    assert at == segment.end
