"""Where the joint lines of a part lie best.

Positions are whole nanometres.  In this order: fewest sections; off all obstacles; no section too short;
left and right apart; the tail rather than the nose; sections as equal as can be; the smaller x, then y.
The second and third are never given up.

Method: a line's farthest places from either end bound where the k-th of n lines may lie; in these windows a
few dozen places stand for choice (ends of what is allowed, equal divisions, places just apart from the other
hand's lines, a grid), the best rows of them are found by dynamic programming over the lines (Bellman's
principle), the k best kept at each place; the winners are then made as equal as their windows allow.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from shapely import Polygon

from foamcut.flat.fitting import NM_PER_MM, nanometres
from foamcut.flat.ground import Ground, Interval, Slabs, slab_pieces

#: a part is cut in no more sections than this: hundreds of joints are a mistake in the numbers
MOST_SECTIONS = 100
#: so many more lines than the fewest are tried before it is said that there is no way
_MORE_LINES = 2
#: rows of lines kept at each place, and places on the grids of all windows together
_KEPT, _GRID = 6, 48
#: rows, the best, that are made as equal as can be; the others stay as they are, to be different
_POLISHED = 8
#: and on that of each window at least
_COARSE_GRID = 4
#: two ways are different when a line of theirs lies this far apart
_DIFFERENT = 10_000_000
#: rows of lines at x, and at y, that are tried together
_TOGETHER = 8
#: lines both ways make at least four sections
_LEAST_BOTH_WAYS = 3


class Cost(NamedTuple):
    """What is made least, in this order.

    `crowding` sums by how much lines come too close to those of the other hand; `unevenness` sums squares.
    """

    sections: int
    crowding: int
    in_nose: int
    unevenness: int

    def plus(self, other: "Cost") -> "Cost":
        """Both together."""
        return Cost(self[0] + other[0], self[1] + other[1], self[2] + other[2], self[3] + other[3])


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines at x and at y, each rising, and their cost."""

    cost: Cost
    xs: tuple[int, ...] = ()
    ys: tuple[int, ...] = ()

    def of_axis(self, axis: int) -> tuple[int, ...]:
        """Those at x (axis 0) or at y (axis 1)."""
        return (self.xs, self.ys)[axis]


_Row = tuple[Cost, tuple[int, ...]]


def best_lines(ground: Ground, others: Lines | None, most: int) -> list[Lines]:
    """The best ways to lay the lines, best first and no two alike; empty when there is none.

    `others` are lines of the other hand, to be kept apart from.
    """
    return different(all_lines(ground, others), most)


def all_lines(ground: Ground, others: Lines | None) -> list[Lines]:
    """`best_lines` with those that are much alike."""
    found: list[Lines] = []
    for axis in (0, 1):
        search = AxisSearch(ground, axis, _apart_from(others, axis))
        # the other way the sections are as long as the part
        whole = Cost(0, 0, 0, ground.length(1 - axis) ** 2)
        for cost, row in search.rows():
            found.append(Lines(cost.plus(whole), *((row, ()) if axis == 0 else ((), row))))
    fewest = min((one.cost.sections for one in found), default=MOST_SECTIONS)
    if fewest > _LEAST_BOTH_WAYS:
        found += _both_ways(ground, others, fewest)
    found.sort(key=lambda one: (one.cost, len(one.ys), one.xs, one.ys))
    return found


def _apart_from(others: Lines | None, axis: int) -> tuple[int, ...]:
    return others.of_axis(axis) if others else ()


