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
from foamcut.nest.tiling_shapes import SLACK_MM, Corner, Overlaps, Shape
from foamcut.nest.tiling_sums import Sums

_TURN = 2 * math.pi
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
        if not self._adds_up(board, choices):
            return False
        choice = min(choices, key=lambda c: len(c.spots))
        for spot in self._in_order(board, choice):
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

    def _in_order(self, board: Board, choice: Choice) -> list[Spot]:
        """The places of a choice, those that meet most corners first, then the largest."""
        spots = list(choice.spots)
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

    def _sums_along(self, wedge: Wedge) -> Sums:
        key = round(wedge.out % _TURN / _WAYS)
        if key not in self._sums:
            sides: list[list[float]] = [[] for _ in self._left]
            for shape in self._shapes:
                along = [c for c in shape.corners if turn_between(c.out, wedge.out) <= 3 * _WAYS + c.doubt]
                sides[shape.kind] += _subset_sums([c.length for c in along])
            self._sums[key] = Sums(sides, 2 * SLACK_MM)
        return self._sums[key]


def _subset_sums(lengths: Sequence[float]) -> list[float]:
    """A concave piece may lie along an edge with several of its sides."""
    sums = [0.0]
    for length in lengths:
        sums += [s + length for s in sums]
    return sums[1:]


def _one_each(shapes: Sequence[Shape]) -> list[Shape]:
    """The first shape of each kind."""
    first: dict[int, Shape] = {}
    for shape in shapes:
        first.setdefault(shape.kind, shape)
    return [first[kind] for kind in sorted(first)]
