"""Values changed before a design is read: what if the span were so much?

A change is a name and a text.  The name is that of a size, ``half_span``, or a key as it is printed,
``surface.tail.span``, ``servo[0].at[0]``; the text is a value of TOML, or else stands for itself: ``96``,
``true``, ``[1, 2]``, ``96 mm``, ``2 5/16``.
"""

import copy
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from foamcut.design.key_kinds import Holds, Key, Kind, Table, keys_of
from foamcut.design.keys import key_of, path_of
from foamcut.design.letters import MAX_NESTING
from foamcut.design.literals import near
from foamcut.design.schema import DesignTable
from foamcut.design.structure import Path
from foamcut.errors import Refusal, Refused

Change = tuple[str, str]

#: what the values of a table of names are
_NAMED_VALUES = (Kind.NAMES, Kind.MASSES)
_ROWS = (Kind.OUTLINE, Kind.TRUE_OUTLINE, Kind.SIDE)


def changed_data(data: dict[str, Any], changes: Sequence[Change]) -> dict[str, Any]:
    """The tables of a design with some values replaced or added; the tables given stay as they are.

    Raises
    ------
    Refused
        With every name that is no size and no key of this design, the nearest one told.
    """
    if not changes:
        return data
    left = copy.deepcopy(data)
    refusals: list[Refusal] = []
    done: set[Path] = set()
    for name, text in changes:
        path = changed_path(left, name)
        fault = change_fault(left, path)
        if path in done:
            fault = "is changed twice; keep one of the two"
        elif not fault and not put(left, path, value_of(text)):
            fault = "names no single value; name a key in it"
        done.add(path)
        if fault:
            refusals.append(Refusal(key=name.strip() or "change", text=fault))
    if refusals:
        raise Refused(refusals, later_steps=True)
    return left


def value_of(text: str) -> Any:
    """A text as a value of TOML where it is one, else the text without spaces round it."""
    bare = text.strip()
    if "\n" in bare or bare.count("[") + bare.count("{") > MAX_NESTING:
        return bare
    try:
        return tomllib.loads(f"x = {bare}")["x"]
    except (ValueError, RecursionError):
        return bare


def changed_path(data: Mapping[str, Any], name: str) -> Path:
    """The path of a name; of a size the one below [sizes]."""
    path = path_of(name.strip())
    sizes = data.get("sizes")
    if len(path) == 1 and isinstance(sizes, dict) and path[0] in sizes:
        return ("sizes", *path)
    return path


def change_fault(data: Mapping[str, Any], path: Path) -> str:
    """Why nothing of a design is called so; empty when something is."""
    found, left = _found(data, path)
    if found and found.of and found.of.kind in _ROWS and left and isinstance(left[0], int):
        return "is a row of a text; give its number a name under [sizes], and change that"
    if found and not left:
        return ""
    hint = near(key_of(path), list(_known(data)))
    return f"there is no size and no key of that name in the design{hint or '; write it as check prints it'}"


def _found(data: Any, path: Path) -> tuple[Key | None, Path]:
    """The key that a path leads to, and what of the path is not accounted for.

    Names of tables and entries of lists must be in the data; other keys may be missing from it.
    """
    table: type[Table] | None = DesignTable
    found: Key | None = None
    here = data
    steps = list(path)
    while steps and table is not None and isinstance(steps[0], str):
        found = keys_of(table).get(steps[0])
        if found is None:
            return None, tuple(steps)
        here = _inside(here, steps.pop(0))
        table = found.table
        if table is None:
            break
        if found.holds is not Holds.ONE and steps:
            here = _inside(here, steps[0])
            if here is None:
                return None, tuple(steps)
            steps.pop(0)
    while found and found.of and steps and _may_follow(here, steps[0], found.of.kind):
        here = _inside(here, steps.pop(0))
    return found, tuple(steps)


def _may_follow(here: Any, step: str | int, kind: Kind) -> bool:
    """Whether a value has an entry of a list, or a name under it: that of a mass may be new."""
    if isinstance(step, str) and kind in _NAMED_VALUES:
        return kind is Kind.MASSES or _inside(here, step) is not None
    return isinstance(step, int) and _inside(here, step) is not None


def _inside(here: Any, step: str | int) -> Any:
    """An entry of a table or list; None when there is none."""
    if isinstance(here, dict):
        return here.get(step)
    if isinstance(here, list) and isinstance(step, int) and step < len(here):
        return here[step]
    return None


def at_path(data: Any, path: Path) -> Any:
    """What a path leads to; None when there is nothing."""
    for step in path:
        data = _inside(data, step)
    return data


def put(data: dict[str, Any], path: Path, value: Any) -> bool:
    """Set what a path leads to, tables on the way made where there are none; whether that could be done."""
    here: Any = data
    for step in path[:-1]:
        if isinstance(here, dict):
            here = here.setdefault(step, {})
        elif isinstance(here, list) and isinstance(step, int) and step < len(here):
            here = here[step]
        else:
            return False
    last = path[-1]
    fits = isinstance(last, str) if isinstance(here, dict) else _inside(here, last) is not None
    if fits:
        here[last] = value
    return fits


def _known(data: Mapping[str, Any]) -> Iterator[str]:
    """Every name that serves: sizes, and the keys of the tables that the design has."""
    sizes = data.get("sizes")
    if isinstance(sizes, dict):
        yield from sizes
    yield from (key_of(path) for path in _paths(data, DesignTable, ()))


def _paths(here: Any, table: type[Table], path: Path) -> Iterator[Path]:
    for word, found in keys_of(table).items():
        inner = _inside(here, word)
        if found.table is None:
            yield (*path, word)
        elif found.holds is Holds.ONE:
            yield from _paths(inner, found.table, (*path, word))
        elif isinstance(inner, dict | list):
            several = inner.items() if isinstance(inner, dict) else enumerate(inner)
            for step, one in several:
                yield from _paths(one, found.table, (*path, word, step))
