"""Written numbers: the letters of a measure or a sum become tokens, and slips of the pen become clear words.

Read here: ``12`` ``12.5`` ``.5`` ``1/2`` ``2 1/2``; no exponent, no comma, no marks for inches. Numbers are
exact fractions. Nothing here knows keys or files.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

MAX_LETTERS = 500
MAX_BRACKETS = 50
MAX_DIGITS = 40  # in one written number: far beyond any ruler

Number = int | float | Decimal | Fraction


class SumError(ValueError):
    """A number or sum that cannot be read; the text says what is wrong and what to do, without the key.

    ``follows`` is true where the only fault is that a name is refused under [sizes]: the cause is told there.
    """

    def __init__(self, text: str, *, follows: bool = False) -> None:
        super().__init__(text)
        self.follows = follows


class Token(NamedTuple):
    """One word, number or sign of a sum; ``start`` and ``end`` count letters."""

    kind: str  # "number" "word" "sign"
    text: str
    start: int
    end: int


def exact(number: Number) -> Fraction:
    """Return the number as written: 0.1 is one tenth, not its binary neighbour.

    Raises ValueError for nan and infinity.
    """
    if isinstance(number, float):
        if not math.isfinite(number):
            raise ValueError(f"not a finite number: {number}")
        return Fraction(Decimal(repr(number)))
    return Fraction(number)


def quoted(text: str, limit: int = 60) -> str:
    """Return a user's text in quotes for a message: shortened, nothing in it that disturbs a terminal."""
    shown = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text[: limit + 1])
    return f'"{shown}"' if len(shown) <= limit else f'"{shown[:limit]}..."'


def near(name: str, known: Iterable[str]) -> str:
    """Return ``; did you mean "x"?`` when a known name is near, else nothing."""
    found = difflib.get_close_matches(name.lower(), list(known), n=1, cutoff=0.6)
    return f'; did you mean "{found[0]}"?' if found else ""


def rounded_words(number: Fraction) -> str:
    """Return about six digits of a number, for messages only."""
    if abs(number) > 10**15:
        return "over 1e15"
    return f"{float(number):,.0f}" if abs(number) >= 10**5 else f"{float(number):.6g}"


NUMBER = re.compile(
    r"(?P<whole>\d+)[ \t]+(?P<top>\d+)/(?P<under>\d+)(?![\d.])"  # 2 1/2
    r"|(?P<ftop>\d+)/(?P<funder>\d+)(?![\d.])"  # 1/2
    r"|(?P<decimal>\d+\.\d+|\.\d+|\d+)",
    re.ASCII,
)
_WORD = re.compile(r"[^\W\d]\w*")
_SIGNS = "+-*/(),%"
UNIT_WORDS = {
    "inch": "in", "inches": "in", "ins": "in", "zoll": "in", "foot": "ft", "feet": "ft",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "mms": "mm",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm", "cms": "cm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m",
}  # fmt: skip
_STRANGE = {
    **dict.fromkeys("\"'″′”“’‘´`", 'marks for inches and feet are not read; write "in" or "ft"'),
    **dict.fromkeys("×·⋅", 'write "*" to multiply ("x" between the numbers of a size)'),
    **dict.fromkeys("÷∕⁄:", 'write "/" to divide'),
    **dict.fromkeys("−–—‐‑", 'write an ordinary minus "-"'),
    **dict.fromkeys("½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚", 'write fractions with a stroke: "1/2", "2 1/2"'),
    **dict.fromkeys("°º", 'write "deg" for degrees'),
    **dict.fromkeys("^²³", "there are no powers; multiply"),
    **dict.fromkeys("\u00a0\u2009\u202f\u2007", "it is a special space; write an ordinary one"),
    **dict.fromkeys("[]{}", "write round brackets"),
    "=": "write the sum alone, without =",
    "~": "write the number alone",
    "±": "write the number alone",
    "≈": "write the number alone",
}


def strange(letter: str) -> SumError:
    """Return the refusal for a letter that no number or sum may hold."""
    shown = letter if letter.isprintable() else f"U+{ord(letter):04X}"
    return SumError(f"the sign {shown} cannot be read; {_STRANGE.get(letter, 'leave it out')}")


def check_letters(text: str) -> None:
    """Refuse the signs that people write for inches, minus, times and so on, with what to write."""
    for letter in text:
        if letter in _STRANGE:
            raise strange(letter)


def comma_slip(text: str) -> SumError | None:
    """Return the refusal of a decimal comma (or a comma between thousands), if the text has one."""
    found = re.search(r"(\d+),(\d+)", text)
    if not found:
        return None
    point = f'"{found[1]}.{found[2]}"'
    if len(found[2]) == 3:
        point += f', or "{found[1]}{found[2]}" if the comma parts the thousands'
    return SumError(f'"{found[0]}" has a comma; the decimal sign is a full stop: write {point}')


def check_text(text: str) -> None:
    """Refuse what makes no sense in any number or sum: no letters at all, or too many."""
    if not text.strip():
        raise SumError('is empty; write a number, such as "25 mm"')
    if len(text) > MAX_LETTERS:
        raise SumError(f"has {len(text):,} letters, over {MAX_LETTERS}; part it with names in [sizes]")


def number_of(match: re.Match[str]) -> Fraction:
    """Return the value of a NUMBER match.

    Raises SumError for too many digits, nought under the stroke, and 1 or more behind a whole number.
    """
    if sum(c.isdigit() for c in match[0]) > MAX_DIGITS:
        raise SumError(f"{quoted(match[0], 20)} has over {MAX_DIGITS} digits; write fewer")
    if match["decimal"]:
        return Fraction(match["decimal"])
    top, under = int(match["top"] or match["ftop"]), int(match["under"] or match["funder"])
    if under == 0:
        raise SumError(f'"{match[0]}" divides by zero; write another number under the stroke')
    if match["whole"] and top >= under:
        raise SumError(f'"{match[0]}": the fraction behind a whole number is 1 or more; write one number')
    return Fraction(int(match["whole"] or 0)) + Fraction(top, under)


def tokens_of(text: str) -> list[Token]:
    """Return the tokens of a sum; raises SumError for what is no token."""
    check_text(text)
    if text.count("(") > MAX_BRACKETS or text.count(")") > MAX_BRACKETS:
        raise SumError(f"has over {MAX_BRACKETS} brackets; part it with names in [sizes]")
    check_letters(text)
    tokens: list[Token] = []
    at = 0
    while at < len(text):
        letter = text[at]
        if letter in " \t\r\n":
            at += 1
            continue
        if number := NUMBER.match(text, at):
            token = Token("number", number[0], at, number.end())
        elif word := _WORD.match(text, at):
            token = Token("word", word[0], at, word.end())
        elif letter in _SIGNS:
            token = Token("sign", letter, at, at + 1)
        elif letter == ".":
            raise SumError(f'{quoted(text)} has a full stop without digits behind it; write "5" or "5.0"')
        else:
            raise strange(letter)
        tokens.append(token)
        at = token.end
    return tokens
