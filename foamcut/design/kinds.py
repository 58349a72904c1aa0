"""Kinds of value in a sum: what may be added to what, and what comes out of times and divided by.

Numbers are exact fractions; lengths are in mm at full size. Bare numbers stay *plain* until they meet a
length, a quotient of two lengths is a factor, a product is a power of mm.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from foamcut.design.literals import SumError, quoted, rounded_words

MAX_BITS = 4096  # of a fraction on the way: keeps products of products from growing without end


class Kind(Enum):
    """What a value is, and so what it may be added to."""

    PLAIN = "a bare number"
    PER_CENT = "a percentage"
    FACTOR = "a factor"
    LENGTH = "a length"
    POWER = "no length"  # mm x mm, 1 / mm and so on: allowed on the way
    REFUSED = "a refused size"  # a name under [sizes] whose own value could not be read


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """A number and its kind: mm for a length, mm to the ``power`` for a product, no unit otherwise."""

    number: Fraction
    kind: Kind
    power: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What a sum is read against.

    ``sketch_mm`` is what 1 on the sketch is at full size, in mm (unit x scale). ``bare_adds`` is false where
    a bare number may not stand for a sketch measure.
    """

    sizes: Mapping[str, Value]
    scale: Fraction
    sketch_mm: Fraction
    bare_adds: bool = True


def _of_power(number: Fraction, power: int) -> Value:
    kind = {0: Kind.FACTOR, 1: Kind.LENGTH}.get(power, Kind.POWER)
    return Value(number=number, kind=kind, power=power)


def bounded(value: Value) -> Value:
    """Return the value as it is; raises SumError when its fraction has grown too long."""
    if max(value.number.numerator.bit_length(), value.number.denominator.bit_length()) > MAX_BITS:
        raise SumError("the numbers on the way grow too long; write a shorter sum")
    return value


def times(a: Value, b: Value) -> Value:
    """Multiply: plain by plain stays plain, powers of mm add up."""
    number = a.number * b.number
    if a.kind is b.kind is Kind.PLAIN:
        return Value(number=number, kind=Kind.PLAIN)
    return _of_power(number, a.power + b.power)


def over(a: Value, b: Value) -> Value:
    """Divide, ``b`` not 0: plain by plain stays plain, powers of mm are taken off."""
    number = a.number / b.number
    if a.kind is b.kind is Kind.PLAIN:
        return Value(number=number, kind=Kind.PLAIN)
    return _of_power(number, a.power - b.power)


def alike(sign: str, a: Value, b: Value, setting: Setting) -> tuple[Value, Value]:
    """Make two values the same kind for + - min max, or refuse."""
    if Kind.PER_CENT in (a.kind, b.kind):
        share, other = (a, b) if a.kind is Kind.PER_CENT else (b, a)
        typed = f"{rounded_words(share.number * 100)} %"
        name = next((name for name, value in setting.sizes.items() if value == other), "40 mm")
        raise SumError(
            f'{typed} stands beside "{sign}"; a percentage may only be multiplied or divided, '
            f'as in "{typed} * {name}"'
        )
    if a.kind is Kind.PLAIN and b.kind is Kind.LENGTH:
        return _sketch_measure(a, setting), b
    if b.kind is Kind.PLAIN and a.kind is Kind.LENGTH:
        return a, _sketch_measure(b, setting)
    if a.kind is b.kind and a.power == b.power:
        return a, b
    raise SumError(f'"{sign}" cannot join {_what(a)} and {_what(b)}; both must be lengths, or both factors')


def _what(value: Value) -> str:
    if value.kind is Kind.POWER:
        return f"a product of {value.power} lengths" if value.power > 1 else "a number divided by a length"
    return value.kind.value


def _sketch_measure(value: Value, setting: Setting) -> Value:
    if not setting.bare_adds:
        raise SumError(no_unit(rounded_words(value.number)))
    return Value(number=value.number * setting.sketch_mm, kind=Kind.LENGTH, power=1)


def no_unit(typed: str, unit: str = "mm", *, on_sketch: bool = True) -> str:
    """Return the words for a bare number where a true size is due; ``typed`` as the user wrote it.

    A sum comes in quotes, and then an example must do.  ``on_sketch``: whether a sketch may show the size.
    """
    example = "25" if typed.startswith('"') else typed
    if not on_sketch:
        return f'{typed} has no unit; write "{example} {unit}"'
    return (
        f'{typed} has no unit. Write "{example} {unit}" for a true size, '
        f'"4 {unit} * scale" if read off the sketch'
    )


def as_length(value: Value, text: str, setting: Setting) -> Fraction:
    """Return a value as mm at full size: a plain one is a sketch measure.

    Raises SumError when it is no length.
    """
    if value.kind is Kind.PLAIN:
        return value.number * setting.sketch_mm
    if value.kind is Kind.LENGTH:
        return value.number
    if value.kind in (Kind.FACTOR, Kind.PER_CENT):
        factor = rounded_words(value.number)
        raise SumError(f"{quoted(text)} gives a factor ({factor}), not a length; multiply it by a length")
    if stroke := re.search(r"(\d+) +/ +(\d+ *[a-z]+)", text):
        hint = f'; write a fraction without spaces: "{stroke[1]}/{stroke[2]}"'
    else:
        hint = "; multiply or divide until a length comes out"
    raise SumError(f"{quoted(text)} gives {_what(value)}, not a length{hint}")