class AxisSearch:
    """Lines of one axis alone; with `within`, sections are no longer than that, whatever their other size."""

    def __init__(
        self, ground: Ground, axis: int, others: tuple[int, ...], within: int | None = None
    ) -> None:
        self._ground = ground
        self._axis = axis
        self._others = others
        self._low, self._high = ground.low[axis], ground.high[axis]
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

    def rows(self) -> list[_Row]:
        """The best rows of the fewest lines, best first."""
        least = self.fewest()
        if least is None:
            return []
        for count in range(least, min(least + _MORE_LINES, MOST_SECTIONS - 1) + 1):
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

    def _rows(self, windows: Sequence[Interval]) -> list[_Row]:
        """Rows with one line in each window, best first, made as equal as can be."""
        reached: dict[int, list[_Row]] = {self._low: [(Cost(0, 0, 0, 0), ())]}
        for k, window in enumerate(windows, 1):
            reached = self._next(reached, self._places(window, k, len(windows)), _KEPT)
            if not reached:
                return []
        last = self._next(reached, [self._high], None).get(self._high, [])
        rows = [(cost, row[:-1]) for cost, row in last]
        return sorted({*rows, *map(self._evened, rows[:_POLISHED])})

    def _next(
        self, reached: dict[int, list[_Row]], places: Sequence[int], most: int | None
    ) -> dict[int, list[_Row]]:
        found: dict[int, list[_Row]] = {}
        for place in places:
            own = self._line_cost(place)
            rows = []
            for before, befores in reached.items():
                count = self._slabs.sections(before, place)
                if count:
                    added = own.plus(Cost(count, 0, 0, (place - before) ** 2))
                    rows += [(cost.plus(added), (*row, place)) for cost, row in befores]
            if rows:
                found[place] = sorted(rows)[:most]
        return found

    def _line_cost(self, at: int) -> Cost:
        """What a line itself costs; the part's end costs nothing."""
        if at == self._high:
            return Cost(0, 0, 0, 0)
        doubler = 2 * self._ground.overlap
        crowding = max((doubler - abs(at - other) for other in self._others), default=0)
        return Cost(0, max(crowding, 0), int(self._ground.in_nose_half(self._axis, at)), 0)

    def _places(self, window: Interval, k: int, count: int) -> list[int]:
        """Places in a window to choose from, rising."""
        low, high = window
        span, doubler = self._high - self._low, 2 * self._ground.overlap
        ideal = self._low + round(span * k / (count + 1))
        wanted = [ideal, (self._low + self._high + 1) // 2, (self._low + self._high) // 2]
        wanted += [other + side for other in self._others for side in (-doubler, doubler)]
        if self._ground.paired:
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

    def _evened(self, found: _Row) -> _Row:
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
        total = Cost(0, 0, 0, 0)
        for before, place in pairwise((self._low, *row, self._high)):
            count = self._slabs.sections(before, place)
            if not count:
                return None
            total = total.plus(self._line_cost(place)).plus(Cost(count, 0, 0, (place - before) ** 2))
        return total


def _whole_mm(at: int) -> int:
    return round(at / NM_PER_MM) * NM_PER_MM


def _down(allowed: Sequence[Interval], at: int) -> int | None:
    """The highest place that is allowed up to `at`."""
    return max((min(end, at) for start, end in allowed if start <= at), default=None)


def _up(allowed: Sequence[Interval], at: int) -> int | None:
    """The lowest place that is allowed from `at` on."""
    return min((max(start, at) for start, end in allowed if end >= at), default=None)


def _both_ways(ground: Ground, others: Lines | None, most: int) -> list[Lines]:
    """Lines at x and at y so that every box between them lies in a room, where `most` sections may do."""
    searches = []
    for room in ground.fitting.upright:
        along, across = (
            AxisSearch(ground, axis, _apart_from(others, axis), within=room[axis]) for axis in (0, 1)
        )
        columns, rows = along.fewest(), across.fewest()
        if columns is not None and rows is not None and (columns + 1) * (rows + 1) <= most:
            searches.append(((columns + 1) * (rows + 1), along, across))
    found: list[Lines] = []
    for boxes, along, across in sorted(searches, key=lambda search: search[0]):
        if found and boxes > min(one.cost.sections for one in found):
            break
        found += _together(ground, along, across)
    return found


def _together(ground: Ground, along: AxisSearch, across: AxisSearch) -> Iterator[Lines]:
    rows_across = across.rows()[:_TOGETHER]
    for x_cost, xs in along.rows()[:_TOGETHER]:
        for y_cost, ys in rows_across:
            count = cells(ground, xs, ys)
            if count:
                both = x_cost.plus(y_cost)
                yield Lines(Cost(count, both.crowding, both.in_nose, both.unevenness), xs, ys)


def cells(ground: Ground, xs: Sequence[int], ys: Sequence[int]) -> int:
    """How many sections there are between lines of both axes; 0 when one of them will not do."""
    count = 0
    for columns in pairwise((ground.low[0], *xs, ground.high[0])):
        for rows in pairwise((ground.low[1], *ys, ground.high[1])):
            for piece in slab_pieces(ground, (columns, rows)):
                x0, y0, x1, y1 = (nanometres(v) for v in piece.bounds)
                short = (xs and x1 - x0 < ground.shortest) or (ys and y1 - y0 < ground.shortest)
                if short or not ground.fitting.holds(piece):
                    return 0
                count += 1
    return count


def different(ranked: Sequence[Lines], most: int) -> list[Lines]:
    """The first of the ways that are much alike, in order."""
    kept: list[Lines] = []
    for one in ranked:
        if len(kept) == most:
            break
        if not any(alike(one, other) for other in kept):
            kept.append(one)
    return kept


def alike(one: Lines, other: Lines) -> bool:
    """Whether all lines of two ways lie close to each other."""
    if (len(one.xs), len(one.ys)) != (len(other.xs), len(other.ys)):
        return False
    pairs = zip((*one.xs, *one.ys), (*other.xs, *other.ys), strict=True)
    return all(abs(a - b) < _DIFFERENT for a, b in pairs)
