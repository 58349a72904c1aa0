"""The lines of a fold: at which distances from the drawn line they lie, and from where to where they run.

s is the distance to the left of the drawn line, u the way along it from its start; mm.  Every line runs
from edge to edge of the part, and only where the fold crosses it: a line does not turn up in an arm of
the part that the drawn line does not reach, nor beyond another fold.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import shapely
from shapely import LineString, Polygon

from foamcut.flat.clipping import Run, run_points
from foamcut.flat.drawn import DrawnFold, FoldAt, FoldKind
from foamcut.flat.folds import Fold
from foamcut.flat.outline import Point, Segment
from foamcut.flat.tolerances import ON_EDGE_MM, ROUNDING_MM, SAME_POINT_MM

Stretch = tuple[float, float]  # from u to u

#: half the width of the slit that keeps what lies on either side of another fold apart
_SLIT_MM = SAME_POINT_MM / 10


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Where the lines of a fold lie, as s, by layer; `axis` is where the whole paper turns."""

    band: tuple[float, float]
    axis: float
    half: tuple[float, ...] = ()
    groove: tuple[float, ...] = ()
    lift: tuple[float, ...] = ()
    bevel: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """Where a fold crosses its part: `runs` of the drawn line, and the worked band by its pieces.

    `band` holds the strip between the lowest and the highest line, a point's width wider on both sides.
    `squares` are drawn ends at a corner of the outline beyond which the board goes on: the strip ends
    square there, unless another fold bounds it.
    """

    frame: "Frame"
    runs: tuple[Stretch, ...]
    band: tuple[Polygon, ...]
    squares: tuple[float, ...] = ()

    def holds(self, u: float, s: float) -> bool:
        """Whether a place lies in the worked band."""
        point = shapely.Point(self.frame.at(u, s))
        return any(piece.covers(point) for piece in self.band)


@dataclass(frozen=True, slots=True)
class Frame:
    """The line a fold is drawn on: u along it from its start, s to its left."""

    start: Point
    end: Point
    length: float = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "length", math.dist(self.start, self.end))

    @property
    def along(self) -> Point:
        """Unit vector along the line."""
        return (self.end[0] - self.start[0]) / self.length, (self.end[1] - self.start[1]) / self.length

    def at(self, u: float, s: float) -> Point:
        """The point of the part at u and s."""
        dx, dy = self.along
        return self.start[0] + u * dx - s * dy, self.start[1] + u * dy + s * dx

    def us(self, points: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """u and s of an (n, 2) array of points."""
        dx, dy = self.along
        x, y = points[:, 0] - self.start[0], points[:, 1] - self.start[1]
        return x * dx + y * dy, y * dx - x * dy


def table(drawn: DrawnFold, thickness_mm: float) -> Table:
    """At which s the lines of a fold lie.

    Source: plane geometry of a board whose far paper keeps its length; the mouth of a groove is
    2 t tan(angle / 2), the outer paper of a roll is R times its turn in radians long.
    """
    t = thickness_mm
    if drawn.kind is FoldKind.GROOVE:
        side = t * math.tan(math.radians(drawn.turn_deg + drawn.groove_extra_deg) / 2)
        return Table(band=(-side, side), axis=0.0, groove=(-side, side))
    if drawn.kind is FoldKind.WRAP:
        w = t if drawn.lands_thickness_mm is None else drawn.lands_thickness_mm
        return Table(band=(0.0, w), axis=w if drawn.fold_at is FoldAt.FAR else 0.0, lift=(0.0, w))
    if drawn.kind is FoldKind.ROLL:
        b = (drawn.radius_mm or 0.0) * math.radians(drawn.turn_deg)
        count = roll_gaps(b, drawn.every_mm or t)
        return Table(band=(0.0, b), axis=0.0, half=tuple(b * i / count for i in range(count + 1)))
    if drawn.kind is FoldKind.HINGE:
        off = t * math.tan(math.radians(drawn.bevel_deg))
        return Table(band=(0.0, off), axis=0.0, half=(0.0,), bevel=(off,) if off > SAME_POINT_MM else ())
    return Table(band=(0.0, 0.0), axis=0.0, half=(0.0,))


def roll_gaps(length_mm: float, every_mm: float) -> int:
    """How many equal gaps between the lines of a roll keep within `every_mm`."""
    return max(1, math.ceil(length_mm / every_mm - ROUNDING_MM))


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
        return line_at(found, s, region, beside, axis=lines.axis, mitred=s != lines.axis)

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
        radius_mm=drawn.radius_mm,
        half=runs(lines.half),
        groove=runs(lines.groove),
        lift=runs(lines.lift),
        bevel=runs(lines.bevel),
        fold=runs((lines.axis,)),
    )


