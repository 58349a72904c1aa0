"""The turned-over face of a sheet: everything of the far face, where it lies and as it is read from there."""

import math
from dataclasses import replace

import pytest
import shapely

from foamcut.draw.back import back_drawing
from foamcut.draw.back_map import map_scale
from foamcut.draw.part import stroke_shape
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.values import Drawing, Line
from foamcut.draw.words import text_box
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement
from foamcut.nest.register import with_register
from foamcut.write import dxf
from tests.draw.drawn_parts import TITLE, layout, part
from tests.draw.machine_sheets import NUMBERS, THICKNESSES, both_faces, with_sheet
from tests.draw.page_checks import crowded
from tests.write.readers import dxf_lines

CUT_BEHIND = {Line.HALF_BACK, Line.GROOVE_BACK, Line.LIFT_BACK, Line.BEVEL_BACK}


def back_of(each, title=TITLE) -> Drawing:
    return back_drawing(each.sheets[0], each, title, NUMBERS, THICKNESSES)


def front_of(each, **more) -> Drawing:
    return sheet_drawing(each.sheets[0], each, TITLE, NUMBERS, THICKNESSES, **more)


def notes(drawing: Drawing) -> str:
    return " ".join(text.text for text in drawing.texts if text.line is Line.NOTES)


def shapes(drawing: Drawing, line: Line) -> shapely.Geometry:
    return shapely.union_all([stroke_shape(s) for s in drawing.strokes if s.line is line]).normalize()


def turned(shape: shapely.Geometry, width: float) -> shapely.Geometry:
    return shapely.transform(shape, lambda points: points * (-1, 1) + (width, 0)).normalize()


@pytest.mark.parametrize(
    "line", [*sorted(CUT_BEHIND, key=lambda line: line.value), Line.MARK_BACK, Line.SHEET]
)
def test_lines_lie_at_width_less_x(line):
    """The printed page shows the far face through the board: x -> w - x, y kept."""
    each = both_faces()
    page, back = front_of(each), back_of(each)
    found = shapes(back, line)
    if line is not Line.GROOVE_BACK:  # the groove is on the drawn face
        assert not found.is_empty
    assert found.equals_exact(turned(shapes(page, line), 400), 2e-6)


def test_what_is_cut_behind_stands_in_the_back_file_alone():
    each = both_faces()
    page, front, back = front_of(each), front_of(each, machine=True), back_of(each)
    kinds = [{stroke.line for stroke in drawing.strokes} for drawing in (page, front, back)]
    assert CUT_BEHIND - {Line.GROOVE_BACK} <= kinds[0]
    assert not kinds[1] & CUT_BEHIND
    assert Line.MARK_BACK in kinds[1]
    assert kinds[2] == {
        Line.SHEET, Line.MARK_BACK, Line.HALF_BACK, Line.LIFT_BACK, Line.BEVEL_BACK, Line.OPENING, Line.NOTES,
    }  # fmt: skip


def test_register_holes_of_both_files_are_the_same_holes():
    each = both_faces()
    front, back = front_of(each, machine=True), back_of(each)
    holes = [s for s in front.strokes if s.line is Line.OPENING and not s.piece]
    there = [s for s in back.strokes if s.line is Line.OPENING]
    assert len(holes) == len(there) == 2
    first, second = (shapely.union_all([stroke_shape(s) for s in of]).normalize() for of in (holes, there))
    assert second.equals_exact(turned(first, 400), 2e-6)
    for hole in there:
        x0, y0, x1, y1 = stroke_shape(hole).bounds
        assert (x1 - x0, y1 - y0) == pytest.approx((3, 3))  # whatever the kerf
    assert not [s for s in front_of(each).strokes if s.line is Line.OPENING and not s.piece]


def test_every_piece_has_its_name_on_it_readable_from_this_side():
    each = both_faces()
    back = back_of(each)
    for placed in each.sheets[0].placed:
        own = [t for t in back.texts if t.piece == placed.id]
        name = f"{NUMBERS[placed.piece.flat.name]}  {placed.piece.flat.name}"
        assert [t.text for t in own].count(name) == 1
        piece = turned(placed.outline.polygon, 400)
        assert all(piece.contains(text_box(text)) for text in own)
    words = [t for t in back.texts if t.line is Line.LETTERING]
    assert not crowded(tuple(words))
    assert all(-90 <= text.turn_deg % 360 <= 90 or text.turn_deg % 360 >= 270 for text in words)
    lines = shapely.union_all([stroke_shape(s) for s in back.strokes if s.piece])
    assert not any(text_box(text).intersects(lines) for text in words)


def test_a_piece_too_small_for_its_name_has_its_number():
    tiny = part(Outline.rectangle(0, 0, 8, 4), "horn")
    each = layout((tiny, Placement(x_mm=5, y_mm=5)), size=(100, 100))
    words = [t.text for t in back_of(each).texts if t.line is Line.LETTERING]
    assert words == ["3"]


