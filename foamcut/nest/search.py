"""Lays wanted parts on the sheets of their stock: many whole layouts, the best is kept.

Deterministic: layouts are counted, not timed; chance comes from the seed alone.
"""

from collections.abc import Callable, Sequence
from fractions import Fraction
from random import Random

from foamcut.errors import Refused
from foamcut.flat.joint import Piece
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.nest.apart import Kin, pieces_apart
from foamcut.nest.bound import Least, bound, grown_area, least
from foamcut.nest.firstfit import Board, FirstFit, Plan, Result
from foamcut.nest.forms import Forms, Lie, exact_area_nm2
from foamcut.nest.memory import SCORES, Item
from foamcut.nest.nofit import NoFit
from foamcut.nest.refusals import MOST_SHEETS, contradictions, too_large, too_many, unplaced
from foamcut.nest.rooms import NM_PER_MM, Source, sources, stock_refusals
from foamcut.nest.turning import may_lie_askew
from foamcut.nest.values import Kind, Layout, Listener, Placed, Progress, Sheet, Wanted, tell_nobody

#: whole layouts tried, chosen by tests/benchmarks/nesting.py
STEPS = 2000
#: corners of no-fit outlines handled, after which no further layout is begun: about three seconds
MOST_WORK = 4_000_000
#: layouts still tried when no fewer boards are possible, to leave more of the last board in one piece
_TIDYING = 24
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
        A part fits no sheet, grain and turns contradict, a margin leaves no room, or sheets run out.
    """
    rooms = sources(stock)
    if refused := stock_refusals(stock):
        raise Refused(refused)
    if not wanted:
        nothing = bound(stock, least((), rooms, stock.gap_mm), 0, Fraction(0))
        return Layout(stock=stock, sheets=(), bound=nothing)
    search = _that_can_lie(wanted, stock, rooms)
    result = search.run(Random(seed), max(1, steps), listener)
    if result.left_over:
        raise Refused(unplaced(wanted, [search.items[n].wanted for n in result.left_over], stock))
    if len(result.boards) > MOST_SHEETS:
        raise Refused([too_many(stock, len(result.boards))])
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
        for item in search.items:
            index, want = sound[item.wanted]
            if index not in refusals and not search.fits_somewhere(item):
                refusals[index] = too_large(want.part, search.piece(item).outline, stock, rooms)
    if refusals:
        raise Refused(refusals[index] for index in sorted(refusals))
    return search


class _Search:
    def __init__(self, wanted: Sequence[Wanted], stock: Stock, rooms: Sequence[Source]) -> None:
        self._wanted = wanted
        self._stock = stock
        self._rooms = rooms
        chosen = [w.ways[0].pieces for w in wanted]
        forms = Forms([p for pieces in chosen for p in pieces], stock, _boxes(rooms))
        self._nofit = NoFit(forms, stock.gap_mm)
        self.floor = least((), rooms, stock.gap_mm)
        self.items = _items(wanted, forms)
        self._fill = FirstFit(self.items, rooms, self._nofit)

    def _least(self, rooms: Sequence[Source]) -> Least:
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
        apart = self._apart(first, counts, rooms)
        return least(areas, rooms, self._stock.gap_mm, apart)

    def _apart(
        self, first: dict[int, Item], counts: dict[int, int], rooms: Sequence[Source]
    ) -> list[tuple[str, tuple[bool, ...]]]:
        """Pieces of which no two fit one sheet, each with the sources that it fits."""
        shapes = list(first)
        kinds = [Kin(self.piece(first[s]), counts[s], first[s].lies) for s in shapes]
        found = []
        for index, count in pieces_apart(kinds, self._stock, rooms):
            item = first[shapes[index]]
            fits = tuple(self._might_fit(item, i, source) for i, source in enumerate(rooms))
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

    def fits_somewhere(self, item: Item) -> bool:
        """Whether the item fits some empty sheet."""
        return any(self._fill.fits(item, index) for index in range(len(self._rooms)))

    def run(self, rng: Random, steps: int, listener: Listener) -> Result:
        """The best of at most `steps` layouts."""
        self.floor = self._least(self._rooms)
        starts = self._starts(steps)
        best, plan = None, starts[0]
        current, current_plan, since = None, starts[0], 0
        listener(self._progress(0, steps, None))
        for step in range(steps):
            if step < len(starts):
                plan = starts[step]
            elif since > _PATIENCE:
                plan, current, since = self._fresh(rng, starts), None, 0
            else:
                plan = self._changed(current_plan, current, rng)
            result = self._fill.layout(plan)
            since += 1
            if current is None or result.worth <= current.worth:
                since = 0 if current is None or result.worth < current.worth else since
                current, current_plan = result, plan
            if best is None or result.worth < best.worth:
                best, current, current_plan, since = result, result, plan, 0
            listener(self._progress(step + 1, steps, best))
            if self._nofit.work > MOST_WORK or (step >= _TIDYING and self._is_least(best)):
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
        return result.cost <= self.floor.cost if self._stock.has_prices else result.new <= self.floor.boards

    def _starts(self, steps: int) -> list[Plan]:
        """Large pieces first by several measures, for every score and size."""
        sizes: list[tuple[int, ...]] = [(i,) for i in range(len(self._fill.bought))]
        plans = [
            Plan(self._sorted(measure), score, size)
            for measure in (_area, _longest, _box_area)
            for score in range(4)
            for size in sizes or [()]
        ]
        return plans[: max(1, steps)]

    def _sorted(self, measure: Callable[[Item], int]) -> tuple[int, ...]:
        return tuple(sorted(range(len(self.items)), key=lambda n: (-measure(self.items[n]), n)))

    def _fresh(self, rng: Random, starts: Sequence[Plan]) -> Plan:
        plan = starts[rng.randrange(len(starts))]
        order = list(plan.order)
        for _ in range(max(1, len(order) // 4)):
            _move(order, rng)
        return Plan(tuple(order), rng.randrange(len(SCORES)), plan.sizes)

    def _changed(self, plan: Plan, result: Result | None, rng: Random) -> Plan:
        order, score, sizes, lead = list(plan.order), plan.score, plan.sizes, dict(plan.lead)
        what = rng.randrange(12)
        if what < 1:
            score = rng.randrange(len(SCORES))
        elif what < 4 and result is not None and result.boards:
            _hurry(order, result, rng)
        elif what < 5 and len(self._fill.bought) > 1 and result is not None:
            sizes = self._other_size(sizes, result.new, rng)
        elif what < 7:
            self._lead(lead, rng)
        elif what < 9:
            _swap(order, rng)
        else:
            for _ in range(1 + rng.randrange(3)):
                _move(order, rng)
        return Plan(tuple(order), score, sizes, tuple(sorted(lead.items())))

    def _lead(self, lead: dict[int, int], rng: Random) -> None:
        """Ask an item to lie another way, or as it likes."""
        number = rng.randrange(len(self.items))
        choice = rng.randrange(-1, len(self.items[number].lies))
        if choice < 0:
            lead.pop(number, None)
        else:
            lead[number] = choice

    def _other_size(self, sizes: tuple[int, ...], new: int, rng: Random) -> tuple[int, ...]:
        full = list(sizes) + [sizes[-1]] * max(0, new - len(sizes))
        full[rng.randrange(max(1, len(full)))] = rng.randrange(len(self._fill.bought))
        return tuple(full)

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


def _boxes(rooms: Sequence[Source]) -> list[tuple[float, float]]:
    return list(dict.fromkeys(source.room_mm for source in rooms if source.kind is not Kind.OFFCUT))


def _extent(item: Item) -> tuple[int, int]:
    x0, y0, x1, y1 = item.lies[0].bounds
    return x1 - x0, y1 - y0


def _area(item: Item) -> int:
    return item.area


def _longest(item: Item) -> int:
    return max(_extent(item))


def _box_area(item: Item) -> int:
    width, height = _extent(item)
    return width * height


def _swap(order: list[int], rng: Random) -> None:
    a, b = rng.randrange(len(order)), rng.randrange(len(order))
    order[a], order[b] = order[b], order[a]


def _move(order: list[int], rng: Random) -> None:
    item = order.pop(rng.randrange(len(order)))
    order.insert(rng.randrange(len(order) + 1), item)


def _hurry(order: list[int], result: Result, rng: Random) -> None:
    """Bring a piece of the board with the least on it forward."""
    board = min(result.boards, key=lambda b: b.source.usable_area - b.free_area)
    number = board.placed[rng.randrange(len(board.placed))][0]
    at = order.index(number)
    order.insert(rng.randrange(at + 1), order.pop(at))
