"""The shapes of layout.json and manifest.json: which keys, which kinds of value, how numbers are written."""

import json
import math
import re
from collections.abc import Callable
from typing import Any

Complain = Callable[[str], None]
Kind = Callable[[Any, str, Complain], None]

_NUMBER = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]{1,6})?\Z")
_MINUS_NOUGHT = re.compile(r"-0(\.0*)?\Z")


def number_fault(token: str) -> str | None:
    """Tell what is wrong with a number as written: exponent, -0, more than 6 decimals."""
    if "e" in token.lower():
        return f"number {token} is written with an exponent"
    if _MINUS_NOUGHT.match(token):
        return f"number {token} is minus nought"
    if not _NUMBER.match(token):
        return f"number {token} has more than 6 decimals or an odd form"
    return None


def read_json(data: bytes, fault_of: Callable[[str], str | None] = number_fault) -> tuple[Any, list[str]]:
    """Parse strictly; return the value and the faults of its spelling (numbers, keys said twice)."""
    faults: list[str] = []

    def number(token: str) -> float | int:
        fault = fault_of(token)
        if fault and fault not in faults:
            faults.append(fault)
        value = float(token)
        return int(token) if re.fullmatch(r"-?[0-9]{1,18}", token) else value

    def constant(token: str) -> float:
        faults.append(f"{token} is no JSON number")
        return math.nan

    def record(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        names = [name for name, _ in pairs]
        for name in sorted({name for name in names if names.count(name) > 1}):
            faults.append(f"key {name!r} stands twice in one object")
        return dict(pairs)

    text = data.decode("utf-8")
    value = json.loads(
        text, parse_float=number, parse_int=number, parse_constant=constant, object_pairs_hook=record
    )
    return value, faults


def text(value: Any, path: str, complain: Complain) -> None:
    """Accept any string."""
    if not isinstance(value, str):
        complain(f"{path} is {value!r:.60}, not a text")


def filled_text(value: Any, path: str, complain: Complain) -> None:
    """Accept a string that says something."""
    if not isinstance(value, str) or not value.strip():
        complain(f"{path} is {value!r:.60}, not a text that says something")


def number(value: Any, path: str, complain: Complain) -> None:
    """Accept a finite number."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        complain(f"{path} is {value!r:.60}, not a number")


def not_negative(value: Any, path: str, complain: Complain) -> None:
    """Accept a finite number from 0 up."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value < math.inf:
        complain(f"{path} is {value!r:.60}, not a number from 0 up")


def positive(value: Any, path: str, complain: Complain) -> None:
    """Accept a finite number above 0."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < math.inf:
        complain(f"{path} is {value!r:.60}, not a number above 0")


def whole(value: Any, path: str, complain: Complain) -> None:
    """Accept a whole number from 0 up."""
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        complain(f"{path} is {value!r:.60}, not a whole number from 0 up")


def counting(value: Any, path: str, complain: Complain) -> None:
    """Accept a whole number from 1 up."""
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        complain(f"{path} is {value!r:.60}, not a whole number from 1 up")


def flag(value: Any, path: str, complain: Complain) -> None:
    """Accept true or false."""
    if not isinstance(value, bool):
        complain(f"{path} is {value!r:.60}, not true or false")


def sha256(value: Any, path: str, complain: Complain) -> None:
    """Accept 64 lower-case hexadecimal digits."""
    if not isinstance(value, str) or not re.fullmatch(r"[0-9a-f]{64}", value):
        complain(f"{path} is {value!r:.80}, not a SHA-256 in lower-case hexadecimal")


def exactly(*choices: Any) -> Kind:
    """Accept one of the choices, of the same type (true is not 1)."""

    def kind(value: Any, path: str, complain: Complain) -> None:
        if not any(value == choice and type(value) is type(choice) for choice in choices):
            complain(f"{path} is {value!r:.60}, not one of {', '.join(map(repr, choices))}")

    return kind


def nullable(inner: Kind) -> Kind:
    """Accept null or the inner kind."""

    def kind(value: Any, path: str, complain: Complain) -> None:
        if value is not None:
            inner(value, path, complain)

    return kind


def list_of(inner: Kind, *, length: int | None = None) -> Kind:
    """Accept a list, of the given length if one is given."""

    def kind(value: Any, path: str, complain: Complain) -> None:
        if not isinstance(value, list):
            complain(f"{path} is not a list")
            return
        if length is not None and len(value) != length:
            complain(f"{path} has {len(value)} entries, not {length}")
        for index, entry in enumerate(value):
            inner(entry, f"{path}[{index}]", complain)

    return kind


def record(keys: dict[str, Kind], *, may: dict[str, Kind] | None = None) -> Kind:
    """Accept an object with exactly these keys, and perhaps those of `may`."""
    known = keys | (may or {})

    def kind(value: Any, path: str, complain: Complain) -> None:
        if not isinstance(value, dict):
            complain(f"{path or 'the document'} is not an object")
            return
        for name in keys:
            if name not in value:
                complain(f"{path or 'the document'} lacks the key {name!r}")
        for name, entry in value.items():
            if name not in known:
                complain(f"{path or 'the document'} has the unknown key {name!r}")
            else:
                known[name](entry, f"{path}.{name}" if path else name, complain)

    return kind


POINT = list_of(number, length=2)
POLYGON = list_of(list_of(POINT))

DESIGN = record({"name": filled_text, "revision": text, "sha256": sha256})

MANIFEST = record(
    {
        "format": exactly("foamcut-manifest"),
        "version": exactly(1),
        "foamcut": filled_text,
        "design": DESIGN,
        "files": list_of(record({"name": filled_text, "bytes": whole, "sha256": sha256})),
    }
)

_TEMPLATES = record(
    {
        "file": filled_text,
        "paper": exactly("a4", "a3", "letter", "tabloid"),
        "tiles": list_of(
            record(
                {
                    "page": counting,
                    "of": exactly("part", "sheet"),
                    "name": filled_text,
                    "row": filled_text,
                    "column": counting,
                    "window": list_of(number, length=4),
                    "corner": POINT,
                    "turned": flag,
                }
            )
        ),
        "ruled": list_of(record({"page": counting, "name": filled_text})),
        "same_as": list_of(record({"name": filled_text, "printed_as": filled_text})),
    }
)

_BED = record(
    {
        "number": counting,
        "corner": POINT,
        "size": list_of(positive, length=2),
        "pieces": list_of(filled_text),
    }
)

_LEFT = record({"corner": POINT, "size": list_of(positive, length=2)})

_JOINT = record(
    {
        "part": filled_text,
        "axis": exactly("x", "y"),
        "at": number,
        "doublers": list_of(filled_text),
        "length": positive,
    }
)

_DIRECTION = list_of(number, length=3)
_POSE = record({"at": _DIRECTION, "x": _DIRECTION, "y": _DIRECTION})

LAYOUT = record(
    {
        "format": exactly("foamcut-layout"),
        "version": exactly(1),
        "units": exactly("mm"),
        "made_by": record(
            {"foamcut": filled_text, "seed": whole, "squeezed": flag}, may={"stopped_early": exactly(True)}
        ),
        "design": DESIGN,
        "stocks": list_of(
            record(
                {
                    "name": filled_text,
                    "thickness": positive,
                    "margin": not_negative,
                    "gap": not_negative,
                    "grain": exactly("none", "x", "y"),
                }
            )
        ),
        "parts": list_of(
            record(
                {
                    "name": filled_text,
                    "stock": filled_text,
                    "count": counting,
                    "hand": exactly("left", "right", "none"),
                    "face": exactly("inner", "outer", "either"),
                    "grain": exactly("x", "y", "any"),
                    "turns": exactly("none", "half", "quarter", "any"),
                    "polygon": POLYGON,
                    "pose": nullable(_POSE),
                }
            )
        ),
        "pieces": list_of(
            record(
                {
                    "id": filled_text,
                    "part": filled_text,
                    "copy": counting,
                    "role": exactly("whole", "section", "doubler"),
                    "polygon": POLYGON,
                },
                may={"name": filled_text},
            )
        ),
        "sheets": list_of(
            record(
                {
                    "stock": filled_text,
                    "number": counting,
                    "kind": exactly("new", "on_hand", "offcut"),
                    "size": list_of(positive, length=2),
                    "outline": POLYGON,
                    "files": list_of(filled_text),
                    "placed": list_of(
                        record(
                            {
                                "piece": filled_text,
                                "x": number,
                                "y": number,
                                "turn_deg": number,
                                "flipped": flag,
                                "polygon": POLYGON,
                            }
                        )
                    ),
                },
                may={"register": list_of(POINT, length=2), "bed": list_of(_BED), "left": _LEFT},
            )
        ),
        "bound": list_of(
            record(
                {
                    "stock": filled_text,
                    "new": whole,
                    "at_least": whole,
                    "cost": nullable(not_negative),
                    "cost_at_least": nullable(not_negative),
                    "proven": flag,
                    "reason": filled_text,
                }
            )
        ),
    },
    may={
        "templates": list_of(_TEMPLATES),
        "joints": list_of(_JOINT),
        "only": list_of(filled_text),
        "added": list_of(filled_text),
    },
)
