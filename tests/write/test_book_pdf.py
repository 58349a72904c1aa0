"""The printed book read back by other libraries (pypdfium2, pikepdf)."""

import ctypes
import io
import re

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from foamcut.book.values import Book, Caution, Chapter, Figure, Grid, Listing, Turning, Words
from foamcut.draw.metrics import drawable, text_width_mm
from foamcut.draw.paper import PAPERS
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.units import POINTS_PER_MM
from foamcut.write import book_pdf
from foamcut.write.book_pdf_lines import lines, printed
from foamcut.write.book_pdf_story import BODY_MM
from foamcut.write.book_words import readable
from tests.write.book_demo import LONG, PLAIN, empty_book, nasty_book, picture, plain_book

BOOKS = {"plain": plain_book, "nasty": nasty_book, "empty": empty_book}
BOARDS = "board 5 mm"


def rendered(book: Book, paper: str = "a4") -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument(book_pdf.render(book, paper=paper, boards=BOARDS))


def words_of(document: pypdfium2.PdfDocument) -> list[str]:
    return [page.get_textpage().get_text_range() for page in document]


def bare(text: str) -> str:
    """Letters alone: lines of a page break words anywhere."""
    return "".join(drawable(readable(text)).split())


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", BOOKS)
def test_every_page_tells_its_number_the_plan_and_a_caution(name, paper):
    document = rendered(BOOKS[name](), paper)
    for number, (page, words) in enumerate(zip(document, words_of(document), strict=True), 1):
        assert f"page {number} of {len(document)}" in words
        assert "cut away from your hand" in words and " bar" not in words and BOARDS in words
        assert page.get_size() == pytest.approx(
            [side * POINTS_PER_MM for side in PAPERS[paper].size(lying=False)], abs=0.01
        )


def test_plan_and_revision_stand_at_the_head_of_each_page():
    assert all("cordgrass-2, revision C" in words for words in words_of(rendered(plain_book())))


def texts(chapter: Chapter) -> list[str]:
    """All words of a chapter in the order in which they are printed."""
    found = [chapter.heading or chapter.id]
    for block in chapter.blocks:
        match block:
            case Words(text=text) | Caution(text=text):
                found.append(text)
            case Listing(items=items):
                found += items
            case Grid():
                found += [block.caption, *block.head, *(cell for row in block.rows for cell in row)]
            case Figure(caption=caption) | Turning(caption=caption):
                found.append(caption)
    return found


def test_all_words_of_the_book_are_printed_in_their_order():
    """The same words as the page for a browser: nothing is cut off, whatever lies between."""
    whole = bare("".join(words_of(rendered(plain_book()))[1:]))
    at = 0
    for chapter in plain_book().chapters:
        for one in (chapter, *chapter.within):
            for text in texts(one):
                found = whole.find(bare(text), at)
                assert found >= 0, text
                at = found


def test_hard_words_are_printed_with_marks_for_what_the_font_lacks():
    whole = bare("".join(words_of(rendered(nasty_book()))))
    for chapter in nasty_book().chapters:
        for one in (chapter, *chapter.within):
            for text in (text for text in texts(one) if text != LONG * 40):
                assert bare(text).replace("-", "") in whole.replace("-", ""), text
    assert "cannotbeprintedhere" in whole
    assert "cannotbeprintedhere" not in bare("".join(words_of(rendered(plain_book()))))


def test_bookmarks_and_contents_lead_to_the_headings():
    document = rendered(plain_book())
    pages = words_of(document)
    expected = [(0, "Contents")]
    for chapter in plain_book().chapters:
        expected += [(0, chapter.heading), *((1, one.heading) for one in chapter.within)]
    marks = list(document.get_toc())
    assert [(mark.level, mark.get_title()) for mark in marks] == expected
    for mark in marks:
        assert mark.get_title() in pages[mark.get_dest().get_index()]
    for mark in marks[1:]:
        number = mark.get_dest().get_index() + 1
        assert re.search(rf"{re.escape(mark.get_title())}\s+{number}\b", pages[0])


