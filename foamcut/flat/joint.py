"""Ways to cut a part from a stock, best first: whole, or in sections with doublers."""

from collections.abc import Callable

from foamcut.errors import Refused
from foamcut.flat.drawn import Doubling
from foamcut.flat.fitting import Fitting, lies_whole
from foamcut.flat.joining import Joining
from foamcut.flat.joint_choice import lines_of_hand
from foamcut.flat.joint_refusals import too_large
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.flat.way import Joint, Piece, Role, Way

__all__ = ["MOST_WAYS", "Joint", "Piece", "Role", "Way", "ways"]

#: ways that `ways` gives at most
MOST_WAYS = 50


def ways(
    part: Part,
    stock: Stock,
    *,
    doubler_stock: Stock | None = None,
    takes_whole: Callable[[Part], bool] | None = None,
    most: int = MOST_WAYS,
    letters_from: int = 0,
) -> tuple[Way, ...]:
    """The ways to cut one copy of `part` from sheets of `stock`, best first, at most `most`.

    A part that lies on a sheet in its turns is left whole, unless the builder gave joint lines for it; one
    that may be joined to save a board is left whole first and joined after.  Of the others, the builder's
    lines make the one way, else the best lines are found (see `foamcut.flat.joint_lines`), and after the
    best those that are least like it; those of a left-hand part keep off those of its right-hand one.

    Parameters
    ----------
    doubler_stock
        The stock that doublers are cut from, where it is another one than `stock`.
    takes_whole
        Asked of a part that fits no upright sheet, when there are offcuts of other outlines.
    letters_from
        So many letters are taken by doublers of other parts: those of this one come after them.

    Raises
    ------
    Refused
        The part is longer than every sheet and cannot be joined: what stands in the way.
    ValueError
        A stock is not the one that the part or its doubler names.
    """
    if part.stock != stock.name:
        raise ValueError(f"part {part.name!r} is cut from {part.stock!r}, not from {stock.name!r}")
    fitting = Fitting.of(part, stock)
    if not fitting.upright:  # nesting says why nothing can be laid
        return (Way(pieces=(Piece.whole(part),)),)
    own = lines_of_hand(part, part.hand)
    fits = lies_whole(part, stock, takes_whole)
    whole = (Way(pieces=(Piece.whole(part),)),)
    # what is wrong with the builder's lines is told whether or not they are taken
    if fits and not own and (not part.may_join or most == 1):
        return whole
    if not fits and not part.may_be_joined:
        raise Refused([too_large(part, stock, fitting)])
    doubling = part.doubling or Doubling.usual(f"{part.key}.doubler", part.stock, part.thickness_mm)
    of_doublers = stock if doubling.stock == stock.name else doubler_stock
    if of_doublers is None or of_doublers.name != doubling.stock:
        raise ValueError(f"doublers of {part.name!r} are cut from {doubling.stock!r}, which is not given")
    work = Joining(part, stock, fitting, doubling, of_doublers, fits, letters_from)
    if not (fits and part.may_join):
        return work.by_builder(own) if own else work.by_program(most)
    if own:
        return (*whole, *work.by_builder(own))[:most]
    try:
        return (*whole, *work.by_program(most - 1))
    except Refused:  # no line will do: it stays whole
        return whole
