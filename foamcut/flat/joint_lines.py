"""Where the joint lines of a part lie best.

Positions are whole nanometres.  In this order: fewest sections; off all obstacles; no section too short;
doublers that reach their whole overlap, or else as far as can be, off clear marks; left and right apart; the
tail rather than the nose; sections as equal as can be; the smaller x, then y.  The second and third are never
given up.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from foamcut.flat.fitting import nanometres
from foamcut.flat.ground import Ground, slab_pieces
from foamcut.flat.line_search import MOST_SECTIONS, AxisSearch, Cost

#: two ways are different when a line of theirs lies this far apart
_DIFFERENT = 10_000_000
#: rows of lines at x, and at y, that are tried together
_TOGETHER = 8
#: lines both ways make at least four sections
_LEAST_BOTH_WAYS = 3


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines at x and at y, each rising, and their cost."""

    cost: Cost
    xs: tuple[int, ...] = ()
    ys: tuple[int, ...] = ()

    def of_axis(self, axis: int) -> tuple[int, ...]:
        """Those at x (axis 0) or at y (axis 1)."""
        return (self.xs, self.ys)[axis]


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
        whole = Cost(0, 0, 0, 0, ground.length(1 - axis) ** 2)
        for cost, row in search.rows():
            found.append(Lines(cost.plus(whole), *((row, ()) if axis == 0 else ((), row))))
    fewest = min((one.cost.sections for one in found), default=MOST_SECTIONS)
    if fewest > _LEAST_BOTH_WAYS:
        found += _both_ways(ground, others, fewest)
    found.sort(key=lambda one: (one.cost, len(one.ys), one.xs, one.ys))
    return found


def _apart_from(others: Lines | None, axis: int) -> tuple[int, ...]:
    return others.of_axis(axis) if others else ()


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
    columns = different([Lines(cost, row) for cost, row in along.rows()], _TOGETHER)
    rows = different([Lines(cost, (), row) for cost, row in across.rows()], _TOGETHER)
    for x_cost, xs in ((one.cost, one.xs) for one in columns):
        for y_cost, ys in ((one.cost, one.ys) for one in rows):
            count = cells(ground, xs, ys)
            if count:
                both = x_cost.plus(y_cost)
                yield Lines(both._replace(sections=count), xs, ys)


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
