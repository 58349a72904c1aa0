"""Things that count and whose mass nobody knows: they are named, with what they would do to the balance."""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Item, Vector
from foamcut.units import decimal_text

#: what a thing of so much would do to the balance is told
_EACH_G = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A thing without a mass: the key that would give it, its name, the places of each of it."""

    key: str
    name: str
    at: tuple[Vector, ...] = ()


def missing_findings(several: Sequence[Missing], items: Sequence[Item]) -> tuple[Finding, ...]:
    """One piece of advice for each thing that is left out; `items` are those that count."""
    return tuple(_finding(one, items) for one in several)


def _finding(one: Missing, items: Sequence[Item]) -> Finding:
    mend = "weigh it and write its mass"
    shift = _shift_mm(one, items)
    if shift is not None and abs(shift) >= 0.05:
        way = "back" if shift > 0 else "forward"
        mend += f": {decimal_text(_EACH_G)} g of it move the balance {decimal_text(abs(shift), 1)} mm {way}"
    return Finding(
        code="mass-missing",
        level=Level.WARNING,
        where=one.key,
        text=(
            f"no mass of {one.name} is given and none is usual for it: it is left out of weight and balance"
        ),
        mend=mend,
    )


def _shift_mm(one: Missing, items: Sequence[Item]) -> float | None:
    """How far aft a little mass of a thing, all of its kind together, moves the balance."""
    placed = [(item.mass_g, item.at[0]) for item in items if item.at is not None]
    total = sum(mass for mass, _ in placed)
    if not one.at or not total > 0:
        return None
    middle = sum(mass * along for mass, along in placed) / total
    there = sum(at[0] for at in one.at) / len(one.at)
    return _EACH_G * (there - middle) / (total + _EACH_G)
