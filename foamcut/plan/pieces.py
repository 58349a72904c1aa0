"""What is cut of each part: the way that is taken, its pieces stock by stock, their names and numbers."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from foamcut.design.parts import MAX_PIECES
from foamcut.errors import Refusal, Refused
from foamcut.flat.drawn import Hand
from foamcut.flat.joint import Joint, Piece, Role, Way, ways
from foamcut.flat.joint_choice import lines_of_hand
from foamcut.flat.joint_pairs import compared
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.flat.way import piece_id
from foamcut.nest.values import Laid, Layout, Wanted

#: ways of a part that are offered where fewer boards are not ruled out
MOST_OFFERED = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """A part and the way in which every copy of it is cut."""

    part: Part
    way: Way

    @property
    def sections(self) -> int:
        """Into how many it is cut; 1: it lies whole."""
        return sum(piece.role is not Role.DOUBLER for piece in self.way.pieces)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Offer:
    """A part with the ways it is offered in at first; letters of its doublers come after `letters_from`."""

    part: Part
    ways: tuple[Way, ...]
    letters_from: int

    @property
    def is_open(self) -> bool:
        """Whether the program may place its joints elsewhere, or some at all."""
        first = self.ways[0]
        if first.joints:
            return not any(joint.placed_by for joint in first.joints)
        return self.part.may_join and len(self.ways) == 1


class Offers:
    """The ways to cut the parts of a design, for nesting to choose among; `refusals`: why some have none.

    Letters of doublers run through the parts in their order, so that none can be taken for another.  They
    hang on the ways that are taken: they are given for the usual ways, and anew for those that are chosen.
    """

    def __init__(self, parts: Sequence[Part], stocks: Sequence[Stock]) -> None:
        self._by_name = {stock.name: stock for stock in stocks}
        self._asked = {stock.name: _Asked(stock) for stock in stocks}
        self._parts = tuple(parts)
        self._offers: list[_Offer] = []
        refusals: list[Refusal] = []
        lettered = 0
        for part in parts:
            # the usual way alone is worked out; along the builder's lines there is but one more
            most = 2 if part.may_join and lines_of_hand(part, part.hand) else 1
            try:
                found = self._ways(part, most, lettered)
            except Refused as err:
                refusals += err.refusals
            else:
                self._offers.append(_Offer(part=part, ways=found, letters_from=lettered))
                lettered += _letters(found[0])
        self._spare = MAX_PIECES - _count(self.usual)
        self.refusals = (*refusals, *_too_many(self.usual), *_names_taken(self.usual, parts))

    @property
    def usual(self) -> tuple[Chosen, ...]:
        """Every part that can be cut, with its first way."""
        return tuple(Chosen(part=one.part, way=one.ways[0]) for one in self._offers)

    @property
    def wanted(self) -> list[Wanted]:
        """Every part that can be cut, with the ways that it is offered in at first."""
        return [Wanted(part=one.part, ways=one.ways, is_open=one.is_open) for one in self._offers]

    def more_ways(self, indices: Sequence[int]) -> list[Wanted]:
        """Those of `wanted` with further ways, the known one first; none where pieces would be too many."""
        found = []
        for one in (self._offers[i] for i in indices):
            several = self._ways(one.part, MOST_OFFERED, one.letters_from) if one.is_open else one.ways
            most = max(len(way.pieces) for way in several)
            added = one.part.count * (most - len(one.ways[0].pieces))
            if added > self._spare:
                several = one.ways
            else:
                self._spare -= added
            found.append(Wanted(part=one.part, ways=several, is_open=one.is_open))
        return found

    def settled(self, laid: Laid) -> tuple[tuple[Chosen, ...], tuple[Layout, ...]]:
        """Every part with the way that was taken, its doublers lettered, and the layouts with these pieces.

        `laid` comes of `wanted` and `more_ways`.  Outlines and placements stay as they are.

        Raises
        ------
        Refused
            A piece would be called like another part, or there are too many; not what `refusals` has.
        """
        chosen: list[Chosen] = []
        pieces: dict[tuple[str, str], Piece] = {}
        lettered = 0
        for one, want, index in zip(self._offers, laid.wanted, laid.ways, strict=True):
            taken = way = want.ways[index]
            if way.joints and lettered != one.letters_from:
                way = self._ways(one.part, index + 1, lettered)[index]
            lettered += _letters(way)
            chosen.append(Chosen(part=one.part, way=way))
            for before, after in zip(taken.pieces, way.pieces, strict=True):
                pieces[one.part.name, before.suffix] = after
        found = (*_too_many(chosen), *_names_taken(chosen, self._parts))
        if refusals := [refusal for refusal in found if refusal not in self.refusals]:
            raise Refused(refusals)
        if any(laid.ways):
            chosen = _hands_compared(chosen)
        return tuple(chosen), tuple(_with_pieces(layout, pieces) for layout in laid.layouts)

    def _ways(self, part: Part, most: int, letters_from: int) -> tuple[Way, ...]:
        doubling = part.doubling
        return ways(
            part,
            self._by_name[part.stock],
            doubler_stock=self._by_name.get(doubling.stock) if doubling else None,
            takes_whole=self._asked[part.stock],
            most=most,
            letters_from=letters_from,
        )


class _Asked:
    """Whether a part that fits no upright sheet of a stock lies on one askew, or on an offcut."""

    def __init__(self, stock: Stock) -> None:
        self._stock = stock
        self._ask: Callable[[Part], bool] | None = None

    def __call__(self, part: Part) -> bool:
        if self._ask is None:
            # the search takes as long to load as to weigh an aeroplane, and few parts ask for it
            from foamcut.nest.search import takes_whole

            self._ask = takes_whole(self._stock)
        return self._ask(part)


def _letters(way: Way) -> int:
    """How many letters the doublers of a way take."""
    return sum(len(joint.letters) for joint in way.joints)


def _hands_compared(chosen: Sequence[Chosen]) -> list[Chosen]:
    """The parts, those of pairs with what there is to say of the joints of both hands."""
    found = list(chosen)
    rights = {one.part.key: i for i, one in enumerate(chosen) if one.part.hand is Hand.RIGHT}
    for i, one in enumerate(chosen):
        if one.part.hand is Hand.LEFT and one.part.key in rights:
            j = rights[one.part.key]
            right, left = compared((chosen[j].part, chosen[j].way), (one.part, one.way))
            found[j], found[i] = replace(chosen[j], way=right), replace(one, way=left)
    return found


def _with_pieces(layout: Layout, pieces: Mapping[tuple[str, str], Piece]) -> Layout:
    """A layout with other pieces of the same outlines, by the name of the part and the old suffix."""
    ids: dict[str, str] = {}
    names: dict[str, str] = {}
    sheets = []
    for sheet in layout.sheets:
        placed = []
        for one in sheet.placed:
            piece = pieces[one.piece.part.name, one.piece.suffix]
            ids[one.id] = piece_id(piece, one.copy)
            names[one.piece.flat.name] = piece.flat.name
            placed.append(replace(one, piece=piece, id=ids[one.id]))
        beds = tuple(replace(bed, pieces=tuple(ids[name] for name in bed.pieces)) for bed in sheet.beds)
        sheets.append(replace(sheet, placed=tuple(placed), beds=beds))
    reason = _with_names(layout.bound.reason, names)
    return replace(layout, sheets=tuple(sheets), bound=replace(layout.bound, reason=reason))


def _with_names(sentence: str, names: Mapping[str, str]) -> str:
    """A sentence with other names of pieces in it."""
    others = sorted((name for name, new in names.items() if name != new), key=len, reverse=True)
    if not others:
        return sentence
    whole = "|".join(map(re.escape, others))
    return re.sub(rf"(?<![\w-])(?:{whole})(?![\w-])", lambda found: names[found[0]], sentence)


def wanted_of(chosen: Iterable[Chosen], stock: Stock) -> list[Wanted]:
    """The parts of which pieces are cut from this stock, with those pieces alone."""
    found = []
    for one in chosen:
        pieces = tuple(piece for piece in one.way.pieces if piece.flat.stock == stock.name)
        if pieces:
            found.append(Wanted(part=one.part, ways=(Way(pieces=pieces, joints=one.way.joints),)))
    return found


def numbers_of(chosen: Iterable[Chosen]) -> dict[str, int]:
    """Each piece's number by the name of its flat part, in the order of the design, from 1."""
    flats = [piece.flat.name for one in chosen for piece in one.way.pieces]
    return {name: number for number, name in enumerate(flats, 1)}


