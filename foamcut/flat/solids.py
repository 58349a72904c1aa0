"""Folded panels as solid bodies: board with its real thickness, the slopes of grooves and bevels taken off.

mm.  Bodies are those of manifold3d, a general library for operations on closed meshes.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely
from shapely import LineString, Polygon

from foamcut.flat.bevels import Bevel
from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import FoldKind, Side
from foamcut.flat.folds import Fold
from foamcut.flat.frame import Frame
from foamcut.flat.outline import Point
from foamcut.flat.panels import Panel
from foamcut.flat.part import Part
from foamcut.flat.tolerances import ON_EDGE_MM, SAME_POINT_MM

if TYPE_CHECKING:
    from manifold3d import Manifold

#: how thick the paper of a strip stands: as that of most boards (from memory), so that it can be seen
PAPER_MM = 0.3
#: a tool that takes a slope off reaches this far out of the board, mm
_OVER_MM = 1.0
#: and this many times its width past the ends of its edge, so that two slopes meet in a mitre
_PAST = 3.0


class _Slope(NamedTuple):
    """What is taken off along an edge: from start to end, the section as (distance to the left, z) points.

    `side`: 1 where the panel lies to the left of the edge, -1 to the right.
    """

    start: Point
    end: Point
    section: tuple[Point, ...]
    width_mm: float
    side: float


def solid(part: Part, panel: Panel) -> "Manifold":
    """The panel in its pose, with all that folds and bevels take off it; a wrap's bare paper is left out.

    That of a strip is a skin of `PAPER_MM`.
    """
    body = flat_solid(part, panel)
    return body.transform(panel.pose.matrix[:3, :])


def flat_solid(part: Part, panel: Panel) -> "Manifold":
    """The panel where it lies flat: drawn face at z = 0."""
    from manifold3d import CrossSection, FillRule, Manifold

    rings = [np.array(ring[:-1]) for ring in panel.outline.rings()]
    whole = CrossSection(rings, FillRule.EvenOdd)
    if panel.of_strip is not None:
        paper = min(PAPER_MM, part.thickness_mm)
        cut_above = part.folds[panel.of_strip].side is Side.UP
        return whole.extrude(paper).translate((0.0, 0.0, -part.thickness_mm if cut_above else -paper))
    body = whole.extrude(part.thickness_mm)
    body = body.translate((0.0, 0.0, -part.thickness_mm))
    if panel.of_roll is not None:
        return body
    slopes = [*_fold_slopes(part, panel), *_bevel_slopes(part, panel)]
    taken = [_tool(slope, panel.outline.polygon) for slope in slopes]
    return body - Manifold.batch_boolean(taken, _op_add()) if taken else body


def _op_add() -> object:
    from manifold3d import OpType

    return OpType.Add


def _tool(slope: _Slope, polygon: Polygon) -> "Manifold":
    """The body that is taken off: its section drawn along the edge, past its ends where no board stands."""
    from manifold3d import CrossSection, FillRule

    frame = Frame(slope.start, slope.end)
    past = _PAST * slope.width_mm
    before = 0.0 if _stands(frame, -ON_EDGE_MM, slope.side, polygon) else past
    behind = 0.0 if _stands(frame, frame.length + ON_EDGE_MM, slope.side, polygon) else past
    prism = CrossSection([np.array(slope.section)], FillRule.NonZero).extrude(frame.length + before + behind)
    dx, dy = frame.along
    x, y = frame.at(-before, 0.0)
    # section (left, z) drawn along the edge: left -> (-dy, dx, 0), z -> z, along -> (dx, dy, 0)
    return prism.transform(np.array([[-dy, 0.0, dx, x], [dx, 0.0, dy, y], [0.0, 1.0, 0.0, 0.0]]))


def _stands(frame: Frame, u: float, side: float, polygon: Polygon) -> bool:
    """Whether board of the panel goes on past an end of the edge: there the cut ends square."""
    return bool(polygon.contains(shapely.Point(frame.at(u, side * ON_EDGE_MM / 10))))


def _fold_slopes(part: Part, panel: Panel) -> Iterator[_Slope]:
    """What the folds round a panel take off it."""
    for index in panel.folds:
        fold = part.folds[index]
        frame = Frame(fold.start, fold.end)
        for run in fold.fold:
            points = run_points(run)
            middle = frame.us(np.array([points[0], points[-1]]))[0].mean()
            for side in (1.0, -1.0):
                section = _section(fold, side)
                beside = shapely.Point(frame.at(float(middle), fold.axis_mm + side * ON_EDGE_MM))
                if section and panel.outline.polygon.covers(beside):
                    yield _along(points, section, side)


def _along(points: Sequence[Point], section: tuple[Point, ...], side: float) -> _Slope:
    """A slope along the whole paper's line: distances in the section are from there."""
    width = max(abs(s) for s, _ in section)
    return _Slope(points[0], points[-1], section, width, side)


