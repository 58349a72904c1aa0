"""Lines of one axis: the best rows of them that leave sections which fit.

Positions are whole nanometres.  Method: a line's farthest places from either end bound where the k-th of n
lines may lie; in these windows a few dozen places stand for choice (ends of what is allowed, equal divisions,
places off clear marks and just apart from the other hand's lines, a grid); the best rows are found by dynamic
programming over the lines (Bellman's principle), some kept at each place; the winners are then made as equal
as can be.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from shapely import Polygon

from foamcut.flat.fitting import NM_PER_MM, nanometres
from foamcut.flat.ground import Ground, Interval, Slabs

#: a part is cut in no more sections than this: hundreds of joints are a mistake in the numbers
MOST_SECTIONS = 100
#: so many more lines than the fewest are tried before it is said that there is no way
MORE_LINES = 2
#: rows of lines kept at each place, and places on the grids of all windows together
_KEPT, _GRID = 6, 48
#: and on that of each window at least
_COARSE_GRID = 4
#: places off clear marks that are looked at in each window: some of them where there are more
_OFF_MARKS = 24
#: rows, the best, that are made as equal as can be; the others stay as they are, to be different
_POLISHED = 8


class Cost(NamedTuple):
    """What is made least, in this order.

    `short` sums by how much doublers reach less far than the overlap, `crowding` by how much lines come too
    close to those of the other hand, `unevenness` squares.
    """

    sections: int
    short: int
    crowding: int
    in_nose: int
    unevenness: int

    def plus(self, other: "Cost") -> "Cost":
        """Both together."""
        return Cost(*(a + b for a, b in zip(self, other, strict=True)))


NO_COST = Cost(0, 0, 0, 0, 0)

Row = tuple[Cost, tuple[int, ...]]


class AxisSearch:
    """Lines of one axis alone; with `within`, sections are no longer than that, whatever their other size."""

    def __init__(
        self, ground: Ground, axis: int, others: tuple[int, ...], within: int | None = None
    ) -> None:
        self._ground = ground
        self._axis = axis
        self._others = others
        self._low, self._high = ground.low[axis], ground.high[axis]
        self._costs: dict[int, Cost] = {}
        self.allowed = ground.allowed(axis)
        if within is None:
            cross = ground.length(1 - axis)
            rooms = (room for room in ground.fitting.upright if cross <= room[1 - axis])
            surely = max((room[axis] for room in rooms), default=0)
            never = None if ground.fitting.askew else max(room[axis] for room in ground.fitting.upright)
            fits: Callable[[Polygon], bool] = ground.fitting.holds
        else:
            surely = never = within
            fits = self._no_longer_than(within)
        self._slabs = Slabs(ground, axis, fits, surely_fits=surely, never_fits=never)

    def rows(self) -> list[Row]:
        """The best rows of the fewest lines that will do, best first."""
        least = self.fewest()
        if least is None:
            return []
        first = least + self._ground.extra_lines
        for count in range(first, min(first + MORE_LINES, MOST_SECTIONS - 1) + 1):
            windows = self.windows(count)
            rows = self._rows(windows) if windows else []
            if rows:
                return rows
        return []

    def _no_longer_than(self, within: int) -> Callable[[Polygon], bool]:
        axis = self._axis

        def fits(piece: Polygon) -> bool:
            return nanometres(piece.bounds[axis + 2]) - nanometres(piece.bounds[axis]) <= within

        return fits

    def fewest(self) -> int | None:
        """How many lines there have to be at least; None: no number of them would do."""
        at = self._low
        for count in range(MOST_SECTIONS):
            end = self._slabs.reach(at, self._high)
            if end >= self._high:
                return max(count, 1)
            following = _down(self.allowed, end)
            if following is None or following <= at:
                return None
            at = following
        return None

    def windows(self, count: int) -> list[Interval]:
        """For each of so many lines, the lowest and the highest place where it may lie; empty: nowhere."""
        highest, lowest = [], []
        at = self._low
        for k in range(1, count + 1):
            room = self._high - (count - k + 1) * self._ground.shortest
            place = _down(self.allowed, min(self._slabs.reach(at, self._high), room))
            if place is None:
                return []
            highest.append(place)
            at = place
        at = self._high
        for k in range(count, 0, -1):
            room = self._low + k * self._ground.shortest
            place = _up(self.allowed, max(self._slabs.reach(at, self._low), room))
            if place is None:
                return []
            lowest.append(place)
            at = place
        windows = list(zip(reversed(lowest), highest, strict=True))
        return windows if all(low <= high for low, high in windows) else []

    def _rows(self, windows: Sequence[Interval]) -> list[Row]:
        """Rows with one line in each window, best first, made as equal as can be."""
        reached: dict[int, list[Row]] = {self._low: [(NO_COST, ())]}
        for k, window in enumerate(windows, 1):
            reached = self._next(reached, self._places(window, k, len(windows)), _KEPT)
            if not reached:
                return []
        last = self._next(reached, [self._high], None).get(self._high, [])
        rows = [(cost, row[:-1]) for cost, row in last]
        return sorted({*rows, *map(self._evened, rows[:_POLISHED]), *self._at_the_ends(windows)})

    def _at_the_ends(self, windows: Sequence[Interval]) -> Iterator[Row]:
        """Of a pair, the rows that lie as far to either end as can be, and those a doubler off them.

        The search keeps rows that are good for one hand; these leave the other hand its farthest place.
        """
        doubler = 2 * self._ground.overlap
        for off in (0, doubler) if self._ground.paired else ():
            lows = (_up(self.allowed, low + off) for low, _ in windows)
            highs = (_down(self.allowed, high - off) for _, high in windows)
            for places in (lows, highs):
                row = tuple(at for at in places if at is not None)
                rises = all(a < b for a, b in pairwise((self._low, *row, self._high)))
                cost = self._cost(row) if rises and len(row) == len(windows) else None
                if cost is not None:
                    yield cost, row

    def _next(
        self, reached: dict[int, list[Row]], places: Sequence[int], most: int | None
    ) -> dict[int, list[Row]]:
        found: dict[int, list[Row]] = {}
        for place in places:
            own = self._line_cost(place)
            rows = []
            for before, befores in reached.items():
                count = self._slabs.sections(before, place)
                if count:
                    added = own.plus(Cost(count, 0, 0, 0, (place - before) ** 2))
                    rows += [(cost.plus(added), (*row, place)) for cost, row in befores]
            if rows:
                found[place] = sorted(rows)[:most]
        return found

    def _line_cost(self, at: int) -> Cost:
        """What a line itself costs; the part's end costs nothing."""
        if at == self._high:
            return NO_COST
        if at not in self._costs:
            self._costs[at] = self._cost_at(at)
        return self._costs[at]

    def _cost_at(self, at: int) -> Cost:
        doubler = 2 * self._ground.overlap
        crowding = max((doubler - abs(at - other) for other in self._others), default=0)
        short = self._ground.short(self._axis, at)
        return Cost(0, short, max(crowding, 0), int(self._ground.in_nose_half(self._axis, at)), 0)

    def _places(self, window: Interval, k: int, count: int) -> list[int]:
        """Places in a window to choose from, rising."""
        low, high = window
        span, doubler = self._high - self._low, 2 * self._ground.overlap
        ideal = self._low + round(span * k / (count + 1))
        wanted = [ideal, (self._low + self._high + 1) // 2, (self._low + self._high) // 2]
        wanted += [other + side for other in self._others for side in (-doubler, doubler)]
        off_marks = [at for at in self._ground.off_clear_marks(self._axis) if low <= at <= high]
        off_marks = off_marks[:: len(off_marks) // _OFF_MARKS + 1]
        wanted += off_marks
        if self._ground.paired:
            # so that the other hand's line may lie as far as the window goes
            wanted += [low + doubler, high - doubler]
            wanted += [at + side for at in off_marks for side in (-doubler, doubler)]
            wanted += [end + side for ends in self.allowed for end in ends for side in (-doubler, doubler)]
        grid = max(_GRID // count, _COARSE_GRID)
        wanted += [_whole_mm(low + (high - low) * i // grid) for i in range(grid + 1)]
        found = set()
        for start, end in self.allowed:
            start, end = max(start, low), min(end, high)
            if start <= end:
                found |= {start, end}
                found |= {at for at in wanted if start <= at <= end}
        return sorted(found)

    def _evened(self, found: Row) -> Row:
        """A row with its lines moved to the middle between their neighbours while that makes it better."""
        cost, row = found
        for _ in range(2 * len(row)):
            before = cost
            for i in range(len(row)):
                ends = self._low, *row, self._high
                moved = self._towards(row[i], (ends[i] + ends[i + 2]) // 2)
                other = (*row[:i], moved, *row[i + 1 :])
                better = self._cost(other) if moved != row[i] else None
                if better is not None and better < cost:
                    row, cost = other, better
            if cost == before:
                break
        return cost, row

    def _towards(self, at: int, goal: int) -> int:
        """The place nearest to the goal without leaving what is allowed round `at`."""
        for start, end in self.allowed:
            if start <= at <= end:
                return min(max(goal, start), end)
        return at

    def _cost(self, row: tuple[int, ...]) -> Cost | None:
        """What a row costs; None when one of its sections will not do."""
        total = NO_COST
        for before, place in pairwise((self._low, *row, self._high)):
            count = self._slabs.sections(before, place)
            if not count:
                return None
            total = total.plus(self._line_cost(place)).plus(Cost(count, 0, 0, 0, (place - before) ** 2))
        return total


def _whole_mm(at: int) -> int:
    return round(at / NM_PER_MM) * NM_PER_MM


def _down(allowed: Sequence[Interval], at: int) -> int | None:
    """The highest place that is allowed up to `at`."""
    return max((min(end, at) for start, end in allowed if start <= at), default=None)


def _up(allowed: Sequence[Interval], at: int) -> int | None:
    """The lowest place that is allowed from `at` on."""
    return min((max(start, at) for start, end in allowed if end >= at), default=None)
