"""Ways to cut: whole, or along the best joint lines, or along the builder's."""

import re
from dataclasses import replace

import pytest

from foamcut.errors import Refused
from foamcut.findings import Level
from foamcut.flat.build import build_part
from foamcut.flat.drawn import (
    Disc,
    Doubling,
    DrawnFold,
    Face,
    FoldKind,
    Grain,
    Hand,
    JointLine,
    KeepClear,
    Label,
    Place,
    Turns,
)
from foamcut.flat.joint import MOST_WAYS, Joint, Role, ways
from foamcut.flat.joint_mark import JointMark
from foamcut.flat.outline import Outline
from foamcut.flat.stock import Offcut
from tests.flat.joined_parts import hold, of_role
from tests.nest.making import stock
from tests.strategies import KEY, hole, mark, panel, readings, rectangle, slot, tab

BOARD = stock((700, 500), (500, 350), margin=3.0)
AFT = Place(key=f"{KEY}.place", at=(0, 0, 0), x=(1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0))
FORE = Place(key=f"{KEY}.place", at=(0, 0, 0), x=(-1.0, 0.0, 0.0), y=(0.0, 0.0, 1.0))

#: the right side of a trainer's body, 864 x 84 mm: between two formers no joint under the wing
SIDE = panel(
    readings(
        (0, 12), (48, 0), (384, 12), (864, 36), (864, 66), (444, 84), (444, 50.4), (240, 54), (240, 84), (24, 84)
    ),
    pair=Hand.RIGHT,
    slots=(slot(0, (60, 42), 24, 90), slot(1, (228, 36), 24, 90), slot(2, (456, 42), 24, 90)),
    keep_clear=(KeepClear(key=f"{KEY}.keep_clear[0]", x_mm=(216.0, 468.0)),),
    place=AFT,
)


def parts_of(drawn):
    return build_part(drawn)[0]


def ways_of(drawn, board=BOARD, **more):
    (part,) = parts_of(drawn)
    return ways(part, board, **({"most": 3} | more))


def xs(way):
    return [joint.x_mm for joint in way.joints if joint.x_mm is not None]


def ys(way):
    return [joint.y_mm for joint in way.joints if joint.y_mm is not None]


def codes(way):
    return [finding.code for finding in way.findings]


def line(i, x=None, y=None, hand=Hand.NONE):
    return JointLine(key=f"{KEY}.joints[{i}]", x_mm=x, y_mm=y, hand=hand)


def narrow(overlap=20.0, inset=5.0, **more):
    values = {"stock": "board", "thickness_mm": 5.0, "taper_mm": overlap / 2} | more
    return Doubling(key=f"{KEY}.doubler", overlap_mm=overlap, inset_mm=inset, **values)


def refused(drawn, board=BOARD, **more):
    with pytest.raises(Refused) as caught:
        ways_of(drawn, board, **more)
    return {refusal.key: refusal.text for refusal in caught.value.refusals}


# whole or not


def test_a_part_that_fits_is_left_whole():
    (way,) = ways_of(panel(rectangle(694, 494)))
    assert [piece.role for piece in way.pieces] == [Role.WHOLE]
    assert (way.joints, way.findings) == ((), ())


def test_a_nanometre_too_long_is_joined():
    (part,) = parts_of(panel(rectangle(694.000001, 494)))
    way = ways(part, BOARD, most=2)[0]
    assert len(of_role(way, Role.SECTION)) == 2
    hold(part, way, BOARD)


def test_a_quarter_turn_is_made_before_a_joint():
    assert len(ways_of(panel(rectangle(494, 694)))[0].pieces) == 1
    assert len(ways_of(panel(rectangle(494, 694), turns=Turns.HALF))[0].pieces) > 1
    grained = stock((700, 500), (500, 350), margin=3.0, grain=Grain.X)
    assert len(ways_of(panel(rectangle(494, 694), grain=Grain.X), grained)[0].pieces) > 1
    assert len(ways_of(panel(rectangle(494, 694), grain=Grain.Y), grained)[0].pieces) == 1


