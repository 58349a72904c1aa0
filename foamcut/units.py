"""Units of length and mass, and lengths in the words of a ruler.

Inside the program a length is mm, an angle degrees, a mass grams.  Other units exist at the
two doors only: where a design is read and where a number is written for people.
"""

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache

#: mm in one of each unit.  The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
MM_PER: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}

#: grams in one of each unit.  The avoirdupois pound is 453.59237 g exactly (the same agreement).
GRAM_PER: dict[str, Fraction] = {
    "g": Fraction(1),
    "kg": Fraction(1000),
    "oz": Fraction(45359237, 1600000),
    "lb": Fraction(45359237, 100000),
}

MM_PER_INCH = 25.4
MM_PER_M = 1000.0
POINTS_PER_MM = 72 / 25.4


def decimal_text(value: float, places: int = 1) -> str:
    """Shortest decimal text within half a unit of the last place, halves up; never ``-0`` or an exponent.

    >>> decimal_text(12.0), decimal_text(0.25, 2), decimal_text(-0.01), decimal_text(3.175, 2)
    ('12', '0.25', '0', '3.18')
    """
    if not math.isfinite(value):
        return str(value)
    exact = Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    text = f"{exact:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def mm_text(value_mm: float, places: int = 1) -> str:
    """A length in mm with its unit, as it is said in messages.

    >>> mm_text(5.04), mm_text(0.126, 2)
    ('5 mm', '0.13 mm')
    """
    return f"{decimal_text(value_mm, places)} mm"


#: a ruler's finest tick, as parts of an inch, and what an inch text may be off before it says so
_TICKS = 64
_TICK_TOL_MM = 0.02
_ROUGH_TICKS = 32


@lru_cache(maxsize=16384)  # the same few lengths are told on many pages
def inch_text(mm: float) -> str:
    """A length as a ruler in inches reads it.

    A fraction when the length is one of sixty-fourths; three decimals when it is not and short, as a
    thickness is; otherwise the nearest thirty-second with a ``~`` before it (at most 0.4 mm off).

    >>> inch_text(508.0), inch_text(4.7625), inch_text(26.9875), inch_text(6.0), inch_text(101.0)
    ('20', '3/16', '1 1/16', '0.236', '~3 31/32')
    """
    inches = Fraction(mm) / MM_PER["in"]
    if abs(float(inches * _TICKS) - round(inches * _TICKS)) * MM_PER_INCH / _TICKS <= _TICK_TOL_MM:
        return _fraction_text(round(inches * _TICKS), _TICKS)
    if abs(inches) < 1:
        return decimal_text(float(inches), 3)
    return "~" + _fraction_text(round(inches * _ROUGH_TICKS), _ROUGH_TICKS)


def _fraction_text(ticks: int, denominator: int) -> str:
    sign = "-" if ticks < 0 else ""
    whole, rest = divmod(abs(ticks), denominator)
    if not rest:
        return f"{sign}{whole}"
    part = Fraction(rest, denominator)
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
