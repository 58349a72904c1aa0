"""What a stabiliser or fin can be changed by and still belong to the same aeroplane: growth and arm.

SI; percent and mm in words.  A way beyond these ends is not told; where none is left, the most that helps is,
with how much of what is lacking it gives.
"""

import math
from collections.abc import Callable, Iterator

from foamcut.flight.planform import Planform

#: an area or a depth grows so many times at most, an arm by so much of the wing's span (judgement)
MOST_GROWTH, MOST_BACK = 1.5, 0.3


def most_back_mm(plan: Planform) -> int:
    """The most that a tail is told to move back, whole mm."""
    return int(round(1000 * MOST_BACK * plan.wing.span_m, 3))


def most_percent() -> int:
    """The most percent that an area is told to grow by."""
    return round(100 * (MOST_GROWTH - 1))


def least(most: int, enough: Callable[[int], bool]) -> int | None:
    """The least whole number from 1 to a most that is enough, of what helps the more the larger it is."""
    if most < 1 or not enough(most):
        return None
    low, high = 0, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def ways(name: str, plan: Planform, enough: Callable[[float, float], bool]) -> Iterator[str]:
    """A larger area, a longer arm; where neither alone is enough both, where that is not either nothing.

    `enough` is told how many times as large it is, and how far back it is moved, m.
    """
    percent = least(most_percent(), lambda one: enough(1 + one / 100, 0.0))
    back = least(most_back_mm(plan), lambda one: enough(1.0, one / 1000))
    if percent is not None:
        yield f"{name} {percent} % larger"
    if back is not None:
        yield f"{back} mm farther back" if percent is not None else f"{name} {back} mm farther back"
    if percent is None and back is None:
        both = least(most_back_mm(plan), lambda one: enough(MOST_GROWTH, one / 1000))
        if both is not None:
            yield f"{name} {most_percent()} % larger and {both} mm farther back"


def nearest(name: str, plan: Planform, share: float) -> str:
    """The most that is told, with the share of what is lacking that it gives."""
    return (
        f"{name} {most_percent()} % larger and {most_back_mm(plan)} mm farther back give"
        f" {math.floor(round(100 * share, 3))} % of what is lacking"
    )
