"""The side view of a body: heights and inside sizes along it, mm; x aft from the nose, z up."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe.values import Body
from foamcut.flat.outline import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """What a body is like at a place along it."""

    body: Body

    @property
    def front_mm(self) -> float:
        """Where along the body begins."""
        return self.body.side[0].along_mm

    @property
    def rear_mm(self) -> float:
        """Where along the body ends."""
        return self.body.side[-1].along_mm

    @property
    def thickness_mm(self) -> float:
        """That of the body's board."""
        return self.body.material.thickness_mm

    @property
    def slender(self) -> float:
        """The width as a share of the length; 0 of a body without a length."""
        length = self.rear_mm - self.front_mm if len(self.body.side) > 1 else 0.0
        return self.body.width_mm / length if length > 0 else 0.0

    @property
    def bottom_line(self) -> tuple[Point, ...]:
        """The lower edge of the side, outside, from nose to tail."""
        return tuple((one.along_mm, one.bottom_mm) for one in self.body.side)

    @property
    def top_line(self) -> tuple[Point, ...]:
        """The upper edge of the side, outside, from nose to tail."""
        return tuple((one.along_mm, one.top_mm) for one in self.body.side)

    def bottom(self, x_mm: float) -> float:
        """z of the lower edge, outside."""
        return height_at(self.bottom_line, x_mm)

    def top(self, x_mm: float) -> float:
        """z of the upper edge, outside."""
        return height_at(self.top_line, x_mm)

    def inside_width(self, x_mm: float) -> float:
        """Between the inside faces of the sides, a nose doubler counted."""
        boards = 4 if self.doubled(x_mm) else 2
        return self.body.width_mm - boards * self.thickness_mm

    def inside_height(self, x_mm: float) -> tuple[float, float]:
        """z of the floor's inside face, and of the deck's or hatch's; where it is open, of the upper edge."""
        top = self.under_cover(x_mm) if self.covered(x_mm) else self.top(x_mm)
        return self.floor(x_mm), top

    def floor(self, x_mm: float) -> float:
        """z of the floor's inside face: a board's thickness, square, off the lower edge."""
        return raised(self.bottom_line, x_mm, self.thickness_mm)

    def under_cover(self, x_mm: float) -> float:
        """z of the underside of a board whose upper face runs along the upper edge."""
        return 0.0 - raised([(x, 0.0 - z) for x, z in self.top_line], x_mm, self.thickness_mm)

    def covered(self, x_mm: float) -> bool:
        """Whether a deck or a hatch lies over the board that begins at a place."""
        return any(self._within(span, x_mm) for span in self.covers)

    @property
    def covers(self) -> tuple[tuple[float, float], ...]:
        """The spans along of the deck and the hatch."""
        return tuple(span for span in (self.body.deck_mm, self.body.hatch_mm) if span is not None)

    def doubled(self, x_mm: float) -> bool:
        """Whether a nose doubler lies beside the board that begins at a place."""
        span = self.body.nose_doubler_mm
        return span is not None and self._within(span, x_mm)

    def _within(self, span: tuple[float, float], x_mm: float) -> bool:
        return span[0] <= x_mm < span[1] or span[1] == x_mm == self.rear_mm


#: said of a width that is out of all proportion
UNIT_WORDS = 'a bare number is read off the sketch; write it with its unit, such as "62 mm", for a true size'


def height_at(line: Sequence[Point], x_mm: float) -> float:
    """z of a line from nose to tail at a place; before and behind it that of its ends."""
    if x_mm <= line[0][0]:
        return line[0][1]
    for (x0, z0), (x1, z1) in pairwise(line):
        if x_mm <= x1:
            return z0 + (z1 - z0) * (x_mm - x0) / (x1 - x0) if x1 > x0 else max(z0, z1)
    return line[-1][1]


def raised(line: Sequence[Point], x_mm: float, by_mm: float) -> float:
    """z of what lies within a distance of a line, on its upper side, at a place.

    Where the line turns down a board on it gapes, so that it is bounded by the arc about the corner; where
    it turns up its faces meet in a mitre.  Before and behind the line as at its ends.
    """
    x = min(max(x_mm, line[0][0]), line[-1][0])
    heights = [z0 + math.sqrt(by_mm**2 - (x - x0) ** 2) for x0, z0 in line if abs(x - x0) <= by_mm]
    for (x0, z0), (x1, z1) in pairwise(line):
        length = math.hypot(x1 - x0, z1 - z0)
        if x1 <= x0:
            continue
        shift = by_mm * (z0 - z1) / length
        if x0 + shift <= x <= x1 + shift:
            heights.append(z0 + (z1 - z0) * (x - x0) / (x1 - x0) + by_mm * length / (x1 - x0))
    return max(heights)
