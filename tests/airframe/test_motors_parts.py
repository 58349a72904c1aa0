"""The plates and boards of motor mounts: each can be cut, stands where it should and clears the wing."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.affinity import translate

from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.motors import motor_parts, skin_slots, with_places
from foamcut.airframe.planform import panel_beside
from foamcut.airframe.section import section_at
from foamcut.airframe.values import Nose, OverSpar, Run
from foamcut.flat.build import build_part
from tests.airframe.motors_sample import (
    BOARD,
    PLY,
    body,
    firewall,
    in_nose,
    nacelle,
    on_wing,
    twin,
    wing,
)
from tests.airframe.section_surfaces import spar, surfaces


def drawn(inputs):
    inputs, said = with_places(inputs)
    made = [motor_parts(motor, inputs) for motor in inputs.motors]
    refusals = [*said.refusals, *(r for one in made for r in one.refusals)]
    return inputs, [part for one in made for part in one.parts], refusals


def built(inputs):
    inputs, parts, refusals = drawn(inputs)
    assert not refusals
    return inputs, {one.name: one for part in parts for one in build_part(part)[0]}


def seen(part, panel):
    """A board's outline in (c, n) of the section, and s of its drawn face; x is aft, y up."""
    c, s, n = panel.place(part.place.at)
    assert (part.place.x, part.place.y) == (panel.aft, panel.up)
    return translate(part.outline.polygon, c, n), s


NAMES = {"cheek-inner", "cheek-outer", "firewall", "nacelle-inner", "nacelle-outer"}


def test_a_twin_gets_a_firewall_two_cheeks_and_two_sides_of_each_nacelle():
    """arithmetic: five parts a side, and nothing that the assembled model finds fault with."""
    inputs, parts = built(twin())
    assert set(parts) == {f"motor-wing-{name}-{hand}" for name in NAMES for hand in ("right", "left")}
    found = fit_findings(tuple(parts.values()), (), inputs)
    assert [f.text for f in found if f.code.startswith("fit-")] == []
    assert [f.text for f in found if f.code == "propeller-close"] == []


def test_the_firewall_stands_on_the_spar_and_12_mm_out_of_both_skins():
    """common practice, no source: 20 mm of wing and 12 mm above and below; 36 mm to the spar's front."""
    inputs, parts = built(twin())
    plate = parts["motor-wing-firewall-right"]
    panel, _ = panel_beside(inputs.surfaces[0], 162.0)
    c, s, n = panel.place(plate.place.at)
    assert c + plate.thickness_mm == pytest.approx(36)
    low, high = plate.outline.polygon.bounds[1::2]
    assert (n + low, n + high) == pytest.approx((-12, 32))
    assert np.cross(plate.place.x, plate.place.y) == pytest.approx(-np.array(panel.aft))
    (slot,) = skin_slots(inputs.surfaces[0], inputs)
    assert slot.s_mm == pytest.approx(s) and slot.length_mm == pytest.approx(
        plate.outline.polygon.bounds[2] * 2
    )


def test_screws_lie_on_their_circle_round_the_shaft():
    """arithmetic: area of the plate less a hole of 8 and four of 3 mm; middles 12.5 mm off."""
    _, parts = built(twin())
    plate = parts["motor-wing-firewall-right"].outline.polygon
    assert plate.area == pytest.approx(45 * 44 - np.pi * (16 + 4 * 2.25), abs=0.5)
    middles = [shapely.Polygon(hole).centroid for hole in plate.interiors]
    far = sorted(round(float(np.hypot(p.x, p.y)), 3) for p in middles)
    assert far == [0.0, 12.5, 12.5, 12.5, 12.5]


def test_without_screws_a_cross_is_drawn():
    """arithmetic: one hole, and two lines through its middle."""
    _, parts = built(twin(on_wing(firewall=firewall(screws_mm=None))))
    plate = parts["motor-wing-firewall-left"]
    assert len(plate.outline.polygon.interiors) == 1
    assert sum("cross" in mark.key for mark in plate.marks) == 2


