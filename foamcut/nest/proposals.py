"""Layouts that the steps of the search do not come upon, each taken only if the verifier finds nothing wrong.

Boards that were cut up are put together again (`foamcut.nest.tiling`); the optional solver proposes others
(`foamcut.nest.squeezing`).  Both serve where a stock has one upright size to buy and nothing on the shelf.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random

from foamcut.flat.placement import Placement, rounded
from foamcut.flat.stock import Stock
from foamcut.flat.way import piece_id
from foamcut.nest import extra
from foamcut.nest.bound import bound
from foamcut.nest.grounds import Least
from foamcut.nest.leftover import free_area
from foamcut.nest.rooms import NM_PER_MM, Source, nanometres
from foamcut.nest.squeezing import Helper
from foamcut.nest.tiling import Tile, tile
from foamcut.nest.trials import Search, sheet
from foamcut.nest.turning import may_lie_askew
from foamcut.nest.values import Kind, Layout, Placed, Sheet, Wanted
from foamcut.nest.verify import faults


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


class Proposals:
    """What others propose for the pieces of a search, measured against the best layout so far."""

    def __init__(
        self, search: Search, wanted: Sequence[Wanted], stock: Stock, rooms: Sequence[Source], floor: Least
    ) -> None:
        self._search, self._wanted, self._stock, self._floor = search, wanted, stock, floor
        only = rooms[0] if len(rooms) == 1 and rooms[0].kind is Kind.NEW else None
        self._room = only if only and only.usable else None
        self._asked: tuple[Outcome, list[list[int]]] | None = None

    def put_together(self, best: Outcome, tries: int, is_stopped: Callable[[], bool]) -> Outcome | None:
        """A layout that fills its boards without a rest, as pieces of cut-up boards do."""
        room = self._room
        if room is None or room.usable is None:
            return None
        half = self._stock.gap_mm / 2
        items = [n for n, item in enumerate(self._search.items) if item.way == best.ways[item.wanted]]
        tiles = [self._tile(n, half) for n in items]
        x0, y0, x1, y1 = (v / NM_PER_MM for v in room.usable)
        grown = x0 - half, y0 - half, x1 + half, y1 + half
        for boards in range(1, best.new):
            found = tile(tiles, grown, boards, tries, is_stopped=is_stopped)
            if found is not None:
                spots = [(board, n, placement) for n, (board, placement) in zip(items, found, strict=True)]
                return self._better(best, room, boards, spots)
        return None

    def helper(self, seed: int) -> Helper | None:
        """The optional solver, where it is installed and can serve."""
        if self._room is None or not extra.is_there():
            return None
        items = self._search.items
        polygons = [self._search.piece(item).outline.polygon for item in items]
        turns = [self._turns(n) for n in range(len(items))]
        return Helper(polygons, turns, self._room.room_mm, self._stock.gap_mm, Random(seed))

    def asked(self, helper: Helper, best: Outcome, *, may_save: bool) -> Outcome | None:
        """What the optional solver has that is better; it is asked again and again and never waits."""
        room = self._room
        if room is None or room.usable is None:
            return None
        if self._asked is None or self._asked[0] is not best:
            self._asked = best, self._numbered(best.sheets)
        found = helper.poll(self._asked[1], may_save=may_save)
        if found is None:
            return None
        x0, y0 = room.usable[0] / NM_PER_MM, room.usable[1] / NM_PER_MM
        spots = [
            (board, n, replace(spot, x_mm=spot.x_mm + x0, y_mm=spot.y_mm + y0))
            for board, several in enumerate(found)
            for n, spot in several
        ]
        return self._better(best, room, len(found), spots)

    def _tile(self, number: int, half_mm: float) -> Tile:
        item = self._search.items[number]
        piece = self._search.piece(item)
        polygon = piece.outline.polygon
        if half_mm:
            polygon = polygon.buffer(half_mm, join_style="mitre", mitre_limit=10.0)
        turns = tuple(dict.fromkeys((lie.turn_deg, lie.flipped) for lie in item.lies))
        return Tile(polygon=polygon, turns=turns, askew=may_lie_askew(piece.flat, self._stock))

    def _better(
        self, best: Outcome, room: Source, boards: int, spots: Sequence[tuple[int, int, Placement]]
    ) -> Outcome | None:
        """The layout (board, item, placement), if it is better and the verifier has nothing against it."""
        on: list[list[Placed]] = [[] for _ in range(boards)]
        for board, number, placement in spots:
            on[board].append(self._placed(number, placement))
        sheets = tuple(sheet(self._stock, room, i, placed) for i, placed in enumerate(on, 1))
        outcome = replace(
            best, new=boards, cost=boards * room.price, sheets=sheets, free=self._free(room, on)
        )
        if outcome.worth >= best.worth:
            return None
        words = bound(self._stock, self._floor, outcome.new, outcome.cost)
        settled = [
            replace(want, ways=(want.ways[way],))
            for want, way in zip(self._wanted, outcome.ways, strict=True)
        ]
        layout = Layout(stock=self._stock, sheets=sheets, bound=words)
        return None if faults([layout], settled) else outcome

    def _free(self, room: Source, on: Sequence[Sequence[Placed]]) -> int:
        emptiest = min(on, key=lambda placed: sum(one.outline.area for one in placed))
        gap = nanometres(self._stock.gap_mm)
        boxes = [_box(one.outline.bounds, gap) for one in emptiest]
        return free_area(room.usable, boxes) if room.usable else 0

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

    def _turns(self, number: int) -> tuple[float, ...] | None:
        """The turns of an item for the optional solver, face up; None: every angle."""
        item = self._search.items[number]
        if may_lie_askew(self._search.piece(item).flat, self._stock):
            return None
        return tuple(dict.fromkeys(lie.turn_deg for lie in item.lies if not lie.flipped))

    def _numbered(self, sheets: Sequence[Sheet]) -> list[list[int]]:
        """The items on each sheet."""
        items = enumerate(self._search.items)
        numbers = {piece_id(self._search.piece(item), item.copy): n for n, item in items}
        return [[numbers[one.id] for one in one_sheet.placed] for one_sheet in sheets]


def _box(bounds: tuple[float, float, float, float], gap: int) -> tuple[int, int, int, int]:
    x0, y0, x1, y1 = (nanometres(v) for v in bounds)
    return x0 - gap, y0 - gap, x1 + gap, y1 + gap
