"""Lengths of a design: what TOML gave goes in, mm at full size come out; and the names under [sizes].

A bare number is a measure off the sketch; a number with a unit is a true size; a length may be a sum. Readers
raise SumError with what is wrong and what to do; the caller adds the key. The readers of all other kinds of
number are offered here too. Pure: no files, no TOML.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction

from foamcut.design.arithmetic import FUNCTIONS, SCALE, evaluate, names_in
from foamcut.design.keys import key_of
from foamcut.design.kinds import Kind, Setting, Value, as_length, no_unit
from foamcut.design.literals import Number, SumError, exact, quoted, tokens_of
from foamcut.design.measures import (
    MAX_MM,
    SIGNED_NUMBER,
    bounded_mm,
    describe,
    number_or_text,
    read_angle,
    read_count,
    read_money,
    read_ratio,
    read_scale,
    read_size,
)
from foamcut.units import GRAM_PER, MM_PER

__all__ = [
    "Kind",
    "SumError",
    "Value",
    "describe",
    "read_angle",
    "read_count",
    "read_length",
    "read_money",
    "read_ratio",
    "read_scale",
    "read_size",
    "read_true_length",
    "resolve_sizes",
]

MAX_NAME_LETTERS = 40
# Rounding of a resolved size, 1e-30 mm: keeps fractions of fractions short over long chains of names.
MAX_DENOMINATOR = 10**30
RESERVED_NAMES = (*MM_PER, "deg", *GRAM_PER, *FUNCTIONS, SCALE)
_NAME = re.compile(r"[a-z][a-z0-9_]*", re.ASCII)


def _setting(
    sizes: Mapping[str, Value], scale: Number, sketch_unit_mm: Number, *, bare_adds: bool = True
) -> Setting:
    exact_scale = exact(scale)
    return Setting(
        sizes=sizes, scale=exact_scale, sketch_mm=exact_scale * exact(sketch_unit_mm), bare_adds=bare_adds
    )


def _length(raw: object, setting: Setting) -> Fraction:
    found = number_or_text(raw, 'a number or a text such as "25 mm"')
    if isinstance(found, str):
        mm = as_length(evaluate(found, setting), found, setting)
    else:
        mm = found * setting.sketch_mm
    return bounded_mm(mm, raw)


def read_length(raw: object, *, sizes: Mapping[str, Value], scale: Number, sketch_unit_mm: Number) -> float:
    """Return a length or coordinate in mm at full size, of either sign.

    A bare number, also in quotes, is a sketch measure: times ``sketch_unit_mm`` (mm in one unit of the
    sketch), times ``scale``. A number with a unit is a true size. A text may be a sum with the names of
    ``sizes``.

    Raises SumError; its ``follows`` is true where only a refused size is at fault.
    """
    return float(_length(raw, _setting(sizes, scale, sketch_unit_mm)))


def read_true_length(
    raw: object,
    *,
    sizes: Mapping[str, Value],
    scale: Number,
    sketch_unit_mm: Number,
    on_sketch: bool = True,
    most_mm: int = MAX_MM,
    unit: str = "",
) -> float:
    """Return a true length in mm, of either sign: like read_length, but a bare number is refused.

    Bare numbers may multiply and divide; where one would be added to a length it is refused too: what is
    measured on the thing itself is not read off the sketch by the way.  ``on_sketch``: whether the refusal
    says how to read such a size off the sketch.  Over ``most_mm`` it is refused.  ``unit`` is
    that of the examples; without one, the sketch's.

    Raises SumError.
    """
    found = number_or_text(raw, 'a text with a unit, such as "25 mm"')
    unit = unit or next((name for name, mm in MM_PER.items() if exact(mm) == exact(sketch_unit_mm)), "mm")
    if not isinstance(found, str):
        raise SumError(no_unit(describe(raw), unit, on_sketch=on_sketch))
    setting = _setting(sizes, scale, sketch_unit_mm, bare_adds=False)
    value = evaluate(found, setting)
    if value.kind is Kind.PLAIN:
        typed = found.strip()
        shown = typed if SIGNED_NUMBER.fullmatch(typed) else quoted(typed)
        raise SumError(no_unit(shown, unit, on_sketch=on_sketch))
    return float(bounded_mm(as_length(value, found, setting), raw, most_mm))


def resolve_sizes(
    raw: Mapping[str, object], scale: Number, *, sketch_unit_mm: Number
) -> tuple[dict[str, Value], list[tuple[str, str]]]:
    """Return every size as a length, and the refusals as (key, text), in the order of the file.

    A size may use others, wherever they stand. A refused size stays in the result with Kind.REFUSED, so that
    a sum that uses it says so and does not call the name unknown; sizes that only use one add no refusal.
    """
    refused = Value(number=Fraction(0), kind=Kind.REFUSED)
    values: dict[str, Value] = dict.fromkeys(raw, refused)
    texts: dict[str, str] = {}
    setting = _setting(values, scale, sketch_unit_mm)
    for name in raw:
        if slip := _name_slip(name):
            texts[name] = slip
            values.setdefault(_better_name(name), refused)  # sums that use the right spelling say no more
    order, rings = _order({name: _uses(raw, name) for name in raw if name not in texts})
    for ring in rings:
        first = min(ring, key=list(raw).index)
        start = ring.index(first)
        turned = " -> ".join([*ring[start:], *ring[:start], first])
        alone = f"{first} uses itself; give it a number"
        texts.setdefault(first, f"{turned} go in a ring; give one of them a number" if ring[1:] else alone)
    in_rings = {name for ring in rings for name in ring}
    for name in order:
        if name in in_rings:
            continue
        try:
            mm = _length(raw[name], setting)
        except SumError as err:
            if not err.follows:
                texts[name] = str(err)
            continue
        values[name] = Value(number=mm.limit_denominator(MAX_DENOMINATOR), kind=Kind.LENGTH, power=1)
    return values, [(key_of(("sizes", name)), texts[name]) for name in raw if name in texts]


def _name_slip(name: str) -> str:
    """Return why a name may not stand in [sizes], or nothing."""
    if name in RESERVED_NAMES:
        return f'"{name}" is a word of the sums themselves; choose another name'
    if len(name) > MAX_NAME_LETTERS:
        return f"the name has {len(name)} letters, over {MAX_NAME_LETTERS}; choose a shorter one"
    if _NAME.fullmatch(name):
        return ""
    better = _better_name(name)
    hint = f': "{better}"' if _NAME.fullmatch(better) and better not in RESERVED_NAMES else ""
    return f"{quoted(name)} is no name for sums; write a to z, 0 to 9 and _, a letter first{hint}"


def _better_name(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")


def _uses(raw: Mapping[str, object], name: str) -> list[str]:
    """Return the other sizes that a size names; none when it cannot be read, evaluation says why."""
    text = raw[name]
    if not isinstance(text, str):
        return []
    try:
        return [used for used in names_in(tokens_of(text)) if used in raw]
    except SumError:
        return []


def _order(uses: Mapping[str, Sequence[str]]) -> tuple[list[str], list[list[str]]]:
    """Return names so that each stands behind those it uses, and the rings met on the way.

    Depth first with its own stack: a chain of thousands of names must not meet Python's recursion limit.
    """
    order: list[str] = []
    rings: list[list[str]] = []
    done: set[str] = set()
    for root in uses:
        path: dict[str, int] = {}  # the way to here; the number counts the uses already followed
        here = root
        while here not in done:
            path.setdefault(here, 0)
            following = uses[here][path[here]] if path[here] < len(uses[here]) else None
            if following is None:
                done.add(here)
                order.append(here)
                del path[here]
                if not path:
                    break
                here = next(reversed(path))
                continue
            path[here] += 1
            if following in path:
                names = list(path)
                rings.append(names[names.index(following) :])
            elif following in uses and following not in done:
                here = following
    return order, rings
