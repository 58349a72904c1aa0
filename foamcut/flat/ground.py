"""The ground that joint lines are laid on: a part's shape, where lines may lie, how long sections may be.

Positions and lengths are whole nanometres; axis 0 is for lines at one x, axis 1 for lines at one y.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely import Polygon, box
from shapely.geometry.base import BaseGeometry

from foamcut.flat.doublers import Line, room_for_doublers
from foamcut.flat.drawn import Doubling, Hand
from foamcut.flat.fitting import Fitting, millimetres, nanometres
from foamcut.flat.joint_reach import LEAST_COVERED, reach_mm
from foamcut.flat.obstacles import Obstacle, clear_marks, obstacles
from foamcut.flat.part import Part
from foamcut.flat.tolerances import DUST_MM

#: a section is at least this much longer than a doubler, mm
LONGER_MM = 20.0
#: the nose lies along an axis when its direction is at most 60 degrees off it (cosine)
_NOSE_COSINE = 0.5

#: how exactly the reach of a slab is found, nm
_STEP = 1000

Interval = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """A part as joint lines see it.

    `nose` says for each axis where the nose is: 1 at the lower end, -1 at the higher, 0 at neither;
    `paired`: there is another hand, whose lines want room beside these.  `extra_lines`: so many more than
    the fewest are laid.  `clear` and `room`: what clear marks bar for doublers, and where these may lie;
    None where there is no such mark.
    """

    polygon: Polygon
    low: tuple[int, int]
    high: tuple[int, int]
    overlap: int
    shortest: int
    nose: tuple[int, int]
    obstacles: tuple[Obstacle, ...]
    fitting: Fitting
    paired: bool = False
    extra_lines: int = 0
    clear: BaseGeometry | None = None
    room: BaseGeometry | None = None

    @classmethod
    def of(cls, part: Part, doubling: Doubling, fitting: Fitting) -> "Ground":
        """The ground of a part."""
        x0, y0, x1, y1 = (nanometres(v) for v in part.outline.bounds)
        overlap = nanometres(doubling.overlap_mm)
        clear = shapely.union_all([shape for _, shape in clear_marks(part, doubling.inset_mm)])
        return cls(
            polygon=part.outline.polygon,
            low=(x0, y0),
            high=(x1, y1),
            overlap=overlap,
            shortest=2 * overlap + nanometres(LONGER_MM),
            nose=_nose(part),
            obstacles=obstacles(part),
            fitting=fitting,
            paired=part.hand is not Hand.NONE,
            clear=None if clear.is_empty else clear,
            room=None if clear.is_empty else room_for_doublers(part, doubling),
        )

    def length(self, axis: int) -> int:
        """The whole part's length across lines of an axis."""
        return self.high[axis] - self.low[axis]

    def blocked(self, axis: int) -> list[tuple[int, int, Obstacle]]:
        """Open intervals that no line lies in, each with what stands there."""
        found = []
        for obstacle in self.obstacles:
            if obstacle.bars[axis]:
                low, high = (nanometres(v) for v in obstacle.reach(axis))
                found.append((low - self.overlap, high + self.overlap, obstacle))
        return found

    def allowed(self, axis: int) -> list[Interval]:
        """Closed intervals that lines may lie in, lowest first."""
        barred = [(low, high) for low, high, _ in self.blocked(axis)]
        return _without((self.low[axis] + self.shortest, self.high[axis] - self.shortest), barred)

    def short(self, axis: int, at: int) -> int:
        """By how much the doublers over a line would reach less far than the overlap, for clear marks."""
        if self.clear is None or self.room is None:
            return 0
        line, overlap_mm = Line(axis, millimetres(at)), millimetres(self.overlap)
        covered, board = line.stretches(self.room), line.stretches(self.polygon)
        if sum(b - a for a, b in covered) < LEAST_COVERED * sum(b - a for a, b in board):
            return self.overlap  # it will be refused
        return self.overlap - nanometres(reach_mm(line, covered, self.clear, overlap_mm))

    def off_clear_marks(self, axis: int) -> list[int]:
        """Places one overlap off what clear marks bar, and midway between two of them; rising."""
        if self.clear is None:
            return []
        bounds = (shape.bounds for shape in shapely.get_parts(self.clear))
        spans = sorted((nanometres(b[axis]), nanometres(b[axis + 2])) for b in bounds)
        found = {at for low, high in spans for at in (low - self.overlap, high + self.overlap)}
        found |= {(high + low) // 2 for (_, high), (low, _) in pairwise(spans)}
        return sorted(found)

    def in_nose_half(self, axis: int, at: int) -> bool:
        """Whether a line lies nearer to the nose than to the tail."""
        return self.nose[axis] * (self.low[axis] + self.high[axis] - 2 * at) > 0


def _nose(part: Part) -> tuple[int, int]:
    if part.place is None:
        return 1, 0
    x, y = part.place.fore()
    return _end(x), _end(y)


def _end(fore: float) -> int:
    if abs(fore) < _NOSE_COSINE:
        return 0
    return 1 if fore < 0 else -1


def _without(whole: Interval, barred: Iterable[Interval]) -> list[Interval]:
    """What is left of a closed interval without open ones."""
    found = []
    start, end = whole
    for low, high in sorted(barred):
        if start <= low:
            found.append((start, min(low, end)))
        start = max(start, high)
    found.append((start, end))
    return [(a, b) for a, b in found if whole[0] <= a <= b <= whole[1]]


class Slabs:
    """What lies of a shape between two lines of one axis, and whether it makes sections."""

    def __init__(
        self,
        ground: Ground,
        axis: int,
        fits: Callable[[Polygon], bool],
        *,
        surely_fits: int,
        never_fits: int | None = None,
    ) -> None:
        """A section fits when `fits` says so; up to a length all do, from another one on none."""
        self._ground = ground
        self._axis = axis
        self._fits = fits
        self._surely_fits = surely_fits
        self._never_fits = never_fits
        self._simple = _is_monotone(ground.polygon, axis)
        self._found: dict[Interval, tuple[Polygon, ...]] = {}
        self._fitting: dict[Interval, bool] = {}
        shapely.prepare(ground.polygon)

    def sections(self, start: int, end: int) -> int:
        """How many sections a slab makes; 0 when one of them does not fit or is too short."""
        if end - start < self._ground.shortest or not self.fits(start, end):
            return 0
        if self._simple:
            return 1
        pieces = self._pieces(start, end)
        lengths = (self._extent(piece) for piece in pieces)
        return len(pieces) if all(length >= self._ground.shortest for length in lengths) else 0

    def fits(self, start: int, end: int) -> bool:
        """Whether all that lies in a slab fits."""
        if end - start <= self._surely_fits:
            return True
        if self._simple and self._never_fits is not None and end - start > self._never_fits:
            return False  # it hangs together from line to line, so that it is as long as the slab
        key = start, end
        if key not in self._fitting:
            self._fitting[key] = all(self._fits(piece) for piece in self._pieces(start, end))
        return self._fitting[key]

    def reach(self, start: int, towards: int) -> int:
        """The farthest position towards an end of the part so that the slab from `start` fits.

        To a micrometre.  A slab within another fits when that does, so that halving finds it.
        """
        way = 1 if towards > start else -1

        def fits(at: int) -> bool:
            return self.fits(min(start, at), max(start, at))

        if abs(towards - start) <= self._surely_fits or fits(towards):
            return towards
        good = start + way * self._surely_fits
        bad = towards
        if not fits(good + way * _STEP):
            return good
        while abs(bad - good) > _STEP:
            middle = (good + bad) // 2
            if fits(middle):
                good = middle
            else:
                bad = middle
        return good

    def _extent(self, piece: Polygon) -> int:
        bounds = piece.bounds
        return nanometres(bounds[self._axis + 2]) - nanometres(bounds[self._axis])

    def _pieces(self, start: int, end: int) -> tuple[Polygon, ...]:
        key = start, end
        if key not in self._found:
            self._found[key] = slab_pieces(self._ground, ((start, end),) if self._axis == 0 else (None, key))
        return self._found[key]


def slab_pieces(ground: Ground, ranges: Sequence[Interval | None]) -> tuple[Polygon, ...]:
    """The pieces of a ground's shape within ranges of x and of y (None or left out: all of it)."""
    x0, y0, x1, y1 = ground.polygon.bounds
    xs = ranges[0]
    ys = ranges[1] if len(ranges) > 1 else None
    if xs:
        x0, x1 = millimetres(xs[0]), millimetres(xs[1])
    if ys:
        y0, y1 = millimetres(ys[0]), millimetres(ys[1])
    parts = shapely.get_parts(ground.polygon.intersection(box(x0, y0, x1, y1)))
    return tuple(p for p in parts if isinstance(p, Polygon) and p.area > p.length * DUST_MM)


def _is_monotone(polygon: Polygon, axis: int) -> bool:
    """Whether every line of an axis cuts the outer ring in one stretch at most, so that slabs hang together.

    Holes do not matter: lines keep off them, so that each lies in one slab, with board all round.
    """
    steps = np.diff(shapely.get_coordinates(polygon.exterior)[:, axis])
    signs = np.sign(steps[steps != 0])
    return int(np.count_nonzero(signs != np.roll(signs, 1))) <= 2
