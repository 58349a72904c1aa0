"""The folded shape of a flat part: its panels and where each comes to lie.

Space in mm: flat, the part lies in the plane z = 0 with its drawn face up (towards +z) and the board
behind it, down to z = -thickness.
"""

from dataclasses import dataclass

from foamcut.flat.outline import Outline
from foamcut.flat.part import Part

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """Where a part's (0, 0) lies in space and where its x and y run, unit vectors.

    x cross y points out of the drawn face.
    """

    at: Vector = (0.0, 0.0, 0.0)
    x: Vector = (1.0, 0.0, 0.0)
    y: Vector = (0.0, 1.0, 0.0)

    def point(self, x_mm: float, y_mm: float, z_mm: float = 0.0) -> Vector:
        """Where a point of the flat part comes to lie; `z_mm` is its height over the drawn face."""
        raise NotImplementedError


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A flat panel between folds: its outline in the part's coordinates, and its pose once folded.

    `folds` are the indexes (into the part's folds) of those that bound it; `of_roll` is the index of the
    rolled fold whose band it is a facet of, None for a panel proper.
    """

    outline: Outline
    pose: Pose
    folds: tuple[int, ...] = ()
    of_roll: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """The panels of a part, folded; the first holds the part's (0, 0) and keeps its place.

    `open_mm`: where folds close a ring round a hole, how far the last panel is off; 0 when it closes.
    """

    part: Part
    panels: tuple[Panel, ...]
    open_mm: float = 0.0


def fold_up(part: Part) -> Folded:
    """The part folded by all its folds; a part without folds is one panel in its place."""
    raise NotImplementedError
