"""Lays wanted parts on the sheets of their stock: many whole layouts, the best is kept.

Deterministic: layouts are counted, not timed; chance comes from the seed alone.
"""

from collections.abc import Collection, Sequence
from fractions import Fraction
from random import Random

from foamcut.errors import Refused
from foamcut.flat.joint import Piece
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.nest.apart import Kin, pieces_apart
from foamcut.nest.bound import bound, grown_area, least
from foamcut.nest.firstfit import MOST_SHEETS, Board, FirstFit, Result
from foamcut.nest.forms import Forms, Lie, exact_area_nm2, extent_mm
from foamcut.nest.memory import Item
from foamcut.nest.nofit import NoFit
from foamcut.nest.plans import Plans
from foamcut.nest.refusals import contradictions, too_large, too_many, unplaced
from foamcut.nest.rooms import NM_PER_MM, Source, sources, stock_refusals
from foamcut.nest.turning import may_lie_askew
from foamcut.nest.values import Kind, Layout, Listener, Placed, Progress, Sheet, Wanted, tell_nobody

#: whole layouts tried, chosen by tests/benchmarks/nesting.py
STEPS = 2000
#: corners of no-fit outlines handled, after which no further layout is begun: about three seconds
MOST_WORK = 4_000_000
#: layouts still tried when no fewer boards are possible, to leave more of the last board in one piece
_TIDYING = 24
#: pieces laid, after which no further layout is begun: a few seconds even where all places are remembered
_MOST_LAID = 600_000
#: layouts without a better one, after which the search goes back to a fresh order
_PATIENCE = 400


