"""PDF files, read back by pikepdf and by pdfium."""

import io
import math
from itertools import pairwise

import numpy as np
import pikepdf
import pypdfium2
import pytest

from foamcut.draw.styles import STYLES
from foamcut.draw.values import Align, Document, Line, Page, Stroke, Text, Window
from foamcut.flat.outline import Segment, straight
from foamcut.write.pdf import render
from tests.write.readers import MM_PER_POINT, pdf_paths
from tests.write.sheet_drawings import circle, pages, rectangle, sheet


@pytest.fixture(scope="module")
def data() -> bytes:
    return render(pages())


def one_page(*strokes: Stroke, texts: tuple[Text, ...] = (), size: tuple[float, float] = (210, 297)) -> bytes:
    page = Page(width_mm=size[0], height_mm=size[1], label="1", strokes=strokes, texts=texts)
    return render(Document(title="Glasswort", author="", subject="", pages=(page,)))


def ink(data: bytes, page: int = 0, scale: float = 1.0) -> int:
    """How many pixels of a page are not white."""
    image = pypdfium2.PdfDocument(data)[page].render(scale=scale).to_numpy()
    return int((image.min(axis=2) < 250).sum())


def test_a_hundred_millimetres_is_a_hundred_millimetres():
    (points,) = pdf_paths(one_page(Stroke(line=Line.RULER, segments=straight([(20, 40), (120, 40)]))))
    assert points[:, 0] == pytest.approx([20, 120], abs=1e-4)
    assert points[:, 1] == pytest.approx([40, 40], abs=1e-4)


def test_a_line_of_five_metres_is_five_metres():
    """float32 in the reader: half a thousandth of a mm."""
    long = Stroke(line=Line.THROUGH, segments=straight([(20, 40), (5060, 1.234567)]))
    (points,) = pdf_paths(one_page(long, size=(5080, 100)))
    assert points[1] == pytest.approx([5060, 1.234567], abs=0.001)


def test_page_sizes_without_a_unit_of_their_own(data):
    with pikepdf.open(io.BytesIO(data)) as document:
        sizes = [[float(v) * MM_PER_POINT for v in page.MediaBox[2:]] for page in document.pages]
        assert not [page for page in document.pages if "/UserUnit" in page.obj or "/Trans" in page.obj]
    assert sizes == [
        pytest.approx(size, abs=0.001) for size in [(210, 297), (210, 297), (215.9, 279.4), (5080, 300)]
    ]


def test_a_window_shows_the_drawing_at_its_place(data):
    """The square of the sheet from (10, 10) to (110, 110), in a window whose corner is at (10, 50)."""
    boxes = [(*p.min(axis=0), *p.max(axis=0)) for p in pdf_paths(data, 1)]
    assert any(box == pytest.approx((20, 60, 120, 160), abs=1e-3) for box in boxes)
    # edge of the board, two marks, hole, square, and the page's trim line: the notes are not drawn at all
    assert len(boxes) == 6


def test_a_turned_window_turns_a_quarter_counter_clockwise(data):
    """(x, y) goes to (corner.x + y1 - y, corner.y + x - x0): corner (20, 30), view (5, 5, 115, 155)."""
    boxes = [(*p.min(axis=0), *p.max(axis=0)) for p in pdf_paths(data, 2)]
    assert any(box == pytest.approx((65, 35, 165, 135), abs=1e-3) for box in boxes)
    # the mark from (20, 30) to (40, 30) that rises; its handles lie a little beyond it
    assert any(box == pytest.approx((140, 45, 145, 65), abs=0.25) for box in boxes)


def test_nothing_shows_outside_a_window():
    """A line across the window, and the ink beyond the window's edge."""
    line = Stroke(line=Line.THROUGH, segments=straight([(-100, 25), (300, 25)]))
    window = Window(view=(0, 0, 50, 50), corner=(80, 100), strokes=(line,))
    page = Page(width_mm=210, height_mm=297, label="1", windows=(window,))
    data = render(Document(title="x", author="", subject="", pages=(page,)))
    image = pypdfium2.PdfDocument(data)[0].render(scale=4).to_numpy().min(axis=2)
    columns = np.nonzero((image < 200).any(axis=0))[0] * MM_PER_POINT / 4
    assert columns.min() == pytest.approx(80, abs=0.2)
    assert columns.max() == pytest.approx(130, abs=0.2)


