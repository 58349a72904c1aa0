"""Rectangles for a machine's bed: marked on their sheet, each drawn by itself from its own corner."""

import numpy as np
import pytest
import shapely

from foamcut.draw.back import back_drawing
from foamcut.draw.bed_sheet import bed_drawing
from foamcut.draw.part import stroke_shape
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.values import Line
from foamcut.draw.words import text_box
from foamcut.nest.register import with_register
from foamcut.nest.values import Bed
from foamcut.write import dxf, svg
from tests.draw.drawn_parts import TITLE
from tests.draw.machine_sheets import NUMBERS, THICKNESSES, both_faces, with_sheet
from tests.draw.test_back import notes
from tests.write.readers import dxf_lines

BED = Bed(number=1, corner=(8.0, 9.0), width_mm=300.0, height_mm=150.0, pieces=("tray-0",))


def with_bed():
    _, each = with_sheet(both_faces(register=False), beds=(BED,))
    each = with_register(each)
    return each.sheets[0], each


def test_the_rectangle_is_a_closed_mark_with_words():
    sheet, each = with_bed()
    for machine in (True, False):
        drawing = sheet_drawing(sheet, each, TITLE, NUMBERS, THICKNESSES, machine=machine)
        closed = [s for s in drawing.strokes if s.line is Line.MARK and s.closed]
        (rectangle,) = [s for s in closed if not s.piece]
        assert stroke_shape(rectangle).bounds == (8, 9, 308, 159)
        (words,) = [t for t in drawing.texts if t.text == "bed 1: knife this rectangle off once the other face is cut"]
        assert shapely.box(8, 9, 308, 159).contains(text_box(words))
        pieces = shapely.union_all([placed.outline.polygon for placed in sheet.placed])
        assert not pieces.intersects(text_box(words))


def test_notes_list_the_rectangles_and_what_is_cut_by_hand():
    sheet, each = with_bed()
    words = notes(sheet_drawing(sheet, each, TITLE, NUMBERS, THICKNESSES))
    assert "bed 1: 300 x 150 mm, lower left corner at 8, 9 mm" in words
    assert "by hand, in no rectangle: 2 wing (2 times), 3 horn" in words
    plain = both_faces()
    words = notes(sheet_drawing(plain.sheets[0], plain, TITLE, NUMBERS, THICKNESSES))
    assert "by hand" not in words and "rectangle" not in words


def test_back_cuts_come_before_the_rectangles_in_every_file():
    """One order in all three: the other face by hand, turn over, knife off, machine."""
    sheet, each = with_bed()
    front = notes(sheet_drawing(sheet, each, TITLE, NUMBERS, THICKNESSES, machine=True))
    back = notes(back_drawing(sheet, each, TITLE, NUMBERS, THICKNESSES))
    for said, first in ((front, "that face as the -back file shows"), (back, "this face as drawn here")):
        steps = (
            f"1 by hand, cut {first}, while the board is whole",
            "2 turn the board over",
            "3 knife the rectangles off",
            "4 the machine cuts each from its -bed file",
        )
        places = [said.index(step) for step in steps]
        assert places == sorted(places)
        assert "pin it" not in said and "do this face first" not in said
    bed = notes(bed_drawing(sheet, BED, each, TITLE, NUMBERS, THICKNESSES))
    assert "knife it off the sheet once the other face is cut" in bed
    assert "by hand and before this, while the board is whole" in bed


def test_without_back_cuts_rectangles_come_first():
    sheet, each = with_sheet(both_faces(register=False), beds=(BED,))
    (horn,) = [placed for placed in sheet.placed if placed.piece.flat.name == "horn"]
    sheet, each = with_sheet(each, placed=(horn,), beds=(BED,))
    drawing = sheet_drawing(sheet, each, TITLE, NUMBERS, THICKNESSES, machine=True)
    assert "bed 1: knife this rectangle off first" in {t.text for t in drawing.texts}
    assert "to be knifed off first" in notes(drawing) and "other face" not in notes(drawing)


def test_its_own_drawing_counts_from_its_corner_and_holds_its_pieces_alone():
    sheet, each = with_bed()
    whole = sheet_drawing(sheet, each, TITLE, NUMBERS, THICKNESSES, machine=True)
    drawing = bed_drawing(sheet, BED, each, TITLE, NUMBERS, THICKNESSES)
    assert (drawing.width_mm, drawing.height_mm) == (300, 150)
    assert {s.piece for s in drawing.strokes if s.piece} == {"tray-0"}
    lines = {s.line for s in drawing.strokes}
    assert Line.GROOVE in lines and not lines & {Line.HALF_BACK, Line.LIFT_BACK}
    (edge,) = [stroke_shape(s) for s in drawing.strokes if s.line is Line.SHEET]
    assert edge.bounds == (0, 0, 300, 150)
    for line in lines - {Line.SHEET, Line.NOTES}:
        here = [stroke_shape(s) for s in drawing.strokes if s.line is line]
        there = [stroke_shape(s) for s in whole.strokes if s.line is line and s.piece == "tray-0"]
        assert len(here) == len(there)
        for a, b in zip(here, there, strict=True):
            assert shapely.transform(a, lambda points: points + np.array([8, 9])).equals_exact(b, 3e-6)
    words = notes(drawing)
    assert "rectangle 1 for the machine's bed" in words and "2  wing" not in words
    assert "kerf 0.2 mm (full width) is in this file" in words


def test_its_file_is_read_back(tmp_path):
    sheet, each = with_bed()
    drawing = bed_drawing(sheet, BED, each, TITLE, NUMBERS, THICKNESSES)
    (through,) = dxf_lines(dxf.render(drawing, version="R2000"), tmp_path)["THROUGH"]
    assert through.bounds == pytest.approx((1.9, 0.9, 282.1, 121.1))
    assert svg.render(drawing, title="x", description="y")


def test_a_full_rectangle_is_told_in_the_notes_alone():
    """Pieces that leave no room for words: none stand on them."""
    sheet, each = with_sheet(
        both_faces(), beds=(Bed(number=2, corner=(10, 10), width_mm=280, height_mm=120, pieces=("tray-0",)),)
    )
    drawing = sheet_drawing(sheet, each, TITLE, NUMBERS, THICKNESSES)
    assert not [t for t in drawing.texts if t.text.startswith("bed 2") and t.line is Line.LETTERING]
    assert "bed 2: 280 x 120 mm" in notes(drawing)
