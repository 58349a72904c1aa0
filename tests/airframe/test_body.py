"""Parts of a box body, held against arithmetic and put together on the model."""

import math

import numpy as np
import pytest
from shapely import LineString, Polygon

from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.values import Corners, Firewall, Motor, Propeller
from foamcut.findings import Level
from foamcut.flat.build import check_fits
from foamcut.flat.drawn import Face, FoldKind, Hand
from foamcut.flat.joint import ways
from foamcut.flat.stock import SheetSize, Stock
from tests.airframe.body_sample import (
    PLY,
    READINGS,
    STRAIGHT,
    WIDTH,
    T,
    bare,
    body,
    built,
    dowels,
    folded,
    former,
    made_of,
    on_model,
    plain,
    servo,
    tail,
    trough,
    twin,
    wing,
)

BOTTOM = [(x, low) for x, low, _ in READINGS]
TOP = [(x, top) for x, _, top in READINGS]


def shoelace(points):
    """arithmetic: the shoelace formula."""
    x, y = np.array(points).T
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2


def test_the_twin_has_every_part_once():
    made = made_of(twin())
    assert made.refusals == ()
    words = ["side", "floor", "deck", "hatch", "nose", "former-1", "former-2", "former-3", "tail", "doubler"]
    assert [part.name for part in made.parts] == [f"fuselage-{word}" for word in words]
    assert [part.name for part in made.parts if part.pair is Hand.RIGHT] == [
        "fuselage-side",
        "fuselage-doubler",
    ]
    assert all(part.count == 1 and part.place is not None for part in made.parts)


@pytest.mark.parametrize(
    ("corners", "floor"), [(Corners.BUTT, 52.0), (Corners.WRAPPED, 62.0), (Corners.MITRED, 62.0)]
)
def test_corners_decide_the_width_of_the_floor_and_leave_the_inside(corners, floor):
    """arithmetic: butt 62 - 2 x 5; wrapped and mitred corners show the floor's whole width of 62.

    Whatever the corners, 52 mm are left inside (common practice: inside = outside - 2 t).
    """
    parts = built(twin(body(corners=corners)))
    assert parts["fuselage-floor"].width_mm == parts["fuselage-deck"].width_mm == floor
    x0, _, x1, _ = parts["fuselage-former-3"].outline.bounds
    assert x1 - x0 == pytest.approx(52.0 + 2 * T)  # its tabs fill both sides
    assert parts["fuselage-former-1"].length_mm == 42.0  # between the nose doublers


def test_floor_deck_and_hatch_are_as_long_as_their_outer_paper():
    """reference library: the length of shapely's line through the readings."""
    parts = built(twin())
    assert parts["fuselage-floor"].length_mm == pytest.approx(LineString(BOTTOM).length, abs=1e-5)
    deck = LineString([(456.0, 84 - 18 * 72 / 480), (864.0, 66.0)]).length
    assert parts["fuselage-deck"].length_mm == pytest.approx(deck, abs=1e-5)
    assert parts["fuselage-hatch"].length_mm == pytest.approx(168.0 - 1.0)
    assert parts["fuselage-hatch"].width_mm == pytest.approx(52.0 - 0.5)


def test_the_floor_is_grooved_where_it_turns_up_and_marked_where_it_hardly_turns():
    """arithmetic: slopes -12/48, 12/336 and 24/480 turn by 16.1 and 0.8 degrees."""
    floor = built(twin())["fuselage-floor"]
    turns = np.degrees(np.diff(np.arctan([-12 / 48, 12 / 336, 24 / 480])))
    assert [fold.kind for fold in floor.folds] == [FoldKind.GROOVE]
    assert floor.folds[0].turn_deg == pytest.approx(turns[0])
    assert any("bends a little" in getattr(mark, "text", "") for mark in floor.marks)
    assert abs(turns[1]) < 2


def test_a_floor_that_turns_down_is_scored():
    rows = ((0.0, 0.0, 80.0), (200.0, 0.0, 80.0), (400.0, -40.0, 80.0))
    floor = built(bare(plain(rows)))["fuselage-floor"]
    assert [fold.kind for fold in floor.folds] == [FoldKind.SCORE]
    assert not floor.folds[0].rises


