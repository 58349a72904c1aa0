"""Lays wanted parts on the sheets of their stock: the best layout found, its bound, or why there is none."""

from collections.abc import Sequence
from fractions import Fraction

from foamcut.errors import Refused
from foamcut.flat.stock import Stock
from foamcut.nest.bound import bound, least
from foamcut.nest.laying import Laying
from foamcut.nest.ready import takes_whole
from foamcut.nest.rooms import sources, stock_refusals
from foamcut.nest.values import BY_STEPS, Layout, Listener, Pace, Wanted, tell_nobody

__all__ = ["lay", "takes_whole"]


def lay(
    wanted: Sequence[Wanted],
    stock: Stock,
    *,
    seed: int,
    pace: Pace = BY_STEPS,
    listener: Listener = tell_nobody,
    bed_mm: tuple[float, float] | None = None,
) -> Layout:
    """The best layout found of all wanted parts, pieces of this stock alone, at the given pace.

    Made least: the cost when every size has a price, then boards bought, then joints; then the largest
    rectangle left on the board with the least on it is made as large as can be.  Sheets on hand are used
    first.  With `bed_mm`, width and height of a machine's bed, pieces lie on rectangles no larger than it
    (`foamcut.nest.beds`).

    Raises
    ------
    Refused
        A part fits no sheet, grain and turns contradict, a margin leaves no room, sheets run out, or there
        would be more than `MOST_SHEETS`.
    """
    if refused := stock_refusals(stock):
        raise Refused(refused)
    if not wanted:
        nothing = bound(stock, least((), sources(stock), stock.gap_mm), 0, Fraction(0))
        return Layout(stock=stock, sheets=(), bound=nothing)
    laying = Laying(wanted, stock, seed=seed, listener=listener, bed_mm=bed_mm)
    laying.by_steps(pace)
    laying.tidy(pace)
    if pace.squeeze_s:
        laying.squeeze(pace, pace.squeeze_s)
    return laying.layout()
