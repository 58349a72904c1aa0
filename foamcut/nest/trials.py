"""Whole layouts of items on sheets, tried one after another; the best is kept.

Deterministic: layouts are counted, not timed; chance comes from the seed alone.
"""

from collections.abc import Collection, Mapping, Sequence
from random import Random

from foamcut.flat.joint import Piece
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.nest.apart import Kin
from foamcut.nest.bound import least
from foamcut.nest.firstfit import MOST_SHEETS, FirstFit, Result
from foamcut.nest.floor import floor
from foamcut.nest.forms import Forms, Lie, exact_area_nm2
from foamcut.nest.memory import Item
from foamcut.nest.nofit import NoFit
from foamcut.nest.plans import Plans
from foamcut.nest.rooms import NM_PER_MM, Source
from foamcut.nest.turning import may_lie_askew
from foamcut.nest.values import Kind, Listener, Placed, Progress, Sheet, Wanted

#: corners of no-fit outlines handled, after which no further layout is begun: about three seconds
MOST_WORK = 4_000_000
#: layouts still tried when no fewer boards are possible, to leave more of the last board in one piece
_TIDYING = 24
#: pieces laid, after which no further layout is begun: a few seconds even where all places are remembered
_MOST_LAID = 600_000
#: layouts without a better one, after which the search goes back to a fresh order
_PATIENCE = 400
#: the order in which sheets of a stock are counted
RANK = {Kind.OFFCUT: 0, Kind.ON_HAND: 1, Kind.NEW: 2}

#: one piece of one copy of one wanted part: their indices, copies from 1
ItemKey = tuple[int, int, int]


class Search:
    """Lays the pieces of wanted parts on sheets; `items` are the pieces one by one.

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
            chosen = list(dict.fromkeys((i, j) for i, _, j in keys))
            pieces = {(i, j): wanted[i].ways[0].pieces[j] for i, j in chosen}
            whole = {pieces[i, j].outline.polygon.wkb for i, j in chosen if i in exact}
            forms = Forms(list(pieces.values()), stock, _boxes(rooms), whole)
            self._nofit = NoFit(forms, stock.gap_mm)
            self.items = _items(keys, pieces, forms)
        else:
            self._nofit, self.items = like._nofit, like.items
        self.floor = least((), rooms, stock.gap_mm)
        self._fill = FirstFit(self.items, rooms, self._nofit, most)
        self._plans = Plans(self.items, len(self._fill.bought))

    def find_floor(self) -> None:
        """Work out the bound; before that it is nought."""
        counts: dict[int, int] = {}
        first: dict[int, Item] = {}
        for item in self.items:
            counts[item.shape] = counts.get(item.shape, 0) + 1
            first.setdefault(item.shape, item)
        kinds = [
            Kin(self.piece(item), counts[shape], item.lies, self._fits(item)) for shape, item in first.items()
        ]
        self.floor = floor(kinds, self._stock, self._rooms)

    def _fits(self, item: Item) -> tuple[bool, ...]:
        return tuple(self._might_fit(item, i, source) for i, source in enumerate(self._rooms))

    def _might_fit(self, item: Item, index: int, source: Source) -> bool:
        # a form may be larger than its piece, but has its box: only upright rooms are exact; and of all
        # angles only a few are tried
        askew = may_lie_askew(self.piece(item).flat, self._stock)
        return source.usable is None or askew or self._fill.fits(item, index)

    def piece(self, item: Item) -> Piece:
        """The piece that an item is."""
        return self.wanted[item.wanted].ways[0].pieces[item.piece]

    def lost(self) -> dict[int, Piece]:
        """For wanted parts, by index, a piece that fits no empty sheet."""
        found: dict[int, Piece] = {}
        for item in self.too_large():
            found.setdefault(item.wanted, self.piece(item))
        return found

    def too_large(self) -> list[Item]:
        """The items that fit no empty sheet."""
        shapes: dict[int, bool] = {}
        for item in self.items:
            if item.shape not in shapes:
                shapes[item.shape] = any(self._fill.fits(item, i) for i in range(len(self._rooms)))
        return [item for item in self.items if not shapes[item.shape]]

    def run(self, rng: Random, steps: int, listener: Listener, *, share: int = 1) -> Result:
        """The best of at most `steps` layouts, with one `share`-th of the work that a search may take."""
        before = self._nofit.work if self._has_forms_of_another else 0
        starts = self._plans.starts(self.floor.mixes)[:steps]
        best, plan = None, starts[0]
        current, current_plan, since = None, starts[0], 0
        listener(self._progress(0, steps, None))
        for step in range(steps):
            if step < len(starts):
                plan = starts[step]
            elif since > _PATIENCE:
                plan, current, since = self._plans.fresh(rng, starts), None, 0
            else:
                plan = self._plans.changed(current_plan, current, rng)
            result = self._fill.layout(plan)
            since += 1
            if current is None or result.worth <= current.worth:
                since = 0 if current is None or result.worth < current.worth else since
                current, current_plan = result, plan
            if best is None or result.worth < best.worth:
                best, current, current_plan, since = result, result, plan, 0
            listener(self._progress(step + 1, steps, best))
            if step >= _TIDYING and (best.is_cut_short or self._is_least(best)):
                break
            work, laid = self._nofit.work - before, (step + 1) * len(self.items)
            if work * share > MOST_WORK or laid * share > _MOST_LAID:
                break
        if best is None:
            raise ValueError("no layout was tried")
        return best

    def _progress(self, step: int, steps: int, best: Result | None) -> Progress:
        boards = None if best is None or best.left_over else best.new
        return Progress(stock=self._stock.name, step=step, steps=steps, boards=boards, doing="laying pieces")

    def _is_least(self, result: Result) -> bool:
        if result.left_over:
            return False
        if self._stock.has_prices:
            return result.cost <= self.floor.cost and result.new <= self.floor.boards_at_cost
        return result.new <= self.floor.boards

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


def piece_id(piece: Piece, copy: int) -> str:
    """What a piece of one copy is called, ``side-right-1-section-2``."""
    return f"{piece.part.name}-{copy}" + (f"-{piece.suffix}" if piece.suffix else "")


def item_keys(wanted: Sequence[Wanted]) -> list[ItemKey]:
    """Every piece of every copy, in the order in which they are counted."""
    return [
        (i, copy, j)
        for i, want in enumerate(wanted)
        for j in range(len(want.ways[0].pieces))
        for copy in range(1, want.part.count + 1)
    ]


def _items(keys: Sequence[ItemKey], pieces: Mapping[tuple[int, int], Piece], forms: Forms) -> list[Item]:
    shapes: dict[tuple[bytes, tuple[Lie, ...]], int] = {}
    known: dict[tuple[int, int], tuple[tuple[Lie, ...], int, int]] = {}
    for (i, j), piece in pieces.items():
        lies = forms.lies(piece)
        shape = shapes.setdefault((piece.outline.polygon.wkb, lies), len(shapes))
        known[i, j] = lies, exact_area_nm2(piece.outline.polygon), shape
    return [Item(i, copy, j, *known[i, j]) for i, copy, j in keys]


def _boxes(rooms: Sequence[Source]) -> list[tuple[float, float]]:
    return list(dict.fromkeys(source.room_mm for source in rooms if source.kind is not Kind.OFFCUT))
