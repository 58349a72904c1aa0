"""Whole layouts of items on sheets, tried one after another; the best is kept.

Deterministic: layouts are counted, not timed; chance comes from the seed alone.
"""

from collections.abc import Collection, Mapping, Sequence
from fractions import Fraction
from random import Random

from foamcut.flat.joint import Piece
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.flat.way import piece_id
from foamcut.nest.apart import Kin
from foamcut.nest.bound import Least, least
from foamcut.nest.climb import Climb
from foamcut.nest.firstfit import MOST_SHEETS, FirstFit, Plan, Result
from foamcut.nest.floor import Loose, floor
from foamcut.nest.forms import Forms, Lie, exact_area_nm2
from foamcut.nest.memory import Item
from foamcut.nest.nofit import NoFit
from foamcut.nest.plans import Plans
from foamcut.nest.rooms import NM_PER_MM, Source
from foamcut.nest.turning import may_lie_askew
from foamcut.nest.values import Kind, Listener, Placed, Progress, Sheet, Wanted

#: corners of no-fit outlines handled, after which no further layout is begun: about three seconds
MOST_WORK = 4_000_000
#: layouts tried at least, even when no fewer boards are possible
LEAST_STEPS = 24
#: layouts after which the search ends where so many pieces or more are laid and the emptiest board is fuller
#: than this share.  Of the part lists and designs tried none so full came to a board less in 500 to 2,000 of
#: them; those that came to it later than here had less than a twentieth of a board on it by now.
FAR_STEPS = 50
_FAR_PIECES = 12
_FAR = Fraction(3, 20)
#: pieces laid, after which no further layout is begun: a few seconds even where all places are remembered
_MOST_LAID = 600_000
#: the order in which sheets of a stock are counted
RANK = {Kind.OFFCUT: 0, Kind.ON_HAND: 1, Kind.NEW: 2}

#: one piece of one copy of one way of one wanted part: wanted, way, copy, piece; copies from 1
ItemKey = tuple[int, int, int, int]


