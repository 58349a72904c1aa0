"""The arithmetic of lengths: one text such as ``"root_chord / 4 + 3 mm"`` becomes one value.

A recursive descent over its tokens; Python's ``eval`` is never used. Nothing here knows keys, files or TOML.

Words: *sketch measure* is a number read off the sketch (times the sketch's unit, times scale); *true size* is
a number with its unit behind it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from fractions import Fraction

from foamcut.design.kinds import Kind, Setting, Value, alike, bounded, over, times
from foamcut.design.literals import (
    NUMBER,
    UNIT_WORDS,
    SumError,
    Token,
    comma_slip,
    exact,
    near,
    number_of,
    quoted,
    tokens_of,
)
from foamcut.units import MM_PER

FUNCTIONS = ("min", "max")
SCALE = "scale"


def names_in(tokens: Iterable[Token]) -> list[str]:
    """Return the words that are neither unit, function nor scale, in order, each once."""
    known = {*MM_PER, *FUNCTIONS, SCALE}
    return list(dict.fromkeys(t.text for t in tokens if t.kind == "word" and t.text not in known))


def evaluate(text: str, setting: Setting) -> Value:
    """Return the exact value of a sum, of whatever kind comes out.

    Raises SumError with what is wrong and what to do.
    """
    return _Reader(text, tokens_of(text), setting).whole()


class _Reader:
    """Recursive descent over the tokens of one sum; at most MAX_BRACKETS deep.

    sum     = product { (+|-) product }
    product = signed { (*|/) signed }
    signed  = [-] operand
    operand = ( sum ) | min|max ( sum , sum {, sum} ) | number [unit|%] | name | scale
    """

    def __init__(self, text: str, tokens: list[Token], setting: Setting) -> None:
        self.text = text
        self.tokens = tokens
        self.setting = setting
        self.at = 0

    def peek(self, ahead: int = 0) -> Token | None:
        index = self.at + ahead
        return self.tokens[index] if index < len(self.tokens) else None

    def is_sign(self, signs: str, ahead: int = 0) -> bool:
        token = self.peek(ahead)
        return token is not None and token.kind == "sign" and token.text in signs

    def take(self) -> Token:
        token = self.tokens[self.at]
        self.at += 1
        return token

    def whole(self) -> Value:
        value = self.sum()
        if self.peek() is not None:
            raise self.missing_operator()
        return value

    def sum(self) -> Value:
        value = self.product()
        while self.is_sign("+-"):
            sign = self.take().text
            a, b = alike(sign, value, self.product(), self.setting)
            number = a.number + b.number if sign == "+" else a.number - b.number
            value = bounded(Value(number=number, kind=a.kind, power=a.power))
        return value

    def product(self) -> Value:
        value = self.signed()
        while self.is_sign("*/"):
            sign = self.take()
            if sign.text == "/":
                self.refuse_double_stroke(sign)
            other = self.signed()
            if sign.text == "/" and other.number == 0:
                raise SumError(f"{quoted(self.text)} divides by zero; write another number behind the stroke")
            value = bounded((times if sign.text == "*" else over)(value, other))
        return value

    def refuse_double_stroke(self, sign: Token) -> None:
        """``a/3/4``: read left to right or as a / (3/4)? Two builders would cut two sizes."""
        token = self.peek()
        if token and token.kind == "number" and "/" in token.text and token.start == sign.end:
            raise SumError(
                f'"/{token.text}" may be read in two ways; write "/ ({token.text})" or '
                f'"/ {token.text.replace("/", " / ")}"'
            )

    def signed(self) -> Value:
        if not self.is_sign("-"):
            return self.operand()
        self.take()
        if self.is_sign("-"):
            raise SumError(f'{quoted(self.text)} has two minus signs together; write one, or "+"')
        value = self.operand()
        return Value(number=-value.number, kind=value.kind, power=value.power)

    def operand(self) -> Value:
        token = self.peek()
        if token is None:
            raise SumError(f"{quoted(self.text)} stops where a number is due; complete or shorten it")
        if token.kind == "number":
            return self.literal()
        if token.kind == "word":
            return self.word()
        if token.text == "(":
            self.take()
            value = self.sum()
            self.close("(")
            return value
        raise self.no_operand(token)

    def no_operand(self, token: Token) -> SumError:
        if token.text == ",":
            return self.stray_comma()
        if token.text == "+":
            return SumError(f'{quoted(self.text)} has a "+" where a number is due; leave it out')
        if token.text == "%":
            return SumError('"%" has no number right before it; write "25 %"')
        return SumError(
            f'{quoted(self.text)} has "{token.text}" where a number is due; write one before it'
        )

    def stray_comma(self) -> SumError:
        slip = comma_slip(self.text)
        text = quoted(self.text)
        return slip or SumError(f'{text} has a comma; commas stand only in "min(a, b)" and "max(a, b)"')

    def close(self, opened: str) -> None:
        if self.is_sign(")"):
            self.take()
        elif self.peek() is None:
            raise SumError(f'"{opened}" is never closed; write ")"')
        else:
            raise self.missing_operator()

    def function(self) -> Value:
        name = self.take().text
        if not self.is_sign("("):
            raise SumError(f'"{name}" has no brackets; write "{name}(a, b)"')
        self.take()
        if self.is_sign(")"):
            raise SumError(f'"{name}" has nothing to choose from; write "{name}(a, b)"')
        value = self.sum()
        if self.is_sign(")"):
            raise SumError(f'"{name}" needs two values or more; write "{name}(a, b)"')
        choose: Callable[[Fraction, Fraction], Fraction] = min if name == "min" else max
        while self.is_sign(","):
            self.take()
            a, b = alike(name, value, self.sum(), self.setting)
            value = Value(number=choose(a.number, b.number), kind=a.kind, power=a.power)
        self.close(f"{name}(")
        return value

    def literal(self) -> Value:
        """Read a number, the unit or % behind it, and inches behind feet."""
        number = self.literal_number()
        unit = self.peek()
        if self.is_sign("%"):
            self.take()
            return Value(number=number / 100, kind=Kind.PER_CENT)
        if unit is None or unit.kind != "word" or unit.text not in MM_PER:
            return Value(number=number, kind=Kind.PLAIN)
        self.take()
        length = number * exact(MM_PER[unit.text])
        behind, last = self.peek(), self.peek(1)
        inches = behind and behind.kind == "number" and last and last.kind == "word" and last.text == "in"
        if unit.text == "ft" and inches:
            length += self.literal_number() * exact(MM_PER[self.take().text])
        return Value(number=length, kind=Kind.LENGTH, power=1)

    def literal_number(self) -> Fraction:
        match = NUMBER.fullmatch(self.take().text)
        if match is None:
            raise ValueError("a number token that is no number: a fault of the tokeniser")
        return number_of(match)

    def word(self) -> Value:
        token = self.peek()
        if token is None:
            raise ValueError("no token: a fault of the caller")
        sizes = self.setting.sizes
        if token.text in FUNCTIONS:
            return self.function()
        if token.text == SCALE:
            self.take()
            return Value(number=self.setting.scale, kind=Kind.FACTOR)
        if token.text in MM_PER:
            raise SumError(f'"{token.text}" has no number before it; write "1 {token.text}"')
        value = sizes.get(token.text)
        if value is None:
            raise self.unknown(token)
        if value.kind is Kind.REFUSED:
            raise refused_size(token.text)
        self.take()
        return value

    def unknown(self, token: Token) -> SumError:
        sizes = self.setting.sizes
        run = re.match(r"[\w-]+", self.text[self.run_start(token) :])
        hyphened = run[0].strip("-") if run else token.text
        if "-" in hyphened:
            if hyphened in sizes:
                return refused_size(hyphened)
            if hyphened.replace("-", "_") in sizes:
                return SumError(
                    f'"{hyphened}" is read as a subtraction; names are joined with _: '
                    f'write "{hyphened.replace("-", "_")}"'
                )
        if token.text.lower() in UNIT_WORDS:
            return SumError(f'"{token.text}" is no unit; write "{UNIT_WORDS[token.text.lower()]}"')
        hint = near(token.text, [*sizes, *FUNCTIONS, SCALE])
        if not hint and hyphened != token.text:
            hint = near(hyphened.replace("-", "_"), sizes)
        return SumError(f"{quoted(token.text)} is no name in [sizes]{hint or '; add it there'}")

    def run_start(self, token: Token) -> int:
        start = token.start
        while start and re.match(r"[\w-]", self.text[start - 1]):
            start -= 1
        return start

    def missing_operator(self) -> SumError:
        """Explain two things side by side, or a bracket or comma too many."""
        token, before = self.tokens[self.at], self.tokens[self.at - 1]
        if token.text == ")":
            return SumError(f'{quoted(self.text)} has a ")" without "("; take one out')
        if token.text == ",":
            return self.stray_comma()
        if token.text == "%":
            return SumError('"%" has no number right before it; write "25 %"')
        pair = f"{before.text} {token.text}"
        if token.kind == "word" and before.kind == "number":
            return self.word_behind_number(before, token)
        if token.kind == "word" and token.text in MM_PER:
            return SumError(
                f'"{token.text}" stands only right behind a number; multiply instead: "* 1 {token.text}"'
            )
        if token.kind == "number" and before.kind == "word" and before.text in MM_PER:
            return SumError(
                f'{quoted(pair)}: side by side only feet and inches are read ("1 ft 3 in"); put "+" between'
            )
        if token.kind == "number" and before.kind == "number":
            return SumError(f"{quoted(pair)} is two numbers side by side; put a sign or a unit between them")
        return SumError(f'{quoted(pair)} has no sign between; write "*" to multiply')

    def word_behind_number(self, before: Token, token: Token) -> SumError:
        joined = f"{before.text}{token.text}"
        if token.start == before.end and re.fullmatch(r"[eE]\d*", token.text):
            return SumError(f'"{joined}" has an exponent; write the number out, such as "1000"')
        if token.start == before.end and token.text.startswith("_"):
            return SumError(f'{quoted(joined)} has a "_" in a number; write the digits together')
        if token.text.lower() in UNIT_WORDS:
            return SumError(f'"{token.text}" is no unit; write "{UNIT_WORDS[token.text.lower()]}"')
        if token.text.lower() in MM_PER:
            return SumError(f'"{token.text}" is no unit; write "{token.text.lower()}"')
        pair = f"{before.text} {token.text}"
        known = token.text in self.setting.sizes or token.text in (*FUNCTIONS, SCALE)
        if known:
            return SumError(f'{quoted(pair)} has no sign between; write "{before.text} * {token.text}"')
        units = ", ".join(MM_PER)
        return SumError(f"{quoted(pair)}: {quoted(token.text)} is no unit; write one of {units}")


def refused_size(name: str) -> SumError:
    """Return the error for a name whose own value under [sizes] is refused."""
    return SumError(f"{quoted(name)} is refused under [sizes]; mend it there first", follows=True)
