"""Rows of words set in columns to the right of a sheet, with the bar to measure.

Sheet coordinates, mm.  Columns begin 10 mm to the right of the sheet and are as high as the sheet; beside
a low sheet they run on below it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from foamcut.draw.flow import moved
from foamcut.draw.furniture import BAR_MM
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.values import Line, Stroke, Text
from foamcut.draw.words import wrapped
from foamcut.flat.outline import straight

#: from the sheet's right edge to the notes, and from column to column, mm
NOTES_GAP_MM = 10.0
HEIGHT_MM = 3.5
STEP_MM = 6.0
#: a column is no wider than this, and no lower beside a low sheet than the other, mm
_COLUMN_MM = 160.0
_LOWEST_COLUMN_MM = 100.0
#: lines that go on are set in by this, mm
_INDENT_MM = 5.0
_BAR_WORDS = f"this line is {BAR_MM:.0f} mm long: measure it before you cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A small drawing among the rows, its lower left corner at (0, 0), mm."""

    width_mm: float
    height_mm: float
    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Rows that stay together, each set in by some mm, and a picture below them.

    `bar`: a bar to measure stands in the last row.
    """

    rows: tuple[tuple[float, str], ...]
    picture: Picture | None = None
    bar: bool = False
    gap: bool = False  # an empty row above, except at the top of a column


#: the bar to measure and what is said of it
BAR = Block(rows=((0.0, _BAR_WORDS), (0.0, "")), bar=True, gap=True)


def paragraphs(rows: Sequence[str], *, gap: bool = True) -> list[Block]:
    """Each row a block of its own, in lines no wider than a column."""
    return [Block(rows=lines((row,)), gap=gap and i == 0) for i, row in enumerate(rows)]


def lines(rows: Sequence[str]) -> tuple[tuple[float, str], ...]:
    """Rows in lines no wider than a column; all but the first are set in."""
    found = [line for row in rows for line in wrapped(row, HEIGHT_MM, _COLUMN_MM - _INDENT_MM)]
    return tuple((_INDENT_MM if i else 0.0, line) for i, line in enumerate(found))


def columns(
    blocks: Sequence[Block], width_mm: float, height_mm: float
) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    """The blocks in columns beside a sheet of these sizes, from its top down."""
    top = max(height_mm - STEP_MM, 0.0)
    lowest = min(0.0, top + STEP_MM - _LOWEST_COLUMN_MM)
    x, y, right = width_mm + NOTES_GAP_MM, top, 0.0
    strokes: list[Stroke] = []
    texts: list[Text] = []
    for block in blocks:
        if block.gap and y < top:
            y -= STEP_MM
        below_mm = block.picture.height_mm + STEP_MM if block.picture else 0.0
        if y < top and y - (len(block.rows) - 1) * STEP_MM - below_mm < lowest:
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
        if block.picture:
            y -= block.picture.height_mm
            low = y + STEP_MM / 2
            strokes += [moved(stroke, x, low) for stroke in block.picture.strokes]
            texts += [replace(t, at=(t.at[0] + x, t.at[1] + low)) for t in block.picture.texts]
            right = max(right, x + block.picture.width_mm)
            y -= STEP_MM
    return tuple(strokes), tuple(texts)


def _bar(x: float, y: float) -> list[Stroke]:
    runs = [straight([(x, y), (x + BAR_MM, y)])]
    runs += [straight([(end, y - 2), (end, y + 2)]) for end in (x, x + BAR_MM)]
    return [Stroke(line=Line.NOTES, segments=run) for run in runs]
