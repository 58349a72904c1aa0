"""The cheapest mix of boards that meets demands of area and of numbers of boards.

Method: branch and bound over how many of each size, those of most area for the money first.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

#: taken off before a count of boards is rounded up: rounding of areas, not of boards
_ROUNDING = Fraction(1, 10**9)
#: combinations of sizes looked at; beyond it the plain quotient stands
MOST_TRIES = 4000


@dataclass(frozen=True, slots=True)
class Demand:
    """Something that new boards must meet: area, and a number of boards, from those of some sizes."""

    sizes: tuple[bool, ...]
    area: Fraction
    boards: int

    @property
    def is_met(self) -> bool:
        """Whether nothing more is needed."""
        return self.area <= 0 and self.boards <= 0


@dataclass(frozen=True, slots=True)
class Cover:
    """No boards that meet the demands cost less than `least`; `counts` has the best mix found."""

    least: Fraction
    counts: tuple[int, ...]


def cover(
    sizes: Sequence[Fraction], prices: Sequence[Fraction], demands: Sequence[Demand], tries: int = MOST_TRIES
) -> Cover:
    """The least sum of prices of boards that meets every demand; no more than that when it takes too long."""
    if not demands or not any(sizes):
        return Cover(Fraction(0), (0,) * len(sizes))
    slack = [Demand(d.sizes, d.area - _ROUNDING * max(sizes), d.boards) for d in demands]
    branches = _Branches(sizes, prices, tries)
    branches.go(slack, 0, Fraction(0), ())
    if branches.best is None or branches.left < 0:
        return Cover(branches.floor(slack, 0) or Fraction(0), branches.counts)
    return Cover(branches.best, branches.counts)


class _Branches:
    def __init__(self, sizes: Sequence[Fraction], prices: Sequence[Fraction], tries: int) -> None:
        self._sizes = sizes
        self._prices = prices
        self._order = sorted(range(len(sizes)), key=lambda i: (prices[i] / sizes[i], i))
        self.left = tries
        self.best: Fraction | None = None
        self.counts = (0,) * len(sizes)

    def floor(self, demands: Sequence[Demand], at: int) -> Fraction | None:
        """No way to meet the demands with the sizes from `at` on costs less; None: there is no way."""
        least_sum = Fraction(0)
        for d in demands:
            usable = [i for i in self._order[at:] if d.sizes[i]]
            if d.is_met:
                continue
            if not usable:
                return None
            by_area = max(Fraction(0), d.area) * min(self._prices[i] / self._sizes[i] for i in usable)
            by_count = max(0, d.boards) * min(self._prices[i] for i in usable)
            least_sum = max(least_sum, by_area, by_count)
        return least_sum

    def go(self, demands: Sequence[Demand], at: int, spent: Fraction, counts: tuple[int, ...]) -> None:
        """Try every number of boards of the sizes from `at` on; `counts` has those of the sizes before."""
        self.left -= 1
        floor = self.floor(demands, at)
        if floor is None or self.left < 0 or (self.best is not None and spent + floor >= self.best):
            return
        if all(d.is_met for d in demands):
            self.best = spent
            by_size = dict(zip(self._order, counts, strict=False))
            self.counts = tuple(by_size.get(i, 0) for i in range(len(self._sizes)))
            return
        size = self._order[at]
        area = self._sizes[size]
        most = max((_needed(d, area) for d in demands if d.sizes[size]), default=0)
        for count in range(most, -1, -1):
            if self.left < 0:
                return
            rest = [
                Demand(d.sizes, d.area - count * area, d.boards - count) if d.sizes[size] else d
                for d in demands
            ]
            self.go(rest, at + 1, spent + count * self._prices[size], (*counts, count))


def _needed(demand: Demand, size: Fraction) -> int:
    return max(0, demand.boards, math.ceil(demand.area / size))
