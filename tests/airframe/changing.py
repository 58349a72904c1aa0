"""Designs with one number changed: a design's data written out again as TOML, every other number as it was."""

import datetime
import json
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from foamcut.design.design import Design, read_design
from foamcut.design.keys import path_of
from foamcut.design.lines import rows_with_lines
from foamcut.design.reader import SizeRow
from foamcut.errors import Refused
from foamcut.findings import Finding
from foamcut.plan.building import built

ROOT = Path(__file__).resolve().parents[2]


def sizes_of(design: Design) -> Iterator[SizeRow]:
    """Every length that somebody typed: not the sums, which follow, and not the sheets it is cut from."""
    for row in design.sizes_table:
        of_sheets = row.key.startswith("stock.") and not row.key.endswith(".thickness")
        if row.mm and row.factor != "sum" and not of_sheets:
            yield row


def changed(data: bytes, row: SizeRow, factor: float) -> bytes:
    """The design with one of its lengths so many times as long, as a true size."""
    tables = tomllib.loads(data.decode())
    *steps, last = path_of(row.key)
    holder: Any = tables
    mm = (row.mm or 0.0) * factor
    for i, step in enumerate(steps):
        inner = holder[step]
        if isinstance(inner, str):
            within = [int(one) for one in (*steps, last)[i + 1 :]]
            holder[step] = _size_changed(inner, *within, factor) if len(within) == 1 else (
                _reading_changed(inner, *within, mm)
            )  # fmt: skip
            return _written(tables)
        holder = inner
    holder[last] = f"{mm:.6f} mm"
    return _written(tables)


def _size_changed(text: str, which: int, factor: float) -> str:
    """A size such as "23 x 12 mm" with one of its numbers changed."""
    numbers, unit = text.rsplit(" ", 1)
    both = [float(Fraction(one.strip())) for one in numbers.split("x")]
    both[which] *= factor
    return f"{both[0]:.6f} x {both[1]:.6f} {unit}"


def _reading_changed(text: str, row: int, column: int, mm: float) -> str:
    rows = [[one.strip() for one in line.split(",")] for line, _ in rows_with_lines(text)]
    rows[row][column] = f"{mm:.6f} mm"
    return "\n".join(", ".join(one) for one in rows)


def _written(tables: dict[str, Any]) -> bytes:
    return "".join(f"{json.dumps(key)} = {_value(value)}\n" for key, value in tables.items()).encode()


def _value(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(key)} = {_value(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    if isinstance(value, datetime.date):
        return value.isoformat()
    return json.dumps(value, ensure_ascii=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What is found of a design that is put together, or the words with which it is refused."""

    parts: tuple[object, ...] = ()
    findings: tuple[Finding, ...] = ()
    refusals: tuple[str, ...] = ()


def told(data: bytes, name: str) -> Told:
    """A design put together; its parts as what tells them apart."""
    try:
        model = built(read_design(data, name))
    except Refused as refused:
        return Told(refusals=tuple(f"{one.key}: {one.text}" for one in refused.refusals))
    parts = tuple((one.name, one.outline, one.marks, one.slots, one.place, one.folds) for one in model.parts)
    return Told(parts=parts, findings=model.findings)
