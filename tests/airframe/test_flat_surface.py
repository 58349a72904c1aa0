"""Stabilisers, fins and flat wings: their boards, where they sit, how they meet."""

import math

import numpy as np
import pytest
import shapely

from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.flat_surface import root_tabs
from foamcut.airframe.planform import panels
from foamcut.airframe.values import Servo
from foamcut.flat.assembled import standing
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Face, Hand
from foamcut.flat.folded_body import Body
from foamcut.flat.joint import ways
from foamcut.flat.stock import SheetSize, Stock
from foamcut.flat.way import Role
from tests.airframe.body_sample import body, on_model
from tests.airframe.flat_sample import T, alone, cut, fin, flat_wing, made_of, model, rows, tail, told, whole


def places(several) -> set[str]:
    return {finding.where for finding in several}


def corners(board: Body, behind: float) -> np.ndarray:
    """Corners of a flat panel on the model, under its drawn face."""
    return np.array([board.panel.pose.point(x, y, -behind) for x, y in board.panel.outline.rings()[0][:-1]])


def test_a_stabiliser_without_dihedral_is_one_board_across() -> None:
    """arithmetic: two trapezoids of 108 x (84 + 66) / 2 mm2; its drawn face is the upper one."""
    (part,) = cut(tail(controls=())).values()

    assert part.hand is Hand.NONE
    assert part.outline.area == pytest.approx(2 * 108 * 75)
    assert part.outline.bounds == (0.0, -108.0, 84.0, 108.0)
    assert on_model(part, [(0, 0), (9, 108), (75, -108)]) == pytest.approx(
        np.array([(768, 0, 59), (777, 108, 59), (843, -108, 59)])
    )
    assert on_model(part, [(0, 0)], T)[0] == pytest.approx((768, 0, 54))


def test_an_angle_lifts_the_nose() -> None:
    """arithmetic: the trailing edge sinks by chord x sin(angle) below the underside of the nose."""
    (part,) = cut(tail(controls=(), angle_deg=3.0)).values()

    assert on_model(part, [(84, 0)], T)[0] == pytest.approx(
        (768 + 84 * math.cos(math.radians(3)), 0, 54 - 84 * math.sin(math.radians(3)))
    )


def test_a_fin_without_a_base_is_its_trapezoid() -> None:
    """arithmetic: 96 x (96 + 60) / 2 mm2; seen from the left, half a board to each side."""
    (part,) = cut(fin(controls=())).values()

    assert part.outline.area == pytest.approx(96 * 78)
    assert on_model(part, [(0, 0), (30, 96)]) == pytest.approx(np.array([(756, -2.5, 72), (786, -2.5, 168)]))
    assert on_model(part, [(0, 0)], T)[0] == pytest.approx((756, 2.5, 72))


def test_a_fin_without_anything_under_it_says_so() -> None:
    one = fin()

    assert "no deck and no stabiliser" in told(one)["surface.fin"]
    assert root_tabs(one, alone(one)) == ()


def test_a_fin_follows_the_deck_and_stands_in_it() -> None:
    """arithmetic: the deck falls from (384, 84) to (864, 66); the fixed root ends at the hinge line, relief
    included; its tab is 40 % of what is left, in the middle."""
    one = fin()
    inputs = model(tail(), one)
    (tab,) = root_tabs(one, inputs)
    part = cut(one, inputs)["fin-panel"]
    slope = math.atan2(18, 480)

    def deck(x: float) -> float:
        return 84 - 18 * (x - 384) / 480

    body_edge = [
        (x + 756, y + 72)
        for x, y in part.outline.rings()[0]
        if abs(y + 72 - deck(x + 756)) < 0.001 and x < 66
    ]
    front, rear = min(body_edge)[0], max(body_edge)[0]
    assert tab.length_mm == pytest.approx(0.4 * (rear - front), abs=0.001)
    assert tab.along_mm == pytest.approx((front + rear) / 2, abs=0.001)
    (root,) = part.tabs
    assert root.at == pytest.approx((tab.along_mm - 756, deck(tab.along_mm) - 72), abs=0.001)
    middle = root.outline.polygon.centroid
    assert (middle.x - root.at[0], middle.y - root.at[1]) == pytest.approx(
        (-T / 2 * math.sin(slope), -T / 2 * math.cos(slope)), abs=0.001
    )
    # nothing but the tab lies below the deck's upper face
    below = [(x, y) for x, y in part.outline.rings()[0] if y + 72 < deck(x + 756) - 0.001]
    assert all(root.outline.polygon.distance(shapely.Point(at)) < 0.001 for at in below)


