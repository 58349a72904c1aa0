"""The folded shape, kind by kind, with numbers worked out by hand.

mm; flat, the board lies from z = 0 (drawn face) down to z = -5.  The strip is 100 long and 50 wide; what lies
beyond the fold, at larger x, turns unless it is said otherwise.
"""

import math

import numpy as np
import pytest
import shapely

from foamcut.flat.build import build_part
from foamcut.flat.drawn import FoldAt, FoldKind, Hand, Side
from foamcut.flat.panels import Folded, Panel, Pose, fold_up
from foamcut.flat.part import Part
from tests.strategies import cutout, fold, hole, panel, readings, rectangle

T = 5.0
UP, DOWN = Side.UP, Side.DOWN


def across(i: int, kind: str, x: float, turn: float = 90.0, **more):
    """A fold across a strip at x; the panel at larger x lies to its left and turns."""
    return fold(i, kind, (x, 900.0), (x, -900.0), turn, **more)


def built(shape, *folds, **more) -> Part:
    return build_part(panel(shape, folds=folds, **more))[0][0]


def folded(shape, *folds, **more) -> Folded:
    return fold_up(built(shape, *folds, **more))


def at(shape_folded: Folded, x: float, y: float) -> Panel:
    """The panel that holds a place of the flat part."""
    (one,) = [p for p in shape_folded.panels if p.outline.polygon.contains(shapely.Point(x, y))]
    return one


HALF = math.sqrt(0.5)
R20 = 20.0 * math.pi / 2  # a quarter turn of radius 20

