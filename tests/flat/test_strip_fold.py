"""Strips: bands of foam lifted out, the paper behind them turned at both edges; board 5 mm thick."""

import math

import numpy as np
import pytest
import shapely

from foamcut.errors import Refused
from foamcut.flat.build import build_part
from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import DrawnPart, Hand, Side
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.folds import Fold
from foamcut.flat.panels import Panel, fold_up
from foamcut.flat.part import Part
from foamcut.flat.solids import PAPER_MM, solid
from tests.strategies import KEY, fold, panel, rectangle, slot

T = 5.0
WIDE, HIGH, LINE = 200.0, 60.0, 80.0


def strip(i: int = 0, x: float = LINE, turn: float = 90.0, **more):
    """A strip that begins at x; it and the panel at larger x lie to the left of its line."""
    return fold(i, "strip", (x, HIGH + 1), (x, -1), turn, **({"band_mm": 2 * T} | more))


def drawn(*folds, **more) -> DrawnPart:
    return panel(rectangle(WIDE, HIGH), folds=folds, **more)


def built(*folds, **more) -> Part:
    parts, findings = build_part(drawn(*folds, **more))
    assert not findings
    return parts[0]


def at(part: Part, x: float) -> Panel:
    (one,) = [p for p in fold_up(part).panels if p.outline.polygon.contains(shapely.Point(x, HIGH / 2))]
    return one


def xs(runs) -> list[float]:
    return [round(run_points(run)[0][0], 6) for run in runs]


def test_a_strip_is_two_cuts_and_its_paper_turns_at_both():
    """Arithmetic: cuts and turns 80 and 80 + 10 from the edge, each run the whole height of the part."""
    (one,) = built(strip()).folds
    assert xs(one.lift) == xs(one.fold) == [80.0, 90.0]
    assert {round(shapely.LineString(run_points(run)).length, 6) for run in one.fold} == {HIGH}
    assert (one.half, one.groove, one.bevel, one.band_mm) == ((), (), (), (0.0, 10.0))
    assert (one.turn_deg, one.far_turn_deg) == (90.0, 90.0)


def test_each_edge_of_a_strip_has_two_ticks():
    """Contract: a fold line that lies on a cut shows as two ticks of 5 mm at its ends."""
    (one,) = built(strip()).folds
    ticks = one.fold_strokes()
    assert xs(ticks) == [80.0, 80.0, 90.0, 90.0]
    assert [shapely.LineString(run_points(run)).length for run in ticks] == pytest.approx([5.0] * 4)


@pytest.mark.parametrize("side", Side)
def test_a_square_nose_of_two_thicknesses_stands_two_panels_parallel(side):
    """Arithmetic: the paper turns 90 degrees twice, 2 t apart, so the outer papers stand 2 t apart.

    Common practice (folded wings): a square nose is a stripped band 2 t wide.
    """
    part = built(strip(side=side))
    near, far = at(part, 40.0), at(part, 150.0)
    paper = -T if side is Side.UP else 0.0
    over = 1.0 if side is Side.UP else -1.0
    assert far.pose.point(90.0, 20.0, paper) == pytest.approx((80.0, 20.0, paper + over * 2 * T), abs=1e-9)
    assert far.pose.point(190.0, 20.0, paper) == pytest.approx((-20.0, 20.0, paper + over * 2 * T), abs=1e-9)
    assert far.pose.matrix[:3, 2] == pytest.approx((0, 0, -1), abs=1e-12)
    # their inner papers touch, and nothing is told of that
    inner = paper + over * T
    assert far.pose.point(120.0, 20.0, paper + over * T)[2] == pytest.approx(inner, abs=1e-9)
    assert near.pose.point(40.0, 20.0, inner) == pytest.approx((40.0, 20.0, inner))
    assert fold_findings(part) == ()


