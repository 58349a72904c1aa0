"""A line as it is ruled: corners to join with a straight edge, and arcs to strike with a compass.

mm, any coordinates.  Curves become as few corners as keep the straight lines between them near enough.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from shapely import LineString

from foamcut.flat.outline import Point, Segment

#: arcs of one circle have middles and radii as near as this, mm
_SAME_MM = 1e-3
#: a compass or a strip with two holes reaches from so far to so far, mm
_COMPASS_MM = (1.0, 300.0)
#: a curve is followed this closely before corners are left out, mm
_CHORD_MM = 0.02
_WHOLE_RAD = 2 * math.pi - 1e-6


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc from one corner to the next; `left`: it turns left (counter-clockwise) on the way."""

    centre: Point
    radius: float
    left: bool


@dataclass(frozen=True, slots=True)
class Trace:
    """Corners in turn, and the arcs that lead on from some, by their index; the rest is straight.

    A circle has no corner and one arc, 0.  A `closed` one comes back to its first corner.
    """

    corners: tuple[Point, ...]
    arcs: dict[int, Arc]
    closed: bool

    @property
    def circle(self) -> Arc | None:
        """The circle that this is, if it is one."""
        return None if self.corners else self.arcs.get(0)

    def sides(self) -> Iterator[tuple[int, int]]:
        """The straight lines, as the indexes of their two corners."""
        count = len(self.corners)
        for i in range(count if self.closed else count - 1):
            if i not in self.arcs:
                yield i, (i + 1) % count


@dataclass(frozen=True, slots=True)
class _Bow:
    """Arcs of one circle put together."""

    start: Point
    end: Point
    arc: Arc
    swept_rad: float
    segments: tuple[Segment, ...]


def traced(
    segments: Sequence[Segment], *, closed: bool, off_mm: float, reachable: Callable[[Point], bool]
) -> Trace:
    """The segments as corners and arcs, within `off_mm` of the line.

    `reachable` says whether a compass can stand at a point; where it cannot, or where the radius is too
    small or too large for one, an arc is a curve like others.
    """
    pieces: list[_Bow | list[Point]] = []
    for bow in _bows(segments, closed):
        if isinstance(bow, _Bow) and bow.swept_rad >= _WHOLE_RAD:
            return Trace((), {0: bow.arc}, closed=True)
        if isinstance(bow, _Bow) and _struck(bow, off_mm, reachable):
            pieces.append(bow)
            continue
        run = bow.segments if isinstance(bow, _Bow) else (bow,)
        if not pieces or isinstance(pieces[-1], _Bow):
            pieces.append([run[0].start])
        for segment in run:
            pieces[-1].extend(segment.points(_CHORD_MM))  # type: ignore[union-attr]
    return _joined(pieces, closed, off_mm)


def _struck(bow: _Bow, off_mm: float, reachable: Callable[[Point], bool]) -> bool:
    least, most = _COMPASS_MM
    sagitta = bow.arc.radius * (1 - math.cos(min(math.pi, bow.swept_rad / 2)))
    return least <= bow.arc.radius <= most and sagitta > off_mm and reachable(bow.arc.centre)


def _joined(pieces: Sequence[_Bow | list[Point]], closed: bool, off_mm: float) -> Trace:
    corners: list[Point] = []
    arcs: dict[int, Arc] = {}
    for piece in pieces:
        if isinstance(piece, _Bow):
            arcs[len(corners)] = piece.arc
            corners.append(piece.start)
        else:
            corners += _fewer(piece, off_mm)[:-1]
    if not closed:
        last = pieces[-1]
        corners.append(last.end if isinstance(last, _Bow) else last[-1])
    return Trace(tuple(corners), arcs, closed)


def _fewer(points: Sequence[Point], off_mm: float) -> list[Point]:
    """Both ends and as few points between as stay within `off_mm` (Douglas and Peucker, 1973)."""
    if len(points) < 3:
        return list(points)
    kept = [(x, y) for x, y in LineString(points).simplify(off_mm, preserve_topology=False).coords]
    # a closed line needs three corners, however small it is
    return kept if points[0] != points[-1] or len(kept) > 3 else list(points)


def _bows(segments: Sequence[Segment], closed: bool) -> Iterator[_Bow | Segment]:
    """Straight segments one by one, arcs of one circle in a row as one."""
    keys = [_circle_of(segment) for segment in segments]
    first = 0
    if closed and len(segments) > 1:
        # begin where a line or another arc begins, so that no arc is parted by the start of the ring
        first = next((i for i in range(len(keys)) if keys[i] is None or keys[i] != keys[i - 1]), 0)
    turned = [*segments[first:], *segments[:first]]
    for key, group in groupby(turned, key=_circle_of):
        run = tuple(group)
        if key is None:
            yield from run
        else:
            yield _bow(run)


def _bow(run: tuple[Segment, ...]) -> _Bow:
    longest = max(run, key=lambda s: round(abs(s.bulge) * 1e6))
    swept = math.radians(sum(abs(segment.included_deg) for segment in run))
    arc = Arc(longest.centre, longest.radius, longest.bulge > 0)
    return _Bow(run[0].start, run[-1].end, arc, swept, run)


def _circle_of(segment: Segment) -> tuple[int, int, int, bool] | None:
    """Which circle an arc lies on, and which way it turns; None for a line."""
    if not segment.bulge:
        return None
    values = (*segment.centre, segment.radius)
    x, y, radius = (round(value / _SAME_MM) for value in values)
    return x, y, radius, segment.bulge > 0