def test_the_contents_are_links_to_the_same_places():
    pages = words_of(rendered(plain_book()))
    headings = [one.heading for chapter in plain_book().chapters for one in (chapter, *chapter.within)]
    with pikepdf.open(io.BytesIO(book_pdf.render(plain_book()))) as document:
        numbers = [page.objgen for page in document.pages]
        for heading, link in zip(headings, document.pages[0].Annots, strict=True):
            assert link.Subtype == "/Link"
            assert heading in pages[numbers.index(link.Dest[0].objgen)]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", BOOKS)
def test_no_letter_and_no_line_lies_outside_what_printers_reach(name, paper):
    """Within the margins, but for what a picture's own maker lets stick out: that is cut off at its edge."""
    for page in rendered(BOOKS[name](), paper):
        width, height = page.get_size()
        inks = page.render(scale=1.0, grayscale=True).to_numpy()
        rows, columns = (inks < 250).nonzero()
        edge = 9 * POINTS_PER_MM
        assert rows.min() > edge and columns.min() > edge
        assert rows.max() < height - edge and columns.max() < width - edge


def test_a_long_table_has_every_row_once_and_its_head_on_every_page():
    rows = tuple((f"row{i}", "salt " * (i % 40)) for i in range(300))
    grid = Grid(caption="Long table", head=("what", "why it is"), rows=rows, figures=(0,))
    document = rendered(Book(title=PLAIN, chapters=(Chapter(id="a", heading="A", blocks=(grid,)),)))
    pages = words_of(document)
    assert re.findall(r"\brow\d+", " ".join(pages)) == [f"row{i}" for i in range(300)]
    held = [words for words in pages if "row" in words]
    assert len(held) > 5 and all("why it is" in words and "Long table" in words for words in held)
    assert bare("".join(pages)).count("salt") == sum(i % 40 for i in range(300))


def test_a_cell_higher_than_a_page_goes_on_on_the_next():
    grid = Grid(caption="", head=("a", "b"), rows=(("x", "marsh " * 4000), ("y", "last")))
    document = rendered(Book(title=PLAIN, chapters=(Chapter(id="a", heading="A", blocks=(grid,)),)))
    whole = "".join(words_of(document))
    assert whole.count("marsh") == 4000 and "last" in whole
    assert len(document) > 3


def test_headings_stay_with_what_follows():
    """Whatever stands above: no page ends with a heading, a caption stays with its picture."""
    for count in range(1, 60):
        blocks = tuple(Words(text=f"line {i}") for i in range(count))
        steps = tuple(
            Chapter(
                id=f"s{i}",
                heading=f"Heading {i}",
                blocks=(Figure(picture=picture(), caption=f"Under {i}"), Words(text="end")),
            )
            for i in (1, 2)
        )
        book = Book(
            title=PLAIN,
            chapters=(
                Chapter(id="a", heading="A", blocks=blocks),
                Chapter(id="b", heading="Both", within=steps),
            ),
        )
        pages = words_of(rendered(book))
        for page in pages[1:]:
            for one in (1, 2):
                assert (f"Heading {one}" in page) == (f"Under {one}" in page)
            assert ("Both" in page) <= ("Heading 1" in page)


def test_a_paragraph_leaves_no_line_alone():
    for count in range(1, 60):
        filler = tuple(Words(text=f"line {i}") for i in range(count))
        long = Words(text=" ".join(f"word{i}" for i in range(120)))
        pages = words_of(
            rendered(Book(title=PLAIN, chapters=(Chapter(id="a", heading="A", blocks=(*filler, long)),)))
        )
        counts = [len({line for line in page.splitlines() if "word" in line}) for page in pages]
        assert 1 not in counts and sum(counts) == len(lines(long.text, BODY_MM, 174.0))


