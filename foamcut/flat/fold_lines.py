"""The lines of a fold: at which distances from the drawn line they lie, and from where to where they run.

s is the distance to the left of the drawn line, u the way along it from its start; mm.  Every line runs
from edge to edge of the part, and only where the fold crosses it: a line does not turn up in an arm of
the part that the drawn line does not reach, nor beyond another fold.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely import LineString, Polygon

from foamcut.flat.clipping import Run, run_points
from foamcut.flat.drawn import DrawnFold, FoldKind
from foamcut.flat.fold_table import table
from foamcut.flat.folds import Fold
from foamcut.flat.frame import Frame, Stretch, across, parted, reach
from foamcut.flat.outline import Point, Segment
from foamcut.flat.tolerances import ON_EDGE_MM, ROUNDING_MM, SAME_POINT_MM

#: half the width of the slit that keeps what lies on either side of another fold apart
_SLIT_MM = SAME_POINT_MM / 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """Where a fold crosses its part: `runs` of the drawn line, and the worked band by its pieces.

    `band` holds the strip between the lowest and the highest line, a point's width wider on both sides.
    `squares` are drawn ends at a corner of the outline beyond which the board goes on: the strip ends
    square there, unless another fold bounds it.
    """

    frame: Frame
    runs: tuple[Stretch, ...]
    band: tuple[Polygon, ...]
    squares: tuple[float, ...] = ()

    def holds(self, u: float, s: float) -> bool:
        """Whether a place lies in the worked band."""
        point = shapely.Point(self.frame.at(u, s))
        return any(piece.covers(point) for piece in self.band)


def fold_of(
    drawn: DrawnFold, thickness_mm: float, region: Polygon | None = None, beside: Sequence[Fold] = ()
) -> Fold:
    """The fold as worked, its lines trimmed to a region (the part).

    Without a region the lines go from `start` to `end` as drawn.  `beside` are folds that end at the same
    corner of the part: no line goes past where their paper turns, and bands on one panel are mitred.
    """
    lines = table(drawn, thickness_mm)
    frame = Frame(drawn.start, drawn.end)
    found = None if region is None else crossing(drawn, thickness_mm, region, beside)

    def stretches(s: float) -> list[Stretch]:
        if region is None or found is None:
            return [(0.0, frame.length)]
        return line_at(found, s, region, beside, axis=lines.axis, mitred=s not in lines.axes)

    def runs(distances: Iterable[float]) -> tuple[Run, ...]:
        return tuple(
            (Segment(frame.at(u0, s), frame.at(u1, s)),) for s in distances for u0, u1 in stretches(s)
        )

    return Fold(
        key=drawn.key,
        kind=drawn.kind,
        side=drawn.side,
        start=drawn.start,
        end=drawn.end,
        turn_deg=drawn.turn_deg,
        thickness_mm=thickness_mm,
        band_mm=lines.band,
        axis_mm=lines.axis,
        far_axis_mm=lines.far_axis,
        far_turn_deg=_far_turn_deg(drawn),
        radius_mm=drawn.radius_mm,
        half=runs(lines.half),
        groove=runs(lines.groove),
        lift=runs(lines.lift),
        bevel=runs(lines.bevel),
        fold=runs(lines.axes),
    )


def _far_turn_deg(drawn: DrawnFold) -> float | None:
    """By how much the paper turns at the far edge of a strip."""
    if drawn.kind is not FoldKind.STRIP:
        return None
    return drawn.turn_deg if drawn.far_turn_deg is None else drawn.far_turn_deg


def crossing(drawn: DrawnFold, thickness_mm: float, region: Polygon, beside: Sequence[Fold] = ()) -> Crossing:
    """Where a fold crosses a region: the stretches of its line, and the pieces of its band about them."""
    low, high = table(drawn, thickness_mm).band
    frame = Frame(drawn.start, drawn.end)
    whole = across(frame, 0.0, region)
    stops = _stops(frame, whole, region)
    runs = tuple(
        (u0, u1)
        for stretch in whole
        for u0, u1 in pairwise(parted(stretch, [*_turns_met(frame, stretch, beside), *stops]))
        if min(u1, frame.length) - max(u0, 0.0) > ON_EDGE_MM
    )
    first, last = reach(frame, region)
    corners = [(first, low), (last, low), (last, high), (first, high)]
    wider = (-SAME_POINT_MM, -SAME_POINT_MM, SAME_POINT_MM, SAME_POINT_MM)
    strip = Polygon([frame.at(u, s + more) for (u, s), more in zip(corners, wider, strict=True)])
    squares = tuple(u for u in stops if not _ends_there(frame.at(u, 0.0), beside))
    across_band = [LineString([frame.at(u, low - 1.0), frame.at(u, high + 1.0)]) for u in squares]
    turns = [LineString(run_points(run)) for fold in beside for run in fold.fold]
    slits = shapely.union_all([line.buffer(_SLIT_MM, cap_style="square") for line in (*across_band, *turns)])
    pieces = shapely.get_parts(region.intersection(strip).difference(slits))
    lines = [LineString([frame.at(u0, 0.0), frame.at(u1, 0.0)]) for u0, u1 in runs]
    band = tuple(
        piece
        for piece in pieces
        if isinstance(piece, Polygon)
        and any(piece.intersection(line).length > SAME_POINT_MM for line in lines)
    )
    return Crossing(frame=frame, runs=runs, band=band, squares=squares)


def line_at(
    found: Crossing, s: float, region: Polygon, beside: Sequence[Fold] = (), *, axis: float, mitred: bool
) -> list[Stretch]:
    """The stretches of one line of a fold in its band, mitred: outside the bands of folds beside it.

    `axis` is the s at which the paper of the fold turns.
    """
    stretches: list[Stretch] = []
    for u0, u1 in across(found.frame, s, region):
        cuts = [*_met(found.frame, s, (u0, u1), beside), *found.squares]
        if s == 0:
            cuts += [u for run in found.runs for u in run]
        for a, b in pairwise(parted((u0, u1), cuts)):
            middle = (a + b) / 2
            if b - a <= SAME_POINT_MM or not found.holds(middle, s):
                continue
            if s == 0 and not any(first < middle < last for first, last in found.runs):
                continue
            if mitred and _in_band(found.frame, (middle, s), axis, beside):
                continue
            if stretches and stretches[-1][1] == a:
                a = stretches.pop()[0]
            stretches.append((a, b))
    return stretches


def _stops(frame: Frame, stretches: Sequence[Stretch], region: Polygon) -> list[float]:
    """Drawn ends on the outline at which the endless line does not leave the board: at its reflex corners."""
    return [
        u
        for u, at in ((0.0, frame.start), (frame.length, frame.end))
        if region.boundary.distance(shapely.Point(at)) <= SAME_POINT_MM
        and any(u0 + ON_EDGE_MM < u < u1 - ON_EDGE_MM for u0, u1 in stretches)
    ]


def _ends_there(point: Point, beside: Sequence[Fold]) -> bool:
    """Whether the paper of another fold turns up to a point."""
    place = shapely.Point(point)
    return any(
        LineString(run_points(run)).distance(place) <= ON_EDGE_MM for fold in beside for run in fold.fold
    )


def _met(frame: Frame, s: float, stretch: Stretch, beside: Sequence[Fold]) -> list[float]:
    """The u at which the line at s crosses the edges and axes of other folds' bands."""
    met: list[float] = []
    (px, py), (dx, dy) = frame.at(0.0, s), frame.along
    for fold in beside:
        other = Frame(fold.start, fold.end)
        ex, ey = other.along
        cross = dx * ey - dy * ex
        if abs(cross) <= ROUNDING_MM:
            continue
        for distance in sorted({*fold.band_mm, fold.axis_mm}):
            qx, qy = other.at(0.0, distance)
            u = ((qx - px) * ey - (qy - py) * ex) / cross
            if stretch[0] < u < stretch[1]:
                met.append(u)
    return met