def test_where_every_angle_is_allowed_a_part_lies_askew():
    """730 x 20 mm lies across 694 x 494 mm."""
    assert len(ways_of(panel(rectangle(730, 20), turns=Turns.ANY))[0].pieces) == 1
    way = ways_of(panel(rectangle(730, 20)))[0]
    (finding,) = [f for f in way.findings if f.code == "whole-at-an-angle"]
    assert finding.level is Level.NOTE
    assert finding.where == KEY
    assert re.match(r"turned by [\d.]+ degrees, panel would lie whole", finding.text)
    assert finding.mend == 'to have it whole: give it turns = "any"'


def test_the_side_of_a_trainer_fits_at_no_angle():
    right, _ = parts_of(SIDE)
    way = ways(right, BOARD)[0]
    assert codes(way) == ["joined"]
    loose = replace(right, turns=Turns.ANY)
    assert len(of_role(ways(loose, BOARD)[0], Role.SECTION)) == 2


def test_offcuts_count_when_they_hold_every_copy():
    offcut = (Outline.rectangle(0, 0, 910, 60), 1)
    shelf = stock((700, 500), margin=3.0, offcuts=(offcut,))
    assert len(ways_of(panel(rectangle(900, 50)), shelf)[0].pieces) == 1
    assert len(ways_of(panel(rectangle(900, 50), count=2), shelf)[0].pieces) > 1


def test_offcuts_of_other_outlines_are_asked_for():
    scrap = Outline.of_points([(0, 0), (1500, 0), (0, 300)])
    shelf = replace(BOARD, offcuts=(Offcut(key="stock.board.offcuts[0]", outline=scrap),))
    asked = []
    (way,) = ways_of(panel(rectangle(900, 50)), shelf, takes_whole=lambda part: bool(asked.append(part)) or True)
    assert [piece.role for piece in way.pieces] == [Role.WHOLE]
    assert [part.name for part in asked] == ["panel"]
    assert len(ways_of(panel(rectangle(900, 50)), shelf, takes_whole=lambda _: False)[0].pieces) > 1
    assert len(ways_of(panel(rectangle(900, 50)), BOARD, takes_whole=lambda _: True)[0].pieces) > 1


def test_without_room_or_turn_nesting_has_the_word():
    assert len(ways_of(panel(), stock((5, 5), margin=3.0))[0].pieces) == 1
    board = stock((700, 500), grain=Grain.X)
    assert len(ways_of(panel(grain=Grain.Y, turns=Turns.HALF), board)[0].pieces) == 1


def test_stocks_are_those_that_the_part_names():
    (part,) = parts_of(panel(rectangle(900, 50), doubling=narrow(stock="ply")))
    with pytest.raises(ValueError, match="not from 'ply'"):
        ways(part, replace(BOARD, name="ply"))
    with pytest.raises(ValueError, match="which is not given"):
        ways(part, BOARD)


# where the lines lie


def test_a_plain_strip_is_cut_in_halves():
    best, *others = ways_of(panel(rectangle(1000, 60)), most=MOST_WAYS)
    assert best.joints == (Joint(x_mm=500.0, letters=("A",), length_mm=1000.0),)
    assert len(others) > 20
    assert all(abs(x - y) >= 10 for x, y in zip(xs(best), xs(others[0]), strict=True))
    assert len(ways_of(panel(rectangle(1000, 60)), most=3)) == 3


def test_no_more_than_fifty_ways():
    found = ways_of(panel(rectangle(1500, 60), doubling=narrow()), most=MOST_WAYS)
    assert len(found) == MOST_WAYS
    assert len({tuple(xs(way)) for way in found}) == MOST_WAYS


def test_fewest_sections_come_first():
    """Even where a joint in the nose half saves one."""
    drawn = panel(rectangle(1000, 60), place=AFT, keep_clear=(KeepClear(key="k", x_mm=(451.0, 1000.0)),))
    way = ways_of(drawn)[0]
    assert len(of_role(way, Role.SECTION)) == 2
    assert xs(way) == [401.0]


def test_lines_keep_one_overlap_off_slots_cutouts_tabs_and_what_is_kept_clear():
    plain = panel(rectangle(1000, 60))
    for drawn, x in [
        (replace(plain, slots=(slot(0, (510, 30), 20, fit=0),)), 500 + 20 + 50),
        (replace(plain, cutouts=(hole(0, (510, 30), 20),)), 500 + 20 + 50),
        (replace(plain, tabs=(tab(0, (510, 0), 20),)), 500 + 20 + 50),
        (replace(plain, keep_clear=(KeepClear(key="k", x_mm=(500, 520)),)), 500 + 20 + 50),
        (replace(plain, keep_clear=(KeepClear(key="k", x_mm=(500, 520), y_mm=(50, 90)),)), 500 + 20 + 50),
        (replace(plain, keep_clear=(KeepClear(key="k", x_mm=(500, 520), y_mm=(70, 90)),)), 500),
        (replace(plain, slots=(slot(0, (510, 30), 20, fit=0),), place=FORE), 500 - 50),
    ]:
        assert xs(ways_of(drawn)[0])[0] == pytest.approx(x, abs=1e-6)


