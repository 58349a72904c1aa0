"""A search under way for one stock: it takes steps, goes on by the clock, and tells the best so far."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random

from foamcut.errors import Refused
from foamcut.flat.placement import Placement, rounded
from foamcut.flat.stock import Stock
from foamcut.nest import STEPS, extra
from foamcut.nest.beds import lay_on_beds
from foamcut.nest.bound import bound
from foamcut.nest.climb import Tidy, largest_free
from foamcut.nest.firstfit import MOST_SHEETS, Result
from foamcut.nest.leftover import free_area
from foamcut.nest.ready import that_can_lie
from foamcut.nest.refusals import too_many, unplaced
from foamcut.nest.rooms import NM_PER_MM, Source, nanometres, sources, stock_refusals
from foamcut.nest.squeezing import Helper
from foamcut.nest.tiling import Tile, tile
from foamcut.nest.trials import LEAST_STEPS, piece_id, sheet
from foamcut.nest.turning import may_lie_askew
from foamcut.nest.values import Kind, Layout, Listener, NearMiss, Pace, Placed, Sheet, Wanted, tell_nobody
from foamcut.nest.verify import faults

#: of the steps that look for fewer boards so many go, once more, into a larger rectangle left
TIDY_SHARE = 10
#: places tried to put a cut-up board together again, with the usual steps
TILE_TRIES = 1_000
#: and by the clock
MOST_TILE_TRIES = 10**9
#: share of a squeeze that looks for fewer boards while fewer are not ruled out
_FOR_BOARDS = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A whole layout: boards bought, their cost, joints, the way taken for each part, its sheets.

    `free` is the area, square nm, of the largest rectangle left on the emptiest board bought, as far as the
    boxes of pieces tell.
    """

    new: int
    cost: Fraction
    joints: int
    ways: tuple[int, ...]
    sheets: tuple[Sheet, ...]
    free: int = 0
    has_beds: bool = False

    @property
    def worth(self) -> tuple[Fraction | int, ...]:
        """All that is made least, in order."""
        return self.cost, self.new, self.joints, -self.free


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
        self._near: NearMiss | None = None
        self._best: Outcome | None = None
        self._asked: tuple[Outcome, list[list[int]]] | None = None

    @property
    def best(self) -> Outcome:
        """The best layout so far; `by_steps` comes first."""
        if self._best is None:
            raise ValueError("nothing is laid yet")
        return self._best

    @property
    def is_least(self) -> bool:
        """Whether it is proven that no way to cut and lay the parts costs less, nor has fewer boards."""
        if self.stock.has_prices:
            return self.best.cost <= self.floor.cost and self.best.new <= self.floor.boards_at_cost
        return self.best.new <= self.floor.boards

    def by_steps(self, pace: Pace) -> None:
        """Try so many layouts, then some that leave a larger rectangle; then ways change no more.

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
            if search.is_spent(0, step + 1) or pace.is_stopped():
                break
        climb.hold()
        self._settle(climb.best)
        self._put_together(TILE_TRIES * steps // STEPS, pace.is_stopped)
        tidy, share = self._tidying(), steps // TIDY_SHARE
        for step in range(share):
            if search.is_spent(0, step + 1) or pace.is_stopped():
                break
            tidy.step()
            self._tell(step + 1, share, "leaving a larger piece")
        self._take(self._of_result(tidy.best))

    def squeeze(self, pace: Pace, seconds: float) -> None:
        """Go on for so many seconds of the pace's clock; `by_steps` comes first."""
        began = pace.clock()
        helper = self._helper() if pace.with_extra else None

        def over(share: float) -> Callable[[], bool]:
            return lambda: pace.is_stopped() or pace.clock() >= began + share * seconds

        try:
            if self._bed_mm and self.best.has_beds:
                self._squeeze_beds(pace, over(1.0))
                return
            if not self.is_least:
                self._put_together(None, over(_FOR_BOARDS))
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
                self._ask(helper, may_save=True)
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
                self._ask(helper, may_save=False)
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

    def _put_together(self, tries: int | None, is_stopped: Callable[[], bool]) -> None:
        """Try to fill boards without a rest, as cut-up boards do; without `tries` until it is stopped."""
        room = self._only_room()
        if room is None or room.usable is None or self.is_least:
            return
        half = self.stock.gap_mm / 2
        items = self._laid_items()
        tiles = [
            Tile(
                polygon=piece.outline.polygon.buffer(half, join_style="mitre", mitre_limit=10.0)
                if half
                else piece.outline.polygon,
                turns=tuple(dict.fromkeys((lie.turn_deg, lie.flipped) for lie in self._search.items[n].lies)),
                askew=may_lie_askew(piece.flat, self.stock),
            )
            for n in items
            for piece in (self._search.piece(self._search.items[n]),)
        ]
        x0, y0, x1, y1 = (v / NM_PER_MM for v in room.usable)
        grown = x0 - half, y0 - half, x1 + half, y1 + half
        for boards in range(1, self.best.new):
            found = tile(
                tiles, grown, boards, MOST_TILE_TRIES if tries is None else tries, is_stopped=is_stopped
            )
            if found is not None:
                spots = [(board, n, placement) for n, (board, placement) in zip(items, found, strict=True)]
                self._take_fixed(room, boards, spots)
                return

    def _only_room(self) -> Source | None:
        """The one kind of sheet there is, if it can be bought and is upright."""
        room = self._rooms[0]
        return room if len(self._rooms) == 1 and room.kind is Kind.NEW and room.usable else None

    def _laid_items(self) -> list[int]:
        ways = self.best.ways
        return [n for n, item in enumerate(self._search.items) if item.way == ways[item.wanted]]

    def _take_fixed(self, room: Source, boards: int, spots: Sequence[tuple[int, int, Placement]]) -> None:
        """Take a layout on new boards that another found, if the verifier has nothing against it."""
        on: list[list[Placed]] = [[] for _ in range(boards)]
        for board, number, placement in spots:
            on[board].append(self._placed(number, placement))
        sheets = [sheet(self.stock, room, i, placed) for i, placed in enumerate(on, 1)]
        emptiest = min(on, key=lambda placed: sum(one.outline.area for one in placed))
        gap = nanometres(self.stock.gap_mm)
        free = (
            free_area(room.usable, [_box(one.outline.bounds, gap) for one in emptiest]) if room.usable else 0
        )
        outcome = replace(
            self.best, new=boards, cost=boards * room.price, sheets=tuple(sheets), free=free, has_beds=False
        )
        if outcome.worth >= self.best.worth:
            return
        words = bound(self.stock, self.floor, outcome.new, outcome.cost)
        layout = Layout(stock=self.stock, sheets=outcome.sheets, bound=words)
        settled = [
            replace(want, ways=(want.ways[way],))
            for want, way in zip(self._wanted, outcome.ways, strict=True)
        ]
        if not faults([layout], settled):
            self._take(outcome)

    def _placed(self, number: int, placement: Placement) -> Placed:
        item = self._search.items[number]
        piece = self._search.piece(item)
        placement = replace(placement, x_mm=rounded(placement.x_mm), y_mm=rounded(placement.y_mm))
        return Placed(
            id=piece_id(piece, item.copy),
            copy=item.copy,
            piece=piece,
            placement=placement,
            outline=piece.outline.placed(placement),
        )

    def _helper(self) -> Helper | None:
        """The optional solver, where it can serve: one kind of upright board to buy."""
        room = self._only_room()
        if room is None or room.usable is None or not extra.is_there():
            return None
        items = self._search.items
        polygons = [self._search.piece(item).outline.polygon for item in items]
        turns = [self._turns(n) for n in range(len(items))]
        return Helper(polygons, turns, room.room_mm, self.stock.gap_mm, Random(self._seed))

    def _turns(self, number: int) -> tuple[float, ...] | None:
        """The turns of an item for the optional solver, face up; None: every angle."""
        item = self._search.items[number]
        if may_lie_askew(self._search.piece(item).flat, self.stock):
            return None
        return tuple(dict.fromkeys(lie.turn_deg for lie in item.lies if not lie.flipped))

    def _ask(self, helper: Helper, *, may_save: bool) -> None:
        """Look whether the optional solver has something better."""
        room = self._only_room()
        if room is None or room.usable is None:
            return
        if self._asked is None or self._asked[0] is not self.best:
            self._asked = self.best, self._numbered(self.best.sheets)
        found = helper.poll(self._asked[1], may_save=may_save)
        if found is None:
            return
        x0, y0 = room.usable[0] / NM_PER_MM, room.usable[1] / NM_PER_MM
        spots = [
            (board, n, replace(spot, x_mm=spot.x_mm + x0, y_mm=spot.y_mm + y0))
            for board, several in enumerate(found)
            for n, spot in several
        ]
        self._take_fixed(room, len(found), spots)

    def _numbered(self, sheets: Sequence[Sheet]) -> list[list[int]]:
        """The items on each sheet."""
        items = enumerate(self._search.items)
        numbers = {piece_id(self._search.piece(item), item.copy): n for n, item in items}
        return [[numbers[one.id] for one in one_sheet.placed] for one_sheet in sheets]

    def _tell(self, step: int, steps: int, doing: str) -> None:
        self._listener(self._search.progress(step, steps, self._climb.best, doing))

    def _tell_squeezing(self, pace: Pace, seconds: float, began: float, doing: str) -> None:
        gone = min(int(pace.clock() - began), int(seconds))
        told = self._search.progress(gone, int(seconds), self._climb.best, f"squeezing, {doing}")
        self._listener(replace(told, boards=self.best.new))


def _box(bounds: tuple[float, float, float, float], gap: int) -> tuple[int, int, int, int]:
    x0, y0, x1, y1 = (nanometres(v) for v in bounds)
    return x0 - gap, y0 - gap, x1 + gap, y1 + gap
