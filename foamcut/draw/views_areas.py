"""What is seen of parts as areas to fill, by a depth buffer.

The picture is divided into square cells; each triangle turned to the eye gives the cells whose middles it
covers, with its depth there.  Cells of a part are worked out once and kept.  An area is the outline of the
cells where no other part lies in front, through the middles of their sides, with few points: it is within
about a cell of the truth, less than the line that is drawn around it.
"""

from collections.abc import Mapping

import numpy as np
import shapely

from foamcut.draw.views_edges import Faces
from foamcut.flat.outline import Point

#: cells along the longer side of the picture
_CELLS = 1200
#: parts go this far into each other; who lies in front by less hides nothing, mm
_TIE_MM = 0.6
#: points this near to an outline without them are left out, in cells
_SIMPLE_CELLS = 0.9
#: an area with fewer cells is a speck
_FEWEST_CELLS = 6


class Areas:
    """Cells of every part, worked out when they are first asked for."""

    def __init__(self, faces: Faces, count: int) -> None:
        self._faces = faces
        self._kept: dict[int, tuple[np.ndarray, np.ndarray]] = {}
        corners = faces.corners[faces.front][..., :2].reshape(-1, 2)
        self._count = count
        if not len(corners):
            self._low, self._cell, self._wide, self._high = (0.0, 0.0), 1.0, 0, 0
            return
        low, high = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
        self._cell = max(high[0] - low[0], high[1] - low[1], 1e-3) / _CELLS
        self._low = (low[0], low[1])
        self._wide, self._high = (int((high[i] - low[i]) / self._cell) + 1 for i in (0, 1))

    def rings(self, there: np.ndarray, wanted: np.ndarray) -> Mapping[int, tuple[tuple[Point, ...], ...]]:
        """Outlines of what is seen of the parts `wanted` among those `there`, by the index of the part."""
        size = self._wide * self._high
        if not size:
            return {}
        near = np.full(size, -np.inf)
        owner = np.full(size, -1, dtype=np.int32)
        for i in np.nonzero(wanted)[0].tolist():
            cells, depth = self._cells(i)
            before = depth > near[cells] + np.where(owner[cells] < 0, 0.0, _TIE_MM)
            near[cells[before]], owner[cells[before]] = depth[before], i
        mine = owner >= 0
        for i in np.nonzero(there & ~wanted)[0].tolist():
            cells, depth = self._cells(i)
            inside = mine[cells]
            cells, depth = cells[inside], depth[inside]
            owner[cells[depth > near[cells] + _TIE_MM]] = -2
        grid = owner.reshape(self._high, self._wide)
        return {i: self._outlines(grid == i) for i in np.nonzero(wanted)[0].tolist()}

    def _cells(self, part: int) -> tuple[np.ndarray, np.ndarray]:
        """The cells of a part, each once, and the depth of the nearest of its faces."""
        if part not in self._kept:
            own = self._faces.front & (self._faces.part == part)
            self._kept[part] = self._nearest(self._faces.corners[own], self._faces.normals[own])
        return self._kept[part]

    def _nearest(self, corners: np.ndarray, normals: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        places = (corners[..., :2] - np.array(self._low)) / self._cell - 0.5
        first = np.clip(np.ceil(places[..., 1].min(axis=1)).astype(np.int64), 0, None)
        last = np.clip(np.floor(places[..., 1].max(axis=1)).astype(np.int64), None, self._high - 1)
        which, row = _counted(first, np.maximum(last - first + 1, 0))
        left, right = _spans(places[which], row.astype(float))
        start = np.clip(np.ceil(left), 0, self._wide).astype(np.int64)
        end = np.clip(np.floor(right), -1, self._wide - 1).astype(np.int64)
        span, column = _counted(start, np.maximum(end - start + 1, 0))
        which, row = which[span], row[span]
        away = [
            (along - places[which, 0, axis]) * self._cell * normals[which, axis]
            for axis, along in ((0, column), (1, row))
        ]
        depth = corners[which, 0, 2] - (away[0] + away[1]) / normals[which, 2]
        cells = row * self._wide + column
        order = np.lexsort((-depth, cells))
        cells, depth = cells[order], depth[order]
        new = np.ones(len(cells), dtype=bool)
        new[1:] = cells[1:] != cells[:-1]
        return cells[new], np.round(depth[new], 4)

    def _outlines(self, mask: np.ndarray) -> tuple[tuple[Point, ...], ...]:
        rows, columns = np.nonzero(mask.any(axis=1))[0], np.nonzero(mask.any(axis=0))[0]
        if not len(rows):
            return ()
        top, left = int(rows[0]), int(columns[0])
        cut = np.pad(mask[top : int(rows[-1]) + 1, left : int(columns[-1]) + 1], 1)
        found = []
        for ring in _traced(cut):
            area = abs(float(shapely.Polygon(ring).area))
            if area < _FEWEST_CELLS:
                continue
            simple = shapely.simplify(shapely.LinearRing(ring), _SIMPLE_CELLS)
            places = np.array(simple.coords)[:-1] + np.array([left - 1, top - 1])
            moved = np.round(places * self._cell + np.array(self._low), 3) + 0.0
            found.append(tuple((float(x), float(y)) for x, y in moved))
        return tuple(found)


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


def _traced(mask: np.ndarray) -> list[list[Point]]:
    """Rings around the cells of a mask, the cells on the left, through the middles of cells' sides.

    A cell's lower left corner has its column and row as coordinates.
    """
    after: dict[tuple[int, int], list[tuple[int, int]]] = {}
    below, above = mask[:-1] & ~mask[1:], ~mask[:-1] & mask[1:]
    before, behind = mask[:, :-1] & ~mask[:, 1:], ~mask[:, :-1] & mask[:, 1:]
    for row, column in np.argwhere(above).tolist():
        after.setdefault((column, row + 1), []).append((column + 1, row + 1))
    for row, column in np.argwhere(below).tolist():
        after.setdefault((column + 1, row + 1), []).append((column, row + 1))
    for row, column in np.argwhere(before).tolist():
        after.setdefault((column + 1, row), []).append((column + 1, row + 1))
    for row, column in np.argwhere(behind).tolist():
        after.setdefault((column + 1, row + 1), []).append((column + 1, row))
    rings = []
    for start in sorted(after):
        while after[start]:
            rings.append(_around(start, after))
    return rings


def _around(start: tuple[int, int], after: dict[tuple[int, int], list[tuple[int, int]]]) -> list[Point]:
    at, ring = start, []
    way = (0, 0)
    while True:
        several = after[at]
        if len(several) == 2:  # two cells that touch at a corner: turn left, so that they stay apart
            left = (at[0] - way[1], at[1] + way[0])
            to = left if left in several else several[0]
            several.remove(to)
        else:
            to = several.pop()
        ring.append(((at[0] + to[0]) / 2, (at[1] + to[1]) / 2))
        way, at = (to[0] - at[0], to[1] - at[1]), to
        if at == start:
            return ring