def fold(i, start, end, turn=90.0, kind=FoldKind.GROOVE):
    return DrawnFold(key=f"{KEY}.folds[{i}]", kind=kind, start=start, end=end, turn_deg=turn)


def test_lines_keep_off_folds_along_them_with_their_whole_band():
    """A groove of 90 degrees in 5 mm board is 10 mm wide."""
    way = ways_of(panel(rectangle(1000, 60), folds=(fold(0, (500, -1), (500, 61)),)))[0]
    assert xs(way) == [555.0]


def test_a_line_crosses_folds_that_run_across_it():
    drawn = panel(rectangle(900, 280), folds=(fold(0, (-1, 80), (901, 80)), fold(1, (-1, 200), (901, 200))))
    (part,) = parts_of(drawn)
    way = ways(part, BOARD, most=2)[0]
    assert xs(way) == [450.0]
    assert way.joints[0].letters == ("A", "B", "C")
    assert [len(piece.flat.folds) for piece in way.pieces] == [2, 2, 0, 0, 0]
    hold(part, way, BOARD)


def test_no_section_is_shorter_than_a_doubler_and_20_mm():
    drawn = panel(rectangle(800, 60), keep_clear=(KeepClear(key="k", x_mm=(171.0, 800.0)),))
    assert xs(ways_of(drawn)[0]) == [121.0]
    drawn = replace(drawn, keep_clear=(KeepClear(key="k", x_mm=(169.0, 800.0)),))
    assert "keep_clear" not in refused(drawn)  # the key of the part
    drawn = replace(drawn, keep_clear=(KeepClear(key="k", x_mm=(170.0, 800.0)),))
    assert xs(ways_of(drawn)[0]) == [120.0]


def test_the_tail_is_joined_rather_than_the_nose():
    kept = (KeepClear(key="k", x_mm=(460.0, 560.0)),)
    plain = panel(rectangle(1000, 60), keep_clear=kept)
    assert xs(ways_of(plain)[0]) == [610.0]
    assert xs(ways_of(replace(plain, place=AFT))[0]) == [610.0]
    assert xs(ways_of(replace(plain, place=FORE))[0]) == [410.0]
    upright = replace(AFT, x=(0.0, 0.0, 1.0), y=(-1.0, 0.0, 0.0))
    assert xs(ways_of(replace(plain, place=upright))[0]) == [410.0]


def test_sections_are_as_equal_as_can_be():
    """Three sections of a strip, the first line pushed aside: the second lies midway to the end."""
    drawn = panel(rectangle(1500, 60), keep_clear=(KeepClear(key="k", x_mm=(490.0, 520.0)),))
    assert xs(ways_of(drawn)[0]) == [440.0, 970.0]


def test_lines_at_y_where_that_makes_fewer():
    way = ways_of(panel(rectangle(60, 1000)))[0]
    assert (xs(way), ys(way)) == ([], [500.0])
    assert way.joints[0].length_mm == 1000.0


def test_the_shorter_joint_where_both_would_do():
    way = ways_of(panel(rectangle(690, 510)))[0]
    assert (xs(way), ys(way)) == ([345.0], [])
    assert xs(ways_of(panel(rectangle(600, 600)))[0]) == [300.0]


def test_too_large_both_ways_is_cut_both_ways():
    (part,) = parts_of(panel(rectangle(1200, 900)))
    way = ways(part, BOARD, most=2)[0]
    assert (xs(way), ys(way)) == ([600.0], [450.0])
    assert len(of_role(way, Role.SECTION)) == 4
    assert [piece.outline.bounds[:2] for piece in of_role(way, Role.SECTION)] == [
        (0.0, 0.0), (0.0, 450.0), (600.0, 0.0), (600.0, 450.0)
    ]  # fmt: skip
    hold(part, way, BOARD)


