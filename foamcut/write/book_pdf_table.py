"""Tables of a printed book: as wide as they need, parted between rows, the head again on every page.

mm; the origin is the upper left corner, y run down from 0.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

from foamcut.book.values import Grid
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.picture import Picture
from foamcut.write.book_pdf_lines import lines, printed
from foamcut.write.book_pdf_pieces import PITCH, Sheet

SIZE_MM = 2.1
_PITCH_MM = SIZE_MM * PITCH
_ACROSS_MM = 1.2  # free at either side of a cell's words
_DOWN_MM = 0.8  # free above and below them
_RISE_MM = SIZE_MM * 1.3
_RULE_MM = 0.13
#: the room of a small picture
_DRAWN_MM = (34.0, 24.0)
#: a column is narrower only when all it holds is; its longest word fits where that leaves room for the rest
_LEAST_MM, _MOST_LEAST = 16.0, 0.85
_PICTURE = "Picture"
_NONE = "none"

Cells = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """The lines of each cell, and perhaps a picture before them."""

    cells: Cells
    picture: Picture | None = None

    @property
    def scale(self) -> float:
        """Of its picture, to fit into its room."""
        return fitting(self.picture, *_DRAWN_MM) if self.picture else 0.0

    @property
    def height_mm(self) -> float:
        """Of the highest cell."""
        drawn = self.picture.height_mm * self.scale if self.picture else 0.0
        return max(drawn, _PITCH_MM * max(map(len, self.cells), default=0)) + 2 * _DOWN_MM

    def parted(self, room_mm: float) -> "tuple[Row, Row]":
        """The lines that go into the room, at least one, and the rest."""
        kept = max(1, int((room_mm - 2 * _DOWN_MM) / _PITCH_MM))
        first = replace(self, cells=tuple(cell[:kept] for cell in self.cells))
        return first, Row(cells=tuple(cell[kept:] for cell in self.cells))


def fitting(picture: Picture, width_mm: float, height_mm: float) -> float:
    """How many times its size a picture is drawn: 1, or less where it would not fit."""
    return min(1.0, width_mm / max(picture.width_mm, 1e-6), height_mm / max(picture.height_mm, 1e-6))


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under a caption and a head; columns in `right` hold numbers."""

    caption: tuple[str, ...]
    head: Row
    rows: tuple[Row, ...]
    widths_mm: tuple[float, ...]
    right: frozenset[int]
    gap_mm: float = 4.0
    leads: bool = False

    @property
    def _top_mm(self) -> float:
        return len(self.caption) * _PITCH_MM + self.head.height_mm

    @property
    def height_mm(self) -> float:
        """Caption, head and all rows."""
        return self._top_mm + sum(row.height_mm for row in self.rows)

    @property
    def least_mm(self) -> float:
        """Caption, head and a row."""
        return self._top_mm + sum(row.height_mm for row in self.rows[:1])

    def parted(self, room_mm: float, *, whole_page: bool) -> tuple[Self, Self] | None:
        """Between rows; within a row only where it is higher than a page."""
        room_mm -= self._top_mm
        kept = 0
        for row in self.rows:
            if row.height_mm > room_mm:
                break
            room_mm -= row.height_mm
            kept += 1
        first, rest = self.rows[:kept], self.rows[kept:]
        if not kept:
            if not whole_page:
                return None
            some, others = self.rows[0].parted(room_mm)
            first, rest = (some,), (others, *self.rows[1:])
        return replace(self, rows=first), replace(self, rows=rest, caption=self.caption[:1])

    def draw(self, sheet: Sheet, x: float, y: float) -> None:
        """Caption, the head on grey, rows with a line below each."""
        for line in self.caption:
            sheet.words((x, y - _RISE_MM), line, SIZE_MM)
            y -= _PITCH_MM
        end = x + sum(self.widths_mm)
        sheet.block((x, y - self.head.height_mm), (end, y), 0.9)
        for row in (self.head, *self.rows):
            self._draw_row(sheet, row, x, y)
            y -= row.height_mm
            sheet.line([(x, y), (end, y)], _RULE_MM)

    def _draw_row(self, sheet: Sheet, row: Row, x: float, y: float) -> None:
        widths = self.widths_mm
        if len(widths) > len(row.cells):
            if row is self.head:
                sheet.words((x + _ACROSS_MM, y - _DOWN_MM - _RISE_MM), _PICTURE, SIZE_MM)
            if row.picture:
                low = y - _DOWN_MM - row.picture.height_mm * row.scale
                sheet.picture(row.picture, (x + _ACROSS_MM, low), row.scale)
            x += widths[0]
            widths = widths[1:]
        for i, (cell, width) in enumerate(zip(row.cells, widths, strict=False)):
            right = i in self.right
            for k, line in enumerate(cell):
                level = y - _DOWN_MM - _RISE_MM - k * _PITCH_MM
                sheet.words(
                    (x + width - _ACROSS_MM if right else x + _ACROSS_MM, level), line, SIZE_MM, right=right
                )
            x += width