def test_the_folded_floor_lies_on_the_lower_edge_and_between_the_sides():
    """arithmetic in space: every corner of its outer paper on the readings' line, at 26 mm to each side."""
    rows = ((0.0, 30.0, 90.0), (80.0, 0.0, 90.0), (300.0, 0.0, 90.0), (500.0, 40.0, 90.0))
    part = built(bare(plain(rows)))["fuselage-floor"]
    whole, matrix = folded(part)
    line = LineString([(x, low) for x, low, _ in rows])
    assert len(whole.panels) == 3
    for panel in whole.panels:
        for x, y in panel.outline.rings()[0]:
            at = matrix @ np.append(panel.pose.point(x, y, -T), 1.0)
            assert line.distance(LineString([(at[0], at[2])] * 2)) < 1e-6
            assert abs(at[1]) == pytest.approx(WIDTH / 2 - T, abs=1e-9)


def test_the_area_of_a_side_is_that_of_the_readings_less_its_holes():
    """arithmetic: the shoelace formula, pi r^2 for dowels, length x width with the fit for slots."""
    one = plain(formers=(former(0, 228.0), former(1, 456.0, material=PLY)))
    part = built(bare(one, dowels=dowels((216.0, 42.0), (600.0, 50.0))))["fuselage-side-right"]
    whole = shoelace([*BOTTOM, *reversed(TOP)])
    slots = sum(slot.length_mm * slot.width_mm for slot in part.slots)
    assert [slot.width_mm for slot in part.slots] == [5.2, 1.7]
    assert part.outline.area == pytest.approx(whole - slots - 2 * math.pi * 9.0, abs=0.2)


def test_a_former_fills_the_inside_to_a_millionth():
    """arithmetic in space: sides at y = 26, the floor's inner face under it, the hatch over it."""
    parts = built(twin())
    one = parts["fuselage-former-3"]
    corners = on_model(one, [(-26.0, 0.0), (26.0, 0.0), (26.0, one.outline.bounds[3])])
    side = parts["fuselage-side-right"]
    inner = on_model(side, [(456.0, 30.0)])[0]
    assert corners[1][1] == pytest.approx(inner[1], abs=1e-6)
    floor = 12.0 + 24 * (461 - 384) / 480 + T / math.cos(math.atan(24 / 480))
    deck = 84.0 - 18 * (461 - 384) / 480 - T / math.cos(math.atan(18 / 480))
    assert corners[0] == pytest.approx([461.0, -26.0, floor], abs=1e-6)
    assert corners[2][2] == pytest.approx(deck, abs=1e-6)
    front = on_model(one, [(0.0, 1.0)], behind_mm=T)[0]
    assert front[0] == pytest.approx(456.0, abs=1e-9)


def test_sides_stand_outside_on_the_width_and_mirror_each_other():
    parts = built(twin())
    right, left = parts["fuselage-side-right"], parts["fuselage-side-left"]
    assert on_model(right, [(100.0, 50.0)], behind_mm=T)[0] == pytest.approx([100.0, 31.0, 50.0])
    assert on_model(left, [(100.0, -50.0)], behind_mm=T)[0] == pytest.approx([100.0, -31.0, 50.0])
    assert right.face is Face.INNER


@pytest.mark.parametrize("one", [*(body(corners=kind) for kind in Corners), trough()], ids=str)
def test_nothing_misses_on_the_model(one):
    """arithmetic in space: edges against faces, tabs in slots, parts through each other."""
    inputs = twin(one)
    made = made_of(inputs)
    parts = list(built(inputs).values())
    assert check_fits(parts) == ()
    assert fit_findings(parts, made.shells, bare(one)) == ()


