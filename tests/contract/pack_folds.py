"""The lines that folds put on a part, from the design's own words and the table of the contract.

Everything is worked out in the part's coordinates: s is the distance to the left of the drawn line, u the way
along it.  A line runs from edge to edge of the part; where the board goes on beyond a drawn end that lies on the
outline it ends square there; at another fold's band it is mitred with the line of that band.
"""

import itertools
import math
from dataclasses import dataclass

import numpy as np
import shapely
from pack_drawn import DrawnFold, DrawnPart
from shapely import LineString, Polygon

_REACH_MM = 2e4
_SAME_MM = 1e-3
_PROBE_MM = 0.05
TICK_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """A line that must be drawn: its layer without BACK, its stretches, whether on the face behind."""

    layer: str
    line: shapely.Geometry
    down: bool
    what: str
    ticks: bool = False  # drawn as two end ticks in every piece
    rises: bool = True  # of FOLD: towards the drawn face


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """The distances s of one fold's lines, by layer, where the paper turns, and the band that is worked.

    `far` is the second line at which the paper of a strip turns.
    """

    cuts: dict[str, tuple[float, ...]]
    axis: float
    drawn_as: str  # line | ticks | cut
    far: float | None = None

    @property
    def turns(self) -> tuple[float, ...]:
        """Return every s at which the paper turns."""
        return (self.axis,) if self.far is None else (self.axis, self.far)

    @property
    def band(self) -> tuple[float, float]:
        """Return the lowest and highest s."""
        every = [s for places in self.cuts.values() for s in places] + [0.0]
        return min(every), max(every)


def table_of(fold: DrawnFold, board_mm: float) -> Table:
    """Return the row of the contract's table for a fold; raises ValueError for a kind that it lacks."""
    turn = math.radians(fold.turn_deg)
    if fold.kind == "score":
        return Table(cuts={"HALF": (0.0,)}, axis=0.0, drawn_as="cut")
    if fold.kind == "groove":
        mouth = 2 * board_mm * math.tan((turn + math.radians(fold.extra_deg)) / 2)
        return Table(cuts={"GROOVE": (-mouth / 2, mouth / 2)}, axis=0.0, drawn_as="line")
    if fold.kind == "wrap":
        width = fold.lands_mm
        return Table(cuts={"LIFT": (0.0, width)}, axis=0.0 if fold.near else width, drawn_as="ticks")
    if fold.kind == "strip":  # the paper is whole over the band and turns where the foam ends, on both sides
        return Table(cuts={"LIFT": (0.0, fold.band_mm)}, axis=0.0, drawn_as="ticks", far=fold.band_mm)
    if fold.kind == "roll":
        bend = fold.radius_mm * turn
        count = math.ceil(bend / fold.every_mm - 1e-9)
        places = tuple(bend * at / count for at in range(count + 1))
        return Table(cuts={"HALF": places}, axis=0.0, drawn_as="cut")
    if fold.kind == "hinge":
        slope = board_mm * math.tan(math.radians(fold.bevel_deg))
        cuts = {"HALF": (0.0,)} | ({"BEVEL": (slope,)} if slope > 0 else {})
        return Table(cuts=cuts, axis=0.0, drawn_as="cut")
    raise ValueError(f"no fold is a {fold.kind}")


