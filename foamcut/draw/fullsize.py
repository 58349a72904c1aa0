"""One page a sheet at true size, for a print shop or a large plotter.

The sheet's lower left corner lies 15 mm right of and 30 mm above the page's, whatever the sheet; the
notes to its right come along, moved up where they reach below the sheet.  The strip below carries what
every page says.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from foamcut.draw.flow import moved
from foamcut.draw.furniture import caution_line, level_bar
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import stroke_shape
from foamcut.draw.values import Document, Drawing, Line, Page, Stroke, Text, Title, Window
from foamcut.draw.words import fitted, revision_words, text_box
from foamcut.draw.worked import BACK_LINES
from foamcut.flat.outline import Point
from foamcut.nest.values import Layout
from foamcut.units import decimal_text, inch_text

#: the sheet's corner on the page, mm
CORNER_MM: Point = (15.0, 30.0)
#: right of the notes and above the sheet, mm
EDGE_MM = 15.0
#: the largest side of a page that readers of PDF must take: 14,400 units of 1/72 in (PDF reference, annex C)
LARGEST_MM = 5080.0
_NAME_MM = 3.5
_SMALL_MM = 2.5
#: lines reach beyond their middle by this much at most, mm
_PEN_MM = 1.0
_BAR_MM = 101.6
_BEHIND = "lines cut from the back: prick them near their ends, turn the board over, join the pricks"


def full_size_document(
    sheet_drawings: Sequence[Drawing], title: Title, layouts: Sequence[Layout] = ()
) -> Document:
    """A page for each drawing, in their order.

    With `layouts`, whose sheets are those drawn in the same order, the strip names stock and thickness.
    Beside a sheet so long that its notes would not fit on the largest page, they stand above it; where
    there is no room either, the end of the notes is lost.
    """
    boards = list(_boards(layouts, title.sketch_unit)) or [drawing.name for drawing in sheet_drawings]
    pages = [
        _page(drawing, board, title, number, len(sheet_drawings))
        for number, (drawing, board) in enumerate(zip(sheet_drawings, boards, strict=True), 1)
    ]
    return Document(
        title=f"{revision_words(title)}: sheets at full size",
        author=title.maker,
        subject=title.title,
        pages=tuple(pages),
    )


def _boards(layouts: Iterable[Layout], units: str) -> Iterable[str]:
    for layout in layouts:
        stock = layout.stock
        inches = f" ({inch_text(stock.thickness_mm)} in)" if units == "in" else ""
        for sheet in layout.sheets:
            yield (
                f"{stock.name}, sheet {sheet.number} of {len(layout.sheets)}, {stock.material}, "
                f"{decimal_text(stock.thickness_mm, 2)} mm{inches} thick"
            )


def _page(drawing: Drawing, board: str, title: Title, number: int, total: int) -> Page:
    drawing = _with_notes_above_the_strip(drawing)
    x, y = CORNER_MM
    _, _, right, top = _bounds(drawing.strokes, drawing.texts, drawing)
    behind = any(stroke.line in BACK_LINES for stroke in drawing.strokes)
    strip = _strip(board, title, number, total, behind=behind)
    strokes, bar_texts = level_bar((x, 8.4))
    strip_end = max(text_box(text).bounds[2] for text in (*strip, *bar_texts))
    width = min(LARGEST_MM, max(x + right, strip_end) + EDGE_MM)
    height = min(LARGEST_MM, y + top + EDGE_MM)
    view = -_PEN_MM, -_PEN_MM, width - x - _PEN_MM, height - y - _PEN_MM
    return Page(
        width_mm=width,
        height_mm=height,
        label=drawing.name,
        bookmark=drawing.name,
        windows=(
            Window(
                view=view, corner=(x - _PEN_MM, y - _PEN_MM), strokes=drawing.strokes, texts=drawing.texts
            ),
        ),
        strokes=strokes,
        texts=(*bar_texts, *strip),
    )


def _with_notes_above_the_strip(drawing: Drawing) -> Drawing:
    """The notes no lower than the sheet; above it, when they would not fit beside it on the largest page."""
    strokes = [stroke for stroke in drawing.strokes if stroke.line is Line.NOTES]
    texts = [text for text in drawing.texts if text.line is Line.NOTES]
    left, low, right, high = _bounds(strokes, texts, drawing)
    dx, dy = 0.0, max(0.0, -low)
    if CORNER_MM[0] + right + EDGE_MM > LARGEST_MM:
        above = drawing.height_mm + EDGE_MM - low
        if CORNER_MM[1] + high + above + EDGE_MM <= LARGEST_MM:
            dx, dy = -left, above
    if not dx and not dy:
        return drawing
    return replace(
        drawing,
        strokes=tuple(moved(s, dx, dy) if s.line is Line.NOTES else s for s in drawing.strokes),
        texts=tuple(
            replace(t, at=(t.at[0] + dx, t.at[1] + dy)) if t.line is Line.NOTES else t for t in drawing.texts
        ),
    )


def _bounds(
    strokes: Iterable[Stroke], texts: Iterable[Text], drawing: Drawing
) -> tuple[float, float, float, float]:
    """Left, low, right, high of lines and words; upper right is the sheet's corner at least."""
    shapes = [stroke_shape(stroke) for stroke in strokes]
    boxes = [shape.bounds for shape in (*shapes, *map(text_box, texts)) if not shape.is_empty]
    corner = drawing.width_mm, drawing.height_mm
    return (
        min([corner[0], *(box[0] for box in boxes)]),
        min([corner[1], *(box[1] for box in boxes)]),
        max([corner[0], *(box[2] for box in boxes)]),
        max([corner[1], *(box[3] for box in boxes)]),
    )


def _strip(board: str, title: Title, number: int, total: int, *, behind: bool) -> list[Text]:
    """Words below the sheet, at most as wide as the bar and 200 mm more; `behind`: some of the back."""
    x, _ = CORNER_MM
    after = x + _BAR_MM + 5.0
    heading = f"{revision_words(title)}, {board}"
    words, height = fitted(heading, _NAME_MM, text_width_mm(heading, _NAME_MM))
    texts = [Text(line=Line.FRAME, at=(x, 21.0), text=words, height_mm=height)]
    if behind:
        texts.append(Text(line=Line.FRAME, at=(x, 15.5), text=_BEHIND, height_mm=_SMALL_MM))
    rows = (f"page {number} of {total}, print at 100 %, scaling off", caution_line(title.tool))
    texts += [
        Text(line=Line.FRAME, at=(after, 10.0 - i * 4.5), text=row, height_mm=_SMALL_MM)
        for i, row in enumerate(rows)
    ]
    return texts