def test_tabs_reach_through_the_sides_into_slots_of_their_length():
    """common practice, no source: tabs 15 to 25 mm long; no tab beside a nose doubler."""
    parts = built(twin())
    tabs = {name: [tab.length_mm for tab in part.tabs] for name, part in parts.items() if part.tabs}
    assert sorted(tabs) == ["fuselage-former-2", "fuselage-former-3"]
    assert all(15 <= length <= 25 for lengths in tabs.values() for length in lengths)
    slots = parts["fuselage-side-right"].slots
    assert [slot.length_mm - slot.fit_mm for slot in slots] == [max(tabs[name]) for name in sorted(tabs)]


def test_nose_doublers_lie_inside_the_sides_with_their_openings():
    parts = built(twin())
    side, doubler = parts["fuselage-side-right"], parts["fuselage-doubler-right"]
    assert on_model(doubler, [(100.0, 50.0)], behind_mm=T)[0] == pytest.approx([100.0, 26.0, 50.0])
    ours = [Polygon(ring).centroid.coords[0] for ring in doubler.outline.rings()[1:]]
    theirs = [Polygon(ring).centroid.coords[0] for ring in side.outline.rings()[1:]]
    assert len(ours) == 2  # the air inlet and the front dowel
    assert all(min(math.dist(one, other) for other in theirs) < 1e-5 for one in ours)
    assert [bevel.angle_deg for bevel in doubler.bevels] == [60.0]
    assert doubler.outline.bounds[3] == pytest.approx(83.0)


def test_mitred_corners_are_bevelled_on_both_parts_along_the_same_line():
    """arithmetic: 45 degrees take a board's thickness off the inner face, which leaves 62 - 2 x 5."""
    parts = built(twin(body(corners=Corners.MITRED)))
    for name in ("fuselage-floor", "fuselage-side-right", "fuselage-deck"):
        assert {bevel.angle_deg for bevel in parts[name].bevels} == {45.0}
        assert {round(bevel.width_mm, 9) for bevel in parts[name].bevels} == {T}
    edges = [run for bevel in parts["fuselage-side-right"].bevels for run in bevel.edge]
    along = sum(math.dist(run[0].start, run[-1].end) for run in edges)
    deck = parts["fuselage-deck"].length_mm
    assert along == pytest.approx(LineString(BOTTOM).length + deck, abs=1e-4)


def test_air_leaves_through_twice_the_area():
    """common practice, no source: the outlet about twice the inlet."""
    side = built(bare(plain(cooling_in_mm=(100.0, 10.0), cooling_out_mm=(600.0, 16.0))))[
        "fuselage-side-right"
    ]
    areas = sorted(Polygon(ring).area for ring in side.outline.rings()[1:])
    assert areas[1] == pytest.approx(2 * areas[0])
    assert areas[0] == pytest.approx(12.0 * 10.0)


def test_straps_pass_the_floor_beside_the_doublers():
    floor = built(twin())["fuselage-floor"]
    boxes = [Polygon(ring).bounds for ring in floor.outline.rings()[1:]]
    assert len(boxes) == 4
    assert {round(max(abs(y0), abs(y1)), 6) for _, y0, _, y1 in boxes} == {42 / 2 - 3}
    assert all((x1 - x0, y1 - y0) == pytest.approx((20.0, 3.0)) for x0, y0, x1, y1 in boxes)


def test_a_servo_in_the_deck_lies_where_it_is_asked_for():
    deck = built(twin(servos=(servo("deck", (672.0, 4.0)),)))["fuselage-deck"]
    middle = Polygon(deck.outline.rings()[1]).centroid
    at = on_model(deck, [(middle.x, middle.y)], behind_mm=T)[0]
    assert at[:2] == pytest.approx([672.0, 4.0], abs=1e-6)


@pytest.mark.parametrize(
    ("word", "part"), [("side", "side-right"), ("hatch", "hatch"), ("former-3", "former-3")]
)
def test_servos_go_into_every_panel(word, part):
    at = {"side": (150.0, 40.0), "hatch": (150.0, 0.0), "former-3": (0.0, 50.0)}[word]
    with_servo = built(twin(servos=(servo(word, at),)))[f"fuselage-{part}"]
    without = built(twin(servos=()))[f"fuselage-{part}"]
    assert without.outline.area - with_servo.outline.area == pytest.approx(23.0 * 12.0, abs=1e-3)


