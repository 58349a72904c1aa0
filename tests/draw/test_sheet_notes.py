"""Notes of a sheet: every part with all its facts, every line's meaning, a bar of 100 mm."""

from dataclasses import replace

import pytest
import shapely

from foamcut.draw.fullsize import CORNER_MM, LARGEST_MM, full_size_document
from foamcut.draw.part import stroke_shape
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line
from foamcut.draw.words import text_box
from foamcut.flat.drawn import Face, Grain
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement
from tests.draw.drawn_parts import ON_THE_RIGHT, PLY, TITLE, LineMark, layout, pair, part
from tests.draw.page_checks import crowded

STOCKS = {"board": 5.0, "ply": 1.5}


def drawing_of(each, title=TITLE):
    names = dict.fromkeys(p.piece.part.name for p in each.sheets[0].placed)
    return sheet_drawing(each.sheets[0], each, title, {n: i for i, n in enumerate(names, 1)}, STOCKS)


def notes(drawing) -> str:
    """All words of the notes; lines that go on are put together again."""
    return " ".join(text.text for text in drawing.texts if text.line is Line.NOTES)


def test_every_part_is_listed_with_all_its_facts():
    right, left = pair()
    tiny = part(
        Outline.rectangle(0, 0, 8, 6),
        "horn",
        face=Face.EITHER,
        grain=Grain.X,
        place=ON_THE_RIGHT,
        marks=(LineMark(ends=((1, 1), (7, 1)), text="belly tape"),),
    )
    each = layout(
        (right, Placement(x_mm=10, y_mm=10)),
        (left, Placement(x_mm=10, y_mm=300)),
        (tiny, Placement(x_mm=10, y_mm=500, turn_deg=90.0)),
    )
    words = notes(drawing_of(each))
    for wanted in (
        "1 side-right, right hand, cut 1, inner face up 864 x 84 mm (34 1/64 x ~3 5/16 in), sketch 144 x 14 mm",
        "2 side-left, left hand, cut 1, inner face up",
        "3 horn, cut 1, either face up 8 x 6 mm",
        "grain along its length",
        "mark: belly tape",
        "FRONT: down, UP: left",
    ):
        assert wanted in words
    assert words.index("parts on this sheet") < words.index("Fresh blade")


def test_copies_that_lie_unlike_say_where_each_points():
    tiny = part(Outline.rectangle(0, 0, 8, 6), "horn", count=3, place=ON_THE_RIGHT)
    each = layout((tiny, Placement(x_mm=10, y_mm=10)), (tiny, Placement(x_mm=60, y_mm=10, turn_deg=180.0)))
    words = notes(drawing_of(each))
    assert "cut 3 (2 on this sheet)" in words
    assert "the one at 14, 13: FRONT: left, UP: up" in words
    assert "the one at 56, 7: FRONT: right, UP: down" in words


@pytest.mark.parametrize("size", [(300.0, 40.0), (60.0, 1000.0), (762.0, 508.0)])
def test_notes_are_columns_beside_the_sheet(size):
    """No note lies left of 10 mm beside the sheet, none on another; columns are as high as the sheet or 100 mm."""
    small = part(Outline.rectangle(0, 0, 40, 30), "rib")
    drawing = drawing_of(layout((small, Placement(x_mm=5, y_mm=5)), size=size))
    texts = tuple(t for t in drawing.texts if t.line is Line.NOTES)
    assert all(t.at[0] >= size[0] + 10 for t in texts)
    assert not crowded(texts)
    assert min(t.at[1] for t in texts) >= min(0.0, size[1] - 100.0) - 1e-9
    assert max(text_box(t).bounds[3] for t in texts) <= size[1]
    bars = [stroke_shape(s) for s in drawing.strokes if s.line is Line.NOTES]
    assert any(bar.length == pytest.approx(100) for bar in bars)
    boxes = shapely.union_all([text_box(t) for t in texts])
    assert not any(bar.intersects(boxes) for bar in bars)


def test_low_sheet_has_all_its_notes_on_the_page():
    """300 x 40 mm: the page is as high as the notes, the sheet's corner where it always is."""
    small = part(Outline.rectangle(0, 0, 40, 30), "rib")
    each = layout((small, Placement(x_mm=5, y_mm=5)), size=(300, 40))
    drawing = drawing_of(each)
    (page,) = full_size_document([drawing], TITLE, [each]).pages
    (window,) = page.windows
    assert window.on_page(0.0, 0.0) == pytest.approx(CORNER_MM)
    x0, y0, x1, y1 = window.view
    seen = shapely.box(x0, y0, x1, y1)
    assert len(window.texts) == len(drawing.texts)
    assert all(seen.contains(text_box(text)) for text in window.texts)
    assert all(seen.contains(stroke_shape(stroke)) for stroke in window.strokes)
    assert not crowded((*page.texts, *(replace(t, at=window.on_page(*t.at)) for t in window.texts)))


def test_notes_of_the_longest_sheet_stand_above_it():
    small = part(Outline.rectangle(0, 0, 40, 30), "rib")
    each = layout((small, Placement(x_mm=5, y_mm=5)), size=(5000, 300))
    (page,) = full_size_document([drawing_of(each)], TITLE, [each]).pages
    assert page.width_mm <= LARGEST_MM and page.height_mm <= LARGEST_MM
    (window,) = page.windows
    seen = shapely.box(*window.view)
    for text in window.texts:
        assert seen.contains(text_box(text))
        assert text.line is not Line.NOTES or text.at[1] > 300


def test_legend_tells_every_kind_of_line_on_the_sheet():
    right, _ = pair()
    drawing = drawing_of(layout((right, Placement(x_mm=10, y_mm=10))))
    words = notes(drawing)
    for line in {s.line for s in drawing.strokes} | {t.line for t in drawing.texts}:
        assert f"{STYLES[line].letter} {line.value}:" in words


def test_no_revision_no_stump():
    plain = replace(TITLE, revision="")
    small = part(Outline.rectangle(0, 0, 40, 30), "rib", stock="ply", thickness_mm=1.5)
    each = layout((small, Placement(x_mm=5, y_mm=5)), stock=PLY, size=(300, 200))
    drawing = drawing_of(each, plain)
    document = full_size_document([drawing], plain, [each])
    assert "revision" not in notes(drawing) + document.title + "".join(t.text for t in document.pages[0].texts)
    assert "new sheet" in notes(drawing) and "board" not in notes(drawing).replace("holds the board", "")


def test_words_in_the_waste_make_way_for_a_piece_that_lies_there():
    """A small piece nested in the hole of a large one: the hole's letter is left out, the piece has its number."""
    (ring,) = Outline.rectangle(0, 0, 200, 100).minus(Outline.rectangle(60, 20, 140, 80))
    inner = part(Outline.rectangle(0, 0, 76, 56), "inner")
    each = layout(
        (part(ring, "ring"), Placement(x_mm=10, y_mm=10)), (inner, Placement(x_mm=72, y_mm=32)), size=(300, 200)
    )
    texts = [t for t in drawing_of(each).texts if t.line is Line.LETTERING]
    assert not crowded(tuple(texts))
    assert not [t for t in texts if t.text == "O" and shapely.box(72, 32, 148, 88).intersects(text_box(t))]
    alone = layout((part(ring, "ring"), Placement(x_mm=10, y_mm=10)), size=(300, 200))
    assert "O" in [t.text for t in drawing_of(alone).texts]
