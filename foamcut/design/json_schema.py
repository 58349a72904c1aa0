"""The JSON Schema of a design file, draft 4, for editors that check TOML while it is typed.

Made from `foamcut.design.schema`, so that an editor and the program know the same keys.  It is a first
look only: names, sums and geometry are checked by the program.  Draft 4: `exclusiveMinimum` is a boolean
beside `minimum` (JSON Schema Validation, draft 4, 5.1.3).
"""

import json
import re
from typing import Any

from foamcut.design.key_kinds import Holds, Key, Kind, Of, Range, Table, keys_of
from foamcut.design.quantities import Quantity
from foamcut.design.ranges import LOAD_FACTORS
from foamcut.design.schema import DesignTable

SCHEMA_FILE = "foamcut.schema.json"

_NUMBER = r"(?:[0-9]+[ \t]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+\.[0-9]+|\.[0-9]+|[0-9]+)"
_UNIT = r"(?:mm|cm|m|in|ft)"
_INCHES = rf"(?:\s*{_NUMBER}\s*in)"  # behind feet: 1 ft 3 1/2 in

#: how much a number may be that is written out, of either sign
_MOST = 1_000_000

_PATTERNS: dict[Kind, str] = {
    # a sum: digits, names, signs; what it means is the program's to say
    Kind.LENGTH: r"^[0-9A-Za-z_+\-*/()., %\t]+$",
    # a unit, or the name of a size
    Kind.TRUE_LENGTH: r"^[0-9A-Za-z_+\-*/()., %\t]*[A-Za-z][0-9A-Za-z_+\-*/()., %\t]*$",
    Kind.SIZE: (rf"^\s*{_NUMBER}\s*(?:{_UNIT}{_INCHES}?)?\s*x\s*{_NUMBER}\s*{_UNIT}{_INCHES}?\s*$"),
    Kind.BLOCK: (rf"^\s*(?:{_NUMBER}\s*(?:{_UNIT}{_INCHES}?)?\s*x\s*){{2}}{_NUMBER}\s*{_UNIT}{_INCHES}?\s*$"),
    Kind.RATIO: rf"^\s*-?\s*{_NUMBER}\s*%?\s*$",
    Kind.ANGLE: rf"^\s*-?\s*{_NUMBER}\s*(?:deg)?\s*$",
    Kind.SCALE: rf"^\s*{_NUMBER}\s*$",
}
#: a word too many letters long is refused by the program; names that it takes
_NAME_PATTERN = r"^[^/\\.,;:\"'<>|?*]{1,200}$"
_SIZE_NAME_PATTERN = r"^[a-z][a-z0-9_]{0,39}$"

Schema = dict[str, Any]

_ANGLES: dict[Range, Schema] = {
    Range.FROM_0: {"minimum": 0, "maximum": 360},
    Range.SLOPE: {"minimum": 0, "maximum": 80},
    Range.SLOPE_ABOVE_0: {"minimum": 0, "exclusiveMinimum": True, "maximum": 80},
    Range.THROW: {"minimum": 0, "exclusiveMinimum": True, "maximum": 80},
    Range.LEAN: {"minimum": -45, "maximum": 45},
}

_NUMBERS: dict[Range, Schema] = {
    Range.LOAD_FACTOR: {"minimum": LOAD_FACTORS[0], "maximum": LOAD_FACTORS[1]},
}


def schema_text() -> str:
    """The schema as the text of a file."""
    return json.dumps(_document(), indent=2, ensure_ascii=True) + "\n"


def _document() -> Schema:
    document = {
        "$schema": "http://json-schema.org/draft-04/schema#",
        "title": "A foamcut design",
        **_table(DesignTable),
    }
    return document


def _table(model: type[Table]) -> Schema:
    keys = keys_of(model).values()
    schema: Schema = {
        "type": "object",
        "description": (model.__doc__ or "").strip().splitlines()[0],
        "additionalProperties": False,
        "properties": {key.word: {"description": key.description, **_value(key)} for key in keys},
    }
    if needed := [key.word for key in keys if key.needed]:
        schema["required"] = needed
    if model.one_of:
        schema["oneOf"] = [{"required": [word]} for word in model.one_of]
    if model.some_of:
        schema["anyOf"] = [{"required": [word]} for word in model.some_of]
    return schema


def _value(key: Key) -> Schema:
    if key.table is None:
        return _of(key)
    inner = _table(key.table)
    if key.holds is Holds.LIST:
        several = {"type": "array", "items": inner}
        word = {"type": "string", "enum": list(key.words)}
        return {"anyOf": [word, several]} if key.words else several
    if key.holds is Holds.NAMED:
        return {
            "type": "object",
            "minProperties": 1,
            "patternProperties": {_NAME_PATTERN: inner},
            "additionalProperties": False,
        }
    # the key says what the table is for
    return {name: part for name, part in inner.items() if name != "description"}


