"""What is seen of parts as areas to fill, by a depth buffer.

The picture is divided into square cells; each triangle turned to the eye gives the cells whose middles it
covers, with its depth there.  Cells of a part are worked out once and kept.  An area is the outline of the
cells where no other part lies in front, through the middles of their sides, with few points, its corners put
on the ends of the lines that the part is drawn with: it is within about a cell of the truth, less than the
line that is drawn around it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import shapely

from foamcut.draw.views_edges import Faces
from foamcut.flat.outline import Point

#: about so many cells lie along the longer side of what is shown
_CELLS = 700
#: a grid is this much finer than the next; grids are few, so that pictures share them
_LEVEL = 1.5
_LEVELS = 24
#: parts go this far into each other; who lies in front by less hides nothing, mm
_TIE_MM = 0.6
#: points this near to an outline without them are left out, in cells
_SIMPLE_CELLS = 0.8
#: corners of an outline are put on ends of lines this near, in cells
_SNAP_CELLS = 1.6
#: an area with fewer cells is a speck
_FEWEST_CELLS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grid:
    """Square cells from a lower left corner, mm: `wide` columns and `high` rows."""

    low: Point
    cell_mm: float
    wide: int
    high: int


class Areas:
    """Cells of every part, worked out when they are first asked for."""

    def __init__(self, faces: Faces, count: int) -> None:
        self._faces = faces
        self._own = [np.nonzero(faces.front & (faces.part == i))[0] for i in range(count)]
        self._kept: dict[tuple[int, float], tuple[np.ndarray, np.ndarray]] = {}
        self._boxes = np.full((count, 4), np.inf)
        self._boxes[:, 2:] = -np.inf
        for i, own in enumerate(self._own):
            if len(own):
                corners = faces.corners[own][..., :2].reshape(-1, 2)
                self._boxes[i] = *corners.min(axis=0), *corners.max(axis=0)

    def rings(
        self, there: np.ndarray, wanted: np.ndarray, snaps: Mapping[int, np.ndarray]
    ) -> Mapping[int, tuple[tuple[Point, ...], ...]]:
        """Outlines of what is seen of the parts `wanted` among those `there`, by the index of the part.

        `snaps` are ends of lines (n, 2) that a part is drawn with.
        """
        drawn = np.array([len(own) > 0 for own in self._own], dtype=bool)
        there, wanted = there & drawn, wanted & drawn
        if not wanted.any():
            return {}
        grid = self._grid(there)
        near = np.full(grid.wide * grid.high, -np.inf)
        owner = np.full(len(near), -1, dtype=np.int32)
        for i in np.nonzero(wanted)[0].tolist():
            cells, depth = self._cells(i, grid)
            before = depth > near[cells] + np.where(owner[cells] < 0, 0.0, _TIE_MM)
            near[cells[before]], owner[cells[before]] = depth[before], i
        for i in self._beside(there & ~wanted, wanted):
            cells, depth = self._cells(i, grid)
            inside = owner[cells] != -1
            cells, depth = cells[inside], depth[inside]
            owner[cells[depth > near[cells] + _TIE_MM]] = -2
        pattern = owner.reshape(grid.high, grid.wide)
        none = np.empty((0, 2))
        return {i: _outlines(pattern == i, grid, snaps.get(i, none)) for i in np.nonzero(wanted)[0].tolist()}

    def _grid(self, there: np.ndarray) -> _Grid:
        """The grid for parts: all of one cell size have the same corner."""
        whole, shown = self._boxes[np.isfinite(self._boxes[:, 0])], self._boxes[there]
        low, high = whole[:, :2].min(axis=0).tolist(), whole[:, 2:].max(axis=0).tolist()
        size = max(*(shown[:, 2:].max(axis=0) - shown[:, :2].min(axis=0)).tolist(), 0.1)
        cell = max(high[0] - low[0], high[1] - low[1], 0.1) / _CELLS
        for _ in range(_LEVELS):
            if cell * _CELLS <= size * _LEVEL:
                break
            cell /= _LEVEL
        wide, deep = (int((high[i] - low[i]) / cell) + 1 for i in (0, 1))
        return _Grid(low=(low[0], low[1]), cell_mm=cell, wide=wide, high=deep)

    def _beside(self, others: np.ndarray, wanted: np.ndarray) -> list[int]:
        """Those of the others whose boxes meet one of a wanted part."""
        boxes = self._boxes[wanted]
        return [
            i
            for i in np.nonzero(others)[0].tolist()
            if bool(
                ((boxes[:, :2] <= self._boxes[i, 2:]) & (boxes[:, 2:] >= self._boxes[i, :2]))
                .all(axis=1)
                .any()
            )
        ]

    def _cells(self, part: int, grid: _Grid) -> tuple[np.ndarray, np.ndarray]:
        """The cells of a part, each once, and the depth of the nearest of its faces."""
        key = part, grid.cell_mm
        if key not in self._kept:
            own = self._own[part]
            self._kept[key] = _nearest(self._faces.corners[own], self._faces.normals[own], grid)
        return self._kept[key]


def _nearest(corners: np.ndarray, normals: np.ndarray, grid: _Grid) -> tuple[np.ndarray, np.ndarray]:
    places = (corners[..., :2] - np.array(grid.low)) / grid.cell_mm - 0.5
    first = np.clip(np.ceil(places[..., 1].min(axis=1)).astype(np.int64), 0, None)
    last = np.clip(np.floor(places[..., 1].max(axis=1)).astype(np.int64), None, grid.high - 1)
    which, row = _counted(first, np.maximum(last - first + 1, 0))
    left, right = _spans(places[which], row.astype(float))
    start = np.clip(np.ceil(left), 0, grid.wide).astype(np.int64)
    end = np.clip(np.floor(right), -1, grid.wide - 1).astype(np.int64)
    slopes = normals[:, :2] / normals[:, 2:] * grid.cell_mm
    level = corners[:, 0, 2] + (slopes * places[:, 0]).sum(axis=1)
    base = level[which] - slopes[which, 1] * row
    span, column = _counted(start, np.maximum(end - start + 1, 0))
    depth = base[span] - slopes[which[span], 0] * column
    found = np.full(grid.wide * grid.high, -np.inf)
    np.maximum.at(found, row[span] * grid.wide + column, depth)
    cells = np.nonzero(np.isfinite(found))[0]
    return cells, np.round(found[cells], 4)


def _outlines(mask: np.ndarray, grid: _Grid, snaps: np.ndarray) -> tuple[tuple[Point, ...], ...]:
    rows, columns = np.nonzero(mask.any(axis=1))[0], np.nonzero(mask.any(axis=0))[0]
    if not len(rows):
        return ()
    low, left = int(rows[0]), int(columns[0])
    cut = np.pad(mask[low : int(rows[-1]) + 1, left : int(columns[-1]) + 1], 1)
    found = []
    for ring in _traced(cut):
        x, y = ring.T
        if abs(float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum())) < 2 * _FEWEST_CELLS:
            continue
        simple = shapely.simplify(shapely.LinearRing(ring), _SIMPLE_CELLS)
        places = np.array(simple.coords)[:-1] + np.array([left - 1, low - 1])
        moved = _snapped(places * grid.cell_mm + np.array(grid.low), snaps, _SNAP_CELLS * grid.cell_mm)
        found.append(tuple((float(x), float(y)) for x, y in np.round(moved, 3) + 0.0))
    return tuple(found)


def _snapped(places: np.ndarray, snaps: np.ndarray, reach: float) -> np.ndarray:
    """Each place on the nearest of `snaps` where one is near."""
    if not len(snaps):
        return places
    apart = np.round(((places[:, None] - snaps[None]) ** 2).sum(axis=2), 6)
    nearest = np.argmin(apart, axis=1)
    near = apart[np.arange(len(places)), nearest] <= reach**2
    return np.where(near[:, None], snaps[nearest], places)


def _counted(start: np.ndarray, count: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """For each row its index as often as it counts, and whole numbers from its start on."""
    which = np.repeat(np.arange(len(start)), count)
    ends = np.cumsum(count)
    return which, np.arange(int(ends[-1]) if len(ends) else 0) - np.repeat(ends - count, count) + start[which]


def _spans(places: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """From where to where triangles (n, 3, 2) reach along a level line each."""
    left, right = np.full(len(y), np.inf), np.full(len(y), -np.inf)
    for i in range(3):
        a, b = places[:, i], places[:, (i + 1) % 3]
        rise = b[:, 1] - a[:, 1]
        level = rise == 0
        share = np.where(level, 0.0, (y - a[:, 1]) / np.where(level, 1.0, rise))
        on = (share >= 0) & (share <= 1) & (~level | (a[:, 1] == y))
        x = a[:, 0] + share * (b[:, 0] - a[:, 0])
        np.minimum(left, np.where(on, x, np.inf), out=left)
        np.maximum(right, np.where(on, x, -np.inf), out=right)
    none = left > right
    return np.where(none, 0.0, left - 1e-9), np.where(none, -1.0, right + 1e-9)


def _traced(mask: np.ndarray) -> list[np.ndarray]:
    """Rings (n, 2) around the cells of a mask, the cells on the left, through the middles of cells' sides.

    A cell's lower left corner has its column and row as coordinates; no cell of the first and last row and
    column belongs to the mask.
    """
    wide = mask.shape[1] + 1
    above, below = ~mask[:-1] & mask[1:], mask[:-1] & ~mask[1:]
    left, right = ~mask[:, :-1] & mask[:, 1:], mask[:, :-1] & ~mask[:, 1:]
    starts, ends = [], []
    for sides, from_corner, to_corner in (
        (above, (1, 0), (1, 1)),
        (below, (1, 1), (1, 0)),
        (right, (0, 1), (1, 1)),
        (left, (1, 1), (0, 1)),
    ):
        row, column = np.nonzero(sides)
        starts.append((row + from_corner[0]) * wide + column + from_corner[1])
        ends.append((row + to_corner[0]) * wide + column + to_corner[1])
    start, end = np.concatenate(starts), np.concatenate(ends)
    order = np.argsort(start, kind="stable")
    start, end = start[order], end[order]
    twice = np.zeros(len(start), dtype=bool)
    twice[1:] = start[1:] == start[:-1]
    twice[:-1] |= twice[1:]
    after = dict(zip(start[~twice].tolist(), end[~twice].tolist(), strict=True))
    forks: dict[int, list[int]] = {}
    for a, b in zip(start[twice].tolist(), end[twice].tolist(), strict=True):
        forks.setdefault(a, []).append(b)
    rings = []
    while after:
        codes = np.array(_around(next(iter(after)), after, forks, wide))
        corners = np.stack([codes % wide, codes // wide], axis=1).astype(float)
        rings.append((corners + np.roll(corners, -1, axis=0)) / 2)
    return rings


def _around(first: int, after: dict[int, int], forks: dict[int, list[int]], wide: int) -> list[int]:
    """The corners of the ring through one of them, which are taken out of `after` and `forks`.

    Where two cells touch at a corner the way turns left, so that they stay apart.
    """
    turned_left = {1: wide, wide: -1, -1: -wide, -wide: 1}
    ring, at = [first], after.pop(first)
    way = at - first
    while at != first:
        ring.append(at)
        to = after.pop(at, -1)
        if to < 0:
            several = forks[at]
            left = at + turned_left[way]
            to = left if left in several else several[0]
            several.remove(to)
        way, at = to - at, to
    return ring
