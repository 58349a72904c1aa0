"""Kerf: in machines' drawings outlines grow and openings shrink by half of it; pages stay true."""

import math
from dataclasses import replace

import pytest
import shapely

from foamcut.draw.kerf import kerf_words, openings_lost, tool_path
from foamcut.draw.part import stroke_shape
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.values import Line
from foamcut.flat.drawn import Face
from foamcut.flat.offset import moved
from foamcut.flat.outline import Circle, Outline
from foamcut.flat.placement import Placement
from foamcut.write import dxf, svg
from tests.draw.drawn_parts import BOARD, TITLE, layout, part
from tests.draw.machine_sheets import NUMBERS, THICKNESSES, both_faces
from tests.draw.test_back import notes
from tests.write.readers import dxf_lines, svg_lines


def frame(**more):
    """100 mm square with a hole of 20 mm diameter."""
    (cut,) = Outline.rectangle(0, 0, 100, 100).minus(Outline.circle(50, 50, 10))
    return part(cut, "frame", **{"kerf_mm": 0.2} | more)


def drawn(each, **more):
    names = dict.fromkeys(p.piece.flat.name for p in each.sheets[0].placed)
    numbers = {name: i for i, name in enumerate(names, 1)}
    return sheet_drawing(each.sheets[0], each, TITLE, numbers, THICKNESSES, **more)


def test_the_tool_runs_half_the_kerf_outside_and_inside():
    each = layout((frame(), Placement(x_mm=20, y_mm=30)))
    (outline,) = tool_path(each.sheets[0].placed[0])
    assert outline.bounds == pytest.approx((19.9, 29.9, 120.1, 130.1))
    assert outline.circles == (Circle(70, 80, 9.9),)


@pytest.mark.parametrize("turn", [0.0, 90.0, 37.0])
@pytest.mark.parametrize("flipped", [False, True])
def test_a_turned_piece_has_the_same_kerf(turn, flipped):
    """Moved and then placed is placed and then moved."""
    placement = Placement(x_mm=200, y_mm=300, turn_deg=turn, flipped=flipped)
    each = layout((frame(face=Face.EITHER), placement))
    placed = each.sheets[0].placed[0]
    (path,) = tool_path(placed)
    (again,) = moved(placed.outline, 0.1)
    assert path.polygon.boundary.hausdorff_distance(again.polygon.boundary) < 1e-5
    assert path.circles[0] == pytest.approx(again.circles[0], abs=2e-6)


def test_machine_files_have_it_and_pages_have_not(tmp_path):
    """A square of 100 mm with a kerf of 0.2: 100.2 in DXF and SVG, its hole of 20 is 19.8; 100 and 20 on paper."""
    each = layout((frame(), Placement(x_mm=20, y_mm=30)), size=(300, 200))
    machine, page = drawn(each, machine=True), drawn(each)
    lines = dxf_lines(dxf.render(machine, version="R2000"), tmp_path)
    (square,), (hole,) = lines["THROUGH"], lines["OPENING"]
    assert square.bounds == pytest.approx((19.9, 29.9, 120.1, 130.1))
    assert shapely.Polygon(hole.coords).area == pytest.approx(math.pi * 9.9**2, rel=1e-5)
    found = svg_lines(svg.render(machine, title="x", description="y"))
    assert (found["THROUGH"][0].max(axis=0) - found["THROUGH"][0].min(axis=0)) == pytest.approx(
        (100.2, 100.2), abs=1e-3
    )
    assert (found["OPENING"][0].max(axis=0) - found["OPENING"][0].min(axis=0)) == pytest.approx(
        (19.8, 19.8), abs=1e-2
    )
    (square,) = (stroke_shape(s) for s in page.strokes if s.line is Line.THROUGH)
    assert square.bounds == pytest.approx((20, 30, 120, 130))
    (hole,) = (stroke_shape(s) for s in page.strokes if s.line is Line.OPENING)
    assert hole.bounds == pytest.approx((60, 70, 80, 90))