def test_without_a_nacelle_the_cheeks_stand_against_the_firewalls_edges():
    """arithmetic: 45 mm between them; with a nacelle they stand inside, two boards of 5 mm nearer."""
    for case, apart in ((None, 45.0), (nacelle(), 35.0)):
        inputs, parts = built(twin(on_wing(nacelle=case)))
        panel, _ = panel_beside(inputs.surfaces[0], 162.0)
        inner, outer = (seen(parts[f"motor-wing-cheek-{w}-right"], panel)[1] for w in ("inner", "outer"))
        assert outer - (inner + 5) == pytest.approx(apart)


def test_a_nacelle_is_as_wide_as_asked_and_ends_before_the_propeller():
    """arithmetic: 55 mm over both sides; 66 mm from the spar's front face, 36 mm aft, forwards.

    The opening for wires ends before the cheek, which begins 10 mm before the nose: 12 mm long, 8 high.
    """
    inputs, parts = built(twin())
    panel, _ = panel_beside(inputs.surfaces[0], 162.0)
    (inner, low), (outer, high) = (
        seen(parts[f"motor-wing-nacelle-{w}-right"], panel) for w in ("inner", "outer")
    )
    assert high + 5 - low == pytest.approx(55)
    for shape in (inner, outer):
        assert shape.bounds[0] == pytest.approx(36 - 66) and shape.bounds[2] == pytest.approx(36)
        assert [round(shapely.Polygon(hole).area) for hole in shape.interiors] == [12 * 8]


WINGS = [
    wing(),
    wing(back=160.0, tip=140.0, spar=spar(run=Run.FOLLOW)),
    wing(nose=Nose.SCORED),
    wing(nose=Nose.OPENED, nose_height_mm=None),
    wing(over_spar=OverSpar.BENT),
    wing(spar=spar(layers=3, tip_layers=1)),
]


@pytest.mark.parametrize("surface", WINGS)
@pytest.mark.parametrize("case", [None, nacelle(length=60.0)])
def test_boards_clear_the_wing_by_half_a_millimetre(surface, case):
    """shapely: the section at each face of a board lies 0.5 mm off it and no nearer."""
    inputs, parts = built(twin(on_wing(nacelle=case), surfaces=(surface,)))
    panel, _ = panel_beside(surface, 162.0)
    boards = [part for name, part in parts.items() if name.endswith("right") and "firewall" not in name]
    assert len(boards) == (2 if case is None else 4)
    for part in boards:
        shape, s = seen(part, panel)
        gaps = [
            shape.distance(shapely.Polygon(section_at(surface, panel, at).outline))
            for at in (s, s + 2.5, s + 5)
        ]
        assert 0.499 <= min(gaps) <= 0.521
        assert shape.geom_type == "Polygon" and shape.buffer(-1.9).geom_type == "Polygon"
    found = fit_findings(tuple(parts.values()), (), inputs)
    assert [f.text for f in found if f.code == "fit-through"] == []


def test_before_a_swept_spar_the_firewall_touches_at_one_edge_and_a_wedge_is_told_of():
    """arithmetic: 45 mm at 160 / 552 are 13.04 mm."""
    surface = WINGS[1]
    motor = on_wing(nacelle=None)
    inputs = twin(motor, surfaces=(surface,))
    (found,) = (f for f in motor_parts(motor, inputs).findings if "swept" in f.text)
    assert found.value == "13 mm"
    (slot,) = skin_slots(surface, inputs)
    assert slot.c_mm + 0.75 == pytest.approx(36 + (slot.s_mm - 22.5) * 160 / 552)


WHOLE_WINGS = st.builds(
    wing,
    dihedral=st.floats(-5, 12),
    back=st.floats(-20, 200),
    tip=st.floats(80, 204),
    nose=st.sampled_from(Nose),
    over_spar=st.sampled_from(OverSpar),
    spar=st.builds(spar, layers=st.integers(1, 3), behind_mm=st.floats(32, 50), run=st.sampled_from(Run)),
)