def joints_of(chosen: Iterable[Chosen]) -> dict[str, tuple[Joint, ...]]:
    """The joints of every part that has any, by its name."""
    return {one.part.name: one.way.joints for one in chosen if one.way.joints}


def joints_table(joints: Mapping[str, Sequence[Joint]]) -> list[dict[str, object]]:
    """The joints as records: at one x or one y of the part, mm; length of the whole part across it, mm."""
    return [
        {
            "part": name,
            "axis": "y" if joint.x_mm is None else "x",
            "at": joint.y_mm if joint.x_mm is None else joint.x_mm,
            "doublers": list(joint.letters),
            "length": joint.length_mm,
        }
        for name, several in joints.items()
        for joint in several
    ]


def _count(chosen: Iterable[Chosen]) -> int:
    """How many pieces are cut."""
    return sum(one.part.count * len(one.way.pieces) for one in chosen)


def _too_many(chosen: Sequence[Chosen]) -> Iterator[Refusal]:
    count = _count(chosen)
    if count > MAX_PIECES:
        most = f"at most {MAX_PIECES:,} are laid out"
        text = f"{count:,} pieces are wanted, sections and doublers among them; {most}"
        yield Refusal(key="parts", text=text)


def _names_taken(chosen: Sequence[Chosen], parts: Iterable[Part]) -> Iterator[Refusal]:
    """A name that a piece of a joined part would share with another part or with one of its copies."""
    taken: dict[str, str] = {}
    for one in chosen:
        for piece in one.way.pieces:
            if piece.role is not Role.WHOLE:
                names = _names(piece, one.part.count)
                taken.update(dict.fromkeys(names, one.part.name))
    for part in parts:
        whole = _names(Piece.whole(part), part.count)
        if clash := next((name for name in whole if taken.get(name, part.name) != part.name), None):
            text = (
                f"{taken[clash]} is cut in two, and one of its pieces needs the name {clash}; "
                "give this part another name"
            )
            yield Refusal(key=part.key, text=text)


def _names(piece: Piece, count: int) -> Iterator[str]:
    yield piece.flat.name
    for copy in range(1, count + 1):
        yield piece_id(piece, copy)
