"""Which joint lines a part gets: the builder's, or the best ones, of a pair apart from the other hand's.

A pair is mirrored first and joined after: lines are chosen in the view of the right hand; the right-hand one
gets the best lines that let the left-hand one be joined apart from them, the left-hand one the best of those.
Positions are whole nanometres.
"""

import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, islice

from foamcut.flat.drawn import Hand, JointLine
from foamcut.flat.ground import Ground
from foamcut.flat.joint_lines import Lines, alike, all_lines, best_lines, different
from foamcut.flat.joint_refusals import line_place
from foamcut.flat.line_search import MORE_LINES, NO_COST
from foamcut.flat.part import Part

#: right-hand ways that are tried for one that leaves the left-hand one a place
_TRIED = 10
#: ways that are held against each other for that
_COMPARED = 1500


def lines_of_hand(part: Part, hand: Hand) -> tuple[JointLine, ...]:
    """The builder's lines for a hand."""
    return tuple(line for line in part.joint_lines if line.hand in (Hand.NONE, hand))


def other(hand: Hand) -> Hand:
    """The other hand of a pair."""
    return {Hand.LEFT: Hand.RIGHT, Hand.RIGHT: Hand.LEFT}.get(hand, Hand.NONE)


def as_lines(lines: Sequence[JointLine]) -> Lines:
    """The builder's lines as positions; what they cost is not asked."""
    places = [line_place(line) for line in lines]
    xs, ys = (tuple(sorted(at for axis, at in places if axis == which)) for which in (0, 1))
    return Lines(NO_COST, xs, ys)


def mirrored(lines: Lines) -> Lines:
    """The lines on the mirror-image part (y -> -y)."""
    return Lines(lines.cost, lines.xs, tuple(sorted(-y for y in lines.ys)))


def placed_lines(
    part: Part, right_view: Ground, holds: Callable[[Lines], bool], most: int, *, extra_lines: int = 0
) -> tuple[list[Lines], Lines | None]:
    """The program's lines for a part of either hand or of none, best first, and those of the other hand.

    `right_view` is the ground of the part, of a left-hand one that of its mirror image; `holds` says whether
    lines in that view can be doubled.  The lines given are those of `part` itself, `extra_lines` more than
    the fewest.
    """
    ground = replace(right_view, extra_lines=extra_lines)
    if part.hand is Hand.NONE:
        return best_lines(ground, None, most), None
    fixed = lines_of_hand(part, other(part.hand))
    flip = mirrored if part.hand is Hand.LEFT else _same
    if fixed:
        others = as_lines(fixed)
        return [flip(one) for one in best_lines(ground, flip(others), most)], others
    if part.hand is Hand.RIGHT:
        return _rights(ground, holds, most), None
    rights = _first_rights(right_view, holds, most)
    lefts = [mirrored(one) for one in best_lines(ground, rights, most)]
    return lefts, mirrored(rights) if rights else None


def apart_mm(lines: Lines, others: Lines) -> float | None:
    """The least distance between lines of the two hands; None when none lie along each other."""
    least = _least_apart(lines, others)
    return None if least == sys.maxsize else least / 1e6


def _same(lines: Lines) -> Lines:
    return lines


def _first_rights(right_view: Ground, holds: Callable[[Lines], bool], most: int) -> Lines | None:
    """The lines that the right-hand one gets; None when none will do."""
    for extra in range(MORE_LINES + 1):
        rights = _rights(replace(right_view, extra_lines=extra), holds, most)
        if sound := next((one for one in rights if holds(one)), None):
            return sound
    return None


def _rights(ground: Ground, holds: Callable[[Lines], bool], most: int) -> list[Lines]:
    """Lines of the right-hand one, best first; the first leaves the left-hand one a place if any does."""
    every = all_lines(ground, None)
    ranked = different(every, most)
    sound = _first_sound(ranked, holds)
    best = next(sound, None)
    if best is None:
        return ranked
    # doublers that reach far go before joints that are apart
    tried = chain([best], sound, (one for one in _with_partners(ground, every) if holds(one)))
    reaching = (one for one in tried if one.cost.short == best.cost.short)
    first = next((one for one in reaching if _leaves_room(ground, one, holds)), None)
    if first is not None:
        near = [one for one in every[: every.index(first)] if alike(one, first)][:_TRIED]
        first = next((one for one in near if holds(one) and _leaves_room(ground, one, holds)), first)
    else:
        first = best
    return [first, *(one for one in ranked if not alike(one, first))][:most]


def _first_sound(ranked: Sequence[Lines], holds: Callable[[Lines], bool]) -> Iterator[Lines]:
    return (one for one in ranked[:_TRIED] if holds(one))


def _with_partners(ground: Ground, every: Sequence[Lines]) -> Iterator[Lines]:
    """The first of those that another row, as good in what goes first, lies a doubler apart from."""
    least = every[0].cost.sections, every[0].cost.short
    equal = [one for one in every if (one.cost.sections, one.cost.short) == least][:_COMPARED]
    doubler = 2 * ground.overlap
    found = (one for one in equal if any(_least_apart(one, other) >= doubler for other in equal))
    return islice(found, _TRIED)


def _least_apart(one: Lines, other: Lines) -> int:
    """The least distance between lines along each other, nanometres; as far as can be when there are none."""
    pairs = [abs(a - b) for axis in (0, 1) for a in one.of_axis(axis) for b in other.of_axis(axis)]
    return min(pairs, default=sys.maxsize)


def _leaves_room(ground: Ground, rights: Lines, holds: Callable[[Lines], bool]) -> bool:
    """Whether the left-hand one can be joined apart from these lines, in no more sections."""
    lefts = best_lines(ground, rights, 3)
    return any(
        one.cost.crowding == 0
        and one.cost.sections == rights.cost.sections
        and one.cost.short <= rights.cost.short
        and holds(one)
        for one in lefts
    )