class Search:
    """Lays the pieces of wanted parts on sheets; `items` are the pieces of all ways one by one.

    Parts in `exact` (indices) are not taken for simpler ones.  With `only`, no other pieces are laid.  More
    than `most` sheets are not filled.  `like` is a search for the same pieces whose forms serve again.
    """

    def __init__(
        self,
        wanted: Sequence[Wanted],
        stock: Stock,
        rooms: Sequence[Source],
        exact: Collection[int] = (),
        *,
        only: Collection[ItemKey] | None = None,
        most: int = MOST_SHEETS,
        like: "Search | None" = None,
    ) -> None:
        self.wanted = wanted
        self._stock = stock
        self._rooms = rooms
        self._has_forms_of_another = like is not None
        if like is None:
            keys = [key for key in item_keys(wanted) if only is None or key in only]
            chosen = list(dict.fromkeys((i, way, j) for i, way, _, j in keys))
            pieces = {(i, way, j): wanted[i].ways[way].pieces[j] for i, way, j in chosen}
            whole = {piece.outline.polygon.wkb for (i, _, _), piece in pieces.items() if i in exact}
            forms = Forms(list(pieces.values()), stock, _boxes(rooms), whole)
            self._nofit = NoFit(forms, stock.gap_mm)
            self.items = _items(keys, pieces, forms)
        else:
            self._nofit, self.items = like._nofit, like.items
        self.floor = least((), rooms, stock.gap_mm)
        joints = [[len(way.joints) * want.part.count for way in want.ways] for want in wanted]
        self._fill = FirstFit(self.items, rooms, self._nofit, joints, most)
        self.plans = Plans(self.items, len(self._fill.bought), self._usable_ways())

    def _usable_ways(self) -> list[list[int]]:
        """For each wanted part the ways whose pieces all fit some sheet; the first when none is."""
        lost = {(item.wanted, item.way) for item in self.too_large()}
        return [
            [way for way in range(len(want.ways)) if (i, way) not in lost] or [0]
            for i, want in enumerate(self.wanted)
        ]

    def find_floor(self) -> None:
        """Set the bound of the first ways alone; before that it is nought."""
        self.floor = self.floor_of(settled=True)

    def floor_of(self, *, settled: bool) -> Least:
        """The bound of the first ways alone, or with `settled` false of every way that there may be.

        Parts that may be cut in several ways then count by their own area.
        """
        counts: dict[int, int] = {}
        first: dict[int, Item] = {}
        loose = {
            i for i, want in enumerate(self.wanted) if not settled and (want.is_open or len(want.ways) > 1)
        }
        for item in self.items:
            if item.way == 0 and item.wanted not in loose:
                counts[item.shape] = counts.get(item.shape, 0) + 1
                first.setdefault(item.shape, item)
        kinds = [Kin(self.piece(item), counts[shape], self._fits(item)) for shape, item in first.items()]
        return floor(kinds, self._stock, self._rooms, [self._loose(i) for i in sorted(loose)])

    def _loose(self, index: int) -> Loose:
        """What is known of a part however it is cut: its own area, if it is of this stock."""
        part = self.wanted[index].part
        area = Fraction(exact_area_nm2(part.outline.polygon), NM_PER_MM**2)
        return Loose(area if part.stock == self._stock.name else Fraction(0), part.count)

    def _fits(self, item: Item) -> tuple[bool, ...]:
        return tuple(self._might_fit(item, i, source) for i, source in enumerate(self._rooms))

    def _might_fit(self, item: Item, index: int, source: Source) -> bool:
        # a form may be larger than its piece, but has its box: only upright rooms are exact; and of all
        # angles only a few are tried
        askew = may_lie_askew(self.piece(item).flat, self._stock)
        return source.usable is None or askew or self._fill.fits(item, index)

    def piece(self, item: Item) -> Piece:
        """The piece that an item is."""
        return self.wanted[item.wanted].ways[item.way].pieces[item.piece]

    def lost(self) -> dict[int, Piece]:
        """For wanted parts that no way is left for, by index, a piece that fits no empty sheet."""
        found: dict[int, Piece] = {}
        ways: dict[int, set[int]] = {}
        for item in self.too_large():
            found.setdefault(item.wanted, self.piece(item))
            ways.setdefault(item.wanted, set()).add(item.way)
        return {i: found[i] for i in found if len(ways[i]) == len(self.wanted[i].ways)}

    def too_large(self) -> list[Item]:
        """The items that fit no empty sheet."""
        shapes: dict[int, bool] = {}
        for item in self.items:
            if item.shape not in shapes:
                shapes[item.shape] = any(self._fill.fits(item, i) for i in range(len(self._rooms)))
        return [item for item in self.items if not shapes[item.shape]]

    def climb(self, rng: Random) -> "Climb":
        """A search for fewer boards, from its beginning."""
        return Climb(self, rng, self.plans.starts(self.floor.mixes))

    def run(self, rng: Random, steps: int, listener: Listener, *, share: int = 1) -> Result:
        """The best of at most `steps` layouts, with one `share`-th of the work that a search may take."""
        climb = self.climb(rng)
        before = self.work if self._has_forms_of_another else 0
        for step in range(steps):
            climb.step()
            listener(self.progress(step + 1, steps, climb.best, "laying pieces"))
            if step >= LEAST_STEPS and (climb.best.is_cut_short or self.is_least(climb.best)):
                break
            if self.is_spent(before, step + 1, share):
                break
        return climb.best

    def is_spent(self, before: int, steps: int, share: int = 1) -> bool:
        """Whether so many steps since `before` have taken the work that a search may take."""
        laid = steps * len(self.items)
        return (self.work - before) * share > MOST_WORK or laid * share > _MOST_LAID

    def is_far(self, result: Result) -> bool:
        """Whether so much lies on the emptiest board that the search is not worth its time."""
        emptiest = result.emptiest
        laid = sum(len(board.placed) for board in result.boards)
        if emptiest is None or laid < _FAR_PIECES:
            return False
        return emptiest.filled_area > _FAR * emptiest.source.usable_area

    @property
    def work(self) -> int:
        """Corners of outlines handled so far."""
        return self._nofit.work

    def layout(self, plan: Plan) -> Result:
        """The layout that a plan gives."""
        return self._fill.layout(plan)

    def progress(self, step: int, steps: int, best: Result | None, doing: str) -> Progress:
        """What to tell a listener."""
        boards = None if best is None or best.left_over else best.new
        return Progress(
            stock=self._stock.name,
            step=step,
            steps=steps,
            boards=boards,
            at_least=self.floor.boards,
            doing=doing,
        )

    def is_least(self, result: Result) -> bool:
        """Whether no layout costs less, nor has fewer boards."""
        met = self.floor.is_met(result.new, result.cost, priced=self._stock.has_prices)
        return met and not result.left_over

    def sheets(self, result: Result) -> tuple[Sheet, ...]:
        """The boards as sheets: offcuts, on hand, new, numbered from 1."""
        boards = sorted(result.boards, key=lambda b: (RANK[b.source.kind], b.index))
        return tuple(
            sheet(self._stock, board.source, number, [self.placed(*one) for one in board.placed])
            for number, board in enumerate(boards, 1)
        )

    def placed(self, number: int, lie: Lie, x: int, y: int) -> Placed:
        """An item where it lies, the place in whole nm."""
        item = self.items[number]
        piece = self.piece(item)
        placement = Placement(
            x_mm=x / NM_PER_MM, y_mm=y / NM_PER_MM, turn_deg=lie.turn_deg, flipped=lie.flipped
        )
        return Placed(
            id=piece_id(piece, item.copy),
            copy=item.copy,
            piece=piece,
            placement=placement,
            outline=piece.outline.placed(placement),
        )


def sheet(stock: Stock, source: Source, number: int, placed: Sequence[Placed]) -> Sheet:
    """A sheet from its source, with what lies on it."""
    return Sheet(
        stock=stock.name, number=number, kind=source.kind, source=source.key,
        width_mm=source.width_mm, height_mm=source.height_mm, outline=source.outline,
        placed=tuple(placed),
    )  # fmt: skip


def item_keys(wanted: Sequence[Wanted]) -> list[ItemKey]:
    """Every piece of every copy, in the order in which they are counted."""
    return [
        (i, number, copy, j)
        for i, want in enumerate(wanted)
        for number, way in enumerate(want.ways)
        for j in range(len(way.pieces))
        for copy in range(1, want.part.count + 1)
    ]


def _items(keys: Sequence[ItemKey], pieces: Mapping[tuple[int, int, int], Piece], forms: Forms) -> list[Item]:
    shapes: dict[tuple[bytes, tuple[Lie, ...]], int] = {}
    known: dict[tuple[int, int, int], tuple[tuple[Lie, ...], int, int]] = {}
    for key, piece in pieces.items():
        lies = forms.lies(piece)
        shape = shapes.setdefault((piece.outline.polygon.wkb, lies), len(shapes))
        known[key] = lies, exact_area_nm2(piece.outline.polygon), shape
    return [Item(i, way, copy, j, *known[i, way, j]) for i, way, copy, j in keys]


def _boxes(rooms: Sequence[Source]) -> list[tuple[float, float]]:
    return list(dict.fromkeys(source.room_mm for source in rooms if source.kind is not Kind.OFFCUT))
