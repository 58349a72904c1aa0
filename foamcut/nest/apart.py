"""Pieces of which no two fit one sheet: each needs a board of its own, which bounds the boards from below.

Two pieces share no sheet when their areas are too much for it, or when, in all turns, every place of one
beside the other lies inside its no-fit outline.  Here outlines err to the small side (exact corners, round
gap, less the tolerance of placing), so that what is found is proof.  The largest such group is a maximum
clique; any group found is a bound.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from foamcut.flat.joint import Piece
from foamcut.flat.stock import Stock
from foamcut.flat.tolerances import PLACED_MM
from foamcut.nest.bound import grown_room
from foamcut.nest.exact import Lying, area_at_least, box_of, hull_of, lyings
from foamcut.nest.forms import signed_area, turned
from foamcut.nest.nofit import no_fit, no_fit_by_parts, sum_work, without
from foamcut.nest.rooms import NM_PER_MM, UNITS, Path, Paths, Source, nanometres, offset
from foamcut.nest.turning import may_lie_askew

#: kinds of pieces looked at, the largest first
_MOST_KINDS = 40
#: corners of an exact no-fit outline; larger pairs are taken to fit
_MOST_WORK = 20_000
#: groups tried before the largest so far is taken
_MOST_TRIES = 20_000


@dataclass(frozen=True, slots=True)
class Kin:
    """A piece, how often it is wanted, and which of the sources take it."""

    piece: Piece
    count: int
    fits: tuple[bool, ...]


class Upright:
    """The kinds that lie in quarter turns alone, largest first, and which of them may share a sheet.

    The sheet is the box around all rooms, larger by the tolerance of placing; the gap is smaller by it, and
    below nought where there is none.  `room` is the most that a sheet holds, nm2.  `like`: the same kinds on
    other sheets.
    """

    def __init__(
        self, kinds: Sequence[Kin], stock: Stock, rooms: Sequence[Source], like: "Upright | None" = None
    ) -> None:
        boxes = [source.room_mm for source in rooms]
        slack = nanometres(PLACED_MM)
        self.width = (nanometres(max((w for w, _ in boxes), default=0)) + 2 * slack) * UNITS
        self.height = (nanometres(max((h for _, h in boxes), default=0)) + 2 * slack) * UNITS
        self.gap = (nanometres(stock.gap_mm) - 2 * slack) * UNITS
        self.room = _room(stock, rooms)
        self._known: dict[tuple[int, int, int, int], bool] = {}
        self.kinds = kinds
        self._grown: dict[int, list[Paths]] = like._grown if like else {}
        self._hulls: dict[int, list[tuple[Path, Path]]] = like._hulls if like else {}
        self.order: list[int] = like.order if like else _upright(kinds, stock)
        #: the ways in which each lies, and what a piece takes at least, nm2
        self.lyings: dict[int, tuple[Lying, ...]] = (
            like.lyings if like else {i: lyings(kinds[i].piece, stock) for i in self.order}
        )
        self.areas: dict[int, int] = like.areas if like else {i: _area(kinds[i], stock) for i in self.order}

    def may_share(self, a: int, b: int) -> bool:
        """True unless it is proven that a piece of kind `a` and one of kind `b` cannot."""
        # two boxes side by side are quick to see
        if any(self._side_by_side(one, other) for one in self.lyings[a] for other in self.lyings[b]):
            return True
        if self.areas[a] + self.areas[b] > self.room:
            return False
        return any(
            self.may_lie_together(a, one, b, other)
            for one in range(len(self.lyings[a]))
            for other in range(len(self.lyings[b]))
        )

    def may_lie_together(self, a: int, lying: int, b: int, other: int) -> bool:
        """The same for one lie of each, an index among `lyings`."""
        key = (a, lying, b, other) if (a, lying) <= (b, other) else (b, other, a, lying)
        if key not in self._known:
            one, two = self.lyings[key[0]][key[1]], self.lyings[key[2]][key[3]]
            self._known[key] = self._side_by_side(one, two) or self._beside(*key)
        return self._known[key]

    def sound(self, lying: Lying) -> Lying:
        """The piece without what the tolerance of placing lets another overlap, in the same box."""
        if self.gap >= 0:
            return lying
        return replace(lying, rings=offset(lying.rings, self.gap, rounded=True))

    def _side_by_side(self, a: Lying, b: Lying) -> bool:
        gap = max(0, self.gap)
        return (a.width + b.width + gap <= self.width and max(a.height, b.height) <= self.height) or (
            a.height + b.height + gap <= self.height and max(a.width, b.width) <= self.width
        )

    def _beside(self, a: int, lying: int, b: int, other: int) -> bool:
        """Whether some place of one beside the other keeps both on the sheet."""
        one, two = self.lyings[a][lying], self.lyings[b][other]
        ax0, ay0, ax1, ay1 = box_of(one.rings)
        bx0, by0, bx1, by1 = box_of(two.rings)
        # both on the sheet: the box of the two together is no larger than it
        x0, x1 = ax1 - self.width - bx0, ax0 + self.width - bx1
        y0, y1 = ay1 - self.height - by0, ay0 + self.height - by1
        if x0 > x1 or y0 > y1:
            return False
        if x0 == x1 or y0 == y1 or not self._opposite(b)[other]:
            return True
        places = [[(x0, y0), (x1, y0), (x1, y1), (x0, y1)]]
        # where hulls lie side by side the pieces do; that is quick to see
        (hull, _), (_, through) = self._hull(a)[lying], self._hull(b)[other]
        if without(places, no_fit([hull], [through])):
            return True
        still, opposite = _that_may_hold(one.rings, two), _that_may_hold(self._opposite(b)[other], one)
        if sum_work(still, opposite) > _MOST_WORK:
            return True
        return bool(without(places, no_fit_by_parts(still, opposite)))

    def _opposite(self, kind: int) -> list[Paths]:
        """Each lie of a kind grown by the gap, turned through (0, 0)."""
        if kind not in self._grown:
            self._grown[kind] = [
                [turned(path, 2) for path in offset(one.rings, self.gap, rounded=True)]
                for one in self.lyings[kind]
            ]
        return self._grown[kind]

    def _hull(self, kind: int) -> list[tuple[Path, Path]]:
        """The hull of each lie of a kind, and that of its `_opposite`."""
        if kind not in self._hulls:
            pairs = zip(self.lyings[kind], self._opposite(kind), strict=True)
            self._hulls[kind] = [(hull_of(one.rings), hull_of(grown or one.rings)) for one, grown in pairs]
        return self._hulls[kind]


def _upright(kinds: Sequence[Kin], stock: Stock) -> list[int]:
    found = [i for i, kind in enumerate(kinds) if not may_lie_askew(kind.piece.flat, stock)]
    return sorted(found, key=lambda i: (-kinds[i].piece.outline.area, i))[:_MOST_KINDS]


def _area(kind: Kin, stock: Stock) -> int:
    return area_at_least(kind.piece.outline.polygon, stock.gap_mm)


def _that_may_hold(rings: Paths, other: Lying) -> Paths:
    """Rings without the holes that another piece is too large for."""
    found = []
    for path in rings:
        x0, y0, x1, y1 = box_of([path])
        is_hole = signed_area(path) < 0
        if not is_hole or (x1 - x0 >= other.width and y1 - y0 >= other.height):
            found.append(path)
    return found


def _room(stock: Stock, rooms: Sequence[Source]) -> int:
    """The most that a sheet holds, the tolerance of placing counted to it, nm2."""
    if not rooms:
        return 0
    most = max(grown_room(source, stock.gap_mm) for source in rooms)
    around = max(2 * sum(source.room_mm) for source in rooms)
    return math.ceil((most + Fraction((around + 8 * stock.gap_mm + 1) * 2 * PLACED_MM)) * NM_PER_MM**2)


def pieces_apart(upright: Upright) -> tuple[tuple[int, int], ...]:
    """Indices of kinds and how many of each, of which no two fit any sheet together."""
    order, kinds = upright.order, upright.kinds
    apart = {
        (a, b)
        for n, a in enumerate(order)
        for b in order[n:]
        if (a != b or kinds[a].count > 1) and not upright.may_share(a, b)
    }
    weights = {i: kinds[i].count if (i, i) in apart else 1 for i in order}
    near = {i: [j for j in order if j != i and ((i, j) in apart or (j, i) in apart)] for i in order}
    return tuple((i, weights[i]) for i in largest_group(order, near, weights))


def largest_group(
    nodes: Sequence[int], near: dict[int, list[int]], weights: dict[int, int]
) -> tuple[int, ...]:
    """The heaviest group in which all are near each other; the heaviest found when there are too many.

    Method: branch and bound by the sum of the weights left.
    """
    best: tuple[int, ...] = ()
    best_weight = tries = 0

    def grow(group: tuple[int, ...], weight: int, left: Sequence[int]) -> None:
        nonlocal best, best_weight, tries
        tries += 1
        if weight > best_weight:
            best, best_weight = group, weight
        for n, node in enumerate(left):
            if tries > _MOST_TRIES or weight + sum(weights[i] for i in left[n:]) <= best_weight:
                return
            grow((*group, node), weight + weights[node], [i for i in left[n + 1 :] if i in near[node]])

    grow((), 0, nodes)
    return best