@given(
    surface=surfaces() | WHOLE_WINGS | WHOLE_WINGS,
    share=st.floats(0.2, 0.9) | st.floats(0.0, 1.1),
    width=st.integers(32, 60),
    height=st.none() | st.integers(45, 120) | st.integers(20, 45),
    screws=st.none() | st.integers(16, 40),
    ahead=st.integers(40, 120) | st.integers(5, 40),
    turns=st.tuples(st.integers(-6, 6), st.integers(-6, 6)),
    nacelle_mm=st.none() | st.tuples(st.integers(8, 20), st.floats(0.5, 1.1)),
    ply=st.sampled_from((0.8, 1.5, 3.0, 6.0)),
)
def test_every_mount_can_be_cut_or_is_refused_with_its_reason(
    surface, share, width, height, screws, ahead, turns, nacelle_mm, ply
):
    """A mount of any numbers on any wing: what is not refused can be cut and clears the wing (shapely)."""
    out = share * surface.half_span_mm
    material = replace(PLY, thickness_mm=ply)
    spar_mm = surface.spar.behind_mm + ahead
    sides = nacelle(width + nacelle_mm[0], nacelle_mm[1] * spar_mm) if nacelle_mm else None
    motor = on_wing(
        out_mm=out,
        firewall=firewall(material=material, width_mm=width, height_mm=height, screws_mm=screws),
        ahead_mm=ahead,
        outwards_deg=turns[0],
        down_deg=turns[1],
        nacelle=sides,
    )
    _inputs, parts, refusals = drawn(twin(motor, surfaces=(surface,), bodies=()))
    assert all(r.key.startswith("motor.wing") and r.text for r in refusals)
    for part in parts:
        if refusals and "firewall" in part.name:
            continue
        for one in build_part(part)[0]:
            if one.name.endswith("right") and "firewall" not in one.name:
                panel, _ = panel_beside(surface, out)
                shape, s = seen(one, panel)
                section = shapely.Polygon(section_at(surface, panel, s).outline)
                assert shape.intersection(section).area < 1e-3


def test_a_nose_firewall_covers_the_front_of_the_body():
    """arithmetic: 62 mm wide, from 12 to 72 mm up, its rear face on the front edges of the sides."""
    _inputs, parts = built(twin(in_nose(right_deg=2.0, down_deg=2.0)))
    plate = parts["motor-nose-firewall"]
    left, low, right, high = plate.outline.polygon.bounds
    x, y, z = plate.place.at
    assert (x + plate.thickness_mm, y, z) == pytest.approx((0, 0, 42))
    assert (left, right, z + low, z + high) == pytest.approx((-31, 31, 12, 72))
    assert np.cross(plate.place.x, plate.place.y) == pytest.approx([-1, 0, 0])


def test_a_nose_firewall_lets_air_in_inside_the_body():
    """arithmetic: holes of 10 mm between the inside faces, above the floor, off the screws."""
    _, parts = built(twin(in_nose()))
    holes = [shapely.Polygon(hole) for hole in parts["motor-nose-firewall"].outline.polygon.interiors]
    air = [hole for hole in holes if hole.area > 70]
    assert air
    for hole in air:
        left, low, right, _ = hole.bounds
        assert left > -26 and right < 26 and low > -30 + 5
        assert all(hole.distance(other) > 2 for other in holes if other is not hole)
    low_front = body(width=40.0)
    motor = in_nose(firewall=firewall("motor.nose", width_mm=40.0, height_mm=30.0))
    inputs, _ = with_places(twin(motor, bodies=(low_front,)))
    made = motor_parts(inputs.motors[0], inputs)
    assert any("lets air" in f.text for f in made.findings)


def test_a_nose_firewall_may_stand_between_the_sides():
    """arithmetic: 62 mm less two boards; between the floor's and the upper edge's inside."""
    _inputs, parts = built(
        twin(
            in_nose(
                at_mm=(30.0, 45.0), firewall=firewall("motor.nose", width_mm=62.0 - 2 * BOARD.thickness_mm)
            )
        )
    )
    plate = parts["motor-nose-firewall"]
    assert plate.place.at[0] + 1.5 == pytest.approx(30)
    low = plate.place.at[2] + plate.outline.polygon.bounds[1]
    assert low > 12 - 12 * 30 / 48 + 5


def test_parts_are_the_same_when_made_again():
    """Nothing but the numbers says what is made."""
    assert drawn(twin()) == drawn(twin())
