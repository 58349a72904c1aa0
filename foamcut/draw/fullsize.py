"""One page a sheet at true size, for a print shop or a large plotter.

The sheet's lower left corner lies 15 mm right of and 30 mm above the page's, whatever the sheet; the
notes to its right come along.  The strip below carries what every page says.
"""

from collections.abc import Iterable, Sequence

from foamcut.draw.furniture import caution_line, level_bar
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import stroke_shape
from foamcut.draw.values import Document, Drawing, Line, Page, Text, Title, Window
from foamcut.draw.words import fitted, text_box
from foamcut.flat.outline import Point
from foamcut.nest.values import Layout
from foamcut.units import decimal_text

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


def full_size_document(
    sheet_drawings: Sequence[Drawing], title: Title, layouts: Sequence[Layout] = ()
) -> Document:
    """A page for each drawing, in their order.

    With `layouts`, whose sheets are those drawn in the same order, the strip names stock and thickness.
    A sheet so long that its notes would not fit on the largest page loses the end of the notes there.
    """
    boards = list(_boards(layouts)) or [drawing.name for drawing in sheet_drawings]
    pages = [
        _page(drawing, board, title, number, len(sheet_drawings))
        for number, (drawing, board) in enumerate(zip(sheet_drawings, boards, strict=True), 1)
    ]
    return Document(
        title=f"{title.name} revision {title.revision}: sheets at full size",
        author=title.maker,
        subject=title.title,
        pages=tuple(pages),
    )


def _boards(layouts: Iterable[Layout]) -> Iterable[str]:
    for layout in layouts:
        stock = layout.stock
        for sheet in layout.sheets:
            yield (
                f"{stock.name}, sheet {sheet.number} of {len(layout.sheets)}, {stock.material}, "
                f"{decimal_text(stock.thickness_mm, 2)} mm thick"
            )


def _page(drawing: Drawing, board: str, title: Title, number: int, total: int) -> Page:
    right, top = _extent(drawing)
    x, y = CORNER_MM
    strip = _strip(board, title, number, total)
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


def _extent(drawing: Drawing) -> tuple[float, float]:
    """How far sheet and notes reach to the right and upwards."""
    shapes = [stroke_shape(stroke) for stroke in drawing.strokes]
    boxes = [shape.bounds for shape in (*shapes, *map(text_box, drawing.texts)) if not shape.is_empty]
    right = max([drawing.width_mm, *(box[2] for box in boxes)])
    return right, max([drawing.height_mm, *(box[3] for box in boxes)])


def _strip(board: str, title: Title, number: int, total: int) -> list[Text]:
    """Words below the sheet, at most as wide as the bar and 200 mm more."""
    x, _ = CORNER_MM
    after = x + _BAR_MM + 5.0
    heading = f"{title.name}, revision {title.revision}, {board}"
    words, height = fitted(heading, _NAME_MM, text_width_mm(heading, _NAME_MM))
    texts = [Text(line=Line.FRAME, at=(x, 21.0), text=words, height_mm=height)]
    rows = (f"page {number} of {total}, print at 100 %, scaling off", caution_line(title.tool))
    texts += [
        Text(line=Line.FRAME, at=(after, 10.0 - i * 4.5), text=row, height_mm=_SMALL_MM)
        for i, row in enumerate(rows)
    ]
    return texts
