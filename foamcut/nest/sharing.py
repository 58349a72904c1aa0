"""Whether pieces can be shared out over so many sheets at all: if not, one board more is needed.

Every piece goes to one sheet and lies in one way, its quarter turns up to a half turn.  A sheet is full when
its area is used up, when two of its pieces cannot lie together, or when a line is used up, upright or level,
on which the chords of all that cross it lie one after another: the line through the middle, which a piece
longer than half a sheet crosses wherever it lies, or one through a short piece, which some long ones cross
wherever that lies.  The places themselves are not looked at, so that what cannot be shared out cannot be
laid.  Method: branch and bound, bin packing with conflicts.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.nest.apart import Upright
from foamcut.nest.chords import Chords
from foamcut.nest.exact import fitting

#: kinds of pieces shared out, those that take most of a sheet
_MOST_KINDS = 16
#: pieces put on a sheet before an answer is given up
_MOST_TRIES = 5_000
#: copies of them, with more of which nothing is tried
_MOST_SHARED = 400


@dataclass(frozen=True, slots=True)
class Stance:
    """A piece turned alike but for half a turn: indices of its lies, and what it takes of both lines."""

    lyings: tuple[int, ...]
    upright: int
    level: int


@dataclass(frozen=True, slots=True)
class Shared:
    """A kind of piece to be shared out: index, how many, area of one in nm2 and its stances."""

    kind: int
    count: int
    area: int
    stances: tuple[Stance, ...]


@dataclass(frozen=True, slots=True)
class TooFew:
    """So many sheets do not take all pieces of these kinds, none of which may be left out of the proof.

    `by_lines`: the lines through the middle alone prove it.
    """

    sheets: int
    kinds: tuple[int, ...]
    by_lines: bool


def too_few(upright: Upright, areas: dict[int, int], room: int, sheets: int) -> TooFew | None:
    """The most sheets, from `sheets` on, proven not to take all pieces, and the pieces that prove it.

    `areas` has what one piece of each kind takes at least and `room` what a sheet holds at most, nm2.
    """
    chords = Chords(upright)
    shared = _shared(upright, chords, areas, room)
    tries = _Tries(_MOST_TRIES)
    found = None
    while kinds := _that_do_not_fit(upright, chords, shared, room, sheets, tries):
        found = sheets, kinds
        sheets += 1
    if found is None:
        return None
    sheets, kinds = found

    def may_take(some: Sequence[Shared], *, lines: bool) -> bool:
        return _Sheets(upright, chords, None if lines else room, sheets, _Tries(_MOST_TRIES)).may_take(some)

    by_lines = not may_take(kinds, lines=True)
    for one in kinds:
        rest = [other for other in kinds if other is not one]
        if not may_take(rest, lines=by_lines):
            kinds = rest
    return TooFew(sheets, tuple(one.kind for one in kinds), by_lines)


def _that_do_not_fit(
    upright: Upright, chords: Chords, shared: Sequence[Shared], room: int, sheets: int, tries: "_Tries"
) -> Sequence[Shared]:
    """The fewest kinds, the largest first, that so many sheets cannot take; none when nothing is proven."""
    for count in range(1, len(shared) + 1):
        if not _Sheets(upright, chords, room, sheets, tries).may_take(shared[:count]):
            return shared[:count]
        if tries.left < 0:
            break
    return ()


def _shared(upright: Upright, chords: Chords, areas: dict[int, int], room: int) -> list[Shared]:
    """The kinds that take most of a sheet, by area or by a line, whichever way they lie."""
    found = []
    for kind in upright.order:
        stances = tuple(_stances(upright, chords, kind))
        if stances:
            found.append(Shared(kind, upright.kinds[kind].count, areas[kind], stances))

    def share(one: Shared) -> float:
        lines = min(max(s.upright / upright.height, s.level / upright.width) for s in one.stances)
        return max(lines, one.area / room)

    # only an order: shares that differ in the last bit may swap, the proof stays one
    found.sort(key=lambda one: (-round(share(one), 6), one.kind))
    return found[:_MOST_KINDS]


def _stances(upright: Upright, chords: Chords, kind: int) -> list[Stance]:
    found = []
    all_lyings = upright.lyings[kind]
    fit = fitting(all_lyings, upright.width, upright.height)
    for is_across in (False, True):
        alike = tuple(i for i, one in enumerate(all_lyings) if one in fit and one.is_across is is_across)
        if alike:
            upright_line, level_line = chords.of_the_middle(kind, alike)
            found.append(Stance(alike, upright_line, level_line))
    return found


class _Tries:
    def __init__(self, left: int) -> None:
        self.left = left


class _Sheets:
    """Sheets that are filled; without `room` the lines alone count."""

    def __init__(
        self, upright: Upright, chords: Chords, room: int | None, sheets: int, tries: _Tries
    ) -> None:
        gap = max(0, upright.gap)
        self._upright = upright
        self._chords = chords
        self._tries = tries
        self._are_lines_alone = room is None
        self._area = [room or 0] * sheets
        self._up = [upright.height + gap] * sheets
        self._level = [upright.width + gap] * sheets
        self._on: list[list[tuple[int, tuple[int, ...]]]] = [[] for _ in range(sheets)]

    def may_take(self, kinds: Sequence[Shared]) -> bool:
        """False when it is proven that no way to share these out exists."""
        copies = [one for one in kinds for _ in range(one.count)]
        # one call in another for each: with more nothing would be proven within the tries either
        return len(copies) > _MOST_SHARED or self._go(copies, 0, 0)

    def _go(self, copies: Sequence[Shared], at: int, first: int) -> bool:
        """Whether the copies from `at` on may be shared out, this one to a sheet from `first` on."""
        self._tries.left -= 1
        if at == len(copies) or self._tries.left < 0:
            return True
        one = copies[at]
        for sheet in range(first, len(self._on)):
            for stance in one.stances:
                if not self._takes(sheet, one, stance):
                    continue
                self._put(sheet, one, stance, 1)
                same_next = at + 1 < len(copies) and copies[at + 1] is one
                if self._go(copies, at + 1, sheet if same_next else 0):
                    return True
                self._put(sheet, one, stance, -1)
            # empty sheets are alike
            if not self._on[sheet]:
                break
        return False

    def _takes(self, sheet: int, one: Shared, stance: Stance) -> bool:
        if stance.upright > self._up[sheet] or stance.level > self._level[sheet]:
            return False
        return self._are_lines_alone or (
            one.area <= self._area[sheet]
            and all(self._may_lie_together(one.kind, stance.lyings, *on) for on in self._on[sheet])
            and self._chords.have_room([*self._on[sheet], (one.kind, stance.lyings)])
        )

    def _may_lie_together(
        self, kind: int, alike: tuple[int, ...], other: int, others: tuple[int, ...]
    ) -> bool:
        return any(self._upright.may_lie_together(kind, a, other, b) for a in alike for b in others)

    def _put(self, sheet: int, one: Shared, stance: Stance, sign: int) -> None:
        self._area[sheet] -= sign * one.area
        self._up[sheet] -= sign * stance.upright
        self._level[sheet] -= sign * stance.level
        if sign > 0:
            self._on[sheet].append((one.kind, stance.lyings))
        else:
            self._on[sheet].pop()
