"""How the boards of a mount stand for every width of a nacelle, and what is opened in the skins for a motor."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.folded_surface import folded_surface_parts
from foamcut.airframe.motors import motor_parts, skin_marks, skin_openings, skin_slots, with_places
from foamcut.airframe.planform import panel_beside
from foamcut.airframe.values import Nose, OverSpar, Run
from foamcut.findings import Level
from foamcut.flat.build import build_part
from tests.airframe.motors_sample import PLY3, firewall, nacelle, on_wing, twin, wing
from tests.airframe.section_surfaces import spar

FIREWALL, T = 45.0, 5.0


def mounted(width, length=66.0, **changed):
    motor = on_wing(nacelle=nacelle(width, length), **changed)
    inputs, _ = with_places(twin(motor))
    made = motor_parts(inputs.motors[0], inputs)
    return inputs, made, {one.name: one for part in made.parts for one in build_part(part)[0]}


def stands(inputs, parts):
    """(s inside, s outside, rear c) of each outer board of the right mount from its axis."""
    panel, _ = panel_beside(inputs.surfaces[0], 162.0)
    found = {}
    for what in ("cheek", "nacelle"):
        part = parts.get(f"motor-wing-{what}-outer-right")
        if part is not None:
            c, at, _ = panel.place(part.place.at)
            middle = panel.place(parts["motor-wing-firewall-right"].place.at)[1]
            found[what] = (at - middle, at - middle + T, c + part.outline.polygon.bounds[2])
    return found


FRONT, SPAR = 34.5, 36.0
#: arithmetic: from the middle out, half the width less 5 mm; the plate ends 22.5 mm out, 34.5 to 36 mm aft
CASES = [
    (35.0, {"nacelle": (12.5, 17.5, FRONT)}),
    (45.0, {"nacelle": (17.5, 22.5, FRONT)}),
    (50.0, {"nacelle": (20.0, 25.0, FRONT)}),
    (52.0, {"nacelle": (21.0, 26.0, FRONT), "cheek": (16.0, 21.0, FRONT)}),
    (55.0, {"nacelle": (22.5, 27.5, SPAR), "cheek": (17.5, 22.5, FRONT)}),
    (60.0, {"nacelle": (25.0, 30.0, SPAR), "cheek": (20.0, 25.0, FRONT)}),
    (70.0, {"nacelle": (30.0, 35.0, SPAR), "cheek": (17.5, 22.5, FRONT)}),
]


@pytest.mark.parametrize(("width", "expected"), CASES)
def test_where_the_boards_stand_for_each_width(width, expected):
    """arithmetic: 45 mm of firewall and boards of 5 mm."""
    inputs, made, parts = mounted(width)
    assert not made.refusals
    found = stands(inputs, parts)
    assert set(found) == set(expected)
    for what, numbers in expected.items():
        assert found[what] == pytest.approx(numbers, abs=0.01)


@given(width=st.floats(35, 90), length=st.floats(60, 69))
def test_something_bears_on_the_firewall_and_nothing_passes_through_another(width, length):
    """common practice, no source: half a board's edge glued to the plate; boards apart, or face to face."""
    inputs, made, parts = mounted(round(width, 1), round(length, 1))
    assert not made.refusals
    found = stands(inputs, parts)
    bearing = [min(outside, 22.5) - inside for inside, outside, rear in found.values() if rear < SPAR - 1]
    assert max(bearing) >= T / 2 - 0.01
    for inside, outside, rear in found.values():
        assert rear <= FRONT + 0.01 or inside >= 22.5 - 0.01 or outside <= 22.5
    if len(found) == 2:
        assert found["cheek"][1] <= found["nacelle"][0] + 0.01
    told = fit_findings(tuple(parts.values()), (), inputs)
    assert [f.text for f in told if f.code.startswith("fit-")] == []


def test_a_gap_between_cheeks_and_sides_is_told_of_with_the_strip_that_fills_it():
    """arithmetic: 70 mm less two boards and the firewall are 15 mm, half of it on each side."""
    for width, value in ((70.0, "7.5 mm"), (60.0, None), (50.0, None)):
        _, made, _ = mounted(width)
        found = [f.value for f in made.findings if "off the cheeks" in f.text]
        assert found == ([value] if value else [])


def test_sides_without_room_for_wires_are_told_of_once():
    """arithmetic: 12 mm and 4 on either end before a nose 34 mm ahead of the spar; with cheeks 10 mm more."""
    for width, length, count in ((50.0, 60.0, 0), (50.0, 53.0, 1), (55.0, 66.0, 0), (55.0, 60.0, 1)):
        _, made, _ = mounted(width, length)
        assert sum("opening for wires" in f.text for f in made.findings) == count


@pytest.mark.parametrize("width", [50.0, 52.0, 55.0, 60.0])
def test_no_board_covers_an_opening_for_wires(width):
    """shapely: the cheek's outline, seen from the side, is clear of the hole where both stand face to face."""
    _, _, parts = mounted(width)
    seen = {}
    for what in ("cheek", "nacelle"):
        for word in ("inner", "outer"):
            part = parts.get(f"motor-wing-{what}-{word}-right")
            if part is not None:
                seen[what, word] = part.outline.polygon
    for word in ("inner", "outer"):
        (hole,) = seen["nacelle", word].interiors
        cheek = seen.get(("cheek", word))
        assert cheek is None or shapely.Polygon(hole).intersection(cheek).area < 1e-6