def _turns_met(frame: Frame, stretch: Stretch, beside: Sequence[Fold]) -> list[float]:
    """The u at which the drawn line crosses where the paper of other folds turns."""
    low, high = stretch
    line = LineString([frame.at(low, 0.0), frame.at(high, 0.0)])
    met: list[float] = []
    for fold in beside:
        for run in fold.fold:
            u, _ = frame.us(shapely.get_coordinates(line.intersection(LineString(run_points(run)))))
            met += [float(at) for at in u if low + SAME_POINT_MM < at < high - SAME_POINT_MM]
    return met


def _in_band(frame: Frame, place: Stretch, axis: float, beside: Sequence[Fold]) -> bool:
    """Whether a place (u, s) lies between the outer lines of another fold, along it and on its side.

    Its side is that of the line, at s = `axis`, beyond which the other fold does not go.
    """
    point = np.array([frame.at(*place)])
    for fold in beside:
        other = Frame(fold.start, fold.end)
        u, s = other.us(point)
        if not fold.band_mm[0] < s[0] < fold.band_mm[1]:
            continue
        for run in fold.fold:
            ends = np.array([run[0].start, run[-1].end])
            first, last = other.us(ends)[0]
            _, sides = frame.us(ends)
            same_side = place[1] == axis or (float(sides.mean()) > axis) == (place[1] > axis)
            if same_side and first < u[0] < last:
                return True
    return False
