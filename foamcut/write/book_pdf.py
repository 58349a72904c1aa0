"""The book as a PDF file to print: the same values and words as the page for a browser.

Pages are laid out first and drawn then, so that every page knows how many there are and the contents know
where everything stands.  mm from the lower left corner; the only font is the embedded one.  The same book
gives the same bytes: streams are not compressed and carry no time.
"""

import io
from collections.abc import Iterable, Sequence
from dataclasses import replace

from reportlab.pdfgen.canvas import Canvas

from foamcut.book.values import Book
from foamcut.draw.flow import plan_words
from foamcut.draw.furniture import caution_line
from foamcut.draw.metrics import EM_PER_CAP, text_width_mm
from foamcut.draw.paper import PAPERS, Paper
from foamcut.draw.picture import Picture
from foamcut.draw.values import Title
from foamcut.draw.words import fitted
from foamcut.flat.outline import Point
from foamcut.units import POINTS_PER_MM
from foamcut.write import picture_pdf
from foamcut.write.book_pdf_lines import printed
from foamcut.write.book_pdf_pieces import Drawn, Piece, Text
from foamcut.write.book_pdf_story import front, story
from foamcut.write.book_words import readable
from foamcut.write.numbers import plain
from foamcut.write.pdf import font_name

_SIDE_MM, _TOP_MM, _BOTTOM_MM = 18.0, 22.0, 20.0
_HEAD_MM, _FOOT_MM = 12.0, 10.0  # from the edge to the words there
_SMALL_MM, _LEAST_MM = 2.5, 2.0
#: what the line of caution begins with on pages that have a bar; these have none
_ON_A_BAR = "Measure the bar first. "

#: free above a chapter, or a heading within, that does not begin a page
_APART_MM = 4.0
#: how small a picture is made, of its size, so that what it belongs to stands on one page
_LEAST_SHARE = 0.6

Placed = tuple[float, Piece]  # the level of its upper edge


def render(book: Book, *, paper: str = "a4", boards: str = "") -> bytes:
    """The book as a PDF file on a paper of `draw.paper`; `boards` as in `book_html.render`.

    Raises
    ------
    KeyError
        There is no such paper.
    ValueError
        A number of a picture is not finite: a bug in the caller.
    """
    size = PAPERS[paper]
    width, height = size.width_mm - 2 * _SIDE_MM, size.height_mm - _TOP_MM - _BOTTOM_MM
    pages = _pages([tuple(front(book, boards, width, height))], height)
    if book.chapters:
        pages += _pages(story(book, width, height), height)
    canvas = _canvas(book, size)
    sheet = _Sheet(canvas, _goals(pages))
    for number, page in enumerate(pages, 1):
        canvas.setPageSize((size.width_mm * POINTS_PER_MM, size.height_mm * POINTS_PER_MM))
        scale = plain(POINTS_PER_MM, 12)
        canvas._code.append(f"q {scale} 0 0 {scale} 0 0 cm 1 j 0 J")
        _furniture(sheet, book.title, boards, size, f"page {number} of {len(pages)}")
        for level, piece in page:
            piece.draw(sheet, _SIDE_MM, size.height_mm - _TOP_MM + level)
        sheet.finish()
        canvas._code.append("Q")
        canvas.showPage()
    canvas.showOutline()
    return canvas.getpdfdata()


def _canvas(book: Book, size: Paper) -> Canvas:
    canvas = Canvas(
        io.BytesIO(),
        pagesize=(size.width_mm * POINTS_PER_MM, size.height_mm * POINTS_PER_MM),
        pageCompression=0,
        invariant=1,
        initialFontName=font_name(),  # otherwise every file refers to a font that it does not carry
        lang="en",
    )
    canvas.setTitle(readable(book.title.title) or readable(book.title.name))
    canvas.setAuthor(readable(book.title.maker))
    canvas.setSubject("Build book")
    canvas.setCreator("foamcut")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


def _pages(groups: Iterable[Sequence[Piece]], height_mm: float) -> list[list[Placed]]:
    """Pieces one below another, groups whole where a page has room for them."""
    laid = _Layout(height_mm)
    for pieces in groups:
        group = _shrunk(pieces, height_mm)
        laid.begin(group)
        for i, piece in enumerate(group):
            laid.add(piece, _following_mm(group, i))
    return laid.pages


def _height_mm(group: Sequence[Piece]) -> float:
    return sum(piece.height_mm + piece.gap_mm for piece in group) - group[-1].gap_mm


def _shrunk(group: Sequence[Piece], height_mm: float) -> Sequence[Piece]:
    """Pieces with their pictures as much smaller as lets all stand on one page, if that is not too much."""
    over = _height_mm(group) - height_mm + 0.01
    drawn = sum(piece.height_mm for piece in group if isinstance(piece, Drawn))
    if over <= 0.01 or drawn - over < _LEAST_SHARE * drawn:
        return group
    share = (drawn - over) / drawn
    return tuple(
        replace(piece, scale=piece.scale * share) if isinstance(piece, Drawn) else piece for piece in group
    )


def _following_mm(group: Sequence[Piece], i: int) -> float:
    """What must stand below a piece on its page."""
    if not group[i].leads or i + 1 == len(group):
        return 0.0
    return group[i].gap_mm + group[i + 1].least_mm + _following_mm(group, i + 1)


