"""Corners that folds would close: two edges that start at one corner of the flat part, as those of a tray.

mm, degrees.  Both panels hang on one between them.  A turn of a panel sweeps its edge round the fold; where
the cones that the two edges sweep meet, there is a turn for each that brings them together.  Panels turned
nearly so far were meant to meet, however wide they gape; those of a funnel or a lip were not.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import FoldKind
from foamcut.flat.folded_body import Body, Edge
from foamcut.flat.folds import Fold
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import CORNER_THICKNESSES, CORNER_TURN_DEG, PARALLEL

#: folds that leave no corner open by themselves
CLOSED = (FoldKind.GROOVE, FoldKind.WRAP)
#: the panels beside a corner lean to each other by no more, or no mitre could be cut
_SHARPEST_DEG = 140.0
#: whether either of two edges is gone from its end back
_EITHER_END = ((False, False), (False, True), (True, False), (True, True))


class Corner(NamedTuple):
    """By how much each of two folds would have to turn to close a corner; folds as indexes of the part's."""

    folds: tuple[int, int]
    turns_deg: tuple[float, float]


class _Side(NamedTuple):
    """One side of a corner: its fold, and the directions of fold and edge away from the corner."""

    fold: int
    along: Point
    edge: Point


def corner(one: Edge, other: Edge, between: Sequence[Body]) -> Corner | None:
    """The corner at which two edges start, if it was meant to be closed; `between`: panels beside both."""
    lean = min(one.body.lean_deg(other.body), _SHARPEST_DEG)
    reach = one.body.part.thickness_mm * (CORNER_THICKNESSES + math.tan(math.radians(lean) / 2))
    starts = min(_EITHER_END, key=lambda ends: math.dist(*_from(one, other, ends)))
    if math.dist(*_from(one, other, starts)) > reach:
        return None
    for panel in between:
        sides = [_side(edge, back, panel, reach) for edge, back in zip((one, other), starts, strict=True)]
        first, second = sides
        if first is not None and second is not None and (found := _closing(first, second, one.body)):
            return found
    return None


def _from(one: Edge, other: Edge, ends: tuple[bool, bool]) -> tuple[Point, Point]:
    a, b = (edge.end if back else edge.start for edge, back in zip((one, other), ends, strict=True))
    return a, b


def _side(edge: Edge, back: bool, panel: Body, reach: float) -> _Side | None:
    """An edge that starts near an end of the one closed fold between its panel and another; else None."""
    shared = edge.body.shared_folds(panel)
    if len(shared) != 1:
        return None
    fold = edge.body.part.folds[shared[0]]
    if fold.kind not in CLOSED:
        return None
    start, end = (edge.end, edge.start) if back else (edge.start, edge.end)
    ways = [(points[0], points[-1]) for points in map(run_points, fold.fold)]
    ways += [(b, a) for a, b in ways]
    near = min(ways, key=lambda way: math.dist(way[0], start))
    if math.dist(near[0], start) > reach:
        return None
    return _Side(shared[0], _unit(*near), _unit(start, end))


def _unit(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _closing(a: _Side, b: _Side, body: Body) -> Corner | None:
    """The turns at which two edges meet; None where there are none, or none near the folds' own turns.

    Method: the unit vector that makes with either fold the angle that its edge makes with it.
    """
    folds: list[Fold] = [body.part.folds[side.fold] for side in (a, b)]
    if a.fold == b.fold or folds[0].rises != folds[1].rises:
        return None
    with_a, with_b, between = _dot(a.edge, a.along), _dot(b.edge, b.along), _dot(a.along, b.along)
    square = 1 - between * between
    if square <= PARALLEL:
        return None
    of_a, of_b = (with_a - with_b * between) / square, (with_b - with_a * between) / square
    flat = (of_a * a.along[0] + of_b * b.along[0], of_a * a.along[1] + of_b * b.along[1])
    if _dot(flat, flat) >= 1:
        return None
    turns = tuple(_turn_deg(side, flat) for side in (a, b))
    off = max(abs(turn - fold.turn_deg) for turn, fold in zip(turns, folds, strict=True))
    return Corner((a.fold, b.fold), (turns[0], turns[1])) if off <= CORNER_TURN_DEG else None


def _turn_deg(side: _Side, flat: Point) -> float:
    """The turn about a fold from its edge, flat, to a unit vector whose shadow on the flat part is `flat`."""
    share = _dot(side.edge, side.along)
    across = side.edge[0] - share * side.along[0], side.edge[1] - share * side.along[1]
    rim = _dot(across, across)
    if rim <= PARALLEL:
        return math.inf
    return math.degrees(math.acos(min(1.0, max(-1.0, _dot(across, flat) / rim))))


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]
