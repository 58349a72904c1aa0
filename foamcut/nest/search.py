"""Lays wanted parts on the sheets of their stock: the best layout found, its bound, or why there is none."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from random import Random

from foamcut.errors import Refused
from foamcut.flat.joint import Piece, Way
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest.beds import lay_on_beds
from foamcut.nest.bound import bound, least
from foamcut.nest.firstfit import MOST_SHEETS
from foamcut.nest.forms import exact_area_nm2, extent_mm
from foamcut.nest.refusals import contradictions, too_large, too_many, unplaced
from foamcut.nest.rooms import Source, sources, stock_refusals
from foamcut.nest.trials import Search
from foamcut.nest.turning import upright_turns
from foamcut.nest.values import BY_STEPS, Layout, Listener, Pace, Wanted, tell_nobody


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

    Made least: the cost when every size has a price, then boards bought, then their area, then what lies on
    the board with the least on it and how far it reaches.  Sheets on hand are used first.  With `bed_mm`,
    width and height of a machine's bed, pieces lie on rectangles no larger than it (`foamcut.nest.beds`).

    Raises
    ------
    Refused
        A part fits no sheet, grain and turns contradict, a margin leaves no room, sheets run out, or there
        would be more than `MOST_SHEETS`.
    """
    rooms = sources(stock)
    if refused := stock_refusals(stock):
        raise Refused(refused)
    if not wanted:
        nothing = bound(stock, least((), rooms, stock.gap_mm), 0, Fraction(0))
        return Layout(stock=stock, sheets=(), bound=nothing)
    search = _that_can_lie(wanted, stock, rooms)
    if search.floor.boards > MOST_SHEETS:
        raise Refused([too_many(stock, search.floor.boards)])
    found = bed_mm and lay_on_beds(wanted, stock, bed_mm, seed=seed, steps=pace.steps, listener=listener)
    if found:
        words = bound(stock, search.floor, found.new, found.cost, on_beds=found.has_beds)
        return Layout(stock=stock, sheets=found.sheets, bound=words)
    result = search.run(Random(seed), max(1, pace.steps), listener)
    if result.is_cut_short:
        raise Refused([too_many(stock, MOST_SHEETS)])
    if result.left_over:
        raise Refused(unplaced(wanted, [search.items[n].wanted for n in result.left_over], stock))
    return Layout(
        stock=stock,
        sheets=search.sheets(result),
        bound=bound(stock, search.floor, result.new, result.cost),
    )


def takes_whole(stock: Stock) -> Callable[[Part], bool]:
    """Whether a part of this stock lies whole on one of its sheets, offcuts of every outline among them."""
    rooms = sources(stock)

    def takes(part: Part) -> bool:
        if not rooms or not upright_turns(part, stock):
            return False
        whole = Wanted(part=part, ways=(Way(pieces=(Piece.whole(part),)),))
        return not _search([whole], stock, rooms)[1]

    return takes


def _that_can_lie(wanted: Sequence[Wanted], stock: Stock, rooms: Sequence[Source]) -> Search:
    """The search, when every part has a turn and every piece a sheet that it fits.

    Raises
    ------
    Refused
        For every part that has not.
    """
    refusals = contradictions(wanted, stock)
    sound = [(i, want) for i, want in enumerate(wanted) if i not in refusals]
    if sound:
        search, lost = _search([want for _, want in sound], stock, rooms)
        for number, piece in lost.items():
            index, _ = sound[number]
            refusals[index] = too_large(piece, stock, rooms)
    if refusals:
        raise Refused(refusals[index] for index in sorted(refusals))
    search.find_floor()
    return search


def _search(
    wanted: Sequence[Wanted], stock: Stock, rooms: Sequence[Source]
) -> tuple[Search, dict[int, Piece]]:
    """A search, and by the index of its part a piece that fits no sheet."""
    search = Search(wanted, stock, rooms)
    lost = search.lost()
    exact = sources(stock, exact=True) if lost else ()
    close = [i for i, piece in lost.items() if any(_is_close(piece, source) for source in exact)]
    if close:
        # pieces and offcuts of many corners were taken for simpler ones: now exactly
        search = Search(wanted, stock, exact, exact=close)
        lost = search.lost()
    return search, lost


def _is_close(piece: Piece, source: Source) -> bool:
    """Whether a piece that a room of slopes or voids did not take might fit it, by area and box alone."""
    if source.usable is not None or exact_area_nm2(piece.outline.polygon) > source.usable_area:
        return False
    extent, room = sorted(extent_mm(piece.outline)), sorted(source.room_mm)
    return all(e <= r for e, r in zip(extent, room, strict=True))
