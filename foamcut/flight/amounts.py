"""Numbers of the balance as people read them: rounded, in the units of their ruler.

Values stay in the units of `foamcut.flight.figures.Number`; they are turned into inches, ounces and miles an
hour here alone.
"""

import math
from collections.abc import Iterable
from typing import NamedTuple

from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Number, Report
from foamcut.units import GRAM_PER, MM_PER, decimal_text


class _Shown(NamedTuple):
    """How a unit is written: its word, what a value is multiplied by, decimals."""

    word: str
    factor: float
    decimals: int


_INCH = 1 / float(MM_PER["in"])
_OUNCE = 1 / float(GRAM_PER["oz"])
_FOOT_M = float(MM_PER["ft"]) / 1000
#: units that are written otherwise for people who measure in inches
_INCHES: dict[str, _Shown] = {
    "g": _Shown("oz", _OUNCE, 2),
    "mm": _Shown("in", _INCH, 2),
    "dm2": _Shown("in2", 1e4 * _INCH**2, 1),
    "m": _Shown("ft", 1 / _FOOT_M, 1),
    "m/s": _Shown("mph", 3600 / (5280 * _FOOT_M), 1),
    "g/dm2": _Shown("oz/ft2", _OUNCE * 100 * _FOOT_M**2, 1),
    "W/kg": _Shown("W/lb", float(GRAM_PER["lb"]) / 1000, 0),
    "g/m2": _Shown("oz/ft2", _OUNCE * _FOOT_M**2, 2),
}
#: decimals of units that are written as they stand; others have three figures
_DECIMALS = {
    "g": 0,
    "mm": 1,
    "dm2": 2,
    "%": 1,
    "deg": 1,
    "m/s": 1,
    "W": 0,
    "A": 1,
    "min": 1,
    "N": 2,
    "rpm": 0,
}


def amount(value: float, unit: str, units: str) -> str:
    """A value as it is written, without its unit."""
    shown = _shown(unit, units)
    value *= shown.factor
    if shown.decimals >= 0:
        return decimal_text(value, shown.decimals)
    if not math.isfinite(value) or value == 0:
        return "0" if value == 0 else str(value)
    return decimal_text(value, max(0, 2 - math.floor(math.log10(abs(value)))))


def unit_word(unit: str, units: str) -> str:
    """How a unit is written for people whose ruler reads `units`."""
    return _shown(unit, units).word


def _shown(unit: str, units: str) -> _Shown:
    if units == "in" and unit in _INCHES:
        return _INCHES[unit]
    return _Shown(unit, 1.0, _DECIMALS.get(unit, -1))


def assumed_names(numbers: Iterable[Number], report: Report) -> tuple[str, ...]:
    """The rows of the table of usual values that went in, in the order of the table."""
    used = {name for number in numbers for name in number.assumed}
    used |= {name for item in report.items for name in item.assumed}
    return tuple(name for name in ASSUMED if name in used)