class _Layout:
    """Pages being filled from above."""

    def __init__(self, height_mm: float) -> None:
        self.pages: list[list[Placed]] = [[]]
        self._whole = height_mm
        self._level = 0.0  # upper edge of the next piece

    def begin(self, group: Sequence[Piece]) -> None:
        """Begin a page for pieces that do not fit on this one and do on a page of their own."""
        if self.pages[-1]:
            self._level -= _APART_MM
        if self._room < _height_mm(group) <= self._whole:
            self._turn_over()

    def add(self, piece: Piece, following_mm: float) -> None:
        """Place a piece; `following_mm` must fit below it on the same page."""
        if self.pages[-1] and piece.least_mm + following_mm > self._room:
            self._turn_over()
        rest: Piece | None = piece
        while rest and rest.height_mm > self._room:
            parts = rest.parted(self._room, whole_page=not self.pages[-1])
            if parts:
                self._place(parts[0])
                rest = parts[1]
            elif not self.pages[-1]:
                break  # there is no larger room than a page
            self._turn_over()
        if rest:
            self._place(rest)

    @property
    def _room(self) -> float:
        return self._whole + self._level

    def _place(self, piece: Piece) -> None:
        self.pages[-1].append((self._level, piece))
        self._level -= piece.height_mm + piece.gap_mm

    def _turn_over(self) -> None:
        if self.pages[-1]:
            self.pages.append([])
        self._level = 0.0


def _goals(pages: Sequence[Sequence[Placed]]) -> dict[str, int]:
    """The page that each name stands on."""
    return {
        piece.goal[0]: number
        for number, page in enumerate(pages, 1)
        for _, piece in page
        if isinstance(piece, Text) and piece.goal
    }


def _furniture(sheet: "_Sheet", title: Title, boards: str, size: Paper, number: str) -> None:
    """Head and foot of a page."""
    left, right = _SIDE_MM, size.width_mm - _SIDE_MM
    level = size.height_mm - _HEAD_MM
    room = (right - left) * 0.62
    plan, height = plan_words(title, _SMALL_MM, room)
    sheet.words((left, level), printed(plan), height)
    words, height = fitted(printed(boards), _SMALL_MM, right - left - room - 4.0, _LEAST_MM)
    sheet.words((right, level), words, height, right=True)
    sheet.line([(left, level - 2.5), (right, level - 2.5)])
    caution = caution_line(title.tool).removeprefix(_ON_A_BAR)
    caution, height = fitted(caution, _SMALL_MM, right - left - 35.0, _LEAST_MM)
    sheet.line([(left, _FOOT_MM + 5.0), (right, _FOOT_MM + 5.0)])
    sheet.words((left, _FOOT_MM), caution, height)
    sheet.words((right, _FOOT_MM), number, _SMALL_MM, right=True)


class _Sheet:
    """The page that is drawn on now, in mm."""

    def __init__(self, canvas: Canvas, goals: dict[str, int]) -> None:
        self._canvas = canvas
        self._goals = goals
        self._letters = canvas.beginText()
        self._size = 0.0

    def words(self, at: Point, text: str, height_mm: float, *, right: bool = False) -> None:
        """A line of words, of letters of the font, that begins at a point; with `right`, ends there."""
        if not text.strip():
            return
        x = at[0] - text_width_mm(text, height_mm) if right else at[0]
        if height_mm != self._size:
            self._letters.setFont(font_name(), height_mm * EM_PER_CAP)
            self._size = height_mm
        self._letters.setTextOrigin(x, at[1])
        self._letters.textOut(text)

    def finish(self) -> None:
        """Put the words over all else, and begin with those of the next page."""
        self._canvas.drawText(self._letters)
        self._letters = self._canvas.beginText()
        self._size = 0.0

    def line(self, points: Sequence[Point], width_mm: float = 0.18, *, closed: bool = False) -> None:
        """A run of straight black lines."""
        first, *others = (f"{plain(x, 3)} {plain(y, 3)}" for x, y in points)
        steps = " ".join(f"{place} l" for place in others)
        self._write(f"0 G {plain(width_mm, 3)} w [] 0 d {first} m {steps} {'s' if closed else 'S'}")

    def block(self, low: Point, high: Point, grey: float) -> None:
        """A rectangle without an edge, 0 black, 1 white."""
        places = plain(low[0], 3), plain(low[1], 3), plain(high[0] - low[0], 3), plain(high[1] - low[1], 3)
        self._write(f"{plain(grey, 3)} g {' '.join(places)} re f 0 g")

    def picture(self, picture: Picture, at: Point, scale: float) -> None:
        """A picture with its lower left corner at a point."""
        picture_pdf.draw(self._canvas, picture, at, scale, font_name())

    def goal(self, name: str, heading: str, level: int, y: float) -> None:
        """What a bookmark and the contents lead to."""
        self._canvas.bookmarkPage(name, fit="XYZ", left=0, top=(y + 4.0) * POINTS_PER_MM, zoom=0)
        self._canvas.addOutlineEntry(heading, name, level=level)

    def link(self, name: str, low: Point, high: Point) -> str:
        """Lead from a rectangle to a goal; the number of its page."""
        corners = [value * POINTS_PER_MM for value in (*low, *high)]
        self._canvas.linkRect("", name, corners, thickness=0)
        return str(self._goals[name])

    def _write(self, code: str) -> None:
        self._canvas._code.append(code)