def test_a_disc_is_cut_in_quarters_that_keep_their_arcs():
    (part,) = parts_of(panel(Disc(key=f"{KEY}.circle", diameter_mm=900.0)))
    way = ways(part, BOARD, most=2)[0]
    hold(part, way, BOARD)
    for piece in of_role(way, Role.SECTION):
        (ring,) = piece.outline.lines()
        assert sorted(bool(segment.bulge) for segment in ring) == [False, False, True]
        assert max(segment.included_deg for segment in ring) == pytest.approx(90, abs=0.5)


def test_a_u_is_cut_through_both_legs():
    shape = readings((0, 0), (900, 0), (900, 120), (150, 120), (150, 300), (900, 300), (900, 420), (0, 420))
    (part,) = parts_of(panel(shape))
    way = ways(part, BOARD, most=2)[0]
    assert xs(way) == [450.0]
    assert len(of_role(way, Role.SECTION)) == 3
    assert way.joints[0].letters == ("A", "B")
    hold(part, way, BOARD)


def test_a_section_may_be_smaller_than_its_slab():
    """A triangle's tips fit where the slabs' boxes would not."""
    (part,) = parts_of(panel(readings((0, 0), (1040, 0), (520, 560))))
    way = ways(part, stock((600, 560)))[0]
    assert len(of_role(way, Role.SECTION)) == 2
    hold(part, way, stock((600, 560)))


# pairs


def test_left_and_right_are_joined_a_doubler_apart():
    right, left = parts_of(SIDE)
    of_right, of_left = ways(right, BOARD)[0], ways(left, BOARD)[0]
    assert xs(of_right) == [518.0]
    assert xs(of_left) == [618.0]
    assert "joints-not-staggered" not in codes(of_right) + codes(of_left)
    hold(right, of_right, BOARD)
    hold(left, of_left, BOARD)


def test_a_right_hand_joint_makes_room_for_the_left_one():
    """The middle of what is allowed would be more equal, but leave the left-hand one no place apart."""
    kept = (KeepClear(key="a", x_mm=(0.0, 400.0)), KeepClear(key="b", x_mm=(610.0, 1000.0)))
    right, left = parts_of(panel(rectangle(1000, 60), pair=Hand.RIGHT, keep_clear=kept))
    assert xs(ways(right, BOARD)[0]) + xs(ways(left, BOARD)[0]) == [550.0, 450.0]


def test_where_there_is_no_room_both_are_joined_close_by_with_a_warning():
    kept = (KeepClear(key="a", x_mm=(0.0, 400.0)), KeepClear(key="b", x_mm=(580.0, 1000.0)))
    right, left = parts_of(panel(rectangle(1000, 60), pair=Hand.RIGHT, keep_clear=kept))
    assert "joints-not-staggered" not in codes(ways(right, BOARD)[0])
    way = ways(left, BOARD)[0]
    (finding,) = [f for f in way.findings if f.code == "joints-not-staggered"]
    assert finding.level is Level.WARNING
    assert finding.range == "at least 100 mm"
    apart = abs(xs(way)[0] - xs(ways(right, BOARD)[0])[0])
    assert finding.value == f"{apart:g} mm"


def test_lines_at_y_of_a_pair_are_compared_in_the_mirror():
    right, left = parts_of(panel(rectangle(60, 1000), pair=Hand.RIGHT))
    (at,), (there,) = ys(ways(right, BOARD)[0]), ys(ways(left, BOARD)[0])
    assert at == 500.0
    assert abs(at + there) == 100.0


@pytest.mark.parametrize("hand", [Hand.RIGHT, Hand.LEFT])
def test_a_line_for_one_hand_leaves_the_other_to_the_program(hand):
    drawn = panel(rectangle(1000, 60), pair=Hand.RIGHT, joint_lines=(line(0, x=480, hand=hand),))
    for part in parts_of(drawn):
        (first, *more) = ways(part, BOARD)
        if part.hand is hand:
            assert not more
            assert first.joints[0].placed_by == f"{KEY}.joints[0]"
            assert xs(first) == [480.0]
        else:
            assert xs(first) == [580.0]
            assert first.joints[0].placed_by == ""
        assert codes(first) == ["joined"]


# the builder's lines


