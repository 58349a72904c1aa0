"""Which layouts to try next: large pieces first, then changes of what was good, by chance from the seed."""

from collections.abc import Callable, Sequence
from random import Random

from foamcut.nest.firstfit import Plan, Result
from foamcut.nest.memory import SCORES, Item


class Plans:
    """Plans for the items of one stock, of which `sold` sizes can be bought."""

    def __init__(self, items: Sequence[Item], sold: int) -> None:
        self._items = items
        self._sold = sold

    def starts(self, mixes: Sequence[tuple[int, ...]]) -> list[Plan]:
        """Large pieces first by several measures, for every score, mix of sizes, and size alone."""
        sizes = list(dict.fromkeys([*mixes, *((i,) for i in range(self._sold))])) or [()]
        return [
            Plan(self._sorted(measure), score, size)
            for measure in (_area, _longest, _box_area)
            for score in range(4)
            for size in sizes
        ]

    def fresh(self, rng: Random, starts: Sequence[Plan]) -> Plan:
        """A start with a quarter of its items moved."""
        plan = starts[rng.randrange(len(starts))]
        order = list(plan.order)
        for _ in range(max(1, len(order) // 4)):
            _move(order, rng)
        return Plan(tuple(order), rng.randrange(len(SCORES)), plan.sizes)

    def changed(self, plan: Plan, result: Result | None, rng: Random) -> Plan:
        """The plan with one small change."""
        order, score, sizes, lead = list(plan.order), plan.score, plan.sizes, dict(plan.lead)
        what = rng.randrange(12)
        if what < 1:
            score = rng.randrange(len(SCORES))
        elif what < 4 and result is not None and result.boards:
            _hurry(order, result, rng)
        elif what < 5 and self._sold > 1 and result is not None:
            sizes = self._other_size(sizes, result.new, rng)
        elif what < 7:
            self._lead(lead, rng)
        elif what < 9:
            _swap(order, rng)
        else:
            for _ in range(1 + rng.randrange(3)):
                _move(order, rng)
        return Plan(tuple(order), score, sizes, tuple(sorted(lead.items())))

    def _sorted(self, measure: Callable[[Item], int]) -> tuple[int, ...]:
        return tuple(sorted(range(len(self._items)), key=lambda n: (-measure(self._items[n]), n)))

    def _lead(self, lead: dict[int, int], rng: Random) -> None:
        """Ask an item to lie another way, or as it likes."""
        number = rng.randrange(len(self._items))
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
