"""Distances from the datum as a table that runs down columns: number, from the left, from the bottom, off.

mm on the page; a block's origin is its upper left corner.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from foamcut.draw.flow import Block, rule
from foamcut.draw.marking_points import Ruled
from foamcut.draw.marking_rule import Rule
from foamcut.draw.values import Align, Line, Text
from foamcut.draw.words import fitted, wrapped
from foamcut.flat.outline import Point

TEXT_MM = 2.5
ROW_MM = 4.0
HEAD_MM = 8.6
COLUMN_GAP_MM = 5.0
#: where numbers of a column end, mm from its left: number of the point, from left, from bottom, off
_ENDS = {"mm": (7.0, 19.5, 34.0, 43.5), "in": (7.0, 25.0, 43.0, 53.0)}
#: a heading goes on over so many lines at most
_MOST_LINES = 4


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: words over the whole column, or cells.  `heads`: stays with what follows."""

    cells: tuple[str, ...]
    heads: bool = False


def column_mm(unit: str) -> float:
    """Width of a column of the table, mm."""
    return _ENDS[unit][-1]


def columns_in(width_mm: float, unit: str) -> int:
    """How many columns a width has room for, one at least."""
    return max(1, math.floor((width_mm + COLUMN_GAP_MM) / (column_mm(unit) + COLUMN_GAP_MM)))


def off_mm(at: Point, ruler: Rule) -> float:
    """The larger of the two distances' rounding errors, mm, without a sign."""
    return max(abs(ruler.read(value).error_mm) for value in at)


def table_rows(lines: Sequence[Ruled], ruler: Rule) -> list[Row]:
    """Rows of all lines: headings, points, and what a compass does; lines alike in a row have one heading."""
    rows: list[Row] = []
    width = column_mm(ruler.unit)
    for heading, alike in groupby(lines, key=_heading):
        rows += _heads(heading, width)
        for line in alike:
            rows += [_cells(name, at, ruler) for name, at in line.points]
            for centre in line.centres:
                rows += _heads(centre.words(ruler), width)
                rows.append(_cells(centre.name, centre.at, ruler))
    return rows


def _heads(words: str, width_mm: float) -> list[Row]:
    lines = wrapped(words, TEXT_MM, width_mm)
    if len(lines) > _MOST_LINES:
        last, _ = fitted(" ".join(lines[_MOST_LINES - 1 :]), TEXT_MM, width_mm)
        lines = (*lines[: _MOST_LINES - 1], last)
    return [Row((line,), heads=True) for line in lines]


def _heading(line: Ruled) -> str:
    """What stands above the points: holes by number, folds and marks by what they are."""
    kind, _, _ = line.name.partition(" ")
    if kind in ("fold", "mark"):
        return line.words or kind
    return f"{line.name}: {line.words}" if line.words else line.name


def _cells(name: str, at: Point, ruler: Rule) -> Row:
    return Row((name, *(ruler.read(value).text for value in at), f"{off_mm(at, ruler):.2f}"))


def height_mm(rows: int, columns: int) -> float:
    """Height of a table of so many rows, its heads included."""
    return HEAD_MM + math.ceil(rows / columns) * ROW_MM


def tables(rows: Sequence[Row], unit: str, columns: int, first_mm: float, next_mm: float) -> Iterator[Block]:
    """The rows as tables, the first no higher than `first_mm`, later ones no higher than `next_mm`."""
    left = list(rows)
    room = first_mm
    while left:
        most = max(2, math.floor((room - HEAD_MM) / ROW_MM))
        down = min(most, math.ceil(len(left) / columns))
        parts = _columns(left, down, columns)
        if sum(map(len, parts)) < len(left) and down < most:
            # headings that stay with their rows took room at the feet of columns
            down = next(
                (d for d in range(down, most) if sum(map(len, _columns(left, d, columns))) == len(left)), most
            )
            parts = _columns(left, down, columns)
        yield _table(parts, unit)
        left = left[sum(map(len, parts)) :]
        room = next_mm


def _columns(rows: Sequence[Row], down: int, columns: int) -> list[list[Row]]:
    parts: list[list[Row]] = []
    start = 0
    for _ in range(columns):
        end = min(len(rows), start + down)
        kept = end
        while kept > start and rows[kept - 1].heads and kept < len(rows):
            kept -= 1
        end = kept if kept > start else end
        parts.append(list(rows[start:end]))
        start = end
    return parts


def _table(parts: Sequence[Sequence[Row]], unit: str) -> Block:
    strokes, texts = [], []
    width = column_mm(unit)
    for i, rows in enumerate(parts):
        if not rows:
            continue
        x = i * (width + COLUMN_GAP_MM)
        heads = (("", "no."), ("from", "left"), ("from", "bottom"), ("off", "mm"))
        for end, pair in zip(_ENDS[unit], heads, strict=True):
            for k, word in enumerate(pair):
                texts.append(_text(word, x + end, -TEXT_MM - 3.3 * k, Align.RIGHT))
        strokes.append(rule(x, x + width, -HEAD_MM + 1.3))
        for j, row in enumerate(rows):
            y = -HEAD_MM - j * ROW_MM - TEXT_MM
            if row.heads:
                texts.append(_text(row.cells[0], x, y, Align.LEFT))
                continue
            for end, cell in zip(_ENDS[unit], row.cells, strict=True):
                texts.append(_text(cell, x + end, y, Align.RIGHT))
    down = max(len(rows) for rows in parts)
    return Block(height_mm=HEAD_MM + down * ROW_MM, strokes=tuple(strokes), texts=tuple(texts))


def _text(words: str, x: float, y: float, align: Align) -> Text:
    return Text(line=Line.FRAME, at=(x, y), text=words, height_mm=TEXT_MM, align=align)


def under(*blocks: Block, gap_mm: float) -> Block:
    """Blocks under one another as one; what `flow.below` gives, each moved but once."""
    placed: list[Block] = []
    y = 0.0
    for block in blocks:
        placed.append(block.moved(0.0, -y) if y else block)
        y += block.height_mm + gap_mm
    return Block(
        height_mm=y - gap_mm,
        strokes=tuple(stroke for block in placed for stroke in block.strokes),
        texts=tuple(text for block in placed for text in block.texts),
    )


def heading_block(words: str, height: float, width_mm: float) -> Block:
    """A heading in one line, shortened where it is too long."""
    shown, cap = fitted(words, height, width_mm)
    text = Text(line=Line.FRAME, at=(0.0, -height), text=shown, height_mm=cap)
    return Block(height_mm=height * 1.4, texts=(text,))
