"""How the optional strip solver serves several boards: which pieces go on which, a strip for each.

The usable room of a board is laid as a strip of its height, or of its width; a strip no longer than the other
side is a board.  For one board less the pieces of the emptiest are spread over the others by free area; what
juts out of a strip moves to the board with the most room, and after many failures the pieces are spread
anew.  Where boards cannot be saved, the emptiest is laid again and again for a shorter strip.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from shapely import Polygon

from foamcut.flat.placement import Placement, rounded
from foamcut.nest.extra import Job, Strip, StripItem

#: an item's index and where it lies from the lower left corner of the usable room
Spot = tuple[int, Placement]
Boards = list[list[Spot]]

#: strips that fail, for each board, before pieces are spread anew
_FAILURES = 6
#: longest job, seconds
_LONGEST_S = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """A board that holds its pieces, and how long their strip is."""

    length_mm: float
    spots: tuple[Spot, ...]


class Helper:
    """Lays strips in a child process while a search goes on; `poll` it at every step, `stop` it at the end.

    `polygons` are the pieces, one an index, `turns` their allowed turns in degrees, face up (None: every
    angle; empty: it cannot lie face up, so that nothing is proposed), `room_mm` width and height of the
    usable room of every board, `gap_mm` what is kept between pieces.
    """

    def __init__(
        self,
        polygons: Sequence[Polygon],
        turns: Sequence[tuple[float, ...] | None],
        room_mm: tuple[float, float],
        gap_mm: float,
        rng: Random,
    ) -> None:
        half = gap_mm / 2
        self._grown = [
            Polygon(polygon.exterior).buffer(half, join_style="mitre", mitre_limit=4.0) if half else polygon
            for polygon in polygons
        ]
        self._turns, self._rng, self._half = turns, rng, half
        self._areas = [Polygon(grown.exterior).area for grown in self._grown]
        self._room = (room_mm[0] + gap_mm, room_mm[1] + gap_mm)
        self._job: Job | None = None
        self._asked: tuple[tuple[int, ...], bool] = ((), False)
        self._known: dict[tuple[int, ...], _Laid] = {}
        self._best: tuple[tuple[int, ...], ...] = ()
        self._goal: list[list[int]] = []
        self._failures = 0
        self._shortest: float = math.inf

    def poll(self, boards: Sequence[Sequence[int]], *, may_save: bool) -> Boards | None:
        """A whole layout to be verified, or None.

        `boards` are the items on each board of the best layout so far.  With `may_save` a layout has one
        board fewer, else as many, with the emptiest pressed to one side.
        """
        best = tuple(sorted(tuple(sorted(board)) for board in boards))
        saves = may_save and self._might_save(best)
        aim = len(best) - 1 if saves else len(best)
        if best != self._best or aim != len(self._goal):
            self._begin(best, saves)
        if self._job is None:
            self._ask(saves)
            return None
        if not self._job.is_over:
            return None
        strip, self._job = self._job.poll(), None
        self._hear(strip, saves)
        return self._proposal(saves)

    def stop(self) -> None:
        """End the child."""
        if self._job:
            self._job.stop()
        self._job = None

    def _begin(self, best: tuple[tuple[int, ...], ...], saves: bool) -> None:
        self.stop()
        self._best, self._failures, self._shortest = best, 0, math.inf
        self._goal = self._spread() if saves else [list(board) for board in best]

    def _might_save(self, best: Sequence[Sequence[int]]) -> bool:
        area = sum(self._areas[n] for board in best for n in board)
        return len(best) > 1 and area <= (len(best) - 1) * self._room[0] * self._room[1]

    def _spread(self) -> list[list[int]]:
        """The pieces on one board less: those of the emptiest go, largest first, where most room is."""
        boards = sorted((list(board) for board in self._best), key=self._area)
        loose = boards.pop(0)
        if self._failures:
            # not the first time: some pieces of every board are spread with them
            share = self._rng.choice((0.1, 0.3, 1.0))
            for board in boards:
                moved = [n for n in board if self._rng.random() < share]
                board[:] = [n for n in board if n not in moved]
                loose += moved
        noise = {n: self._areas[n] * self._rng.uniform(0.8, 1.25) for n in loose}
        for number in sorted(loose, key=lambda n: (-noise[n], n)):
            min(boards, key=self._area).append(number)
        return boards

    def _area(self, board: Sequence[int]) -> float:
        return sum(self._areas[n] for n in board)

    def _ask(self, saves: bool) -> None:
        """Start a strip: of the fullest board not yet laid, or else of the emptiest once more."""
        open_boards = [board for board in self._goal if _key(board) not in self._known]
        if not open_boards and saves:
            # all are laid and it was no layout for the verifier: spread anew
            self._failures += 1
            self._goal = self._spread()
            return
        board = max(open_boards, key=self._area) if open_boards else min(self._goal, key=self._area)
        sideways = self._rng.random() < 0.5
        seconds = 1 + min(_LONGEST_S - 1, self._failures // max(1, len(self._goal)))
        self._asked = _key(board), sideways
        height = self._room[0] if sideways else self._room[1]
        items = [self._item(n, sideways) for n in _key(board)]
        seed = self._rng.randrange(2**31)
        self._job = Job.start(items, height_mm=height, seconds=seconds, seed=seed)

    def _item(self, number: int, sideways: bool) -> StripItem:
        turns = self._turns[number]
        if sideways and turns is not None:
            turns = tuple((turn + 90) % 360 for turn in turns)
        return StripItem(polygon=self._grown[number], count=1, turns_deg=turns)

    def _hear(self, strip: Strip | None, saves: bool) -> None:
        """Keep a strip that is a board; move what juts out of one that is not."""
        board, sideways = self._asked
        longest = self._room[1] if sideways else self._room[0]
        if strip is not None and strip.length_mm <= longest:
            spots = tuple(
                (n, self._on_board(own[0], strip.length_mm, sideways))
                for n, own in zip(board, strip.placements, strict=True)
            )
            # as a share of its own side, so that strips of both ways compare
            length = strip.length_mm / longest
            known = self._known.get(board)
            if known is None or length < known.length_mm:
                self._known[board] = _Laid(length_mm=length, spots=spots)
            return
        self._failures += 1
        if not saves:
            return
        if strip is None or self._failures % (_FAILURES * len(self._goal)) == 0:
            self._goal = self._spread()
            return
        jut = [
            n
            for n, own in zip(board, strip.placements, strict=True)
            if _reach(self._grown[n], own[0]) > longest
        ]
        self._move(board, jut)

    def _move(self, board: tuple[int, ...], jut: Sequence[int]) -> None:
        """Move pieces to the board with the most room; from an overfilled one something smaller returns."""
        source = next((one for one in self._goal if _key(one) == board), None)
        others = [one for one in self._goal if one is not source]
        if source is None or not others:
            return
        full = self._room[0] * self._room[1]
        for number in sorted(jut, key=lambda n: (-self._areas[n], n)):
            target = min(others, key=self._area)
            source.remove(number)
            target.append(number)
            smaller = [n for n in target if self._areas[n] < self._areas[number]]
            if self._area(target) > full and smaller:
                back = self._rng.choice(sorted(smaller))
                target.remove(back)
                source.append(back)

    def _proposal(self, saves: bool) -> Boards | None:
        """The layout once every board is laid; with no board saved, only if the emptiest is pressed more."""
        laid = [self._known.get(_key(board)) for board in self._goal]
        whole = [one for one in laid if one is not None]
        if len(whole) < len(laid):
            return None
        if not saves:
            emptiest = self._known[_key(min(self._goal, key=self._area))]
            if emptiest.length_mm >= self._shortest:
                return None
            self._shortest = emptiest.length_mm
        return [list(one.spots) for one in whole]

    def _on_board(self, placed: Placement, length: float, sideways: bool) -> Placement:
        """From the strip to the board; a strip laid sideways is turned clockwise, its end then below."""
        x, y, turn = placed.x_mm, placed.y_mm, placed.turn_deg
        if sideways:
            x, y, turn = y, length - x, (turn - 90) % 360
        return replace(
            placed, x_mm=rounded(x - self._half), y_mm=rounded(y - self._half), turn_deg=turn % 360
        )


def _key(board: Sequence[int]) -> tuple[int, ...]:
    return tuple(sorted(board))


def _reach(polygon: Polygon, placed: Placement) -> float:
    """How far to the right a placed shape reaches."""
    return max(placed.point(x, y)[0] for x, y in polygon.exterior.coords)
