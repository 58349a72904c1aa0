"""PDF writer: pages in, the bytes of a file out.

Contents are in mm from the lower left corner of the page, as the values have them; one matrix at the
head of each page turns them into points (1/72 in).  Lines of a sheet lie in the sheet's layers, which a
viewer can switch; what a printed page needs to be trimmed and measured lies in none and always shows.
Viewers are asked to print at 100 %.  The only font is the embedded one.  The
same document gives the same bytes: streams are not compressed and carry no time.
"""

import io
import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from foamcut.draw.metrics import EM_PER_CAP, drawable, text_width_mm
from foamcut.draw.styles import STYLES
from foamcut.draw.values import LAYERS, Document, Line, Page, Shade, Stroke, Text, Window
from foamcut.flat.outline import Segment
from foamcut.units import POINTS_PER_MM
from foamcut.write.curves import curves
from foamcut.write.extents import SHARE_BEFORE, Box, meet, segment_box, text_box, union
from foamcut.write.fonts import font_bytes
from foamcut.write.numbers import plain
from foamcut.write.paths import Path, path
from foamcut.write.pdf_layers import Layers

#: PDF reference: 14,400 units of 1/72 in is the most that a page may measure without a unit of its own
LARGEST_MM = 5080.0


def render(document: Document) -> bytes:
    """The document as a PDF file.

    Raises
    ------
    ValueError
        There is no page, a page is larger than 5,080 mm or has no size, a bookmark stands more than one
        level below the one before it, or a line cannot be drawn (see `paths.path`): bugs of ours.
    """
    if not document.pages:
        raise ValueError("a document needs a page")
    canvas = _canvas(document)
    layers = Layers(canvas, _layers(document))
    pages = _Pages(canvas, layers)
    for number, page in enumerate(document.pages):
        canvas.setPageSize(_size_points(page))
        canvas.addPageLabel(number, prefix=page.label)
        if page.bookmark:
            canvas.bookmarkPage(f"page{number}")
            canvas.addOutlineEntry(page.bookmark, f"page{number}", level=page.level)
        pages.draw(page)
        canvas.showPage()
    if any(page.bookmark for page in document.pages):
        canvas.showOutline()
    layers.finish()
    return canvas.getpdfdata()


def _canvas(document: Document) -> Canvas:
    canvas = Canvas(
        io.BytesIO(),
        pageCompression=0,
        invariant=1,
        pdfVersion=(1, 6),  # the first with PrintScaling
        initialFontName=font_name(),  # otherwise every file refers to a font that it does not carry
        lang="en",
    )
    canvas.setTitle(document.title)
    canvas.setAuthor(document.author)
    canvas.setSubject(document.subject)
    canvas.setCreator("foamcut")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


@cache
def font_name() -> str:
    """Name under which the library knows the embedded font, made known at the first call."""
    name = "FoamcutLetters"
    pdfmetrics.registerFont(TTFont(name, io.BytesIO(font_bytes())))
    return name


def _size_points(page: Page) -> tuple[float, float]:
    for side in (page.width_mm, page.height_mm):
        if not 0 < side <= LARGEST_MM:
            raise ValueError(f"page {page.label!r} of {page.width_mm} x {page.height_mm} mm")
    return page.width_mm * POINTS_PER_MM, page.height_mm * POINTS_PER_MM


def _layers(document: Document) -> list[Line]:
    """Layers of sheets that the document uses, in their order."""
    used: set[Line] = set()
    for page in document.pages:
        used.update(stroke.line for stroke in page.strokes)
        used.update(text.line for text in page.texts)
        for window in page.windows:
            used.update(stroke.line for stroke in window.strokes)
            used.update(text.line for text in window.texts)
    return [line for line in LAYERS if line in used]


