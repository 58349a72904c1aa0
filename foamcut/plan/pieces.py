"""What is cut of each part: the way that is taken, its pieces stock by stock, their names and numbers."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from foamcut.design.parts import MAX_PIECES
from foamcut.errors import Refusal, Refused
from foamcut.flat.joint import Joint, Piece, Role, Way, ways
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest.search import takes_whole
from foamcut.nest.trials import piece_id
from foamcut.nest.values import Wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """A part and the way in which every copy of it is cut."""

    part: Part
    way: Way

    @property
    def sections(self) -> int:
        """Into how many it is cut; 1: it lies whole."""
        return sum(piece.role is not Role.DOUBLER for piece in self.way.pieces)


def choose(parts: Sequence[Part], stocks: Sequence[Stock]) -> tuple[tuple[Chosen, ...], tuple[Refusal, ...]]:
    """The best way of every part, and why some parts have none.

    Letters of doublers run through the parts in their order, so that none can be taken for another.
    """
    by_name = {stock.name: stock for stock in stocks}
    asked = {stock.name: takes_whole(stock) for stock in stocks}
    chosen: list[Chosen] = []
    refusals: list[Refusal] = []
    lettered = 0
    for part in parts:
        doubling = part.doubling
        other = by_name.get(doubling.stock) if doubling and doubling.stock != part.stock else None
        try:
            # the first way is taken: none of the others is asked for
            takes = asked[part.stock]
            (best, *_) = ways(
                part,
                by_name[part.stock],
                doubler_stock=other,
                takes_whole=takes,
                most=1,
                letters_from=lettered,
            )
        except Refused as err:
            refusals += err.refusals
        else:
            chosen.append(Chosen(part=part, way=best))
            lettered += sum(len(joint.letters) for joint in best.joints)
    return tuple(chosen), (*refusals, *_too_many(chosen), *_names_taken(chosen, parts))


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


def _too_many(chosen: Sequence[Chosen]) -> Iterator[Refusal]:
    count = sum(one.part.count * len(one.way.pieces) for one in chosen)
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
                f"{taken[clash]} is longer than its sheets, and what it is cut in needs the name {clash}; "
                "give this part another name"
            )
            yield Refusal(key=part.key, text=text)


def _names(piece: Piece, count: int) -> Iterator[str]:
    yield piece.flat.name
    for copy in range(1, count + 1):
        yield piece_id(piece, copy)
