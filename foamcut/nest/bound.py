"""How few boards there can be: what area and pieces that cannot share a board prove.

Areas in mm2 as exact fractions, so that a count is never rounded the wrong way.
"""

import math
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from shapely import Polygon

from foamcut.flat.stock import Stock
from foamcut.flat.tolerances import PLACED_MM
from foamcut.nest.cover import Demand, cover
from foamcut.nest.forms import exact_area_nm2
from foamcut.nest.grounds import Least, reason
from foamcut.nest.rooms import NM_PER_MM, UNITS, Source
from foamcut.nest.values import Bound, Kind, NearMiss

__all__ = ["Least", "bound", "grown_area", "grown_room", "least"]

#: more than any number of boards: puts the boards behind the price when both are made least
_MANY = 10**6
#: how much more area than the parts' the mixes of sizes hold that are worth trying first
_GROWTHS = (Fraction(1), Fraction(11, 10), Fraction(5, 4), Fraction(3, 2))
_MIX_TRIES = 1000


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
    boards: int = 0,
) -> Least:
    """The fewest new boards and the least cost.

    `areas` has for each kind of piece its grown area, its count, and on which sources it fits; `apart` names
    pieces of which no two fit one sheet, with the sources they fit.  `boards` new ones of any size are known
    to be needed.  Sheets hold what the tolerance of placing lets lie outside their rooms, too.
    """
    new = [i for i, source in enumerate(sources) if source.kind is Kind.NEW]
    rooms = [grown_room(source, gap_mm) for source in sources]
    masks = sorted({mask for _, _, mask in areas}, reverse=True)
    held = [grown_room(source, gap_mm + 2 * PLACED_MM) for source in sources]
    demands = [_demand(mask, areas, apart, sources, held, new) for mask in masks]
    demands.append(Demand((True,) * len(new), Fraction(0), boards))
    demands = [d for d in demands if d.area > 0 or d.boards > 0]
    largest = max((rooms[i] for i in new), default=Fraction(0))
    total = sum((area * count for area, count, _ in areas), Fraction(0))
    shelf = sum((room * (s.count or 0) for room, s in zip(rooms, sources, strict=True)), Fraction(0))
    sizes = [held[i] for i in new]
    prices, step = _whole([sources[i].price for i in new])
    each = [Fraction(1)] * len(new)
    fewest = math.ceil(cover(sizes, each, demands).least)
    by_area_alone = cover(sizes, each, [Demand(d.sizes, d.area, 0) for d in demands]).least
    # whole prices: no sum lies between two of them
    cost = math.ceil(cover(sizes, prices, demands).least)
    both = cover(sizes, [price * _MANY + 1 for price in prices], demands).least
    return Least(
        boards=fewest,
        cost=cost * step,
        boards_at_cost=max(fewest, math.ceil(both - cost * _MANY)),
        by_area=total / max(sizes) if largest else Fraction(0),
        on_hand=shelf / largest if largest else Fraction(0),
        apart=tuple(name for name, _ in apart) if fewest > by_area_alone else (),
        mixes=tuple(_mixes(sizes, prices, demands)) if len(new) > 1 else (),
    )


def _whole(prices: Sequence[Fraction]) -> tuple[list[Fraction], Fraction]:
    """Prices as multiples of their greatest common fraction, and that fraction."""
    step = Fraction(1, math.lcm(*(price.denominator for price in prices)))
    return [price / step for price in prices], step


def _mixes(
    sizes: Sequence[Fraction], prices: Sequence[Fraction], demands: Sequence[Demand]
) -> list[tuple[int, ...]]:
    """Cheap mixes of sizes, largest boards first; of few boards when nothing has a price."""
    if any(prices):
        weights = [price * _MANY + 1 for price in prices]
    else:
        weights = [_MANY + size / max(sizes) for size in sizes]
    order = sorted(range(len(sizes)), key=lambda i: (-sizes[i], i))
    found = []
    for growth in _GROWTHS:
        grown = [Demand(d.sizes, d.area * growth, d.boards) for d in demands]
        counts = cover(sizes, weights, grown, _MIX_TRIES).counts
        found.append(tuple(i for i in order for _ in range(counts[i])))
    return [mix for mix in dict.fromkeys(found) if mix]


def bound(
    stock: Stock,
    floor: Least,
    new: int,
    cost: Fraction,
    *,
    on_beds: bool = False,
    near: NearMiss | None = None,
) -> Bound:
    """The bound with the words for the builder; `near` is how near the best layout of fewer boards came.

    `on_beds`: pieces lie on rectangles for a machine's bed.  The floor is that of the same pieces without
    them, which stays true: rectangles only take more.
    """
    priced = stock.has_prices
    proven = new == floor.boards or (priced and cost == floor.cost)
    return Bound(
        stock=stock.name, new=new, at_least=floor.boards,
        cost=_decimal(cost) if priced else None,
        cost_at_least=_decimal(floor.cost) if priced else None,
        proven=proven,
        reason=reason(stock, floor, new, cost, near, on_beds=on_beds),
    )  # fmt: skip


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


def _length(ring: Sequence[tuple[int, int]]) -> float:
    return sum(math.dist(a, b) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / Decimal(value.denominator)