def test_the_builders_lines_are_kept():
    (part,) = parts_of(panel(rectangle(1000, 60), joint_lines=(line(0, x=650.25), line(1, x=350))))
    (way,) = ways(part, BOARD)
    assert [(j.x_mm, j.letters, j.placed_by) for j in way.joints] == [
        (350.0, ("A",), f"{KEY}.joints[1]"),
        (650.25, ("B",), f"{KEY}.joints[0]"),
    ]
    assert {m.key for piece in way.pieces for m in piece.flat.marks} == {j.placed_by for j in way.joints}
    hold(part, way, BOARD)


def test_a_joint_that_is_not_needed_is_made_and_noted():
    (way,) = ways_of(panel(rectangle(600, 60), joint_lines=(line(0, x=300),)))
    assert codes(way) == ["joined", "joint-unneeded"]
    assert way.findings[1].where == f"{KEY}.joints[0]"
    assert way.findings[1].level is Level.NOTE


def test_one_line_for_both_hands_is_not_staggered():
    right, left = parts_of(panel(rectangle(1000, 60), pair=Hand.RIGHT, joint_lines=(line(0, x=500),)))
    assert codes(ways(right, BOARD)[0]) == ["joined"]
    assert codes(ways(left, BOARD)[0]) == ["joined", "joints-not-staggered"]
    assert ways(left, BOARD)[0].findings[1].value == "0 mm"


def test_lines_of_the_builder_that_are_wrong_are_all_refused():
    found = refused(
        panel(
            rectangle(1000, 60),
            slots=(slot(0, (500, 30), 20, fit=0),),
            cutouts=(hole(0, (800, 30), 20),),
            joint_lines=(line(0, x=470), line(1, x=1000), line(2, y=30), line(3, x=800), line(4, x=470)),
        )
    )
    assert found[f"{KEY}.joints[0]"] == (
        "the joint line at x = 470 mm is 20 mm from slots[0] (x 490 to 510); it has to keep off by the overlap of "
        "50 mm: move it to 440 or less, or to 560 or more, or shorten the overlap"
    )
    assert found[f"{KEY}.joints[1]"] == "the joint line at x = 1000 mm does not cross the part (x from 0 to 1000); move it"
    assert "y = 30 mm runs through slots[0]" in found[f"{KEY}.joints[2]"] or "cutout" in found[f"{KEY}.joints[2]"]
    assert "runs through the cutout at 800, 30 (x 790 to 810)" in found[f"{KEY}.joints[3]"]
    assert f"{KEY}.joints[4]" in found


def test_a_line_is_not_given_twice():
    found = refused(panel(rectangle(1000, 60), joint_lines=(line(0, x=470), line(1, x=470))))
    assert found == {f"{KEY}.joints[1]": "there is another joint line at this place; take one of them out"}


def test_sections_between_the_builders_lines_are_neither_too_short_nor_too_long():
    found = refused(panel(rectangle(1000, 60), joint_lines=(line(0, x=100),)))
    assert list(found) == [f"{KEY}.joints[0]"]
    with pytest.raises(Refused) as caught:
        ways_of(panel(rectangle(1000, 60), joint_lines=(line(0, x=100),)))
    short, long = (refusal.text for refusal in caught.value.refusals)
    assert short == (
        "the section from x = 0 to 100 mm is 100 mm long; it has to be at least 120 mm: a doubler (twice the overlap of "
        "50 mm) and 20 mm; move the line, or shorten the overlap (parts.panel.doubler.overlap)"
    )
    assert long == (
        "the section from x = 100 to 1000 mm is 900 x 60 mm and fits no sheet of stock board: the largest leaves "
        "694 x 494 mm inside its margin; move the line, add another, or add a larger size"
    )


# refusals


def test_a_part_that_may_not_be_joined():
    found = refused(panel(rectangle(730, 20), may_be_joined=False))
    assert re.fullmatch(
        r"panel is 730 x 20 mm and fits no sheet of stock board: the largest leaves 694 x 494 mm inside its margin, "
        r'and joints = "none" keeps it in one piece; turned by [\d.]+ degrees it would fit: give it turns = "any"; '
        r"otherwise let it be joined \(leave joints out\), make it shorter or add a larger size",
        found[KEY],
    )
    assert "degrees" not in refused(panel(rectangle(900, 20), may_be_joined=False))[KEY]