def test_a_firewall_in_the_nose_takes_the_place_of_the_front_plate():
    propeller = Propeller(key="motor.nose.propeller", diameter_mm=150.0)
    firewall = Firewall(key="motor.nose.firewall", material=PLY, width_mm=62.0)
    motor = Motor(
        key="motor.nose", name="nose", on="fuselage", on_wing=False, ahead_mm=30.0, firewall=firewall,
        propeller=propeller,
    )  # fmt: skip
    assert "fuselage-nose" in built(bare(plain()))
    assert "fuselage-nose" not in built(bare(plain(), motors=(motor,)))


def test_a_low_rear_has_no_end_plate():
    rows = ((0.0, 0.0, 60.0), (300.0, 0.0, 60.0), (600.0, 30.0, 44.0))
    assert "fuselage-tail" not in built(bare(plain(rows)))
    assert "fuselage-tail" in built(bare(plain()))


def test_a_body_that_ends_in_an_edge_has_a_floor_as_far_as_there_is_room():
    """arithmetic: from 60 mm at 300 to 0 at 600 the height is 10, two boards, at 550."""
    rows = ((0.0, 0.0, 60.0), (300.0, 0.0, 60.0), (600.0, 0.0, 0.0))
    assert built(bare(plain(rows)))["fuselage-floor"].length_mm == pytest.approx(550.0)


def test_long_sides_and_floors_are_joined_off_everything_that_matters():
    stock = Stock(
        key="stock.board", name="board", material="", thickness_mm=T, margin_mm=3.0, gap_mm=2.0,
        sheets=(SheetSize(key="s", width_mm=700.0, height_mm=500.0),),
    )  # fmt: skip
    parts = built(twin())
    lines = {}
    for name in ("fuselage-side-right", "fuselage-side-left", "fuselage-floor"):
        way = ways(parts[name], stock, most=1)[0]
        lines[name] = [joint.x_mm for joint in way.joints]
        assert len(lines[name]) == 1
    kept = [(239.0, 445.0), (60.0, 65.0), (228.0, 233.0), (456.0, 461.0), (768.0, 852.0), (592.0, 608.0)]
    for name, (x,) in lines.items():
        if "side" in name:
            assert all(x <= low - 50.0 or x >= high + 50.0 for low, high in kept)
    right, left = lines["fuselage-side-right"][0], lines["fuselage-side-left"][0]
    assert abs(right - left) >= 100.0  # common practice, no source: staggered by a doubler's length


def test_formers_far_apart_and_an_open_top_are_told_of():
    found = [finding for finding in made_of(twin()).findings if finding.code == "body-panel"]
    texts = [finding.text for finding in found if finding.level is Level.NOTE]
    assert any("between 456 mm and 859 mm" in text for text in texts)
    assert any("from above at 0 to 60 mm" in text for text in texts)


def test_side_marks_say_where_formers_stand_and_where_tape_lies():
    marks = built(twin())["fuselage-side-right"].marks
    inner = {mark.text for mark in marks if mark.face is Face.INNER}
    outer = {mark.text for mark in marks if mark.face is Face.OUTER}
    assert {"F1", "F2", "F3", "floor, inside", "deck, inside", "hatch, inside"} <= inner
    assert outer == {"belly tape up to here", "wing: packing tape over the edge"}


def test_a_stabiliser_goes_through_a_slot_of_its_chord_and_thickness():
    """arithmetic: chord at the side's faces + 0.5 mm (common practice), thickness + fit."""
    part = built(twin(surfaces=(tail(at=(750.0, 54.0)),)))["fuselage-side-right"]
    slot = max((Polygon(ring) for ring in part.outline.rings()[1:]), key=lambda hole: hole.length)
    x0, z0, x1, z1 = slot.bounds
    lead, trail = (750.0 + 6 * 26 / 216, 750.0 + 84 - 12 * 26 / 216)
    assert (x0, x1) == pytest.approx((lead - 0.25, trail + 0.25), abs=1e-5)
    assert (z0, z1) == pytest.approx((54.0 - 0.1, 59.0 + 0.1), abs=1e-5)


