"""One whole layout: pieces in a given order, each on the first sheet that takes it, at its best place there.

Words: a *plan* is what a search may vary (order, score, sizes to buy), a *board* is a sheet being filled.
Lengths in units, see `foamcut.nest.rooms`.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from foamcut.nest.forms import Lie
from foamcut.nest.memory import Item, Memory
from foamcut.nest.nofit import NoFit
from foamcut.nest.rooms import UNITS, Source
from foamcut.nest.values import Kind

#: sheets of one stock
MOST_SHEETS = 200


@dataclass(frozen=True, slots=True)
class Plan:
    """What makes one layout differ from another: order of items, score of places, sizes to buy in turn.

    `lead` names for some items the lie to try first, as pairs of item and index; the others follow where it
    does not fit.  `ways` has for each wanted part the index of the way that it is cut; items of others rest.
    """

    order: tuple[int, ...]
    score: int
    sizes: tuple[int, ...]
    ways: tuple[int, ...]
    lead: tuple[tuple[int, int], ...] = ()


@dataclass(slots=True)
class Board:
    """A sheet being filled: places in whole nm; `state` names what lies on it, see `Memory`."""

    source: Source
    index: int
    state: int
    placed: list[tuple[int, Lie, int, int]] = field(default_factory=list)
    free_area: int = 0
    full_for: set[int] = field(default_factory=set)
    used: tuple[int, int] = (0, 0)

    @property
    def filled_area(self) -> int:
        """Area of what lies on it, nm2."""
        return self.source.usable_area - self.free_area

    @property
    def reach(self) -> int:
        """How far along its longer side it is used."""
        return self.used[0] if self.source.width_mm >= self.source.height_mm else self.used[1]


@dataclass(frozen=True, slots=True)
class Result:
    """Boards in the order they were opened, items without a place, the ways taken and their joints.

    `is_cut_short`: there would be more sheets than may be filled, and what came then is left over.
    """

    boards: tuple[Board, ...]
    left_over: tuple[int, ...]
    ways: tuple[int, ...]
    joints: int
    is_cut_short: bool

    @property
    def new(self) -> int:
        """How many boards are bought."""
        return sum(board.source.kind is Kind.NEW for board in self.boards)

    @property
    def cost(self) -> Fraction:
        """What the boards bought cost, 0 without prices."""
        return sum((board.source.price for board in self.boards), Fraction(0))

    @property
    def price(self) -> tuple[int | Fraction, ...]:
        """What the builder pays, less is better: what finds no place, cost, boards bought."""
        return len(self.left_over), self.cost, self.new

    @property
    def nearness(self) -> tuple[int | Fraction, ...]:
        """How near it is to one board less: area bought, and of the emptiest board what is on it, how far."""
        bought = [board for board in self.boards if board.source.kind is Kind.NEW]
        area = sum(board.source.usable_area for board in bought)
        least = min(bought or self.boards, key=lambda board: board.filled_area, default=None)
        return (area, least.filled_area, least.reach) if least else (area, 0, 0)

    @property
    def emptiest(self) -> Board | None:
        """The board bought with the least on it."""
        bought = [board for board in self.boards if board.source.kind is Kind.NEW]
        return min(bought, key=lambda board: board.filled_area, default=None)


#: nm2 (0.001 mm2) that rounding may add to the area of pieces laid askew
_AREA_SLACK = 10**9
#: pieces times shapes times boards tried; with more, only the boards opened last are tried
_MOST_TRIED = 3_000_000


class FirstFit:
    """Fills sheets of one stock, `most` at most.

    `joints` has for each wanted part how many joints each of its ways needs, all copies together.
    """

    def __init__(
        self,
        items: Sequence[Item],
        sources: Sequence[Source],
        nofit: NoFit,
        joints: Sequence[Sequence[int]],
        most: int = MOST_SHEETS,
    ) -> None:
        self._joints = joints
        self._most = most
        self._items = items
        self._sources = sources
        self._nofit = nofit
        self._memory = Memory(sources, nofit)
        shapes = len({item.shape for item in items})
        self._window = max(2, _MOST_TRIED // (len(items) * shapes))
        self._ours = [i for i, s in enumerate(sources) if s.kind is not Kind.NEW]
        self.bought = [i for i, s in enumerate(sources) if s.kind is Kind.NEW]

    def layout(self, plan: Plan) -> Result:
        """The layout that a plan gives."""
        boards: list[Board] = []
        ours: list[Board] = []
        left = {i: self._sources[i].count for i in self._ours}
        bought: list[Board] = []
        left_over: list[int] = []
        lead, ways = dict(plan.lead), plan.ways
        full_of_ours: dict[int, int] = {}
        full_of_bought: dict[int, int] = {}
        for at, number in enumerate(plan.order):
            item = self._items[number]
            if item.way != ways[item.wanted]:
                continue
            first = lead.get(number)
            if self._put_on_first(item, number, ours, full_of_ours, plan, first):
                continue
            board = self._from_shelf(item, left)
            if board is not None:
                ours.append(board)
            elif self._put_on_first(item, number, bought, full_of_bought, plan, first):
                continue
            else:
                board = self._buy(item, len(bought), plan.sizes)
                if board is None:
                    left_over.append(number)
                    continue
                bought.append(board)
            if len(boards) == self._most:
                rest = (n for n in plan.order[at:] if self._items[n].way == ways[self._items[n].wanted])
                left_over.extend(rest)
                return Result(tuple(boards), tuple(left_over), ways, self._joints_of(ways), True)
            boards.append(board)
            self._put(item, number, board, plan, first)
        return Result(tuple(boards), tuple(left_over), ways, self._joints_of(ways), False)

    def fits(self, item: Item, index: int) -> bool:
        """Whether the item fits an empty sheet."""
        source = self._sources[index]
        return item.area <= source.usable_area + _AREA_SLACK and any(
            self._nofit.inner(index, source, lie) for lie in item.lies
        )

    def _from_shelf(self, item: Item, left: dict[int, int | None]) -> Board | None:
        for index in self._ours:
            if left[index] and self.fits(item, index):
                left[index] = (left[index] or 0) - 1
                return self._board(index)
        return None

    def _buy(self, item: Item, count: int, sizes: Sequence[int]) -> Board | None:
        wish = sizes[min(count, len(sizes) - 1)] if sizes else 0
        for index in self.bought[wish:] + self.bought[:wish]:
            if self.fits(item, index):
                return self._board(index)
        return None

    def _board(self, index: int) -> Board:
        source = self._sources[index]
        return Board(source, index, state=index, free_area=source.usable_area)

    def _put_on_first(
        self,
        item: Item,
        number: int,
        boards: Sequence[Board],
        full: dict[int, int],
        plan: Plan,
        lead: int | None,
    ) -> bool:
        """Put it on the first board that takes it; `full` holds for a shape how many are full for it."""
        for at in range(max(full.get(item.shape, 0), len(boards) - self._window), len(boards)):
            if self._put(item, number, boards[at], plan, lead):
                full[item.shape] = at
                return True
        full[item.shape] = len(boards)
        return False

    def _put(self, item: Item, number: int, board: Board, plan: Plan, lead: int | None) -> bool:
        if item.shape in board.full_for or item.area > board.free_area + _AREA_SLACK:
            return False
        best = self._memory.place(item, board.state, plan.score, lead)
        if best is None:
            board.full_for.add(item.shape)
            return False
        lie, x, y = best
        board.placed.append((number, lie, x, y))
        board.state = self._memory.after(board.state, lie, x, y)
        board.free_area -= item.area
        board.used = (
            max(board.used[0], x * UNITS + lie.bounds[2]),
            max(board.used[1], y * UNITS + lie.bounds[3]),
        )
        return True

    def _joints_of(self, ways: Sequence[int]) -> int:
        return sum(joints[way] for joints, way in zip(self._joints, ways, strict=True))