def test_arcs_keep_to_their_circle():
    (points,) = pdf_paths(one_page(Stroke(line=Line.THROUGH, segments=circle(100, 150, 80), closed=True)))
    at = points[0]
    for first, second, end in zip(points[1::3], points[2::3], points[3::3], strict=False):
        for t in np.linspace(0, 1, 21):
            place = (
                (1 - t) ** 3 * at + 3 * t * (1 - t) ** 2 * first + 3 * t * t * (1 - t) * second + t**3 * end
            )
            assert math.hypot(*(place - (100, 150))) == pytest.approx(80, abs=0.002)
        at = end


def test_arcs_bend_the_way_they_were_drawn():
    (points,) = pdf_paths(one_page(Stroke(line=Line.MARK, segments=(Segment((20, 20), (40, 20), 0.5),))))
    assert points[:, 1].min() < 16


def test_viewers_are_asked_to_print_at_full_size_and_told_what_this_is(data):
    with pikepdf.open(io.BytesIO(data)) as document:
        root = document.Root
        assert document.pdf_version == "1.6"
        assert root.ViewerPreferences.PrintScaling == "/None"
        assert root.ViewerPreferences.DisplayDocTitle
        assert str(root.Lang) == "en"
        assert str(document.docinfo.Title) == "Cordgrass – Größe 2"
        assert str(document.docinfo.Author) == "Salt-marsh station workshop"
        assert str(document.docinfo.Subject) == "templates at full size"


def test_streams_are_plain(data):
    assert b"/Filter" not in data
    assert b"FlateDecode" not in data


def test_the_only_font_is_embedded_and_its_letters_can_be_searched(data):
    assert b"Helvetica" not in data
    with pikepdf.open(io.BytesIO(data)) as document:
        fonts = [font for page in document.pages for font in page.Resources.Font.values()]
        assert fonts
        assert all("/FontFile2" in font.FontDescriptor and "/ToUnicode" in font for font in fonts)
        assert {str(font.BaseFont).partition("+")[2] for font in fonts} == {"DejaVuSans"}
    text = pypdfium2.PdfDocument(data)[0].get_textpage().get_text_bounded()
    assert "Seelavendel ключ ΩÅ" in text


def test_letters_that_the_font_lacks_are_question_marks():
    data = one_page(texts=(Text(line=Line.NOTES, at=(20, 20), text="Queller 海", height_mm=4),))
    assert "Queller ?" in pypdfium2.PdfDocument(data)[0].get_textpage().get_text_bounded()


@pytest.mark.parametrize("align", Align)
@pytest.mark.parametrize("turn_deg", [0, 90, 30])
def test_text_height_is_that_of_a_capital_and_align_places_it(align, turn_deg):
    """The ink of a row of H, whose feet stand on the baseline, measured on the picture."""
    text = Text(line=Line.NOTES, at=(100, 100), text="HHHH", height_mm=20, align=align, turn_deg=turn_deg)
    image = pypdfium2.PdfDocument(one_page(texts=(text,), size=(250, 250)))[0].render(scale=4).to_numpy()
    rows, columns = np.nonzero(image.min(axis=2) < 128)
    x, y = columns * MM_PER_POINT / 4 - 100, 250 - rows * MM_PER_POINT / 4 - 100
    turn = math.radians(turn_deg)
    along, across = x * math.cos(turn) + y * math.sin(turn), -x * math.sin(turn) + y * math.cos(turn)
    assert np.ptp(across) == pytest.approx(20, abs=0.3)
    assert across.min() == pytest.approx(0, abs=0.3)
    middle = (along.min() + along.max()) / 2
    expected = {Align.LEFT: 1, Align.MIDDLE: 0, Align.RIGHT: -1}[align] * np.ptp(along) / 2
    assert middle == pytest.approx(expected, abs=3)


