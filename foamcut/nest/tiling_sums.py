"""Which lengths the sides of pieces that are left add up to: an edge between two inner corners must be one.

Method: sums of each half of the kinds, sorted; two of them that meet the length (meet in the middle).
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

#: sums of one half that are kept apart; with more nothing is said
_MOST = 7_000
#: different kinds in one half; with more of them almost every length can be met, and nothing is said
_MOST_KINDS = 10
#: sums that differ by less are one
_STEP_MM = 0.0001


class Sums:
    """`sides[kind]`: lengths that one piece of the kind may bring along the edge; `slack_mm` on the sum."""

    def __init__(self, sides: Sequence[Sequence[float]], slack_mm: float) -> None:
        self._sides = [sorted({round(s / _STEP_MM) for s in one}) for one in sides]
        self._slack = round(slack_mm / _STEP_MM)
        # every other kind, so that both halves shrink alike
        self._halves = (range(0, len(sides), 2), range(1, len(sides), 2))
        self._kept: dict[tuple[int, tuple[int, ...]], NDArray[np.int64] | None] = {}
        self._answers: dict[tuple[tuple[int, ...], int], bool] = {}

    def reach(self, left: tuple[int, ...], length_mm: float, more_mm: float = 0.0) -> bool:
        """Whether pieces, `left` of each kind, may fill the length; True where there are too many sums.

        The length may be off by `more_mm` beyond the slack.
        """
        target, slack = round(length_mm / _STEP_MM), self._slack + round(more_mm / _STEP_MM)
        answer = self._answers.get((left, target))
        if answer is None:
            answer = self._answers[left, target] = self._reach(left, target, slack)
        return answer

    def _reach(self, left: tuple[int, ...], target: int, slack: int) -> bool:
        if abs(target) <= slack:
            return True
        a, b = self._half(0, left), self._half(1, left)
        if a is None or b is None:
            return True
        wanted = target - a
        at = np.searchsorted(b, wanted - slack)
        inside = at < len(b)
        return bool((b[at[inside]] <= wanted[inside] + slack).any())

    def _half(self, half: int, left: tuple[int, ...]) -> NDArray[np.int64] | None:
        kinds = self._halves[half]
        key = (half, tuple(left[k] for k in kinds))
        if key not in self._kept:
            self._kept[key] = self._sums([k for k in kinds for _ in range(left[k])])
        return self._kept[key]

    def _sums(self, kinds: Sequence[int]) -> NDArray[np.int64] | None:
        if len(set(kinds)) > _MOST_KINDS:
            return None
        sums = np.zeros(1, dtype=np.int64)
        for kind in kinds:
            sums = np.unique(np.concatenate([sums, *(sums + side for side in self._sides[kind])]))
            if len(sums) > _MOST:
                return None
        return sums
