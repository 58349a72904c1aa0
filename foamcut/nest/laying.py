"""A search under way for one stock: it takes steps, goes on by the clock, and tells the best so far."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from random import Random

from foamcut.errors import Refused
from foamcut.flat.stock import Stock
from foamcut.nest import STEPS
from foamcut.nest.beds import lay_on_beds
from foamcut.nest.bound import bound
from foamcut.nest.climb import Tidy, largest_free
from foamcut.nest.firstfit import MOST_SHEETS, Result
from foamcut.nest.proposals import Outcome, Proposals
from foamcut.nest.ready import that_can_lie
from foamcut.nest.refusals import too_many, unplaced
from foamcut.nest.rooms import nanometres, sources, stock_refusals
from foamcut.nest.squeezing import Helper
from foamcut.nest.trials import FAR_STEPS, LEAST_STEPS
from foamcut.nest.values import Layout, Listener, NearMiss, Pace, Wanted, tell_nobody

#: of the steps that look for fewer boards so many go, once more, into a larger rectangle left
TIDY_SHARE = 10
#: and no more than lay so many pieces
_MOST_TIDIED = 4_000
#: places tried to put a cut-up board together again, with the usual steps
TILE_TRIES = 1_000
#: and by the clock
MOST_TILE_TRIES = 10**9
#: share of a squeeze that looks for fewer boards while fewer are not ruled out
_FOR_BOARDS = 0.8


class Laying:
    """Lays wanted parts on the sheets of one stock, for as long as it is asked to; `best` is what it has.

    Parts may have several ways: each is then cut the way that serves the boards best.

    Raises
    ------
    Refused
        As `foamcut.nest.search.lay`.
    """

    def __init__(
        self,
        wanted: Sequence[Wanted],
        stock: Stock,
        *,
        seed: int,
        listener: Listener = tell_nobody,
        bed_mm: tuple[float, float] | None = None,
    ) -> None:
        if refused := stock_refusals(stock):
            raise Refused(refused)
        self.stock = stock
        self._wanted, self._bed_mm, self._listener = wanted, bed_mm, listener
        self._seed, self._rng = seed, Random(seed)
        self._rooms = sources(stock)
        self._search = search = that_can_lie(wanted, stock, self._rooms)
        several = any(len(want.ways) > 1 for want in wanted)
        search.floor = search.floor_of(settled=not several)
        is_open = any(want.is_open for want in wanted)
        #: what is proven of every way to cut the parts
        self.floor = search.floor_of(settled=False) if is_open and not several else search.floor
        if search.floor.boards > MOST_SHEETS:
            raise Refused([too_many(stock, search.floor.boards)])
        self._climb = search.climb(self._rng)
        self._proposals = Proposals(search, wanted, stock, self._rooms, self.floor)
        self._near: NearMiss | None = None
        self._best: Outcome | None = None

    @property
    def best(self) -> Outcome:
        """The best layout so far; `by_steps` comes first."""
        if self._best is None:
            raise ValueError("nothing is laid yet")
        return self._best

    @property
    def is_least(self) -> bool:
        """Whether it is proven that no way to cut and lay the parts costs less, nor has fewer boards."""
        return self.floor.is_met(self.best.new, self.best.cost, priced=self.stock.has_prices)

    def by_steps(self, pace: Pace) -> None:
        """Try so many layouts, fewer where one board less is out of reach; then ways change no more.

        Raises
        ------
        Refused
            Sheets run out, or there would be more than `MOST_SHEETS`.
        """
        steps, search, climb = max(1, pace.steps), self._search, self._climb
        if self._bed_mm and self._on_beds(steps, self._seed):
            return
        for step in range(steps):
            climb.step()
            self._tell(step + 1, steps, "laying pieces")
            if step >= LEAST_STEPS and (climb.best.is_cut_short or search.is_least(climb.best)):
                break
            if step + 1 == max(FAR_STEPS, climb.starts) and search.is_far(climb.nearest):
                break
            if search.is_spent(0, step + 1) or pace.is_stopped():
                break
        climb.hold()
        self._settle(climb.best)
        self._consider(self._tiled(TILE_TRIES * steps // STEPS, pace.is_stopped))

    def tidy(self, pace: Pace) -> None:
        """Try some layouts that leave a larger rectangle; `by_steps` comes first."""
        if not self._climb.is_begun:  # all lies on rectangles for the bed
            return
        search, tidy = self._search, self._tidying()
        laid = sum(len(board.placed) for board in tidy.best.boards)
        share = min(max(1, pace.steps) // TIDY_SHARE, _MOST_TIDIED // max(1, laid))
        for step in range(share):
            if search.is_spent(0, step + 1) or pace.is_stopped():
                break
            tidy.step()
            self._tell(step + 1, share, "leaving a larger piece")
        self._take(self._of_result(tidy.best))

    def squeeze(self, pace: Pace, seconds: float) -> None:
        """Go on for so many seconds of the pace's clock; `by_steps` comes first."""
        began = pace.clock()
        helper = self._proposals.helper(self._seed) if pace.with_extra else None

        def over(share: float) -> Callable[[], bool]:
            return lambda: pace.is_stopped() or pace.clock() >= began + share * seconds

        try:
            if not self._climb.is_begun:
                self._squeeze_beds(pace, over(1.0))
                return
            if not self.is_least:
                self._consider(self._tiled(MOST_TILE_TRIES, over(_FOR_BOARDS)))
                self._squeeze_boards(over(_FOR_BOARDS), helper, pace, seconds, began)
            self._squeeze_free(over(1.0), helper, pace, seconds, began)
        finally:
            if helper:
                helper.stop()

    def layout(self) -> Layout:
        """The best layout, with its bound."""
        best = self.best
        near = None if self.is_least or not self._near or self._near.boards >= best.new else self._near
        words = bound(self.stock, self.floor, best.new, best.cost, on_beds=best.has_beds, near=near)
        return Layout(stock=self.stock, sheets=best.sheets, bound=words)

    def _squeeze_boards(
        self, over: Callable[[], bool], helper: Helper | None, pace: Pace, seconds: float, began: float
    ) -> None:
        while not over() and not self.is_least:
            self._climb.step()
            self._tell_squeezing(pace, seconds, began, "fewer boards")
            if self._climb.best.price < (0, self.best.cost, self.best.new):
                self._settle(self._climb.best)
            if helper:
                self._consider(self._proposals.asked(helper, self.best, may_save=True))
        self._settle(self._climb.best)

    def _squeeze_free(
        self, over: Callable[[], bool], helper: Helper | None, pace: Pace, seconds: float, began: float
    ) -> None:
        tidy = self._tidying()
        if tidy.best.price > (0, self.best.cost, self.best.new) and not helper:
            return
        while not over():
            tidy.step()
            self._tell_squeezing(pace, seconds, began, "leaving a larger piece")
            if helper:
                self._consider(self._proposals.asked(helper, self.best, may_save=False))
        self._take(self._of_result(tidy.best))

    def _squeeze_beds(self, pace: Pace, over: Callable[[], bool]) -> None:
        rounds = 0
        while not over() and not self.is_least:
            rounds += 1
            self._on_beds(pace.steps, self._seed + rounds)

    def _on_beds(self, steps: int, seed: int) -> bool:
        """Lay the pieces on rectangles for the bed; False: it needs none."""
        if self._bed_mm is None:
            return False
        found = lay_on_beds(
            self._wanted, self.stock, self._bed_mm, seed=seed, steps=steps, listener=self._listener
        )
        if found is None:
            return False
        ways = self._search.plans.usual
        joints = sum(len(w.ways[0].joints) * w.part.count for w in self._wanted)
        self._take(
            Outcome(
                new=found.new,
                cost=found.cost,
                joints=joints,
                ways=ways,
                sheets=found.sheets,
                has_beds=found.has_beds,
            )
        )
        return True

    def _settle(self, result: Result) -> None:
        """Take what the climb has found.

        Raises
        ------
        Refused
            It is no layout of all pieces.
        """
        if result.is_cut_short:
            raise Refused([too_many(self.stock, MOST_SHEETS)])
        if result.left_over:
            left = [self._search.items[n].wanted for n in result.left_over]
            raise Refused(unplaced(self._wanted, left, self.stock))
        self._take(self._of_result(result))
        if result.emptiest and result.new == self.best.new:
            names = [self._name(number) for number, *_ in result.emptiest.placed]
            self._near = NearMiss(boards=result.new - 1, missing=tuple(sorted(names)))

    def _take(self, outcome: Outcome) -> None:
        if self._best is None or outcome.worth < self._best.worth:
            self._best = outcome

    def _consider(self, outcome: Outcome | None) -> None:
        if outcome is not None:
            self._take(outcome)

    def _tiled(self, tries: int, is_stopped: Callable[[], bool]) -> Outcome | None:
        return None if self.is_least else self._proposals.put_together(self.best, tries, is_stopped)

    def _of_result(self, result: Result) -> Outcome:
        emptiest = result.emptiest
        return Outcome(
            new=result.new,
            cost=result.cost,
            joints=result.joints,
            ways=result.ways,
            sheets=self._search.sheets(result),
            free=largest_free(emptiest, nanometres(self.stock.gap_mm)) if emptiest else 0,
        )

    def _tidying(self) -> Tidy:
        climb, gap = self._climb, nanometres(self.stock.gap_mm)
        return Tidy(self._search, self._rng, climb.best, climb.best_plan, gap)

    def _name(self, number: int) -> str:
        return self._search.piece(self._search.items[number]).flat.name

    def _tell(self, step: int, steps: int, doing: str) -> None:
        self._listener(self._search.progress(step, steps, self._climb.best, doing))

    def _tell_squeezing(self, pace: Pace, seconds: float, began: float, doing: str) -> None:
        gone = min(int(pace.clock() - began), int(seconds))
        told = self._search.progress(gone, int(seconds), self._climb.best, f"squeezing, {doing}")
        self._listener(replace(told, boards=self.best.new))