def test_labels_and_bookmarks(data):
    document = pypdfium2.PdfDocument(data)
    assert [document.get_page_label(index) for index in range(4)] == ["key", "A1", "A2", "long"]
    entries = [(b.level, b.get_title(), b.get_dest().get_index()) for b in document.get_toc()]
    assert entries == [(0, "Key page – ключ", 0), (1, "Tile A1", 1), (1, "Tile A2", 2)]


def test_layers_in_their_order_and_each_can_be_switched_off(data):
    with pikepdf.open(io.BytesIO(data)) as document:
        groups = document.Root.OCProperties.OCGs
        names = [str(group.Name) for group in groups]
        assert names == ["SHEET", "MARK", "MARK_BACK", "LETTERING", "OPENING", "THROUGH", "NOTES"]
        amounts = []
        for count in range(len(groups) + 1):
            document.Root.OCProperties.D.OFF = pikepdf.Array(list(groups)[:count])
            stream = io.BytesIO()
            document.save(stream)
            amounts.append(ink(stream.getvalue(), 1, scale=2))
    assert amounts[0] == ink(data, 1, scale=2)
    # every layer but the notes, which no tile shows, takes some ink with it; the trim line stays
    assert all(more > less for more, less in pairwise(amounts[:-1]))
    assert amounts[-1] == amounts[-2] > 0


def test_shades_lie_under_the_lines(data):
    image = pypdfium2.PdfDocument(data)[0].render(scale=1).to_numpy()
    x, y = int(175 / MM_PER_POINT), int((297 - 55) / MM_PER_POINT)
    assert tuple(image[y, x][:3]) == (204, 204, 204)


def test_lines_are_drawn_in_the_style_of_their_kind():
    data = one_page(Stroke(line=Line.HALF, segments=straight([(20, 40), (120, 40)])))
    style = STYLES[Line.HALF]
    image = pypdfium2.PdfDocument(data)[0].render(scale=8).to_numpy()[:, :, :3]
    inked = image.min(axis=2) < 128
    rows = np.nonzero(inked.any(axis=1))[0]
    assert len(rows) * MM_PER_POINT / 8 == pytest.approx(style.width_mm, abs=0.1)
    along = inked[rows[len(rows) // 2]]
    assert along.sum() * MM_PER_POINT / 8 == pytest.approx(100 * 6 / 7.5, abs=1.5)
    red, green, blue = image[rows[len(rows) // 2]][along].mean(axis=0)[::-1]
    assert (red, green, blue) == pytest.approx(style.colour, abs=6)


def test_the_same_twice():
    assert render(pages()) == render(pages())


@pytest.mark.parametrize("size", [(0, 100), (100, math.nan), (5080.1, 100)])
def test_pages_that_no_reader_takes_are_refused(size):
    with pytest.raises(ValueError, match="page '1'"):
        one_page(size=size)


def test_a_document_without_pages_is_refused():
    with pytest.raises(ValueError, match="needs a page"):
        render(Document(title="x", author="", subject="", pages=()))


def test_a_line_that_cannot_be_drawn_is_refused():
    with pytest.raises(ValueError, match="no length"):
        one_page(Stroke(line=Line.MARK, segments=(Segment((0, 0), (0, 0)),)))


def test_many_windows_onto_one_drawing():
    """A drawing shown by many tiles is looked through once a tile and worked out once."""
    drawing = sheet()
    windows = [
        Window(view=(x, y, x + 50, y + 50), corner=(20, 20), strokes=drawing.strokes)
        for x in range(0, 300, 50)
        for y in range(0, 200, 50)
    ]
    document = Document(
        title="x",
        author="",
        subject="",
        pages=tuple(Page(width_mm=90, height_mm=90, label=f"{i}", windows=(w,)) for i, w in enumerate(windows)),
    )
    data = render(document)
    assert len(pypdfium2.PdfDocument(data)) == 24
    # at the far right there is nothing but the edge of the board, at the lower left all but the notes
    assert len(list(pdf_paths(data, 21))) == 1
    assert len(list(pdf_paths(data, 0))) == 5


def test_a_closed_line_of_a_page_is_closed():
    data = one_page(Stroke(line=Line.FRAME, segments=rectangle(10, 10, 60, 60), closed=True))
    (points,) = pdf_paths(data)
    assert points[-1] == pytest.approx(points[0])
    assert len(points) == 5
