"""The check of folded parts: what passes through each other and what fails to meet, and no false alarms.

The right sizes of each case follow from a drawing of the corner: board of 5 mm, its far paper whole.
"""

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.findings import Finding, Level
from foamcut.flat.build import build_part
from foamcut.flat.drawn import FoldAt, Hand, Side
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.part import Part
from tests.flat.folded_parts import T, across, built, frustum, lidded, strip, tray, tube, wrapped_tray
from tests.strategies import cutout, fold, folded_parts, panel, readings, rectangle

CLASH, APART = "panels-clash", "panels-apart"
both_sides = pytest.mark.parametrize("side", list(Side))


def told(part: Part) -> list[tuple[str, str, float]]:
    """Code, where and mm of each finding."""
    return [(f.code, f.where.removeprefix("parts."), amount(f)) for f in fold_findings(part)]


def amount(finding: Finding) -> float:
    assert finding.value.endswith(" mm") and finding.value in finding.text
    return float(finding.value.removesuffix(" mm"))


def test_a_flat_part_and_a_plain_trough_are_nothing():
    assert fold_findings(strip(100)) == ()
    assert told(strip(280, across(0, "groove", 100), across(1, "groove", 180))) == []


@both_sides
class TestTray:
    """A cross with four flaps folded up, or down, by grooves of 90 degrees."""

    def test_square_ends_go_into_each_other_by_a_thickness(self, side):
        assert told(tray(side=side)) == [(CLASH, "panel", T)] * 4

    def test_ends_bevelled_by_half_the_angle_meet(self, side):
        assert told(tray(side=side, bevel=45)) == []

    def test_ends_bevelled_too_little_go_into_each_other(self, side):
        """Two wedges, t - t tan(40) wide inside: their least width lies square to one of the slopes."""
        wide = T - T * math.tan(math.radians(40))
        found = told(tray(side=side, bevel=40))
        assert [code for code, *_ in found] == [CLASH] * 4
        assert all(0.5 * wide < mm < wide * math.sqrt(2) for *_, mm in found)

    def test_two_flaps_that_end_a_thickness_sooner_meet_the_others(self, side):
        assert told(tray(side=side, short=T)) == []

    def test_two_flaps_that_end_two_millimetres_sooner_do_not_do(self, side):
        assert told(tray(side=side, short=2)) == [(CLASH, "panel", 3.0)] * 4

    def test_a_flap_3_mm_short_leaves_3_mm(self, side):
        assert told(tray(side=side, short=T, right_short=3)) == [(APART, "panel", 3.0)]

    def test_a_mitred_flap_3_mm_short_leaves_that_square_to_the_mitre(self, side):
        assert told(tray(side=side, bevel=45, right_short=3)) == [(APART, "panel", round(3 / math.sqrt(2), 2))]

    def test_what_glue_fills_is_not_told(self, side):
        assert told(tray(side=side, short=T, right_short=0.3)) == []
        assert told(tray(side=side, short=T, right_short=0.31)) == [(APART, "panel", 0.31)]

    def test_flaps_far_from_each_other_are_free(self, side):
        """Past 2.5 thicknesses beyond what would meet no one means them to."""
        assert told(tray(side=side, short=T + 2.5 * T + 0.1)) == []

    def test_the_hands_of_a_pair_are_told_the_same(self, side):
        right, left = _pair(side)
        assert [f.value for f in fold_findings(right)] == [f.value for f in fold_findings(left)] == ["5 mm"] * 4


def _pair(side: Side) -> tuple[Part, ...]:
    """Both hands of a plain tray."""
    rows = readings(
        (0, 0), (0, -40), (100, -40), (100, 0), (140, 0), (140, 80),
        (100, 80), (100, 120), (0, 120), (0, 80), (-40, 80), (-40, 0),
    )  # fmt: skip
    corners = [(100, 0), (0, 0), (0, 80), (100, 80)]
    folds = [fold(i, "groove", corners[i], corners[(i + 1) % 4], side=side) for i in range(4)]
    return build_part(panel(rows, folds=tuple(folds), pair=Hand.RIGHT))[0]


