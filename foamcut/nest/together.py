"""Lays the parts of all stocks, and chooses how each is cut.

A part is first laid its usual way.  Where fewer boards are not ruled out, its other ways are tried: first
those of parts that must be cut in two anyway, then those of parts that lie whole but may be cut.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction

from foamcut.errors import Refusal, Refused
from foamcut.flat.joint import Role, Way
from foamcut.flat.stock import Stock
from foamcut.nest.laying import Laying
from foamcut.nest.values import BY_STEPS, Laid, Listener, Pace, Saving, Wanted, tell_nobody

Worth = tuple[Fraction | int, ...]
MoreWays = Callable[[Sequence[int]], Sequence[Wanted]]


def lay_all(
    wanted: Sequence[Wanted],
    stocks: Sequence[Stock],
    *,
    seed: int,
    pace: Pace = BY_STEPS,
    listener: Listener = tell_nobody,
    bed_mm: tuple[float, float] | None = None,
    more_ways: MoreWays | None = None,
) -> Laid:
    """The best layouts found of all wanted parts on all stocks, and the way taken for each part.

    Made least over all stocks: cost, boards bought, joints; then the board with the least on it keeps as
    large a rectangle as can be.  Ways hold the pieces of every stock.  `more_ways` is asked only where fewer
    boards are not ruled out: for parts by their indices it gives them again with further ways, the known one
    first.  With a bed every part is cut its usual way.

    Raises
    ------
    Refused
        As `foamcut.nest.search.lay`, for all stocks together.
    """
    work = _Work(tuple(wanted), tuple(stocks), seed, pace, listener, bed_mm)
    work.begin()
    wholes: dict[str, Laying] = {}
    if bed_mm is None:
        work.try_ways([i for i, want in enumerate(wanted) if not _lies_whole(want)], more_ways)
        wholes = dict(work.layings)
        work.try_ways([i for i, want in enumerate(wanted) if _lies_whole(want)], more_ways)
        work.drop_joints()
    work.tidy()
    if pace.squeeze_s:
        work.squeeze()
    return Laid(
        layouts=tuple(work.layings[stock.name].layout() for stock in stocks if stock.name in work.layings),
        wanted=work.wanted,
        ways=work.ways,
        savings=tuple(work.savings(wholes)),
        is_cut_short=pace.is_stopped(),
    )


@dataclass
class _Work:
    wanted: tuple[Wanted, ...]
    stocks: tuple[Stock, ...]
    seed: int
    pace: Pace
    listener: Listener
    bed_mm: tuple[float, float] | None
    ways: tuple[int, ...] = ()
    layings: dict[str, Laying] = field(default_factory=dict)

    def begin(self) -> None:
        """Lay every part its first way.

        Raises
        ------
        Refused
            What cannot be laid, of all stocks together.
        """
        self.ways = tuple(0 for _ in self.wanted)
        refusals: list[Refusal] = []
        for stock in self.stocks:
            try:
                laying = self._laid(stock, self.ways)
            except Refused as err:
                refusals += err.refusals
            else:
                if laying:
                    self.layings[stock.name] = laying
        if refusals:
            raise Refused(refusals)

    def try_ways(self, parts: Sequence[int], more_ways: MoreWays | None) -> None:
        """Try other ways of these parts on every stock where fewer boards are not ruled out."""
        for stock in self.stocks:
            laying = self.layings.get(stock.name)
            ours = [i for i in parts if self.wanted[i].part.stock == stock.name]
            if laying is None or laying.is_least or not ours or self.pace.is_stopped():
                continue
            asked = [i for i in ours if self.wanted[i].is_open and len(self.wanted[i].ways) == 1]
            if more_ways and asked:
                given = dict(zip(asked, more_ways(asked), strict=True))
                self.wanted = tuple(given.get(i, want) for i, want in enumerate(self.wanted))
            several = [i for i in ours if len(self.wanted[i].ways) > 1]
            if several:
                self._choose(stock, several)

    def _choose(self, stock: Stock, parts: Sequence[int]) -> None:
        """Lay a stock with all ways of these parts to choose from."""
        indices = [i for i, want in enumerate(self.wanted) if _of_stock(want, self.ways[i], stock)]
        offered = []
        for i in indices:
            want = self.wanted[i]
            choices = range(len(want.ways)) if i in parts else [self.ways[i]]
            offered.append(replace(want, ways=tuple(_on(want.ways[way], stock) for way in choices)))
        try:
            laying = Laying(offered, stock, seed=self.seed, listener=self.listener)
            laying.by_steps(self.pace)
        except Refused:
            return
        ways = list(self.ways)
        for i, way in zip(indices, laying.best.ways, strict=True):
            if i in parts:
                ways[i] = way
        self._consider(tuple(ways), {stock.name: laying})

    def _consider(self, ways: tuple[int, ...], found: dict[str, Laying]) -> bool:
        """Take other ways when, with all stocks laid anew that they touch, they are better."""
        if ways == self.ways:
            return False
        layings = dict(self.layings)
        for stock in self.stocks:
            if stock.name in found:
                layings[stock.name] = found[stock.name]
            elif self._pieces(stock, ways) != self._pieces(stock, self.ways):
                try:
                    laying = self._laid(stock, ways)
                except Refused:
                    return False
                layings.pop(stock.name, None)
                if laying:
                    layings[stock.name] = laying
        if self._worth(layings, ways) >= self._worth(self.layings, self.ways):
            return False
        self.ways, self.layings = ways, layings
        return True

    def drop_joints(self) -> None:
        """Leave whole, one part after another, what is cut in two without saving anything."""
        for i, way in enumerate(self.ways):
            if way and _lies_whole(self.wanted[i]) and not self.pace.is_stopped():
                self._consider((*self.ways[:i], 0, *self.ways[i + 1 :]), {})

    def tidy(self) -> None:
        """Leave a larger rectangle on every stock."""
        for laying in self.layings.values():
            laying.tidy(self.pace)

    def squeeze(self) -> None:
        """Spend the seconds: on stocks where fewer boards are not ruled out, else on all."""
        layings = [laying for laying in self.layings.values() if not laying.is_least]
        layings = layings or list(self.layings.values())
        end = self.pace.clock() + self.pace.squeeze_s
        for left, laying in zip(range(len(layings), 0, -1), layings, strict=True):
            laying.squeeze(self.pace, max(0.0, (end - self.pace.clock()) / left))

    def savings(self, wholes: dict[str, Laying]) -> list[Saving]:
        """What each stock saves by parts that would lie whole."""
        found = []
        for stock in self.stocks:
            cut = tuple(
                want.part.name
                for want, way in zip(self.wanted, self.ways, strict=True)
                if way and want.part.stock == stock.name and _lies_whole(want)
            )
            if cut:
                before, after = wholes[stock.name].best, self.layings[stock.name].best
                spared = before.cost - after.cost
                cost = Decimal(spared.numerator) / Decimal(spared.denominator) if stock.has_prices else None
                found.append(Saving(stock=stock.name, parts=cut, boards=before.new - after.new, cost=cost))
        return found

    def _laid(self, stock: Stock, ways: Sequence[int]) -> Laying | None:
        of_stock = self._of_stock(stock, ways)
        if not of_stock:
            return None
        laying = Laying(of_stock, stock, seed=self.seed, listener=self.listener, bed_mm=self.bed_mm)
        laying.by_steps(self.pace)
        return laying

    def _of_stock(self, stock: Stock, ways: Sequence[int]) -> list[Wanted]:
        return [
            replace(want, ways=(_on(want.ways[way], stock),), is_open=want.is_open or len(want.ways) > 1)
            for want, way in zip(self.wanted, ways, strict=True)
            if _of_stock(want, way, stock)
        ]

    def _pieces(self, stock: Stock, ways: Sequence[int]) -> list[tuple[Way, ...]]:
        return [want.ways for want in self._of_stock(stock, ways)]

    def _worth(self, layings: dict[str, Laying], ways: Sequence[int]) -> Worth:
        best = [laying.best for laying in layings.values()]
        joints = sum(
            len(want.ways[way].joints) * want.part.count for want, way in zip(self.wanted, ways, strict=True)
        )
        return sum((one.cost for one in best), Fraction(0)), sum(one.new for one in best), joints


def _lies_whole(want: Wanted) -> bool:
    return len(want.ways[0].pieces) == 1 and want.ways[0].pieces[0].role is Role.WHOLE


def _on(way: Way, stock: Stock) -> Way:
    """The pieces of a way that are cut from a stock."""
    pieces = tuple(piece for piece in way.pieces if piece.flat.stock == stock.name)
    return Way(pieces=pieces, joints=way.joints)


def _of_stock(want: Wanted, way: int, stock: Stock) -> bool:
    return any(piece.flat.stock == stock.name for piece in want.ways[way].pieces)
