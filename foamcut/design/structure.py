"""Which keys stand where: tables against the models of `foamcut.design.schema`, all faults at once.

What is wrong is taken out before the tables are handed on, so that the numbers of the rest can be looked at
in the same step.  Numbers are not read here.
"""

import copy
import unicodedata
from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import ValidationError

from foamcut.design.key_kinds import Holds, Key, Kind, Table, keys_of
from foamcut.design.keys import key_of
from foamcut.design.literals import near, quoted
from foamcut.design.measures import describe
from foamcut.design.schema import DesignTable
from foamcut.errors import Refusal

Path = tuple[str | int, ...]

MAX_NAME_LETTERS = 200
MAX_PARTS = 400
MAX_LIST = 5000  # entries of a list of slots, marks and so on
#: entries of lists that no part has so many of, and of which each is held against all others
MAX_OF = {
    "folds": 200, "joints": 100, "keep_clear": 100,
    "stations": 100, "formers": 100, "servo": 100, "dowel": 100,
    "aboard": 200, "built": 200,
}  # fmt: skip
#: of what parts are named after: words are added to it
MAX_MADE_NAME_LETTERS = 40
#: each makes many parts, and is put together with all others
MAX_MADE = {"surface": 20, "body": 10, "motor": 10}


def checked(data: Mapping[str, Any]) -> tuple[DesignTable, list[Refusal], set[Path]]:
    """The tables of a design without what is refused, the refusals, and the paths that were taken out.

    A key that is missing, unknown or of the wrong type, two keys where one is due, and
    names and lists beyond the limits are refused here.
    """
    left = copy.deepcopy(dict(data))
    refusals: list[Refusal] = []
    gone: set[Path] = set()
    while True:
        try:
            design = DesignTable.model_validate(left)
            break
        except ValidationError as err:
            for fault in err.errors(include_url=False, include_context=False):
                path = tuple(fault["loc"])
                refusals.append(_fault(path, fault["type"], fault["input"]))
                gone.add(path)
                _take_out(left, path)
    refusals.extend(_incomplete(design, gone))
    refusals.extend(_limits(design, gone))
    return design, refusals, gone


def _fault(path: Path, kind: str, raw: object) -> Refusal:
    """One fault that the models found, in our words."""
    if kind == "extra_forbidden":
        return Refusal(key=key_of(path), text=_unknown(path))
    found = _key_at(path)
    return Refusal(key=key_of(path), text=_wrong_type(found, path, raw))


def _unknown(path: Path) -> str:
    table = _table_at(path[:-1])
    word = str(path[-1])
    if word in table.elsewhere:
        return table.elsewhere[word]
    known = list(keys_of(table))
    hint = near(word, known)
    if not hint and word in keys_of(DesignTable):
        return f"{quoted(word)} does not belong here; it is a table of its own: [{word}]"
    return f"unknown key{hint or '; known here are ' + ', '.join(known)}"


def _wrong_type(found: Key | None, path: Path, raw: object) -> str:
    what = describe(raw)
    if found is None or found.table:
        return _wrong_table(found, path, what)
    if found.words:
        choices = ", ".join(f'"{w}"' for w in found.words)
        hint = near(raw, found.words) if isinstance(raw, str) else ""
        return f"{what} is none of {choices}{hint or '; write one of them'}"
    kind = found.of.kind if found.of else Kind.TEXT
    due = {
        Kind.TEXT: "text is due; write it in quotes",
        Kind.FLAG: "true or false is due; write one of them without quotes",
        Kind.DATE: "a date is due; write it as 2031-04-02, without quotes",
        Kind.NAMES: "a table of names is due; write [sizes] and below it lines such as half_span = 92",
        Kind.MASSES: 'a table of masses is due; write parts = { "wing-skin" = "24 g" }',
    }
    return f"{what} where {due.get(kind, 'something else is due')}"


def _wrong_table(found: Key | None, path: Path, what: str) -> str:
    if found is None or isinstance(path[-1], int):
        return f"{what} where a table is due; write it in curly brackets: {{ key = value }}"
    if found.word != path[-1]:  # a name under named tables
        return f"{what} where a table is due; write [{key_of(path)}] and its keys below"
    if found.holds is Holds.NAMED:
        return f"{what} where named tables are due; write [{found.word}.name] and its keys below"
    if found.holds is Holds.LIST:
        example = f"[[{found.word}]]" if len(path) == 1 else f"{found.word} = [ {{ ... }} ]"
        example += "".join(f', or {found.word} = "{word}"' for word in found.words)
        return f"{what} where a list of tables is due; write {example}"
    if len(path) == 1:
        return f"{what} where a table is due; write [{found.word}] and its keys below"
    return f"{what} where a table is due; write {found.word} = {{ key = value }}"


def _walk(path: Path) -> Iterator[tuple[type[Table], Key | None]]:
    """For each step of a path the table that it is looked up in, and the key that it names."""
    table: type[Table] = DesignTable
    found: Key | None = None
    names_due = False
    for step in path:
        if isinstance(step, int) or names_due:
            names_due = False
            yield table, found
            continue
        found = keys_of(table).get(step)
        yield table, found
        if found and found.table:
            table = found.table
            names_due = found.holds is Holds.NAMED


def _table_at(path: Path) -> type[Table]:
    """The model of the table that a path leads to."""
    table: type[Table] = DesignTable
    for _, found in _walk(path):
        if found and found.table:
            table = found.table
    return table


def _key_at(path: Path) -> Key | None:
    steps = [found for _, found in _walk(path)]
    return steps[-1] if steps else None


