"""A body folded from one sheet: its flat width, its folds, its holes on both sides, its place."""

import math

import numpy as np
import pytest
from shapely import Polygon

from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.values import BodyBuild, Corners
from foamcut.flat.drawn import FoldKind
from tests.airframe.body_sample import (
    WIDTH,
    T,
    bare,
    body,
    built,
    folded,
    made_of,
    plain,
    refusals,
    tail,
    trough,
    twin,
    wing,
)


def straight(*readings, **more):
    return plain(readings, build=BodyBuild.TROUGH, **more)


def test_a_trough_is_as_wide_flat_as_its_floor_and_twice_its_sides():
    """common practice, worked figure: 80 wide and 100 high is 280 mm flat, W + 2 H on the outer paper."""
    part = built(bare(straight((0.0, 0.0, 100.0), (400.0, 0.0, 100.0), width_mm=80.0)))["fuselage-trough"]
    assert (part.length_mm, part.width_mm) == (400.0, 280.0)
    assert part.outline.area == pytest.approx(400.0 * 280.0)


def test_it_takes_the_place_of_sides_and_floor():
    names = [part.name for part in made_of(twin(trough())).parts]
    assert names[0] == "fuselage-trough"
    assert not {"fuselage-side", "fuselage-floor"} & set(names)
    assert {"fuselage-deck", "fuselage-former-2", "fuselage-doubler"} <= set(names)


def test_both_folds_lift_a_board_and_turn_at_the_outside():
    """arithmetic: foam lifted from 26 to 31 mm, where the outer paper turns by 90 degrees."""
    folds = built(twin(trough()))["fuselage-trough"].folds
    assert [fold.kind for fold in folds] == [FoldKind.WRAP] * 2
    for fold in folds:
        lifted = {abs(run[0].start[1]) for run in fold.lift}
        assert lifted == {WIDTH / 2 - T, WIDTH / 2}
        assert {abs(run[0].start[1]) for run in fold.fold} == {WIDTH / 2}


@pytest.mark.parametrize("slope", [0.0, 0.04, -0.06])
def test_folded_it_stands_where_a_box_would(slope):
    """arithmetic in space: outer papers at 31 mm to each side, edges on the readings, floor on its line."""
    rows = [(0.0, 30.0, 70.0), (150.0, 30.0 + 150 * slope, 95.0), (500.0, 30.0 + 500 * slope, 80.0)]
    part = built(bare(straight(*rows)))["fuselage-trough"]
    whole, matrix = folded(part)
    assert len(whole.panels) == 3
    corners = {(x, z) for x, low, top in rows for z in (low, top)}
    for panel in whole.panels[1:]:
        outer = [matrix @ np.append(panel.pose.point(x, y, -T), 1.0) for x, y in panel.outline.rings()[0]]
        assert {round(abs(at[1]), 6) for at in outer} == {WIDTH / 2}
        assert all(min(math.dist((at[0], at[2]), one) for one in corners) < 1e-5 for at in outer)
    floor = whole.panels[0]
    for x, y in floor.outline.rings()[0]:
        at = matrix @ np.append(floor.pose.point(x, y, -T), 1.0)
        assert at[2] == pytest.approx(30.0 + slope * at[0], abs=1e-6)


@pytest.mark.parametrize("lean", [0.0, 0.03])
def test_nothing_misses_on_the_model(lean):
    rows = (
        (0.0, 2.0, 24.0),
        (48.0, 2 + 48 * lean, 84.0),
        (384.0, 2 + 384 * lean, 84.0),
        (864.0, 2 + 864 * lean, 66.0),
    )
    one = body(rows, build=BodyBuild.TROUGH)
    inputs = twin(one)
    assert fit_findings(list(built(inputs).values()), made_of(inputs).shells, bare(one)) == ()


def test_holes_and_saddle_are_mirrored_about_the_middle():
    part = built(twin(trough(), surfaces=(wing(), tail(at=(750.0, 54.0)))))["fuselage-trough"]
    polygon = part.outline.polygon
    image = Polygon(
        [(x, -y) for x, y in part.outline.rings()[0]],
        [[(x, -y) for x, y in ring] for ring in part.outline.rings()[1:]],
    )
    assert polygon.symmetric_difference(image).area < 1e-3
    assert len(polygon.interiors) == 4 + 2 * (2 + 2 + 2 + 1)  # straps; dowels, air, former and tail slots


def test_its_holes_lie_where_those_of_a_box_side_lie():
    rows = ((0.0, 0.0, 60.0), (600.0, 0.0, 60.0))
    more = {"pushrods_mm": ((450.0, 40.0),), "cooling_in_mm": (100.0, 10.0)}
    flat = built(bare(straight(*rows, **more)))["fuselage-trough"]
    side = built(bare(plain(rows, **more)))["fuselage-side-right"]
    above = [Polygon(ring) for ring in flat.outline.rings()[1:] if Polygon(ring).bounds[1] > 0]
    for ring, hole in zip(side.outline.rings()[1:], above, strict=True):
        moved = Polygon([(x, y + WIDTH / 2) for x, y in ring])
        assert moved.symmetric_difference(hole).area < 1e-6


def test_a_mitred_deck_meets_bevelled_edges():
    part = built(twin(trough(corners=Corners.MITRED)))["fuselage-trough"]
    assert len(part.bevels) == 2
    assert {bevel.angle_deg for bevel in part.bevels} == {45.0}


def test_a_bottom_that_bends_is_refused_with_the_reading_and_a_way_out():
    found = refusals(bare(straight((0.0, 12.0, 60.0), (48.0, 0.0, 60.0), (400.0, 12.0, 60.0))))
    assert list(found) == ["body.fuselage.side[1]"]
    assert "0 mm where the line from nose to tail passes 12 mm" in found["body.fuselage.side[1]"]
    assert 'build = "box"' in found["body.fuselage.side[1]"]


def test_a_low_wing_would_part_the_folds():
    found = refusals(bare(straight((0.0, 0.0, 84.0), (600.0, 0.0, 84.0)), surfaces=(wing(at=(200.0, 0.0)),)))
    assert 'build = "box"' in found["body.fuselage.build"]
