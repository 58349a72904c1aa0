"""The words for a bound: what is proven of the boards of one stock and why, and how near fewer came."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from foamcut.flat.stock import Stock
from foamcut.nest.values import NearMiss
from foamcut.units import decimal_text

#: more names than this say less than their number
_MOST_NAMES = 3


@dataclass(frozen=True, slots=True)
class Least:
    """The fewest new boards, the least they cost, and the grounds.

    `boards_at_cost` is the fewest new boards that cost no more than `cost`.  `by_area` is the area of the
    parts and `on_hand` that of the shelf, in boards of the largest size; `apart` names the pieces of which no
    two fit one board, when they prove more than the area.  `crowded` names pieces that one board less
    cannot take however they are shared out, when that proves most; `by_lines`: because of their length alone.
    `mixes` are sizes to buy in turn, worth trying first; each is an index among the sizes sold.
    """

    boards: int
    cost: Fraction
    boards_at_cost: int
    by_area: Fraction
    on_hand: Fraction
    apart: tuple[str, ...]
    mixes: tuple[tuple[int, ...], ...]
    crowded: tuple[str, ...] = ()
    by_lines: bool = False

    def is_met(self, new: int, cost: Fraction, *, priced: bool) -> bool:
        """Whether so many boards at this cost are proven least: by cost first, where there are prices."""
        return cost <= self.cost and new <= self.boards_at_cost if priced else new <= self.boards


def reason(
    stock: Stock, floor: Least, new: int, cost: Fraction, near: NearMiss | None, *, on_beds: bool
) -> str:
    """What is proven and why, or that nothing is: boards and cost may each be proven alone."""
    if not new:
        return "proven: everything fits on what is on hand, and no board is bought"
    mixed = stock.has_prices and len(stock.sheets) > 1
    used = f"{new} {'is' if new == 1 else 'are'} used"
    if new == floor.boards:
        need = "1 is needed" if new == 1 else f"{new} are needed"
        fewest = f"proven: {_grounds(floor)}, so {need} and {used}"
        if cost == floor.cost:
            return fewest + "; no mix costs less" * mixed
        return f"{fewest}; no fewer boards do, but a cheaper mix is not ruled out"
    area = _area(floor)
    if stock.has_prices and cost == floor.cost:
        no_fewer = "no fewer boards do" if new == floor.boards_at_cost else "fewer boards are not ruled out"
        return f"proven: {area}, and no mix costs less; at that cost {no_fewer}"
    might = f"{floor.boards} might do" if floor.boards else "none might do"
    dearer = ", and a cheaper mix is not ruled out" * mixed
    beds = "; that does not count what the rectangles for the bed take" * on_beds
    return f"not proven: {area}; {used}, {might}{dearer}{beds}{_nearly(floor, new, near)}"


def _nearly(floor: Least, new: int, near: NearMiss | None) -> str:
    """How near a layout of fewer boards came: which pieces alone had no place."""
    if near is None or not near.missing or not floor.boards <= near.boards < new:
        return ""
    boards = f"{near.boards} {'board' if near.boards == 1 else 'boards'}"
    if floor.on_hand:
        boards = f"what is on hand and {boards}" if near.boards else "what is on hand"
    return f"; all but {_missing(near.missing)} fit on {boards}"


def _missing(names: Sequence[str]) -> str:
    """Names with how many of each, or how many pieces when there are many names.

    >>> _missing(["deck"]), _missing(["rib", "deck", "rib"]), _missing(["a", "b", "c", "c"])
    ('deck', '2 of rib and deck', 'a, b and 2 of c')
    >>> _missing(["a", "b", "c", "d", "d"])
    '5 pieces'
    """
    counts = Counter(names)
    if len(counts) > _MOST_NAMES:
        return f"{len(names)} pieces"
    *first, last = (name if count == 1 else f"{count} of {name}" for name, count in counts.items())
    return f"{', '.join(first)} and {last}" if first else last


def _area(floor: Least) -> str:
    area = f"the parts cover {_boards(floor.by_area)}"
    if floor.on_hand:
        area += f", what is on hand holds {_boards(floor.on_hand)} at most"
    return area


def _grounds(floor: Least) -> str:
    """Why there are no fewer boards."""
    if floor.crowded:
        return _crowd(floor)
    if floor.apart:
        shelf = ", new or on hand" * bool(floor.on_hand)
        if len(floor.apart) == 2:
            return f"{_missing(floor.apart)} do not fit one board together{shelf}"
        return f"no two of {_parts(floor.apart)} fit one board{shelf}"
    if floor.by_area - floor.on_hand <= floor.boards - 1:
        return f"{_area(floor)}, but some fit only some of the sheets"
    return _area(floor)


def _crowd(floor: Least) -> str:
    parts = _parts(floor.crowded)
    fewer = f"{floor.boards - 1} {'board' if floor.boards == 2 else 'boards'}"
    if floor.on_hand:
        fewer = f"what is on hand and {fewer}" if floor.boards > 1 else "what is on hand"
    if floor.by_lines:
        return f"{parts} are too long to lie end to end and too wide to lie side by side on {fewer}"
    return f"{parts} do not fit {fewer}, however they are shared out"


def _parts(names: Sequence[str]) -> str:
    """How many parts, and their names or the first of them.

    >>> _parts(["rib", "deck", "rib"]), _parts(["a", "b", "c", "d", "e", "f"])
    ('3 parts (rib, deck)', '6 parts (a, b, c and others)')
    """
    all_names = list(dict.fromkeys(names))
    told = ", ".join(all_names[:_MOST_NAMES])
    if len(all_names) == _MOST_NAMES + 1:
        told = ", ".join(all_names)
    elif len(all_names) > _MOST_NAMES:
        told += " and others"
    return f"{len(names)} {'part' if len(names) == 1 else 'parts'} ({told})"


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