@both_sides
class TestTube:
    """A strip of panels folded round, its first and last edge meeting."""

    def test_square_edges_go_into_each_other(self, side):
        assert told(tube(side=side)) == [(CLASH, "panel", T)]

    def test_bevelled_edges_meet(self, side):
        assert told(tube(side=side, bevel=45)) == []

    def test_an_edge_that_ends_a_thickness_sooner_meets(self, side):
        assert told(tube((60, 40, 60, 40 - T), side=side)) == []

    def test_one_side_a_thickness_too_wide_leaves_a_gap(self, side):
        """The slope of the mitre is moved by t along one of its sides."""
        assert told(tube((60, 40, 60 + T, 40), side=side, bevel=45)) == [(APART, "panel", round(T / math.sqrt(2), 2))]

    def test_one_side_a_thickness_too_narrow_clashes(self, side):
        assert told(tube((60, 40, 60 - T, 40), side=side, bevel=45)) == [(CLASH, "panel", round(T / math.sqrt(2), 2))]

    def test_one_side_two_thicknesses_out_is_still_told(self, side):
        assert told(tube((60, 40, 60, 40 - 3 * T), side=side)) == [(APART, "panel", 2 * T)]

    def test_a_strip_open_on_purpose_is_not_told(self, side):
        assert told(tube((60, 40, 60, 15), side=side)) == []

    def test_square_edges_that_pass_each_other_touch_along_a_line(self, side):
        """The last panel stands a thickness outside the edge that it should stand on."""
        (found,) = fold_findings(tube((60, 40, 60 + T, 40 - T), side=side))
        assert (found.code, amount(found)) == (APART, T)
        assert "touch along a line only" in found.text

    @pytest.mark.parametrize(("count", "turn"), [(3, 120.0), (5, 72.0), (6, 60.0), (8, 45.0)])
    def test_tubes_of_other_sides_close_with_half_the_turn(self, side, count, turn):
        assert told(tube((50,) * count, side=side, turn=turn, bevel=turn / 2)) == []
        assert [code for code, *_ in told(tube((50,) * count, side=side, turn=turn))] == [CLASH]

    def test_scored_tubes_are_open_at_every_corner_and_at_the_last(self, side):
        """A score opens: square edges that touch on the inside look like the other corners."""
        assert told(tube((50,) * 6, side=side, kind="score", turn=60)) == []
        assert told(tube((60, 40, 60, 40), side=side, kind="score")) == []

    def test_a_scored_tube_one_side_out(self, side):
        assert told(tube((60, 40, 63, 40), side=side, kind="score")) == [(APART, "panel", 3.0)]


class TestBoxes:
    """Boxes with lids, wrapped trays and tapered tubes."""

    def test_a_lid_as_large_as_the_box_sinks_into_walls_of_full_height(self):
        assert told(lidded()) == [(CLASH, "panel", T)] * 3

    @pytest.mark.parametrize("part", [lidded(T), lidded(bevel=45)], ids=["lower walls", "mitred"])
    def test_a_lid_that_meets_its_walls(self, part):
        assert told(part) == []

    @pytest.mark.parametrize(("low", "code", "mm"), [(T - 0.5, CLASH, 0.5), (T + 2, APART, 2.0)])
    def test_walls_not_quite_right_for_their_lid(self, low, code, mm):
        assert told(lidded(low)) == [(code, "panel", mm)] * 3

    @pytest.mark.parametrize("at", list(FoldAt))
    def test_a_wrapped_tray(self, at):
        """Two walls stand between the two others, each a thickness sooner."""
        assert told(wrapped_tray(T, at)) == []
        assert told(wrapped_tray(0, at)) == [(CLASH, "panel", T)] * 4

    @pytest.mark.parametrize("count", [5, 8, 16])
    def test_a_frustum_closes_when_its_last_edges_are_mitred_like_its_grooves(self, count):
        assert told(frustum(count, mitred=True)) == []
        assert [code for code, *_ in told(frustum(count))] == [CLASH]
        assert told(frustum(count, "score")) == []

    def test_turns_half_a_degree_out_do_not_close_it(self):
        assert [code for code, *_ in told(frustum(8, mitred=True, more_deg=-0.5))] == [APART]
        assert [code for code, *_ in told(frustum(8, mitred=True, more_deg=0.5))] == [CLASH]


