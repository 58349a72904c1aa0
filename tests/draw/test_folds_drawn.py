"""Folds and bevelled edges are drawn by kind and face, and their words stand beside them or are told."""

import itertools

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.draw.foldwords import bevel_words, fold_code, fold_words
from foamcut.draw.part import PRICK_RADIUS_MM, left_out, part_lines, stroke_shape
from foamcut.draw.pricks import prick_points
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line
from foamcut.draw.words import facts_words, text_box
from foamcut.draw.worked import BACK_LINES
from foamcut.flat.drawn import FoldAt, FoldKind, Side
from foamcut.flat.outline import Outline, Segment, straight
from tests.draw.drawn_parts import ON_THE_RIGHT, TITLE, part, slot
from tests.draw.folded_parts import CUTS, drawn_fold, folded, lower_bevel, plate
from tests.draw.page_checks import crowded

EVERY = list(itertools.product(FoldKind, Side))


def drawn(p, template=False):
    return part_lines(p, TITLE, number=7, template=template, thicknesses={})


def lines(p, *kinds, template=False):
    return [s for s in drawn(p, template)[0] if s.line in kinds]


def said(p) -> list[str]:
    return [text.text for text in drawn(p)[1]]


def lost(p) -> tuple[str, ...]:
    return left_out(p, TITLE, number=7, thicknesses={}).words


@pytest.mark.parametrize(("kind", "side"), EVERY)
def test_a_fold_is_cut_on_the_layers_of_its_face(kind, side):
    """The table of folds: score and roll HALF, groove GROOVE, wrap LIFT, hinge HALF and BEVEL; down: BACK."""
    used = {s.line for s in drawn(plate(kind, side))[0]}
    front, back = CUTS[kind]
    worked = {line for line in used if STYLES[line].cut} - {Line.THROUGH}
    assert worked == (back if side is Side.DOWN else front)


def test_a_groove_is_two_lines_and_its_fold_between_them():
    """2 t tan 45 degrees = 10 mm apart (arithmetic: trigonometry), from edge to edge."""
    p = plate(FoldKind.GROOVE)
    xs = [sorted(stroke_shape(s).bounds[0] for s in lines(p, kind)) for kind in (Line.GROOVE, Line.FOLD_UP)]
    assert xs[0] == pytest.approx([145, 155]) and xs[1] == pytest.approx([150])
    assert all(stroke_shape(s).length == pytest.approx(160) for s in lines(p, Line.GROOVE, Line.FOLD_UP))


@pytest.mark.parametrize(
    ("kind", "side", "line", "words"),
    [
        (FoldKind.GROOVE, Side.UP, Line.FOLD_UP, "groove, fold 90 deg towards you"),
        (FoldKind.GROOVE, Side.DOWN, Line.FOLD_DOWN, "groove from the back, fold 90 deg away from you"),
        (FoldKind.WRAP, Side.UP, Line.FOLD_UP, "wrap: lift out 5 mm, fold 90 deg towards you at FU"),
        (
            FoldKind.WRAP,
            Side.DOWN,
            Line.FOLD_DOWN,
            "wrap: lift out 5 mm from the back, fold 90 deg away from you at FD",
        ),
        (
            FoldKind.STRIP,
            Side.UP,
            Line.FOLD_UP,
            "strip: lift out 12 mm, fold 90 deg towards you at both edges",
        ),
    ],
)
def test_the_paper_turns_to_the_cut_face(kind, side, line, words):
    """Cut on the drawn face it comes up; cut behind it goes down, as seen on the drawn face."""
    p = plate(kind, side)
    assert {s.line for s in lines(p, Line.FOLD_UP, Line.FOLD_DOWN)} == {line}
    assert words in said(p)


