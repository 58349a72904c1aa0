"""A stretch of a folded surface that is one skin: where it begins and ends, and its papers in space.

Coordinates of its panel, (c, s, n), mm, see `foamcut.airframe.planform`; degrees.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from foamcut.airframe.planform import Panel
from foamcut.airframe.section import Section, section_at
from foamcut.airframe.section_spar import spar_front, spar_height, spar_steps, spar_width
from foamcut.airframe.values import OverSpar, Surface

#: an end whose faces differ by less along the span is cut square and sanded (common practice, no source)
LEAST_BEVEL_MM = 0.3
#: rulings of a skin that is no prism: the error of its development has settled within a hundredth of a mm
_RULINGS = 9
#: how far inside the skin the section beside an end is taken, to tell how it changes
_BESIDE_MM = 1.0


Line = Callable[[Section], np.ndarray]


def outer_line(section: Section) -> np.ndarray:
    """The outer paper of an upper skin, (n, 2)."""
    return np.array(section.upper_outer)


def inner_line(section: Section) -> np.ndarray:
    """Its inner paper, (n, 2)."""
    return np.array(section.upper_inner)


def middle_line(section: Section) -> np.ndarray:
    """The middle of its board, (n, 2), which ends square to the end of the outer paper."""
    middle = (outer_line(section) + inner_line(section)) / 2
    rear, half = math.radians(section.slopes_deg[1]), section.thickness_mm / 2
    middle[-1] = outer_line(section)[-1] - half * np.array([math.sin(rear), math.cos(rear)])
    return middle


def _lower_outer(section: Section) -> np.ndarray:
    front, rear = section.lower_mm
    return np.array([(rear, 0.0), (front, 0.0)])


def _lower_inner(section: Section) -> np.ndarray:
    front, rear = section.lower_mm
    return np.array([(rear, section.thickness_mm), (front, section.thickness_mm)])


def _nose_outer(section: Section) -> np.ndarray:
    return np.array(section.nose_outer)


def _nose_inner(section: Section) -> np.ndarray:
    return np.array(section.nose_inner)


@dataclass(frozen=True, kw_only=True, eq=False)
class Papers:
    """Both papers, (n, m, 3) each, n round the section and m along the span; ends lie in their planes."""

    outer: np.ndarray
    inner: np.ndarray


@dataclass(frozen=True, kw_only=True, eq=False)
class Piece:
    """A skin between two places of one panel; `first_tilt_deg` and `last_tilt_deg` as those of a panel.

    An end within a panel is square to it: its tilt is 0.
    """

    surface: Surface
    panel: Panel
    first_mm: float
    last_mm: float

    @property
    def first_tilt_deg(self) -> float:
        """How far the plane of its first end leans."""
        return self.panel.first_tilt_deg if self.first_mm == self.panel.first.out_mm else 0.0

    @property
    def last_tilt_deg(self) -> float:
        """How far the plane of its last end leans."""
        return self.panel.last_tilt_deg if self.last_mm == self.panel.last.out_mm else 0.0

    @property
    def thickness_mm(self) -> float:
        """That of the board."""
        return self.surface.material.thickness_mm

    def holds(self, s_mm: float) -> bool:
        """Whether a place along the span is on this skin; one between two is on the first."""
        low = self.first_mm if self.first_mm > 0 else -math.inf
        return low < s_mm <= self.last_mm

    @property
    def along(self) -> np.ndarray:
        """The direction of the leading edge, a unit vector (c, s)."""
        run = self.panel.leading(self.last_mm) - self.panel.leading(self.first_mm)
        return np.array([run, self.last_mm - self.first_mm]) / math.hypot(run, self.last_mm - self.first_mm)

    @cached_property
    def places(self) -> tuple[float, ...]:
        """The s of its rulings before its ends are tilted."""
        first, last = self.first_mm, self.last_mm
        if self._prism():
            return first, (first + last) / 2, last
        low, high = first + self._leans(0), last - self._leans(1)
        steps = {end for end, _ in spar_steps(self.surface) if low < end < high}
        even = {first + (last - first) * i / (_RULINGS - 1) for i in range(1, _RULINGS - 1)}
        apart = (last - first) / (4 * _RULINGS)
        return tuple(
            sorted({first, last, *steps, *(s for s in even if all(abs(s - e) > apart for e in steps))})
        )

    def _leans(self, end: int) -> float:
        """How far from an end no ruling may lie, so that those of a leaning end do not cross it."""
        tilt = (self.first_tilt_deg, self.last_tilt_deg)[end]
        high = spar_height(self.surface, (self.first_mm, self.last_mm)[end]) + 2 * self.thickness_mm
        return _BESIDE_MM + 2 * high * abs(math.tan(math.radians(tilt)))

    def _prism(self) -> bool:
        """Whether its section is the same all along."""
        ends = [
            (
                self.panel.chord(s),
                spar_front(self.surface, self.panel, s) - self.panel.leading(s),
                spar_height(self.surface, s),
                spar_width(self.surface, self.panel, s),
            )
            for s in (self.first_mm, self.last_mm)
        ]
        return all(abs(a - b) <= 1e-9 for a, b in zip(*ends, strict=True))

    @cached_property
    def sections(self) -> tuple[Section, ...]:
        """The sections at its places."""
        return tuple(section_at(self.surface, self.panel, s) for s in self.places)

    def turned_deg(self, which: int) -> float:
        """The turn of a fold in the plane of a section, the mean of both ends (see `Section.turns_deg`)."""
        return (self.sections[0].turns_deg[which] + self.sections[-1].turns_deg[which]) / 2

    @cached_property
    def _beside(self) -> tuple[tuple[float, Section], tuple[float, Section]]:
        """A section inside each end, and how far inside it is taken."""
        step = min(_BESIDE_MM, (self.last_mm - self.first_mm) / 4)
        return (
            (step, section_at(self.surface, self.panel, self.first_mm + step)),
            (-step, section_at(self.surface, self.panel, self.last_mm - step)),
        )

    @cached_property
    def upper(self) -> Papers:
        """The papers of the upper skin from the nose to the trailing edge."""
        return Papers(outer=self.ended(outer_line, outer_line), inner=self.ended(inner_line, inner_line))

    @cached_property
    def lower(self) -> Papers:
        """The papers of the lower skin, from the trailing edge to the nose."""
        return Papers(
            outer=self.ended(_lower_outer, _lower_outer), inner=self.ended(_lower_inner, _lower_inner)
        )

    @cached_property
    def nose(self) -> Papers:
        """The papers of a round nose, from the lower skin to the upper one."""
        return Papers(outer=self.ended(_nose_outer, _nose_outer), inner=self.ended(_nose_inner, _nose_inner))

    @cached_property
    def rails(self) -> np.ndarray:
        """The lines of the upper skin that keep their length, (n, m, 3), as far as the board reaches.

        The outer paper, which stays whole at creases; of a bent skin the middle of the board (no source).
        Where an end is bevelled the board reaches to the farther one of its faces.
        """
        line = outer_line if self.surface.over_spar is OverSpar.CREASED else middle_line
        return self.ended(line, self._edge(0), self._edge(1))

    @cached_property
    def middle(self) -> np.ndarray:
        """The middle of the upper skin's board, (n, m, 3), by the same rulings as `rails`."""
        return self.ended(middle_line, self._edge(0), self._edge(1))

    def bevelled(self, end: int) -> bool:
        """Whether an end, 0 or 1, is cut aslant: else it is square and the rest is sanded."""
        tilt = (self.first_tilt_deg, self.last_tilt_deg)[end]
        return abs(self.thickness_mm * math.tan(math.radians(tilt))) >= LEAST_BEVEL_MM

    def lower_end(self, end: int) -> float:
        """s of an end of the lower skin's board, which is bevelled from its farther face."""
        s, tilt = ((self.first_mm, self.first_tilt_deg), (self.last_mm, self.last_tilt_deg))[end]
        lean = self.thickness_mm * math.tan(math.radians(tilt)) if self.bevelled(end) else 0.0
        return s + (min(lean, 0.0) if end == 0 else max(lean, 0.0))

    def _edge(self, end: int) -> Line:
        """The face whose end the board of the upper skin reaches to."""
        tilt = (self.first_tilt_deg, self.last_tilt_deg)[end]
        inner = self.bevelled(end) and (tilt > 0) == (end == 0)
        return inner_line if inner else outer_line

    def ended(self, line: Line, first: Line, last: Line | None = None) -> np.ndarray:
        """Lines along the span, (n, m, 3), whose ends lie in the planes of the skin's ends.

        `line` gives (n, 2) points of a section, `first` and `last` (n, 2) those whose heights say where in
        the plane each ends.  Between two sections all runs straight.
        """
        points = [line(one) for one in self.sections]
        made = np.stack(
            [
                np.stack([p[:, 0], np.full(len(p), s), p[:, 1]], axis=1)
                for p, s in zip(points, self.places, strict=True)
            ],
            axis=1,
        )
        tilts = (self.first_tilt_deg, self.last_tilt_deg)
        for i, end in ((0, first), (-1, last or first)):
            lean = math.tan(math.radians(tilts[i]))
            if not lean:
                continue
            step, beside = self._beside[i]
            heights, further = end(self.sections[i])[:, 1], end(beside)[:, 1]
            off = heights * lean / (1 - (further - heights) / step * lean)
            change = (line(beside) - points[i]) / step
            made[:, i, 0] += change[:, 0] * off
            made[:, i, 1] += off
            made[:, i, 2] += change[:, 1] * off
        return made
