"""How a drawing is divided into printed tiles: fewest pages, seams off slots and tabs.

Pure geometry, mm.  A tile shows a *window* of the drawing; neighbours' windows overlap by `OVERLAP_MM`, and
the *seam* between them runs in the middle of that overlap.  Seams part the drawing into *cores*, one
for each cell of the grid; what lies in a core is seen on that tile after trimming.  *Laid* coordinates
are those of the drawing as it lies on the page: (x, y), or (-y, x) when it is turned a quarter.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiLineString, MultiPolygon
from shapely.geometry.base import BaseGeometry

from foamcut.draw.raster import summed, touched

Box = tuple[float, float, float, float]

#: neighbours share this much of the drawing, half on each side of the seam, mm
OVERLAP_MM = 10
#: seams keep this far from slots and tabs where they can, mm
KEEP_OFF_MM = 2.0
#: most squares along the longer side of the grid on which offsets are counted
_FINEST = 800
#: most offsets tried along one axis, and most cells times offsets of one try
_OFFSETS = 128
_WORK = 4_000_000
#: pages, three kinds of boxes hit, cells: no grid is better than one whole page
_ONE_PAGE = (1, 0, 0, 0, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The room for a window on a page: whole mm, and whether the page lies on its long side."""

    width_mm: int
    height_mm: int
    lying: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What is to be shown: material, lines, and boxes of words; blank is where none of them is.

    Material without a line is no reason for a tile, so it belongs in `area` only when it must be printed.
    Boxes that a seam should not cross, in their order: `keep_off` (slots, tabs), `openings` (other holes)
    and `rather_off` (words).
    """

    area: MultiPolygon
    lines: MultiLineString
    keep_off: tuple[Box, ...] = ()
    openings: tuple[Box, ...] = ()
    rather_off: tuple[Box, ...] = ()

    def bounds(self) -> Box:
        """The box of everything that is to be shown."""
        boxes = [g.bounds for g in (self.area, self.lines) if not g.is_empty]
        if not boxes:
            raise ValueError("there is nothing to tile")
        x0, y0 = (min(box[i] for box in boxes) for i in (0, 1))
        x1, y1 = (max(box[i] for box in boxes) for i in (2, 3))
        return x0, y0, x1, y1

    def laid(self, *, turned: bool) -> "Content":
        """The same in laid coordinates."""
        if not turned:
            return self
        return Content(
            area=shapely.transform(self.area, _turn_points),
            lines=shapely.transform(self.lines, _turn_points),
            keep_off=_turn_boxes(self.keep_off),
            openings=_turn_boxes(self.openings),
            rather_off=_turn_boxes(self.rather_off),
        )

    def meets(self, box: Box) -> bool:
        """Whether anything is to be shown within a box, its edge included."""
        rectangle = shapely.box(*box)
        return any(bool(shapely.intersects(g, rectangle)) for g in (self.area, self.lines) if not g.is_empty)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One cell of the grid: its row from the top, its column from the left, both from 0.

    `view` is the window and `core` what is left of it after trimming, in the drawing's coordinates.
    """

    row: int
    column: int
    view: Box
    core: Box
    laid_core: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """A drawing in tiles.  `cells` are the printed ones, row by row; blank ones are not among them."""

    room: Room
    turned: bool
    columns: int
    rows: int
    cells: tuple[Cell, ...]
    #: seams and outer edges in laid coordinates, from left to right and from below upwards
    across: tuple[float, ...]
    upwards: tuple[float, ...]

    def laid(self, x: float, y: float) -> tuple[float, float]:
        """A point of the drawing as it lies on the page."""
        return (-y, x) if self.turned else (x, y)

    def printed(self, row: int, column: int) -> bool:
        """Whether a cell has a tile."""
        return any((cell.row, cell.column) == (row, column) for cell in self.cells)


@dataclass(frozen=True, slots=True)
class _Choice:
    """A grid and where it starts: comparable, the least is best; `along` and `up` in steps."""

    rank: tuple[int, ...]
    room: Room
    turned: bool
    columns: int
    rows: int
    left: float
    low: float


def best_tiling(content: Content, rooms: Sequence[Room]) -> Tiling:
    """The tiling with the fewest pages, then the fewest seams over slots and tabs, holes, and words.

    Tried are every room (paper direction), the drawing as it is and turned a quarter, the least number of
    columns and rows and one more of each, and offsets of the grid in whole steps.

    Raises
    ------
    ValueError
        There is nothing to show, or a room is no larger than two overlaps.

    Notes
    -----
    Offsets are whole steps of 1 mm (2 mm over 0.8 m, 3 mm over 1.6 m and so on).  Counting is done on
    squares of that size, a square being filled when anything touches it: an offset may be passed over
    for a tile that holds less than a step of the drawing, but no tile is left out that holds any.
    """
    if any(min(room.width_mm, room.height_mm) <= 2 * OVERLAP_MM for room in rooms):
        raise ValueError(f"rooms too small for tiles that overlap by {OVERLAP_MM} mm: {rooms}")
    best: _Choice | None = None
    for turned in (False, True):
        grid: _Grid | None = None
        for room in rooms:
            if best and best.rank <= (*_ONE_PAGE, int(turned), int(room.lying), 0):
                continue
            grid = grid or _Grid.of(content.laid(turned=turned))
            for choice in grid.choices(room, turned, best.rank[0] if best else None):
                if best is None or choice.rank < best.rank:
                    best = choice
    if best is None:
        raise ValueError("no rooms given")
    return _tiling(best, content.laid(turned=best.turned))