def test_a_fin_that_widens_upwards_keeps_its_root_below_it() -> None:
    """arithmetic: 30 at the root and 90 at the tip 60 up would run together 30 below; it goes on 30 wide."""
    one = fin(at=(600.0, 80.0), stations=rows("fin", (0, 20, 30, 0), (60, 0, 90, 0)), controls=())
    part = cut(one, model(one, bodies=(body(((0.0, 0.0, 70.0), (864.0, 0.0, 70.0))),)))["fin-panel"]

    assert part.outline.area == pytest.approx(60 * 60 + 10 * 30 + part.tabs[0].outline.area)


def test_a_low_fin_inside_a_body_stands_on_nothing() -> None:
    """A fin of which the deck would cut away more than half was not meant to stand on it."""
    one = fin(at=(600.0, 60.0), stations=rows("fin", (0, 0, 96, 0), (20, 10, 80, 0)), controls=())

    assert "no deck and no stabiliser" in told(one, model(one))["surface.fin"]


def test_a_long_root_has_two_tabs() -> None:
    """arithmetic: at a quarter and at three quarters of a root of 200 on a level deck."""
    one = fin(at=(500.0, 84.0), stations=rows("fin", (0, 0, 200, 0), (96, 0, 200, 0)), controls=())
    level = body(((0.0, 0.0, 84.0), (864.0, 0.0, 84.0)))
    tabs = root_tabs(one, model(one, bodies=(level,)))

    assert [tab.along_mm for tab in tabs] == pytest.approx([550, 650])
    assert [tab.length_mm for tab in tabs] == pytest.approx([40, 40])


def test_the_tail_of_the_twin_fits() -> None:
    """arithmetic in space: tabs in their slots, no board through another; a horn on one side is all that is told."""
    inputs = model(tail(), fin())
    made, parts = whole(inputs)

    assert places(fit_findings(parts, made.shells, inputs)) <= {"surface.fin.rudder.horn"}


def test_a_fin_on_a_stabiliser_that_sits_on_the_deck() -> None:
    """The stabiliser lies higher than the deck: the fin's tab goes through it."""
    lean = math.degrees(math.atan2(18, 480))
    low = tail(at=(768.0, 69.6), angle_deg=lean)
    high = fin(at=(770.0, 75.0), controls=(), stations=rows("fin", (0, 0, 50, 0), (96, 30, 40, 0)))
    inputs = model(low, high)
    made, parts = whole(inputs)
    named = {part.name: part for part in parts}

    assert root_tabs(high, inputs) == ()
    assert len(named["tail-panel"].slots) == 2 + 1  # two for horns
    assert len(named["fin-panel"].tabs) == 1
    assert fit_findings(parts, made.shells, inputs) == ()


@pytest.mark.parametrize("dihedral", [4.0, 35.0, -6.0])
@pytest.mark.parametrize("angle", [0.0, 2.5])
def test_halves_with_dihedral_meet_on_the_centre_plane(dihedral: float, angle: float) -> None:
    """arithmetic: the face that reaches farther ends at y = 0, the bevel takes t tan(dihedral) off the other."""
    several = rows("tail", (0, 0, 84, dihedral), (108, 9, 66, 0))
    named = cut(tail(controls=(), stations=several, angle_deg=angle))
    right = named["tail-panel-right"]
    (bevel,) = right.bevels

    assert set(named) == {"tail-panel-right", "tail-panel-left"}
    assert bevel.angle_deg == pytest.approx(abs(dihedral))
    assert bevel.back is (dihedral < 0)
    low = right.outline.bounds[1]
    assert low == pytest.approx(min(0.0, T * math.tan(math.radians(dihedral))), abs=1e-6)
    outer_face = T if dihedral > 0 else 0.0
    edge = on_model(right, [(10, low), (60, low)], outer_face)
    assert edge[:, 1] == pytest.approx([0, 0], abs=1e-6)
    inner = on_model(right, [(10, low + T * math.tan(math.radians(abs(dihedral))))], T - outer_face)
    assert inner[0, 1] == pytest.approx(0, abs=1e-6)


def test_panels_with_unlike_dihedral_are_boards_of_their_own() -> None:
    """arithmetic: a middle board across, outer ones a pair; each joint bevelled by half of 6 degrees."""
    named = cut(flat_wing())

    assert sorted(named) == ["wing-panel", "wing-panel-2-left", "wing-panel-2-right"]
    assert [bevel.angle_deg for bevel in named["wing-panel"].bevels] == pytest.approx([3, 3])
    assert [bevel.angle_deg for bevel in named["wing-panel-2-right"].bevels] == pytest.approx([3])
    outer = standing(named["wing-panel-2-right"])
    tip = corners(outer.boards[0], T)[:, 1:].max(axis=0)
    assert tip == pytest.approx(
        (300 + 200 * math.cos(math.radians(6)), 80 + 200 * math.sin(math.radians(6))), abs=1e-6
    )


