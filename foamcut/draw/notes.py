"""The notes to the right of a sheet: what it is, its lines, its parts, cautions, a bar to measure.

Sheet coordinates, mm.  Notes begin 10 mm to the right of the sheet and run down in columns as high as
the sheet; beside a low sheet they run on below it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from foamcut.draw.furniture import BAR_MM, cautions
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import LeftOut, left_out
from foamcut.draw.styles import STYLES
from foamcut.draw.values import LAYERS, Line, Stroke, Text, Title
from foamcut.draw.words import (
    count_words,
    face_words,
    grain_words,
    revision_words,
    sizes_words,
    wrapped,
)
from foamcut.flat.outline import straight
from foamcut.flat.part import Part
from foamcut.nest.values import Kind, Layout, Placed, Sheet
from foamcut.units import decimal_text, inch_text

#: from the sheet's right edge to the notes, and from column to column, mm
NOTES_GAP_MM = 10.0
HEIGHT_MM = 3.5
STEP_MM = 6.0
#: a column is no wider than this, and no lower beside a low sheet than the other, mm
_COLUMN_MM = 160.0
_LOWEST_COLUMN_MM = 100.0
#: lines that go on are set in by this, mm
_INDENT_MM = 5.0
_KIND_WORDS = {
    Kind.OFFCUT: "offcut from the shelf",
    Kind.ON_HAND: "sheet from the shelf",
    Kind.NEW: "new sheet",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Block:
    """Rows that stay together, each set in by some mm; `bar`: a bar to measure stands in the last."""

    rows: tuple[tuple[float, str], ...]
    bar: bool = False
    gap: bool = False  # an empty row above, except at the top of a column


def sheet_notes(
    sheet: Sheet,
    layout: Layout,
    title: Title,
    numbers: Mapping[str, int],
    thicknesses: Mapping[str, float],
    *,
    used: frozenset[Line],
    hidden: Mapping[str, Sequence[str]],
) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    """Strokes and texts of the notes.

    Parameters
    ----------
    used
        The kinds of line on the sheet, for the legend.
    hidden
        By a piece's id, words that could not stay on the sheet because another piece lies there.
    """
    bar_words = f"this line is {BAR_MM:.0f} mm long: measure it before you cut"
    blocks = [
        *_paragraphs(_title_rows(sheet, layout, title)),
        *_paragraphs(_legend_rows(used | {Line.NOTES}), gap=True),
        *_parts(sheet, title, numbers, thicknesses, hidden),
        *_paragraphs(cautions(title.tool), gap=True),
        _Block(rows=((0.0, bar_words), (0.0, "")), bar=True, gap=True),
    ]
    return _set(blocks, sheet)


def _set(blocks: Sequence[_Block], sheet: Sheet) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    """The blocks in columns, from the top of the sheet down."""
    top = max(sheet.height_mm - STEP_MM, 0.0)
    lowest = min(0.0, top + STEP_MM - _LOWEST_COLUMN_MM)
    x, y, right = sheet.width_mm + NOTES_GAP_MM, top, 0.0
    strokes: list[Stroke] = []
    texts: list[Text] = []
    for block in blocks:
        if block.gap and y < top:
            y -= STEP_MM
        if y < top and y - (len(block.rows) - 1) * STEP_MM < lowest:
            x, y, right = right + NOTES_GAP_MM, top, 0.0
        for indent, words in block.rows:
            if words:
                texts.append(Text(line=Line.NOTES, at=(x + indent, y), text=words, height_mm=HEIGHT_MM))
                right = max(right, x + indent + text_width_mm(words, HEIGHT_MM))
            y -= STEP_MM
        if block.bar:
            level = y + STEP_MM + HEIGHT_MM / 2
            strokes += _bar(x, level)
            right = max(right, x + BAR_MM)
    return tuple(strokes), tuple(texts)


def _bar(x: float, y: float) -> list[Stroke]:
    runs = [straight([(x, y), (x + BAR_MM, y)])]
    runs += [straight([(end, y - 2), (end, y + 2)]) for end in (x, x + BAR_MM)]
    return [Stroke(line=Line.NOTES, segments=run) for run in runs]


def _paragraphs(rows: Sequence[str], *, gap: bool = False) -> list[_Block]:
    """Each row a block of its own, in lines no wider than a column."""
    return [_Block(rows=_lines((row,)), gap=gap and i == 0) for i, row in enumerate(rows)]


def _lines(rows: Sequence[str]) -> tuple[tuple[float, str], ...]:
    """Rows in lines no wider than a column; all but the first are set in."""
    lines = [line for row in rows for line in wrapped(row, HEIGHT_MM, _COLUMN_MM - _INDENT_MM)]
    return tuple((_INDENT_MM if i else 0.0, line) for i, line in enumerate(lines))


def _title_rows(sheet: Sheet, layout: Layout, title: Title) -> list[str]:
    stock = layout.stock
    size = f"{decimal_text(sheet.width_mm)} x {decimal_text(sheet.height_mm)} mm"
    inches = f"{inch_text(sheet.width_mm)} x {inch_text(sheet.height_mm)} in"
    rows = [title.title] if title.title else []
    rows += [
        revision_words(title),
        f"sheet {sheet.number} of {len(layout.sheets)} of {stock.name}, {_KIND_WORDS[sheet.kind]}",
        f"{stock.material}, measured thickness {decimal_text(stock.thickness_mm, 2)} mm",
        f"size {size} ({inches}), pieces on it: {len(sheet.placed)}",
        "scale 1:1, all numbers mm; the lines are the true edges, no kerf is taken off",
    ]
    if stock.gap_mm == 0 or stock.margin_mm == 0:
        rows.append("where two outlines lie on each other: one cut, two edges")
    return rows


def _legend_rows(used: frozenset[Line]) -> list[str]:
    return [f"{STYLES[line].letter}  {line.value}: {STYLES[line].words}" for line in LAYERS if line in used]


def _parts(
    sheet: Sheet,
    title: Title,
    numbers: Mapping[str, int],
    thicknesses: Mapping[str, float],
    hidden: Mapping[str, Sequence[str]],
) -> list[_Block]:
    """The list of the parts on the sheet, with all that may have found no room on them."""
    by_part: dict[str, list[Placed]] = {}
    for placed in sheet.placed:
        by_part.setdefault(placed.piece.flat.name, []).append(placed)
    blocks: list[_Block] = []
    for name in sorted(by_part, key=lambda name: numbers[name]):
        pieces = by_part[name]
        part = pieces[0].piece.flat
        lost = left_out(part, title, number=numbers[name], thicknesses=thicknesses)
        words = dict.fromkeys((*lost.words, *(w for piece in pieces for w in hidden.get(piece.id, ()))))
        rows = [*_part_rows(part, title, numbers[name], len(pieces)), *_ways(lost, pieces)]
        if words:
            rows.insert(2, "; ".join(words))
        heading = () if blocks else ((0.0, "parts on this sheet:"),)
        blocks.append(_Block(rows=(*heading, *_lines(rows)), gap=not blocks))
    return blocks


def _part_rows(part: Part, title: Title, number: int, here: int) -> list[str]:
    count = count_words(part) if here == part.count else f"{count_words(part)} ({here} on this sheet)"
    sizes = sizes_words(part, title)
    if grain := grain_words(part):
        sizes = f"{sizes}, {grain}"
    return [f"{number}  {part.name}, {count}, {face_words(part)}", sizes]


def _ways(lost: LeftOut, pieces: Sequence[Placed]) -> list[str]:
    """Where FRONT and UP are when no arrow found room: once, or for each piece when they lie unlike."""
    told = [
        ", ".join(lost.ways(piece.placement.turn_deg, flipped=piece.placement.flipped)) for piece in pieces
    ]
    if not lost.arrows:
        return []
    if len(set(told)) == 1:
        return told[:1]
    rows = []
    for piece, ways in zip(pieces, told, strict=True):
        middle = piece.outline.polygon.centroid
        rows.append(f"the one at {decimal_text(middle.x, 0)}, {decimal_text(middle.y, 0)}: {ways}")
    return rows
