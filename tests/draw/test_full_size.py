"""Full-size pages: one a sheet, its corner where it was promised."""

from dataclasses import replace

import pytest

from foamcut.draw.fullsize import CORNER_MM, LARGEST_MM, full_size_document
from foamcut.draw.part import stroke_shape
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.values import LAYERS, Drawing, Line, Stroke
from foamcut.draw.worked import BACK_LINES
from foamcut.flat.drawn import FoldKind, Side
from foamcut.flat.outline import Outline, straight
from foamcut.flat.placement import Placement
from tests.draw.drawn_parts import PLY, TITLE, layout, pair, part
from tests.draw.folded_parts import plate
from tests.draw.page_checks import crowded, words

STOCKS = {"board": 5.0, "ply": 1.5}


def drawn(*layouts):
    numbers = {p.piece.part.name: 1 for each in layouts for p in each.sheets[0].placed}
    return [sheet_drawing(each.sheets[0], each, TITLE, numbers, STOCKS) for each in layouts]


def two_sheets():
    right, _ = pair()
    small = part(Outline.rectangle(0, 0, 60, 40), "firewall", stock="ply", thickness_mm=1.5)
    return (
        layout((right, Placement(x_mm=10, y_mm=10))),
        layout((small, Placement(x_mm=10, y_mm=10)), stock=PLY, size=(300, 200)),
    )


def test_a_page_a_sheet_at_its_corner():
    """The sheet's (0, 0) lies 15 mm right of and 30 mm above the page's; nothing is scaled or turned."""
    layouts = two_sheets()
    document = full_size_document(drawn(*layouts), TITLE, layouts)
    assert len(document.pages) == 2
    for page, each in zip(document.pages, layouts, strict=True):
        (window,) = page.windows
        assert window.on_page(0.0, 0.0) == pytest.approx(CORNER_MM) and not window.turned
        size = each.sheets[0].width_mm, each.sheets[0].height_mm
        assert window.on_page(*size) == pytest.approx((15 + size[0], 30 + size[1]))


def test_notes_are_on_the_page():
    """The page is large enough for the notes to the right of the sheet."""
    drawings = drawn(*two_sheets())
    for page, drawing in zip(full_size_document(drawings, TITLE).pages, drawings, strict=True):
        (window,) = page.windows
        x0, y0, x1, y1 = window.view
        for stroke in drawing.strokes:
            a, b, c, d = stroke_shape(stroke).bounds
            assert x0 <= a and y0 <= b and c <= x1 and d <= y1
        assert page.width_mm > drawing.width_mm + 100


def test_strip_says_what_the_sheet_is():
    layouts = two_sheets()
    board, ply = full_size_document(drawn(*layouts), TITLE, layouts).pages
    for wanted in ("cordgrass-2", "revision A", "board, sheet 1 of 1", "5 mm thick", "page 1 of 2", "blade"):
        assert wanted in words(board)
    assert "ply, sheet 1 of 1, birch plywood, 1.5 mm thick" in words(ply)
    inches = full_size_document(drawn(*layouts), replace(TITLE, sketch_unit="in"), layouts).pages
    assert "birch plywood, 1.5 mm (0.059 in) thick" in words(inches[1])
    for page in (board, ply):
        assert not crowded(page.texts)
        assert any(stroke_shape(s).length == pytest.approx(100) for s in page.strokes)
        assert all(text.at[1] < 28 for text in page.texts)


def test_longest_board_stays_within_the_largest_page():
    """A board of 5 m: the page ends where readers of PDF do."""
    long = layout(
        (part(Outline.rectangle(0, 0, 60, 40), "rib"), Placement(x_mm=10, y_mm=10)), size=(5000, 5000)
    )
    (page,) = full_size_document(drawn(long), TITLE, [long]).pages
    assert page.width_mm == LARGEST_MM and page.height_mm <= LARGEST_MM
    wide, high = page.windows[0].size()
    assert page.windows[0].corner[0] + wide <= page.width_mm
    assert page.windows[0].corner[1] + high <= page.height_mm


def test_long_name_is_on_the_page():
    layouts = two_sheets()
    long = replace(TITLE, name="sea-lavender-" * 15)
    for page in full_size_document(drawn(*layouts), long, layouts).pages:
        assert long.name in words(page)
        assert not crowded(page.texts)


def test_every_layer_is_shown():
    """One line of each kind, what is cut from the back among them."""
    strokes = tuple(
        Stroke(line=line, segments=straight([(0, 10 * i), (90, 10 * i)])) for i, line in enumerate(LAYERS)
    )
    drawing = Drawing(name="board 1", width_mm=300, height_mm=200, strokes=strokes)
    (page,) = full_size_document([drawing], TITLE).pages
    assert {s.line for s in page.windows[0].strokes} == set(LAYERS)
    assert {s.line for s in page.windows[0].strokes} > BACK_LINES


@pytest.mark.parametrize("side", Side)
def test_lines_cut_from_the_back_are_drawn_and_explained(side):
    """They stand on the page in their style, and the strip says how to get them to the other face."""
    one = layout((plate(FoldKind.GROOVE, side), Placement(x_mm=10, y_mm=10)), size=(500, 300))
    drawings = [sheet_drawing(one.sheets[0], one, TITLE, {"tray": 1}, STOCKS)]
    (page,) = full_size_document(drawings, TITLE, [one]).pages
    line = Line.GROOVE_BACK if side is Side.DOWN else Line.GROOVE
    assert len([s for s in page.windows[0].strokes if s.line is line]) == 2
    assert ("join the pricks" in "".join(t.text for t in page.texts)) is (side is Side.DOWN)
    assert not crowded(page.texts)