@pytest.mark.parametrize("fold_at", FoldAt)
@pytest.mark.parametrize("side", Side)
def test_the_edge_at_which_a_wrap_turns_has_its_letter(fold_at, side):
    """FU or FD stands outside the strip, beside the edge with the ticks."""
    outline = Outline.rectangle(0, 0, 300, 160)
    p = folded(outline, drawn_fold(FoldKind.WRAP, (150, -1), (150, 161), side=side, fold_at=fold_at))
    strokes, texts = drawn(p)
    (letter,) = (text_box(t).bounds for t in texts if t.text in ("FU", "FD"))
    ticks = {round(stroke_shape(s).centroid.x) for s in strokes if s.line in (Line.FOLD_UP, Line.FOLD_DOWN)}
    if fold_at is FoldAt.FAR:  # the left of the upward line: x = 145
        assert ticks == {145} and 143 < letter[2] < 145
    else:
        assert ticks == {150} and 150 < letter[0] < 152


@pytest.mark.parametrize(("far", "left", "right"), [(None, "FU", "FU"), (60.0, "FU 60", "FU 90")])
def test_both_edges_of_a_strip_have_their_letter(far, left, right):
    """Outside the strip, beside the ticks; with the angle where the two edges turn by different ones."""
    outline = Outline.rectangle(0, 0, 300, 160)
    p = folded(outline, drawn_fold(FoldKind.STRIP, (150, -1), (150, 161), far_turn_deg=far))
    strokes, texts = drawn(p)
    ticks = sorted(round(stroke_shape(s).centroid.x) for s in strokes if s.line is Line.FOLD_UP)
    assert ticks == [138, 138, 150, 150]  # the left of the upward line: x = 138
    letters = sorted((text_box(t).bounds, t.text) for t in texts if t.text.startswith("FU"))
    ((left_box, left_text), (right_box, right_text)) = letters
    assert (left_text, right_text) == (left, right)
    assert 136 < left_box[2] < 138 and 150 < right_box[0] < 152


def test_a_strip_that_turns_by_two_angles_tells_both():
    p = plate(FoldKind.STRIP, Side.DOWN, far_turn_deg=120.0)
    words = "strip: lift out 12 mm from the back, fold 90 and 120 deg away from you, at FD 90 and FD 120"
    assert words in said(p)
    assert fold_code(p.folds[0]) == "LB 90 + 120 FD"
    assert fold_code(plate(FoldKind.STRIP).folds[0]) == "L 90 + 90 FU"


@pytest.mark.parametrize(("side", "way"), [(Side.UP, "away from"), (Side.DOWN, "towards")])
def test_a_score_opens(side, way):
    """Folded away from the face that is cut, so that the cut gapes."""
    back = " from the back" if side is Side.DOWN else ""
    assert f"score{back}, fold 30 deg {way} you" in said(plate(FoldKind.SCORE, side, turn_deg=30.0))


def test_a_roll_tells_its_scores_and_radius():
    """30 mm through 90 degrees is 47.1 mm of outer paper, at most 5 mm apart: 11 scores (arithmetic)."""
    p = plate(FoldKind.ROLL)
    assert len(lines(p, Line.HALF)) == 11
    assert "11 scores, roll 90 deg towards you, outer R 30 mm" in said(p)


def test_a_score_parted_by_a_hole_is_one_score():
    (body,) = Outline.rectangle(0, 0, 300, 160).minus(Outline.circle(170, 80, 40))
    p = folded(body, drawn_fold(FoldKind.ROLL, (150, -1), (150, 161)))
    assert len(lines(p, Line.HALF)) > 11
    assert fold_words(p.folds[0]).startswith("11 scores, ")


def test_a_hinge_tells_its_bevel():
    assert "hinge, bevel 40 deg" in said(plate(FoldKind.HINGE, turn_deg=0.0))
    assert "hinge from the back, bevel 40 deg, turn 25 deg away from you" in said(
        plate(FoldKind.HINGE, Side.DOWN, turn_deg=25.0)
    )