def test_what_stands_in_the_way_is_named():
    slots = tuple(slot(i, (50 + 100 * i, 30), 20, fit=0) for i in range(10))
    text = refused(panel(rectangle(1000, 60), slots=slots))[KEY]
    assert "a line would have to lie at x = 306 to 694 mm, and keep the overlap of 50 mm off slots[" in text
    assert "slots[4] (x 440 to 460)" in text
    assert "slots[0]" not in text


def test_sheets_too_small_for_any_section():
    text = refused(panel(rectangle(600, 50)), stock((100, 90)))[KEY]
    assert "are at least 120 mm: a doubler (twice the overlap of 50 mm) and 20 mm" in text
    assert "the largest leaves 100 x 90 mm" in text


def test_a_part_of_hundreds_of_sections():
    assert "more than 100 sections" in refused(panel(rectangle(90_000, 50)))[KEY]


# what is on the pieces


def test_what_lies_on_a_part_goes_on_in_its_sections():
    drawn = panel(
        readings((0, 0), (1000, 0, {"name": "tail"}), (1000, 60), (0, 60)),
        count=3,
        face=Face.OUTER,
        slots=(slot(0, (100, 30), 20), slot(1, (900, 30), 20)),
        tabs=(tab(0, (800, 60), 20),),
        marks=(mark(0, "line", (0, 20), (1000, 40), text="deck"), mark(1, "circle", (50, 30), diameter_mm=8.0)),
        label=Label(key=f"{KEY}.label", at=(700.0, 30.0)),
        kerf_mm=0.2,
        place=AFT,
    )
    (part,) = parts_of(drawn)
    way = ways(part, BOARD, most=2)[0]
    first, second, doubler = (piece.flat for piece in way.pieces)
    assert [flat.name for flat in (first, second, doubler)] == [
        "panel-section-1", "panel-section-2", "panel-doubler-a"
    ]  # fmt: skip
    assert [s.key for s in first.slots] == [f"{KEY}.slots[0]"]
    assert [s.key for s in second.slots] == [f"{KEY}.slots[1]"]
    assert (len(first.tabs), len(second.tabs)) == (0, 1)
    assert (first.label, second.label) == (None, part.label)
    assert (first.named, second.named) == ((), (("tail", (1000.0, 0.0)),))
    assert [m.key for m in first.marks] == [f"{KEY}.marks[0]", f"{KEY}.marks[1]", KEY]
    assert [m.key for m in second.marks] == [f"{KEY}.marks[0]", KEY]
    for flat in (first, second, doubler):
        assert (flat.count, flat.face, flat.kerf_mm, flat.place, flat.key) == (3, Face.OUTER, 0.2, AFT, KEY)
    assert (doubler.slots, doubler.tabs, doubler.named, doubler.label) == ((), (), (), None)


def test_the_note_says_why_where_and_with_what():
    (finding,) = ways_of(panel(rectangle(1000, 60)))[0].findings
    assert finding.text == (
        "panel, 1000 x 60 mm, fits no sheet of stock board: cut at x = 500 mm into 2 sections, joined by doubler A "
        "(100 x 50 mm)"
    )
    assert (finding.code, finding.level, finding.where) == ("joined", Level.NOTE, KEY)
    assert (finding.value, finding.range) == ("1000 x 60 mm", "at most 694 x 494 mm")


def test_a_joint_mark_is_mirrored_and_trimmed_like_any_mark():
    way = ways_of(panel(rectangle(1000, 60)))[0]
    (own,) = way.pieces[-1].flat.marks
    assert isinstance(own, JointMark)
    assert own.handed
    assert own.mirrored().mirrored() == own
    assert own.trimmed(way.pieces[-1].outline.polygon) == own
    assert own.trimmed(Outline.rectangle(0, 0, 9, 9).polygon) is None
    drawn = own.drawn()
    assert [text.text for text in drawn.texts] == ["A", "A"]
    assert drawn.prick_points


def test_a_doubler_glued_turned_round_would_show():
    """Its ticks, turned half round about its middle, are not where they were."""
    way = ways_of(panel(rectangle(1000, 60)))[0]
    (own,) = way.pieces[-1].flat.marks

    def ends(turned):
        return {
            frozenset((1000 - x, 60 - y) if turned else (x, y) for x, y in (s.start, s.end))
            for run in own.runs
            for s in run
        }

    assert ends(turned=True) != ends(turned=False)


