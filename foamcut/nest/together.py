"""Lays the parts of all stocks, and chooses how each is cut."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from foamcut.errors import Refusal, Refused
from foamcut.flat.joint import Way
from foamcut.flat.stock import Stock
from foamcut.nest.search import lay
from foamcut.nest.values import BY_STEPS, Laid, Layout, Listener, Pace, Wanted, tell_nobody


def lay_all(
    wanted: Sequence[Wanted],
    stocks: Sequence[Stock],
    *,
    seed: int,
    pace: Pace = BY_STEPS,
    listener: Listener = tell_nobody,
    bed_mm: tuple[float, float] | None = None,
    more_ways: Callable[[Sequence[int]], Sequence[Wanted]] | None = None,
) -> Laid:
    """The best layouts found of all wanted parts on all stocks, and the way taken for each part.

    Made least over all stocks: cost, boards bought, joints, and then the board with the least on it.  Ways
    hold the pieces of every stock.  `more_ways` is asked only where fewer boards are not ruled out: for parts
    by their indices it gives them again with further ways, the known ones first.

    Raises
    ------
    Refused
        As `foamcut.nest.search.lay`, for all stocks together.
    """
    ways = tuple(0 for _ in wanted)
    refusals: list[Refusal] = []
    layouts: list[Layout] = []
    for stock in stocks:
        of_stock = wanted_of(wanted, ways, stock)
        if not of_stock:
            continue
        try:
            layouts.append(lay(of_stock, stock, seed=seed, pace=pace, listener=listener, bed_mm=bed_mm))
        except Refused as err:
            refusals += err.refusals
    if refusals:
        raise Refused(refusals)
    return Laid(layouts=tuple(layouts), ways=ways)


def wanted_of(wanted: Sequence[Wanted], ways: Sequence[int], stock: Stock) -> list[Wanted]:
    """The parts of which pieces are cut from this stock when each is cut its way, with those pieces alone."""
    found = []
    for want, index in zip(wanted, ways, strict=True):
        way = want.ways[index]
        pieces = tuple(piece for piece in way.pieces if piece.flat.stock == stock.name)
        if pieces:
            found.append(replace(want, ways=(Way(pieces=pieces, joints=way.joints),)))
    return found
