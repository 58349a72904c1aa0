"""The floor under the boards of one stock: what is proven of pieces, before any is laid."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from foamcut.flat.stock import Stock
from foamcut.nest.apart import Kin, pieces_apart
from foamcut.nest.bound import Least, grown_area, least
from foamcut.nest.rooms import Source


@dataclass(frozen=True, slots=True)
class Loose:
    """What is wanted in pieces that are not settled: `area` of one copy at least, mm2, not grown."""

    area: Fraction
    count: int


def floor(kinds: Sequence[Kin], stock: Stock, rooms: Sequence[Source], loose: Sequence[Loose] = ()) -> Least:
    """The fewest new boards and the least cost for settled pieces and loose ones, which lie anywhere."""
    areas = [(grown_area(k.piece.outline.polygon, stock.gap_mm), k.count, k.fits) for k in kinds]
    areas += [(one.area, one.count, (True,) * len(rooms)) for one in loose]
    apart: list[tuple[str, tuple[bool, ...]]] = []
    for index, count in pieces_apart(kinds, stock, rooms):
        apart.extend([(kinds[index].piece.flat.name, kinds[index].fits)] * count)
    return least(areas, rooms, stock.gap_mm, apart)
