"""Reads the value of a key by the kind that the schema gives it, and keeps what is to be told.

Refusals are collected, not raised: a value that is refused comes back as nan (a count as 1), so that reading
goes on and comparisons with it are false.  Every length read is also kept as a row for ticking off against
the sketch.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from functools import partial
from typing import Any, TypeVar

from foamcut.design.key_kinds import Key, Range, Table, keys_of
from foamcut.design.keys import key_of
from foamcut.design.literals import SumError, tokens_of
from foamcut.design.measures import (
    describe,
    read_angle,
    read_count,
    read_money,
    read_ratio,
    read_size,
)
from foamcut.design.printable import MAX_TEXT_LETTERS, text_fault
from foamcut.design.quantities import Quantity, read_quantity
from foamcut.design.ranges import out_of_range
from foamcut.design.structure import MAX_NAME_LETTERS, Path
from foamcut.design.sums import Value, read_length, read_true_length
from foamcut.errors import Refusal
from foamcut.flat.outline import Point
from foamcut.units import MM_PER, decimal_text

_Value = TypeVar("_Value")
_Other = TypeVar("_Other")

MAX_LISTED = 200  # places, lengths or spans in a list
#: what the tool takes, and where one flies, does not grow with the model: nobody reads it off the sketch
_NOT_ON_SKETCH = (Range.KERF, Range.FIT, Range.ALTITUDE)
HIGHEST_MM = 10**12  # read, to be refused in words of its own
NOT_READ: Point = (math.nan, math.nan)


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRow:
    """A number of the design: as typed, what it was multiplied by, and what comes out, mm at full size.

    `factor` is ``x 6`` for a sketch measure, ``true size`` or ``sum``.  What is no length has no `mm`: its
    factor is ``as it stands`` and `unit` says what it is in (``deg``, ``g``; nothing for counts, shares and
    prices).  `drawn` is what was drawn where another value was built.
    """

    key: str
    typed: str
    factor: str
    mm: float | None
    unit: str = "mm"
    drawn: str = ""

    @classmethod
    def of_number(cls, path: Path, raw: object, unit: str = "") -> "SizeRow":
        """The row of a number that is no length."""
        return cls(key=key_of(path), typed=_typed(raw), factor="as it stands", mm=None, unit=unit)


@dataclass(slots=True, kw_only=True)
class Reader:
    """Readers of all kinds against one sketch and its named sizes, with a list of what they refused."""

    sizes: Mapping[str, Value]
    scale: Fraction
    units: str
    refusals: list[Refusal] = field(default_factory=list)
    rows: list[SizeRow] = field(default_factory=list)
    _known: dict[tuple[object, ...], tuple[float, str, str]] = field(default_factory=dict)

    def refuse(self, path: Path, text: str) -> None:
        """Keep a refusal of the key that the path leads to."""
        self.refusals.append(Refusal(key=key_of(path), text=text))

    # ---- lengths

    def length(self, raw: object, path: Path, range_: Range = Range.ANY, *, true_size: bool = False) -> float:
        """A length in mm at full size; nan when it is refused."""
        # a table of readings repeats the same few numbers; the type stays in, since 1 equals true
        cached = (
            (type(raw), raw, true_size, range_ is Range.ALTITUDE)
            if isinstance(raw, str | int | float | Decimal)
            else None
        )
        found = self._known.get(cached) if cached else None
        if found is None:
            mm = self._read_length(raw, path, range_, true_size=true_size)
            if mm != mm:
                return math.nan
            found = mm, _typed(raw), self._factor(raw)
            if cached:
                self._known[cached] = found
        mm, typed, factor = found
        if fault := out_of_range(mm, range_, unit=" mm"):
            self.refuse(path, fault)
            return math.nan
        self.rows.append(SizeRow(key=key_of(path), typed=typed, factor=factor, mm=mm))
        return mm

    def _read_length(self, raw: object, path: Path, range_: Range, *, true_size: bool) -> float:
        read: Callable[..., float] = read_length
        if true_size:
            read = partial(read_true_length, on_sketch=range_ not in _NOT_ON_SKETCH)
            if range_ is Range.ALTITUDE:
                read = partial(read, most_mm=HIGHEST_MM, unit="m" if self.units == "mm" else "ft")
        unit_mm = MM_PER[self.units]
        return self._tried(
            path, lambda: read(raw, sizes=self.sizes, scale=self.scale, sketch_unit_mm=unit_mm), math.nan
        )

    def _factor(self, raw: object) -> str:
        sketch = f"x {decimal_text(float(self.scale), 6)}"
        if not isinstance(raw, str):
            return sketch
        tokens = [t for t in tokens_of(raw) if t.text != "-"]
        if len(tokens) == 1 and tokens[0].kind == "number":
            return sketch
        literal = all(t.kind == "number" or t.text in MM_PER for t in tokens)
        return "true size" if literal else "sum"

    def point(self, raw: object, path: Path, *, true_size: bool = False) -> Point:
        """A point ``[x, y]``; nan in it for what is refused."""
        return self.pair(raw, path, Range.ANY, "[x, y]", true_size=true_size)

    def pair(self, raw: object, path: Path, range_: Range, example: str, *, true_size: bool = False) -> Point:
        """Two lengths."""
        if not isinstance(raw, list) or len(raw) != 2:
            what = f"a list of {len(raw)}" if isinstance(raw, list) else describe(raw)
            self.refuse(path, f"{what} where two lengths are due; write {example}")
            return NOT_READ
        a, b = (self.length(one, (*path, i), range_, true_size=true_size) for i, one in enumerate(raw))
        return a, b

    def span(self, table: Table, path: Path, word: str) -> Point | None:
        """A lower and a higher length under a key; None when it is left out."""
        raw, _ = self._given(table, word)
        return None if raw is None else self._span(raw, (*path, word))

    def _span(self, raw: Any, here: Path) -> Point:
        low, high = self.pair(raw, here, Range.ANY, "[lower, higher]")
        if low >= high:
            a, b = (_typed(one) for one in raw)
            what = "nothing lies between the two" if low == high else "the higher number stands first"
            self.refuse(here, f"[{a}, {b}]: {what}; write the lower one first, then a higher one")
            return NOT_READ
        return low, high

    def points(self, raw: object, path: Path) -> tuple[Point, ...]:
        """Two points or more; empty when refused as a whole."""
        example = "[[x, y], [x, y]]"
        if not isinstance(raw, list):
            self.refuse(path, f"{describe(raw)} where a list of points is due; write {example}")
            return ()
        if len(raw) < 2 or not all(isinstance(one, list) for one in raw):
            self.refuse(path, f"needs two points or more; write {example}")
            return ()
        return tuple(self.point(one, (*path, i)) for i, one in enumerate(raw))

    def lengths(self, raw: object, path: Path) -> tuple[float, ...]:
        """A list of lengths; none when it is left out or refused as a whole."""
        return tuple(self.length(one, (*path, i)) for i, one in enumerate(self._list(raw, path, "[19, 27]")))

    def places(self, raw: object, path: Path) -> tuple[Point, ...]:
        """A list of one or more points; none when it is left out or refused as a whole."""
        return tuple(self.point(one, (*path, i)) for i, one in enumerate(self._list(raw, path, "[[x, y]]")))

    def spans(self, raw: object, path: Path) -> tuple[Point, ...]:
        """A list of pairs of a lower and a higher length; none when it is left out or refused as a whole."""
        several = enumerate(self._list(raw, path, "[[from, to]]"))
        return tuple(found for i, one in several if (found := self._span(one, (*path, i))))

    def _list(self, raw: object, path: Path, example: str) -> list[Any]:
        if raw is None:
            return []
        if isinstance(raw, list) and len(raw) > MAX_LISTED:
            self.refuse(path, f"has {len(raw):,} entries; at most {MAX_LISTED} are read")
            return []
        if isinstance(raw, list) and raw:
            return raw
        what = "an empty list" if raw == [] else describe(raw)
        self.refuse(path, f"{what} where a list is due; write {example}")
        return []

    def opening(self, table: Table, path: Path, word: str) -> Point | None:
        """Two lengths above 0 under a key; None when it is left out."""
        raw, _ = self._given(table, word)
        return None if raw is None else self.pair(raw, (*path, word), Range.ABOVE_0, "[7, 5]")

    def plain(self, raw: object, path: Path) -> float:
        """A bare number that is no length; nan when it is refused."""
        value = self._tried(path, lambda: _bare(raw), math.nan)
        if value == value:
            self.rows.append(SizeRow.of_number(path, raw))
        return value

    # ---- keys of a table

    def _given(self, table: Table, word: str) -> tuple[Any, Key]:
        found = keys_of(type(table))[word]
        return getattr(table, found.attribute), found

    def mm(self, table: Table, path: Path, word: str, default: float = math.nan) -> float:
        """The length or true length under a key."""
        raw, found = self._given(table, word)
        if raw is None or found.of is None:
            return default
        return self.length(raw, (*path, word), found.of.range, true_size=found.of.kind.name == "TRUE_LENGTH")

    def optional_mm(self, table: Table, path: Path, word: str) -> float | None:
        """The length or true length under a key; None when it is left out or refused."""
        value = self.mm(table, path, word)
        return None if math.isnan(value) else value

    def at(self, table: Table, path: Path, word: str, default: Point = NOT_READ) -> Point:
        """The point under a key."""
        raw, _ = self._given(table, word)
        return default if raw is None else self.point(raw, (*path, word))

    def size(self, table: Table, path: Path, word: str) -> Point:
        """Width and height under a key, such as ``"700 x 500 mm"``."""
        found = self._several_sizes(table, path, word, 2)
        return (found[0], found[1]) if found else NOT_READ

    def block(self, table: Table, path: Path, word: str) -> tuple[float, float, float] | None:
        """Long, wide and high under a key, such as ``"105 x 34 x 24 mm"``; None when left out or refused."""
        found = self._several_sizes(table, path, word, 3)
        return (found[0], found[1], found[2]) if found else None

    def _several_sizes(self, table: Table, path: Path, word: str, count: int) -> tuple[float, ...]:
        raw, _ = self._given(table, word)
        here = (*path, word)
        found = () if raw is None else self._tried(here, lambda: read_size(raw, count), ())
        for i, mm in enumerate(found):
            self.rows.append(SizeRow(key=key_of((*here, i)), typed=_typed(raw), factor="true size", mm=mm))
        return found

    def ratio(self, table: Table, path: Path, word: str) -> float:
        """The share under a key."""
        return self._number(table, path, word, read_ratio, math.nan)

    def angle(self, table: Table, path: Path, word: str, default: float = 0.0) -> float:
        """The angle under a key, degrees."""
        return self._number(table, path, word, read_angle, default, "deg")

    def degrees(self, raw: object, path: Path, range_: Range) -> float:
        """An angle in degrees; nan when it is refused."""
        return self._ranged(raw, path, range_, read_angle, "deg")

    def measured(self, table: Table, path: Path, word: str) -> float | None:
        """The measured value under a key, in the unit of its quantity; None when left out or refused."""
        raw, found = self._given(table, word)
        if raw is None or found.of is None or found.of.quantity is None:
            return None
        return self.quantity(raw, (*path, word), found.of.quantity, found.of.range)

    def quantity(self, raw: object, path: Path, quantity: Quantity, range_: Range) -> float | None:
        """A measured value in the unit of its quantity; None when it is refused."""
        value = self._ranged(raw, path, range_, lambda one: read_quantity(one, quantity), quantity.unit)
        return value if value == value else None

    def number(self, table: Table, path: Path, word: str) -> float | None:
        """The bare number under a key; None when it is left out or refused."""
        raw, found = self._given(table, word)
        if raw is None or found.of is None:
            return None
        value = self._ranged(raw, (*path, word), found.of.range, _bare, "")
        return value if value == value else None

    def _number(
        self,
        table: Table,
        path: Path,
        word: str,
        read: Callable[[object], float],
        default: float,
        unit: str = "",
    ) -> float:
        raw, found = self._given(table, word)
        if raw is None or found.of is None:
            return default
        return self._ranged(raw, (*path, word), found.of.range, read, unit)

    def _ranged(
        self, raw: object, path: Path, range_: Range, read: Callable[[object], float], unit: str
    ) -> float:
        value = self._tried(path, lambda: read(raw), math.nan)
        if fault := out_of_range(value, range_):
            self.refuse(path, fault)
            return math.nan
        if value == value:
            self.rows.append(SizeRow.of_number(path, raw, unit))
        return value

    def count(self, table: Table, path: Path, word: str, default: int = 1) -> int:
        """The whole number under a key; the default when it is left out or refused."""
        raw, found = self._given(table, word)
        if raw is None or found.of is None:
            return default
        at_least = 1 if found.of.range is Range.FROM_1 else 0
        value = self._tried((*path, word), lambda: read_count(raw, at_least), None)
        if value is None:
            return default
        if found.of.most is not None and value > found.of.most:
            self.refuse((*path, word), f"{value:,} is too many; at most {found.of.most:,} are read")
            return default
        self.rows.append(SizeRow.of_number((*path, word), raw))
        return value

    def money(self, table: Table, path: Path, word: str) -> Decimal | None:
        """The amount under a key; None when it is left out or refused."""
        raw, _ = self._given(table, word)
        amount = None if raw is None else self._tried((*path, word), lambda: read_money(raw), None)
        if amount is not None:
            self.rows.append(SizeRow.of_number((*path, word), raw))
        return amount

    def text(self, table: Table, path: Path, word: str, most: int = MAX_TEXT_LETTERS) -> str:
        """The text under a key, one line of it; empty when it is left out or refused."""
        raw, found = self._given(table, word)
        if raw is None:
            return ""
        fault = text_fault(raw, most)
        if not fault and found.needed and not raw.strip():
            fault = "is empty; write something"
        if fault:
            self.refuse((*path, word), fault)
            return ""
        return str(raw).strip()

    def name(self, table: Table, path: Path, word: str) -> str:
        """A text that serves as a name: shorter."""
        return self.text(table, path, word, MAX_NAME_LETTERS)

    def _tried(self, path: Path, read: Callable[[], _Value], otherwise: _Other) -> _Value | _Other:
        try:
            return read()
        except SumError as err:
            # where only a named size is at fault, the refusal stands at that size
            if not err.follows:
                self.refuse(path, str(err))
            return otherwise


def _bare(raw: object) -> float:
    if isinstance(raw, str):
        raise SumError(f"{describe(raw)} where a bare number is due; write it without quotes")
    return read_ratio(raw)


def _typed(raw: object) -> str:
    return raw.strip() if isinstance(raw, str) else str(raw)
