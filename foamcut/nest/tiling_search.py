"""Fills boards without a rest, one after another: always where the fewest pieces would go.

Method: an exact cover by depth first.  A free wedge of less than half a turn must be filled from its first
side by a corner of some piece with an edge along that side, and likewise from its second; the side with the
fewest such places is tried (the most constrained first, as in Knuth, "Dancing links", 2000; from memory).
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

from foamcut.nest.tiling_nodes import Board, Spot, Wedge, against, at_corner, turn_between
from foamcut.nest.tiling_shapes import ONE_LINE_MM, SLACK_MM, Corner, Overlaps, Shape
from foamcut.nest.tiling_sums import Sums

_TURN = 2 * math.pi
#: choices whose places are looked at more closely, and how many times more places than the best they may have
_CLOSEST, _WORTH = 4, 3
#: directions are told apart by this when lengths are added up
_WAYS = 1e-3


@dataclass(frozen=True, slots=True)
class Choice:
    """The places that fill a wedge from its first or its second side."""

    wedge: Wedge
    first: bool
    spots: tuple[Spot, ...]


class Stopped(Exception):
    """The tries are used up, or somebody asked for an end."""


class Search:
    """Looks for places of all pieces, `counts` of each kind, on equal rooms; `shapes` are their lies."""

    def __init__(
        self,
        shapes: Sequence[Shape],
        counts: Sequence[int],
        room: tuple[float, float, float, float],
        is_done: Callable[[tuple[tuple[Spot, ...], ...]], bool],
        is_stopped: Callable[[], bool],
    ) -> None:
        self._shapes = shapes
        self._left = list(counts)
        self._room = room
        self._area = (room[2] - room[0]) * (room[3] - room[1])
        self._is_done = is_done
        self._is_stopped = is_stopped
        self._overlaps = Overlaps()
        self._corners = [(s, c) for s in shapes for c in s.corners if c.angle < math.pi]
        self._least_angle = [min(c.angle for c in s.corners) for s in _one_each(shapes)]
        self._areas = Sums([[s.area] for s in _one_each(shapes)], 0.0)
        self._sums: dict[int, Sums] = {}
        self._full: list[tuple[Spot, ...]] = []
        self._tries = 0
        self._rng: Random | None = None

    def go(self, tries: int, rng: Random | None) -> bool | None:
        """Search with a number of pieces laid down; True: found, False: there is no way, None: not known."""
        self._tries, self._rng = tries, rng
        left, full = list(self._left), len(self._full)
        try:
            return self._board()
        except Stopped:
            self._left = left
            del self._full[full:]
            return None

    def _board(self) -> bool:
        board = Board(self._room)
        choices = [c for i in range(len(board.nodes)) for c in self._choices(board, i)]
        return self._fill(board, choices)

    def _fill(self, board: Board, choices: Sequence[Choice]) -> bool:
        if not choices:
            return self._next(board)
        if not self._adds_up(board, choices) or not self._pockets_add_up(board):
            return False
        for spot in self._fewest(board, choices):
            self._tries -= 1
            if self._tries < 0 or (self._tries % 64 == 0 and self._is_stopped()):
                raise Stopped
            self._left[spot.shape.kind] -= 1
            touched = board.put(spot)
            after = self._after(board, choices, touched)
            if after is not None and self._fill(board, after):
                return True
            board.lift()
            self._left[spot.shape.kind] += 1
        return False

    def _next(self, board: Board) -> bool:
        """Go on with the next board when this one is full."""
        if abs(sum(s.shape.area for s in board.spots) - self._area) > SLACK_MM * math.sqrt(self._area):
            return False
        self._full.append(tuple(board.spots))
        if self._board() if any(self._left) else self._is_done(tuple(self._full)):
            return True
        self._full.pop()
        return False

    def _fewest(self, board: Board, choices: Sequence[Choice]) -> list[Spot]:
        """The places of the choice with the fewest; the closest few are looked at with their sums."""
        narrow = sorted(choices, key=lambda c: len(c.spots))[:_CLOSEST]
        best: list[Spot] | None = None
        for choice in narrow:
            if best is None or len(choice.spots) <= _WORTH * len(best):
                spots = self._add_up_after(board, choice)
                if best is None or len(spots) < len(best):
                    best = spots
                if len(best) <= 1:
                    break
        return self._in_order(board, best or [])

    def _add_up_after(self, board: Board, choice: Choice) -> list[Spot]:
        """The places of a choice that leave a rest of the wedge's first side that others may fill."""
        run = board.run(choice.wedge) if choice.first and len(choice.spots) > 1 else None
        if run is None:
            return list(choice.spots)
        sums = self._sums_along(choice.wedge)
        node = board.nodes[choice.wedge.node]
        found = []
        for spot in choice.spots:
            x, y = node.x - spot.x, node.y - spot.y
            corner = min(spot.shape.corners, key=lambda c: abs(c.x - x) + abs(c.y - y))
            left = list(self._left)
            left[spot.shape.kind] -= 1
            if not spot.shape.lone(corner) or sums.reach(tuple(left), run - corner.length):
                found.append(spot)
        return found

    def _in_order(self, board: Board, spots: list[Spot]) -> list[Spot]:
        """Those that meet most corners first, then the largest."""
        if self._rng is not None:
            self._rng.shuffle(spots)
            return sorted(spots, key=lambda s: -board.common(s))
        return sorted(spots, key=lambda s: (-board.common(s), -s.shape.area))

    def _after(self, board: Board, choices: Sequence[Choice], touched: Sequence[int]) -> list[Choice] | None:
        """The choices once the board's last piece lies; None: some wedge cannot be filled any more."""
        last = board.spots[-1]
        found = []
        for choice in choices:
            if choice.wedge.node not in touched:
                spots = tuple(s for s in choice.spots if self._left[s.shape.kind] and self._clear(last, s))
                if not spots:
                    return None
                found.append(Choice(choice.wedge, choice.first, spots))
        for index in touched:
            for choice in self._choices(board, index):
                if not choice.spots:
                    return None
                found.append(choice)
        return found

    def _choices(self, board: Board, index: int) -> list[Choice]:
        node = board.nodes[index]
        found = []
        for wedge in board.wedges(index):
            least = min((a for a, n in zip(self._least_angle, self._left, strict=True) if n), default=_TURN)
            for first in (True, False):
                spots = [
                    at_corner(shape, corner, (node.x, node.y))
                    for shape, corner in self._corners
                    if self._left[shape.kind]
                    and against(wedge, corner, first=first)
                    and self._may_rest(wedge, corner, least)
                ]
                found.append(Choice(wedge, first, tuple(s for s in spots if self._fits(board, s))))
        return found

    @staticmethod
    def _may_rest(wedge: Wedge, corner: Corner, least: float) -> bool:
        rest, doubt = wedge.angle - corner.angle, wedge.doubt + corner.doubt
        return rest <= doubt or rest >= least - doubt

    def _fits(self, board: Board, spot: Spot) -> bool:
        x0, y0, x1, y1 = self._room
        if spot.x < x0 - SLACK_MM or spot.x + spot.shape.width > x1 + SLACK_MM:
            return False
        if spot.y < y0 - SLACK_MM or spot.y + spot.shape.height > y1 + SLACK_MM:
            return False
        return all(self._clear(other, spot) for other in board.spots)

    def _clear(self, a: Spot, b: Spot) -> bool:
        return not self._overlaps.overlap(a.shape, b.shape, b.x - a.x, b.y - a.y)

    def _adds_up(self, board: Board, choices: Sequence[Choice]) -> bool:
        """Whether sides of the pieces that are left may fill every edge between two wedges."""
        left = tuple(self._left)
        for choice in choices:
            if choice.first:
                run = board.run(choice.wedge)
                if run is not None and not self._sums_along(choice.wedge).reach(left, run):
                    return False
        return True

    def _pockets_add_up(self, board: Board) -> bool:
        """Whether pieces that are left may fill each of the parts into which the free room falls."""
        left = tuple(self._left)
        pockets = board.pockets()
        return len(pockets) < 2 or all(self._areas.reach(left, area, doubt) for area, doubt in pockets)

    def _sums_along(self, wedge: Wedge) -> Sums:
        key = round(wedge.out % _TURN / _WAYS)
        if key not in self._sums:
            sides: list[list[float]] = [[] for _ in self._left]
            for shape in self._shapes:
                sides[shape.kind] += _lengths(shape, wedge.out)
            self._sums[key] = Sums(sides, 2 * SLACK_MM)
        return self._sums[key]


def _lengths(shape: Shape, way: float) -> list[float]:
    """What a shape may bring along an edge of this direction; with several sides on one line, their sums."""
    lines: list[tuple[float, list[float]]] = []
    for c in shape.corners:
        if turn_between(c.out, way) <= 3 * _WAYS + c.doubt:
            off = c.y * math.cos(c.out) - c.x * math.sin(c.out)
            same = next((sums for at, sums in lines if abs(at - off) <= ONE_LINE_MM), None)
            if same is None:
                lines.append((off, [c.length]))
            else:
                same += [c.length, *(s + c.length for s in same)]
    return [s for _, sums in lines for s in sums]


def _one_each(shapes: Sequence[Shape]) -> list[Shape]:
    """The first shape of each kind."""
    first: dict[int, Shape] = {}
    for shape in shapes:
        first.setdefault(shape.kind, shape)
    return [first[kind] for kind in sorted(first)]
