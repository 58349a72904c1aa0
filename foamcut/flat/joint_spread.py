"""Which of many rows of joint lines are offered: the best, and then those least like what is offered already.

For nesting, ways that differ by little are no choice.  Method: the farthest of what is left from all that is
taken (Gonzalez's farthest-first order); ways that cost more in what goes first come after the others.
Positions are whole nanometres.
"""

import sys
from collections.abc import Callable, Sequence
from typing import TypeVar

from foamcut.flat.joint_lines import Lines

_Made = TypeVar("_Made")


def spread(
    ranked: Sequence[Lines],
    make: Callable[[Lines], _Made | None],
    most: int,
    looked_at: int,
    *,
    apart_from: Lines | None = None,
    apart_nm: int = 0,
) -> list[_Made]:
    """What is made of the best rows and of those that differ most from them, at most `most`.

    `make` gives None for a row that will not do.  The first is the best of `looked_at` rows that does.
    Rows with more sections, with doublers that reach less far, or nearer than `apart_nm` to the lines
    `apart_from` come after the others.
    """
    first, made = _first(ranked[:looked_at], make)
    if first is None or made is None:
        return []
    found = [made]
    left = [one for one in ranked if one is not first]
    classes = [(one.cost.sections, one.cost.short, _is_near(one, apart_from, apart_nm)) for one in left]
    off = [_unlike(one, first) for one in left]
    order = sorted(range(len(left)), key=lambda i: classes[i])
    while order and len(found) < most:
        # of the farthest of the best class the one that ranks first
        same = [i for i in order if classes[i] == classes[order[0]]]
        at = max(same, key=lambda i: off[i])
        order.remove(at)
        one = make(left[at])
        if one is None:
            continue
        found.append(one)
        off = [min(far, _unlike(other, left[at])) for far, other in zip(off, left, strict=True)]
    return found


def _first(
    ranked: Sequence[Lines], make: Callable[[Lines], _Made | None]
) -> tuple[Lines | None, _Made | None]:
    for one in ranked:
        made = make(one)
        if made is not None:
            return one, made
    return None, None


def _is_near(one: Lines, other: Lines | None, apart_nm: int) -> bool:
    if other is None:
        return False
    return any(
        abs(a - b) < apart_nm for axis in (0, 1) for a in one.of_axis(axis) for b in other.of_axis(axis)
    )


def _unlike(one: Lines, other: Lines) -> int:
    """How far the line is moved that differs most; as far as can be where lines run otherwise."""
    if (len(one.xs), len(one.ys)) != (len(other.xs), len(other.ys)):
        return sys.maxsize
    pairs = zip((*one.xs, *one.ys), (*other.xs, *other.ys), strict=True)
    return max(abs(a - b) for a, b in pairs)
