"""Whole small parts, several on one page: each in a window of its own, its name and facts below it.

mm.  Nothing is joined or trimmed on such a page.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely

from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import stroke_shape
from foamcut.draw.tilepage import Shown, Spot, board_words
from foamcut.draw.tiles import Room
from foamcut.draw.values import Line, Text
from foamcut.draw.words import text_box, wrapped
from foamcut.flat.outline import Point

#: around each drawing within its window, and between neighbours with their words
_RIM_MM = 2.0
_GAP_MM = 6.0
_TEXT_MM = 2.5
_PITCH_MM = 3.9
#: words below a narrow part are at least this wide
_LEAST_WIDTH_MM = 80.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Item:
    """A whole part with its words, its box on the page and the size of its window."""

    shown: Shown
    words: tuple[str, ...]
    width_mm: float
    height_mm: float
    window_mm: float

    def at(self, x: float, top: float) -> Spot:
        """The part with the upper left corner of its box at a point."""
        level = top - self.window_mm
        texts = tuple(
            Text(line=Line.FRAME, at=(x, level - i * _PITCH_MM), text=words, height_mm=_TEXT_MM)
            for i, words in enumerate(self.words, 1)
        )
        return Spot(shown=self.shown, cell=self.shown.tiling.cells[0], corner=(x, level), texts=texts)


@dataclass(slots=True)
class _Shelf:
    page: int
    top: float
    height_mm: float
    x: float


def grouped(
    shown: Sequence[Shown], room: Room, corner: Point
) -> tuple[tuple[Shown, ...], tuple[tuple[Spot, ...], ...]]:
    """What keeps pages of its own, and pages of two or more whole parts each.

    `room` is that of an upright page, `corner` its lower left corner.  Parts go, the highest first, on the
    first shelf with room for them (first fit by decreasing height), ties in the order given.
    """
    items = [item for each in shown if (item := _item(each)) and _fits(item, room)]
    items.sort(key=lambda item: -round(item.height_mm * 1000))
    pages: list[list[Spot]] = []
    shelves: list[_Shelf] = []
    lows: list[float] = []  # of each page: where its next shelf begins
    for item in items:
        shelf = next((s for s in shelves if _on_shelf(item, s, corner[0] + room.width_mm)), None)
        if shelf is None:
            page = next((i for i, low in enumerate(lows) if low - item.height_mm >= corner[1]), len(lows))
            if page == len(lows):
                pages.append([])
                lows.append(corner[1] + room.height_mm)
            shelf = _Shelf(page, lows[page], item.height_mm, corner[0])
            shelves.append(shelf)
            lows[page] -= item.height_mm + _GAP_MM
        pages[shelf.page].append(item.at(shelf.x, shelf.top))
        shelf.x += item.width_mm + _GAP_MM
    together = tuple(tuple(page) for page in pages if len(page) > 1)
    names = {spot.shown.name for page in together for spot in page}
    return tuple(each for each in shown if each.name not in names), together


def _fits(item: _Item, room: Room) -> bool:
    return item.width_mm <= room.width_mm and item.height_mm <= room.height_mm


def _on_shelf(item: _Item, shelf: _Shelf, right: float) -> bool:
    return shelf.x + item.width_mm <= right and item.height_mm <= shelf.height_mm


def _item(shown: Shown) -> _Item | None:
    """A part that needs one tile, its window drawn in to what is shown; None for anything else."""
    if shown.kind != "part" or len(shown.tiling.cells) != 1:
        return None
    shapes = [*map(stroke_shape, shown.strokes), *map(text_box, shown.texts)]
    # each by itself: to join them all again would cost much and move no bound
    rims = shapely.buffer(
        shapely.get_parts(shapely.union_all(shapes)), _RIM_MM, quad_segs=16, join_style="mitre"
    )
    x0, y0, x1, y1 = (float(bound) for bound in shapely.total_bounds(rims))
    box = round(x0, 6), round(y0, 6), round(x1, 6), round(y1, 6)
    (cell,) = shown.tiling.cells
    tiling = replace(shown.tiling, cells=(replace(cell, view=box, core=box),))
    width, height = box[2] - box[0], box[3] - box[1]
    if tiling.turned:
        width, height = height, width
    broad = max(width, _LEAST_WIDTH_MM)
    facts = (shown.heading, *shown.facts, board_words(*shown.board))
    words = wrapped("; ".join(facts), _TEXT_MM, broad)
    return _Item(
        shown=replace(shown, tiling=tiling),
        words=words,
        width_mm=max(width, *(text_width_mm(line, _TEXT_MM) for line in words)),
        height_mm=height + len(words) * _PITCH_MM + _TEXT_MM / 2,
        window_mm=height,
    )
