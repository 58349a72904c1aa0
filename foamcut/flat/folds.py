"""Folds: where board is worked so that its whole paper turns as a hinge, and what is drawn of it.

One paper stays whole and keeps its length; every cut is on the other face, the *cut face*.  A fold runs
from `start` to `end`; s is the distance to the left of that line, mm; t is the board's thickness.
`foamcut.flat.fold_lines` makes folds, `foamcut.flat.fold_checks` says which cannot be built.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Self

from shapely import Polygon

from foamcut.flat import clipping
from foamcut.flat.clipping import Run, clipped, flip
from foamcut.flat.drawn import FoldKind, Side
from foamcut.flat.outline import Point, Segment
from foamcut.flat.tolerances import PLACES

#: length of the two ticks that stand for a fold line on a cut, and the most of its length that each takes
_TICK_MM, _TICK_SHARE = 5.0, 1 / 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """A fold as worked: the panel to the left of `start` -> `end` turns by `turn_deg`.

    `band_mm` is the lowest and the highest s of what is worked, `axis_mm` the s at which the whole paper
    turns (a roll: 0, where the bend begins; it ends at `band_mm[1]`).  A strip turns by `turn_deg` there and
    by `far_turn_deg` more at `far_axis_mm`.  The runs are the lines by layer, trimmed to the part; `fold` is
    where the whole paper turns, whole length, also where it lies on a cut.
    Every run goes the way of `start` -> `end`; those of a layer stand by rising s, then along.
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
    far_axis_mm: float | None = None  # strip
    far_turn_deg: float | None = None  # strip
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
        """What is drawn of where the whole paper turns: the line, or two end ticks where it lies on a cut.

        Only a groove has a line of its own there, wraps and strips have ticks; a score, a roll and a hinge
        turn at their cut, which says it.
        """
        if self.kind is FoldKind.GROOVE:
            return self.fold
        if self.kind in (FoldKind.WRAP, FoldKind.STRIP):
            return tuple(tick for run in self.fold for tick in _end_ticks(run))
        return ()

    def cut_runs(self) -> tuple[Run, ...]:
        """Every line that is cut, whatever its layer."""
        return (*self.half, *self.groove, *self.lift, *self.bevel)

    def trimmed(self, region: Polygon) -> Self | None:
        """The fold within a region (a section of the part); None when nothing of it lies there."""
        left = replace(
            self,
            half=clipped(self.half, region),
            groove=clipped(self.groove, region),
            lift=clipped(self.lift, region),
            bevel=clipped(self.bevel, region),
            fold=clipped(self.fold, region),
        )
        return left if left.cut_runs() or left.fold else None

    def mirrored(self) -> Self:
        """The fold on the mirror-image part, y -> -y: the line runs the other way, left stays left."""
        start, end = flip(self.end), flip(self.start)

        def image(runs: Iterable[Run]) -> tuple[Run, ...]:
            return in_order((_backwards(run) for run in clipping.mirrored(runs)), start, end)

        return replace(
            self,
            start=start,
            end=end,
            half=image(self.half),
            groove=image(self.groove),
            lift=image(self.lift),
            bevel=image(self.bevel),
            fold=image(self.fold),
        )


def in_order(runs: Iterable[Run], start: Point, end: Point) -> tuple[Run, ...]:
    """Runs along start -> end by their distance to the left of it, then along it; both to the nanometre."""
    length = math.dist(start, end)
    dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length

    def place(run: Run) -> tuple[float, float]:
        x, y = run[0].start[0] - start[0], run[0].start[1] - start[1]
        return round(dx * y - dy * x, PLACES) + 0.0, round(dx * x + dy * y, PLACES) + 0.0

    return tuple(sorted(runs, key=place))


def _backwards(run: Run) -> Run:
    return tuple(Segment(s.end, s.start, 0.0 - s.bulge) for s in reversed(run))


def _end_ticks(run: Run) -> tuple[Run, Run]:
    (x0, y0), (x1, y1) = run[0].start, run[-1].end
    length = math.dist((x0, y0), (x1, y1))
    share = min(_TICK_MM / length, _TICK_SHARE)
    first = (x0 + share * (x1 - x0), y0 + share * (y1 - y0))
    last = (x1 - share * (x1 - x0), y1 - share * (y1 - y0))
    return (Segment((x0, y0), first),), (Segment(last, (x1, y1)),)
