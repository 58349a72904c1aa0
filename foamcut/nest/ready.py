"""A search for parts that can lie at all, or why they cannot."""

from collections.abc import Callable, Sequence

from foamcut.errors import Refused
from foamcut.flat.joint import Piece, Way
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest.forms import exact_area_nm2, extent_mm
from foamcut.nest.refusals import contradictions, too_large
from foamcut.nest.rooms import Source, sources
from foamcut.nest.trials import Search
from foamcut.nest.turning import upright_turns
from foamcut.nest.values import Wanted


def takes_whole(stock: Stock) -> Callable[[Part], bool]:
    """Whether a part of this stock lies whole on one of its sheets, offcuts of every outline among them."""
    rooms = sources(stock)

    def takes(part: Part) -> bool:
        if not rooms or not upright_turns(part, stock):
            return False
        whole = Wanted(part=part, ways=(Way(pieces=(Piece.whole(part),)),))
        return not _search([whole], stock, rooms)[1]

    return takes


def that_can_lie(wanted: Sequence[Wanted], stock: Stock, rooms: Sequence[Source]) -> Search:
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