@pytest.mark.parametrize(("back", "line"), [(False, Line.BEVEL), (True, Line.BEVEL_BACK)])
def test_a_bevelled_edge(back, line):
    """Where the slope meets the face that loses by it: t tan 45 degrees inside the edge."""
    p = part(Outline.rectangle(0, 0, 200, 100), bevels=(lower_bevel(200, back=back),))
    (stroke,) = lines(p, line)
    assert stroke_shape(stroke).bounds == pytest.approx((0, 5, 200, 5))
    assert f"bevel 45 deg{' from the back' if back else ''}" in said(p)


@pytest.mark.parametrize(("kind", "side"), EVERY)
def test_words_of_a_fold_stand_beside_it(kind, side):
    """Clear of every line, and nearer to what is worked than 3 mm."""
    p = plate(kind, side)
    strokes, texts = drawn(p, template=True)
    words = text_box(next(t for t in texts if t.text == fold_words(p.folds[0])))
    every = shapely.union_all([stroke_shape(s) for s in strokes])
    cuts = shapely.union_all([stroke_shape(s) for s in strokes if STYLES[s.line].cut and not s.closed])
    assert not every.intersects(words) and words.distance(cuts) < 3
    assert not crowded(texts) and not lost(p)


@pytest.mark.parametrize("kind", FoldKind)
def test_lines_cut_from_the_back_are_pricked_on_templates(kind):
    """Each keeps its style; both its ends have a circle 3 mm before the edge, on the line."""
    p = plate(kind, Side.DOWN)
    cuts = lines(p, *BACK_LINES, template=True)
    assert cuts and cuts == lines(p, *BACK_LINES)
    circles = [stroke_shape(s).envelope.centroid for s in lines(p, Line.MARK_BACK, template=True)]
    assert len(circles) == 2 * len(cuts) and not lines(p, Line.MARK_BACK)
    for cut in map(stroke_shape, cuts):
        near = [c for c in circles if cut.distance(c) < 1e-6]
        assert sorted(round(c.y, 6) for c in near) == [3, 157]
    assert PRICK_RADIUS_MM < 1


def test_an_end_off_the_edge_is_pricked_where_it_is():
    """A bevel mitred at a corner ends inside the part."""
    edge = shapely.box(0, 0, 100, 50).boundary
    run = straight([(5, 5), (95, 5), (95, 50)])
    assert prick_points([run], edge) == ((5, 5), (95, 5), (95, 47))


def test_a_curve_is_pricked_near_enough_to_be_drawn_by_eye():
    """A quarter of a circle of radius 100 mm: neighbours 15 to 25 mm apart."""
    arc = Segment((100.0, 0.0), (0.0, 100.0), 2**0.5 - 1)
    points = prick_points([(arc,)], shapely.box(-500, -500, 500, 500).boundary)
    gaps = [shapely.Point(a).distance(shapely.Point(b)) for a, b in itertools.pairwise(points)]
    assert points[0] == (100.0, 0.0) and points[-1] == pytest.approx((0.0, 100.0))
    assert 14 < max(gaps) < 25 and len(points) > 6


def test_without_room_for_words_letters_stand_and_the_words_are_told():
    """Letters of the legend, the angle, the way: G 90 FU."""
    p = plate(FoldKind.GROOVE, size=(36.0, 22.0))
    assert "G 90 FU" in said(p)
    assert lost(p)[0] == "G 90 FU: groove, fold 90 deg towards you"
    assert STYLES[Line.GROOVE].letter == "G" and STYLES[Line.FOLD_UP].letter == "FU"


@pytest.mark.parametrize(("kind", "side"), EVERY)
@given(st.floats(4, 120), st.floats(4, 120))
@settings(max_examples=8)
def test_words_of_folds_are_never_lost(kind, side, width, height):
    """Beside the fold, or told elsewhere; whatever the size of the part."""
    p = plate(kind, side, size=(width + 60, height), turn_deg=80.0)
    words = fold_words(p.folds[0])
    told = [w for w in lost(p) if w.endswith(words)]
    assert (words in said(p)) != bool(told)


