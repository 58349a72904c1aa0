"""Control surfaces as the air sees them: hinge line, depth and share of the chord along the span.

mm and degrees; c and s of `foamcut.airframe.planform`, of the right half (a fin: as it is).
"""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.values import Control, Role, Surface

#: strips of one control between two stations: the effect of a flap is then within 0.1 % of its integral
_STRIPS = 8
#: the largest throw that is told as a mend, degrees (common practice, no source)
MOST_THROW_DEG = 35.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A narrow piece of a surface with its control: width and chord, the control's share of that chord.

    `level` is the cosine of its rise.
    """

    width_mm: float
    chord_mm: float
    share: float
    level: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """A control on its surface.

    The hinge line is straight between its ends; each lies the control's chord ahead of the trailing edge.
    """

    surface: Surface
    control: Control

    @property
    def count(self) -> int:
        """How many there are: one on each half, one on a fin."""
        return 1 if self.surface.role is Role.FIN else 2

    @property
    def places(self) -> tuple[float, ...]:
        """s of its ends and of the stations between, from the root out."""
        first, last = self._ends()
        inner = [one.out_mm for one in self.surface.stations if first < one.out_mm < last]
        return (first, *inner, last)

    @property
    def widest_mm(self) -> float:
        """The largest distance of its trailing edge from the hinge line, measured square to that line."""
        first, last = self._ends()
        slant = math.atan2(self.hinge(last) - self.hinge(first), last - first)
        depth = max(_trailing(self.surface, s) - self.hinge(s) for s in self.places)
        return max(depth, 0.0) * math.cos(slant)

    @property
    def area_mm2(self) -> float:
        """Of all there are, behind the hinge line, of the board itself."""
        return self.count * sum(one.width_mm * one.chord_mm * one.share for one in self.strips())

    def hinge(self, s_mm: float) -> float:
        """c of the hinge line at a place along the span."""
        first, last = self._ends()
        ends = [_trailing(self.surface, s) - self.control.chord_mm for s in (first, last)]
        if last <= first:
            return ends[0]
        return ends[0] + (ends[1] - ends[0]) * (s_mm - first) / (last - first)

    def strips(self) -> tuple[Strip, ...]:
        """One of them from its inner end out."""
        return tuple(
            self._strip(s0 + (s1 - s0) * (i + 0.5) / _STRIPS, (s1 - s0) / _STRIPS)
            for s0, s1 in pairwise(self.places)
            for i in range(_STRIPS)
            if s1 > s0
        )

    def _strip(self, s: float, width: float) -> Strip:
        panel = _panel(self.surface, s)
        chord = panel.chord(s)
        share = (panel.trailing(s) - self.hinge(s)) / chord if chord > 0 else 0.0
        return Strip(
            width_mm=width,
            chord_mm=chord,
            share=min(max(share, 0.0), 1.0),
            level=math.hypot(panel.out[0], panel.out[1]),
        )

    def _ends(self) -> tuple[float, float]:
        half = self.surface.half_span_mm
        first = min(max(self.control.from_mm, 0.0), half)
        return first, min(max(self.control.to_mm, first), half)


def hung(surface: Surface, *words: str) -> tuple[Hung, ...]:
    """The controls of a surface in the order of the design; those of some words alone, if any are given."""
    return tuple(
        Hung(surface=surface, control=one) for one in surface.controls if not words or one.word in words
    )


def board_mm2(surface: Surface) -> float:
    """Area of the board itself, both halves: larger than its shadow where it rises."""
    half = sum((a.chord_mm + b.chord_mm) / 2 * (b.out_mm - a.out_mm) for a, b in pairwise(surface.stations))
    return half if surface.role is Role.FIN else 2 * half


def _panel(surface: Surface, s: float) -> Panel:
    several = panels(surface)
    return next((one for one in several if s <= one.last.out_mm), several[-1])


def _trailing(surface: Surface, s: float) -> float:
    return _panel(surface, s).trailing(s)


def words_on(surfaces: Iterable[Surface]) -> tuple[str, ...]:
    """The words of all controls of some surfaces, each once, in their order."""
    return tuple(dict.fromkeys(control.word for one in surfaces for control in one.controls))


def slug(text: str) -> str:
    """Lower-case letters, digits and _ of a name.

    >>> slug("Left Fin-2")
    'left_fin_2'
    """
    return re.sub(r"[^a-z0-9]+", "_", text.lower()).strip("_") or "x"
