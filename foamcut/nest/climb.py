"""Searches step by step: each step is one whole layout, a small change of a good one."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from random import Random
from typing import Protocol

from foamcut.nest.firstfit import Board, Plan, Result
from foamcut.nest.leftover import Box, free_area
from foamcut.nest.memory import SCORES
from foamcut.nest.plans import Plans
from foamcut.nest.rooms import UNITS

#: layouts without a better one, after which the search goes back to a fresh order
_PATIENCE = 400

Worth = tuple[int | Fraction, ...]


class Layouts(Protocol):
    """What lays the pieces by a plan."""

    plans: Plans

    def layout(self, plan: Plan) -> Result:
        """The layout that a plan gives."""


class Climb:
    """Looks for fewer boards: first the starts, then changes of the layout that is nearest to one board less.

    `best` costs least, then has the fewest boards, then joints; `nearest` has no more boards than it and the
    least on its emptiest board.
    """

    def __init__(self, layouts: Layouts, rng: Random, starts: Sequence[Plan]) -> None:
        self._layouts = layouts
        self._rng = rng
        self._starts = starts
        self._steps = 0
        self._since = 0
        self._plan = starts[0]
        self._current: Result | None = None
        self._current_worth: Worth = ()
        self._best: tuple[Worth, Result, Plan] | None = None

    @property
    def is_begun(self) -> bool:
        """Whether a layout was tried."""
        return self._best is not None

    @property
    def best(self) -> Result:
        """The best layout so far."""
        if self._best is None:
            raise ValueError("no layout was tried")
        return self._best[1]

    @property
    def starts(self) -> int:
        """How many layouts are tried before any is changed."""
        return len(self._starts)

    @property
    def nearest(self) -> Result:
        """The layout that the next ones change, or the best where it begins afresh."""
        return self._current or self.best

    @property
    def best_plan(self) -> Plan:
        """The plan that gives it."""
        if self._best is None:
            raise ValueError("no layout was tried")
        return self._best[2]

    def hold(self) -> None:
        """Go on from the best with its ways, which change no more."""
        self._current, self._plan, self._since = self.best, self.best_plan, 0
        self._current_worth = (*self.best.price, *self.best.nearness, self.best.joints)
        self._layouts.plans.hold(self.best.ways)
        self._starts = [Plan(one.order, one.score, one.sizes, self.best.ways) for one in self._starts]
        self._steps = len(self._starts)

    def step(self) -> None:
        """Try one more layout."""
        plan = self._next()
        result = self._layouts.layout(plan)
        price, nearness = result.price, result.nearness
        # on the way joints count last: a part is cut first, and the board saved later
        climbed = (*price, *nearness, result.joints)
        worth = (*price, result.joints, *nearness)
        self._steps += 1
        self._since += 1
        if self._current is None or climbed <= self._current_worth:
            if self._current is None or climbed < self._current_worth:
                self._since = 0
            self._current, self._current_worth, self._plan = result, climbed, plan
        if self._best is None or worth < self._best[0]:
            self._best = worth, result, plan
            self._current, self._current_worth, self._plan = result, climbed, plan
            self._since = 0

    def _next(self) -> Plan:
        if self._steps < len(self._starts):
            return self._starts[self._steps]
        if self._since > _PATIENCE:
            self._current, self._since = None, 0
            return self._layouts.plans.fresh(self._rng, self._starts)
        return self._layouts.plans.changed(self._plan, self._current, self._rng)


class Tidy:
    """Leaves a larger rectangle on the emptiest board, at no more cost, boards or joints.

    First the best layout again with every score of places, then changes of it.
    """

    def __init__(self, layouts: Layouts, rng: Random, best: Result, plan: Plan, gap: int) -> None:
        self._layouts = layouts
        self._rng = rng
        self._gap = gap
        self._plan = plan
        self.best = best
        self._worth = self._worth_of(best)
        self._scores = [replace(plan, score=score) for score in range(len(SCORES))]

    def step(self) -> None:
        """Try one more layout."""
        if self._scores:
            plan = self._scores.pop()
        else:
            plan = self._layouts.plans.changed(self._plan, self.best, self._rng)
        result = self._layouts.layout(plan)
        if (*result.price, result.joints) > (*self.best.price, self.best.joints):
            return
        worth = self._worth_of(result)
        if worth <= self._worth:
            self._worth, self.best, self._plan = worth, result, plan

    def _worth_of(self, result: Result) -> Worth:
        free = largest_free(result.emptiest, self._gap) if result.emptiest else 0
        return (*result.price, result.joints, -free)


def largest_free(board: Board, gap: int) -> int:
    """Area, square nm, of the largest rectangle inside the margin a gap (nm) off the boxes of all pieces."""
    if board.source.usable is None:
        return 0
    boxes: list[Box] = []
    for _, lie, x, y in board.placed:
        x0, y0, x1, y1 = lie.bounds
        boxes.append(
            (
                x + x0 // UNITS - gap,
                y + y0 // UNITS - gap,
                x - (-x1 // UNITS) + gap,
                y - (-y1 // UNITS) + gap,
            )
        )
    return free_area(board.source.usable, boxes)
