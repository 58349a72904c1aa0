"""Which layouts to try next: large pieces first, then changes of what was good, by chance from the seed."""

from collections.abc import Callable, Sequence
from random import Random

from foamcut.nest.firstfit import Plan, Result
from foamcut.nest.memory import SCORES, Item

#: draws for an item of the ways taken, before any other is taken instead
_DRAWS = 8


class Plans:
    """Plans for the items of one stock, of which `sold` sizes can be bought.

    `ways` has for each wanted part the indices of the ways that may be taken, the usual one first.
    """

    def __init__(self, items: Sequence[Item], sold: int, ways: Sequence[Sequence[int]]) -> None:
        self._items = items
        self._sold = sold
        self._ways = ways
        self._choices = [i for i, several in enumerate(ways) if len(several) > 1]
        #: the usual way of each part
        self.usual = tuple(several[0] for several in ways)

    def starts(self, mixes: Sequence[tuple[int, ...]]) -> list[Plan]:
        """Large pieces first by several measures, for every score, mix of sizes, and size alone.

        Then for each part its other ways, one part at a time.
        """
        sizes = list(dict.fromkeys([*mixes, *((i,) for i in range(self._sold))])) or [()]
        orders = [self._sorted(measure) for measure in (_area, _longest, _box_area)]
        usual = [
            Plan(order, score, size, self.usual) for order in orders for score in range(4) for size in sizes
        ]
        others = [
            Plan(orders[0], score, size, (*self.usual[:i], way, *self.usual[i + 1 :]))
            for i in self._choices
            for way in self._ways[i][1:]
            for score in range(2)
            for size in sizes[:1]
        ]
        return [*usual, *others]

    def hold(self, ways: tuple[int, ...]) -> None:
        """Change the ways no more."""
        self._choices = []
        self.usual = ways

    def fresh(self, rng: Random, starts: Sequence[Plan]) -> Plan:
        """A start with a quarter of its items moved."""
        plan = starts[rng.randrange(len(starts))]
        order = list(plan.order)
        for _ in range(max(1, len(order) // 4)):
            _move(order, rng)
        return Plan(tuple(order), rng.randrange(len(SCORES)), plan.sizes, plan.ways)

    def changed(self, plan: Plan, result: Result | None, rng: Random) -> Plan:
        """The plan with one small change."""
        order, score, sizes, lead = list(plan.order), plan.score, plan.sizes, dict(plan.lead)
        ways = plan.ways
        if self._choices and rng.randrange(4) == 0:
            return Plan(plan.order, score, sizes, self._other_way(ways, rng), plan.lead)
        what = rng.randrange(12)
        if what < 1:
            score = rng.randrange(len(SCORES))
        elif what < 4 and result is not None and result.boards:
            _hurry(order, result, rng)
        elif what < 5 and self._sold > 1 and result is not None:
            sizes = self._other_size(sizes, result.new, rng)
        elif what < 7:
            self._lead(lead, ways, rng)
        elif what < 9:
            a, b = self._place(order, ways, rng), self._place(order, ways, rng)
            order[a], order[b] = order[b], order[a]
        else:
            for _ in range(1 + rng.randrange(3)):
                item = order.pop(self._place(order, ways, rng))
                order.insert(rng.randrange(len(order) + 1), item)
        return Plan(tuple(order), score, sizes, ways, tuple(sorted(lead.items())))

    def _sorted(self, measure: Callable[[Item], int]) -> tuple[int, ...]:
        return tuple(sorted(range(len(self._items)), key=lambda n: (-measure(self._items[n]), n)))

    def _other_way(self, ways: tuple[int, ...], rng: Random) -> tuple[int, ...]:
        """Another way for one part; now and then the usual one for it."""
        part = self._choices[rng.randrange(len(self._choices))]
        several = self._ways[part]
        way = several[rng.randrange(len(several))]
        return (*ways[:part], way, *ways[part + 1 :])

    def _place(self, order: Sequence[int], ways: Sequence[int], rng: Random) -> int:
        """A place of the order, by chance, of an item that is laid."""
        at = rng.randrange(len(order))
        for _ in range(_DRAWS if self._choices else 0):
            item = self._items[order[at]]
            if item.way == ways[item.wanted]:
                break
            at = rng.randrange(len(order))
        return at

    def _lead(self, lead: dict[int, int], ways: Sequence[int], rng: Random) -> None:
        """Ask an item to lie another way, or as it likes."""
        number = self._place(range(len(self._items)), ways, rng)
        choice = rng.randrange(-1, len(self._items[number].lies))
        if choice < 0:
            lead.pop(number, None)
        else:
            lead[number] = choice

    def _other_size(self, sizes: tuple[int, ...], new: int, rng: Random) -> tuple[int, ...]:
        full = list(sizes) + [sizes[-1]] * max(0, new - len(sizes))
        full[rng.randrange(max(1, len(full)))] = rng.randrange(self._sold)
        return tuple(full)


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


def _move(order: list[int], rng: Random) -> None:
    item = order.pop(rng.randrange(len(order)))
    order.insert(rng.randrange(len(order) + 1), item)


def _hurry(order: list[int], result: Result, rng: Random) -> None:
    """Bring a piece of the board with the least on it forward."""
    board = min(result.boards, key=lambda b: b.filled_area)
    number = board.placed[rng.randrange(len(board.placed))][0]
    at = order.index(number)
    order.insert(rng.randrange(at + 1), order.pop(at))
