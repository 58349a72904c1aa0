"""The rule that distances are read on: half millimetres, or thirty-seconds of an inch.

One fraction serves for everything.  An outline cut by hand is good to 1 mm or 1/16 in, slots, joiners and
hinges want 0.3 to 0.5 mm (common practice, no source): the finer of the two costs no more work, and a builder
has one kind of number to read.  Rounded distances are for a pencil; no geometry is made from them.
"""

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from foamcut.units import MM_PER, decimal_text, inch_text


@dataclass(frozen=True, slots=True)
class Read:
    """A distance as a rule reads it.

    `mm` is what is marked, exactly; `text` what the page says of it, without the unit; `number` the same as a
    decimal in the rule's unit, exactly; `error_mm` how far it is off, above 0 when it is too long.
    """

    mm: Fraction
    text: str
    number: str
    error_mm: float


@dataclass(frozen=True, slots=True)
class Rule:
    """A ruler in a unit, ``mm`` or ``in``, that is read to `tick_mm`, exactly."""

    unit: str
    tick_mm: Fraction

    @property
    def words(self) -> str:
        """The finest tick in words: ``0.5 mm``, ``1/32 in``."""
        return f"{self.read(float(self.tick_mm)).text} {self.unit}"

    def read(self, mm: float) -> Read:
        """The tick nearest to a distance from the datum, halves up."""
        return _read(self, mm)

    def length(self, mm: float) -> str:
        """A length to measure, or of a compass, with the mm beside inches: ``6 mm``, ``1/4 in (6.4 mm)``."""
        if self.unit == "mm":
            return f"{decimal_text(mm)} mm"
        return f"{inch_text(mm)} in ({decimal_text(mm)} mm)"


@lru_cache(maxsize=16384)  # pages and table ask for the same distances
def _read(rule: Rule, mm: float) -> Read:
    exact = Fraction(mm)
    read = math.floor(exact / rule.tick_mm + Fraction(1, 2)) * rule.tick_mm
    text = inch_text(float(read)) if rule.unit == "in" else decimal_text(float(read))
    return Read(read, text, decimal_text(float(read / MM_PER[rule.unit]), 5), float(read - exact))


#: the rule for designs in each unit
RULES: dict[str, Rule] = {
    "mm": Rule("mm", Fraction(1, 2)),
    "in": Rule("in", MM_PER["in"] / 32),
}