def test_a_slot_is_open_where_the_stabiliser_passes_the_end_of_the_body():
    part = built(twin(surfaces=(tail(at=(800.0, 50.0)),)))["fuselage-side-right"]
    ring = [point for point in part.outline.rings()[0] if point[0] == pytest.approx(864.0)]
    assert sorted({round(z, 3) for _, z in ring}) == [36.0, 49.9, 55.1, 66.0]
    assert all(Polygon(hole).bounds[2] < 700 for hole in part.outline.rings()[1:])


@pytest.mark.parametrize(("left", "holes"), [(14.0, 0), (16.0, 1)])
def test_a_slot_leaves_no_sliver_of_board_behind_it(left, holes):
    """arithmetic: the trailing edge at the side's inner face, and 0.25 mm, lies `left` before the end.

    15 mm: common practice, no source.
    """
    trailing = 84 - 12 * 26 / 216 + 0.25
    one = twin(surfaces=(tail(at=(864.0 - left - trailing, 54.0)),))
    part = built(one)["fuselage-side-right"]
    assert sum(Polygon(ring).length > 150 for ring in part.outline.rings()[1:]) == holes
    assert part.outline.rings()[0].count((864.0, 66.0)) == 1


def test_a_stabiliser_on_the_deck_has_a_mark_and_no_slot():
    one = body((STRAIGHT[0], (48.0, 0.0, 84.0), (864.0, 0.0, 84.0)))
    parts = built(twin(one, surfaces=(tail(at=(768.0, 84.0)),)))
    assert all(Polygon(ring).length < 150 for ring in parts["fuselage-side-right"].outline.rings()[1:])
    texts = {mark.text for mark in parts["fuselage-deck"].marks if mark.face is Face.OUTER}
    assert texts == {"tail from here", "tail to here"}


def test_the_saddle_is_the_lower_paper_of_the_wing_at_its_angle():
    """arithmetic: z = 54 - (x - 240) tan 1, raised over the side by its 2 degrees of dihedral."""
    part = built(twin(surfaces=(wing(),)))["fuselage-side-right"]
    ring = LineString(part.outline.rings()[0])
    for x in (260.0, 330.0, 430.0):
        z = ring.intersection(LineString([(x, 30.0), (x, 80.0)])).bounds[1]
        below = 54.0 - (x - 240.0) * math.tan(math.radians(1.0))
        rise = [y * math.tan(math.radians(2.0)) for y in (26.0, 31.0)]
        assert below + rise[0] - 0.02 <= z <= below + rise[1] + 0.02
    assert {p for p in part.outline.rings()[0] if 230 < p[0] < 240}, "open a millimetre before the nose"


def test_a_former_under_the_wing_ends_at_its_lowest_paper():
    """arithmetic: the root's underside on the centre plane, 54 - 60 tan 1 at the former's rear face."""
    one = body(formers=(former(0, 295.0),))
    part = built(twin(one, surfaces=(wing(),)))["fuselage-former-1"]
    top = on_model(part, [(0.0, part.outline.bounds[3])])[0]
    assert top[2] == pytest.approx(54.0 - 60.0 * math.tan(math.radians(1.0)), abs=0.02)


def test_wrapped_floors_say_how_far_the_foam_is_lifted():
    """common practice: foam off over a thickness at each edge, the side stands on the paper left."""
    made = made_of(twin(body(corners=Corners.WRAPPED)))
    floor = next(part for part in made.parts if part.name == "fuselage-floor")
    lines = [mark.points[0][1] for mark in floor.marks if "lift the foam" in mark.text]
    assert lines == [-26.0, 26.0]
    shell = next(shell for shell in made.shells if shell.part == "fuselage-floor")
    assert np.abs(shell.outer[:, :, 1]).max() == pytest.approx(26.0)