#: kind, x of the line, turn, side, more; then where the paper's far end (100, 25) comes to lie as x and z
CASES = {
    "a groove in the drawn face turns up": ("groove", 60.0, 90.0, UP, {}, (60.0, 35.0)),
    "a groove behind turns down": ("groove", 60.0, 90.0, DOWN, {}, (60.0, -40.0)),
    "half a right angle": ("groove", 60.0, 45.0, UP, {}, (60 + 40 * HALF, 40 * HALF - 5)),
    "groove_extra widens the groove, not the turn": (
        "groove", 60.0, 45.0, UP, {"groove_extra_deg": 20.0}, (60 + 40 * HALF, 40 * HALF - 5)),
    "a score in the drawn face turns down": ("score", 60.0, 90.0, UP, {}, (60.0, -45.0)),
    "a score behind turns up": ("score", 60.0, 30.0, DOWN, {}, (60 + 40 * math.cos(math.pi / 6), 20.0)),
    "a wrap turns at the far edge of its strip": ("wrap", 60.0, 90.0, UP, {}, (65.0, 30.0)),
    "the strip is as wide as what lands": (
        "wrap", 60.0, 90.0, UP, {"lands_thickness_mm": 8.0}, (68.0, 27.0)),
    "a wrap at the near edge": ("wrap", 60.0, 90.0, UP, {"fold_at": FoldAt.NEAR}, (60.0, 35.0)),
    "a wrap behind": ("wrap", 60.0, 90.0, DOWN, {}, (65.0, -35.0)),
    "a roll": ("roll", 40.0, 90.0, UP, {"radius_mm": 20.0}, (60.0, 15 + 60 - R20)),
    "a roll behind": ("roll", 40.0, 90.0, DOWN, {"radius_mm": 20.0}, (60.0, -20 - (60 - R20))),
    "a hinge lies flat": ("hinge", 60.0, 0.0, UP, {"bevel_deg": 40.0}, (100.0, -5.0)),
    "a hinge is turned into its bevel": (
        "hinge", 60.0, 30.0, UP, {"bevel_deg": 40.0}, (60 + 40 * math.cos(math.pi / 6), 15.0)),
    "a hinge is turned away": ("hinge", 60.0, -90.0, UP, {}, (60.0, -45.0)),
    "a hinge cut from behind": (
        "hinge", 60.0, 30.0, DOWN, {"bevel_deg": 40.0}, (60 + 40 * math.cos(math.pi / 6), -20.0)),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_where_the_far_end_comes_to_lie(name):
    """The whole paper keeps its length and turns about its own line; the other panel keeps its place."""
    kind, x, turn, side, more, (end_x, end_z) = CASES[name]
    shape = folded(rectangle(100.0, 50.0), across(0, kind, x, turn, side=side, **more))
    paper = -T if side is UP else 0.0
    assert at(shape, 1.0, 25.0).pose == Pose()
    assert at(shape, 99.0, 25.0).pose.point(100.0, 25.0, paper) == pytest.approx(
        (end_x, 25.0, end_z), abs=1e-9
    )


@pytest.mark.parametrize("name", CASES)
def test_the_line_the_other_way_round_turns_the_other_panel(name):
    """What lies to the left turns: half a turn about (0, 0) of part and line leaves the picture the same."""
    kind, x, turn, side, more, (end_x, end_z) = CASES[name]
    corner = readings((-100.0, -50.0), (0.0, -50.0), (0.0, 0.0), (-100.0, 0.0))
    line = fold(0, kind, (-x, -900.0), (-x, 900.0), turn, side=side, **more)
    shape = folded(corner, line)
    paper = -T if side is UP else 0.0
    placed = at(shape, -99.0, -25.0).pose.point(-100.0, -25.0, paper)
    assert placed == pytest.approx((-end_x, -25.0, end_z), abs=1e-9)


def test_the_panel_at_the_origin_stays_though_it_lies_to_the_left():
    """The same fold with (0, 0) on its left: now the right panel moves, and the angle between them is the same."""
    line = fold(0, "groove", (60.0, -900.0), (60.0, 900.0), 90.0)
    shape = folded(rectangle(100.0, 50.0), line)
    assert at(shape, 1.0, 25.0).pose == Pose()
    assert at(shape, 99.0, 25.0).pose.point(100.0, 25.0, -T) == pytest.approx((60.0, 25.0, 35.0), abs=1e-9)


def test_a_part_without_folds_is_one_panel():
    part = built(rectangle(100.0, 50.0), cutouts=(hole(0, (50.0, 25.0), 20.0),))
    (one,) = fold_up(part).panels
    assert one.outline == part.outline
    assert one.pose == Pose() and one.folds == () and one.turned_by is None


def test_panels_know_their_folds():
    shape = folded(rectangle(200.0, 50.0), across(0, "groove", 60.0), across(1, "score", 130.0))
    first, middle, last = (at(shape, x, 25.0) for x in (10.0, 100.0, 190.0))
    assert (first.folds, middle.folds, last.folds) == ((0,), (0, 1), (1,))
    assert (first.turned_by, middle.turned_by, last.turned_by) == (None, 0, 1)
    assert {p.of_roll for p in shape.panels} == {None}


def test_a_roll_has_facets_between_its_panels():
    """A quarter turn of radius 20 is 31.4 mm of paper: seven facets at most 5 mm wide."""
    shape = folded(rectangle(100.0, 50.0), across(0, "roll", 40.0, radius_mm=20.0))
    assert [p.of_roll for p in shape.panels].count(0) == 7
    assert at(shape, 10.0, 25.0).of_roll is None and at(shape, 90.0, 25.0).of_roll is None


def test_a_chain_of_folds_adds_up():
    """Four right angles bring a strip back: its fifth panel lies where the first does, 200 mm of paper round."""
    places = (50.0, 100.0, 150.0, 200.0)
    shape = folded(rectangle(240.0, 50.0), *(across(i, "score", x) for i, x in enumerate(places)))
    last = at(shape, 239.0, 25.0)
    # a score opens away from the drawn face, about the paper behind: the fifth panel starts at x = 0 again
    assert last.pose.point(200.0, 25.0, -T) == pytest.approx((0.0, 25.0, -T), abs=1e-9)
    assert last.pose.point(240.0, 25.0, -T) == pytest.approx((40.0, 25.0, -T), abs=1e-9)


def test_up_and_down_make_steps():
    """A groove above and one behind, both 90 degrees: the outer panels lie parallel, 50 mm apart on the paper."""
    shape = folded(rectangle(150.0, 50.0), across(0, "groove", 50.0), across(1, "groove", 100.0, side=DOWN))
    last = at(shape, 140.0, 25.0)
    assert last.pose.matrix[:3, 2] == pytest.approx((0.0, 0.0, 1.0), abs=1e-12)
    # up along x = 50 by 50 mm on the paper behind; the paper of the drawn face stands 5 mm before it
    assert last.pose.point(150.0, 25.0, 0.0) == pytest.approx((45.0 + 50.0, 25.0, 45.0), abs=1e-9)


def test_a_leaning_fold():
    """A line at 45 degrees: the corner beyond it turns about it, by 90 degrees straight up."""
    shape = folded(rectangle(100.0, 100.0), fold(0, "groove", (110.0, 40.0), (40.0, 110.0), 90.0))
    other = folded(rectangle(100.0, 100.0), fold(0, "groove", (40.0, 110.0), (110.0, 40.0), 90.0))
    # the corner (100, 100) is 25 sqrt 2 beyond the line x + y = 150
    for one in (shape, other):
        placed = at(one, 99.0, 99.0).pose.point(100.0, 100.0, -T)
        assert placed == pytest.approx((75.0, 75.0, -5.0 + 25.0 * math.sqrt(2)), abs=1e-9)


def test_a_fold_through_a_window_is_one_fold():
    """Above and below the window the same panel turns."""
    window = cutout(0, rectangle(40.0, 20.0), (40.0, 15.0))
    shape = folded(rectangle(100.0, 50.0), across(0, "groove", 60.0), cutouts=(window,))
    assert len(shape.panels) == 2 and shape.open_mm == pytest.approx(0.0, abs=1e-9)
    assert at(shape, 99.0, 49.0).pose.point(100.0, 0.0, -T) == pytest.approx((60.0, 0.0, 35.0), abs=1e-9)


def test_a_fold_across_both_arms_of_a_fork_turns_both():
    fork = readings((0, 0), (100, 0), (100, 15), (40, 15), (40, 35), (100, 35), (100, 50), (0, 50))
    shape = folded(fork, across(0, "groove", 60.0, 30.0))
    arms = [at(shape, 99.0, y) for y in (5.0, 45.0)]
    assert len(shape.panels) == 3 and arms[0] is not arms[1]
    assert arms[0].pose == arms[1].pose
    assert arms[0].pose.point(100.0, 0.0, -T) == pytest.approx(
        (60 + 40 * math.cos(math.pi / 6), 0.0, 15.0), abs=1e-9
    )


def frame(*folds) -> Folded:
    """A frame 100 square round a window 40 square."""
    return folded(rectangle(100.0, 100.0), *folds, cutouts=(cutout(0, rectangle(40.0, 40.0), (30.0, 30.0)),))


def test_a_frame_folds_along_one_line():
    """Both its bars turn about the same line."""
    shape = frame(across(0, "groove", 50.0))
    assert len(shape.panels) == 2
    assert shape.open_mm == pytest.approx(0.0, abs=1e-9)


def test_a_frame_does_not_fold_along_two_crossing_lines():
    """Four bars, each turned by 90 degrees: one corner would have to be in two places."""
    shape = frame(across(0, "groove", 50.0), fold(1, "groove", (-10.0, 50.0), (110.0, 50.0), 90.0))
    assert len(shape.panels) == 4
    # bent along x = 50 only, the bars beyond y = 50 could not turn: the farthest corner is off by a half side,
    # 50 mm, at least
    assert 50.0 < shape.open_mm < 200.0


def test_a_fold_of_one_bar_of_a_frame_tears_it():
    """One bar folded by 30 degrees, nothing else: the far corners would have to move 2 r sin(15 degrees)."""
    ring = readings((0, 0), (100, 0), (100, 100), (0, 100))
    window = cutout(0, rectangle(40.0, 40.0), (30.0, 30.0))
    shape = folded(ring, fold(0, "groove", (50.0, 32.0), (50.0, -2.0), 30.0), cutouts=(window,))
    assert len(shape.panels) == 1
    assert shape.open_mm == pytest.approx(2 * math.hypot(50.0, T) * math.sin(math.radians(15.0)), rel=0.01)


@pytest.mark.parametrize("turn", [20.0, 90.0])
def test_where_the_origin_lies_on_folds_the_panel_in_the_middle_stays(turn):
    """(0, 0) is a corner of the floor and of two walls: the floor, from which all folds go, keeps its place."""
    cross = readings(
        (0, 0), (0, -30), (80, -30), (80, 0), (110, 0), (110, 60), (80, 60), (80, 90), (0, 90), (0, 60),
        (-30, 60), (-30, 0),
    )  # fmt: skip
    ends = [((80, 0), (0, 0)), ((80, 60), (80, 0)), ((0, 60), (80, 60)), ((0, 0), (0, 60))]
    shape = folded(cross, *(fold(i, "groove", a, b, turn) for i, (a, b) in enumerate(ends)))
    assert shape.panels[0] is at(shape, 40.0, 30.0)
    assert shape.panels[0].pose == Pose()
    for x, y, out in ((40, -30, (0, -1)), (110, 30, (1, 0)), (40, 90, (0, 1)), (-30, 30, (-1, 0))):
        inside = at(shape, x - out[0], y - out[1])
        level, height = 30 * math.cos(math.radians(turn)), 30 * math.sin(math.radians(turn)) - T
        foot = x - 30 * out[0], y - 30 * out[1]
        expected = foot[0] + level * out[0], foot[1] + level * out[1], height
        assert inside.pose.point(x, y, -T) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(("start", "stays"), [((0.0, -30.0), 10.0), ((0.0, 30.0), -10.0)])
def test_of_two_panels_at_the_origin_the_right_one_stays(start, stays):
    """The fold runs through (0, 0): what lies to its left turns, as for a builder who holds the other panel."""
    line = fold(0, "groove", start, (0.0, -start[1]), 90.0)
    shape = folded(readings((-50, -20), (50, -20), (50, 20), (-50, 20)), line)
    assert shape.panels[0] is at(shape, stays, 0.0)


@pytest.mark.parametrize("kind", list(FoldKind))
@pytest.mark.parametrize("side", list(Side))
def test_both_hands_turn_the_same_way(kind, side):
    """The left-hand part folds towards its drawn face where the right-hand one does."""
    more = {"radius_mm": 20.0} if kind is FoldKind.ROLL else {}
    more |= {"bevel_deg": 45.0} if kind is FoldKind.HINGE else {}
    more |= {"band_mm": 12.0} if kind is FoldKind.STRIP else {}
    turn = 90.0 if kind is FoldKind.WRAP else 40.0
    parts = build_part(
        panel(
            readings((0, 0), (100, 4), (100, 50), (0, 50)),
            pair=Hand.RIGHT,
            folds=(fold(0, kind.value, (48.0, 900.0), (40.0, -900.0), turn, side=side, **more),),
        )
    )[0]
    right, left = (fold_up(part) for part in parts)
    up = (side is UP) != (kind is FoldKind.SCORE)
    here, there = at(right, 99.0, 40.0).pose, at(left, 99.0, -40.0).pose
    assert (here.point(100.0, 40.0)[2] > 0) == up
    x, y, z = here.point(100.0, 40.0)
    assert there.point(100.0, -40.0) == pytest.approx((x, -y, z), abs=1e-9)


def test_a_pose_is_given_back_by_its_matrix():
    turned = at(folded(rectangle(100.0, 50.0), across(0, "groove", 60.0, 33.0)), 99.0, 25.0).pose
    assert Pose.of(turned.matrix) == turned
    assert turned.matrix @ (1.0, 2.0, 3.0, 1.0) == pytest.approx((*turned.point(1.0, 2.0, 3.0), 1.0))
    assert np.linalg.det(turned.matrix) == pytest.approx(1.0)