class _Pages:
    """Draws page after page; what it works out about a stroke it keeps, since many windows show it."""

    def __init__(self, canvas: Canvas, layers: Layers) -> None:
        self._canvas = canvas
        self._layers = layers
        self._known: dict[int, tuple[Stroke, Path, Box]] = {}

    def draw(self, page: Page) -> None:
        """Shades first, then windows, then what the page itself holds."""
        scale = plain(POINTS_PER_MM, 12)
        # Corners are rounded: a pointed one would reach far beyond the part that it belongs to.
        self._write(f"q {scale} 0 0 {scale} 0 0 cm 1 j 0 J")
        for shade in page.shades:
            self._write(_shade(shade))
        for window in page.windows:
            self._draw_window(window)
        self._draw_kinds([(stroke.line, self._path(stroke)[0]) for stroke in page.strokes], page.texts)
        self._write("Q")

    def _write(self, code: str) -> None:
        """Put operators into the page: the library's own drawing calls keep fewer digits."""
        self._canvas._code.append(code)

    def _path(self, stroke: Stroke) -> tuple[Path, Box]:
        """The stroke's path and its box with half the width of the line, worked out once."""
        if id(stroke) not in self._known:
            half = STYLES[stroke.line].width_mm / 2
            drawn = path(stroke)
            x0, y0, x1, y1 = union(map(segment_box, drawn.segments()))
            # kept with the stroke itself, so that no other can get its id
            self._known[id(stroke)] = stroke, drawn, (x0 - half, y0 - half, x1 + half, y1 + half)
        return self._known[id(stroke)][1:]

    def _draw_window(self, window: Window) -> None:
        """What of the drawing meets the window, at its place on the page, clipped to the window."""
        shown = []
        for stroke in window.strokes:
            drawn, box = self._path(stroke)
            if meet(box, window.view):
                shown.append((stroke.line, _path_on_page(window, drawn)))
        texts = [_text_on_page(window, text) for text in window.texts if meet(text_box(text), window.view)]
        corner, size = window.corner, window.size()
        self._write(f"q {' '.join(map(plain, (*corner, *size)))} re W n")
        self._draw_kinds(shown, texts)
        self._write("Q")

    def _draw_kinds(self, paths: Sequence[tuple[Line, Path]], texts: Iterable[Text]) -> None:
        """Lines and then texts, kind by kind, each within its layer if it has one."""
        words = [text for text in texts if text.text.strip()]
        for line in Line:
            own = [each for kind, each in paths if kind is line]
            own_words = [text for text in words if text.line is line]
            if own or own_words:
                if line in LAYERS:
                    self._write(self._layers.begin(line))
                self._write(_pen(line))
                for each in own:
                    self._write(_operators(each))
                for text in own_words:
                    self._draw_text(text)
                if line in LAYERS:
                    self._write(self._layers.END)

    def _draw_text(self, text: Text) -> None:
        """One line of text; the library chooses the glyphs and remembers which to embed."""
        before = text_width_mm(text.text, text.height_mm) * SHARE_BEFORE[text.align]
        cos, sin = _direction(text.turn_deg)
        letters = self._canvas.beginText()
        letters.setFont(font_name(), text.height_mm * EM_PER_CAP)
        letters.setTextTransform(cos, sin, -sin, cos, text.at[0] - before * cos, text.at[1] - before * sin)
        letters.textOut(drawable(text.text))
        self._canvas.drawText(letters)


def _shade(shade: Shade) -> str:
    first, *others = (f"{plain(x)} {plain(y)}" for x, y in shade.points)
    return " ".join([f"{plain(shade.grey, 3)} g {first} m", *(f"{place} l" for place in others), "h f"])


def _path_on_page(window: Window, drawn: Path) -> Path:
    """A move and perhaps a quarter turn, neither of which changes a bulge."""
    points = tuple(window.on_page(x, y) for x, y in drawn.points)
    return Path(points=points, bulges=drawn.bulges, closed=drawn.closed)


def _text_on_page(window: Window, text: Text) -> Text:
    turn_deg = text.turn_deg + (90.0 if window.turned else 0.0)
    return replace(text, at=window.on_page(*text.at), turn_deg=turn_deg)


def _pen(line: Line) -> str:
    style = STYLES[line]
    dashes = " ".join(map(plain, style.dashes_mm))
    colour = " ".join(plain(part / 255, 4) for part in style.colour)
    return f"{colour} RG {colour} rg {plain(style.width_mm)} w [{dashes}] 0 d"


def _operators(drawn: Path) -> str:
    """A path's operators: straight lines, and curves for arcs."""
    segments = drawn.segments()
    if drawn.closed and not segments[-1].bulge:
        segments = segments[:-1]  # h draws it
    x, y = drawn.points[0]
    parts = [f"{plain(x)} {plain(y)} m", *map(_segment, segments)]
    return " ".join([*parts, "h S" if drawn.closed else "S"])


def _segment(segment: Segment) -> str:
    if not segment.bulge:
        return f"{plain(segment.end[0])} {plain(segment.end[1])} l"
    return " ".join(" ".join(f"{plain(x)} {plain(y)}" for x, y in curve) + " c" for curve in curves(segment))


def _direction(turn_deg: float) -> tuple[float, float]:
    """Cosine and sine, quarter turns exactly."""
    quarters, rest = divmod(turn_deg % 360, 90)
    if not rest:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]
    return math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
