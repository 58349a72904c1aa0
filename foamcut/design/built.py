"""Values that were built otherwise than drawn: ``[[built]] key, value, why, date``.

What was built counts: it takes the place of the drawn value before anything is read, and both are kept to be
shown beside each other.
"""

import copy
import datetime
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from foamcut.design.changes import at_path, change_fault, changed_path, put
from foamcut.design.keys import key_of
from foamcut.design.printable import MAX_TEXT_LETTERS, text_fault
from foamcut.design.reader import SizeRow
from foamcut.design.structure import Path
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level

#: entries that are read
MAX_BUILT = 200
#: tables that say what was done, which nobody builds
_TOLD = ("built", "revision", "format")
_LONGEST_SHOWN = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltValue:
    """A value that was built otherwise: `path` leads to it, `key` is its entry in the file.

    `value` is what was built, as TOML gives it; `drawn` what stands in the design, None when it was left
    out.
    """

    key: str
    path: Path
    value: Any
    drawn: Any
    why: str
    date: datetime.date

    @property
    def name(self) -> str:
        """The key that it stands for, sizes by their name alone."""
        return key_of(self.path[1:] if self.path[0] == "sizes" else self.path)

    @property
    def value_words(self) -> str:
        """What was built, as typed; cut off where it is long."""
        return _words(self.value)

    @property
    def drawn_words(self) -> str:
        """What was drawn, as typed; cut off where it is long."""
        return "left out" if self.drawn is None else _words(self.drawn)

    @property
    def sentence(self) -> str:
        """Both beside each other, with the reason: ``half_span is 96, drawn 92: ...``."""
        return f"{self.name} is {self.value_words}, drawn {self.drawn_words}: {self.why} ({self.date})"


def with_built(data: Mapping[str, Any]) -> tuple[dict[str, Any], tuple[BuiltValue, ...], list[Refusal]]:
    """The tables of a design with what was built in place of what was drawn, and what is refused of that.

    Entries of the wrong type are left for the models to refuse.
    """
    entries = data.get("built")
    if not isinstance(entries, list) or not all(isinstance(one, dict) for one in entries):
        return dict(data), (), []
    left = copy.deepcopy(dict(data))
    found: list[BuiltValue] = []
    refusals: list[Refusal] = []
    for i, entry in enumerate(entries[:MAX_BUILT]):
        if isinstance(entry.get("key"), str) and "value" in entry:
            path = changed_path(left, entry["key"])
            fault = _fault(left, path, [one.path for one in found])
            drawn = at_path(left, path)
            if not fault and not put(left, path, copy.deepcopy(entry["value"])):
                fault = "names no single value; name a key in it"
            if fault:
                refusals.append(Refusal(key=key_of(("built", i, "key")), text=fault))
                continue
            why, day = entry.get("why"), entry.get("date")
            told = isinstance(why, str) and not text_fault(why, MAX_TEXT_LETTERS)
            found.append(
                BuiltValue(
                    key=key_of(("built", i)),
                    path=path,
                    value=entry["value"],
                    drawn=drawn,
                    why=str(why).strip() if told else "",
                    date=day if type(day) is datetime.date else datetime.date.min,
                )
            )
    return left, tuple(found), refusals


def _fault(data: Mapping[str, Any], path: Path, before: Sequence[Path]) -> str:
    """Why a value cannot be built otherwise; empty when it can."""
    if path[:1] and path[0] in _TOLD:
        return "is no value that is built; name a size or a key of a part, surface, body or thing aboard"
    if any(path[: len(other)] == other or other[: len(path)] == path for other in before):
        return "is built twice; keep the last of the two"
    return change_fault(data, path)


def built_findings(built: Sequence[BuiltValue]) -> Iterator[Finding]:
    """A note of each value that was built otherwise."""
    for one in built:
        yield Finding(code="as-built", level=Level.NOTE, where=one.key, text=f"as built: {one.sentence}")


def rows_beside(rows: Sequence[SizeRow], built: Sequence[BuiltValue]) -> tuple[SizeRow, ...]:
    """The rows of sizes, with what was drawn beside what was built."""
    if not built:
        return tuple(rows)
    drawn = {key_of(one.path): one.drawn_words for one in built}
    return tuple(replace(row, drawn=_of(row.key, drawn)) for row in rows)


def _of(key: str, drawn: Mapping[str, str]) -> str:
    words = (drawn[built] for built in drawn if key == built or key.startswith((f"{built}.", f"{built}[")))
    return next(words, "")


def toml_text(value: Any) -> str:
    """A value as one line of TOML."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, list):
        return f"[{', '.join(map(toml_text, value))}]"
    if isinstance(value, dict):
        pairs = ", ".join(f"{key_of((word,))} = {toml_text(one)}" for word, one in value.items())
        return f"{{ {pairs} }}" if pairs else "{}"
    if isinstance(value, float):
        return repr(value)
    return value.isoformat() if hasattr(value, "isoformat") else str(value)


def _words(value: Any) -> str:
    text = " ".join(value.split()) if isinstance(value, str) else toml_text(value)
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 3]}..."
