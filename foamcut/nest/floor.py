"""The floor under the boards of one stock: what is proven of pieces, before any is laid."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from foamcut.flat.stock import Stock
from foamcut.nest.apart import Kin, Upright, pieces_apart
from foamcut.nest.bound import Least, grown_area, grown_room, least
from foamcut.nest.exact import area_at_least
from foamcut.nest.rooms import NM_PER_MM, Source
from foamcut.nest.sharing import Sharing
from foamcut.nest.values import Kind

#: more sheets than these and area is what counts
_MOST_SHEETS = 8


@dataclass(frozen=True, slots=True)
class Loose:
    """What is wanted in pieces that are not settled: `area` of one copy at least, mm2, not grown."""

    area: Fraction
    count: int


def floor(kinds: Sequence[Kin], stock: Stock, rooms: Sequence[Source], loose: Sequence[Loose] = ()) -> Least:
    """The fewest new boards and the least cost for settled pieces and loose ones, which lie anywhere."""
    # the roundings of slanted edges make parts that fill a board a hair more than the board
    areas = [
        (Fraction(area_at_least(k.piece.outline.polygon, stock.gap_mm), NM_PER_MM**2), k.count, k.fits)
        for k in kinds
    ]
    areas += [(one.area, one.count, (True,) * len(rooms)) for one in loose]
    upright = Upright(kinds, stock, rooms)
    apart: list[tuple[str, tuple[bool, ...]]] = []
    for index, count in pieces_apart(upright):
        apart.extend([(kinds[index].piece.flat.name, kinds[index].fits)] * count)
    found = least(areas, rooms, stock.gap_mm, apart)
    covered = _covered(kinds, stock, rooms, loose, found.by_area)
    found = replace(found, by_area=covered)
    sold = [i for i, source in enumerate(rooms) if source.kind is Kind.NEW]
    shelf = [i for i, source in enumerate(rooms) for _ in range(source.count or 0)]
    if not sold or not 0 < found.boards + len(shelf) <= _MOST_SHEETS:
        return found
    # the box around all that are sold comes last
    each = [Upright(kinds, stock, [source], upright) for source in rooms]
    each.append(Upright(kinds, stock, [rooms[i] for i in sold], upright))
    sharing = Sharing(each)
    few = sharing.too_few(shelf, len(rooms), found.boards)
    if few is not None:
        more = least(areas, rooms, stock.gap_mm, apart, boards=few.sheets + 1)
        names = tuple(kinds[i].piece.flat.name for i in few.kinds for _ in range(kinds[i].count))
        found = replace(more, by_area=covered, apart=(), crowded=names, by_lines=few.by_lines)
    return found


def _covered(
    kinds: Sequence[Kin], stock: Stock, rooms: Sequence[Source], loose: Sequence[Loose], at_least: Fraction
) -> Fraction:
    """What the pieces cover, in boards of the largest size, of which `at_least` is proven.

    A whole number when no more stands over it than the tolerance of placing takes away.
    """
    largest = max((grown_room(s, stock.gap_mm) for s in rooms if s.kind is Kind.NEW), default=Fraction(0))
    if not largest:
        return at_least
    total = sum((grown_area(k.piece.outline.polygon, stock.gap_mm) * k.count for k in kinds), Fraction(0))
    total += sum((one.area * one.count for one in loose), Fraction(0))
    covered = total / largest
    whole = Fraction(math.floor(covered))
    return whole if at_least <= whole else covered
