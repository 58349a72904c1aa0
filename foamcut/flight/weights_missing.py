"""Things that count and whose mass nobody knows: they are named, with what they would do to the balance."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from foamcut.findings import Finding, Level
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Item, Vector
from foamcut.flight.values import Aboard
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


def assumed_findings(batteries: Sequence[Aboard], items: Sequence[Item]) -> Iterator[Finding]:
    """Batteries whose mass is taken from cells and capacity: the heaviest thing that nobody weighed."""
    for one in batteries:
        ours = [item for item in items if item.key == one.key and item.assumed]
        if not ours:
            continue
        item = ours[0]
        grams = f"{decimal_text(item.mass_g, 0)} g"
        each = "each " if one.mirrored else ""
        places = tuple(item.at for item in ours if item.at is not None)
        yield Finding(
            code="mass-assumed",
            level=Level.NOTE,
            where=f"{one.key}.mass",
            text=f'{each}"{one.name}" was not weighed: {grams} are taken for its cells and capacity',
            value=grams,
            range=f"{decimal_text(item.low_g, 0)} to {decimal_text(item.high_g, 0)} g",
            source=ASSUMED["battery"].source,
            mend=_weigh(Missing(key=one.key, name=one.name, at=places), items),
        )


def _finding(one: Missing, items: Sequence[Item]) -> Finding:
    return Finding(
        code="mass-missing",
        level=Level.WARNING,
        where=one.key,
        text=(
            f"no mass of {one.name} is given and none is usual for it: it is left out of weight and balance"
        ),
        mend=_weigh(one, items),
    )


def _weigh(one: Missing, items: Sequence[Item]) -> str:
    mend = "weigh it and write its mass"
    shift = _shift_mm(one, items)
    if shift is None or abs(shift) < 0.05:
        return mend
    way = "back" if shift > 0 else "forward"
    return f"{mend}: {decimal_text(_EACH_G)} g of it move the balance {decimal_text(abs(shift), 1)} mm {way}"


def _shift_mm(one: Missing, items: Sequence[Item]) -> float | None:
    """How far aft a little mass of a thing, all of its kind together, moves the balance."""
    placed = [(item.mass_g, item.at[0]) for item in items if item.at is not None]
    total = sum(mass for mass, _ in placed)
    if not one.at or not total > 0:
        return None
    middle = sum(mass * along for mass, along in placed) / total
    there = sum(at[0] for at in one.at) / len(one.at)
    return _EACH_G * (there - middle) / (total + _EACH_G)
