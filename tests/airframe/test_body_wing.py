"""Saddles against the wing as generated, low wings, the tail's place at the end, tabs of fins in the deck."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from foamcut.airframe import body_strips
from foamcut.airframe.body_wing import outline_beside
from foamcut.airframe.meets import TabInto
from foamcut.airframe.values import Build, Role, Surface
from foamcut.findings import Level
from foamcut.flat.build import build_part
from tests.airframe.body_sample import (
    BOARD,
    WIDTH,
    T,
    bare,
    body,
    built,
    former,
    made_of,
    on_model,
    plain,
    servo,
    stations,
    tail,
    twin,
    wing,
)

LONG = ((0.0, 0.0, 84.0), (700.0, 0.0, 84.0))


def side_of(inputs):
    return built(inputs)["fuselage-side-right"].outline.polygon


def flat_wing(**more):
    values = {"build": Build.FLAT, "spar": None, "nose_height_mm": None} | more
    return wing(**values)


@given(
    st.sampled_from([Build.FOLDED, Build.FLAT]),
    st.floats(-2, 4),
    st.floats(0, 5),
    st.floats(-10, 300),
    st.floats(52, 58),
)
def test_the_side_gives_the_wing_its_place_and_no_more(build, angle, rise, back, up):
    """reference library: shapely's difference of the side and the wing's section at both its faces.

    Between the faces the wing rises by a board's thickness x tan(dihedral), and so much the edge is off.
    """
    rows = stations("surface.wing", (0.0, 0.0, 204.0, rise), (552.0, back, 162.0, 0.0))
    make = wing if build is Build.FOLDED else flat_wing
    one = make(stations=rows, angle_deg=angle, at=(200.0, up))
    side = side_of(bare(plain(LONG), surfaces=(one,)))
    faces = [outline_beside(one, WIDTH / 2 - T * share) for share in (0.0, 0.3, 0.6, 1.0)]
    for face in faces:
        assert side.intersection(face).area < 0.2  # points a thousandth apart are one, along 200 mm
    beside = shapely.union_all(faces)
    x0, _, x1, _ = beside.bounds
    for share in (0.1, 0.5, 0.9):
        ray = LineString([(x0 + share * (x1 - x0), z) for z in (-50.0, 150.0)])
        assert beside.intersection(ray).bounds[1] == pytest.approx(
            side.intersection(ray).bounds[3], abs=0.002
        )
    for x in (x0 - 0.99, x1 + 0.99):
        assert side.intersection(LineString([(x, up + 25.0), (x, 84.0)])).length < 1e-6
    for x in (x0 - 1.01, x1 + 1.01):
        assert side.intersection(LineString([(x, up + 25.0), (x, 84.0)])).length > 0.9


def test_a_low_wing_is_let_in_from_below_and_parts_the_floor():
    """arithmetic: a flat wing of 5 mm at 12 takes the side up to 17 and the floor from 199 to 405."""
    one = flat_wing(
        at=(200.0, 12.0),
        angle_deg=0.0,
        stations=stations("surface.wing", (0.0, 0.0, 204.0, 0.0), (500.0, 0.0, 204.0, 0.0)),
    )
    inputs = bare(plain(LONG, formers=(former(0, 300.0),)), surfaces=(one,))
    parts = built(inputs)
    assert parts["fuselage-floor-1"].length_mm == pytest.approx(199.0)
    assert parts["fuselage-floor-2"].length_mm == pytest.approx(700.0 - 405.0)
    ray = LineString([(300.0, -10.0), (300.0, 100.0)])
    assert side_of(inputs).intersection(ray).bounds[1] == pytest.approx(17.0)
    foot = on_model(parts["fuselage-former-1"], [(0.0, 0.0)])[0]
    assert foot == pytest.approx([305.0, 0.0, 17.0])


def test_a_wing_over_a_falling_edge_is_told_of():
    rows = ((0.0, 0.0, 84.0), (250.0, 0.0, 60.0), (700.0, 0.0, 30.0))
    found = made_of(bare(plain(rows), surfaces=(wing(at=(200.0, 54.0)),)))
    assert found.refusals == ()
    told = [finding for finding in found.findings if finding.level is Level.WARNING]
    assert [finding.where for finding in told] == ["surface.wing"]
    assert float(told[0].value.split()[0]) > 0.5


def test_an_end_plate_ends_under_the_stabiliser():
    """arithmetic: underside at 50 less half the fit of 0.2 mm, floor's inside at 5."""
    parts = built(bare(plain(LONG), surfaces=(tail(at=(640.0, 50.0)),)))
    plate = parts["fuselage-tail"]
    assert plate.outline.bounds[3] == pytest.approx(49.9 - 5.0)


