"""Laying pieces on rectangles no larger than a machine's bed, and the rectangles on the sheets.

A rectangle is knifed off the sheet first and laid on the machine.  Two levels: pieces that fit the bed are
packed into rectangles, then rectangles and larger pieces (those are cut by hand) on the sheets.  Rectangles
of several sizes are tried: as large as the bed, such that equal ones fill a sheet, and smaller ones.  Sheets
that lie wholly on the bed need none.

Deterministic, like the search that both levels use.  Lengths in whole nm.
"""

import math
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from random import Random

from foamcut.flat.drawn import Face, Grain, Hand, Turns
from foamcut.flat.joint import Piece, Way
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.stock import SheetSize, Stock
from foamcut.nest.bed_sizes import MOST_TRIED, BedSizes, Size
from foamcut.nest.firstfit import MOST_SHEETS, Board
from foamcut.nest.forms import Lie
from foamcut.nest.memory import Item
from foamcut.nest.rooms import NM_PER_MM, UNITS, Source, nanometres, sources
from foamcut.nest.trials import RANK, ItemKey, Search, item_keys, sheet
from foamcut.nest.values import Bed, Kind, Listener, Placed, Sheet, Wanted

#: rectangles of one stock
_MOST_BEDS = 4 * MOST_SHEETS


@dataclass(frozen=True, slots=True, kw_only=True)
class OnBeds:
    """Sheets with their rectangles, new boards among them, and what those cost."""

    sheets: tuple[Sheet, ...]
    new: int
    cost: Fraction

    @property
    def has_beds(self) -> bool:
        """Whether some sheet has a rectangle."""
        return any(one.beds for one in self.sheets)


@dataclass(frozen=True, slots=True)
class _Rectangle:
    """A rectangle with what lies on it, from its lower left corner."""

    size: Size
    placed: tuple[tuple[int, Lie, int, int], ...]


@dataclass(frozen=True, slots=True)
class _Found:
    worth: tuple[int | Fraction, ...]
    new: int
    cost: Fraction
    sheets: Callable[[], list[tuple[int, Sheet]]]  # each with the place of its source


def lies_on_bed(width_mm: float, height_mm: float, bed_mm: tuple[float, float]) -> bool:
    """Whether a sheet lies wholly on the bed, one way round or the other."""
    size = nanometres(width_mm), nanometres(height_mm)
    bed = nanometres(bed_mm[0]), nanometres(bed_mm[1])
    return _within(size, bed) or _within((size[1], size[0]), bed)


def by_hand(sheets: Sequence[Sheet], bed_mm: tuple[float, float]) -> tuple[Placed, ...]:
    """The pieces that no machine of this bed cuts: on no rectangle, and their sheet not wholly on the bed."""
    found: list[Placed] = []
    for one in sheets:
        if not lies_on_bed(one.width_mm, one.height_mm, bed_mm):
            on_beds = {piece for bed in one.beds for piece in bed.pieces}
            found += [placed for placed in one.placed if placed.id not in on_beds]
    return tuple(found)


def lay_on_beds(
    wanted: Sequence[Wanted],
    stock: Stock,
    bed_mm: tuple[float, float],
    *,
    seed: int,
    steps: int,
    listener: Listener,
) -> OnBeds | None:
    """The best layout on rectangles; None: every sheet lies on the bed, no piece does, or no room is found.

    Every piece must fit some sheet.
    """
    rooms = sources(stock)
    if all(lies_on_bed(s.width_mm, s.height_mm, bed_mm) for s in rooms):
        return None
    work = _Work(wanted, stock, rooms, bed_mm, seed, steps, listener)
    found = work.best()
    if found is None:
        return None
    ordered = sorted(found.sheets(), key=lambda one: (RANK[one[1].kind], one[0]))
    numbered = tuple(replace(one, number=i) for i, (_, one) in enumerate(ordered, 1))
    return OnBeds(sheets=numbered, new=found.new, cost=found.cost)


