"""How few boards there can be: what area and pieces that cannot share a board prove.

Areas in mm2 as exact fractions, so that a count is never rounded the wrong way.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from shapely import Polygon

from foamcut.flat.stock import Stock
from foamcut.nest.forms import exact_area_nm2
from foamcut.nest.rooms import NM_PER_MM, UNITS, Source
from foamcut.nest.values import Bound, Kind
from foamcut.units import decimal_text

#: taken off before a count of boards is rounded up: rounding of areas, not of boards
_ROUNDING = Fraction(1, 10**9)
#: combinations of sizes looked at; beyond it the plain quotient stands
_MOST_TRIES = 4000


@dataclass(frozen=True, slots=True)
class Demand:
    """Something that new boards must meet: area, and a number of boards, from those of some sizes."""

    sizes: tuple[bool, ...]
    area: Fraction
    boards: int


@dataclass(frozen=True, slots=True)
class Least:
    """The fewest new boards, the least they cost, and the grounds.

    `by_area` is the area of the parts and `on_hand` that of the shelf, in boards of the largest size; `apart`
    names the pieces of which no two fit one board, when they prove more than the area.
    """

    boards: int
    cost: Fraction
    by_area: Fraction
    on_hand: Fraction
    apart: tuple[str, ...]


def grown_area(polygon: Polygon, gap_mm: float) -> Fraction:
    """Area of a piece grown all round by half the gap, or a little less, mm2."""
    if not gap_mm:
        return Fraction(exact_area_nm2(polygon), NM_PER_MM**2)
    # chords of the buffer's arcs lie inside, so that the piece never counts for more than it takes
    return Fraction(polygon.buffer(gap_mm / 2, quad_segs=8).area)


def grown_room(source: Source, gap_mm: float) -> Fraction:
    """Area inside the margin grown all round by half the gap, or a little more, mm2 (Steiner's formula)."""
    area = Fraction(source.usable_area, NM_PER_MM**2)
    if not gap_mm:
        return area
    if source.usable:
        around = 2 * sum(source.room_mm)
    else:
        around = sum(_length(ring) for ring in source.region) / (UNITS * NM_PER_MM)
    half = Fraction(gap_mm) / 2
    return area + Fraction(around) * half + Fraction(math.pi) * half**2


def least(
    areas: Sequence[tuple[Fraction, int, tuple[bool, ...]]],
    sources: Sequence[Source],
    gap_mm: float,
    apart: Sequence[tuple[str, tuple[bool, ...]]] = (),
) -> Least:
    """The fewest new boards and the least cost.

    `areas` has for each kind of piece its grown area, its count, and on which sources it fits; `apart` names
    pieces of which no two fit one sheet, with the sources they fit.
    """
    new = [i for i, source in enumerate(sources) if source.kind is Kind.NEW]
    rooms = [grown_room(source, gap_mm) for source in sources]
    masks = sorted({mask for _, _, mask in areas}, reverse=True)
    demands = [_demand(mask, areas, apart, sources, rooms, new) for mask in masks]
    demands = [d for d in demands if d.area > 0 or d.boards > 0]
    largest = max((rooms[i] for i in new), default=Fraction(0))
    total = sum((area * count for area, count, _ in areas), Fraction(0))
    shelf = sum((room * (s.count or 0) for room, s in zip(rooms, sources, strict=True)), Fraction(0))
    sizes = [rooms[i] for i in new]
    prices = [sources[i].price for i in new]
    each = [Fraction(1)] * len(new)
    boards = _cover(sizes, each, demands)
    by_area_alone = _cover(sizes, each, [Demand(d.sizes, d.area, 0) for d in demands])
    return Least(
        boards=math.ceil(boards),
        cost=_cover(sizes, prices, demands),
        by_area=total / largest if largest else Fraction(0),
        on_hand=shelf / largest if largest else Fraction(0),
        apart=tuple(name for name, _ in apart) if boards > by_area_alone else (),
    )


def bound(stock: Stock, floor: Least, new: int, cost: Fraction) -> Bound:
    """The bound with the words for the builder."""
    priced = stock.has_prices
    cheapest = priced and cost == floor.cost
    proven = new == floor.boards or cheapest
    return Bound(
        stock=stock.name, new=new, at_least=floor.boards,
        cost=_decimal(cost) if priced else None,
        cost_at_least=_decimal(floor.cost) if priced else None,
        proven=proven, reason=_reason(floor, new, proven, cheapest),
    )  # fmt: skip


def _reason(floor: Least, new: int, proven: bool, cheapest: bool) -> str:
    used = f"{new} {'is' if new == 1 else 'are'} used"
    if not new:
        return "everything fits on what is on hand; no board is bought"
    area = f"the parts cover {_boards(floor.by_area)}"
    if floor.on_hand:
        area += f", what is on hand holds {_boards(floor.on_hand)} at most"
    if not proven:
        might = f"{floor.boards} might do" if floor.boards else "none might do"
        return f"not proven: {area}; {used}, {might}"
    if new != floor.boards and cheapest:
        return f"{area}, and no mix of sizes that holds them costs less"
    need = "1 is needed" if new == 1 else f"{new} are needed"
    if floor.apart:
        names = ", ".join(dict.fromkeys(floor.apart))
        return f"no two of {len(floor.apart)} parts ({names}) fit one board, so {need} and {used}"
    return f"{area}, so {need} and {used}"


def _boards(count: Fraction) -> str:
    """A count of boards in words that does not round a board away.

    >>> [_boards(Fraction(n, 1000)) for n in (1700, 1000, 2001, 1960)]
    ['1.7 boards', '1 board', 'just over 2 boards', '1.96 boards']
    """
    whole = round(count)
    off = count - whole
    if off == 0 or abs(off) > Fraction(1, 20):
        text = decimal_text(float(count))
    elif abs(off) > Fraction(1, 200):
        text = decimal_text(float(count), 2)
    else:
        text = f"just {'over' if off > 0 else 'under'} {whole}"
    return f"{text} {'board' if text.split()[-1] == '1' else 'boards'}"


def _demand(
    mask: tuple[bool, ...],
    areas: Sequence[tuple[Fraction, int, tuple[bool, ...]]],
    apart: Sequence[tuple[str, tuple[bool, ...]]],
    sources: Sequence[Source],
    rooms: Sequence[Fraction],
    new: Sequence[int],
) -> Demand:
    """What the pieces that fit on no other sheets than those of `mask` need, less what is on hand."""
    area = sum((a * count for a, count, fits in areas if _within(fits, mask)), Fraction(0))
    pieces = sum(_within(fits, mask) for _, fits in apart)
    for i, source in enumerate(sources):
        if mask[i] and source.count is not None:
            area -= rooms[i] * source.count
            pieces -= source.count
    return Demand(tuple(mask[i] for i in new), area, pieces)


def _within(fits: Sequence[bool], mask: Sequence[bool]) -> bool:
    return all(m or not f for f, m in zip(fits, mask, strict=True))


def _cover(sizes: Sequence[Fraction], prices: Sequence[Fraction], demands: Sequence[Demand]) -> Fraction:
    """The least sum of prices of boards that meets every demand; no more than that when it takes too long.

    Branch and bound over how many of each size, those of most area for the money first.
    """
    if not demands or not any(sizes):
        return Fraction(0)
    order = sorted(range(len(sizes)), key=lambda i: (prices[i] / sizes[i], i))
    tries = 0
    best: Fraction | None = None

    def floor_of(left: Sequence[Demand], at: int) -> Fraction | None:
        """No way to meet what is left with the sizes from `at` on costs less; None: there is no way."""
        least_sum = Fraction(0)
        for d in left:
            usable = [i for i in order[at:] if d.sizes[i]]
            if d.area <= 0 and d.boards <= 0:
                continue
            if not usable:
                return None
            by_area = max(Fraction(0), d.area) * min(prices[i] / sizes[i] for i in usable)
            by_count = max(0, d.boards) * min(prices[i] for i in usable)
            least_sum = max(least_sum, by_area, by_count)
        return least_sum

    def go(left: Sequence[Demand], at: int, spent: Fraction) -> None:
        nonlocal best, tries
        tries += 1
        floor = floor_of(left, at)
        if floor is None or tries > _MOST_TRIES or (best is not None and spent + floor >= best):
            return
        if all(d.area <= 0 and d.boards <= 0 for d in left):
            best = spent
            return
        size = order[at]
        most = max((_needed(d, sizes[size]) for d in left if d.sizes[size]), default=0)
        for count in range(most, -1, -1):
            rest = [
                Demand(d.sizes, d.area - count * sizes[size], d.boards - count) if d.sizes[size] else d
                for d in left
            ]
            go(rest, at + 1, spent + count * prices[size])

    slack = [Demand(d.sizes, d.area - _ROUNDING * max(sizes), d.boards) for d in demands]
    go(slack, 0, Fraction(0))
    if best is None or tries > _MOST_TRIES:
        return floor_of(slack, 0) or Fraction(0)
    return best


def _needed(demand: Demand, size: Fraction) -> int:
    return max(0, demand.boards, math.ceil(demand.area / size))


def _length(ring: Sequence[tuple[int, int]]) -> float:
    return sum(math.dist(a, b) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / Decimal(value.denominator)
