"""The best place for an item on a sheet on which others lie, remembered from layout to layout.

Layouts of one search mostly begin alike.  A *state* is a number that stands for a sheet and what was put on
it, in order: states below the number of sources are empty sheets.  Lengths in units (`foamcut.nest.rooms`).

Method: places are the corners of what the no-fit outlines leave of the inner-fit outline (bottom-left
placing; Burke, Hellier, Kendall, Whitwell, "A new bottom-left-fill heuristic algorithm for the
two-dimensional irregular packing problem", Operations Research 54, 2006; from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.nest.forms import Lie
from foamcut.nest.nofit import NoFit
from foamcut.nest.rooms import UNITS, Paths, Source

#: weights of right edge, top edge, left edge, bottom edge; sums are compared, least first.  Each pair has
#: one that rules and one that settles ties (a board is less than 2**40 units long).
_RULES = 1 << 42
SCORES: tuple[tuple[int, int, int, int], ...] = (
    (_RULES, 1, 0, 0),
    (1, _RULES, 0, 0),
    (0, 1, _RULES, 0),
    (1, 0, 0, _RULES),
    (2, 1, 0, 0),
    (1, 2, 0, 0),
    (3, 1, 1, 0),
    (1, 1, 1, 1),
)
#: corners of rooms that are remembered, about 150 bytes each; then all rooms are worked out again
_MOST_CORNERS = 600_000
#: places that are remembered
_MOST_PLACES = 400_000

Spot = tuple[Lie, int, int]


@dataclass(frozen=True, slots=True)
class Item:
    """A piece to be placed once: which wanted part, which of its ways, which copy, which piece of the way.

    Items of one `shape` look the same and may lie alike; `area` in nm2.
    """

    wanted: int
    way: int
    copy: int
    piece: int
    lies: tuple[Lie, ...]
    area: int
    shape: int


class Memory:
    """States, what is left of each form's room in them, and the places chosen."""

    def __init__(self, sources: Sequence[Source], nofit: NoFit) -> None:
        self._sources = sources
        self._nofit = nofit
        self._before: list[tuple[int, Lie, int, int] | None] = [None] * len(sources)
        self._after: dict[tuple[int, int, int, int, int], int] = {}
        self._rooms: dict[tuple[int, int, int], Paths] = {}
        self._corners = 0
        self._places: dict[tuple[int, int, int, int], Spot | None] = {}

    def after(self, state: int, lie: Lie, x: int, y: int) -> int:
        """The state when a piece is put at a place in whole nm."""
        key = state, lie.form, lie.quarter, x, y
        if key not in self._after:
            self._after[key] = len(self._before)
            self._before.append((state, lie, x, y))
        return self._after[key]

    def place(self, item: Item, state: int, score: int, lead: int | None) -> Spot | None:
        """The lie and place, in whole nm, of the least score; `lead` is the lie tried first."""
        key = state, item.shape, score, -1 if lead is None else lead
        if key not in self._places:
            if len(self._places) >= _MOST_PLACES:
                self._places.clear()
            spot = None if lead is None else self._best(item.lies[lead : lead + 1], state, score)
            self._places[key] = spot or self._best(item.lies, state, score)
        return self._places[key]

    def _best(self, lies: Sequence[Lie], state: int, score: int) -> Spot | None:
        best: tuple[int, Lie, int, int] | None = None
        right, top, left, bottom = SCORES[score]
        across, up = right + left, top + bottom
        for lie in lies:
            x0, y0, x1, y1 = lie.bounds
            base = right * x1 + top * y1 + left * x0 + bottom * y0
            for path in self._room(state, lie):
                for x, y in path:
                    value = across * x + up * y + base
                    if best is None or value < best[0]:
                        best = value, lie, x, y
        if best is None:
            return None
        _, lie, x, y = best
        return lie, _nearest(x), _nearest(y)

    def _room(self, state: int, lie: Lie) -> Paths:
        """Outlines of the free places: those of the nearest known earlier state, less what came since."""
        key = state, lie.form, lie.quarter
        if (found := self._rooms.get(key)) is not None:
            return found
        since = []
        at = state
        paths: Paths | None = None
        while paths is None and (step := self._before[at]) is not None:
            since.append(step)
            at = step[0]
            paths = self._rooms.get((at, lie.form, lie.quarter))
        if paths is None:
            paths = self._nofit.inner(at, self._sources[at], lie)
        if paths and since:
            barred: Paths = []
            for _, other, px, py in since:
                dx, dy = px * UNITS, py * UNITS
                for path in self._nofit.outlines(other, lie):
                    barred.append([(x + dx, y + dy) for x, y in path])
            paths = self._nofit.left(paths, barred)
        self._remember(key, paths)
        return paths

    def _remember(self, key: tuple[int, int, int], paths: Paths) -> None:
        self._corners += 4 + sum(map(len, paths))
        if self._corners > _MOST_CORNERS:
            self._rooms.clear()
            self._corners = 0
        self._rooms[key] = paths


def _nearest(value: int) -> int:
    """Whole nanometres nearest to a length in units."""
    return (value + UNITS // 2) // UNITS