class _Work:
    def __init__(
        self,
        wanted: Sequence[Wanted],
        stock: Stock,
        rooms: Sequence[Source],
        bed_mm: tuple[float, float],
        seed: int,
        steps: int,
        listener: Listener,
    ) -> None:
        self._wanted, self._stock, self._rooms = wanted, stock, rooms
        self._bed_mm = bed_mm
        self._seed, self._listener = seed, listener
        self._steps = max(1, steps // MOST_TRIED)
        self._gap = nanometres(stock.gap_mm)
        #: half the kerf runs outside a piece: the tool stays over the rectangle
        kerf = max(p.flat.kerf_mm for want in wanted for p in want.ways[0].pieces)
        self._edge = math.ceil(nanometres(kerf) / 2)
        bed = nanometres(bed_mm[0]), nanometres(bed_mm[1])
        self._sizes = BedSizes(bed, self._gap, self._edge)
        self._on_bed = [s for s in rooms if lies_on_bed(s.width_mm, s.height_mm, bed_mm)]
        self._off_bed = [s for s in rooms if s not in self._on_bed]

    def best(self) -> _Found | None:
        """The best of all ways tried; None: there is none with a machine in it."""
        shelf, left = self._from_shelf(set(item_keys(self._wanted)))
        found: list[_Found] = []
        bought = [s for s in self._on_bed if s.kind is Kind.NEW]
        if not left:
            found.append(shelf)
        elif bought and (direct := self._directly(left, bought)):
            found.append(_together(shelf, direct))
        if left:
            rooms = [*self._off_bed, *bought]
            for first, share in self._first_levels(left):
                one = self._two_levels(left, first, rooms, share)
                if one is not None:
                    found.append(_together(shelf, one))
        return min(found, key=lambda one: one.worth, default=None)

    def _from_shelf(self, keys: Collection[ItemKey]) -> tuple[_Found, set[ItemKey]]:
        """What lies on offcuts and boards on hand that lie on the bed themselves, and what is left."""
        rooms = [s for s in self._on_bed if s.kind is not Kind.NEW]
        nothing = _Found((0, Fraction(0), 0, 0, 0), 0, Fraction(0), list)
        if not rooms:
            return nothing, set(keys)
        search = Search(self._wanted, self._stock, rooms, only=keys)
        lost = {_key(item) for item in search.too_large()}
        fitting = set(keys) - lost
        if not fitting:
            return nothing, set(keys)
        search = Search(self._wanted, self._stock, rooms, only=fitting)
        result = search.run(Random(self._seed), self._steps, self._listener, share=MOST_TRIED)
        left = {_key(search.items[n]) for n in result.left_over}
        return replace(nothing, sheets=lambda: self._plain(search, result.boards)), lost | left

    def _directly(self, keys: Collection[ItemKey], rooms: Sequence[Source]) -> _Found | None:
        """Everything on new boards that lie on the bed themselves, when all of it fits them."""
        search = Search(self._wanted, self._stock, rooms, only=keys)
        if search.lost():
            return None
        search.find_floor()
        result = search.run(Random(self._seed), self._steps, self._listener, share=MOST_TRIED)
        if result.is_cut_short or result.left_over:
            return None
        area = sum(board.source.usable_area for board in result.boards)
        worth = 0, result.cost, result.new, area, 0
        return _Found(worth, result.new, result.cost, lambda: self._plain(search, result.boards))

    def _plain(self, search: Search, boards: Sequence[Board]) -> list[tuple[int, Sheet]]:
        """Sheets without rectangles."""
        return [
            (
                self._rooms.index(board.source),
                sheet(self._stock, board.source, 0, [search.placed(*one) for one in board.placed]),
            )
            for board in boards
        ]

    def _first_levels(self, keys: Collection[ItemKey]) -> list[tuple[Search, int]]:
        """Searches for the pieces that fit the bed, by sizes of rectangles, and how many there are."""
        largest = self._sizes.largest(self._off_bed)
        if not largest:
            return []
        large = self._first_level(keys, largest).too_large()
        first = max(large, key=lambda item: item.area, default=None)
        sizes = self._sizes.worth_trying([*self._off_bed, *self._on_bed], first)
        small = set(keys) - {_key(item) for item in large}
        if not small:
            return []
        like = self._first_level(small, list(dict.fromkeys((*sizes, *largest))))
        found = []
        for size in sizes:
            search = self._first_level(small, [size], like)
            if search.lost():
                # the largest beside it, for what it does not hold
                search = self._first_level(small, list(dict.fromkeys((size, *largest))), like)
            found.append((search, len(sizes)))
        return found

    def _first_level(
        self, keys: Collection[ItemKey], sizes: Sequence[Size], like: Search | None = None
    ) -> Search:
        """A search whose sheets are rectangles of the sizes, priced by their area."""
        stock = replace(
            self._stock,
            margin_mm=self._edge / NM_PER_MM,
            offcuts=(),
            sheets=tuple(
                SheetSize(
                    key=f"bed[{i}]",
                    width_mm=w / NM_PER_MM,
                    height_mm=h / NM_PER_MM,
                    price=Decimal(w) * Decimal(h) / NM_PER_MM**2,
                )
                for i, (w, h) in enumerate(sizes)
            ),
        )
        return Search(self._wanted, stock, sources(stock), only=keys, most=_MOST_BEDS, like=like)

    def _two_levels(
        self, keys: Collection[ItemKey], first: Search, rooms: Sequence[Source], share: int
    ) -> _Found | None:
        """The best layout with the rectangles of the first level; None: there is none."""
        first.find_floor()
        result = first.run(Random(self._seed), self._steps, self._listener, share=2 * share)
        if result.is_cut_short or result.left_over:
            return None
        rectangles = [self._rectangle(board) for board in result.boards]
        wanted = [*self._wanted, *(self._as_wanted(r, i) for i, r in enumerate(rectangles))]
        only = set(keys) - {_key(item) for item in first.items}
        only |= {(len(self._wanted) + i, 0, 1, 0) for i in range(len(rectangles))}
        second = Search(wanted, self._stock, rooms, only=only)
        if second.lost():
            return None
        second.find_floor()
        result = second.run(Random(self._seed), self._steps, self._listener, share=2 * share)
        if result.is_cut_short or result.left_over:
            return None
        area, *rest = result.nearness
        worth = 0, result.cost, result.new, area, len(rectangles), *rest
        return _Found(
            worth,
            result.new,
            result.cost,
            lambda: [self._with_beds(board, second, first, rectangles) for board in result.boards],
        )

    def _rectangle(self, board: Board) -> _Rectangle:
        """What a board of the first level holds, cut back to what lies on it and a gap around."""
        boxes = [_box(lie, x, y) for _, lie, x, y in board.placed]
        corner, size = [0, 0], [0, 0]
        for axis in (0, 1):
            low, high = min(box[axis] for box in boxes), max(box[axis + 2] for box in boxes)
            room = nanometres((board.source.width_mm, board.source.height_mm)[axis])
            size[axis] = min(room, high - low + 2 * max(self._gap, self._edge))
            corner[axis] = low - (size[axis] - (high - low)) // 2
        placed = tuple((n, lie, x - corner[0], y - corner[1]) for n, lie, x, y in board.placed)
        return _Rectangle((size[0], size[1]), placed)

    def _as_wanted(self, rectangle: _Rectangle, index: int) -> Wanted:
        """A rectangle as the second level sees it: a part that is not turned."""
        width, height = (v / NM_PER_MM for v in rectangle.size)
        part = Part(
            key="", name=f"bed {index}", stock=self._stock.name, thickness_mm=self._stock.thickness_mm,
            count=1, hand=Hand.NONE, face=Face.INNER, grain=Grain.ANY, turns=Turns.NONE,
            outline=Outline.rectangle(0, 0, width, height),
        )  # fmt: skip
        return Wanted(part=part, ways=(Way(pieces=(Piece.whole(part),)),))

    def _with_beds(
        self, board: Board, second: Search, first: Search, rectangles: Sequence[_Rectangle]
    ) -> tuple[int, Sheet]:
        """A sheet with the rectangles opened; those of a sheet that lies on the bed are forgotten."""
        placed: list[Placed] = []
        beds: list[Bed] = []
        for number, lie, x, y in board.placed:
            index = second.items[number].wanted - len(self._wanted)
            if index < 0:
                placed.append(second.placed(number, lie, x, y))
                continue
            rectangle = rectangles[index]
            inside = [first.placed(n, turn, x + dx, y + dy) for n, turn, dx, dy in rectangle.placed]
            placed += inside
            beds.append(
                Bed(
                    number=0,
                    corner=(x / NM_PER_MM, y / NM_PER_MM),
                    width_mm=rectangle.size[0] / NM_PER_MM,
                    height_mm=rectangle.size[1] / NM_PER_MM,
                    pieces=tuple(one.id for one in inside),
                )
            )
        source = board.source
        one = sheet(self._stock, source, 0, placed)
        if not lies_on_bed(source.width_mm, source.height_mm, self._bed_mm):
            beds.sort(key=lambda bed: bed.corner)
            one = replace(one, beds=tuple(replace(bed, number=i) for i, bed in enumerate(beds, 1)))
        return self._rooms.index(source), one


def _together(shelf: _Found, rest: _Found) -> _Found:
    return replace(rest, sheets=lambda: [*shelf.sheets(), *rest.sheets()])


def _key(item: Item) -> ItemKey:
    return item.wanted, item.way, item.copy, item.piece


def _box(lie: Lie, x: int, y: int) -> tuple[int, int, int, int]:
    """The box of a piece where it lies, nm outwards."""
    x0, y0, x1, y1 = lie.bounds
    return x + x0 // UNITS, y + y0 // UNITS, x - (-x1 // UNITS), y - (-y1 // UNITS)


def _within(size: Size, room: Size) -> bool:
    return all(a <= b for a, b in zip(size, room, strict=True))
