"""Lengths of the design file worked out by a reader of its own: numbers, units, names and sums, in fractions."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}
_MEASURE = r"\d+\s+\d+/\d+|\d+/\d+|\d+\.\d*|\.\d+|\d+"
_TOKEN = re.compile(
    rf"\s*(?:(?P<feet>\d+)\s*ft\s+(?P<inches>{_MEASURE})\s*in(?![a-z0-9_])"
    rf"|(?P<number>{_MEASURE})\s*(?P<unit>mm|cm|m|in|ft|deg|%)?(?![a-z0-9_.])"
    r"|(?P<name>[a-z][a-z0-9_]*)|(?P<sign>[-+*/(),]))"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """A number and its power of length; `plain` when only bare numbers made it."""

    of: Fraction
    power: int = 0
    plain: bool = True


def _fraction(text: str) -> Fraction:
    return sum((Fraction(word.rstrip(".")) for word in text.split()), Fraction(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """The scale of a design and its named sizes: turns what is written into mm."""

    scale: Fraction
    unit_mm: Fraction
    sizes: dict[str, Any]

    def length_mm(self, written: Any) -> float:
        """Return a length or coordinate in mm; raises ValueError where there is none."""
        return float(self._as_length(self._value(written, ())).of)

    def point_mm(self, written: Any) -> tuple[float, float]:
        """Return a point in mm."""
        return self.length_mm(written[0]), self.length_mm(written[1])

    def angle_deg(self, written: Any) -> float:
        """Return an angle: a bare number, or one with `deg` behind."""
        return float(self._value(written, ()).of)

    def _as_length(self, value: Value) -> Value:
        if value.power == 0 and value.plain:
            return Value(of=value.of * self.scale * self.unit_mm, power=1, plain=False)
        if value.power != 1:
            raise ValueError("no length")
        return value

    def _value(self, written: Any, open_names: tuple[str, ...]) -> Value:
        if isinstance(written, bool) or not isinstance(written, int | float | str):
            raise ValueError(f"{written!r} is no number")
        if not isinstance(written, str):
            return Value(of=Fraction(str(written)))
        tokens: list[re.Match[str]] = []
        at = 0
        while at < len(written.rstrip()):
            match = _TOKEN.match(written, at)
            if match is None:
                raise ValueError(f"{written!r} cannot be read at {at}")
            tokens.append(match)
            at = match.end()
        reader = _Sum(measures=self, tokens=tokens, names=open_names)
        value = reader.sum()
        if reader.at != len(tokens):
            raise ValueError(f"{written!r} goes on after its end")
        return value

    def named(self, name: str, open_names: tuple[str, ...]) -> Value:
        """Return the value of a name; raises ValueError in a ring of names."""
        if name == "scale":
            return Value(of=self.scale, plain=False)
        if name in open_names:
            raise ValueError(f"{name} stands in a ring")
        return self._value(self.sizes[name], (*open_names, name))

    def meet(self, first: Value, second: Value) -> tuple[Value, Value]:
        """A plain value beside a length is a measure off the sketch."""
        if first.power != second.power:
            first = self._as_length(first) if first.power == 0 else first
            second = self._as_length(second) if second.power == 0 else second
        return first, second


@dataclass(slots=True, kw_only=True)
class _Sum:
    """Reads one sum from the inside out."""

    measures: Measures
    tokens: list[re.Match[str]]
    names: tuple[str, ...]
    at: int = 0

    def _sign(self) -> str:
        return (self.tokens[self.at]["sign"] or "") if self.at < len(self.tokens) else ""

    def _take(self, sign: str) -> None:
        if self._sign() != sign:
            raise ValueError(f"{sign!r} is missing")
        self.at += 1

    def sum(self) -> Value:
        """A row of products under + and -."""
        value = self._product()
        while self._sign() in ("+", "-"):
            sign = -1 if self._sign() == "-" else 1
            self.at += 1
            value, other = self.measures.meet(value, self._product())
            value = Value(of=value.of + sign * other.of, power=value.power, plain=value.plain and other.plain)
        return value

    def _product(self) -> Value:
        value = self._atom()
        while self._sign() in ("*", "/"):
            over = self._sign() == "/"
            self.at += 1
            other = self._atom()
            value = Value(
                of=value.of / other.of if over else value.of * other.of,
                power=value.power - other.power if over else value.power + other.power,
                plain=value.plain and other.plain,
            )
        return value

    def _atom(self) -> Value:
        if self._sign() == "-":
            self.at += 1
            value = self._atom()
            return Value(of=-value.of, power=value.power, plain=value.plain)
        if self._sign() == "(":
            self.at += 1
            value = self.sum()
            self._take(")")
            return value
        token = self.tokens[self.at]
        self.at += 1
        if token["feet"]:
            inches = _fraction(token["inches"]) * MM["in"]
            return Value(of=_fraction(token["feet"]) * MM["ft"] + inches, power=1, plain=False)
        if token["number"]:
            return self._number(_fraction(token["number"]), token["unit"])
        if token["name"] in ("min", "max"):
            return self._choice(token["name"])
        if token["name"]:
            return self.measures.named(token["name"], self.names)
        raise ValueError(f"{token[0]!r} stands where a number is due")

    @staticmethod
    def _number(number: Fraction, unit: str | None) -> Value:
        if unit == "%":
            return Value(of=number / 100, plain=False)
        if unit == "deg" or unit is None:
            return Value(of=number)
        return Value(of=number * MM[unit], power=1, plain=False)

    def _choice(self, word: str) -> Value:
        self._take("(")
        values = [self.sum()]
        while self._sign() == ",":
            self.at += 1
            values.append(self.sum())
        self._take(")")
        best = values[0]
        for value in values[1:]:
            best, value = self.measures.meet(best, value)
            if (value.of < best.of) == (word == "min"):
                best = value
        return best


def measures_of(table: dict[str, Any]) -> Measures:
    """Return the measures of a whole design (its tables as tomllib reads them)."""
    sketch = table.get("sketch", {})
    return Measures(
        scale=Fraction(str(sketch.get("scale", 1))),
        unit_mm=MM[sketch.get("units", "mm")],
        sizes=table.get("sizes", {}),
    )