def test_the_same_part_gives_the_same_ways():
    (part,) = parts_of(panel(rectangle(1500, 60), doubling=narrow()))
    assert ways(part, BOARD, most=5) == ways(part, BOARD, most=5)
    for hand in parts_of(SIDE):
        assert ways(hand, BOARD, most=1) == ways(hand, BOARD)[:1]


# parts that lie whole and may be joined to save a board

MAY = {"may_join": True}


def test_a_part_that_may_be_joined_is_offered_whole_first():
    """The sections of every further way make the part again, by shapely."""
    (part,) = parts_of(panel(rectangle(500, 260), **MAY))
    found = ways(part, BOARD, most=8)
    assert len(found) == 8
    assert [piece.role for piece in found[0].pieces] == [Role.WHOLE]
    for way in found[1:]:
        hold(part, way, BOARD)
        assert len(way.joints) == 1
        assert any("lies whole, and may be joined" in f.text for f in way.findings if f.code == "joined")
        assert "joint-unneeded" not in codes(way)


def test_one_way_alone_is_the_whole():
    assert [len(way.pieces) for way in ways_of(panel(rectangle(500, 260), **MAY), most=1)] == [1]


def test_a_part_that_may_not_be_joined_is_offered_whole_alone():
    assert len(ways_of(panel(rectangle(500, 260)), most=8)) == 1


def test_further_ways_are_spread_over_where_lines_may_lie():
    """By arithmetic: a section is 2 x 50 + 20 mm long at least, so that lines lie from 120 to 380 at x.

    The middle is the most equal; of three further ones at x each is the farthest from all before: the ends,
    then half way between; of two as far the one at the tail, at higher x.
    """
    found = ways_of(panel(rectangle(500, 200), **MAY), most=6)[1:]
    assert [(xs(way), ys(way)) for way in found] == [
        ([250.0], []), ([380.0], []), ([120.0], []), ([315.0], []), ([185.0], []),
    ]  # fmt: skip


def test_lines_both_ways_are_offered():
    """Where a part is wide enough, one that runs the other way comes second."""
    found = ways_of(panel(rectangle(500, 260), **MAY), most=3)[1:]
    assert [(len(xs(way)), len(ys(way))) for way in found] == [(1, 0), (0, 1)]


def test_fewer_ways_are_the_first_of_more():
    drawn = panel(rectangle(500, 260), **MAY)
    assert ways_of(drawn, most=4) == ways_of(drawn, most=9)[:4]


def test_a_part_with_no_room_for_a_joint_stays_whole():
    """200 mm leave no two sections of 120 mm."""
    assert len(ways_of(panel(rectangle(200, 60), **MAY), most=8)) == 1


def test_the_builders_lines_are_where_it_may_be_joined():
    drawn = panel(rectangle(500, 260), joint_lines=(line(0, x=200.0),), **MAY)
    found = ways_of(drawn, most=8)
    assert [xs(way) for way in found] == [[], [200.0]]
    assert "joint-unneeded" not in codes(found[1])
    assert len(ways_of(drawn, most=1)) == 1


def test_wrong_lines_of_the_builder_are_refused_though_it_lies_whole():
    for most in (1, 8):
        found = refused(panel(rectangle(500, 260), joint_lines=(line(0, x=20.0),), **MAY), most=most)
        assert list(found) == [f"{KEY}.joints[0]"]


def test_a_part_that_is_too_long_is_joined_whether_it_may_or_must():
    without, with_leave = (ways_of(panel(rectangle(900, 260), may_join=may), most=3) for may in (False, True))
    assert [xs(way) for way in without] == [xs(way) for way in with_leave]
    assert all(len(way.pieces) > 1 for way in with_leave)


@pytest.mark.parametrize("hand", [0, 1])
def test_hands_that_may_be_joined(hand):
    """On boards that hold them whole; the ways of the left-hand one that come first lie apart from the right's."""
    board = stock((900, 500), margin=3.0)
    parts = parts_of(replace(SIDE, may_join=True))
    right_best = ways(parts[0], board, most=2)[1]
    found = ways(parts[hand], board, most=6)
    assert len(found) == 6 and [piece.role for piece in found[0].pieces] == [Role.WHOLE]
    for way in found[1:]:
        hold(parts[hand], way, board)
    if hand:
        assert all(abs(a - b) >= 100 for a in xs(found[1]) for b in xs(right_best))