class TestNoFalseAlarm:
    """Edges that come near each other without being meant to meet."""

    @pytest.mark.parametrize("inside", [0.5, 2.0, 6.0, 9.5])
    def test_walls_of_a_narrow_trough(self, inside):
        floor = 2 * T + inside
        assert told(tube((60, floor, 60))) == []
        assert told(tube((60, floor, 52))) == [], "one wall higher than the other"

    def test_a_sheet_folded_back_on_itself(self):
        """Scored by 180 degrees the two papers lie on each other."""
        assert told(strip(120, across(0, "score", 60, 179.0))) == []

    def test_a_z(self):
        assert told(strip(200, across(0, "groove", 70), across(1, "groove", 130, side=Side.DOWN))) == []

    def test_flaps_side_by_side_keep_the_slit_that_was_drawn(self):
        """Flaps at either end of a slot between them, each with a fold of its own."""
        shape = readings(
            (0, 0), (100, 0), (100, 60), (52, 60), (52, 20), (48, 20), (48, 60), (0, 60)
        )  # fmt: skip
        folds = [fold(0, "groove", (0, 31), (48, 31)), fold(1, "groove", (52, 31), (100, 31))]
        assert told(built(shape, *folds)) == []

    def test_flaps_side_by_side_turned_by_one_fold(self):
        shape = readings(
            (0, 0), (100, 0), (100, 60), (51, 60), (51, 31), (49, 31), (49, 60), (0, 60)
        )  # fmt: skip
        assert told(built(shape, fold(0, "score", (0, 31), (100, 31), 60.0))) == []

    def test_walls_that_lean_out(self):
        """The walls of a hopper whose ends spread: no gap that could be closed by a millimetre."""
        assert [found for found in told(tray(turn=45, bevel=30)) if found[0] == APART] == []

    @pytest.mark.parametrize("turn", [-90.0, 0.0, 44.0])
    def test_a_hinge_swings_within_its_bevel(self, turn):
        assert told(strip(120, across(0, "hinge", 70, turn, bevel_deg=45.0))) == []

    @pytest.mark.parametrize(("kind", "turn", "more"), [
        ("score", 90.0, {}), ("groove", 90.0, {}), ("groove", 60.0, {"groove_extra_deg": 20.0}),
        ("wrap", 90.0, {}), ("wrap", 90.0, {"fold_at": FoldAt.NEAR}), ("roll", 90.0, {"radius_mm": 20.0}),
    ])  # fmt: skip
    @both_sides
    def test_one_fold_of_any_kind(self, side, kind, turn, more):
        assert told(strip(160, across(0, kind, 80, turn, side=side, **more))) == []


class TestAcrossAFold:
    """Panels that their own fold does not let turn, or leaves apart; the finding stands at the fold."""

    @pytest.mark.parametrize("at", list(FoldAt))
    @both_sides
    def test_a_strip_narrower_than_the_board_that_lands(self, side, at):
        part = strip(160, across(0, "wrap", 80, lands_thickness_mm=3.0, fold_at=at, side=side))
        assert told(part) == [(CLASH, "panel.folds[0]", 2.0)]

    @pytest.mark.parametrize("at", list(FoldAt))
    def test_a_strip_wider_than_the_board_that_lands(self, at):
        part = strip(160, across(0, "wrap", 80, lands_thickness_mm=8.0, fold_at=at))
        assert told(part) == [(APART, "panel.folds[0]", 3.0)]

    def test_a_groove_wider_than_its_turn_is_meant(self):
        assert told(strip(160, across(0, "groove", 80, 70, groove_extra_deg=20))) == []


class TestRings:
    """Folds round a hole have to bring the board back."""

    def frame(self, *folds) -> Part:
        return built(rectangle(120, 100), *folds, cutouts=(cutout(0, rectangle(60, 40), (30, 30)),))

    def test_a_frame_folded_across_one_arm_tears(self):
        part = self.frame(fold(0, "score", (60, 31), (60, -1), 10.0))
        ((code, where, mm),) = told(part)
        assert (code, where) == (APART, "panel") and mm > 5

    def test_a_frame_folded_along_one_line_through_both_arms_closes(self):
        assert told(self.frame(fold(0, "score", (60, 101), (60, -1), 10.0))) == []

    def test_turns_that_do_not_bring_it_back(self):
        """Four folds at the corners of a ring, each by 20 degrees the same way."""
        part = self.frame(
            fold(0, "score", (60, 31), (60, -1), 20.0), fold(1, "score", (60, 69), (60, 101), 25.0)
        )
        assert told(part)[0][0] == APART


