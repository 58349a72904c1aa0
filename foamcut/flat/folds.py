"""Folds: where board is worked so that its whole paper turns as a hinge, and what is drawn of it.

One paper stays whole and keeps its length; every cut is on the other face, the *cut face*.  A fold runs
from `start` to `end`; s is the distance to the left of that line, mm; t is the board's thickness.
"""

from dataclasses import dataclass
from typing import Self

from shapely import Polygon

from foamcut.flat.clipping import Run
from foamcut.flat.drawn import FoldKind, Side
from foamcut.flat.outline import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """A fold as worked: the panel to the left of `start` -> `end` turns by `turn_deg`.

    `band_mm` is the lowest and the highest s of what is worked, `axis_mm` the s at which the whole paper
    turns (a roll: 0, where the bend begins; it ends at `band_mm[1]`).  The runs are the lines by layer,
    trimmed to the part; `fold` is where the whole paper turns, whole length, also where it lies on a cut.
    """

    key: str
    kind: FoldKind
    side: Side
    start: Point
    end: Point
    turn_deg: float
    thickness_mm: float
    band_mm: tuple[float, float]
    axis_mm: float
    radius_mm: float | None = None  # roll: outer
    half: tuple[Run, ...] = ()
    groove: tuple[Run, ...] = ()
    lift: tuple[Run, ...] = ()
    bevel: tuple[Run, ...] = ()
    fold: tuple[Run, ...] = ()

    @property
    def rises(self) -> bool:
        """Whether the panel on the left comes up from the drawn face: towards the cut face, a score away."""
        return (self.side is Side.UP) != (self.kind is FoldKind.SCORE)

    @property
    def cut_behind(self) -> bool:
        """Whether it is cut on the face behind the drawn one."""
        return self.side is Side.DOWN

    def fold_strokes(self) -> tuple[Run, ...]:
        """What is drawn of where the whole paper turns: the line, or two end ticks where it lies on a cut."""
        raise NotImplementedError

    def trimmed(self, region: Polygon) -> Self | None:
        """The fold within a region (a section of the part); None when nothing of it lies there."""
        raise NotImplementedError

    def mirrored(self) -> Self:
        """The fold on the mirror-image part, y -> -y: the line runs the other way, left stays left."""
        raise NotImplementedError
