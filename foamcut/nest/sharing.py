"""Whether pieces can be shared out over given sheets at all: if not, one board more is needed.

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
    """A kind of piece to be shared out: index, how many, area of one in nm2, and stances for each size."""

    kind: int
    count: int
    area: int
    stances: tuple[tuple[Stance, ...], ...]


@dataclass(frozen=True, slots=True)
class TooFew:
    """So many new sheets do not take all pieces of these kinds, none of which may be left out of the proof.

    `by_lines`: the lines through the middle alone prove it.
    """

    sheets: int
    kinds: tuple[int, ...]
    by_lines: bool


class Tries:
    """How many pieces may still be put on a sheet before an answer is given up."""

    def __init__(self, left: int = _MOST_TRIES) -> None:
        self.left = left


class Sharing:
    """The kinds of one stock, shared out over sheets of these sizes; `sizes` see the same kinds."""

    def __init__(self, sizes: Sequence[Upright]) -> None:
        self._sizes = sizes
        self._chords = [Chords(one) for one in sizes]
        self._shared = self._that_take_most()

    def too_few(self, shelf: Sequence[int], size: int, sheets: int) -> TooFew | None:
        """The most sheets of a size, from `sheets` on, proven not to take all pieces, and what proves it.

        `shelf` has the sizes of those there are besides.
        """
        tries = Tries()
        found = None
        while kinds := self.that_do_not_fit([*shelf, *[size] * sheets], tries):
            found = sheets, kinds
            sheets += 1
        if found is None:
            return None
        sheets, kinds = found
        on = [*shelf, *[size] * sheets]
        by_lines = not self._may_take(kinds, on, Tries(), lines=True)
        for one in kinds:
            rest = [other for other in kinds if other is not one]
            if not self._may_take(rest, on, Tries(), lines=by_lines):
                kinds = rest
        return TooFew(sheets, tuple(one.kind for one in kinds), by_lines)

    def that_do_not_fit(self, on: Sequence[int], tries: Tries) -> Sequence[Shared]:
        """The fewest kinds, the largest first, that sheets of these sizes cannot take; none: no proof."""
        for count in range(1, len(self._shared) + 1):
            if not self._may_take(self._shared[:count], on, tries):
                return self._shared[:count]
            if tries.left < 0:
                break
        return ()

    def _may_take(
        self, kinds: Sequence[Shared], on: Sequence[int], tries: Tries, *, lines: bool = False
    ) -> bool:
        return _Sheets(self._sizes, self._chords, on, tries, lines_alone=lines).may_take(kinds)

    def _that_take_most(self) -> list[Shared]:
        """The kinds that take most of a sheet, by area or by a line, whichever way they lie."""
        first = self._sizes[0]
        pairs = list(zip(self._sizes, self._chords, strict=True))
        found: list[tuple[float, Shared]] = []
        for kind in first.order:
            stances = tuple(tuple(_stances(size, chords, kind)) for size, chords in pairs)
            shares = [
                max(min(_line(size, one) for one in some), size.areas[kind] / size.room)
                for size, some in zip(self._sizes, stances, strict=True)
                if some
            ]
            if shares:
                found.append((min(shares), Shared(kind, first.kinds[kind].count, first.areas[kind], stances)))
        # only an order: shares that differ in the last bit may swap, the proof stays one
        found.sort(key=lambda one: (-round(one[0], 6), one[1].kind))
        return [one for _, one in found[:_MOST_KINDS]]


def _line(size: Upright, stance: Stance) -> float:
    """What a stance takes of the lines through the middle, of the whole."""
    return max(stance.upright / size.height, stance.level / size.width)


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


class _Sheets:
    """Sheets that are filled, `on` by their sizes; with `lines_alone` nothing else counts."""

    def __init__(
        self,
        sizes: Sequence[Upright],
        chords: Sequence[Chords],
        on: Sequence[int],
        tries: Tries,
        *,
        lines_alone: bool,
    ) -> None:
        each = [sizes[size] for size in on]
        self._sizes = on
        self._uprights = each
        self._chords = [chords[size] for size in on]
        self._tries = tries
        self._are_lines_alone = lines_alone
        self._area = [one.room for one in each]
        self._up = [one.height + max(0, one.gap) for one in each]
        self._level = [one.width + max(0, one.gap) for one in each]
        self._on: list[list[tuple[int, tuple[int, ...]]]] = [[] for _ in on]

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
        empty: set[int] = set()
        for sheet in range(first, len(self._on)):
            size = self._sizes[sheet]
            # empty sheets of a size are alike
            if size in empty:
                continue
            if not self._on[sheet]:
                empty.add(size)
            for stance in one.stances[size]:
                if not self._takes(sheet, one, stance):
                    continue
                self._put(sheet, one, stance, 1)
                same_next = at + 1 < len(copies) and copies[at + 1] is one
                if self._go(copies, at + 1, sheet if same_next else 0):
                    return True
                self._put(sheet, one, stance, -1)
        return False

    def _takes(self, sheet: int, one: Shared, stance: Stance) -> bool:
        if stance.upright > self._up[sheet] or stance.level > self._level[sheet]:
            return False
        return self._are_lines_alone or (
            one.area <= self._area[sheet]
            and all(self._may_lie_together(sheet, one.kind, stance.lyings, *on) for on in self._on[sheet])
            and self._chords[sheet].have_room([*self._on[sheet], (one.kind, stance.lyings)])
        )

    def _may_lie_together(
        self, sheet: int, kind: int, alike: tuple[int, ...], other: int, others: tuple[int, ...]
    ) -> bool:
        upright = self._uprights[sheet]
        return any(upright.may_lie_together(kind, a, other, b) for a in alike for b in others)

    def _put(self, sheet: int, one: Shared, stance: Stance, sign: int) -> None:
        self._area[sheet] -= sign * one.area
        self._up[sheet] -= sign * stance.upright
        self._level[sheet] -= sign * stance.level
        if sign > 0:
            self._on[sheet].append((one.kind, stance.lyings))
        else:
            self._on[sheet].pop()
