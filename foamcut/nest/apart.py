"""Pieces of which no two fit one sheet: each needs a board of its own, which bounds the boards from below.

Two pieces share no sheet when, in all turns, every place of one beside the other lies inside its no-fit
outline.  Here outlines err to the small side (exact corners, round gap, less the tolerance of placing), so
that what is found is proof.  The largest such group is a maximum clique; any group found is a bound.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from foamcut.flat.joint import Piece
from foamcut.flat.stock import Stock
from foamcut.flat.tolerances import PLACED_MM
from foamcut.nest.exact import Lying, box_of, lyings
from foamcut.nest.forms import turned
from foamcut.nest.nofit import no_fit, sum_work, without
from foamcut.nest.rooms import UNITS, Paths, Source, nanometres, offset
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
    below nought where there is none.
    """

    def __init__(self, kinds: Sequence[Kin], stock: Stock, rooms: Sequence[Source]) -> None:
        boxes = [source.room_mm for source in rooms]
        slack = nanometres(PLACED_MM)
        self.width = (nanometres(max((w for w, _ in boxes), default=0)) + 2 * slack) * UNITS
        self.height = (nanometres(max((h for _, h in boxes), default=0)) + 2 * slack) * UNITS
        self.gap = (nanometres(stock.gap_mm) - 2 * slack) * UNITS
        upright = [i for i, kind in enumerate(kinds) if not may_lie_askew(kind.piece.flat, stock)]
        self.kinds = kinds
        self.order = sorted(upright, key=lambda i: (-kinds[i].piece.outline.area, i))[:_MOST_KINDS]
        self.lyings = {i: lyings(kinds[i].piece, stock) for i in self.order}
        self._grown: dict[int, list[Paths]] = {}
        self._known: dict[tuple[int, int, int, int], bool] = {}

    def may_share(self, a: int, b: int) -> bool:
        """True unless it is proven that a piece of kind `a` and one of kind `b` cannot."""
        # two boxes side by side are quick to see
        if any(self._side_by_side(one, other) for one in self.lyings[a] for other in self.lyings[b]):
            return True
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
        still = self.lyings[a][lying].rings
        ax0, ay0, ax1, ay1 = box_of(still)
        bx0, by0, bx1, by1 = box_of(self.lyings[b][other].rings)
        # both on the sheet: the box of the two together is no larger than it
        x0, x1 = ax1 - self.width - bx0, ax0 + self.width - bx1
        y0, y1 = ay1 - self.height - by0, ay0 + self.height - by1
        if x0 > x1 or y0 > y1:
            return False
        if b not in self._grown:
            self._grown[b] = [
                [turned(path, 2) for path in offset(one.rings, self.gap, rounded=True)]
                for one in self.lyings[b]
            ]
        opposite = self._grown[b][other]
        if not opposite or sum_work(still, opposite) > _MOST_WORK:
            return True
        places = [[(x0, y0), (x1, y0), (x1, y1), (x0, y1)]]
        return x0 == x1 or y0 == y1 or bool(without(places, no_fit(still, opposite)))


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
