"""How deep bodies that stand on the model go into each other, and how far apart they are.

mm; model axes: x aft, y right, z up.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import shapely

from foamcut.flat.assembled import BentBody
from foamcut.flat.folded_body import Body
from foamcut.flat.folded_clash import Clash, clash

if TYPE_CHECKING:
    from manifold3d import Manifold

#: corners of the polygon that stands for the circle of a disc, which lies inside it
_CORNERS = 360
#: how thick a disc is taken to be: as good as nothing, but a body needs some
_THIN_MM = 0.01


@dataclass(frozen=True, kw_only=True, eq=False)
class Filling:
    """A body of a part, by the part's index, with what tells quickly that it is clear of another."""

    owner: int
    body: Body

    @cached_property
    def points(self) -> np.ndarray:
        """Points (n, 3) whose hull holds it."""
        if isinstance(self.body, BentBody):
            return np.concatenate([paper.reshape(-1, 3) for paper in self.body.grid])
        flat = shapely.get_coordinates(self.body.panel.outline.polygon.exterior)
        faces = [np.column_stack([flat, np.full(len(flat), z)]) for z in (0.0, -self.body.part.thickness_mm)]
        matrix = self.body.matrix
        placed: np.ndarray = np.concatenate(faces) @ matrix[:3, :3].T + matrix[:3, 3]
        return placed

    def passes(self, other: "Filling", deep_mm: float) -> bool:
        """Whether another reaches deeper between the two faces of this one, where it is flat."""
        if isinstance(self.body, BentBody):
            return True
        heights = (other.points - self.body.matrix[:3, 3]) @ self.body.matrix[:3, 2]
        shared = min(0.0, heights.max()) - max(-self.body.part.thickness_mm, heights.min())
        return bool(shared > deep_mm)


def clashes(fillings: Sequence[Filling], deep_mm: float) -> Iterator[tuple[Filling, Filling, Clash]]:
    """Bodies of different parts that go into each other deeper than so, in order."""
    for i, j in _near(np.array([filling.body.box for filling in fillings]), deep_mm):
        a, b = fillings[i], fillings[j]
        if a.owner != b.owner and a.passes(b, deep_mm) and b.passes(a, deep_mm):
            found = clash(a.body, b.body)
            if found is not None and found.depth_mm > deep_mm:
                yield a, b, found


def _near(boxes: np.ndarray, deep_mm: float) -> Iterator[tuple[int, int]]:
    """Indexes i < j of boxes, (n, 2, 3) lowest and highest corners, that share more than a depth each way."""
    low, high = boxes.reshape(-1, 2, 3).transpose(1, 0, 2)
    flat = shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
    for i, j in sorted((i, j) for i, j in shapely.STRtree(flat).query(flat).T.tolist() if i < j):
        if (np.minimum(high[i], high[j]) - np.maximum(low[i], low[j]) > deep_mm).all():
            yield i, j


@dataclass(frozen=True, kw_only=True, eq=False)
class Swept:
    """A disc in space: its middle, the direction of its axis, its diameter."""

    middle: tuple[float, float, float]
    axis: tuple[float, float, float]
    diameter_mm: float

    @cached_property
    def solid(self) -> "Manifold":
        """A body without thickness to speak of, just larger than the disc."""
        from manifold3d import Manifold

        axis = np.array(self.axis) / np.linalg.norm(self.axis)
        aside = np.cross(axis, [0.0, 0.0, 1.0] if abs(axis[2]) < 0.9 else [1.0, 0.0, 0.0])
        aside /= np.linalg.norm(aside)
        radius = self.diameter_mm / 2 / math.cos(math.pi / _CORNERS)
        body = Manifold.cylinder(_THIN_MM, radius, radius, _CORNERS, True)
        return body.transform(np.column_stack([aside, np.cross(axis, aside), axis, np.array(self.middle)]))

    @cached_property
    def box(self) -> np.ndarray:
        """The lowest and the highest corner of what holds it."""
        axis = np.array(self.axis) / np.linalg.norm(self.axis)
        reach = self.diameter_mm / 2 * np.sqrt(np.clip(1.0 - axis**2, 0.0, 1.0))
        return np.array([np.array(self.middle) - reach, np.array(self.middle) + reach])

    def gap(self, other: "Body | Swept", reach_mm: float) -> float:
        """How far off another is, at most `reach_mm`; 0 where they touch."""
        apart = np.maximum(self.box[0] - other.box[1], other.box[0] - self.box[1])
        if (apart >= reach_mm).any():
            return reach_mm
        return float(self.solid.min_gap(other.solid, reach_mm))
