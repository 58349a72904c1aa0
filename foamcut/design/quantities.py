"""Measured quantities: which unit each is written in, and exact words for the units of other trades.

A quantity is written as a number and a unit, ``"2200 mAh"``; the number comes out in the first unit of its
quantity.  Knows no keys.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import Enum
from fractions import Fraction
from typing import NamedTuple

from foamcut.design.literals import SumError, exact, near, quoted
from foamcut.design.measures import bounded, measured_words
from foamcut.units import GRAM_PER, decimal_text

#: the ounce over the square foot and over the foot, in g/m2 and g/m
_OZ_FT2 = GRAM_PER["oz"] / Fraction(3048, 10000) ** 2
_OZ_FT = GRAM_PER["oz"] / Fraction(3048, 10000)
_ONE = Fraction(1)


class _Measure(NamedTuple):
    what: str
    units: Mapping[str, Fraction]  # what one of each is in the first of them
    example: str


class Quantity(Enum):
    """What may be measured, the units that are read, an example."""

    MASS = _Measure("a mass", GRAM_PER, "25 g")
    POWER = _Measure("a power", {"W": _ONE}, "180 W")
    VOLTAGE = _Measure("a voltage", {"V": _ONE}, "3.4 V")
    CURRENT = _Measure("a current", {"A": _ONE}, "20 A")
    CHARGE = _Measure("a charge", {"mAh": _ONE}, "2200 mAh")
    TURNS = _Measure("a speed of turning", {"rpm": _ONE}, "6000 rpm")
    SPEED_CONSTANT = _Measure("a speed constant", {"rpm/V": _ONE}, "1100 rpm/V")
    TIME = _Measure("a time", {"s": _ONE, "min": Fraction(60)}, "6 min")
    SPEED = _Measure("a speed", {"m/s": _ONE}, "8 m/s")
    TEMPERATURE = _Measure("a temperature", {"degC": _ONE}, "15 degC")
    LINE_MASS = _Measure("a mass along a line", {"g/m": _ONE}, "6 g/m")
    AREA_MASS = _Measure("a mass over an area", {"g/m2": _ONE}, "60 g/m2")

    @property
    def units(self) -> tuple[str, ...]:
        """The units that are read."""
        return tuple(self.value.units)

    @property
    def unit(self) -> str:
        """The unit in which the number comes out."""
        return self.units[0]


#: units that are written by habit, by lower-case letters; what the number is in ours
_HABITS: dict[Quantity, dict[str, Callable[[Fraction], Fraction]]] = {
    Quantity.MASS: {
        **dict.fromkeys(("gram", "grams", "gr", "grammes", "gramme"), lambda n: n),
        **dict.fromkeys(("mg",), lambda n: n / 1000),
        **dict.fromkeys(("kilo", "kilos", "kilogram", "kilograms"), lambda n: n * 1000),
        **dict.fromkeys(("ounce", "ounces"), lambda n: n * GRAM_PER["oz"]),
        **dict.fromkeys(("lbs", "pound", "pounds"), lambda n: n * GRAM_PER["lb"]),
    },
    Quantity.POWER: {
        **dict.fromkeys(("watt", "watts"), lambda n: n),
        "kw": lambda n: n * 1000,
        "hp": lambda n: n * Fraction(745699872, 1000000),  # 550 foot-pounds a second
    },
    Quantity.VOLTAGE: {
        **dict.fromkeys(("volt", "volts", "v/cell", "v per cell"), lambda n: n),
        "mv": lambda n: n / 1000,
    },
    Quantity.CURRENT: {
        **dict.fromkeys(("amp", "amps", "ampere", "amperes"), lambda n: n),
        "ma": lambda n: n / 1000,
    },
    Quantity.CHARGE: {
        **dict.fromkeys(("ah", "amp hours", "amp-hours"), lambda n: n * 1000),
        **dict.fromkeys(("ma", "ma/h", "mah.", "milliamp hours"), lambda n: n),
    },
    Quantity.SPEED_CONSTANT: {
        **dict.fromkeys(("kv", "rpm/volt", "rpm per volt", "rpm v", "rpm"), lambda n: n)
    },
    Quantity.TEMPERATURE: {
        **dict.fromkeys(("c", "deg", "deg c", "celsius", "degrees"), lambda n: n),
        **dict.fromkeys(("f", "degf", "deg f", "fahrenheit"), lambda n: (n - 32) * Fraction(5, 9)),
        **dict.fromkeys(("k", "kelvin"), lambda n: n - Fraction(27315, 100)),
    },
    Quantity.LINE_MASS: {
        **dict.fromkeys(("g/mm", "g per mm"), lambda n: n * 1000),
        **dict.fromkeys(("g/cm", "g per cm"), lambda n: n * 100),
        **dict.fromkeys(("g per m", "g/metre", "g/meter"), lambda n: n),
        **dict.fromkeys(("oz/ft", "oz per ft"), lambda n: n * _OZ_FT),
        **dict.fromkeys(("oz/in", "oz per in"), lambda n: n * _OZ_FT * 12),
    },
    Quantity.AREA_MASS: {
        **dict.fromkeys(("gsm", "g/qm", "g/sqm", "g per m2"), lambda n: n),
        **dict.fromkeys(("g/dm2",), lambda n: n * 100),
        **dict.fromkeys(("g/cm2",), lambda n: n * 10000),
        **dict.fromkeys(("kg/m2",), lambda n: n * 1000),
        **dict.fromkeys(("oz/ft2", "oz/sqft", "oz/sq ft", "oz per sq ft"), lambda n: n * _OZ_FT2),
        **dict.fromkeys(("oz/yd2", "oz/sqyd", "oz/sq yd"), lambda n: n * _OZ_FT2 / 9),
    },
}
#: letters that no number may hold, written the way that units are read here
_PLAINER = str.maketrans({"²": "2", "°": "", "º": "", "^": ""})


def read_quantity(raw: object, quantity: Quantity) -> float:
    """Return a measured value in the unit of its quantity, of either sign; bounds are the caller's.

    Raises SumError: for a unit of another quantity, and, with the number worked out, for a unit that is not
    read here but is known.
    """
    units: Mapping[str, Fraction] = quantity.value.units
    example = quantity.value.example
    written = raw.translate(_PLAINER) if isinstance(raw, str) else raw
    number, unit = measured_words(written, quantity.units, example)
    if unit in units and written == raw:
        return float(bounded(number * exact(units[unit]), raw))
    raise SumError(_no_unit_of(number, unit, str(raw), quantity))


def _no_unit_of(number: Fraction, unit: str, typed: str, quantity: Quantity) -> str:
    """What is said of a unit that is not read; the number in a unit that is, where both are known."""
    shown = quoted(typed.strip())
    if unit.lower() == "c" and quantity is Quantity.CURRENT:
        return f'{shown} is a multiple of the capacity; write amperes: that number x Ah, such as "20 A"'
    alike = next((known for known in quantity.units if known.lower() == unit.lower()), None)
    if alike:
        return f'{shown}: did you mean "{alike}"? Write "{_decimal(number)} {alike}"'
    convert = _HABITS.get(quantity, {}).get(unit.lower())
    if convert:
        return f'{shown} is in another unit; write "{_decimal(convert(number))} {quantity.unit}"'
    other = next((one for one in Quantity if unit in one.units), None)
    due = f'write {quantity.value.what} in {" ".join(quantity.units)}, such as "{quantity.value.example}"'
    if other:
        return f"{shown} is {other.value.what}; {due}"
    hint = near(unit, quantity.units)
    return f"{quoted(unit)} is none of the units {', '.join(quantity.units)}{hint}; {due}"


def _decimal(number: Fraction) -> str:
    """Up to four digits: what is weighed or read off a label has no more."""
    places = next((n for n, least in enumerate((1000, 100, 10, 1)) if abs(number) >= least), 4)
    return decimal_text(float(number), places)
