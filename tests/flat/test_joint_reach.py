"""How far doublers reach: off clear marks, in thicknesses, on which face; what is said where they do not.

Numbers are *arithmetic* on the parts drawn here, unless a test says otherwise.
"""

from dataclasses import replace
from statistics import median

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, box

from foamcut.errors import Refused
from foamcut.findings import Level
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Doubling, Face, Hand, JointLine, KeepClear, Turns
from foamcut.flat.joint import Role, ways
from tests.flat.joined_parts import hold, of_role
from tests.nest.making import stock
from tests.strategies import KEY, hole, mark, panel, rectangle

BOARD = stock((700, 500), (500, 350), margin=3.0)


def across(i, x, height=80.0):
    """A clear line from edge to edge: with the inset of 5 mm it bars 5 mm to each side."""
    return mark(i, "line", (x, -1), (x, height + 1), clear=True)


def at(i, x=None, y=None, hand=Hand.NONE):
    return JointLine(key=f"{KEY}.joints[{i}]", x_mm=x, y_mm=y, hand=hand)


def over(overlap, stock="board", thickness=5.0):
    return Doubling(
        key=f"{KEY}.doubler", stock=stock, thickness_mm=thickness, overlap_mm=overlap, inset_mm=5.0,
        taper_mm=overlap / 2,
    )  # fmt: skip


def joined(drawn, number=0, board=BOARD):
    part = build_part(drawn)[0][number]
    way = ways(part, board, most=1)[0]
    hold(part, way, board)
    return way


def refused(drawn, number=0, board=BOARD):
    part = build_part(drawn)[0][number]
    with pytest.raises(Refused) as caught:
        ways(part, board, most=1)
    return {refusal.key: refusal.text for refusal in caught.value.refusals}


def xs(way):
    return [joint.x_mm for joint in way.joints]


def told(way, code):
    return [finding for finding in way.findings if finding.code == code]


# where lines lie


def test_lines_keep_an_overlap_and_the_inset_off_clear_marks():
    """Between marks at 440 and 460 a doubler would reach 5 mm: the line goes to 460 + 5 + 50."""
    way = joined(panel(rectangle(900, 80), marks=(across(0, 440), across(1, 460))))
    assert xs(way) == pytest.approx([515], abs=0.01)
    assert told(way, "joint-short") == []
    (doubler,) = of_role(way, Role.DOUBLER)
    assert doubler.outline.bounds[2] - doubler.outline.bounds[0] == pytest.approx(100)


def test_both_hands_of_a_pair_keep_off_and_apart():
    drawn = panel(rectangle(900, 80), pair=Hand.RIGHT, marks=(across(0, 430),))
    assert xs(joined(drawn, 0)) + xs(joined(drawn, 1)) == pytest.approx([485, 585], abs=0.02)


def test_a_clear_mark_along_the_part_is_crossed():
    """The tape of a spar: doublers lie on both sides of it and reach as far as without it."""
    tape = mark(0, "tape", (-1, 40), (901, 40), width_mm=6.0, clear=True)
    way = joined(panel(rectangle(900, 80), marks=(tape,)))
    assert (xs(way), told(way, "joint-short")) == ([450.0], [])
    assert len(of_role(way, Role.DOUBLER)) == 2


def test_a_bite_out_of_less_than_half_of_a_doubler_does_not_move_the_line():
    circle = mark(0, "circle", (470, 40), diameter_mm=10.0, clear=True)
    assert xs(joined(panel(rectangle(900, 80), marks=(circle,)))) == [450.0]


def test_where_no_line_has_its_whole_overlap_the_widest_reach_is_taken():
    """Marks 100 mm apart leave 45 to each side midway; 90 and 110 apart are better or worse."""
    marks = [across(i, x) for i, x in enumerate((250, 350, 440, 550, 640))]
    way = joined(panel(rectangle(900, 80), marks=tuple(marks)))
    assert xs(way) == pytest.approx([495], abs=0.01)
    assert told(way, "joint-short") == []
    marks[3] = across(3, 548)
    way = joined(panel(rectangle(900, 80), marks=tuple(marks)))
    assert xs(way) == pytest.approx([494], abs=0.01)
    (finding,) = told(way, "joint-short")
    assert (finding.level, finding.where) == (Level.WARNING, KEY)
    assert float(finding.value.removesuffix(" mm")) == pytest.approx(49, abs=0.02)
    assert finding.range == "50 mm, the overlap"
    assert finding.text.endswith("instead of 50 mm, as they keep off marks[2], marks[3]")


