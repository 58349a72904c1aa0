"""What a search is doing, in words for one line of a terminal, and the pace that a command sets it."""

from collections.abc import Callable

from foamcut.nest.values import Pace, Progress
from foamcut.plan.wording import counted

#: longest line, letters
LONGEST = 78
#: how a search begins to say what it does while it goes on by the clock
_BY_CLOCK = "squeezing"


class Searching(str):
    """Words told while a search is under way, which may then be cut short."""

    __slots__ = ()


def searching(progress: Progress) -> Searching:
    """Stock, boards so far, at least so many, what is tried, step of steps or seconds left.

    At most `LONGEST` letters: a long name of the stock is cut, then what is tried.
    """
    least = f"at least {progress.at_least}"
    if progress.boards is None:
        so_far = f"no layout yet, {least}"
    elif progress.boards <= progress.at_least:
        so_far = f"{counted(progress.boards, 'board')}, no fewer possible"
    else:
        so_far = f"{counted(progress.boards, 'board')} so far, {least}"
    by_clock = progress.doing.startswith(_BY_CLOCK)
    left = f"{progress.steps - progress.step} s left" if by_clock else f"{progress.step} of {progress.steps}"
    room = LONGEST - len(f": {so_far}; , {left}")
    doing = _cut(progress.doing, room - min(len(progress.stock), 12))
    stock = _cut(progress.stock, room - len(doing))
    return Searching(f"{stock}: {so_far}; {doing}, {left}"[:LONGEST])


def pace_of(squeeze_s: float | None, clock: Callable[[], float], is_stopped: Callable[[], bool]) -> Pace:
    """The usual steps, then so many seconds, with the optional solver where it is installed."""
    return Pace(
        squeeze_s=squeeze_s or 0.0, clock=clock, is_stopped=is_stopped, with_extra=squeeze_s is not None
    )


def _cut(words: str, room: int) -> str:
    """Words of at most so many letters, three dots at the end of those that were cut."""
    return words if len(words) <= room else words[: max(0, room - 3)] + "..."