def test_the_paper_between_is_a_panel_that_is_not_board():
    """Arithmetic: 10 x 60 of paper stands upright in the plane x = 80, from z = -5 to 5."""
    part = built(strip())
    near, paper, far = (at(part, x) for x in (40.0, 85.0, 150.0))
    assert (near.of_strip, paper.of_strip, far.of_strip) == (None, 0, None)
    assert {one.of_roll for one in (near, paper, far)} == {None}
    assert paper.outline.area == pytest.approx(2 * T * HIGH)
    low, high = np.array(solid(part, paper).bounding_box()).reshape(2, 3)
    assert low == pytest.approx((80.0 - PAPER_MM, 0.0, -5.0), abs=1e-9)
    assert high == pytest.approx((80.0, HIGH, 5.0), abs=1e-9)
    assert solid(part, near).volume() == pytest.approx(80.0 * HIGH * T)
    assert solid(part, far).volume() == pytest.approx(110.0 * HIGH * T)


@pytest.mark.parametrize(("turn", "far"), [(90.0, None), (60.0, 30.0), (20.0, 140.0), (100.0, 80.0)])
def test_the_panel_beyond_turns_by_both_turns(turn, far):
    """Arithmetic: plane trigonometry of a band of 12 mm; the far panel leans by the sum of the turns."""
    part = built(strip(turn=turn, band_mm=12.0, far_turn_deg=far))
    first, whole = math.radians(turn), math.radians(turn + (turn if far is None else far))
    x, z = 80.0 + 12.0 * math.cos(first), -T + 12.0 * math.sin(first)
    panel_beyond = at(part, 150.0)
    assert panel_beyond.pose.point(92.0, 10.0, -T) == pytest.approx((x, 10.0, z), abs=1e-9)
    end = x + 50.0 * math.cos(whole), 10.0, z + 50.0 * math.sin(whole)
    assert panel_beyond.pose.point(142.0, 10.0, -T) == pytest.approx(end, abs=1e-9)


def test_boards_that_would_pass_through_each_other_are_told():
    """Arithmetic: on a band of 8 mm the papers stand 8 mm apart, so boards of 5 mm share 2 mm."""
    (found,) = fold_findings(built(strip(band_mm=8.0)))
    assert (found.code, found.where, found.value) == ("panels-clash", f"{KEY}.folds[0]", "2 mm")
    assert found.mend == "make `band` wider, or turn the strip less"


def test_paper_that_turns_into_the_square_end_of_a_board_is_told():
    """Arithmetic: past 90 degrees by 20, the end's far corner stands 5 sin(20) = 1.71 mm behind the paper."""
    one, *others = fold_findings(built(strip(turn=110.0, far_turn_deg=30.0)))
    assert (one.code, one.where, one.value) == ("panels-clash", f"{KEY}.folds[0].turn", "1.71 mm")
    assert others == []
    (one,) = fold_findings(built(strip(turn=30.0, far_turn_deg=110.0)))
    assert (one.where, one.value) == (f"{KEY}.folds[0].far_turn", "1.71 mm")
    assert "turn that edge by 90 degrees at most" in one.mend
    *_, one = fold_findings(built(strip(turn=95.0, far_turn_deg=20.0, band_mm=2.0)))
    assert one.value == "0.17 mm"  # 2 sin(5): only so much of the end has paper against it
    (one,) = fold_findings(built(strip(turn=92.0, far_turn_deg=None, band_mm=20.0)))
    assert one.where == f"{KEY}.folds[0].turn"


def test_a_wider_band_leaves_its_room_and_that_is_meant():
    """Arithmetic: on 3 t there is a thickness between the boards, where a spar may stand."""
    part = built(strip(band_mm=3 * T))
    gap = solid(part, at(part, 40.0)).min_gap(solid(part, at(part, 150.0)), 100.0)
    assert gap == pytest.approx(T, abs=1e-6)
    assert fold_findings(part) == ()


