"""Bytes of a design file in, values with their lines out; the first of the four steps of reading.

Values come from tomllib. What tomllib cannot be given (wrong encoding, control characters, brackets without
end) is refused before, by name and with its line; all faults of this step are told at once.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, NoReturn

from foamcut.design.keys import key_of, path_of
from foamcut.design.letters import MAX_NESTING, Shape, TextErrors, TextFault, decoded, letter_faults
from foamcut.design.lines import KeyLines, Path, rows_with_lines
from foamcut.design.syntax import syntax_faults

__all__ = ["Document", "TextErrors", "TextFault", "key_of", "path_of", "read_document", "rows_with_lines"]

MAX_FAULTS = 50  # shown at most: more would hide the first ones
MAX_INTEGER = 2**63  # TOML v1.0.0, "Integer": 64-bit signed are to be read without loss


class _Lookup:
    """Builds the lines of a text when the first is asked for: most designs never need them."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._lines: KeyLines | None = None

    def lines(self) -> KeyLines:
        if self._lines is None:
            self._lines = KeyLines(self._text)
        return self._lines


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A design as TOML gives it: ``data`` as tomllib returns it, and the line of every key.

    ``moved`` are paths whose value stands at another one.
    """

    data: dict[str, Any]
    moved: tuple[tuple[Path, Path], ...] = ()
    _lookup: _Lookup = field(repr=False, compare=False)

    def line_of(self, key: str) -> int | None:
        """Return the line (from 1) of a key such as ``parts.side.slots[0].at``.

        Of an outline text, ``outline[3]`` is its fourth reading. A key that is not in the file has the line
        of the nearest one around it that is; None when there is none.
        """
        path = path_of(key)
        for before, now in self.moved:
            if path[: len(before)] == before:
                path = (*now, "value", *path[len(before) :])
        return self._lookup.lines().line_of(path)


def read_document(data: bytes) -> Document:
    """Read a design file.

    Raises TextErrors with all that is wrong with its text; never anything else, whatever the bytes.
    """
    text = decoded(data)
    shape = Shape(text)
    faults = [*letter_faults(text), *shape.faults]
    if shape.too_deep:
        _refuse(faults)
    if faults:  # the rest is read as if those were mended, to find the other faults as well
        text = shape.mended()
    lookup = _Lookup(text)
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as err:
        known = {fault.line for fault in faults}
        more = syntax_faults(text, str(err), shape, lookup.lines())
        _refuse([*faults, *(fault for fault in more if fault.line not in known)])
    except (ValueError, RecursionError) as err:
        _refuse([*faults, TextFault(None, "", f"TOML that cannot be read: {err}; write it more plainly")])
    if not faults:
        faults = _value_faults(values, lookup)
    if faults:
        _refuse(faults)
    return Document(data=values, _lookup=lookup)


def _refuse(faults: Sequence[TextFault]) -> NoReturn:
    ordered = sorted(dict.fromkeys(faults), key=lambda fault: fault.line or 0)
    more = len(ordered) - MAX_FAULTS
    if more > 0:
        words = f"{more} more faults from here on; mend the first ones first"
        ordered[MAX_FAULTS:] = [TextFault(ordered[MAX_FAULTS].line, "", words)]
    raise TextErrors(tuple(ordered))


def _value_faults(values: dict[str, Any], lookup: _Lookup) -> list[TextFault]:
    """Find whole numbers beyond 64 bits and tables nested too deep by dotted names."""
    faults: list[TextFault] = []
    containers: list[tuple[Any, Path]] = [(values, ())]
    while containers:
        container, path = containers.pop()
        if len(path) > MAX_NESTING:
            text = f"tables and lists nest over {MAX_NESTING} deep here; write them flatter"
            faults.append(TextFault(lookup.lines().line_of(path), key_of(path[:3]), text))
            continue
        items = container.items() if isinstance(container, dict) else enumerate(container)
        for step, value in items:
            if isinstance(value, dict | list):
                containers.append((value, (*path, step)))
            elif isinstance(value, int) and not -MAX_INTEGER <= value < MAX_INTEGER:
                here = (*path, step)
                text = "a whole number of over 18 digits; write a smaller one"
                faults.append(TextFault(lookup.lines().line_of(here), key_of(here), text))
    return faults