def table(grid: Grid, width_mm: float) -> Table | None:
    """A table of the book's, for pages of this width; None when it has no column."""
    drawn = _drawn_mm(grid)
    if not grid.head and not grid.pictures:
        return None
    columns = len(grid.head)
    rows = [(*row[:columns], *[""] * (columns - len(row))) for row in grid.rows]
    widths = _widths([grid.head, *rows], columns, width_mm - drawn)
    room = [width - 2 * _ACROSS_MM for width in widths]

    def cells(row: Sequence[str]) -> Cells:
        return tuple(lines(cell, SIZE_MM, width) for cell, width in zip(row, room, strict=True))

    pictures = (*grid.pictures, *[None] * (len(rows) - len(grid.pictures)))
    done = [Row(cells=cells(row), picture=one) for row, one in zip(rows, pictures, strict=False)]
    head = cells(grid.head)
    if not done:
        done = [Row(cells=((_NONE,), *[("",)] * (columns - 1)))]
    if drawn:
        widths = (drawn, *widths)
    return Table(
        caption=lines(grid.caption, SIZE_MM, width_mm) if grid.caption.strip() else (),
        head=Row(cells=head),
        rows=tuple(done),
        widths_mm=tuple(widths),
        right=frozenset(grid.figures),
    )


def _drawn_mm(grid: Grid) -> float:
    """Width of the column of pictures."""
    if not grid.pictures:
        return 0.0
    widest = max(one.width_mm * fitting(one, *_DRAWN_MM) for one in grid.pictures)
    return max(widest, text_width_mm(_PICTURE, SIZE_MM)) + 2 * _ACROSS_MM


def _widths(rows: Sequence[Sequence[str]], columns: int, room_mm: float) -> tuple[float, ...]:
    """As wide as the widest cell; where room is short, wide columns share what narrow ones leave.

    Words in n lines of a width fill a column of about the square root of their length (no source).
    """
    wanted = [
        max(text_width_mm(printed(row[i]), SIZE_MM) for row in rows) + 2 * _ACROSS_MM + 0.01
        for i in range(columns)
    ]
    if sum(wanted) <= room_mm:
        return tuple(wanted)
    text = [sum(text_width_mm(printed(row[i]), SIZE_MM) for row in rows) for i in range(columns)]
    words = [max(_longest_mm(row[i]) for row in rows) + 2 * _ACROSS_MM + 0.01 for i in range(columns)]
    least = [min(one, max(word, _LEAST_MM)) for one, word in zip(wanted, words, strict=True)]
    if sum(least) > _MOST_LEAST * room_mm:
        least = [min(one, _LEAST_MM, room_mm / columns) for one in wanted]
    return _shared(wanted, least, [math.sqrt(one) for one in text], room_mm)


def _longest_mm(words: str) -> float:
    """The width of the longest word, which is not parted where there is room for it."""
    return max(text_width_mm(word, SIZE_MM) for word in printed(words).split(" "))


def _shared(
    wanted: Sequence[float], least: Sequence[float], weights: Sequence[float], room_mm: float
) -> tuple[float, ...]:
    """Narrow columns as they want it; the others share the rest by how much stands in them."""
    columns = range(len(wanted))
    widths = list(least)
    open_columns = [i for i in columns if wanted[i] > widths[i]]
    while open_columns:
        left = room_mm - sum(widths[i] for i in columns if i not in open_columns)
        total = sum(weights[i] for i in open_columns)
        share = {i: max(widths[i], left * weights[i] / total if total else 0.0) for i in open_columns}
        done = [i for i in open_columns if share[i] >= wanted[i]]
        if not done:
            over = sum(share.values()) - left
            above = sum(share[i] - widths[i] for i in open_columns)
            for i in open_columns:
                widths[i] = share[i] - (over * (share[i] - widths[i]) / above if above > 0 else 0.0)
            break
        for i in done:
            widths[i] = wanted[i]
            open_columns.remove(i)
    return tuple(widths)
