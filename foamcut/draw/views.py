"""Views of the model with hidden lines hidden.

mm; model axes: x aft, y right, z up.  A view is a parallel projection: what lies at (x, y, z) is drawn at
(right . p, up . p), and is hidden by what lies farther along right x up, which points at the eye.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.airframe.model import Mesh
from foamcut.flat.outline import Point

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """From where one looks: the directions of the picture's x and y on the model, unit vectors."""

    name: str
    right: Vector
    up: Vector


#: the left side, nose on the left
SIDE = Look(name="side", right=(1.0, 0.0, 0.0), up=(0.0, 0.0, 1.0))
#: from above, nose on the left, the right wing below
TOP = Look(name="top", right=(1.0, 0.0, 0.0), up=(0.0, -1.0, 0.0))
#: from the front, the left wing on the right
FRONT = Look(name="front", right=(0.0, -1.0, 0.0), up=(0.0, 0.0, 1.0))


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

    def seen(self, names: Sequence[str] | None = None) -> tuple[Seen, ...]:
        """What is seen of the parts of these names (None: of all) when no other is there, in their order."""
        raise NotImplementedError
