"""Lines on the model as many short stretches: where glue and tape run.  mm; model axes."""

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
import shapely

from foamcut.flat.assembled import Standing
from foamcut.flat.tolerances import PLACES
from foamcut.flight.figures import Vector
from foamcut.flight.weights_boards import boards_of

#: no stretch is longer, unless a line would have more of them than is worth while
STEP_MM, MOST = 10.0, 2000
#: a place so near to a panel lies on it
_ON_MM = 0.05


class Stretches(NamedTuple):
    """Middles of short stretches (n, 3), or (n, 2) on a flat part, and their lengths (n,)."""

    middles: np.ndarray
    lengths: np.ndarray

    @classmethod
    def of(cls, several: Iterable["Stretches"]) -> "Stretches":
        """All of several."""
        kept = [one for one in several if len(one.lengths)]
        if not kept:
            return cls(np.zeros((0, 3)), np.zeros(0))
        return cls(
            np.concatenate([one.middles for one in kept]), np.concatenate([one.lengths for one in kept])
        )

    @property
    def length_mm(self) -> float:
        """Of all together."""
        return float(self.lengths.sum())

    def middle(self) -> tuple[Vector, Vector]:
        """The middle of all, and the mean squares of the distances from it along x, y and z.

        Raises
        ------
        ValueError
            There is no length.
        """
        if not self.length_mm > 0:
            raise ValueError("nothing has no middle")
        share = self.lengths / self.lengths.sum()
        at = share @ self.middles
        x, y, z = at.tolist()
        sx, sy, sz = (share @ (self.middles - at) ** 2).tolist()
        return (x, y, z), (sx, sy, sz)


def line(points: Sequence[Sequence[float]]) -> Stretches:
    """A line through points, two or three numbers each, in stretches of equal length."""
    corners = np.asarray(points, dtype=float)
    steps = np.linalg.norm(np.diff(corners, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    total = float(along[-1])
    if not total > 0:
        return Stretches(np.zeros((0, corners.shape[1])), np.zeros(0))
    count = min(math.ceil(round(total / STEP_MM, PLACES)), MOST)
    at = (np.arange(count) + 0.5) * total / count
    middles = np.column_stack([np.interp(at, along, column) for column in corners.T])
    return Stretches(middles, np.full(count, total / count))


def on_model(stands: Standing, flat: Stretches, up_mm: float) -> Stretches:
    """What is drawn on a flat part where the part stands, `up_mm` over its drawn face."""
    if not len(flat.lengths):
        return Stretches(np.zeros((0, 3)), flat.lengths)
    return Stretches(placed(poses_at(stands, flat.middles), flat.middles, up_mm), flat.lengths)


def placed(poses: np.ndarray, flat: np.ndarray, up_mm: float) -> np.ndarray:
    """Places (n, 2) of a flat part moved by a pose each (n, 4, 4), `up_mm` over its drawn face."""
    local = np.column_stack([flat, np.full(len(flat), up_mm), np.ones(len(flat))])
    moved: np.ndarray = np.einsum("nij,nj->ni", poses, local)[:, :3]
    return moved


def poses_at(stands: Standing, flat: np.ndarray) -> np.ndarray:
    """The poses (n, 4, 4) of the panels that hold places (n, 2) of a part, facets before panels.

    A place that no panel holds has that of the nearest.
    """
    boards = boards_of(stands).all
    matrices = np.array([board.matrix for board in boards])
    if len(boards) == 1:
        return np.broadcast_to(matrices[0], (len(flat), 4, 4))
    outlines = np.array([board.outline for board in boards])
    points = shapely.points(flat)
    which = np.full(len(flat), len(boards))
    of_point, of_board = shapely.STRtree(outlines).query(points, predicate="dwithin", distance=_ON_MM)
    np.minimum.at(which, of_point, of_board)
    for i in np.flatnonzero(which == len(boards)).tolist():
        which[i] = int(np.argmin(np.round(shapely.distance(outlines, points[i]), PLACES)))
    found: np.ndarray = matrices[which]
    return found
