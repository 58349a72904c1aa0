"""What stands on the pages of a printed book: pieces that know their height and where they can be parted.

mm; a piece's origin is its upper left corner, so that its y run from 0 down to -height.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from foamcut.draw.picture import Picture
from foamcut.flat.outline import Point


class Sheet(Protocol):
    """What a piece is drawn on: a page in mm."""

    def words(self, at: Point, text: str, height_mm: float, *, right: bool = False) -> None:
        """A line of words, of letters of the font, that begins at a point; with `right`, ends there."""

    def line(self, points: Sequence[Point], width_mm: float = 0.18, *, closed: bool = False) -> None:
        """A run of straight black lines."""

    def block(self, low: Point, high: Point, grey: float) -> None:
        """A rectangle without an edge, 0 black, 1 white."""

    def picture(self, picture: Picture, at: Point, scale: float) -> None:
        """A picture with its lower left corner at a point."""

    def goal(self, name: str, heading: str, level: int, y: float) -> None:
        """What a bookmark and the contents lead to."""

    def link(self, name: str, low: Point, high: Point) -> str:
        """Lead from a rectangle to a goal; the number of its page."""


class Piece(Protocol):
    """A part of a page."""

    @property
    def height_mm(self) -> float:
        """How high it is."""

    @property
    def gap_mm(self) -> float:
        """What is left free below it, but at the foot of a page."""

    @property
    def least_mm(self) -> float:
        """How much of it must stand on a page at the least."""

    @property
    def leads(self) -> bool:
        """Whether it must stand on one page with what comes after it."""

    def parted(self, room_mm: float, *, whole_page: bool) -> "tuple[Piece, Piece] | None":
        """What goes into the room, and the rest; None where nothing does.

        With `whole_page` there is no page with more room.
        """

    def draw(self, sheet: Sheet, x: float, y: float) -> None:
        """Draw it with its origin at a point."""


#: height of capitals, and from one line to the next in these heights
PITCH = 1.9
#: capitals stand this far below the top of their line, in heights
_RISE = 1.3
_PADDING_MM = 1.6
_BAR_MM = 2.0
_EDGE_MM = 0.5
_BOX_MM = 3.2
_HANG_MM = 4.0  # further lines of an entry of the contents


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """Lines of words: a paragraph, an item with `mark` before it, a heading, a caution in a `framed` box.

    `mark` is words, or a box to tick: ``[]``.  `goal` is the name, heading and level of what leads here.
    """

    lines: tuple[str, ...]
    size_mm: float
    gap_mm: float = 2.0
    indent_mm: float = 0.0
    mark: str = ""
    framed: float = 0.0  # width of the box, mm
    leads: bool = False
    goal: tuple[str, str, int] | None = None
    ruled: float = 0.0  # length of a line above it, mm

    @property
    def pitch_mm(self) -> float:
        """From one line to the next."""
        return self.size_mm * PITCH

    @property
    def _around_mm(self) -> float:
        return _PADDING_MM if self.framed else 2.0 if self.ruled else 0.0

    def _height_mm(self, lines: int) -> float:
        both = 2 if self.framed else 1
        return lines * self.pitch_mm + both * self._around_mm

    @property
    def height_mm(self) -> float:
        """All lines, and the box around them."""
        return self._height_mm(len(self.lines))

    @property
    def least_mm(self) -> float:
        """Two lines; three together."""
        return self._height_mm(2 if len(self.lines) > 3 else len(self.lines))

    def parted(self, room_mm: float, *, whole_page: bool) -> "tuple[Text, Text] | None":
        """No line stands alone, but where a page has no room for two."""
        most = int((room_mm - self._height_mm(0)) / self.pitch_mm + 1e-9)
        kept = most if whole_page else min(most, len(self.lines) - 2)
        if kept < (1 if whole_page else 2) or len(self.lines) <= kept:
            return None
        first = replace(self, lines=self.lines[:kept])
        mark = "" if self.mark else self.mark
        return first, replace(self, lines=self.lines[kept:], mark=mark, goal=None, ruled=0.0)

    def draw(self, sheet: Sheet, x: float, y: float) -> None:
        """The box, the mark, then line by line."""
        if self.goal:
            sheet.goal(*self.goal, y)
        if self.ruled:
            sheet.line([(x, y), (x + self.ruled, y)], 0.35)
        if self.framed:
            low, high = (x, y - self.height_mm), (x + self.framed, y)
            sheet.block(low, (x + _BAR_MM, y), 0.0)
            sheet.line([low, (high[0], low[1]), high, (low[0], high[1])], _EDGE_MM, closed=True)
        level = y - self._around_mm - self.size_mm * _RISE
        if self.mark == "[]":
            low = (x, level - (_BOX_MM - self.size_mm) / 2)
            x1, y1 = low[0] + _BOX_MM, low[1] + _BOX_MM
            sheet.line([low, (x1, low[1]), (x1, y1), (low[0], y1)], 0.25, closed=True)
        elif self.mark:
            sheet.words((x, level), self.mark, self.size_mm)
        for i, line in enumerate(self.lines):
            sheet.words((x + self.indent_mm, level - i * self.pitch_mm), line, self.size_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A picture, `scale` times its size."""

    picture: Picture
    scale: float
    gap_mm: float = 1.5
    leads: bool = True  # its caption comes after it

    @property
    def height_mm(self) -> float:
        """Its height on the page."""
        return self.picture.height_mm * self.scale

    @property
    def least_mm(self) -> float:
        """All of it."""
        return self.height_mm

    def parted(self, room_mm: float, *, whole_page: bool) -> None:
        """A picture stays whole."""
        return

    def draw(self, sheet: Sheet, x: float, y: float) -> None:
        """The picture."""
        sheet.picture(self.picture, (x, y - self.height_mm), self.scale)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entries:
    """Lines of the contents in columns side by side, on one page."""

    columns: tuple[tuple["Entry", ...], ...]
    apart_mm: float  # from the left edge of a column to that of the next
    gap_mm: float = 0.0
    leads: bool = False

    @property
    def height_mm(self) -> float:
        """Of the highest column."""
        return max(sum(entry.height_mm for entry in column) for column in self.columns)

    @property
    def least_mm(self) -> float:
        """All of it."""
        return self.height_mm

    def parted(self, room_mm: float, *, whole_page: bool) -> None:
        """Columns stay whole."""
        return

    def draw(self, sheet: Sheet, x: float, y: float) -> None:
        """Column by column."""
        for i, column in enumerate(self.columns):
            level = y
            for entry in column:
                entry.draw(sheet, x + i * self.apart_mm, level)
                level -= entry.height_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A line of the contents: leads to a goal and tells its page."""

    name: str
    lines: tuple[str, ...]
    size_mm: float
    width_mm: float
    indent_mm: float
    gap_mm: float = 0.0
    leads: bool = False

    @property
    def height_mm(self) -> float:
        """All lines."""
        return len(self.lines) * self.size_mm * PITCH

    @property
    def least_mm(self) -> float:
        """All of it."""
        return self.height_mm

    def parted(self, room_mm: float, *, whole_page: bool) -> "tuple[Entry, Entry] | None":
        """Whole, but where it is higher than a page."""
        most = int(room_mm / self.size_mm / PITCH + 1e-9)
        if not whole_page or not 0 < most < len(self.lines):
            return None
        return replace(self, lines=self.lines[:most]), replace(self, lines=self.lines[most:])

    def draw(self, sheet: Sheet, x: float, y: float) -> None:
        """The words, and the page's number at the right."""
        left, right = x + self.indent_mm, x + self.width_mm
        number = sheet.link(self.name, (left, y - self.height_mm), (right, y))
        level = y - self.size_mm * _RISE
        for i, line in enumerate(self.lines):
            hung = _HANG_MM if i else 0.0
            sheet.words((left + hung, level - i * self.size_mm * PITCH), line, self.size_mm)
        sheet.words((right, level), number, self.size_mm, right=True)
