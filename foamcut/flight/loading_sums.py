"""Sums over things with a mass and a place: centre of gravity, its range, moments of inertia.  g and mm."""

from collections.abc import Sequence
from itertools import accumulate
from math import fsum

from foamcut.flight.figures import Item, Vector

#: kg m2 in one g mm2
_KG_M2 = 1e-9
#: lighter than this there is nothing to balance
NOTHING_G = 1e-9


def placed(items: Sequence[Item]) -> tuple[Item, ...]:
    """The things whose place is known."""
    return tuple(one for one in items if one.at is not None)


def mass_of(items: Sequence[Item]) -> float:
    """Their mass, g."""
    return fsum(one.mass_g for one in items)


def bounds_of(item: Item) -> tuple[float, float]:
    """The lowest and the highest mass of a thing; its mass lies between them."""
    return min(item.low_g, item.high_g, item.mass_g), max(item.low_g, item.high_g, item.mass_g)


def centre_of(items: Sequence[Item]) -> Vector | None:
    """The centre of gravity of the things that have a place; None when they weigh nothing.

    Sum of moments over sum of masses; the datum does not matter.
    """
    known = [(one.mass_g, one.at) for one in items if one.at is not None]
    mass = fsum(m for m, _ in known)
    if mass < NOTHING_G:
        return None
    x, y, z = (fsum(m * at[axis] for m, at in known) / mass for axis in range(3))
    return x, y, z


def along_bounds(items: Sequence[Item]) -> tuple[float, float]:
    """The foremost and the rearmost centre of gravity that the ranges of the masses allow, mm along.

    Every mass may lie anywhere in its range, whatever the others are.  The centre is rearmost when all
    that lies behind it is as heavy, and all before it as light, as can be: a quotient of two sums that rise
    with each mass has its extremes at ends of the ranges, those behind one place at one end and those before
    it at the other.  All such places are tried.  Limit: things of one board vary together, so that the true
    range is narrower.

    Raises
    ------
    ValueError
        Nothing with a place weighs anything.
    """
    rows = sorted((one.at[0], *bounds_of(one)) for one in items if one.at is not None)
    foremost = [_split(rows, heavy_first=True)]
    rearmost = [_split(rows, heavy_first=False)]
    found = [one for several in (*foremost, *rearmost) for one in several]
    if not found:
        raise ValueError("nothing with a place weighs anything")
    return min(found), max(found)


def _split(rows: Sequence[tuple[float, float, float]], *, heavy_first: bool) -> list[float]:
    """The centres with the first so many things at one end of their range and the rest at the other."""
    first, rest = (2, 1) if heavy_first else (1, 2)
    masses = list(accumulate((row[first] for row in rows), initial=0.0))
    moments = list(accumulate((row[0] * row[first] for row in rows), initial=0.0))
    masses_left = list(accumulate((row[rest] for row in reversed(rows)), initial=0.0))[::-1]
    moments_left = list(accumulate((row[0] * row[rest] for row in reversed(rows)), initial=0.0))[::-1]
    return [
        (moments[i] + moments_left[i]) / (masses[i] + masses_left[i])
        for i in range(len(rows) + 1)
        if masses[i] + masses_left[i] >= NOTHING_G
    ]


def inertia_of(items: Sequence[Item], centre: Vector) -> Vector:
    """Moments of inertia about a centre: roll (x), pitch (y), yaw (z), kg m2.

    Mass times the square of its distance from the axis, and how each thing's stuff is spread about its own
    middle (parallel axis theorem).  Limits: no products of inertia; things without a place left out.
    """
    squares = [
        (
            one.mass_g,
            [(one.at[axis] - centre[axis]) ** 2 + one.spread_mm2[axis] for axis in range(3)],
        )
        for one in items
        if one.at is not None
    ]
    x, y, z = (fsum(m * square[axis] for m, square in squares) * _KG_M2 for axis in range(3))
    return y + z, z + x, x + y
