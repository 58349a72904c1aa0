"""Sizes of rectangles for a machine's bed that are worth trying; all lengths in whole nm."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from foamcut.nest.memory import Item
from foamcut.nest.rooms import NM_PER_MM, UNITS, Source
from foamcut.nest.values import Kind

#: rectangles tried
MOST_TRIED = 8
#: of these, rectangles as large as the bed and such that equal ones fill a sheet
_MOST_LARGE = 5

Size = tuple[int, int]


@dataclass(frozen=True, slots=True)
class BedSizes:
    """The bed, the gap between rectangles, and what runs round their pieces inside them (`edge`)."""

    bed: Size
    gap: int
    edge: int

    def largest(self, sources: Sequence[Source]) -> list[Size]:
        """The largest rectangles that the sheets have room for."""
        boards = [s for s in sources if s.kind is not Kind.OFFCUT] or sources
        return self._usable(self._capped(*_room(s)) for s in boards)

    def worth_trying(self, sources: Sequence[Source], by_hand: Item | None) -> list[Size]:
        """As large as the bed, equal ones that fill a sheet, ones beside the piece `by_hand`, halves."""
        large: list[Size] = []
        small: list[Size] = []
        for w, h in dict.fromkeys(_room(s) for s in sources):
            most = self._capped(w, h)
            wide, high = self._even(w, self.bed[0]), self._even(h, self.bed[1])
            large += product((wide, most[0]), (high, most[1]))
            if by_hand is not None:
                small += self._beside(by_hand, (w, h))
            halves = (wide - self.gap) // 2, (high - self.gap) // 2
            small += [(halves[0], high), (wide, halves[1]), halves]
        several = (*self._usable(large)[:_MOST_LARGE], *self._usable(small))
        return list(dict.fromkeys(several))[:MOST_TRIED]

    def _usable(self, sizes: Iterable[Size]) -> list[Size]:
        return [size for size in dict.fromkeys(sizes) if min(size) > 2 * self.edge]

    def _capped(self, width: int, height: int) -> Size:
        return min(width, self.bed[0]), min(height, self.bed[1])

    def _even(self, room: int, bed: int) -> int:
        """The length of equal rectangles that fill a room with gaps between them."""
        count = -(-(room + self.gap) // (bed + self.gap))
        return (room - (count - 1) * self.gap) // count

    def _beside(self, item: Item, room: Size) -> Iterator[Size]:
        """What a piece leaves free of a room to its right and above it, in each way to lie."""
        for lie in item.lies:
            x0, y0, x1, y1 = lie.bounds
            beside, above = (
                room[axis] - -(-extent // UNITS) for axis, extent in enumerate((x1 - x0, y1 - y0))
            )
            if min(beside, above) >= 0:
                yield self._capped(beside - self.gap, room[1])
                yield self._capped(room[0], above - self.gap)


def _room(source: Source) -> Size:
    width, height = source.room_mm
    return math.floor(width * NM_PER_MM + 0.5), math.floor(height * NM_PER_MM + 0.5)