def crossing(drawn: DrawnFold, thickness_mm: float, region: Polygon, beside: Sequence[Fold] = ()) -> Crossing:
    """Where a fold crosses a region: the stretches of its line, and the pieces of its band about them."""
    low, high = table(drawn, thickness_mm).band
    frame = Frame(drawn.start, drawn.end)
    whole = across(frame, 0.0, region)
    stops = _stops(frame, whole, region)
    runs = tuple(
        (u0, u1)
        for stretch in whole
        for u0, u1 in pairwise(_parted(stretch, [*_turns_met(frame, stretch, beside), *stops]))
        if min(u1, frame.length) - max(u0, 0.0) > ON_EDGE_MM
    )
    first, last = _reach(frame, region)
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
        for a, b in pairwise(_parted((u0, u1), cuts)):
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


def across(frame: Frame, s: float, region: Polygon) -> list[Stretch]:
    """From where to where the endless line at s lies inside a region, edge to edge, by rising u.

    Stretches along an edge of the region are left out: there the outline is cut already.
    """
    first, last = _reach(frame, region)
    line = LineString([frame.at(first, s), frame.at(last, s)])
    inside: list[Stretch] = []
    for part in shapely.get_parts(line.intersection(region)):
        if isinstance(part, LineString) and part.length:
            u, _ = frame.us(shapely.get_coordinates(part))
            inside.append((float(u.min()), float(u.max())))
    inside = _joined(sorted(inside))
    for edge in _edges_on(frame, s, region):
        inside = [left for stretch in inside for left in _without(stretch, edge)]
    return [(u0, u1) for u0, u1 in inside if u1 - u0 > SAME_POINT_MM]


def _parted(stretch: Stretch, cuts: Iterable[float]) -> list[float]:
    """The ends of a stretch and what of the cuts lies between them, by rising u."""
    u0, u1 = stretch
    return [u0, *sorted({u for u in cuts if u0 < u < u1}), u1]


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


def _reach(frame: Frame, region: Polygon) -> Stretch:
    """The u of the whole region, and a little more."""
    u, _ = frame.us(shapely.get_coordinates(region))
    return float(u.min()) - 1.0, float(u.max()) + 1.0


def _joined(stretches: Sequence[Stretch]) -> list[Stretch]:
    """Stretches that only a point parts, put together: the line touches a corner of the outline there."""
    joined: list[Stretch] = []
    for u0, u1 in stretches:
        if joined and u0 - joined[-1][1] <= ROUNDING_MM:
            u0, u1 = joined[-1][0], max(u1, joined.pop()[1])
        joined.append((u0, u1))
    return joined


def _edges_on(frame: Frame, s: float, region: Polygon) -> list[Stretch]:
    """The edges of a region that lie on the line at s."""
    found: list[Stretch] = []
    for ring in (region.exterior, *region.interiors):
        u, off = frame.us(shapely.get_coordinates(ring))
        on = np.abs(off - s) <= SAME_POINT_MM
        for i in np.flatnonzero(on[:-1] & on[1:]).tolist():
            found.append((float(min(u[i], u[i + 1])), float(max(u[i], u[i + 1]))))
    return found


def _without(stretch: Stretch, edge: Stretch) -> list[Stretch]:
    (u0, u1), (e0, e1) = stretch, edge
    if e1 <= u0 or e0 >= u1:
        return [stretch]
    return [(a, b) for a, b in ((u0, e0), (e1, u1)) if b > a]


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
