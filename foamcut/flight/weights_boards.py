"""Which flat places of a part lie where on the model: its panels, and the facets of what is bent.  mm.

A bent skin is laid flat row by row along its outer paper, which grooves, strips and rolls leave whole.  An
unscored bend keeps the middle of its board instead; over a spar that puts places behind it off by less than
1 mm (half a thickness times the turn).
"""

import math
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import shapely
from shapely import Polygon

from foamcut.flat.assembled import Standing
from foamcut.flat.drawn import Face
from foamcut.flat.tolerances import SAME_POINT_MM
from foamcut.flat.vectors import cross

#: a facet leans no more from the panel it lies in, as a sine, and is no farther off its plane
_LEANS, _OFF_MM = 0.02, 0.5
#: facets of a bend that turn less from the first of them, as a cosine, are one: 2 degrees
_TURNS = math.cos(math.radians(2.0))


class Board(NamedTuple):
    """A flat bit of a part: its outline on the flat part, and its pose as a matrix (4, 4)."""

    outline: Polygon
    matrix: np.ndarray


class Boards(NamedTuple):
    """The facets of what is bent, which go before the panels, and the panels."""

    facets: tuple[Board, ...]
    panels: tuple[Board, ...]

    @property
    def all(self) -> tuple[Board, ...]:
        """All in the order in which they are gone by."""
        return (*self.facets, *self.panels)


def boards_of(stands: Standing) -> Boards:
    """The boards of a part where it stands."""
    panels = tuple(Board(one.panel.outline.polygon, one.matrix) for one in stands.boards)
    if stands.bent is None or not stands.facets:
        return Boards((), panels)
    return _bent(stands)


@lru_cache(maxsize=16)
def _bent(stands: Standing) -> Boards:
    """Those of a bent part; kept, because pieces, folds and edges all ask for them."""
    panels = tuple(Board(one.panel.outline.polygon, one.matrix) for one in stands.boards)
    return Boards(tuple(_unrolled(stands, panels)), panels)


def _unrolled(stands: Standing, panels: tuple[Board, ...]) -> list[Board]:
    """The facets of a grid from the one on that lies in a panel; none where none does."""
    assert stands.bent is not None
    outer, inner = (paper[:, [0, -1]] for paper in stands.bent.grid)
    t, drawn_inside = stands.part.thickness_mm, stands.part.face is Face.INNER
    towards = inner if drawn_inside else 2 * outer - inner
    ups = _normals(outer, towards)
    below = t if drawn_inside else 0.0
    start = _anchor(outer, ups, below, panels)
    if start is None:
        return []
    at, matrix = start
    rows = _fewer(ups, at)
    first = rows.index(at)
    outer, ups = outer[rows], _normals(outer[rows], towards[rows])
    flat = np.zeros((*outer.shape[:2], 2))
    local = (outer[first : first + 2] - matrix[:3, 3]) @ matrix[:3, :3]
    flat[first : first + 2] = local[..., :2]
    found = {first: matrix}
    for i in (*range(first + 1, len(ups)), *range(first - 1, -1, -1)):
        held, new = (i, i + 1) if i > first else (i + 1, i)
        pose = _beside(outer[held], flat[held], ups[i], below)
        if pose is None:
            flat[new] = flat[held]
            continue
        found[i] = pose
        flat[new] = ((outer[new] - pose[:3, 3]) @ pose[:3, :3])[:, :2]
    which = np.array(sorted(found))
    outlines = shapely.polygons(np.concatenate([flat[which], flat[which + 1, ::-1]], axis=1))
    wide = shapely.is_valid(outlines) & (shapely.area(outlines) > SAME_POINT_MM)
    return [Board(outlines[n], found[i]) for n, i in enumerate(which.tolist()) if wide[n]]


def _fewer(ups: np.ndarray, at: int) -> list[int]:
    """The rows that are kept: from one to the next the paper turns by 2 degrees; both of facet `at`."""
    kept = [0]
    for i in range(1, len(ups)):
        if ups[kept[-1]] @ ups[i] < _TURNS or i in (at, at + 1):
            kept.append(i)
    return [*kept, len(ups)]


def _normals(outer: np.ndarray, towards: np.ndarray) -> np.ndarray:
    """The unit normal of each facet, to the side of the drawn face; zero where it has no extent."""
    across = cross(outer[1:, 1] - outer[:-1, 0], outer[1:, 0] - outer[:-1, 1])
    lengths = np.linalg.norm(across, axis=1, keepdims=True)
    normals = across / np.maximum(lengths, SAME_POINT_MM**2)
    way = (towards[1:] + towards[:-1] - outer[1:] - outer[:-1]).sum(axis=1)
    side = np.sign((normals * way).sum(axis=1, keepdims=True))
    ours: np.ndarray = np.where(lengths > SAME_POINT_MM, normals * side, 0.0)
    return ours


def _anchor(
    outer: np.ndarray, ups: np.ndarray, below: float, panels: tuple[Board, ...]
) -> tuple[int, np.ndarray] | None:
    """The longest facet that lies in the plane of a panel, over it, and that panel's pose."""
    lengths = np.round(np.linalg.norm(outer[1:] - outer[:-1], axis=2).mean(axis=1), 3)
    for i in np.argsort(-lengths, kind="stable").tolist():
        middle = outer[i : i + 2].reshape(-1, 3)
        for panel in panels:
            local = (middle - panel.matrix[:3, 3]) @ panel.matrix[:3, :3]
            if (
                1 - ups[i] @ panel.matrix[:3, 2] <= _LEANS**2 / 2
                and np.abs(local[:, 2] + below).max() <= _OFF_MM
                and panel.outline.intersects(shapely.Point(local[:, :2].mean(axis=0)))
            ):
                return i, panel.matrix
    return None


def _beside(row: np.ndarray, flat: np.ndarray, up: np.ndarray, below: float) -> np.ndarray | None:
    """The pose of a facet from one of its rows (2, 3), where that lies flat (2, 2), and its normal."""
    along, flat_along = row[1] - row[0], flat[1] - flat[0]
    length, flat_length = float(np.linalg.norm(along)), float(np.linalg.norm(flat_along))
    if not up.any() or min(length, flat_length) <= SAME_POINT_MM:
        return None
    along, (dx, dy) = along / length, flat_along / flat_length
    up = up - (up @ along) * along
    up = up / np.linalg.norm(up)
    beside = cross(up, along)
    matrix = np.eye(4)
    matrix[:3, 0], matrix[:3, 1], matrix[:3, 2] = dx * along - dy * beside, dy * along + dx * beside, up
    matrix[:3, 3] = row[0] + up * below - matrix[:3, :2] @ flat[0]
    return matrix