class Frame:
    """s and u of a fold's drawn line."""

    def __init__(self, fold: DrawnFold) -> None:
        self.origin = np.array(fold.start)
        along = np.array(fold.end) - self.origin
        self.length = float(np.hypot(*along))
        self.along = along / self.length
        self.left = np.array((-self.along[1], self.along[0])) * fold.hand

    def at(self, u: float, s: float) -> tuple[float, float]:
        """Return the point at u and s."""
        x, y = self.origin + u * self.along + s * self.left
        return float(x), float(y)

    def u(self, points: np.ndarray) -> np.ndarray:
        """Return the way along of (n, 2) points."""
        return (points - self.origin) @ self.along

    def s(self, points: np.ndarray) -> np.ndarray:
        """Return the distance to the left of (n, 2) points."""
        return (points - self.origin) @ self.left

    def line(self, s: float, u0: float = -_REACH_MM, u1: float = _REACH_MM) -> LineString:
        """Return the line at s, endless unless said otherwise."""
        return LineString([self.at(u0, s), self.at(u1, s)])

    def strip(self, low: float, high: float, u0: float, u1: float) -> Polygon:
        """Return the rectangle between two s and two u."""
        return Polygon([self.at(u0, low), self.at(u1, low), self.at(u1, high), self.at(u0, high)])

    def spans(self, shape: shapely.Geometry) -> list[tuple[float, float]]:
        """Return the stretches of u of the straight pieces of a shape that lies on a line of this frame."""
        found = []
        for part in shapely.get_parts(shape):
            if part.geom_type == "LineString":
                along = self.u(shapely.get_coordinates(part))
                found.append((float(along.min()), float(along.max())))
        return sorted(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A drawn end at a corner of the outline beyond which the board goes on: where, and on which sides.

    On a side of `edged` an edge of the outline leaves the corner, and lines of that side end at it; on the
    other they end square, or at the fold that ends at the same corner.
    """

    u: float
    last: bool
    edged: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """A fold in its part: the stretches of u over which it crosses, and the corners at which it ends."""

    frame: Frame
    table: Table
    fold: DrawnFold
    runs: tuple[tuple[float, float], ...]
    corners: tuple[Corner, ...]

    @property
    def middle(self) -> tuple[float, float]:
        """Return a point of the drawn line inside the part."""
        u0, u1 = self.runs[0]
        return self.frame.at((u0 + u1) / 2, 0.0)


def crossing_of(fold: DrawnFold, board_mm: float, part: Polygon) -> Crossing:
    """Return where a fold crosses its part."""
    frame, table = Frame(fold), table_of(fold, board_mm)
    endless = frame.spans(frame.line(0.0).intersection(part))
    runs, corners = [], []
    for u0, u1 in _merged(endless):
        low, high = u0, u1
        for end, first in ((0.0, True), (frame.length, False)):
            on_edge = part.boundary.distance(shapely.Point(frame.at(end, 0.0))) < _SAME_MM
            if on_edge and u0 + _SAME_MM < end < u1 - _SAME_MM:
                corners.append(Corner(u=end, last=not first, edged=_edged(frame, end, part)))
                low, high = (end, high) if first else (low, end)
        if min(high, frame.length) - max(low, 0.0) > 0.01:
            runs.append((low, high))
    return Crossing(frame=frame, table=table, fold=fold, runs=tuple(runs), corners=tuple(corners))


def _edged(frame: Frame, u: float, part: Polygon) -> tuple[int, ...]:
    """Return the sides, 1 left and -1 right, on which an edge of the outline leaves the corner at u."""
    ring = shapely.Point(frame.at(u, 0.0)).buffer(_PROBE_MM, quad_segs=64).exterior
    points = shapely.get_coordinates(part.boundary.intersection(ring))
    if len(points) == 0:
        return ()
    sides = frame.s(points)
    return tuple(side for side in (1, -1) if (side * sides > 0.05 * _PROBE_MM).any())


def _merged(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Join stretches that touch: the intersection may hand back a line along the outline in two."""
    joined: list[tuple[float, float]] = []
    for u0, u1 in spans:
        if joined and u0 <= joined[-1][1] + 1e-6:
            joined[-1] = (joined[-1][0], max(u1, joined[-1][1]))
        else:
            joined.append((u0, u1))
    return joined


def _stretches(own: Crossing, s: float, part: Polygon, others: list[Crossing]) -> shapely.Geometry:
    """Return where the line at s is drawn."""
    frame = own.frame
    found = []
    for u0, u1 in frame.spans(frame.line(s).intersection(part)):
        cuts = {u0, u1, *(corner.u for corner in own.corners if u0 < corner.u < u1)}
        cuts |= {u for other in others for u in _met(frame, s, other) if u0 < u < u1}
        for a, b in itertools.pairwise(sorted(cuts)):
            middle = frame.at((a + b) / 2, s)
            if b - a <= _SAME_MM or (s not in own.table.turns and _in_band(middle, others)):
                continue
            if _connected(own, (a, b), s, part) and not _beyond(own, (a, b), s, others):
                found.append(frame.line(s, a, b))
    return shapely.line_merge(shapely.union_all(found)) if found else LineString()


def _beyond(own: Crossing, stretch: tuple[float, float], s: float, others: list[Crossing]) -> bool:
    """Whether a stretch lies past a corner at which the fold ends, where no edge of the outline ends it."""
    side = 1 if s > 0 else -1
    middle = own.frame.at(sum(stretch) / 2, s)
    for corner in own.corners:
        if s != 0.0 and side in corner.edged:
            continue
        sharing = [other for other in others if _ends_at(other, own.frame.at(corner.u, 0.0))]
        if any(not _same_side(other, middle, own.middle) for other in sharing):
            return True
        past = sum(stretch) / 2 > corner.u if corner.last else sum(stretch) / 2 < corner.u
        if past and (not sharing or s == 0.0):
            return True
    return False


def _ends_at(other: Crossing, point: tuple[float, float]) -> bool:
    ends = [other.frame.at(u, s) for run in other.runs for u in run for s in other.table.turns]
    return any(math.dist(end, point) < 0.01 for end in ends)


def _same_side(other: Crossing, first: tuple[float, float], second: tuple[float, float]) -> bool:
    one, two = other.frame.s(np.array([first, second])) - other.table.axis
    return bool(one * two > 0)


def _met(frame: Frame, s: float, other: Crossing) -> list[float]:
    """Return the u at which the line at s meets the lines of another fold."""
    cross = float(frame.along[0] * other.frame.left[0] + frame.along[1] * other.frame.left[1])
    if abs(cross) < 1e-9:
        return []
    start = float(other.frame.s(np.array([frame.at(0.0, s)]))[0])
    return [(place - start) / cross for place in {*other.table.band, *other.table.turns}]


def _in_band(point: tuple[float, float], other_bands: list[Crossing]) -> bool:
    for other in other_bands:
        place = np.array([point])
        s, u = float(other.frame.s(place)[0]), float(other.frame.u(place)[0])
        low, high = other.table.band
        if low < s < high and any(u0 < u < u1 for u0, u1 in other.runs):
            return True
    return False


def _connected(own: Crossing, stretch: tuple[float, float], s: float, part: Polygon) -> bool:
    """Whether a stretch of a line belongs to what the fold crosses, not to another arm of the part."""
    frame = own.frame
    if s == 0.0:
        return any(min(run[1], stretch[1]) - max(run[0], stretch[0]) > _SAME_MM for run in own.runs)
    side = math.copysign(1.0, s)  # only what lies between the drawn line and this one joins them
    strip = frame.strip(side * 1e-5, s + side * 1e-4, -_REACH_MM, _REACH_MM)
    middle = shapely.Point(frame.at(sum(stretch) / 2, s))
    return any(
        piece.geom_type == "Polygon"
        and piece.distance(middle) < _SAME_MM
        and any(piece.intersection(frame.line(side * 2e-5, *run)).length > _SAME_MM for run in own.runs)
        for piece in shapely.get_parts(part.intersection(strip))
    )


def fold_courses(part: DrawnPart, shape: Polygon) -> list[Course]:
    """Return every line that the folds of a part put on it, trimmed to the part."""
    crossings = [crossing_of(fold, part.thickness_mm, shape) for fold in part.folds]
    courses: list[Course] = []
    for number, own in enumerate(crossings):
        others = [other for at, other in enumerate(crossings) if at != number]
        fold = own.fold
        what = f"{fold.kind} {number + 1}"
        for layer, places in own.table.cuts.items():
            for s in places:
                line = _stretches(own, s, shape, others)
                courses.append(Course(layer=layer, line=line, down=fold.down, what=f"{what} at s = {s:.3f}"))
        for s in () if own.table.drawn_as == "cut" else own.table.turns:
            courses.append(
                Course(
                    layer="FOLD",
                    line=_stretches(own, s, shape, others),
                    down=fold.down,
                    what=f"where the paper of {what} turns",
                    ticks=own.table.drawn_as == "ticks",
                    rises=not fold.down,
                )
            )
    return courses


def fold_bands(part: DrawnPart, shape: Polygon) -> list[Polygon]:
    """Return what is worked of the board at each fold, at least a thin strip along its line."""
    bands = []
    for fold in part.folds:
        own = crossing_of(fold, part.thickness_mm, shape)
        low, high = own.table.band
        for u0, u1 in own.runs:
            bands.append(own.frame.strip(low - 1e-6, high + 1e-6, u0, u1).intersection(shape))
    return bands