def _turn_boxes(boxes: Iterable[Box]) -> tuple[Box, ...]:
    return tuple((-y1, x0, -y0, x1) for x0, y0, x1, y1 in boxes)


def _turn_points(points: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.column_stack([-points[:, 1], points[:, 0]])


class _Grid:
    """The laid content on squares, with the table that tells how many of a rectangle are filled."""

    def __init__(self, bounds: Box, step: int, table: NDArray[np.int32], content: Content) -> None:
        self.x0, self.y0, self.x1, self.y1 = bounds
        self.step = step
        self.table = table
        self.content = content

    @classmethod
    def of(cls, content: Content) -> "_Grid":
        x0, y0, x1, y1 = content.bounds()
        step = max(1, math.ceil(max(x1 - x0, y1 - y0) / _FINEST))
        columns, rows = (max(1, math.ceil(extent / step)) for extent in (x1 - x0, y1 - y0))
        filled = np.zeros((rows, columns), dtype=bool)
        for geometry in (content.area, content.lines):
            filled |= touched(geometry, x0, y0, columns, rows, step)
        return cls((x0, y0, x1, y1), step, summed(filled), content)

    def choices(self, room: Room, turned: bool, most_pages: int | None) -> Iterable[_Choice]:
        """The best start of each sensible grid of windows of this room that has no more pages than that."""
        fewest_columns = _fewest(self.x1 - self.x0, room.width_mm)
        fewest_rows = _fewest(self.y1 - self.y0, room.height_mm)
        for columns in _counts(fewest_columns):
            for rows in _counts(fewest_rows):
                choice = self._best_start(room, turned, columns, rows, most_pages)
                if choice:
                    yield choice

    def _best_start(
        self, room: Room, turned: bool, columns: int, rows: int, most_pages: int | None
    ) -> _Choice | None:
        most = max(4, min(_OFFSETS, math.isqrt(_WORK // (columns * rows))))
        lefts = _starts(self.x1 - self.x0, room.width_mm, columns, self.step, most)
        lows = _starts(self.y1 - self.y0, room.height_mm, rows, self.step, most)
        pages = self._pages(room, columns, rows, lefts, lows)
        if most_pages is not None and pages.min() > most_pages:
            return None
        across = [self._hits(0, room.width_mm, columns, lefts, boxes) for boxes in self._boxes()]
        upwards = [self._hits(1, room.height_mm, rows, lows, boxes) for boxes in self._boxes()]
        ranks = [pages]
        ranks += [u[:, None] + a[None, :] for a, u in zip(across, upwards, strict=True)]
        off_x = np.abs(2 * lefts - (lefts[0] + lefts[-1]))
        off_y = np.abs(2 * lows - (lows[0] + lows[-1]))
        ranks.append(off_y[:, None] + off_x[None, :])
        index, least = _least(ranks)
        low, left = divmod(index, len(lefts))
        rank = (*least[:-1], columns * rows, int(turned), int(room.lying), least[-1])
        x, y = self.x0 + float(lefts[left]) * self.step, self.y0 + float(lows[low]) * self.step
        return _Choice(rank, room, turned, columns, rows, x, y)

    def _boxes(self) -> tuple[tuple[Box, ...], ...]:
        return self.content.keep_off, self.content.openings, self.content.rather_off

    def _pages(
        self, room: Room, columns: int, rows: int, lefts: NDArray[np.int64], lows: NDArray[np.int64]
    ) -> NDArray[np.int64]:
        """Number of cells that are not blank, for each start [low, left]."""
        pages = np.zeros((len(lows), len(lefts)), dtype=np.int64)
        spans = self._spans(lefts, room.width_mm, columns, self.table.shape[1] - 1)
        for low, high in self._spans(lows, room.height_mm, rows, self.table.shape[0] - 1):
            below, above = self.table[low], self.table[high]
            for left, right in spans:
                pages += above[:, right] - above[:, left] - below[:, right] + below[:, left] > 0
        return pages

    def _spans(
        self, starts: NDArray[np.int64], room_mm: int, count: int, most: int
    ) -> list[tuple[NDArray[np.int64], NDArray[np.int64]]]:
        """For each cell of an axis the first and last square that it meets, for each start."""
        seams = [starts * self.step + _seam_mm(i, room_mm) for i in range(1, count)]
        first = [np.zeros_like(starts), *(np.clip(at // self.step, 0, most) for at in seams)]
        last = [*(np.clip(-(-at // self.step), 0, most) for at in seams), np.full_like(starts, most)]
        return list(zip(first, last, strict=True))

    def _hits(
        self, axis: int, room_mm: int, count: int, starts: NDArray[np.int64], boxes: tuple[Box, ...]
    ) -> NDArray[np.int64]:
        """How many boxes the seams across an axis run through, for each start."""
        hits = np.zeros(len(starts), dtype=np.int64)
        origin = (self.x0, self.y0)[axis]
        if not boxes:
            return hits
        ends = np.array(boxes) - origin
        lows, highs = np.floor(ends[:, axis] - KEEP_OFF_MM), np.ceil(ends[:, axis + 2] + KEEP_OFF_MM)
        for i in range(1, count):
            seams = (starts * self.step + _seam_mm(i, room_mm))[:, None]
            hits += ((seams > lows) & (seams < highs)).sum(axis=1)
        return hits


def _seam_mm(number: int, room_mm: int) -> int:
    """From the start of the first window to a seam, counted from 1."""
    return number * (room_mm - OVERLAP_MM) + OVERLAP_MM // 2


def _fewest(extent: float, room_mm: int) -> int:
    """The least number of windows that cover an extent; compared in whole nanometres."""
    extent_nm, room_nm, step_nm = (round(v * 1_000_000) for v in (extent, room_mm, room_mm - OVERLAP_MM))
    return 1 if extent_nm <= room_nm else 1 + -((room_nm - extent_nm) // step_nm)


def _counts(fewest: int) -> tuple[int, ...]:
    """One column cannot be bettered by two; otherwise one more may leave out more blank tiles."""
    return (1,) if fewest == 1 else (fewest, fewest + 1)


def _starts(extent: float, room_mm: int, count: int, step: int, most: int) -> NDArray[np.int64]:
    """Where the first window may start, in steps from the content's edge: from as far out as can be to 0."""
    slack = math.floor(((count - 1) * (room_mm - OVERLAP_MM) + room_mm - extent + 1e-9) / step)
    stride = max(1, math.ceil((slack + 1) / most))
    return -np.arange(slack // stride * stride, -1, -stride, dtype=np.int64)


def _least(ranks: list[NDArray[np.int64]]) -> tuple[int, tuple[int, ...]]:
    """Index and ranks of the entry least in the first array, then in the second and so on."""
    left = np.arange(ranks[0].size)
    least: list[int] = []
    for rank in ranks:
        values = rank.ravel()[left]
        low = int(values.min())
        least.append(low)
        left = left[values == low]
    return int(left[0]), tuple(least)


def _tiling(choice: _Choice, laid: Content) -> Tiling:
    room = choice.room
    across = _edges(choice.left, room.width_mm, choice.columns)
    upwards = _edges(choice.low, room.height_mm, choice.rows)
    for geometry in (laid.area, laid.lines):
        shapely.prepare(geometry)
    cells = []
    for row in range(choice.rows):
        level = choice.rows - 1 - row
        for column in range(choice.columns):
            core = across[column], upwards[level], across[column + 1], upwards[level + 1]
            if not laid.meets(core):
                continue
            x = choice.left + column * (room.width_mm - OVERLAP_MM)
            y = choice.low + level * (room.height_mm - OVERLAP_MM)
            view = x, y, x + room.width_mm, y + room.height_mm
            cells.append(
                Cell(
                    row=row,
                    column=column,
                    view=_unlaid(view, choice.turned),
                    core=_unlaid(core, choice.turned),
                    laid_core=core,
                )
            )
    return Tiling(
        room=room,
        turned=choice.turned,
        columns=choice.columns,
        rows=choice.rows,
        cells=tuple(cells),
        across=across,
        upwards=upwards,
    )


def _edges(start: float, room_mm: int, count: int) -> tuple[float, ...]:
    seams = (start + _seam_mm(i, room_mm) for i in range(1, count))
    end = start + (count - 1) * (room_mm - OVERLAP_MM) + room_mm
    return tuple(round(v, 6) + 0.0 for v in (start, *seams, end))


def _unlaid(box: Box, turned: bool) -> Box:
    u0, v0, u1, v1 = (round(v, 6) + 0.0 for v in box)
    return (v0, -u1 + 0.0, v1, -u0 + 0.0) if turned else (u0, v0, u1, v1)


def joined(polygons: Iterable[BaseGeometry]) -> MultiPolygon:
    """Polygons that may touch or overlap, as the one area that `Content` takes."""
    parts = shapely.get_parts(shapely.union_all(list(polygons)))
    return MultiPolygon([g for g in parts if g.geom_type == "Polygon" and not g.is_empty])