def test_reach_comes_before_joints_that_are_apart():
    """Only from 495 to 525 is the overlap whole: both hands are joined there, and told of."""
    marks = tuple(across(i, x) for i, x in enumerate((250, 340, 440, 580, 650)))
    drawn = panel(rectangle(900, 80), pair=Hand.RIGHT, marks=marks)
    right, left = joined(drawn, 0), joined(drawn, 1)
    for way in (right, left):
        assert all(494.99 <= x <= 525.01 for x in xs(way))
        assert told(way, "joint-short") == []
    assert len(told(left, "joints-not-staggered")) == 1


def test_fewest_sections_come_before_reach():
    """One line would have to lie from 406 to 494, between marks; two could lie far off all of them."""
    marks = tuple(across(i, x) for i, x in enumerate((405, 495)))
    way = joined(panel(rectangle(1100, 80), marks=marks, keep_clear=(KeepClear(key="k", x_mm=(500, 700)),)))
    assert xs(way) == pytest.approx([450], abs=0.01)
    assert told(way, "joint-short")[0].value.startswith("40")


# what is said and refused


def test_less_than_half_of_the_overlap_is_refused_with_what_is_in_the_way():
    marks = (across(0, 440), across(1, 478))
    found = refused(panel(rectangle(900, 80), marks=marks, joint_lines=(at(0, x=459.0),)))
    assert list(found) == [f"{KEY}.joints[0]"]
    text = found[f"{KEY}.joints[0]"]
    assert text.startswith("the doublers over the joint at x = 459 mm reach 14 mm to a side along most of it, less than")
    assert "half of the overlap of 50 mm, as they keep off marks[0], marks[1]; move the joint" in text


@pytest.mark.parametrize(("off", "reach"), [(30.1, 25.1), (40, 35), (54.9, 49.9)])
def test_half_of_the_overlap_and_more_is_told(off, reach):
    drawn = panel(rectangle(900, 80), marks=(across(0, 450 + off),), joint_lines=(at(0, x=450.0),))
    (finding,) = told(joined(drawn), "joint-short")
    assert finding.where == f"{KEY}.joints[0]"
    assert float(finding.value.removesuffix(" mm")) == pytest.approx(reach, abs=0.02)
    nearer = replace(drawn, marks=(across(0, 450 + 29.9),))
    assert f"{KEY}.joints[0]" in refused(nearer)


def test_where_every_line_reaches_too_little_the_part_is_refused():
    marks = tuple(across(i, 40 * i) for i in range(1, 23))
    text = refused(panel(rectangle(900, 80), marks=marks))[KEY]
    assert "reach 15 mm to a side along most of it, less than half of the overlap of 50 mm" in text


@pytest.mark.parametrize(
    "beside",
    [
        mark(0, "line", (458, -10), (520, 160), clear=True),
        mark(0, "circle", (530, 75), diameter_mm=100.0, clear=True),
        mark(0, "tape", (380, -10), (438, 200), width_mm=12.0, clear=True),
    ],
)
def test_the_reach_is_that_of_half_of_all_rays(beside):
    """Rays square to the joint from 4000 places of what is covered: their median is the reach that is told."""
    way = joined(panel(rectangle(900, 150), marks=(beside,), joint_lines=(at(0, x=450.0),)))
    shapes = [piece.outline.polygon for piece in of_role(way, Role.DOUBLER)]
    if beside.kind == "circle":
        barred = Point(beside.points[0]).buffer(beside.diameter_mm / 2 + 5.0, quad_segs=256)
    else:
        barred = LineString(beside.points).buffer((beside.width_mm or 0.0) / 2 + 5.0, cap_style="flat")
    reaches = []
    for shape in shapes:
        _, low, _, high = shape.intersection(LineString([(450, -1), (450, 151)])).bounds
        for i in range(4000):
            y = low + (high - low) * (i + 0.5) / 4000
            hit = barred.intersection(LineString([(400, y), (500, y)]))
            reaches.append(50.0 if hit.is_empty else hit.distance(box(450, y, 450.000001, y + 1e-6)))
    (finding,) = told(way, "joint-short")
    assert len(shapes) == 1
    assert float(finding.value.removesuffix(" mm")) == pytest.approx(median(reaches), abs=0.1)