def test_a_blade_near_the_nacelle_is_a_warning_and_one_that_strikes_it_is_refused():
    """arithmetic: the disc turns 74.24 mm before the spar, so that 72 mm of nacelle leave 2.2 mm."""
    for length, near in ((69.2, None), (72.0, "2.2 mm"), (73.2, "1 mm")):
        inputs, made, parts = mounted(50.0, length)
        assert not made.refusals
        told = fit_findings(tuple(parts.values()), (), inputs)
        found = {(f.level, f.value) for f in told if f.code == "propeller-close"}
        assert found == ({(Level.WARNING, near)} if near else set())
    _, made, _ = mounted(50.0, 73.4)
    assert [r.key for r in made.refusals] == ["motor.wing.nacelle.length"]


WINGS = [
    wing(joiner=None),
    wing(joiner=None, back=160.0, tip=140.0, spar=spar(run=Run.FOLLOW)),
    wing(joiner=None, nose=Nose.SCORED),
    wing(joiner=None, nose=Nose.OPENED, nose_height_mm=None),
    wing(joiner=None, nose=Nose.TWO_SKINS),
    wing(joiner=None, over_spar=OverSpar.BENT),
]


def opened(part):
    """The lines of a part round what is opened, as (x, y) points."""
    return [
        np.array([one.start for one in mark.runs[0]] + [mark.runs[0][-1].end])
        for mark in part.marks
        if getattr(mark, "text", "") == "open for the motor"
    ]


@pytest.mark.parametrize("surface", WINGS)
@pytest.mark.parametrize("width", [50.0, 55.0, None])
def test_both_skins_are_marked_where_the_motor_passes_the_nose(surface, width):
    """shapely: each line ends on its skin, before the slot, and is as wide as what is free between boards."""
    motor = on_wing(nacelle=None if width is None else nacelle(width), firewall=firewall(material=PLY3))
    inputs, _ = with_places(twin(motor, surfaces=(surface,)))
    made = folded_surface_parts(surface, inputs)
    assert not made.refusals
    skins = [
        one
        for part in made.parts
        if "skin" in part.name
        for one in build_part(part)[0]
        if one.name.endswith("right")
    ]
    lines = [(line, one) for one in skins for line in opened(one)]
    assert len(lines) == 2
    free = {50.0: 40.0, 55.0: 35.0, None: 45.0}[width]
    for line, one in lines:
        shape = one.outline.polygon
        assert shape.buffer(0.1).covers(shapely.LineString(line))
        assert np.linalg.norm(line[1] - line[2]) == pytest.approx(free, rel=0.005)
        long = [np.linalg.norm(line[0] - line[1]), np.linalg.norm(line[2] - line[3])]
        assert min(long) > 15
        slots = [hole for hole in shape.interiors if shapely.Polygon(hole).length > 2 * FIREWALL]
        off = min(hole.distance(shapely.LineString(line)) for hole in slots)
        assert 0.5 <= off <= 2.5


def test_what_is_opened_goes_from_the_leading_edge_to_the_slot_round_the_opening_for_wires():
    """arithmetic: from the taper's leading edge, 6 mm back over 552, to 1 mm before the slot."""
    motor = on_wing(nacelle=nacelle(50.0))
    inputs, _ = with_places(twin(motor))
    ((key, line, _),) = skin_marks(inputs.surfaces[0], inputs)
    (slot,), (wires,) = (f(inputs.surfaces[0], inputs) for f in (skin_slots, skin_openings))
    assert key == "motor.wing.open"
    (c0, s0), (c1, s1), (c2, s2), (c3, s3) = line
    assert (s0, s3) == (s1, s2) == pytest.approx((slot.s_mm - 20, slot.s_mm + 20))
    assert (c0, c3) == pytest.approx((s0 * 6 / 552, s3 * 6 / 552))
    front = slot.c_mm - (1.5 + slot.extra_mm + 0.2) / 2
    assert c1 == c2 == pytest.approx(front - 1)
    assert max(c0, c3) < wires.c_mm - 6 and wires.c_mm + 6 < front


def test_what_is_refused_marks_nothing():
    """A mount beyond the tip has no place."""
    inputs = twin(on_wing(out_mm=530.0))
    assert skin_marks(inputs.surfaces[0], inputs) == ()


def test_the_thickness_of_a_firewall_does_not_move_the_front_of_a_nacelle():
    """arithmetic: the length counts from the spar's front face, 36 mm aft, whatever stands before it."""
    for ply in (1.5, 3.0, 6.0):
        material = replace(PLY3, thickness_mm=ply)
        inputs, _, parts = mounted(50.0, firewall=firewall(material=material))
        part = parts["motor-wing-nacelle-outer-right"]
        panel, _ = panel_beside(inputs.surfaces[0], 162.0)
        c = panel.place(part.place.at)[0]
        low, _, high, _ = part.outline.polygon.bounds
        assert (c + low, c + high) == pytest.approx((36 - 66, 36 - ply))
