"""The next revision of a design: what was built otherwise is drawn in, and the table of revisions says so.

The text stays as it is, comments, order and spaces too; only what was built is changed in it.  Each change is
read back: the tables it gives have to be those that were meant.
"""

import codecs
import copy
import datetime
import re
import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

from foamcut.design.adopting_text import Places
from foamcut.design.built import BuiltValue, toml_text
from foamcut.design.changes import at_path, put
from foamcut.design.keys import path_of
from foamcut.design.printable import MAX_TEXT_LETTERS

#: letters that a revision may have
_MOST_LETTERS = 40


def adopted(data: bytes, built: Sequence[BuiltValue], date: datetime.date | str, what: str = "") -> bytes:
    """A design with its built values drawn in, as its next revision.

    Each value takes its place in the text as it was typed under ``[[built]]``; a key that was left out is
    added to its table.  The tables ``[[built]]`` are taken out, `plan.revision` becomes the next one, and a
    table ``[[revision]]`` is added with `date` (as text ``2031-05-02``) and `what`, by default the reasons
    for what was built.

    Raises
    ------
    ValueError
        A value cannot be drawn in without writing the text anew; the key is named.  Or there is no text that
        tomllib reads, or no such date.
    """
    day = date if isinstance(date, datetime.date) else datetime.date.fromisoformat(date)
    mark = codecs.BOM_UTF8 if data.startswith(codecs.BOM_UTF8) else b""
    text = data.removeprefix(mark)
    text = _without_built(_drawn_in(text, built))
    tables = tomllib.loads(text.decode())
    letter = next_letter(tables)
    text = _with(text, ("plan", "revision"), toml_text(letter), letter, "plan.revision")
    return mark + _with_revision(text, {"letter": letter, "date": day, "what": what or reasons(built)})


def _drawn_in(text: bytes, built: Sequence[BuiltValue]) -> bytes:
    """The text with all values in their places; read back together, and one by one if that fails."""
    typed = Places(text)
    words = [_typed(typed, one) for one in built]
    before = tomllib.loads(text.decode())
    wanted = copy.deepcopy(before)
    for one in built:
        if not put(wanted, one.path, copy.deepcopy(one.value)):
            raise ValueError(f"{one.name}: there is nothing of that name to be drawn in")
    try:
        made = typed.with_values([(one.path, word) for one, word in zip(built, words, strict=True)])
        return _checked(made, wanted, "built")
    except ValueError:
        for one, word in zip(built, words, strict=True):
            text = _with(text, one.path, word, one.value, one.name)
        return text


def _typed(typed: Places, one: BuiltValue) -> str:
    """The value as it was typed, where it stands in the text."""
    raw = typed.raw((*path_of(one.key), "value"))
    return raw if raw is not None and tomllib.loads(f"x = {raw}")["x"] == one.value else toml_text(one.value)


def reasons(built: Sequence[BuiltValue]) -> str:
    """What was built and why, in one line: ``half_span 96 (was 92): the sheet was longer; ...``.

    What no longer fits on the line is counted.
    """
    whole = [
        f"{one.name} {one.value_words} (was {one.drawn_words}){f': {one.why}' if one.why else ''}"
        for one in built
    ]
    for kept in range(len(whole), -1, -1):
        more = len(whole) - kept
        line = "; ".join([*whole[:kept], *([f"{more} more"] if more else [])])
        if len(line) <= MAX_TEXT_LETTERS:
            return line or "drawn as it was built"
    return "drawn as it was built"


def next_letter(tables: Mapping[str, Any]) -> str:
    """The revision after that of a design, one that its table of revisions does not have yet.

    A to B, Z to AA, 3 to 4, A.1 to A.2; to anything else ``.1`` is added.  Where the plan has none, the one
    after the last of the table, or A.

    Raises
    ------
    ValueError
        It would be longer than a revision may be.
    """
    rows = tables.get("revision")
    used = [row.get("letter") for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []
    plan = tables.get("plan")
    letter = plan.get("revision") if isinstance(plan, dict) else None
    letter = letter or (used[-1] if used else None)
    found = _following(str(letter)) if letter else "A"
    while found in used:
        found = _following(found)
    if len(found) > _MOST_LETTERS:
        raise ValueError(f"plan.revision: {letter!r} has no next one of {_MOST_LETTERS} letters or fewer")
    return found


def _following(letter: str) -> str:
    if number := re.fullmatch(r"(.*?)([0-9]+)", letter, re.DOTALL | re.ASCII):
        before, digits = number.groups()
        return f"{before}{str(int(digits) + 1).zfill(len(digits))}"
    for first, last in ("AZ", "az"):
        if re.fullmatch(f"[{first}-{last}]{{1,3}}", letter):
            kept = letter.rstrip(last)
            turned = first * (len(letter) - len(kept))
            return f"{kept[:-1]}{chr(ord(kept[-1]) + 1)}{turned}" if kept else f"{first}{turned}"
    return f"{letter}.1"


def _with(text: bytes, path: tuple[str | int, ...], words: str, value: Any, name: str) -> bytes:
    """The text with a value at a path, once it says that and nothing else."""
    before = tomllib.loads(text.decode())
    wanted = copy.deepcopy(before)
    if not put(wanted, path, copy.deepcopy(value)):
        raise ValueError(f"{name}: there is nothing of that name to be drawn in")
    there = at_path(before, path)
    if type(there) is type(value) and there == value:
        return text
    try:
        made = Places(text).with_value(path, words)
    except ValueError:
        made = b""
    return _checked(made, wanted, name)


def _checked(text: bytes, wanted: Mapping[str, Any], name: str) -> bytes:
    try:
        found = tomllib.loads(text.decode())
    except ValueError:
        found = {}
    if found != wanted:
        raise ValueError(f"{name}: cannot be changed in the text; write it into the design by hand")
    return text


def _without_built(text: bytes) -> bytes:
    wanted = {word: table for word, table in tomllib.loads(text.decode()).items() if word != "built"}
    return _checked(Places(text).without("built"), wanted, "built")


def _with_revision(text: bytes, row: Mapping[str, Any]) -> bytes:
    """The text with one more entry in its table of revisions, behind the last of it or at the end."""
    wanted = tomllib.loads(text.decode())
    rows = wanted.setdefault("revision", [])
    if not isinstance(rows, list):
        raise ValueError("revision: is no list of tables")
    rows.append(dict(row))
    places = Places(text)
    if node := places.values.get(("revision",)):
        items = [child for child in node.named_children if child.type != "comment"]
        at = items[-1].end_byte if items else node.start_byte + 1
        words = f"{', ' if items else ''}{toml_text(dict(row))}"
        return _checked(places.spliced(at, at, words), wanted, "revision")
    last = [section for section in places.sections if section.path[:1] == ("revision",)]
    lines = ("[[revision]]", *(f"{word} = {toml_text(value)}" for word, value in row.items()))
    after = last[-1].last_byte if last else None
    return _checked(places.at_the_end(*lines, after=after), wanted, "revision")
