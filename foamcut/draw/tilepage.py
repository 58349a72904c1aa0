"""One printed tile: the window onto the drawing, trim lines, corner marks, bars, the strip below.

Page coordinates, mm.  From the left: printer margin, the upright bar, the window, a rim for letters.
From below: printer margin, the strip, the window, a rim.  Inside the trim lines is nothing but the
drawing, its check line, and a quarter of the small diamond at each shared corner.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shapely import MultiPolygon

from foamcut.draw.flow import plan_words
from foamcut.draw.furniture import ON_A_BAR, caution_line, level_bar, upright_bar
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.paper import PRINTER_MARGIN_MM, Paper
from foamcut.draw.tilemap import tile_map, tile_name
from foamcut.draw.tiles import Cell, Room, Tiling
from foamcut.draw.values import Align, Line, Page, Stroke, Text, Title, Window
from foamcut.draw.words import fitted, wrapped
from foamcut.flat.outline import Point, straight
from foamcut.units import decimal_text, inch_text

#: strip along the lower edge, mm
STRIP_MM = 20.0
#: room for the upright bar, and the rim at the right and upper side, mm
BAR_ROOM_MM = 9.0
RIM_MM = 4.0
#: lower left corner of every window on its page
CORNER: Point = (PRINTER_MARGIN_MM + BAR_ROOM_MM, PRINTER_MARGIN_MM + STRIP_MM)
_DIAMOND_MM = 2.5
_LETTER_MM = 2.5
_SMALL_MM = 2.5
_NAME_MM = 3.0
_CODE_MM = 5.0
_PITCH_MM = 3.7
_MAP_MM = (36.0, 12.0)
#: at most these shares of a row for the name, and for the plan with its revision beside the caution
_NAME_SHARE = 0.7
_PLAN_SHARE = 0.9
_STRIP_BAR_MM = 101.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What a set of tiles shows: a part or a sheet, its lines and words, its material for the map."""

    name: str
    kind: str  # part | sheet
    board: tuple[str, float, str]  # stock, its thickness in mm, and what the sketch's ruler reads: mm | in
    heading: str  # number and name
    facts: tuple[str, ...]  # what must be read beside the name
    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...]
    area: MultiPolygon
    tiling: Tiling


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A whole part on a page of several: the lower left corner of its window, its words on the page."""

    shown: Shown
    cell: Cell
    corner: Point
    texts: tuple[Text, ...] = ()


def rooms(paper: Paper) -> tuple[Room, ...]:
    """The windows that an upright and a lying page have room for, whole mm."""
    sizes = [(paper.size(lying=lying), lying) for lying in (False, True)]
    return tuple(
        Room(
            width_mm=math.floor(width - CORNER[0] - PRINTER_MARGIN_MM - RIM_MM + 1e-9),
            height_mm=math.floor(height - CORNER[1] - PRINTER_MARGIN_MM - RIM_MM + 1e-9),
            lying=lying,
        )
        for (width, height), lying in sizes
    )


def tile_page(
    shown: Shown, cell: Cell, paper: Paper, title: Title, *, number: int, total: int, bookmark: str = ""
) -> Page:
    """The page of one cell; `number` of `total` counts from 1."""
    width, height = paper.size(lying=shown.tiling.room.lying)
    window = Window(
        view=cell.view,
        corner=CORNER,
        strokes=shown.strokes,
        texts=shown.texts,
        turned=shown.tiling.turned,
    )
    seams, letters = _seams(shown.tiling, cell, window)
    bar, bar_text = upright_bar((PRINTER_MARGIN_MM + 5.0, CORNER[1] + (window.size()[1] - 100.0) / 2))
    said = _Said(shown.heading, shown.facts, shown.board, tile_name(cell.row, cell.column))
    little = tile_map(shown.area, shown.tiling, *_MAP_MM, shaded=cell)
    xs = [x for stroke in little.strokes for s in stroke.segments for x, _ in (s.start, s.end)]
    right = width - PRINTER_MARGIN_MM
    little = little.moved(right - max(xs), PRINTER_MARGIN_MM + _MAP_MM[1])
    strip, words = _strip(said, title, width, number, total, right - max(xs) + min(xs))
    return Page(
        width_mm=width,
        height_mm=height,
        label=f"{shown.name} {tile_name(cell.row, cell.column)}",
        bookmark=bookmark,
        level=1,
        shades=little.shades,
        windows=(window,),
        strokes=(*seams, *bar, *strip, *little.strokes),
        texts=(*letters, *bar_text, *words, *little.texts),
    )


def group_page(
    spots: Sequence[Spot], paper: Paper, title: Title, *, number: int, total: int, label: str, bookmark: str
) -> Page:
    """A page of several whole parts; `number` of `total` counts from 1."""
    room = rooms(paper)[0]
    windows = tuple(
        Window(
            view=spot.cell.view,
            corner=spot.corner,
            strokes=spot.shown.strokes,
            texts=spot.shown.texts,
            turned=spot.shown.tiling.turned,
        )
        for spot in spots
    )
    bar, bar_text = upright_bar((PRINTER_MARGIN_MM + 5.0, CORNER[1] + (room.height_mm - 100.0) / 2))
    boards = dict.fromkeys(spot.shown.board for spot in spots)
    board = next(iter(boards)) if len(boards) == 1 else None
    said = _Said("Whole parts", tuple(spot.shown.heading for spot in spots), board, tile_name(0, 0))
    strip, words = _strip(said, title, paper.width_mm, number, total, paper.width_mm - PRINTER_MARGIN_MM)
    return Page(
        width_mm=paper.width_mm,
        height_mm=paper.height_mm,
        label=label,
        bookmark=bookmark,
        level=1,
        windows=windows,
        strokes=(*bar, *strip),
        texts=(*bar_text, *words, *(text for spot in spots for text in spot.texts)),
    )


def corner_letters(tiling: Tiling) -> Mapping[tuple[int, int], str]:
    """A letter for every corner of the grid at which two tiles or more meet, by its row and column.

    Corner (0, 0) is the upper left one of tile A1.
    """
    letters: dict[tuple[int, int], str] = {}
    there = frozenset((cell.row, cell.column) for cell in tiling.cells)
    for row in range(tiling.rows + 1):
        for column in range(tiling.columns + 1):
            meeting = [(row - a, column - b) for a in (0, 1) for b in (0, 1)]
            if sum(cell in there for cell in meeting) > 1:
                letters[row, column] = _small_letters(len(letters))
    return letters


def _small_letters(number: int) -> str:
    """a, b ... z, aa, ab ..."""
    letters = chr(ord("a") + number % 26)
    return letters if number < 26 else _small_letters(number // 26 - 1) + letters


def _seams(tiling: Tiling, cell: Cell, window: Window) -> tuple[list[Stroke], list[Text]]:
    """Trim lines right and above where a neighbour follows, diamonds and letters at shared corners."""
    left, low, right, high = _core_on_page(cell, window)
    strokes: list[Stroke] = []
    texts: list[Text] = []
    if tiling.printed(cell.row, cell.column + 1):
        strokes.append(Stroke(line=Line.TRIM, segments=straight([(right, low), (right, high)])))
    if tiling.printed(cell.row - 1, cell.column):
        strokes.append(Stroke(line=Line.TRIM, segments=straight([(left, high), (right, high)])))
    letters = corner_letters(tiling)
    edge = CORNER[0] + window.size()[0]
    # on the lowest row the corner lies on the strip: the diamond stands on it, the same on both neighbours
    foot = max(low, CORNER[1] + _DIAMOND_MM + 0.3)
    for down, y in ((0, high), (1, foot)):
        for over, x in ((0, left), (1, right)):
            letter = letters.get((cell.row + down, cell.column + over))
            if not letter:
                continue
            strokes.append(_diamond(x, y))
            # beside the window, on the inner side of the corner, so that it meets neither diamond nor strip
            beyond = edge + 0.7 if over else CORNER[0] - 0.7
            level = y + 3.2 if down else y - 3.2 - _LETTER_MM
            align = Align.LEFT if over else Align.RIGHT
            texts.append(
                Text(line=Line.FRAME, at=(beyond, level), text=letter, height_mm=_LETTER_MM, align=align)
            )
    return strokes, texts


def _core_on_page(cell: Cell, window: Window) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = cell.core
    (a, b), (c, d) = window.on_page(x0, y0), window.on_page(x1, y1)
    return min(a, c), min(b, d), max(a, c), max(b, d)


def _diamond(x: float, y: float) -> Stroke:
    r = _DIAMOND_MM
    points = [(x + r, y), (x, y + r), (x - r, y), (x, y - r), (x + r, y)]
    return Stroke(line=Line.FRAME, segments=straight(points), closed=True)


@dataclass(frozen=True, slots=True)
class _Said:
    """What a strip says of its page."""

    heading: str
    facts: tuple[str, ...]
    board: tuple[str, float, str] | None
    code: str


def _strip(
    said: _Said, title: Title, width_mm: float, number: int, total: int, map_mm: float
) -> tuple[tuple[Stroke, ...], tuple[Text, ...]]:
    """Name and facts, plan and caution, tile, board, page and bar, within `STRIP_MM` above the margin.

    `map_mm`: where the little map begins.
    """
    x, y = PRINTER_MARGIN_MM, PRINTER_MARGIN_MM
    whole = width_mm - 2 * PRINTER_MARGIN_MM
    room = map_mm - x - 3.0
    strokes, texts = level_bar((x, y + 4.2))
    name, rows, beside_name = _rows(said.heading, said.facts, whole)
    plan, _ = plan_words(title, _SMALL_MM, room * _PLAN_SHARE)
    before = 0.0
    # the plan stands below the name where there is room, else before the caution
    longer = f"{rows[1]}; {plan}" if rows[1] else plan
    if text_width_mm(longer, _SMALL_MM) <= whole:
        rows[1] = longer
    else:
        before = text_width_mm(plan, _SMALL_MM) + 3.0
    caution = caution_line(title.tool)
    if text_width_mm(caution, _SMALL_MM) > room - before:
        # the bar itself stands below
        caution, _ = fitted(caution.removeprefix(ON_A_BAR), _SMALL_MM, room - before)
    after = x + _STRIP_BAR_MM + 4.0
    beside = after + text_width_mm(said.code, _CODE_MM) + 3.0
    left = x + room - beside
    page = f"page {number} of {total}"
    if text_width_mm(f"{page}, at 100 %", _SMALL_MM) <= left:
        page += ", at 100 %"
    words = (
        *([_words(name, (x, y + 16.6), _NAME_MM)] if name else []),
        *([_words(rows[0], (x + beside_name, y + 16.6), _SMALL_MM)] if rows[0] else []),
        _words(rows[1], (x, y + 16.6 - _PITCH_MM), _SMALL_MM),
        *([_words(plan, (x, y + 9.2), _SMALL_MM)] if before else []),
        _words(caution, (x + before, y + 9.2), _SMALL_MM),
        _words(said.code, (after, y + 1.5), _CODE_MM),
        *([_words(_shortened(said.board, left), (beside, y + 4.7), _SMALL_MM)] if said.board else []),
        _words(page, (beside, y + 0.7), _SMALL_MM),
    )
    return strokes, (*texts, *words)


def board_words(stock: str, thickness_mm: float, units: str) -> str:
    """Stock and measured thickness; in inches with the mm beside them for a sketch in inches."""
    return f"{stock} {_thickness(thickness_mm, units)}"


def _thickness(mm: float, units: str) -> str:
    metric = f"{decimal_text(mm, 2)} mm"
    return f"{inch_text(mm)} in ({metric})" if units == "in" else metric


def _shortened(board: tuple[str, float, str], width_mm: float) -> str:
    """Words of a board in this width: a long name is cut, the thickness at its end never."""
    name, mm, units = board
    end = f" {_thickness(mm, units)}"
    return fitted(name, _SMALL_MM, width_mm - text_width_mm(end, _SMALL_MM))[0] + end


def _rows(heading: str, facts: Sequence[str], width_mm: float) -> tuple[str, list[str], float]:
    """A name, two rows of words beside and below it, and where the first begins.

    A name that would leave no room beside it goes on into the second row; what does not fit is cut.
    """
    if text_width_mm(heading, _SMALL_MM) > width_mm * _NAME_SHARE:
        first, *rest = wrapped("; ".join((heading, *facts)), _SMALL_MM, width_mm)
        return "", [first, fitted(" ".join(rest), _SMALL_MM, width_mm)[0]], 0.0
    beside = text_width_mm(heading, _NAME_MM) + 3.0
    rows = ["", ""]
    widths = (width_mm - beside, width_mm)
    row = 0
    for fact in facts:
        longer = f"{rows[row]}; {fact}" if rows[row] else fact
        if text_width_mm(longer, _SMALL_MM) > widths[row] and row == 0:
            row, longer = 1, f"{rows[1]}; {fact}" if rows[1] else fact
        rows[row] = fitted(longer, _SMALL_MM, widths[row])[0]
    return heading, rows, beside


def _words(text: str, at: Point, height_mm: float) -> Text:
    return Text(line=Line.FRAME, at=at, text=text, height_mm=height_mm)
