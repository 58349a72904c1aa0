"""What generators give: flat parts as drawn, the bent shapes of skins, and advice."""

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np

from foamcut.errors import Refusal
from foamcut.findings import Finding
from foamcut.flat.drawn import DrawnPart


@dataclass(frozen=True, kw_only=True, eq=False)
class Shell:
    """The shape of a bent or folded part on the model, as computed: of a pair, that of the right hand.

    `outer` and `inner` are (n, m, 3) arrays of points on its outer and inner paper, n round the section and
    m along the span, mm in model axes; the same indexes lie through the board from each other.
    """

    part: str
    outer: np.ndarray
    inner: np.ndarray


@dataclass(frozen=True, kw_only=True)
class Made:
    """What one generator made; `refusals` say what cannot be built, then the rest may be incomplete.

    Of every generated part there is one (or one pair), so that its place is where it sits.
    `shells` are for parts whose place and folds alone do not give their shape.
    """

    parts: tuple[DrawnPart, ...] = ()
    shells: tuple[Shell, ...] = field(default=())
    findings: tuple[Finding, ...] = ()
    refusals: tuple[Refusal, ...] = ()

    @classmethod
    def of(cls, several: Iterable["Made"]) -> "Made":
        """All of several in their order."""
        kept = list(several)
        return cls(
            parts=tuple(part for one in kept for part in one.parts),
            shells=tuple(shell for one in kept for shell in one.shells),
            findings=tuple(finding for one in kept for finding in one.findings),
            refusals=tuple(refusal for one in kept for refusal in one.refusals),
        )