def test_the_other_hand_has_the_strip_on_the_same_side_of_its_line():
    """Convention of this project: mirrored y -> -y, the line runs the other way, left stays left."""
    right, left = build_part(drawn(strip(band_mm=12.0), pair=Hand.RIGHT))[0]
    assert xs(left.folds[0].lift) == xs(right.folds[0].lift) == [80.0, 92.0]
    assert xs(left.folds[0].fold) == [80.0, 92.0]
    assert (left.folds[0].start, left.folds[0].end) == ((80.0, 1.0), (80.0, -61.0))
    assert at_left(left).pose.point(142.0, -10.0, -T) == pytest.approx(
        tuple(np.array(at(right, 150.0).pose.point(142.0, 10.0, -T)) * (1, -1, 1)), abs=1e-9
    )


def at_left(part: Part) -> Panel:
    (one,) = [p for p in fold_up(part).panels if p.outline.polygon.contains(shapely.Point(150.0, -30.0))]
    return one


def test_a_section_of_the_part_keeps_the_strip_that_crosses_it():
    """Arithmetic: of the lower half of the part, both edges over 30 mm."""
    (one,) = built(strip()).folds
    half = one.trimmed(shapely.box(0, 0, WIDE, HIGH / 2))
    assert isinstance(half, Fold)
    assert xs(half.fold) == xs(half.lift) == [80.0, 90.0]
    assert {round(shapely.LineString(run_points(run)).length, 6) for run in half.fold} == {30.0}


def test_folds_beside_a_strip_turn_what_hangs_on_them():
    """Arithmetic: a channel of 2 t, then a wall of 40 turned back outwards by a score: it stands at 90 + 0."""
    part = built(strip(), fold(1, "score", (130.0, HIGH + 1), (130.0, -1), 90.0))
    assert fold_up(part).panels[0] == at(part, 40.0)
    lip = at(part, 180.0)
    assert lip.turned_by == 1
    assert lip.pose.matrix[:3, 0] == pytest.approx((0, 0, 1), abs=1e-12)


@pytest.mark.parametrize(
    ("more", "key", "text"),
    [
        (
            {"turn": 0.0},
            "turn",
            "a strip cannot turn through 0 degrees; it goes above 0 and below 180 degrees",
        ),
        ({"turn": 180.0}, "turn", "a strip cannot turn through 180 degrees"),
        ({"turn": -90.0}, "turn", 'to fold the other way, write turn = 90 and side = "down"'),
        ({"far_turn_deg": 0.0}, "far_turn", "the far edge of a strip cannot turn through 0 degrees"),
        ({"far_turn_deg": 180.0}, "far_turn", "it goes above 0 and below 180 degrees"),
        ({"far_turn_deg": -5.0}, "far_turn", "to the same side as turn"),
        ({"far_turn_deg": math.nan}, "far_turn", "cannot turn through"),
        ({"band_mm": None}, "band", "a strip needs the width of what is lifted out: add band"),
        ({"band_mm": 0.0}, "band", "it has to be above 0"),
        ({"band_mm": math.inf}, "band", "it has to be above 0 and at most"),
        ({"band_mm": 0.09}, None, "two cuts of this strip would lie 0.09 mm apart"),
        ({"band_mm": 121.0}, None, "leaves nothing of the panel on its left"),
    ],
)
def test_what_no_strip_can_be_is_refused_at_its_key(more, key, text):
    with pytest.raises(Refused) as caught:
        build_part(drawn(strip(**more)))
    (found,) = caught.value.refusals
    assert found.key == f"{KEY}.folds[0]" + (f".{key}" if key else "")
    assert text in found.text


def test_a_slot_in_the_band_is_in_its_way():
    with pytest.raises(Refused, match="a slot cannot be folded") as caught:
        build_part(drawn(strip(), slots=(slot(0, (85.0, 30.0), 12.0),)))
    assert [refusal.key for refusal in caught.value.refusals] == [f"{KEY}.folds[0]"]
