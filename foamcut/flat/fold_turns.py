"""Where the whole paper of folds turns, and how what lies beyond is turned.

Space in mm as in `foamcut.flat.panels`; matrices are (4, 4), turn and move only, and move points of the flat
part.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from shapely import LineString

from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import FoldKind, Side
from foamcut.flat.folds import Fold
from foamcut.flat.frame import Frame
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import SAME_POINT_MM

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnLine:
    """A line at which the whole paper turns: its fold and the turn of what lies to its left.

    `turn` moves what lies to the left, in flat coordinates, as seen from what lies to the right.
    `last`: beyond it lies a panel proper, not another facet of a roll or a strip's paper; `first`: before it.
    """

    fold: int
    shape: LineString
    left: Point  # unit vector
    turn: np.ndarray = field(compare=False)
    first: bool = True
    last: bool = True


def turn_lines(index: int, fold: Fold) -> Iterator[TurnLine]:
    """The lines at which the whole paper of a fold turns; `index` is its place among the part's folds.

    Method: a turn about the line where the paper folds; a roll of outer radius R lays the paper along an arc
    of that radius, its facets touching the arc at their middles.  Paper between is bent, facets are not: with
    2 a the angle of one, neighbours are 2 R a^3 / 3 apart, and R a^2 / 2 off the panels that the roll joins.
    """
    frame = Frame(fold.start, fold.end)
    dx, dy = frame.along
    left = -dy, dx
    if fold.kind is FoldKind.STRIP:
        yield from _strip_lines(index, fold, frame, left)
        return
    if fold.kind is not FoldKind.ROLL:
        turn = _turned(fold, frame, fold.axis_mm, 0.0, math.radians(fold.turn_deg))
        for run in fold.fold:
            yield TurnLine(fold=index, shape=_long(run_points(run)), left=left, turn=turn)
        return
    # a line of the roll that lies on the part's edge is cut already and has no run
    places = sorted({0.0, fold.band_mm[1], *(_s_of(run_points(run)[0], frame) for run in fold.half)})
    places = [places[0], *(b for a, b in pairwise(places) if b - a > SAME_POINT_MM)]
    bends = _facet_turns(fold, frame, places)
    for run in fold.half:
        here = _s_of(run_points(run)[0], frame)
        at = min(range(len(places)), key=lambda i: abs(places[i] - here))
        yield TurnLine(
            fold=index, shape=_long(run_points(run)), left=left,
            turn=undone(bends[at]) @ bends[at + 1], first=at == 0, last=at == len(places) - 1,
        )  # fmt: skip


def _strip_lines(index: int, fold: Fold, frame: Frame, left: Point) -> Iterator[TurnLine]:
    """The two edges of a strip, between which its paper stays flat."""
    edges = (fold.axis_mm, fold.turn_deg), (fold.far_axis_mm or 0.0, fold.far_turn_deg or 0.0)
    turns = [_turned(fold, frame, s, 0.0, math.radians(angle)) for s, angle in edges]
    for run in fold.fold:
        here = _s_of(run_points(run)[0], frame)
        far = abs(here - edges[1][0]) < abs(here - edges[0][0])
        shape = _long(run_points(run))
        yield TurnLine(fold=index, shape=shape, left=left, turn=turns[far], first=not far, last=far)


def _facet_turns(fold: Fold, frame: Frame, places: Sequence[float]) -> list[np.ndarray]:
    """How the panel before a roll, each facet, and the panel beyond it lie, seen from the panel before."""
    radius = fold.radius_mm or 0.0
    radius = radius if fold.rises else -radius
    middles = [(a + b) / 2 for a, b in pairwise(places)]
    length = fold.band_mm[1]
    total = math.radians(fold.turn_deg)
    arcs = [*middles, length]
    return [np.eye(4), *(_turned(fold, frame, arc, radius, total * arc / length) for arc in arcs)]


def _turned(fold: Fold, frame: Frame, s_mm: float, radius_mm: float, angle_rad: float) -> np.ndarray:
    """A turn about a line parallel to the fold over the whole paper at s, `radius_mm` above it.

    With a radius, what lies at s was first moved to s = 0, over which the axis then lies: it rolls along.
    """
    dx, dy = frame.along
    paper = -fold.thickness_mm if fold.side is Side.UP else 0.0
    shift = np.eye(4)
    axis_s = s_mm
    if radius_mm:
        shift[:2, 3] = s_mm * dy, -s_mm * dx
        axis_s = 0.0
    x, y = frame.at(0.0, axis_s)
    to_axis, back = np.eye(4), np.eye(4)
    to_axis[:3, 3] = -x, -y, -(paper + radius_mm)
    back[:3, 3] = x, y, paper + radius_mm
    turn = np.eye(4)
    turn[:3, :3] = _about((dx, dy, 0.0), angle_rad if fold.rises else -angle_rad)
    return back @ turn @ to_axis @ shift


def _about(axis: Vector, angle_rad: float) -> np.ndarray:
    """The (3, 3) turn about a unit vector, by the right hand (Rodrigues' formula)."""
    x, y, z = axis
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.eye(3) + math.sin(angle_rad) * cross + (1 - math.cos(angle_rad)) * (cross @ cross)


def _s_of(point: Point, frame: Frame) -> float:
    """The distance of a point to the left of a fold's line, mm."""
    dx, dy = frame.along
    return dx * (point[1] - frame.start[1]) - dy * (point[0] - frame.start[0])


def _long(points: Sequence[Point]) -> LineString:
    """A straight run a hair longer at both ends, so that it reaches the edges that it was rounded off."""
    (x0, y0), (x1, y1) = points[0], points[-1]
    length = math.dist(points[0], points[-1])
    hx, hy = (x1 - x0) / length * SAME_POINT_MM / 10, (y1 - y0) / length * SAME_POINT_MM / 10
    return LineString([(x0 - hx, y0 - hy), (x1 + hx, y1 + hy)])


def undone(turn: np.ndarray) -> np.ndarray:
    """The move that takes a turn back: its rows and columns exchanged, which is exact."""
    back = np.eye(4)
    back[:3, :3] = turn[:3, :3].T
    back[:3, 3] = -(turn[:3, :3].T @ turn[:3, 3])
    return back
