"""balance.json: weight, balance and flight numbers with their ranges and sources, for other programs.

Every number has at most six significant digits, no exponent and no -0; what is not known is null.  Masses are
g, places mm in model axes (x aft from the nose, y to the right, z up), all else in the unit beside it.
"""

import json
import math
from collections.abc import Mapping, Sequence
from decimal import Decimal

from foamcut.flight.figures import Item, Number, PlaceRow, Report, Throw

Json = object

#: significant digits that are written: more than anybody measures, fewer than machines differ by
DIGITS = 6
#: below this a number is 0: no unit of ours tells so little of anything
_LEAST = 1e-12


def document(
    report: Report, design: Mapping[str, str], findings_table: Sequence[Mapping[str, object]]
) -> dict[str, object]:
    """The whole report as records; `findings_table` are records of its findings, `design` names the design.

    Raises
    ------
    ValueError
        A value is not finite: a bug in the caller.  A bound that is not finite is null.
    """
    return {
        "format": "foamcut-balance",
        "version": 1,
        "design": dict(design),
        "numbers": [_number(one) for one in report.numbers],
        "items": [_item(one) for one in report.items],
        "places": [_place(one) for one in report.places],
        "throws": [_throw(one) for one in report.throws],
        "findings": [dict(one) for one in findings_table],
    }


def render(
    report: Report, design: Mapping[str, str], findings_table: Sequence[Mapping[str, object]]
) -> bytes:
    """The document as bytes, one record a line.

    Raises
    ------
    ValueError
        As `document` does.
    """
    rows = [f' "{key}": {_lines(value)}' for key, value in document(report, design, findings_table).items()]
    return ("{\n" + ",\n".join(rows) + "\n}\n").encode()


def significant(value: float) -> float:
    """The value to six significant digits, never -0.

    >>> significant(123.4567891), significant(0.00012345678), significant(-1e-13)
    (123.457, 0.000123457, 0.0)

    Raises
    ------
    ValueError
        It is not finite.
    """
    if not math.isfinite(value):
        raise ValueError(f"not a number that can be written: {value}")
    return 0.0 if abs(value) < _LEAST else float(f"{value:.{DIGITS - 1}e}")


def _bound(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else significant(value)


def _number(number: Number) -> dict[str, Json]:
    return {
        "name": number.name,
        "value": significant(number.value),
        "unit": number.unit,
        "low": _bound(number.low),
        "high": _bound(number.high),
        "source": number.source,
        "assumed": bool(number.assumed),
    }


def _item(item: Item) -> dict[str, Json]:
    at = None if item.at is None else [significant(value) for value in item.at]
    return {"name": item.name, "mass_g": significant(item.mass_g), "at": at}


def _place(row: PlaceRow) -> dict[str, Json]:
    return {
        "moved": [
            {"name": name, "along": significant(along), "up": significant(up)}
            for name, along, up in row.moved
        ],
        "along": significant(row.along_mm),
        "mean_chord_share": _bound(row.mean_chord_share),
        "lead_mm": _bound(row.lead_mm),
        "wire_g": _bound(row.wire_g),
        "is_drawn": row.is_drawn,
        "is_best": row.is_best,
    }


def _throw(throw: Throw) -> dict[str, Json]:
    return {
        "surface": throw.surface,
        "word": throw.word,
        "deg": significant(throw.deg),
        "mm": significant(throw.mm),
        "chord_mm": significant(throw.chord_mm),
    }


def _lines(value: Json) -> str:
    """A list with each of its records on a line; anything else on one."""
    if isinstance(value, list) and value:
        return "[\n  " + ",\n  ".join(map(_text, value)) + "\n ]"
    return _text(value)


def _text(value: Json) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_text(key)}: {_text(entry)}" for key, entry in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(_text, value)) + "]"
    if isinstance(value, float):
        return _plain(value)
    return json.dumps(value)


def _plain(value: float) -> str:
    """Digits without an exponent or needless noughts."""
    text = f"{Decimal(repr(value)):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
