"""Views of the model with hidden lines hidden.

mm; model axes: x aft, y right, z up.  A view is a parallel projection: what lies at (x, y, z) is drawn at
(right . p, up . p), and is hidden by what lies farther along right x up, which points at the eye.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from foamcut.airframe.model import Mesh
from foamcut.draw.views_areas import Areas
from foamcut.draw.views_edges import drawn_edges
from foamcut.draw.views_hiding import gaps, hidden_stretches
from foamcut.draw.views_runs import SPECK_MM, runs
from foamcut.flat.outline import Point

Vector = tuple[float, float, float]

_Run = tuple[Point, ...]
#: runs by the index of a part and whether it ends there
_Lines = dict[tuple[int, bool], tuple[_Run, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """From where one looks: the directions of the picture's x and y on the model, unit vectors."""

    name: str
    right: Vector
    up: Vector


#: the left side, nose on the left
SIDE = Look(name="side", right=(1.0, 0.0, 0.0), up=(0.0, 0.0, 1.0))
#: from above, nose on the left, the right wing above
TOP = Look(name="top", right=(1.0, 0.0, 0.0), up=(0.0, 1.0, 0.0))
#: from the front, the left wing on the right
FRONT = Look(name="front", right=(0.0, -1.0, 0.0), up=(0.0, 0.0, 1.0))


def turned_look(name: str, forwards_deg: float, above_deg: float) -> Look:
    """A look from the left side, turned towards the nose and raised."""
    a, e = math.radians(forwards_deg), math.radians(above_deg)
    up = math.sin(a) * math.sin(e), math.cos(a) * math.sin(e), math.cos(e)
    return Look(name=name, right=(round(math.cos(a), 9), round(-math.sin(a), 9), 0.0), up=_rounded(up))


def _rounded(vector: Vector) -> Vector:
    x, y, z = vector
    return round(x, 9), round(y, 9), round(z, 9)


#: three quarters, from the front on the left and above
ANGLED = turned_look("angled", 35.0, 30.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What is seen of one part: `edges` where it ends before what lies behind, `creases` its other edges.

    Each is a run of points (two or more) on the picture, mm at full size.  `rings` are closed outlines of
    what is seen of it, to be filled (outer rings counter-clockwise, holes clockwise).
    """

    name: str
    edges: tuple[tuple[Point, ...], ...]
    creases: tuple[tuple[Point, ...], ...]
    rings: tuple[tuple[Point, ...], ...]


class Stage:
    """Parts seen from one place; what is worked out of a part once serves every picture of it."""

    def __init__(self, meshes: Sequence[Mesh], look: Look) -> None:
        self.meshes = tuple(meshes)
        self.look = look
        self._faces, self._edges = drawn_edges(self.meshes, look.right, look.up)
        self._hidden = hidden_stretches(self._faces, self._edges)
        self._areas = Areas(self._faces, len(self.meshes))

    def seen(
        self, names: Sequence[str] | None = None, *, filled: Sequence[str] | None = None
    ) -> tuple[Seen, ...]:
        """What is seen of the parts of these names (None: of all) when no other is there, in their order.

        `rings` are those of the parts `filled` alone (None: of all), and empty for the rest.
        """
        there = self._there(names)
        lines = self._lines(self._free(there, there))
        wanted = there & self._there(filled)
        ends = {
            i: np.array([point for run in lines[i, True] + lines[i, False] for point in run]).reshape(-1, 2)
            for i in np.nonzero(wanted)[0].tolist()
        }
        rings = self._areas.rings(there, wanted, ends) if wanted.any() else {}
        return self._several(there, lines, rings)

    def behind(self, names: Sequence[str], shown: Sequence[str] | None = None) -> tuple[Seen, ...]:
        """What the others of `shown` hide of the parts of these names, and would be seen were they alone."""
        there, own = self._there(shown), self._there(names)
        there |= own
        alone = self._free(own, own)
        now = self._free(own, there)
        among = np.nonzero(own[self._edges.part])[0]
        not_alone = gaps(*alone, among)
        stretches = [np.concatenate(pair) for pair in zip(not_alone, now, strict=True)]
        hidden = gaps(stretches[0], stretches[1], stretches[2], among)
        return self._several(own, self._lines(hidden), {})

    def _several(
        self, parts: np.ndarray, lines: _Lines, rings: Mapping[int, tuple[_Run, ...]]
    ) -> tuple[Seen, ...]:
        return tuple(
            Seen(
                name=self.meshes[i].name,
                edges=lines[i, True],
                creases=lines[i, False],
                rings=rings.get(i, ()),
            )
            for i in np.nonzero(parts)[0].tolist()
        )

    def _there(self, names: Sequence[str] | None) -> np.ndarray:
        if names is None:
            return np.ones(len(self.meshes), dtype=bool)
        wanted = frozenset(names)
        return np.array([mesh.name in wanted for mesh in self.meshes], dtype=bool)

    def _free(self, own: np.ndarray, there: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Stretches of the edges of some parts that no part that is there hides."""
        hidden = self._hidden
        kept = there[hidden.by] & own[self._edges.part[hidden.edge]]
        among = np.nonzero(own[self._edges.part])[0]
        return gaps(hidden.edge[kept], hidden.start[kept], hidden.end[kept], among)

    def _lines(self, stretches: tuple[np.ndarray, np.ndarray, np.ndarray]) -> _Lines:
        """Stretches as runs on the picture, by part and whether the part ends there."""
        edge, start, end = stretches
        ends = self._edges.ends[edge][:, :, :2]
        along = ends[:, 1] - ends[:, 0]
        places = ends[:, :1] + np.stack([start, end], axis=1)[:, :, None] * along[:, None]
        length = np.abs(along).max(axis=1, initial=0.0) * (end - start)
        whole = (start == 0.0) & (end == 1.0)
        kept = whole | (np.round(length, 4) >= SPECK_MM)
        part, ending = self._edges.part[edge], self._edges.ending[edge]
        return {
            (i, kind): runs(places[kept & (part == i) & (ending == kind)])
            for i in range(len(self.meshes))
            for kind in (True, False)
        }
