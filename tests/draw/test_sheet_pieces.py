"""Sections and doublers in a sheet's notes, and what a sheet's drawing for a machine says besides."""

from dataclasses import replace

import pytest

from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.values import Line
from foamcut.flat.joint import Role
from tests.draw import joined_parts
from tests.draw.drawn_parts import TITLE
from tests.draw.machine_sheets import NUMBERS, THICKNESSES, both_faces, with_sheet
from tests.draw.test_back import notes

PIECES = {"side-right-section-1": 1, "side-right-section-2": 2, "side-right-doubler-a": 3}


def test_sections_and_doublers_say_whose_they_are_and_how_long_it_gets():
    each = joined_parts.laid_out()
    drawing = sheet_drawing(each.sheets[0], each, TITLE, PIECES, THICKNESSES, joints=joined_parts.joints())
    words = notes(drawing)
    for wanted in (
        "side-right is cut in 2: 864 mm (34 1/64 in) over the joint",
        "section 1 of 2 of side-right",
        "section 2 of 2 of side-right",
        "doubler A of side-right",
    ):
        assert wanted in words
    assert words.count("measured over all, from end to end, along x of the drawing, nose to tail") == 1


def test_a_sheet_with_some_of_the_pieces_still_knows_the_others():
    """Section 1 alone on its sheet is 1 of 2; the doubler's sheet tells the joint, too."""
    each = joined_parts.laid_out()
    first, second, patch = each.sheets[0].placed
    sheets = [replace(each.sheets[0], number=i, placed=(p,)) for i, p in enumerate((first, second, patch), 1)]
    each = replace(each, sheets=tuple(sheets))
    for sheet, wanted in zip(sheets, ("section 1 of 2", "section 2 of 2", "doubler A"), strict=True):
        words = notes(sheet_drawing(sheet, each, TITLE, PIECES, THICKNESSES, joints=joined_parts.joints()))
        assert f"{wanted} of side-right" in words
        assert "864 mm (34 1/64 in) over the joint (doubler A), measured over all" in words


def test_doublers_of_another_stock_tell_the_joint_on_their_own_sheet():
    """A layout of doublers alone: the sections lie on sheets of another stock."""
    each = joined_parts.laid_out()
    (patch,) = [p for p in each.sheets[0].placed if p.piece.role is Role.DOUBLER]
    sheet, each = with_sheet(each, placed=(patch,))
    words = notes(sheet_drawing(sheet, each, TITLE, PIECES, THICKNESSES, joints=joined_parts.joints()))
    assert "doubler A of side-right" in words
    assert "side-right: 864 mm (34 1/64 in) over the joint" in words and "butt the sections" in words


def test_sheets_without_joined_parts_say_nothing_of_rules():
    each = both_faces()
    words = notes(
        sheet_drawing(each.sheets[0], each, TITLE, NUMBERS, THICKNESSES, joints=joined_parts.joints())
    )
    assert "measured over" not in words and "glue a joint" not in words and "section" not in words


@pytest.mark.parametrize("tool", ["laser", "plotter", "knife"])
def test_cautions_of_machine_files(tool):
    """A file may come to a laser that nobody had in mind: every one warns of it, once."""
    each = both_faces()
    title = replace(TITLE, tool=tool)
    words = notes(sheet_drawing(each.sheets[0], each, title, NUMBERS, THICKNESSES, machine=True))
    for wanted in (
        "forbid laser cutting of foam of any kind",
        "gives off styrene",
        "gives off hydrogen chloride",
        "find out what your board is",
        "xtraction",
        "never leave",
        "A knife is the usual tool",
        "rules of your place",
    ):
        assert words.count(wanted) == 1
    page = notes(sheet_drawing(each.sheets[0], each, title, NUMBERS, THICKNESSES))
    assert ("forbid laser" in page) == (tool == "laser")


def test_the_machine_file_says_that_the_other_face_is_cut_too():
    each = both_faces()
    words = notes(sheet_drawing(each.sheets[0], each, TITLE, NUMBERS, THICKNESSES, machine=True))
    assert "the other face is cut, too, from the file whose name ends in -back: do that one first" in words
    assert "the two register holes at 4.5, 4.5 mm and 395.5, 375.5 mm" in words
    page = notes(sheet_drawing(each.sheets[0], each, TITLE, NUMBERS, THICKNESSES))
    assert "-back" not in page and "seen here through the board" in page
    sheet, one = with_sheet(
        each, placed=tuple(p for p in each.sheets[0].placed if p.piece.flat.name == "horn")
    )
    words = notes(sheet_drawing(sheet, one, TITLE, NUMBERS, THICKNESSES, machine=True))
    assert "other face" not in words and "register" not in words


def test_legend_tells_the_kinds_that_are_in_the_file_and_no_other():
    each = both_faces()
    for machine in (True, False):
        drawing = sheet_drawing(each.sheets[0], each, TITLE, NUMBERS, THICKNESSES, machine=machine)
        words = notes(drawing)
        used = {s.line for s in drawing.strokes} | {t.line for t in drawing.texts}
        for line in Line:
            assert (f" {line.value}: " in words) == (line in used)
