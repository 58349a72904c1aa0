"""Readers of every number that is not a sum of lengths: sizes, ratios, angles, counts, money, masses.

Each takes the raw value that TOML gave, a number or a text, and raises SumError with what is wrong and what
to do; the caller adds the key. True and false, dates, lists and tables are refused wherever a number is due,
nan, infinity and what is out of bounds too. Numbers are exact fractions until the one conversion at the end.
"""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from foamcut.design.arithmetic import evaluate, names_in
from foamcut.design.kinds import Kind, Setting, Value
from foamcut.design.literals import (
    NUMBER,
    SumError,
    check_letters,
    check_text,
    comma_slip,
    exact,
    number_of,
    quoted,
    rounded_words,
    strange,
    tokens_of,
)
from foamcut.units import MM_PER

MAX_MM = 10**6  # a kilometre: whatever is larger is a slip
_UNNAMED = re.sub(r"\?P<\w+>", "?:", NUMBER.pattern)
SIGNED_NUMBER = re.compile(rf"(?P<minus>-)?[ \t]*(?P<number>{_UNNAMED})", re.ASCII)


def describe(raw: object) -> str:
    """Return what a raw value is, in the words of a message: ``true``, ``the text "x"``, ``a list``."""
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, str):
        return f"the text {quoted(raw)}"
    if isinstance(raw, int):
        return str(raw) if raw.bit_length() <= 64 else "a number of over 19 digits"
    if isinstance(raw, float | Decimal):
        return str(raw)
    if isinstance(raw, datetime.date | datetime.time):
        return f"the date or time {raw}"
    if isinstance(raw, list | tuple):
        return "a list"
    if isinstance(raw, Mapping):
        return "a table"
    return "nothing" if raw is None else f"a {type(raw).__name__}"


def number_or_text(raw: object, due: str) -> Fraction | str:
    """Return a number exactly, or the text; refuse everything else. ``due`` is an example: ``'"25 mm"'``."""
    if isinstance(raw, str):
        check_text(raw)
        return raw
    if isinstance(raw, bool) or not isinstance(raw, int | float | Decimal | Fraction):
        raise SumError(f"{describe(raw)} where a number is due; write {due}")
    if isinstance(raw, float | Decimal) and not math.isfinite(raw):
        raise SumError(f"{raw} is no number; write {due}")
    number = exact(raw)
    if abs(number) > 10**12:
        raise SumError(f"{describe(raw)} is far too large, over 1e6; check the number")
    return number


def _signed_number(text: str) -> tuple[Fraction, str]:
    """Return the number that a text begins with and the words behind it, stripped."""
    check_letters(text)
    for letter in text:
        if not (letter.isascii() and (letter.isalnum() or letter in " \t\r\n.,/-+*()%_")):
            raise strange(letter)
    if slip := comma_slip(text):
        raise slip
    text = text.strip()
    match = SIGNED_NUMBER.match(text)
    if not match:
        raise SumError(f"{quoted(text)} does not begin with a number; write one")
    literal = NUMBER.fullmatch(match["number"])
    if literal is None:
        raise ValueError("two readings of one number: a fault of the patterns")
    rest = text[match.end() :]
    if re.match(r"[eE][+-]?\d", rest):
        raise SumError(f'{quoted(text)} has an exponent; write the number out, such as "1000"')
    number = number_of(literal)
    return (-number if match["minus"] else number), rest.strip()


def bounded_mm(mm: Fraction, typed: object, most_mm: int = MAX_MM) -> Fraction:
    """Return a length as it is; raises SumError over ``most_mm``, a power of ten."""
    if abs(mm) > most_mm:
        shown = quoted(typed) if isinstance(typed, str) else describe(typed)
        found = f"{shown} is {rounded_words(mm)} mm, over 1e{len(str(most_mm)) - 1} mm"
        raise SumError(f"{found}; check the number, its unit and the scale")
    return mm


def read_size(raw: object, count: int = 2) -> tuple[float, ...]:
    """Return the ``count`` numbers of a size such as ``"700 x 500 mm"`` in mm, each above 0.

    The unit stands behind the last number and holds for all, or behind each.

    Raises SumError.
    """
    example = {2: '"700 x 500 mm"', 3: '"105 x 34 x 24 mm"'}.get(count, f"{count} numbers, x between, a unit")
    if not isinstance(raw, str):
        what = describe(raw)
        if isinstance(raw, int | float) and not isinstance(raw, bool):
            what += " has no unit"
        raise SumError(f"{what} where a size is due; write {example}")
    check_text(raw)
    check_letters(raw)
    if slip := comma_slip(raw):
        raise slip
    if re.search(r"[X*]", raw):
        raise SumError(f"{quoted(raw)} needs a small x between its numbers; write {example}")
    parts = raw.split("x")
    if len(parts) != count:
        raise SumError(f"{quoted(raw)} is not {count} numbers with x between; write {example}")
    values = [_one_of_size(part, raw, example) for part in parts]
    bare = [value.kind is Kind.PLAIN for value in values]
    if bare[-1] or (any(bare) and not all(bare[:-1])):
        raise SumError(f"{quoted(raw)} has no unit behind its last number or behind each; write {example}")
    unit_mm = exact(MM_PER[[t.text for t in tokens_of(parts[-1]) if t.kind == "word"][-1]])
    lengths = [v.number * unit_mm if v.kind is Kind.PLAIN else v.number for v in values]
    if min(lengths) <= 0:
        raise SumError(f"{quoted(raw)} has a number that is not above 0; write {example}")
    return tuple(float(bounded_mm(mm, raw)) for mm in lengths)