def path_sizes(document: pypdfium2.PdfDocument) -> list[tuple[float, float]]:
    """Width and height in mm of every path, as the library works them out, on all pages."""
    found = []
    for page in document:
        for one in page.get_objects(filter=(pdfium.FPDF_PAGEOBJ_PATH,)):
            corners = [ctypes.c_float() for _ in range(4)]
            assert pdfium.FPDFPageObj_GetBounds(one, *corners)
            left, bottom, right, top = (corner.value / POINTS_PER_MM for corner in corners)
            found.append((right - left, top - bottom))
    return found


@pytest.mark.parametrize(("width", "expected"), [(100.0, 1.0), (348.0, 0.5)])
def test_a_picture_has_its_size_or_the_pages_width(width, expected):
    """arithmetic: a page has 174 mm for pictures on A4; the library adds a line's width, 0.35 mm, at each side."""
    box = Shape(ink=Ink.EDGE, points=((5.0, 5.0), (65.0, 5.0), (65.0, 45.0), (5.0, 45.0)), closed=True)
    one = Picture(name="p", heading="h", told="t", width_mm=width, height_mm=50, shapes=(box,), texts=())
    figure = Figure(picture=one, caption="c")
    sizes = path_sizes(
        rendered(Book(title=PLAIN, chapters=(Chapter(id="a", heading="A", blocks=(figure,)),)))
    )
    assert any(abs(w - 60.7 * expected) < 0.02 and abs(h - 40.7 * expected) < 0.02 for w, h in sizes), sorted(
        sizes
    )


def test_a_step_a_little_higher_than_a_page_gets_a_smaller_picture():
    """arithmetic: 255 mm of room on A4; what lies beyond is taken off the picture, down to 0.6 of its size."""
    box = Shape(ink=Ink.EDGE, points=((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)), closed=True)
    one = Picture(name="p", heading="h", told="t", width_mm=100, height_mm=100, shapes=(box,), texts=())
    seen = set()
    for count in range(1, 40):
        blocks = (*(Words(text=f"line{i}") for i in range(count)), Figure(picture=one, caption="Under it"))
        document = rendered(Book(title=PLAIN, chapters=(Chapter(id="a", heading="Above", blocks=blocks),)))
        widths = [w for w, h in path_sizes(document) if w < 102 and abs(w - h) < 0.02 and h > 50]
        assert len(widths) == 1
        if widths[0] < 100:
            assert len(document) == 2
        seen.add(len(document) if widths[0] > 100 else "smaller")
    assert seen == {2, 3, "smaller"}


def test_nothing_but_the_embedded_font_and_no_time():
    data = book_pdf.render(plain_book())
    with pikepdf.open(io.BytesIO(data)) as document:
        fonts = {
            str(font.BaseFont)
            for page in document.pages
            for font in page.get("/Resources", {}).get("/Font", {}).values()
        }
        assert fonts and all("+" in name and "DejaVu" in name for name in fonts)
        assert document.Root.Lang == "en"
        assert not any("/Filter" in page.Contents for page in document.pages)
    assert book_pdf.render(plain_book()) == data


def test_there_are_papers_with_names():
    with pytest.raises(KeyError):
        book_pdf.render(plain_book(), paper="foolscap")


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_a_picture_refuses_what_is_no_number(bad):
    shape = Shape(ink=Ink.EDGE, points=((0.0, bad), (1.0, 1.0)))
    one = Picture(name="p", heading="", told="", width_mm=9, height_mm=9, shapes=(shape,), texts=())
    book = Book(
        title=PLAIN, chapters=(Chapter(id="a", heading="A", blocks=(Figure(picture=one, caption=""),)),)
    )
    with pytest.raises(ValueError):
        book_pdf.render(book)


@pytest.mark.parametrize("text", ["", "one", "a b c " * 30, LONG, f"short {LONG} end"])
def test_lines_hold_all_words_within_their_width(text):
    done = lines(text, 2.5, 60.0)
    assert done and "".join("".join(done).split()) == "".join(printed(text).split())
    assert all(text_width_mm(line, 2.5) <= 60.001 for line in done)