def test_an_overlap_below_8_thicknesses_is_told():
    """*Common practice, no source*: 8 to 12 thicknesses of the board to each side."""
    (finding,) = told(joined(panel(rectangle(900, 80), doubling=over(39.0))), "joint-short")
    assert (finding.level, finding.where) == (Level.WARNING, f"{KEY}.doubler.overlap")
    assert (finding.value, finding.range) == ("39 mm", "8 to 12 thicknesses, 40 to 60 mm")
    assert "7.8 thicknesses of the board" in finding.text
    assert finding.source == "common practice, no source"
    assert told(joined(panel(rectangle(900, 80), doubling=over(40.0))), "joint-short") == []


def test_a_doubler_on_an_outer_face_is_noted():
    for face in (Face.INNER, Face.EITHER):
        assert told(joined(panel(rectangle(900, 80), face=face)), "doubler-outside") == []
    (finding,) = told(joined(panel(rectangle(900, 80), face=Face.OUTER)), "doubler-outside")
    assert (finding.level, finding.where, finding.value) == (Level.NOTE, KEY, "5 mm")
    assert "stand 5 mm proud on the outside" in finding.text


def test_a_part_that_cannot_be_joined_is_told_its_angle():
    """800 x 15 mm lies across 694 x 494 mm, 860 x 15 mm does not (its diagonal is 852 mm)."""
    text = refused(panel(rectangle(800, 15)))[KEY]
    assert "cover 5 of its 15 mm" in text
    assert 'degrees it would lie whole: give it turns = "any"' in text
    assert "degrees" not in refused(panel(rectangle(860, 15)))[KEY]
    (part,) = build_part(panel(rectangle(800, 15), turns=Turns.ANY))[0]
    assert len(ways(part, BOARD)[0].pieces) == 1
    holes = tuple(hole(i, (40 + 80 * i, 20), 10) for i in range(10))
    assert "degrees it would lie whole" in refused(panel(rectangle(790, 40), cutouts=holes))[KEY]


def test_an_overlap_too_long_for_the_sections_is_refused_at_its_key():
    found = refused(panel(rectangle(900, 80), doubling=over(300.0)))
    assert list(found) == [f"{KEY}.doubler.overlap"]
    assert f"shorten the overlap ({KEY}.doubler.overlap)" in found[f"{KEY}.doubler.overlap"]
    assert list(refused(panel(rectangle(600, 50)), board=stock((100, 90)))) == [KEY]
    kept = (KeepClear(key="k", x_mm=(400, 500)),)
    assert joined(panel(rectangle(900, 80), keep_clear=kept)).joints
    assert list(refused(panel(rectangle(900, 80), keep_clear=kept, doubling=over(200.0)))) == [f"{KEY}.doubler.overlap"]


# letters


def test_letters_begin_after_those_that_are_taken():
    lines = (at(0, x=350.0), at(1, x=650.0))
    (part,) = build_part(panel(rectangle(1000, 60), joint_lines=lines))[0]
    way = ways(part, BOARD, letters_from=25)[0]
    hold(part, way, BOARD)
    assert [joint.letters for joint in way.joints] == [("Z",), ("AA",)]
    assert [piece.suffix for piece in of_role(way, Role.DOUBLER)] == ["doubler-z", "doubler-aa"]
    assert [piece.flat.name for piece in of_role(way, Role.DOUBLER)] == ["panel-doubler-z", "panel-doubler-aa"]
    assert "joined by doublers Z (100 x 50 mm), AA (100 x 50 mm)" in told(way, "joined")[0].text


@pytest.mark.parametrize("lines", [(), (at(0, x=430.0), at(1, x=600.0, hand=Hand.LEFT))])
def test_letters_of_a_left_hand_are_its_own(lines):
    """The program looks at the right-hand one's lines for it, and takes no letters for that."""
    _, left = build_part(panel(rectangle(1000, 60), pair=Hand.RIGHT, joint_lines=lines))[0]
    letters = [letter for joint in ways(left, BOARD, letters_from=3)[0].joints for letter in joint.letters]
    assert letters == ["D", "E"][: len(letters)] and letters


# coordinates of the drawing