@given(st.integers(1, 14), st.floats(20, 120), st.sampled_from(Side))
@settings(max_examples=8)
def test_many_folds_keep_their_words_apart(count, height, side):
    step = 400 / (count + 1)
    folds = [
        drawn_fold(FoldKind.SCORE, (step * i, -1), (step * i, height + 1), 10.0 + i, side)
        for i in range(1, count + 1)
    ]
    p = folded(Outline.rectangle(0, 0, 400, height), *folds, place=ON_THE_RIGHT)
    strokes, texts = drawn(p, template=True)
    assert not crowded(texts)
    every = shapely.union_all([stroke_shape(s) for s in strokes])
    assert not any(every.intersects(text_box(t)) for t in texts)
    for fold in p.folds:
        assert fold_words(fold) in said(p) or any(w.endswith(fold_words(fold)) for w in lost(p))


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("base", [-10.0, -150.0, -290.0])
def test_arrows_stand_on_the_panel_that_they_hold_for(base, side):
    """The place is said of the panel that holds (0, 0), one of three."""
    folds = [drawn_fold(FoldKind.GROOVE, (base + x, -1), (base + x, 161), side=side) for x in (100.0, 200.0)]
    p = folded(Outline.rectangle(base, 0, base + 300, 160), *folds, place=ON_THE_RIGHT)
    strokes, texts = drawn(p)
    arrows = [stroke_shape(s).bounds for s in strokes if s.line is Line.MARK]
    words = [text_box(t).bounds for t in texts if t.text in ("FRONT", "UP")]
    edges = [base, base + 95, base + 105, base + 195, base + 205, base + 300]
    left = max(x for x in edges[::2] if x <= 0)
    assert len(arrows) == 4 and len(words) == 2
    for x0, _, x1, _ in (*arrows, *words):
        assert left <= x0 and x1 <= min(x for x in edges[1::2] if x > 0)


def test_two_ways_without_room_are_both_told():
    """Bevels on a sliver: words are told once each."""
    front, back = lower_bevel(12, angle_deg=20), lower_bevel(12, back=True, angle_deg=30)
    p = part(Outline.rectangle(0, 0, 12, 7), bevels=(front, back, front))
    assert lost(p) == ("B 20: bevel 20 deg", "BB 30: bevel 30 deg from the back")
    assert bevel_words(back) in lost(p)[1]


def test_facts_without_what_was_left_out_tell_every_fold():
    p = folded(
        Outline.rectangle(0, 0, 300, 160),
        drawn_fold(FoldKind.GROOVE, (100, -1), (100, 161)),
        drawn_fold(FoldKind.GROOVE, (200, 161), (200, -1)),
        slots=(slot(150, 80, 40),),
        bevels=(lower_bevel(300),),
    )
    told = facts_words(p, TITLE, 1)[-1]
    assert told == "slot takes ply; groove, fold 90 deg towards you; bevel 45 deg"


def test_a_groove_cut_wider_than_it_folds_says_its_angle():
    """Folded by 45 degrees with 10 more: a V of 55; without more its angle is that of the fold."""
    for extra, said, code in (
        (10.0, "groove, V of 55 deg, fold 45 deg", "G 45 V 55 FU"),
        (0.0, "groove, fold 45 deg", "G 45 FU"),
    ):
        p = plate(FoldKind.GROOVE, turn_deg=45.0, groove_extra_deg=extra)
        assert fold_words(p.folds[0]) == f"{said} towards you"
        assert fold_code(p.folds[0]) == code


@pytest.mark.parametrize(("kind", "side"), EVERY)
def test_no_two_cut_lines_lie_on_each_other(kind, side):
    p = plate(kind, side)
    cuts = [stroke_shape(s) for s in drawn(p, template=True)[0] if STYLES[s.line].cut]
    for a, b in itertools.combinations(cuts, 2):
        assert a.intersection(b).length < 1e-6