def _of(key: Key) -> Schema:
    """The schema of a value that is no table."""
    of = key.of or Of(Kind.TEXT)
    if of.kind is Kind.WORD:
        return {"type": "string", "enum": list(key.words)}
    if of.kind is Kind.COUNT:
        return {
            "type": "integer",
            "minimum": 1 if of.range is Range.FROM_1 else 0,
            **({"maximum": of.most} if of.most else {}),
        }
    if of.kind is Kind.PAIR:
        return _list_of(_length(Range.ABOVE_0), 2, 2)
    if of.kind in (Kind.LENGTH, Kind.SCALE, Kind.RATIO, Kind.ANGLE):
        return _number_or_text(of)
    if of.kind is Kind.NUMBER:
        return {"type": "number", **_NUMBERS.get(of.range, {"minimum": -_MOST, "maximum": _MOST})}
    if of.kind is Kind.MEASURED and of.quantity:
        return _measured(of.quantity, of.range)
    if of.kind is Kind.MASSES:
        mass = _measured(Quantity.MASS, Range.ABOVE_0)
        return {
            "type": "object", "patternProperties": {_NAME_PATTERN: mass}, "additionalProperties": False,
        }  # fmt: skip
    if of.kind in _PATTERNS:
        return {"type": "string", "pattern": _PATTERNS[of.kind]}
    return _SIMPLE[of.kind]


def _measured(quantity: Quantity, range_: Range) -> Schema:
    units = "|".join(re.escape(unit) for unit in quantity.units)
    minus = "" if range_ in (Range.ABOVE_0, Range.FROM_0) else "-?\\s*"
    return {"type": "string", "pattern": rf"^\s*{minus}{_NUMBER}\s*(?:{units})\s*$"}


def _number_or_text(of: Of) -> Schema:
    if of.kind is Kind.LENGTH:
        return _length(of.range)
    bounds: dict[Kind, Schema] = {
        Kind.SCALE: {**_bounds(Range.ABOVE_0), "maximum": 1000},
        Kind.RATIO: {"minimum": 0, "maximum": 1} if of.range is Range.SHARE else {},
        Kind.ANGLE: _ANGLES.get(of.range, {"minimum": -360, "maximum": 360}),
    }
    return _either({"type": "number", **bounds[of.kind]}, of.kind)


def _length(range_: Range = Range.ANY) -> Schema:
    return _either({"type": "number", **_bounds(range_)}, Kind.LENGTH)


def _either(number: Schema, kind: Kind) -> Schema:
    return {"anyOf": [number, {"type": "string", "pattern": _PATTERNS[kind]}]}


def _bounds(range_: Range) -> Schema:
    if range_ is Range.ABOVE_0:
        return {"minimum": 0, "exclusiveMinimum": True, "maximum": _MOST}
    if range_ is Range.FROM_0:
        return {"minimum": 0, "maximum": _MOST}
    return {"minimum": -_MOST, "maximum": _MOST}


def _list_of(items: Schema, least: int, most: int | None = None) -> Schema:
    schema: Schema = {"type": "array", "items": items, "minItems": least}
    return schema if most is None else {**schema, "maxItems": most}


_POINT = _list_of(_length(), 2, 2)
_TRUE_POINT = _list_of({"type": "string", "pattern": _PATTERNS[Kind.TRUE_LENGTH]}, 2, 2)
_DIRECTIONS = ["aft", "fore", "up", "down", "right", "left"]
_SIMPLE: dict[Kind, Schema] = {
    Kind.TEXT: {"type": "string"},
    Kind.ANYTHING: {},
    Kind.FLAG: {"type": "boolean"},
    # TOML has dates, JSON has none: editors hand them over as text
    Kind.DATE: {"type": "string", "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"},
    Kind.FORMAT: {"type": "integer", "enum": [1]},
    Kind.MONEY: {"type": "number", "minimum": 0, "maximum": _MOST},
    Kind.POINT: _POINT,
    Kind.POINTS: _list_of(_POINT, 2),
    Kind.SPAN: _POINT,
    Kind.LENGTHS: _list_of(_length(), 1),
    Kind.PLACES: _list_of(_POINT, 1),
    Kind.SPANS: _list_of(_POINT, 1),
    Kind.SIDE: {"anyOf": [{"type": "string", "minLength": 5}, _list_of(_list_of(_length(), 3, 3), 2)]},
    Kind.OUTLINE: {"anyOf": [{"type": "string", "minLength": 3}, _list_of(_POINT, 2)]},
    Kind.TRUE_OUTLINE: {"anyOf": [{"type": "string", "minLength": 3}, _list_of(_TRUE_POINT, 2)]},
    Kind.DIRECTION: {
        "anyOf": [{"type": "string", "enum": _DIRECTIONS}, _list_of({"type": "number"}, 3, 3)],
    },
    Kind.NAMES: {
        "type": "object",
        "patternProperties": {_SIZE_NAME_PATTERN: _length()},
        "additionalProperties": False,
    },
}