@pytest.mark.parametrize("drawn_hand", [Hand.RIGHT, Hand.LEFT])
def test_lines_at_y_are_those_of_the_drawing(drawn_hand):
    """On the mirror image they lie at -y, and are told as drawn."""
    lines = (at(0, y=480, hand=Hand.LEFT), at(1, y=620, hand=Hand.RIGHT))
    drawn = panel(rectangle(60, 1000), pair=drawn_hand, joint_lines=lines)
    for number, hand, y in ((0, Hand.RIGHT, 620), (1, Hand.LEFT, 480)):
        way = joined(drawn, number)
        (joint,) = way.joints
        mirror_image = hand is not drawn_hand
        assert (joint.y_mm, joint.mirror_image) == (-y if mirror_image else y, mirror_image)
        assert f"cut at y = {y} mm{' of the drawing' * mirror_image} into" in told(way, "joined")[0].text


@pytest.mark.parametrize("number", [0, 1])
def test_lines_at_y_are_refused_as_drawn(number):
    wrong = panel(rectangle(60, 1000), pair=Hand.RIGHT, joint_lines=(at(0, y=-480),))
    assert refused(wrong, number) == {
        f"{KEY}.joints[0]": "the joint line at y = -480 mm does not cross the part (y from 0 to 1000); move it"
    }
    near = panel(rectangle(60, 1000), pair=Hand.RIGHT, cutouts=(hole(0, (30, 500), 20),), joint_lines=(at(0, y=470),))
    text = refused(near, number)[f"{KEY}.joints[0]"]
    assert "at y = 470 mm is 20 mm from the cutout at 30, 500 (y 490 to 510)" in text
    assert "move it to 440 or less, or to 560 or more" in text
    short = panel(rectangle(60, 1000), pair=Hand.RIGHT, joint_lines=(at(0, y=100),))
    part = build_part(short)[0][number]
    with pytest.raises(Refused) as caught:
        ways(part, BOARD)
    assert caught.value.refusals[0].text.startswith("the section from y = 0 to 100 mm is 100 mm long")


@pytest.mark.parametrize("number", [0, 1])
def test_doublers_over_lines_at_y_are_refused_as_drawn(number):
    """Of two lines the one that a clear mark lies beside, whichever comes first in the mirror."""
    beside = mark(0, "line", (-1, 720), (61, 720), clear=True)
    drawn = panel(rectangle(60, 1000), pair=Hand.RIGHT, marks=(beside,), joint_lines=(at(0, y=350), at(1, y=700)))
    found = refused(drawn, number)
    assert list(found) == [f"{KEY}.joints[1]"]
    assert "the joint at y = 700 mm reach 15 mm" in found[f"{KEY}.joints[1]"]


def test_what_is_kept_clear_at_y_is_mirrored():
    drawn = panel(rectangle(60, 1000), pair=Hand.RIGHT, keep_clear=(KeepClear(key="k", y_mm=(380.0, 1000.0)),))
    (right,), (left,) = joined(drawn, 0).joints, joined(drawn, 1).joints
    assert right.y_mm <= 330
    assert left.y_mm >= -330
    slots = replace(drawn, keep_clear=(KeepClear(key=f"{KEY}.keep_clear[0]", y_mm=(100.0, 900.0)),))
    for number in (0, 1):
        assert "keep_clear[0] (y 100 to 900)" in refused(slots, number)[KEY]


@settings(max_examples=40)
@given(marks=st.lists(st.integers(150, 750), min_size=1, max_size=7, unique=True), hand=st.sampled_from([Hand.NONE, Hand.RIGHT]))
def test_no_line_on_a_grid_reaches_farther(marks, hand):
    """Of a strip in two sections every line at whole mm is tried: it reaches as far as the nearest mark lets it."""
    drawn = panel(rectangle(900, 60), pair=hand, marks=tuple(across(i, x, 60.0) for i, x in enumerate(marks)))
    due = max(min(50, *(abs(x - at) - 5 for at in marks)) for x in range(206, 695))
    for part in build_part(drawn)[0]:
        try:
            way = ways(part, BOARD, most=1)[0]
        except Refused:
            assert due <= 25
            continue
        if len(way.joints) == 1:
            (x,) = xs(way)
            assert min(50, *(abs(x - at) - 5 for at in marks)) >= due - 0.01
            assert bool(told(way, "joint-short")) == (due < 50)
        else:
            assert due <= 25
