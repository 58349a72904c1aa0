"""Pieces of which no two fit one sheet: each needs a board of its own, which bounds the boards from below.

Two pieces share no sheet when, in all turns, every place of one beside the other lies inside its no-fit
outline.  Here outlines err to the small side (exact corners, round gap, less the tolerance of placing), so
that what is found is proof.  The largest such group is a maximum clique; any group found is a bound.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.flat.joint import Piece
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.flat.tolerances import PLACED_MM
from foamcut.nest.forms import Lie, turned
from foamcut.nest.nofit import no_fit, sum_work, without
from foamcut.nest.rooms import UNITS, Paths, Source, nanometres, offset, unit_rings
from foamcut.nest.turning import may_lie_askew

#: kinds of pieces looked at, the largest first
_MOST_KINDS = 40
#: corners of an exact no-fit outline; larger pairs are taken to fit
_MOST_WORK = 20_000
#: groups tried before the largest so far is taken
_MOST_TRIES = 20_000

Box = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class Kin:
    """A piece, how often it is wanted, the ways in which it may lie, and which of the sources take it."""

    piece: Piece
    count: int
    lies: tuple[Lie, ...]
    fits: tuple[bool, ...]


def pieces_apart(kinds: Sequence[Kin], stock: Stock, rooms: Sequence[Source]) -> tuple[tuple[int, int], ...]:
    """Indices of kinds and how many of each, of which no two fit any sheet together."""
    pair = _Pair(stock, rooms)
    upright = [i for i, kind in enumerate(kinds) if not may_lie_askew(kind.piece.flat, stock)]
    upright = sorted(upright, key=lambda i: (-kinds[i].piece.outline.area, i))[:_MOST_KINDS]
    apart = {
        (a, b)
        for n, a in enumerate(upright)
        for b in upright[n:]
        if (a != b or kinds[a].count > 1) and not pair.may_share(kinds[a], kinds[b])
    }
    weights = {i: kinds[i].count if (i, i) in apart else 1 for i in upright}
    near = {i: [j for j in upright if j != i and ((i, j) in apart or (j, i) in apart)] for i in upright}
    return tuple((i, weights[i]) for i in largest_group(upright, near, weights))


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


class _Pair:
    """Whether two pieces may lie on one sheet, the box around all rooms being the sheet."""

    def __init__(self, stock: Stock, rooms: Sequence[Source]) -> None:
        boxes = [source.room_mm for source in rooms]
        slack = nanometres(PLACED_MM)
        self._width = (nanometres(max(w for w, _ in boxes)) + 2 * slack) * UNITS
        self._height = (nanometres(max(h for _, h in boxes)) + 2 * slack) * UNITS
        self._gap = (nanometres(stock.gap_mm) - 2 * slack) * UNITS

    def may_share(self, a: Kin, b: Kin) -> bool:
        """True unless it is proven that they cannot."""
        gap = max(0, self._gap)
        for lie in a.lies:
            for other in b.lies:
                if self._side_by_side(_extent(lie.bounds), _extent(other.bounds), gap):
                    return True
        lying = [_exact(a.piece, lie) for lie in a.lies]
        moving = [_exact(b.piece, lie) for lie in b.lies]
        return any(self._beside(one, other) for one in lying for other in moving)

    def _side_by_side(self, a: tuple[int, int], b: tuple[int, int], gap: int) -> bool:
        return (a[0] + b[0] + gap <= self._width and max(a[1], b[1]) <= self._height) or (
            a[1] + b[1] + gap <= self._height and max(a[0], b[0]) <= self._width
        )

    def _beside(self, lying: Paths, moving: Paths) -> bool:
        """Whether some place of `moving` beside `lying` keeps both on the sheet."""
        ax0, ay0, ax1, ay1 = _box(lying)
        bx0, by0, bx1, by1 = _box(moving)
        # both on the sheet: the box of the two together is no larger than it
        x0, x1 = ax1 - self._width - bx0, ax0 + self._width - bx1
        y0, y1 = ay1 - self._height - by0, ay0 + self._height - by1
        if x0 > x1 or y0 > y1:
            return False
        opposite = [turned(path, 2) for path in offset(moving, self._gap, rounded=True)]
        if not opposite or sum_work(lying, opposite) > _MOST_WORK:
            return True
        places = [[(x0, y0), (x1, y0), (x1, y1), (x0, y1)]]
        return x0 == x1 or y0 == y1 or bool(without(places, no_fit(lying, opposite)))


def _exact(piece: Piece, lie: Lie) -> Paths:
    return unit_rings(piece.outline.placed(Placement(turn_deg=lie.turn_deg, flipped=lie.flipped)).polygon)


def _extent(bounds: Box) -> tuple[int, int]:
    return bounds[2] - bounds[0], bounds[3] - bounds[1]


def _box(paths: Paths) -> Box:
    xs = [x for path in paths for x, _ in path]
    ys = [y for path in paths for _, y in path]
    return min(xs), min(ys), max(xs), max(ys)