def _section(fold: Fold, side: float) -> tuple[Point, ...]:
    """What a fold takes off the panel to its left (side 1) or right (-1), as (s from the axis, z)."""
    thickness = fold.thickness_mm
    paper, cut = (-thickness, 0.0) if fold.side is Side.UP else (0.0, -thickness)
    out = math.copysign(_OVER_MM, cut - paper)
    low, high = fold.band_mm[0] - fold.axis_mm, fold.band_mm[1] - fold.axis_mm
    reach = high if side > 0 else low
    if fold.kind in (FoldKind.GROOVE, FoldKind.HINGE) and abs(reach) > SAME_POINT_MM:
        over = reach * (thickness + _OVER_MM) / thickness
        return _turning_left((0.0, paper), (over, cut + out), (0.0, cut + out))
    if fold.kind is FoldKind.WRAP and abs(reach) > SAME_POINT_MM:
        return _turning_left((0.0, paper - out), (reach, paper - out), (reach, cut + out), (0.0, cut + out))
    return ()


def _turning_left(*points: Point) -> tuple[Point, ...]:
    """The points counter-clockwise."""
    ring = shapely.LinearRing(points)
    return points if ring.is_ccw else points[::-1]


def _bevel_slopes(part: Part, panel: Panel) -> Iterator[_Slope]:
    """What the bevels of a panel's edges take off it; a bevelled edge may run along several panels."""
    if not part.bevels:
        return
    beside = panel.outline.polygon.exterior.buffer(ON_EDGE_MM)
    shapely.prepare(beside)
    for bevel in part.bevels:
        for run in bevel.edge:
            for ends in pairwise(run_points(run)):
                line = LineString(ends)
                if not beside.intersects(line):
                    continue
                for piece in [line] if beside.covers(line) else shapely.get_parts(line.intersection(beside)):
                    if piece.length > 3 * ON_EDGE_MM:  # less is where it only crosses the panel's edge
                        start, end = shapely.get_coordinates(piece).tolist()
                        yield _bevel_slope(bevel, tuple(start), tuple(end), panel, part.thickness_mm)


def _bevel_slope(bevel: Bevel, start: Point, end: Point, panel: Panel, thickness: float) -> _Slope:
    frame = Frame(start, end)
    inside = shapely.Point(frame.at(frame.length / 2, ON_EDGE_MM))
    side = 1.0 if panel.outline.polygon.covers(inside) else -1.0
    large, small = (0.0, -thickness) if bevel.back else (-thickness, 0.0)
    out = math.copysign(_OVER_MM, small - large)
    over = side * bevel.width_mm * (thickness + _OVER_MM) / thickness
    section = _turning_left(
        (0.0, large), (over, small + out), (-side * _OVER_MM, small + out), (-side * _OVER_MM, large)
    )
    return _Slope(start, end, section, bevel.width_mm, side)