def lay(
    wanted: Sequence[Wanted],
    stock: Stock,
    *,
    seed: int,
    steps: int = STEPS,
    listener: Listener = tell_nobody,
) -> Layout:
    """The best layout found of all wanted parts (all of this stock) in `steps` whole layouts at most.

    Made least: the cost when every size has a price, then boards bought, then their area, then what lies on
    the board with the least on it and how far it reaches.  Sheets on hand are used first.

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
    result = search.run(Random(seed), max(1, steps), listener)
    if result.is_cut_short:
        raise Refused([too_many(stock, MOST_SHEETS)])
    if result.left_over:
        raise Refused(unplaced(wanted, [search.items[n].wanted for n in result.left_over], stock))
    return Layout(
        stock=stock,
        sheets=search.sheets(result),
        bound=bound(stock, search.floor, result.new, result.cost),
    )


def _that_can_lie(
    wanted: Sequence[Wanted], stock: Stock, rooms: Sequence[Source]
) -> "_Search":
    """The search, when every part has a turn and every piece a sheet that it fits.

    Raises
    ------
    Refused
        For every part that has not.
    """
    refusals = contradictions(wanted, stock)
    sound = [(i, want) for i, want in enumerate(wanted) if i not in refusals]
    if sound:
        search = _Search([want for _, want in sound], stock, rooms)
        lost = search.lost()
        exact = sources(stock, exact=True) if lost else ()
        close = [i for i, piece in lost.items() if any(_is_close(piece, source) for source in exact)]
        if close:
            # pieces and offcuts of many corners were taken for simpler ones: now exactly
            search = _Search([want for _, want in sound], stock, exact, exact=close)
            lost = search.lost()
        for number, piece in lost.items():
            index, want = sound[number]
            refusals[index] = too_large(want.part, piece.outline, stock, rooms)
    if refusals:
        raise Refused(refusals[index] for index in sorted(refusals))
    search.find_floor()
    return search


class _Search:
    def __init__(
        self, wanted: Sequence[Wanted], stock: Stock, rooms: Sequence[Source], exact: Collection[int] = ()
    ) -> None:
        self._wanted = wanted
        self._stock = stock
        self._rooms = rooms
        chosen = [w.ways[0].pieces for w in wanted]
        whole = {p.outline.polygon.wkb for i in exact for p in chosen[i]}
        forms = Forms([p for pieces in chosen for p in pieces], stock, _boxes(rooms), whole)
        self._nofit = NoFit(forms, stock.gap_mm)
        self.floor = least((), rooms, stock.gap_mm)
        self.items = _items(wanted, forms)
        self._fill = FirstFit(self.items, rooms, self._nofit)
        self._plans = Plans(self.items, len(self._fill.bought))

    def find_floor(self) -> None:
        """Work out the bound; before that it is nought."""
        rooms = self._rooms
        counts: dict[int, int] = {}
        first: dict[int, Item] = {}
        for item in self.items:
            counts[item.shape] = counts.get(item.shape, 0) + 1
            first.setdefault(item.shape, item)
        areas = [
            (
                grown_area(self.piece(item).outline.polygon, self._stock.gap_mm),
                counts[shape],
                tuple(self._might_fit(item, i, source) for i, source in enumerate(rooms)),
            )
            for shape, item in first.items()
        ]
        self.floor = least(areas, rooms, self._stock.gap_mm, self._apart(first, counts))

    def _apart(self, first: dict[int, Item], counts: dict[int, int]) -> list[tuple[str, tuple[bool, ...]]]:
        """Pieces of which no two fit one sheet, each with the sources that it fits."""
        shapes = list(first)
        kinds = [Kin(self.piece(first[s]), counts[s], first[s].lies) for s in shapes]
        found = []
        for index, count in pieces_apart(kinds, self._stock, self._rooms):
            item = first[shapes[index]]
            fits = tuple(self._might_fit(item, i, source) for i, source in enumerate(self._rooms))
            found.extend([(self.piece(item).part.name, fits)] * count)
        return found

    def _might_fit(self, item: Item, index: int, source: Source) -> bool:
        # a form may be larger than its piece, but has its box: only upright rooms are exact; and of all
        # angles only a few are tried
        askew = may_lie_askew(self.piece(item).part, self._stock)
        return source.usable is None or askew or self._fill.fits(item, index)

    def piece(self, item: Item) -> Piece:
        """The piece that an item is."""
        return self._wanted[item.wanted].ways[0].pieces[item.piece]

    def lost(self) -> dict[int, Piece]:
        """For wanted parts, by index, a piece that fits no empty sheet."""
        shapes: dict[int, bool] = {}
        found: dict[int, Piece] = {}
        for item in self.items:
            if item.shape not in shapes:
                shapes[item.shape] = any(self._fill.fits(item, i) for i in range(len(self._rooms)))
            if not shapes[item.shape]:
                found.setdefault(item.wanted, self.piece(item))
        return found

    def run(self, rng: Random, steps: int, listener: Listener) -> Result:
        """The best of at most `steps` layouts."""
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
            if self._nofit.work > MOST_WORK or (step + 1) * len(self.items) > _MOST_LAID:
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
        rank = {Kind.OFFCUT: 0, Kind.ON_HAND: 1, Kind.NEW: 2}
        boards = sorted(result.boards, key=lambda b: (rank[b.source.kind], b.index))
        return tuple(self._sheet(board, number) for number, board in enumerate(boards, 1))

    def _sheet(self, board: Board, number: int) -> Sheet:
        source = board.source
        return Sheet(
            stock=self._stock.name, number=number, kind=source.kind, source=source.key,
            width_mm=source.width_mm, height_mm=source.height_mm, outline=source.outline,
            placed=tuple(self._placed(*placed) for placed in board.placed),
        )  # fmt: skip

    def _placed(self, number: int, lie: Lie, x: int, y: int) -> Placed:
        item = self.items[number]
        piece = self.piece(item)
        placement = Placement(
            x_mm=x / NM_PER_MM, y_mm=y / NM_PER_MM, turn_deg=lie.turn_deg, flipped=lie.flipped
        )
        name = f"{piece.part.name}-{item.copy}" + (f"-{piece.suffix}" if piece.suffix else "")
        return Placed(
            id=name, copy=item.copy, piece=piece, placement=placement, outline=piece.outline.placed(placement)
        )


def _items(wanted: Sequence[Wanted], forms: Forms) -> list[Item]:
    items: list[Item] = []
    shapes: dict[tuple[bytes, tuple[Lie, ...]], int] = {}
    for i, want in enumerate(wanted):
        for j, piece in enumerate(want.ways[0].pieces):
            lies = forms.lies(piece)
            shape = shapes.setdefault((piece.outline.polygon.wkb, lies), len(shapes))
            area = exact_area_nm2(piece.outline.polygon)
            items.extend(Item(i, copy, j, lies, area, shape) for copy in range(1, want.part.count + 1))
    return items


def _is_close(piece: Piece, source: Source) -> bool:
    """Whether a piece that a room of slopes or voids did not take might fit it, by area and box alone."""
    if source.usable is not None or exact_area_nm2(piece.outline.polygon) > source.usable_area:
        return False
    extent, room = sorted(extent_mm(piece.outline)), sorted(source.room_mm)
    return all(e <= r for e, r in zip(extent, room, strict=True))


def _boxes(rooms: Sequence[Source]) -> list[tuple[float, float]]:
    return list(dict.fromkeys(source.room_mm for source in rooms if source.kind is not Kind.OFFCUT))