def test_only_lines_that_are_cut_through_are_moved():
    each = both_faces(kerf=0.3)
    with_kerf, without = (
        {
            line: [s.segments for s in drawing.strokes if s.line is line]
            for line in (Line.GROOVE, Line.MARK, Line.MARK_BACK, Line.BEVEL, Line.FOLD_UP, Line.SHEET)
        }
        for drawing in (
            sheet_drawing(each.sheets[0], each, TITLE, NUMBERS, THICKNESSES, machine=True),
            sheet_drawing(each.sheets[0], each, TITLE, NUMBERS, THICKNESSES),
        )
    )
    assert with_kerf == without
    assert all(with_kerf.values())


def test_an_opening_that_the_kerf_closes_is_told():
    (cut,) = Outline.rectangle(0, 0, 60, 40).minus(
        Outline.rectangle(20, 20, 20.25, 30), Outline.circle(40, 20, 5)
    )
    slit = part(cut, "slit", kerf_mm=0.3)
    each = layout((slit, Placement(x_mm=5, y_mm=5)), (slit, Placement(x_mm=5, y_mm=60)))
    assert openings_lost(each.sheets[0].placed[0]) == 1
    assert "no wider than the kerf and not drawn, cut it by hand: slit (2 times)" in notes(
        drawn(each, machine=True)
    )
    assert "cut it by hand" not in notes(drawn(each))


def test_every_file_says_whether_kerf_is_in_it():
    each = layout((frame(), Placement(x_mm=20, y_mm=30)))
    assert "kerf 0.2 mm (full width) is in this file" in notes(drawn(each, machine=True))
    assert "do not set it again on the machine" in notes(drawn(each, machine=True))
    assert "the lines are the true edges, no kerf is in them" in notes(drawn(each))
    plain = layout((frame(kerf_mm=0.0), Placement(x_mm=20, y_mm=30)))
    assert "no kerf is in this file: its lines are the true edges" in notes(drawn(plain, machine=True))


def test_unlike_kerfs_are_told_by_part():
    parts = [
        part(Outline.rectangle(0, 0, 9, 9), name, kerf_mm=kerf)
        for name, kerf in (("rib", 0.2), ("skid", 0.0), ("side", 0.25), ("rib", 0.2), ("keel", 0.2))
    ]
    assert "0.25 mm: side; 0.2 mm: rib, keel; none: skid; do not set it again" in kerf_words(parts)


def test_neighbours_closer_than_the_kerf_are_told():
    each = layout((frame(), Placement(x_mm=20, y_mm=30)), stock=replace(BOARD, gap_mm=0.1))
    assert "pieces lie closer together than the kerf is wide" in notes(drawn(each, machine=True))
    assert "closer together" not in notes(drawn(each))


def test_a_sharp_corner_in_the_corner_of_a_sheet_without_a_margin_is_written():
    """The widest kerf round a corner of 29.1 degrees reaches almost 6 mm beyond it."""
    kite = part(Outline.of_points([(0, 100), (70, 0), (100, 30)]), "kite", kerf_mm=3.0)
    each = layout((kite, Placement()), stock=replace(BOARD, margin_mm=0.0), size=(100, 100))
    data = svg.render(drawn(each, machine=True), title="x", description="y")
    (track,) = svg_lines(data)["THROUGH"]
    assert track[:, 0].min() < -2


def test_a_kerf_may_run_past_the_edge_of_a_sheet_without_a_margin():
    """A part as large as the sheet: half the kerf lies outside, in the SVG file too."""
    each = layout((frame(), Placement()), stock=replace(BOARD, margin_mm=0.0), size=(100, 100))
    data = svg.render(drawn(each, machine=True), title="x", description="y")
    (square,) = svg_lines(data)["THROUGH"]
    assert (square.max(axis=0) - square.min(axis=0)) == pytest.approx((100.2, 100.2), abs=1e-3)
