"""What pieces take of lines across a sheet, wherever they lie on it: chords that lie one after another.

Units as in `foamcut.nest.rooms`.  *Alike* lies differ by half a turn or a mirror; the least of them counts.
"""

from collections import Counter
from collections.abc import Sequence

from foamcut.nest.apart import Upright
from foamcut.nest.exact import Lying, across, all_through, on_its_side

#: a kind of piece, and the lies, indices among its `Upright.lyings`, that it may have
Turned = tuple[int, tuple[int, ...]]


class Chords:
    """Chords of the kinds of pieces of one stock, each measured once."""

    def __init__(self, upright: Upright) -> None:
        self._upright = upright
        self._gap = max(0, upright.gap)
        self._sides = (upright.width, upright.height)
        self._known: dict[tuple[int, tuple[int, ...], int, int], int] = {}
        self._through: dict[tuple[int, tuple[int, ...], int], tuple[int, int]] = {}

    def of_the_middle(self, kind: int, alike: tuple[int, ...]) -> tuple[int, int]:
        """What a piece takes of the upright and the level line through the middle, its gap among it."""
        upright, level = (self._across((kind, alike), axis, self._sides[axis] // 2) for axis in (0, 1))
        return upright, level

    def have_room(self, pieces: Sequence[Turned]) -> bool:
        """False when on a sheet with all these pieces a line through one of them is used up.

        A piece so wide meets an upright line that is at least its width from both edges of the sheet.
        """
        counted = Counter(pieces)  # hundreds of them may be one piece
        for axis in (0, 1):
            length = self._sides[1 - axis] + self._gap
            for one in counted:
                chord, aside = self._all_through(one, axis)
                if not chord or 2 * aside > self._sides[axis]:
                    continue
                every = sum(count * self._across(other, axis, aside) for other, count in counted.items())
                if chord + self._gap + every - self._across(one, axis, aside) > length:
                    return False
        return True

    def _across(self, piece: Turned, axis: int, aside: int) -> int:
        kind, alike = piece
        key = (kind, alike, axis, aside)
        if key not in self._known:
            chord = min(across(one, self._sides[axis], aside) for one in self._lying(piece, axis))
            self._known[key] = chord + self._gap if chord else 0
        return self._known[key]

    def _all_through(self, piece: Turned, axis: int) -> tuple[int, int]:
        """The least chord on a line through the piece, and how wide it is."""
        kind, alike = piece
        key = (kind, alike, axis)
        if key not in self._through:
            found = [all_through(one) for one in self._lying(piece, axis)]
            self._through[key] = min(chord for chord, _ in found), min(width for _, width in found)
        return self._through[key]

    def _lying(self, piece: Turned, axis: int) -> list[Lying]:
        kind, alike = piece
        sound = [self._upright.sound(self._upright.lyings[kind][i]) for i in alike]
        return [on_its_side(one) for one in sound] if axis else sound