def _one_of_size(part: str, whole: str, example: str) -> Value:
    """Read one number of a size: a literal with or without unit, no sum."""
    if not part.strip():
        raise SumError(f"{quoted(whole)} lacks a number beside an x; write {example}")
    if any(token.kind == "sign" for token in tokens_of(part)) or names_in(tokens_of(part)):
        units = ", ".join(MM_PER)
        raise SumError(f"{quoted(part.strip())} is no number with a unit ({units}); write {example}")
    return evaluate(part, Setting(sizes={}, scale=Fraction(1), sketch_mm=Fraction(1)))


def read_ratio(raw: object) -> float:
    """Return a ratio: a number as it stands, or ``"25 %"`` as 0.25. Bounds are the caller's.

    Raises SumError.
    """
    found = number_or_text(raw, '0.25 or "25 %"')
    if isinstance(found, str):
        number, unit = _signed_number(found)
        if unit not in ("", "%"):
            raise SumError(f'{quoted(found)} is no ratio; write 0.25 or "25 %"')
        found = number / 100 if unit == "%" else number
    return float(_within(found, raw))


def read_angle(raw: object) -> float:
    """Return an angle in degrees, of either sign, at most a full turn: a number, or ``"40 deg"``.

    Raises SumError.
    """
    found = number_or_text(raw, '40 or "40 deg"')
    if isinstance(found, str):
        number, unit = _signed_number(found)
        if unit not in ("", "deg"):
            raise SumError(f'{quoted(found)} is no angle; write 40 or "40 deg"')
        found = number
    if abs(found) > 360:
        raise SumError(f"{rounded_words(found)} degrees is more than a full turn; write -360 to 360")
    return float(found)


def read_count(raw: object, at_least: int = 0) -> int:
    """Return a whole number from ``at_least`` to a million.

    Raises SumError; a text or 2.0 is refused as well.
    """
    if isinstance(raw, bool) or not isinstance(raw, int):
        raise SumError(f"{describe(raw)} where a whole number is due; write one without quotes, such as 2")
    if raw < at_least:
        raise SumError(f"{describe(raw)} is less than {at_least}; write {at_least} or more")
    if raw > 10**6:
        raise SumError(f"{describe(raw)} is over 1,000,000; write a smaller number")
    return raw


def read_money(raw: object) -> Decimal:
    """Return an amount with exactly two places, 0 to a million, in the plan's currency.

    Raises SumError.
    """
    if isinstance(raw, bool) or not isinstance(raw, int | float | Decimal):
        raise SumError(f"{describe(raw)} where a price is due; write a number alone, such as 3.40")
    amount = _within(number_or_text(raw, "3.40"), raw)
    if amount < 0:
        raise SumError(f"{describe(raw)} is less than 0; write 0 or more")
    if (amount * 100).denominator != 1:
        raise SumError(f"{describe(raw)} has more than two places; write two, such as 3.40")
    return Decimal(int(amount * 100)).scaleb(-2)


def read_scale(raw: object) -> Fraction:
    """Return the scale exactly: how many mm at full size one mm on the sketch is; above 0, at most 1000.

    Raises SumError.
    """
    found = number_or_text(raw, "6 when one on the sketch is six at full size")
    if isinstance(found, str):
        if ratio := re.fullmatch(r"\s*1\s*:\s*(\d[\d.]*)\s*", found):
            raise SumError(
                f'"{found.strip()}" is a ratio; write {ratio[1]} alone, '
                f"for one on the sketch that is {ratio[1]} at full size"
            )
        number, unit = _signed_number(found)
        if unit:
            raise SumError(f"{quoted(found)} is no scale; write a number alone, such as 6")
        found = number
    if not 0 < found <= 1000:
        raise SumError(f"{describe(raw)} is no scale; write a number above 0, at most 1000")
    return found


def measured_words(raw: object, units: Sequence[str], example: str) -> tuple[Fraction, str]:
    """Return the number and the unit of a measured value as written; whether the unit fits is not looked at.

    Raises SumError: no text, no number, or no unit (then ``units`` are named).
    """
    found = number_or_text(raw, f'"{example}"')
    if not isinstance(found, str):
        raise SumError(_without_unit(describe(raw), units))
    number, unit = _signed_number(found)
    if not unit:
        raise SumError(_without_unit(found.strip(), units))
    return number, unit


def _without_unit(typed: str, units: Sequence[str]) -> str:
    others = f" ({', '.join(units)})" if len(units) > 1 else ""
    return f'{typed} has no unit; write "{typed} {units[0]}"{others}'


def _within(found: Fraction | str, raw: object) -> Fraction:
    if isinstance(found, str):
        raise ValueError("a text where a number was made sure of: a fault of the caller")
    return bounded(found, raw)


def bounded(found: Fraction, raw: object) -> Fraction:
    """Return a number as it is; raises SumError over 1e6."""
    if abs(found) > MAX_MM:
        raise SumError(f"{describe(raw)} is over 1e6; check the number and its unit")
    return found