class TestPassingThrough:
    def test_a_long_flap_through_a_wall(self):
        """A strip of four: the last panel comes back through the first, in its middle."""
        part = tube((100, 60, 50, 80))
        ((code, where, mm),) = told(part)
        assert (code, where, mm) == (CLASH, "panel", T)

    def test_a_wall_into_a_bend_is_told_once(self):
        """A hollow with a bend at its foot; the last panel comes down into it and meets several facets."""
        bend = 30 * math.pi / 2
        folds = (
            across(0, "roll", 60, radius_mm=30.0),
            across(1, "groove", 120 + bend),
            across(2, "groove", 145 + bend),
        )
        (found,) = fold_findings(strip(236 + bend, *folds))
        assert found.code == CLASH
        assert "the bend of folds[0] and the panel turned by folds[2]" in found.text
        assert fold_findings(strip(220 + bend, *folds)) == ()

    @pytest.mark.parametrize(("spare", "count"), [(0.2, 0), (-0.6, 1)])
    def test_a_tongue_goes_through_its_slot(self, spare, count):
        """A hollow 40 x 40 outside; the last panel stands at x = 20 to 25 on the first, its tongue in a slot."""
        hole = cutout(0, rectangle(T + 2 * spare, 20 + 2 * spare), (20 - spare, 40 - spare))
        shape = readings((0, 0), (175, 0), (175, 40), (185, 40), (185, 60), (175, 60), (175, 100), (0, 100))
        folds = [across(i, "groove", x) for i, x in enumerate((60, 100, 140))]
        assert [code for code, *_ in told(built(shape, *folds, cutouts=(hole,)))] == [CLASH] * count


class TestWords:
    def test_it_says_what_where_how_deep_and_what_to_do(self):
        found = fold_findings(tube())[0]
        assert found.level is Level.WARNING
        assert found.text == (
            "folded up, the panel that keeps its place and the panel turned by folds[2] pass through each other by"
            " 5 mm, at 2.5, 50 mm and 197.5, 50 mm of the flat part"
        )
        assert found.range == "up to 0.05 mm"
        assert "bevel both edges by half of what is folded there (`bevel 45`)" in found.mend
        assert "end one of them 5 mm sooner" in found.mend

    @pytest.mark.parametrize(("side", "word"), [(Side.UP, "bevel"), (Side.DOWN, "bevel_back")])
    @pytest.mark.parametrize(("count", "turn"), [(3, 120.0), (4, 90.0), (6, 60.0)])
    def test_the_bevel_that_it_names_mends_it(self, side, word, count, turn):
        widths = (50.0,) * count
        (found,) = fold_findings(tube(widths, side=side, turn=turn))
        name, angle = re.search(r"`(\w+) ([\d.]+)`", found.mend).groups()
        assert name == word
        assert told(tube(widths, side=side, turn=turn, bevel=float(angle))) == []

    def test_ending_sooner_as_it_says_mends_it(self):
        (found,) = fold_findings(tube())
        sooner = float(re.search(r"end one of them ([\d.]+) mm sooner", found.mend)[1])
        assert told(tube((60, 40, 60, 40 - sooner))) == []

    def test_what_is_apart_names_both_edges(self):
        (found,) = fold_findings(tray(short=T, right_short=3))
        assert "at 100, -20 mm and 120, 8 mm of the flat part" in found.text
        assert "the panel turned by folds[0] and the panel turned by folds[1]" in found.text
        assert found.range == "up to 0.3 mm"


@given(folded_parts())
@settings(max_examples=40, deadline=None)
def test_any_part_is_looked_at_the_same_on_both_hands(drawn):
    """Nothing fails, and a part and its mirror image are told the same."""
    right, left = build_part(replace(drawn, pair=Hand.RIGHT))[0]
    assert sorted((f.code, f.value) for f in fold_findings(right)) == sorted(
        (f.code, f.value) for f in fold_findings(left)
    )


@given(short=st.floats(0.0, 14.0), thickness=st.sampled_from([3.0, 5.0, 6.0]))
@settings(max_examples=40, deadline=None)
def test_the_gap_of_a_tube_is_what_it_is_short_by(short, thickness):
    """A butt: right when the last panel ends one thickness sooner; else by how much it is out."""
    widths = (60.0, 40.0, 60.0, 40.0 - thickness - short)
    folds = [across(i, "groove", x) for i, x in enumerate((60, 100, 160))]
    part = built(rectangle(sum(widths), 50), *folds, thickness_mm=thickness)
    if short <= 0.3:
        assert told(part) == []
    elif short <= 2.4 * thickness:
        ((code, _, mm),) = told(part)
        assert code == APART and mm == pytest.approx(short, abs=0.0051)
    elif short > 2.6 * thickness:
        assert told(part) == []