def _take_out(data: dict[str, Any], path: Path) -> None:
    """Remove what a path leads to; an entry of a list becomes an empty table: the others keep their place."""
    holder: Any = data
    for step in path[:-1]:
        try:
            holder = holder[step]
        except (KeyError, IndexError, TypeError):
            return
    last = path[-1]
    if isinstance(holder, list) and isinstance(last, int):
        holder[last] = {}
    elif isinstance(holder, dict):
        holder.pop(last, None)


def tables_of(table: Table, path: Path) -> Iterator[tuple[Table, Path]]:
    """The table and all tables in it, each with its path."""
    yield table, path
    for found in keys_of(type(table)).values():
        inner = getattr(table, found.attribute) if found.table else None
        here = (*path, found.word)
        if inner is None or isinstance(inner, str):
            continue  # left out, or a word instead of tables
        if found.holds is Holds.ONE:
            yield from tables_of(inner, here)
        else:
            several = inner.items() if found.holds is Holds.NAMED else enumerate(inner)
            for step, one in several:
                yield from tables_of(one, (*here, step))


def _incomplete(design: DesignTable, gone: set[Path]) -> Iterator[Refusal]:
    """Keys that are missing, and shapes that are missing or there twice; not what was taken out before."""
    for table, path in tables_of(design, ()):
        if path in gone:
            continue
        known = keys_of(type(table))
        for found in known.values():
            here = (*path, found.word)
            if found.needed and getattr(table, found.attribute) is None and here not in gone:
                yield Refusal(key=key_of(here), text=f"is missing; {_how_to_add(found, path)}")
        given = [word for word in table.one_of if getattr(table, known[word].attribute) is not None]
        given += [word for word in table.one_of if (*path, word) in gone]
        some = [word for word in table.some_of if getattr(table, known[word].attribute) is not None]
        if not given and not some and any(other[:-1] == path for other in gone):
            continue  # the one that is due was refused: misspelt
        if table.some_of and not some:
            yield _none_of(table.some_of, path)
        if table.one_of and len(given) != 1:
            choices = ", ".join(table.one_of)
            several = f"has {' and '.join(given)}; keep one of them"
            text = several if given else f"none of {choices} is given; add one"
            yield Refusal(key=key_of(path), text=text)


def _none_of(words: tuple[str, ...], path: Path) -> Refusal:
    if path:
        return Refusal(key=key_of(path), text=f"none of {', '.join(words)} is given; add one or more")
    tables = [f"[{word}.name]" for word in words]
    return Refusal(key=words[0], text=f"is missing; add a table {', '.join(tables[:-1])} or {tables[-1]}")


def _how_to_add(found: Key, path: Path) -> str:
    hint = found.description.rstrip(".")
    if path:
        return f"add it: {hint[0].lower()}{hint[1:]}"
    if found.holds is Holds.NAMED:
        return f"add a table [{found.word}.name]"
    return f"add a table [{found.word}]" if found.table else "write format = 1 at the top"


def _limits(design: DesignTable, gone: set[Path]) -> Iterator[Refusal]:
    """Tables without an entry, lists that are too long, names that may not be."""
    groups: tuple[tuple[str, str, Mapping[str, Table] | None], ...] = (
        ("stock", "kind of sheet", design.stock),
        ("parts", "part", design.parts),
        ("surface", "surface", design.surface),
        ("body", "body", design.body),
        ("motor", "motor", design.motor),
    )
    for group, what, named in groups:
        if named is not None and not named and not any(path[0] == group for path in gone):
            yield Refusal(key=group, text=f"has no {what}; add a table [{group}.name]")
        for name in named or {}:
            if fault := name_fault(name):
                yield Refusal(key=key_of((group, name)), text=fault)
    if design.parts and len(design.parts) > MAX_PARTS:
        yield Refusal(key="parts", text=f"has {len(design.parts):,} parts; at most {MAX_PARTS} are read")
    for group, _, named in groups[2:]:
        if named is not None and len(named) > MAX_MADE[group]:
            yield Refusal(key=group, text=f"has {len(named):,} tables; at most {MAX_MADE[group]} are read")
        for name in named or {}:
            if MAX_MADE_NAME_LETTERS < len(name) <= MAX_NAME_LETTERS:
                text = f"the name has {len(name):,} letters; shorten it to {MAX_MADE_NAME_LETTERS} or fewer"
                yield Refusal(key=key_of((group, name)), text=text)
    for table, path in tables_of(design, ()):
        for found in keys_of(type(table)).values():
            several = getattr(table, found.attribute)
            most = MAX_OF.get(found.word, MAX_LIST)
            if found.table and isinstance(several, list) and len(several) > most:
                text = f"has {len(several):,} entries; at most {most:,} are read"
                yield Refusal(key=key_of((*path, found.word)), text=text)


def name_fault(name: str) -> str | None:
    """Why a part or stock may not be called so; None when it may.

    Names go into file names, tables and lettering: letters and digits of any script, ``-``, ``_`` and single
    spaces between them.
    """
    if len(name) > MAX_NAME_LETTERS:
        return f"the name has {len(name):,} letters; shorten it to {MAX_NAME_LETTERS} or fewer"
    if not name.strip():
        return "the name is empty; write letters or digits"
    words = name.split(" ")
    if not all(words):
        return f"the name {quoted(name)} has a space too many; take it out"
    bad = next((c for c in name if not (c.isalnum() or c in "-_ " or _joins_letter(c))), None)
    if bad:
        return f"the name {quoted(name)} has {quoted(bad)} in it; write letters, digits, - and _"
    if not name[0].isalnum():
        return f"the name {quoted(name)} begins with {quoted(name[0])}; begin with a letter or a digit"
    return None


def _joins_letter(letter: str) -> bool:
    """Whether it is an accent or vowel sign written as a letter of its own."""
    return unicodedata.category(letter) in ("Mn", "Mc")
