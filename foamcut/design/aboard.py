"""What is carried, as the design gives it: kinds, places, and what feeds what."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from foamcut.design.keys import key_of
from foamcut.design.literals import SumError, near, quoted
from foamcut.design.quantities import Quantity, read_quantity
from foamcut.design.reader import Reader
from foamcut.design.setting import Setting
from foamcut.design.setup_tables import AboardTable
from foamcut.design.structure import Path
from foamcut.flight.values import Aboard, Carried
from foamcut.units import decimal_text, mm_text

#: keys that belong to some kinds only
_OWNERS: Mapping[str, tuple[Carried, ...]] = {
    "cells": (Carried.BATTERY,),
    "capacity": (Carried.BATTERY,),
    "current_limit": (Carried.BATTERY, Carried.SPEED_CONTROL, Carried.MOTOR),
    "cut_off": (Carried.SPEED_CONTROL,),
    "feeds": (Carried.BATTERY, Carried.SPEED_CONTROL),
    "lead": (Carried.BATTERY, Carried.SPEED_CONTROL, Carried.RECEIVER, Carried.SERVO),
}
MOST_PLACES = 20  # where a thing may sit: each is weighed
#: of one cell, whatever it is made of
HIGHEST_CELL_V = 4.5
_LABEL = re.compile(r"\s*(\d{1,4}(?:\.\d{1,4})?)\s*[cC]\s*", re.ASCII)  # 25 C


@dataclass(frozen=True, slots=True, kw_only=True)
class _Feedable:
    """Names that `feeds` may hold; `sure`: nothing that was refused may have had another."""

    motors: tuple[str, ...]
    things: Mapping[str, Carried]
    sure: bool


def read_aboard(
    tables: Sequence[AboardTable], motors: tuple[str, ...], setting: Setting, reader: Reader
) -> tuple[Aboard, ...]:
    """Everything that is carried, in the order of the file; `motors` are the names of the [motor.*]."""
    keys = tuple(f"motor.{name}" for name in motors)
    names = [(table.name or "").strip() for table in tables]
    feedable = _Feedable(
        motors=keys,
        things={n: Carried(t.kind) for n, t in zip(names, tables, strict=True) if n and t.kind},
        sure=all(t.name and t.kind for t in tables) and ("motor",) not in setting.gone,
    )
    read = [
        _thing(table, ("aboard", i), feedable, reader)
        for i, table in enumerate(tables)
        if table.name and table.kind
    ]
    for i, name in enumerate(names):
        if name and name in names[:i]:
            first = key_of(("aboard", names.index(name)))
            reader.refuse(("aboard", i, "name"), f"{quoted(name)} is called {first} already; choose another")
        if name in keys:
            reader.refuse(("aboard", i, "name"), f"{quoted(name)} is a motor of its own; choose another")
    return tuple(read)


def _thing(table: AboardTable, path: Path, feedable: _Feedable, reader: Reader) -> Aboard:
    kind = Carried(table.kind)
    name = reader.name(table, path, "name")
    _refuse_foreign(table, kind, path, reader)
    if kind is Carried.MOTOR and feedable.motors:
        several = ", ".join(f"[{one}]" for one in feedable.motors)
        reader.refuse(
            (*path, "kind"),
            f"the motors of this design are {several}; write its mass there, and take this thing out",
        )
    at = reader.at(table, path, "at")
    slides = reader.span(table, path, "slides")
    if slides and (at[0] < slides[0] or at[0] > slides[1]):
        reader.refuse(
            (*path, "slides"),
            f"from {mm_text(slides[0])} to {mm_text(slides[1])} does not hold its place, {mm_text(at[0])}"
            " along; write a range around `at`, or another `at`",
        )
    return Aboard(
        key=key_of(path),
        name=name,
        kind=kind,
        at=at,
        mass_g=reader.measured(table, path, "mass"),
        size_mm=reader.block(table, path, "size"),
        out_mm=_out(table, path, reader),
        mirrored=bool(table.mirrored),
        slides_mm=slides,
        may_sit=_places(table, path, reader),
        cells=None if table.cells is None else reader.count(table, path, "cells"),
        capacity_mah=reader.measured(table, path, "capacity"),
        current_limit_a=_current_limit(table, path, reader),
        cut_off_v=_cut_off(table, path, reader),
        feeds=_feeds(table, name, kind, path, feedable, reader),
        lead_mm=reader.optional_mm(table, path, "lead"),
    )


def _refuse_foreign(table: AboardTable, kind: Carried, path: Path, reader: Reader) -> None:
    for word, owners in _OWNERS.items():
        if getattr(table, word) is not None and kind not in owners:
            due = " or ".join(f'"{one.value}"' for one in owners)
            reader.refuse(
                (*path, word), f'belongs to a thing of kind {due}, not to "{kind.value}"; take it out'
            )


def _out(table: AboardTable, path: Path, reader: Reader) -> float:
    out = reader.mm(table, path, "out", 0.0)
    if not table.mirrored:
        return out
    if table.out is None:
        reader.refuse((*path, "mirrored"), "needs `out`: how far each of the two lies off the centre plane")
    elif out <= 0:
        reader.refuse(
            (*path, "out"), f"{mm_text(out)} is not above 0; of a mirrored thing write that of the right one"
        )
    return out


def _places(table: AboardTable, path: Path, reader: Reader) -> tuple[tuple[float, float], ...]:
    several = table.may_sit
    if isinstance(several, list) and len(several) > MOST_PLACES:
        reader.refuse(
            (*path, "may_sit"), f"has {len(several):,} places; at most {MOST_PLACES} are read: write fewer"
        )
        return ()
    return reader.places(several, (*path, "may_sit"))


def _current_limit(table: AboardTable, path: Path, reader: Reader) -> float | None:
    """The limit in amperes; a label that gives it as a multiple of the capacity is refused, worked out."""
    raw, label = table.current_limit, _LABEL.fullmatch(str(table.current_limit))
    if not label:
        return reader.measured(table, path, "current_limit")
    try:
        amperes = float(label[1]) * read_quantity(table.capacity, Quantity.CHARGE) / 1000
    except SumError:
        return reader.measured(table, path, "current_limit")
    reader.refuse(
        (*path, "current_limit"),
        f'{quoted(str(raw))} is a multiple of the capacity; write "{decimal_text(amperes, 1)} A", or less:'
        " labels promise much",
    )
    return None


def _cut_off(table: AboardTable, path: Path, reader: Reader) -> float | None:
    volts = reader.measured(table, path, "cut_off")
    if volts is not None and volts > HIGHEST_CELL_V:
        reader.refuse(
            (*path, "cut_off"),
            f"{volts:g} V is more than one cell has; divide it by the number of cells",
        )
    return volts


def _feeds(
    table: AboardTable, name: str, kind: Carried, path: Path, feedable: _Feedable, reader: Reader
) -> str:
    """What it feeds: a motor, or from a battery also a speed control."""
    fed = reader.name(table, path, "feeds")
    if not fed or kind not in _OWNERS["feeds"]:
        return ""
    due = (Carried.MOTOR, Carried.SPEED_CONTROL) if kind is Carried.BATTERY else (Carried.MOTOR,)
    known = [*feedable.motors, *(one for one, what in feedable.things.items() if what in due)]
    here = (*path, "feeds")
    other = feedable.things.get(fed)
    choices = "motor or speed control" if kind is Carried.BATTERY else "motor"
    if fed == name and fed not in known:
        reader.refuse(here, f"{quoted(fed)} is this thing itself; write what it gives current to")
    elif fed not in known and other:
        reader.refuse(here, f'{quoted(fed)} is of kind "{other.value}"; write the name of a {choices}')
    elif fed not in known and feedable.sure:
        hint = near(fed, known) or (f"; known are {', '.join(known)}" if known else "; there is none")
        reader.refuse(here, f"there is no {choices} {quoted(fed)}{hint}")
    return fed
