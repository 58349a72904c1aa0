"""PDF writer: pages in, the bytes of a file out.

Contents are in mm from the lower left corner of the page, as the values have them; one matrix at the
head of each page turns them into points (1/72 in).  Lines lie in layers that a viewer can switch, one
for each kind of line.  Viewers are asked to print at 100 %.  The only font is the embedded one.  The
same document gives the same bytes: streams are not compressed and carry no time.
"""

import io
import math
from collections.abc import Iterable, Sequence
from functools import cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from foamcut.draw.metrics import EM_PER_CAP, drawable, text_width_mm
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Align, Document, Line, Page, Shade, Stroke, Text, Window
from foamcut.flat.outline import Segment
from foamcut.units import POINTS_PER_MM
from foamcut.write.curves import curves
from foamcut.write.extents import Box, meet, segment_box, text_box, union
from foamcut.write.fonts import font_bytes
from foamcut.write.numbers import plain
from foamcut.write.paths import Path, path
from foamcut.write.pdf_layers import Layers

#: PDF reference: 14,400 units of 1/72 in is the most that a page may measure without a unit of its own
LARGEST_MM = 5080.0

_SHARE_BEFORE = {Align.LEFT: 0.0, Align.MIDDLE: 0.5, Align.RIGHT: 1.0}


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
    layers = Layers(canvas, _lines(document))
    for number, page in enumerate(document.pages):
        canvas.setPageSize(_size_points(page))
        canvas.addPageLabel(number, prefix=page.label)
        if page.bookmark:
            canvas.bookmarkPage(f"page{number}")
            canvas.addOutlineEntry(page.bookmark, f"page{number}", level=page.level)
        _draw_page(canvas, layers, page)
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
        initialFontName=_font_name(),  # otherwise every file refers to a font that it does not carry
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
def _font_name() -> str:
    """Name under which the library knows the embedded font, made known at the first call."""
    name = "FoamcutLetters"
    pdfmetrics.registerFont(TTFont(name, io.BytesIO(font_bytes())))
    return name


def _size_points(page: Page) -> tuple[float, float]:
    for side in (page.width_mm, page.height_mm):
        if not 0 < side <= LARGEST_MM:
            raise ValueError(f"page {page.label!r} of {page.width_mm} x {page.height_mm} mm")
    return page.width_mm * POINTS_PER_MM, page.height_mm * POINTS_PER_MM


def _lines(document: Document) -> list[Line]:
    """Kinds of line that the document uses, in the order of the kinds."""
    used: set[Line] = set()
    for page in document.pages:
        used.update(item.line for item in (*page.strokes, *page.texts))
        for window in page.windows:
            used.update(item.line for item in (*window.strokes, *window.texts))
    return [line for line in Line if line in used]


def _draw_page(canvas: Canvas, layers: Layers, page: Page) -> None:
    scale = plain(POINTS_PER_MM, 12)
    # Corners are rounded: a pointed one would reach far beyond the part that it belongs to.
    _write(canvas, f"q {scale} 0 0 {scale} 0 0 cm 1 j 0 J")
    for shade in page.shades:
        _write(canvas, _shade(shade))
    for window in page.windows:
        _draw_window(canvas, layers, window)
    _draw(canvas, layers, map(path, page.strokes), [s.line for s in page.strokes], page.texts)
    _write(canvas, "Q")


def _write(canvas: Canvas, code: str) -> None:
    """Put operators into the page: the library's own drawing calls keep fewer digits."""
    canvas._code.append(code)


def _shade(shade: Shade) -> str:
    first, *others = (f"{plain(x)} {plain(y)}" for x, y in shade.points)
    return " ".join([f"{plain(shade.grey, 3)} g {first} m", *(f"{place} l" for place in others), "h f"])


def _draw_window(canvas: Canvas, layers: Layers, window: Window) -> None:
    """What of the drawing meets the window, at its place on the page, clipped to the window."""
    x, y = window.corner
    width, height = window.size()
    shown = [stroke for stroke in window.strokes if meet(_stroke_box(stroke), window.view)]
    texts = [text for text in window.texts if meet(text_box(text), window.view)]
    _write(canvas, f"q {plain(x)} {plain(y)} {plain(width)} {plain(height)} re W n")
    placed = (_path_on_page(window, path(stroke)) for stroke in shown)
    _draw(canvas, layers, placed, [s.line for s in shown], [_text_on_page(window, text) for text in texts])
    _write(canvas, "Q")


def _stroke_box(stroke: Stroke) -> Box:
    """Box of a stroke with half its width."""
    half = STYLES[stroke.line].width_mm / 2
    x0, y0, x1, y1 = union(map(segment_box, path(stroke).segments()))
    return x0 - half, y0 - half, x1 + half, y1 + half


def _path_on_page(window: Window, drawn: Path) -> Path:
    """A move and perhaps a quarter turn, neither of which changes a bulge."""
    points = tuple(window.on_page(x, y) for x, y in drawn.points)
    return Path(points=points, bulges=drawn.bulges, closed=drawn.closed)


def _text_on_page(window: Window, text: Text) -> Text:
    return Text(
        line=text.line,
        at=window.on_page(*text.at),
        text=text.text,
        height_mm=text.height_mm,
        turn_deg=text.turn_deg + (90.0 if window.turned else 0.0),
        align=text.align,
        piece=text.piece,
    )


def _draw(
    canvas: Canvas, layers: Layers, paths: Iterable[Path], lines: Sequence[Line], texts: Iterable[Text]
) -> None:
    """Lines and then texts, kind by kind, each within its layer."""
    drawn = list(zip(lines, paths, strict=True))
    words = [text for text in texts if text.text.strip()]
    for line in Line:
        own = [each for kind, each in drawn if kind is line]
        own_words = [text for text in words if text.line is line]
        if own or own_words:
            _write(canvas, layers.begin(line))
            if own:
                _write(canvas, _pen(line))
            for each in own:
                _write(canvas, _operators(each))
            for text in own_words:
                _draw_text(canvas, text)
            _write(canvas, layers.END)


def _pen(line: Line) -> str:
    style = STYLES[line]
    dashes = " ".join(map(plain, style.dashes_mm))
    return f"{_colour(line)} RG {plain(style.width_mm)} w [{dashes}] 0 d"


def _colour(line: Line) -> str:
    return " ".join(plain(part / 255, 4) for part in STYLES[line].colour)


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
    return " ".join(
        " ".join(f"{plain(x)} {plain(y)}" for x, y in curve) + " c" for curve in curves(segment)
    )


def _draw_text(canvas: Canvas, text: Text) -> None:
    """One line of text; the library chooses the glyphs and remembers which to embed."""
    words = drawable(text.text)
    before = text_width_mm(text.text, text.height_mm) * _SHARE_BEFORE[text.align]
    size = text.height_mm * EM_PER_CAP
    cos, sin = _direction(text.turn_deg)
    x, y = text.at[0] - before * cos, text.at[1] - before * sin
    _write(canvas, f"{_colour(text.line)} rg")
    letters = canvas.beginText()
    letters.setFont(_font_name(), size)
    letters.setTextTransform(cos, sin, -sin, cos, x, y)
    letters.textOut(words)
    canvas.drawText(letters)


def _direction(turn_deg: float) -> tuple[float, float]:
    """Cosine and sine, quarter turns exactly."""
    quarters, rest = divmod(turn_deg % 360, 90)
    if not rest:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]
    return math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