def test_prop_up_height_of_a_half() -> None:
    """published by the trade as b/2 sin(2 g), arithmetic: 600 mm half and 3 degrees give 63 mm."""
    one = flat_wing(stations=rows("wing", (0, 0, 200, 3.0), (600, 0, 200, 0)))
    (drawn,) = made_of(one).parts

    (words,) = [mark.text for mark in drawn.marks if "prop" in mark.text]
    assert "up 62.7 mm" in words
    assert round(62.7) == 63


def test_the_balance_lies_at_the_share_of_the_mean_chord() -> None:
    """arithmetic: chord 200 all along, 25 % at c = 50, on the underside, beside the body on both sides."""
    one = flat_wing(stations=rows("wing", (0, 0, 200, 0), (400, 0, 200, 0)))
    (drawn,) = made_of(one, model(one)).parts
    found = [mark for mark in drawn.marks if mark.kind == "balance"]

    assert [mark.face for mark in found] == [Face.INNER, Face.INNER]
    assert {mark.ratio for mark in found} == {0.25}
    assert sorted(round(mark.points[0][1]) for mark in found) == [-56, 56]


def test_a_balance_off_the_chord_is_told_of() -> None:
    """arithmetic: swept by 300 over 400 out the quarter of the mean chord lies 150 + 25 behind the root's nose."""
    one = flat_wing(stations=rows("wing", (0, 0, 100, 0), (400, 300, 100, 0)))
    (drawn,) = made_of(one).parts

    assert not [mark for mark in drawn.marks if mark.kind == "balance"]
    assert "behind the trailing edge" in told(one)["surface.wing.balance"]
    assert mean_off(told(one)["surface.wing.balance"]) == pytest.approx(150 + 25 - 25 * 0.75 - 100, abs=0.06)


def mean_off(text: str) -> float:
    return float(text.split(" mm ")[0].rsplit(" ", 1)[1])


def test_the_sides_of_a_body_are_marked_under_a_stabiliser() -> None:
    one = tail()
    lines = {
        mark.points[0][1]: mark.face
        for mark in made_of(one, model(one)).parts[0].marks
        if mark.text == "edge of fuselage"
    }

    assert lines == {31.0: Face.INNER, -31.0: Face.INNER}


def test_a_servo_in_a_flat_wing_has_its_opening() -> None:
    """arithmetic: 330 along and 200 out of a wing at 240 is (90, 200); 23 x 12 mm2 are gone, on one side."""
    one = flat_wing()
    servo = Servo(key="servo[0]", drives="aileron", on=("wing", ""), at=(330.0, 200.0), size_mm=(23.0, 12.0))
    part = cut(one, alone(one, servos=(servo,)))["wing-panel"]

    assert part.outline.area == pytest.approx(cut(one)["wing-panel"].outline.area - 23 * 12)
    (hole,) = part.outline.polygon.interiors
    assert shapely.Polygon(hole).centroid.coords[0] == pytest.approx((90, 200))


def test_servos_on_both_sides_of_a_pair_are_one_opening() -> None:
    one = flat_wing()
    servos = tuple(
        Servo(
            key=f"servo[{i}]",
            drives="aileron",
            on=("wing", ""),
            at=(340.0, way * 400.0),
            size_mm=(23.0, 12.0),
        )
        for i, way in enumerate((1, -1))
    )
    named = cut(one, alone(one, servos=servos))

    for name in ("wing-panel-2-right", "wing-panel-2-left"):
        assert len(named[name].outline.polygon.interiors) == 1


def test_a_wing_longer_than_the_board_is_joined_clear_of_its_ailerons() -> None:
    """common practice, no source: at the centre line, no doubler over a control."""
    from tests.airframe.flat_sample import control

    one = flat_wing(
        stations=rows("wing", (0, 0, 204, 0), (600, 30, 140, 0)),
        controls=(control("wing", "aileron", 330.0, 560.0, 40.0, 20.0),),
    )
    stock = Stock(
        key="stock.board", name="board", material="foam board", thickness_mm=T, margin_mm=3.0, gap_mm=2.0,
        sheets=(SheetSize(key="s", width_mm=700.0, height_mm=500.0),),
    )  # fmt: skip
    (part,) = build_part(made_of(one).parts[0])[0]
    pieces = ways(part, stock, most=1)[0].pieces

    doublers = [piece for piece in pieces if piece.role is Role.DOUBLER]
    assert sum(piece.role is Role.SECTION for piece in pieces) == 2
    assert doublers
    assert all(abs(y) < 330 for piece in doublers for y in piece.outline.bounds[1::2])


def test_same_numbers_give_the_same_parts() -> None:
    one = flat_wing()

    assert made_of(one, model(one)) == made_of(one, model(one))
    assert panels(one) == panels(flat_wing())