def test_words_are_those_seen_from_this_face():
    """From behind, a score on this face opens away from the reader, a wrap turns towards the reader."""
    words = notes(back_of(both_faces()))
    assert "1 tray: score, fold 30 deg away from you; wrap: lift out 5 mm, fold 90 deg towards you" in words
    assert "2 wing: bevel 45 deg" in words
    assert "3 horn: nothing is cut on this face" in words
    assert "from the back" not in words and "lies down" not in words
    front = notes(front_of(both_faces()))
    assert "HB HALF_BACK: from the back:" in front


def test_notes_say_how_to_turn_it_over():
    words = notes(back_of(both_faces()))
    for wanted in (
        "the turned-over face of the sheet",
        "cut the two register holes at 395.5, 4.5 mm and 4.5, 375.5 mm",
        "turn the board over like the page of a book, its lower edge stays below",
        "nothing is cut through here",
    ):
        assert wanted in words
    sheet, each = with_sheet(both_faces(), register=())
    words = notes(back_drawing(sheet, each, TITLE, NUMBERS, THICKNESSES))
    assert "turn over, lay the board to the same corner" in words
    assert "register holes at" not in words
    front = notes(front_of(each, machine=True))
    assert "the other face is cut, too" in front and "turn over, lay the board to the same corner" in front


def test_a_map_beside_the_sheet_shows_where_pieces_lie():
    """Reduced, turned over, wholly among the notes: every outline and every cut, a number on each piece."""
    each = both_faces()
    sheet, back = each.sheets[0], back_of(each)
    scale = map_scale(sheet.width_mm, sheet.height_mm)
    assert f"where each piece lies as seen from here, 1:{scale}" in notes(back)
    closed = [stroke_shape(s) for s in back.strokes if s.line is Line.NOTES]
    sizes = sheet.width_mm / scale, sheet.height_mm / scale
    (edge,) = [s for s in closed if extent(s) == pytest.approx(sizes)]
    x0, y0, _, _ = edge.bounds
    assert x0 == pytest.approx(sheet.width_mm + 10)

    def on_map(shape):
        return shapely.transform(shape, lambda points: points / scale + (x0, y0))

    drawn = shapely.union_all(closed).buffer(0.005)  # arcs are drawn as chords
    numbers = [t for t in back.texts if t.line is Line.NOTES and t.text.isdigit()]
    for placed in sheet.placed:
        piece = on_map(turned(placed.outline.polygon, 400))
        assert drawn.covers(piece.boundary)
        own = [t.text for t in numbers if piece.intersects(shapely.Point(text_box(t).centroid))]
        assert own == [str(NUMBERS[placed.piece.flat.name])]
    for stroke in back.strokes:
        if stroke.line in CUT_BEHIND:
            assert drawn.covers(on_map(stroke_shape(stroke)))


def test_no_line_of_the_map_is_taken_for_the_bar():
    """A sheet of 500 mm is 100 mm at 1:5, as long as the bar: its edge is drawn in two."""
    each = layout((part(Outline.rectangle(0, 0, 480, 90), "horn"), Placement(x_mm=9, y_mm=9)), size=(500, 300))
    back = back_of(each)
    lengths = [
        math.dist(s.start, s.end) for stroke in back.strokes if stroke.line is Line.NOTES for s in stroke.segments
    ]
    assert map_scale(500, 300) == 5
    assert [round(length, 3) for length in lengths].count(100.0) == 1


def test_the_front_file_says_where_to_find_what_is_cut_behind():
    front = notes(front_of(both_faces(), machine=True))
    assert "cut on the other face, see the -back file: score from the back, fold 30 deg" in front
    assert "see the -back file" not in notes(front_of(both_faces()))


def extent(shape: shapely.Geometry) -> tuple[float, float]:
    x0, y0, x1, y1 = shape.bounds
    return x1 - x0, y1 - y0


@pytest.mark.parametrize("tool", ["laser", "plotter", "knife"])
def test_cautions_stand_on_it(tool):
    words = notes(back_of(both_faces(), replace(TITLE, tool=tool)))
    for wanted in (
        "forbid laser cutting of foam of any kind",
        "gives off styrene",
        "gives off hydrogen chloride",
        "usual tool",
    ):
        assert words.count(wanted) == 1


def test_the_file_holds_its_layers_and_no_other(tmp_path):
    found = dxf_lines(dxf.render(back_of(both_faces()), version="R2000"), tmp_path)
    assert list(dict.fromkeys(found)) == [
        "SHEET", "MARK_BACK", "LETTERING", "HALF_BACK", "LIFT_BACK", "BEVEL_BACK", "OPENING", "NOTES",
    ]  # fmt: skip
    assert len(found["OPENING"]) == 2


def test_a_voided_offcut_is_turned_over_too():
    (scrap,) = Outline.of_points([(0, 0), (300, 0), (120, 200), (0, 200)]).minus(Outline.circle(40, 150, 20))
    each = both_faces(register=False)
    _, each = with_sheet(each, outline=scrap, placed=(), width_mm=300.0, height_mm=200.0)
    (outer, void) = [s for s in back_of(with_register(each)).strokes if s.line is Line.SHEET]
    assert stroke_shape(outer).bounds == (0, 0, 300, 200)
    assert shapely.Point(300, 200).distance(stroke_shape(outer)) < 1e-9
    assert stroke_shape(void).bounds == pytest.approx((240, 130, 280, 170))
    assert all(segment.bulge for segment in void.segments)
