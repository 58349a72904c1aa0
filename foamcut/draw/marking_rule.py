"""The rule that distances are read on: half millimetres, or thirty-seconds of an inch.

One fraction serves for everything.  An outline cut by hand is good to 1 mm or 1/16 in, slots, joiners and
hinges want 0.3 to 0.5 mm (common practice, no source): the finer of the two costs no more work, and a builder
has one kind of number to read.  Rounded distances are for a pencil; no geometry is made from them.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from foamcut.units import MM_PER, decimal_text, inch_text


@dataclass(frozen=True, slots=True)
class Rule:
    """A ruler in a unit, ``mm`` or ``in``, that is read to `tick_mm`, exactly."""

    unit: str
    tick_mm: Fraction

    @property
    def words(self) -> str:
        """The finest tick in words: ``0.5 mm``, ``1/32 in``."""
        return f"{self.text(float(self.tick_mm))} {self.unit}"

    def ticks(self, mm: float) -> int:
        """The nearest tick to a distance from the datum, halves up."""
        return math.floor(Fraction(mm) / self.tick_mm + Fraction(1, 2))

    def read_mm(self, mm: float) -> Fraction:
        """The distance as it is marked, mm, exactly."""
        return self.ticks(mm) * self.tick_mm

    def error_mm(self, mm: float) -> float:
        """How far the marked distance is off, mm, above 0 when it is too long."""
        return float(self.read_mm(mm) - Fraction(mm))

    def text(self, mm: float) -> str:
        """What the rule reads, without the unit: ``238.5``, ``9 13/32``."""
        read = float(self.read_mm(mm))
        return inch_text(read) if self.unit == "in" else decimal_text(read)

    def number(self, mm: float) -> str:
        """What the rule reads as a decimal in its unit, exactly: ``238.5``, ``9.40625``."""
        return decimal_text(float(self.read_mm(mm) / MM_PER[self.unit]), 5)

    def length(self, mm: float) -> str:
        """A length to measure, or of a compass, with the mm beside inches: ``6 mm``, ``1/4 in (6.4 mm)``."""
        if self.unit == "mm":
            return f"{decimal_text(mm)} mm"
        return f"{inch_text(mm)} in ({decimal_text(mm)} mm)"


#: the rule for designs in each unit
RULES: dict[str, Rule] = {
    "mm": Rule("mm", Fraction(1, 2)),
    "in": Rule("in", MM_PER["in"] / 32),
}
