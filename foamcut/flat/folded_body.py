"""Panels of a folded part as they stand in space: their bodies, their free edges, and what they are called.

mm; space as in `foamcut.flat.panels`.
"""

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import shapely

from foamcut.flat.drawn import FoldKind
from foamcut.flat.outline import Point
from foamcut.flat.panels import Panel
from foamcut.flat.part import Part
from foamcut.flat.solids import solid
from foamcut.flat.tolerances import ON_EDGE_MM, SHORT_EDGE_MM

if TYPE_CHECKING:
    from manifold3d import Manifold


@dataclass(frozen=True, kw_only=True, eq=False)
class Body:
    """A panel of a folded part."""

    part: Part
    panel: Panel

    @cached_property
    def solid(self) -> "Manifold":
        """Its board in its pose."""
        return solid(self.part, self.panel)

    @cached_property
    def matrix(self) -> np.ndarray:
        """Its pose as a matrix."""
        return self.panel.pose.matrix

    @cached_property
    def box(self) -> np.ndarray:
        """The lowest and the highest corner of what holds its board."""
        flat = shapely.get_coordinates(self.panel.outline.polygon.exterior)
        faces = [np.column_stack([flat, np.full(len(flat), z)]) for z in (0.0, -self.part.thickness_mm)]
        placed = np.concatenate(faces) @ self.matrix[:3, :3].T + self.matrix[:3, 3]
        return np.array([placed.min(axis=0), placed.max(axis=0)])

    @cached_property
    def edges(self) -> tuple["Edge", ...]:
        """Its straight edges on the part's outline or openings; those along folds are not free."""
        boundary = self.part.outline.polygon.boundary
        return tuple(
            Edge(start=a, end=b, body=self)
            for ring in self.panel.outline.rings()
            for a, b in pairwise(ring)
            if math.dist(a, b) >= SHORT_EDGE_MM
            and boundary.distance(shapely.Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)) <= ON_EDGE_MM
        )

    @property
    def name(self) -> str:
        """What a builder would call it: by the fold that turns it."""
        if self.panel.of_roll is not None:
            return f"the bend of {self._fold_word(self.panel.of_roll)}"
        if self.panel.of_strip is not None:
            return f"the paper of {self._fold_word(self.panel.of_strip)}"
        if self.panel.turned_by is None:
            return "the panel that keeps its place"
        return f"the panel turned by {self._fold_word(self.panel.turned_by)}"

    def _fold_word(self, index: int) -> str:
        return self.part.folds[index].key.rsplit(".", 1)[-1]

    def on_flat(self, place: np.ndarray) -> Point:
        """A place in space as x and y of the flat part."""
        x, y, _ = (self.matrix[:3, :3].T @ (place - self.matrix[:3, 3])).tolist()
        return round(x, 2) + 0.0, round(y, 2) + 0.0

    def shared_folds(self, other: "Body") -> tuple[int, ...]:
        """The folds, by index, that part it from another panel, rolls left out: they keep the two apart."""
        shared = sorted(set(self.panel.folds) & set(other.panel.folds))
        return tuple(i for i in shared if self.part.folds[i].kind is not FoldKind.ROLL)

    def of_one_roll(self, other: "Body") -> bool:
        """Whether one is a facet of a roll that also bounds the other: there the foam gives way."""
        rolls = {panel.of_roll for panel in (self.panel, other.panel) if panel.of_roll is not None}
        return any(roll in self.panel.folds and roll in other.panel.folds for roll in rolls)

    def boxes_within(self, other: "Body", reach_mm: float) -> bool:
        """Whether what holds the two boards comes so close."""
        gaps = np.maximum(self.box[0] - other.box[1], other.box[0] - self.box[1])
        return bool((gaps <= reach_mm).all())

    def lean_deg(self, other: "Body") -> float:
        """The angle between the ways that the two drawn faces look, 0 to 180."""
        cosine = float(self.matrix[:3, 2] @ other.matrix[:3, 2])
        return math.degrees(math.acos(min(1.0, max(-1.0, cosine))))

    def faces(self, other: "Body") -> bool:
        """Whether the drawn face looks to the side on which the middle of the other panel lies."""
        middle = other.panel.outline.polygon.centroid
        place = np.array(other.panel.pose.point(middle.x, middle.y))
        return float((place - self.matrix[:3, 3]) @ self.matrix[:3, 2]) > 0


@dataclass(frozen=True, kw_only=True, eq=False)
class Edge:
    """A free edge of a panel, counter-clockwise round it, so that outwards is to its right."""

    start: Point
    end: Point
    body: Body

    @property
    def length(self) -> float:
        """Its length, mm."""
        return math.dist(self.start, self.end)

    @cached_property
    def along(self) -> np.ndarray:
        """Unit vector in space."""
        dx, dy = self._flat_way()
        way: np.ndarray = self.body.matrix[:3, :3] @ (dx, dy, 0.0)
        return way

    @cached_property
    def outwards(self) -> np.ndarray:
        """Unit vector in space, in the panel's plane."""
        dx, dy = self._flat_way()
        way: np.ndarray = self.body.matrix[:3, :3] @ (dy, -dx, 0.0)
        return way

    def place(self, share: float) -> Point:
        """The point of the flat part at a share of the way along."""
        (x0, y0), (x1, y1) = self.start, self.end
        return x0 + share * (x1 - x0), y0 + share * (y1 - y0)

    @cached_property
    def ends(self) -> tuple[np.ndarray, np.ndarray]:
        """Where it starts and ends in space, at the middle of the board's thickness."""
        middle = -self.body.part.thickness_mm / 2
        start, end = (np.array(self.body.panel.pose.point(*at, middle)) for at in (self.start, self.end))
        return start, end

    def _flat_way(self) -> Point:
        (x0, y0), (x1, y1) = self.start, self.end
        return (x1 - x0) / self.length, (y1 - y0) / self.length