def fin():
    return Surface(
        key="surface.fin", name="fin", role=Role.FIN, build=Build.FLAT, material=BOARD, at=(560.0, 84.0),
        stations=stations("surface.fin", (0.0, 0.0, 96.0, 0.0), (96.0, 20.0, 60.0, 0.0)),
    )  # fmt: skip


def test_tabs_of_a_fin_find_slots_in_the_deck(monkeypatch):
    """arithmetic: a place along lies at the same place along the deck's paper, whatever it slopes."""
    tabs = (
        TabInto(key="surface.fin.tabs[0]", along_mm=580.0, length_mm=20.0),
        TabInto(key="surface.fin.tabs[1]", along_mm=640.0, length_mm=20.0),
    )
    monkeypatch.setattr(body_strips, "root_tabs", lambda surface, inputs: tabs)
    rows = ((0.0, 0.0, 84.0), (400.0, 0.0, 84.0), (700.0, 0.0, 40.0))
    parts = built(bare(plain(rows, deck_mm=(300.0, 700.0)), surfaces=(fin(),)))
    deck = parts["fuselage-deck"]
    assert [slot.length_mm - slot.fit_mm for slot in deck.slots] == pytest.approx([20.0, 20.0])
    assert [slot.width_mm for slot in deck.slots] == pytest.approx([5.2, 5.2])
    line = LineString([(300.0, 84.0), (400.0, 84.0), (700.0, 40.0)])
    for slot, tab in zip(deck.slots, tabs, strict=True):
        at = line.interpolate(slot.at[0])
        assert (at.x, slot.at[1]) == pytest.approx((tab.along_mm, 0.0))


def test_a_closed_slot_is_told_of_where_the_root_does_not_pass():
    """arithmetic: chord at the side's inner face 84 - 18 x 26 / 216, and 0.5 mm: 1.7 mm less than 84.

    Its trailing edge there lies at 750 + 84 - 12 x 26 / 216 = 832.6, 31.4 mm before the end at 864.
    """
    made = made_of(twin(surfaces=(wing(), tail(at=(750.0, 54.0)))))
    told = [finding for finding in made.findings if finding.where == "surface.tail"]
    assert [finding.value for finding in told] == ["1.7 mm"]
    assert "31.4 mm shorter (body.fuselage.side)" in told[0].mend


def test_a_hatch_that_would_fall_in_is_told_of():
    def where(one):
        return [
            finding.text[:12] for finding in made_of(bare(one)).findings if finding.where.endswith("hatch")
        ]

    assert where(plain(LONG, hatch_mm=(100.0, 300.0))) == ["at 100.5 mm "]
    held = plain(LONG, hatch_mm=(100.0, 300.0), formers=(former(0, 100.0), former(1, 292.0)))
    assert where(held) == []
    assert where(body()) == []  # it lies over the nose doublers


def test_a_servo_in_the_side_is_cut_in_both_and_told_of():
    inputs = bare(plain(LONG), servos=(servo("side", (300.0, 40.0)),))
    parts = built(inputs)
    for name in ("fuselage-side-right", "fuselage-side-left"):
        assert [round(Polygon(ring).area, 3) for ring in parts[name].outline.rings()[1:]] == [276.0]
    assert [finding.code for finding in made_of(inputs).findings if finding.where == "servo[0]"] == [
        "servo-place"
    ]


def test_marks_tell_a_steep_dihedral():
    rows = stations("surface.wing", (0.0, 0.0, 204.0, 7.0), (552.0, 6.0, 162.0, 0.0))
    made = made_of(bare(plain(LONG), surfaces=(wing(stations=rows),)))
    texts = [
        mark.text for part in made.parts for mark in build_part(part)[0][0].marks if hasattr(mark, "text")
    ]
    assert "wing: packing tape over the edge, sloped 7 deg" in texts
