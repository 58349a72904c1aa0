"""What moves the centre of gravity: a thing that is moved, or ballast at an end of the model.  g and mm."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import fsum

from foamcut.flight.figures import Item
from foamcut.flight.planform import Planform
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.units import MM_PER_M

#: ballast has to stand at least so far off where the balance shall be: a shorter arm asks for lumps of lead
_LEAST_ARM_MM = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ballast:
    """A mass at a place along that brings the centre of gravity where it shall lie; `end`: nose or tail."""

    mass_g: float
    along_mm: float
    end: str


def items_of(thing: Aboard, items: Iterable[Item]) -> tuple[Item, ...]:
    """What a thing aboard counts as in the balance: two items of a mirrored one."""
    return tuple(one for one in items if one.key == thing.key and one.at is not None)


def mass_aboard(things: Iterable[Aboard], items: Sequence[Item]) -> float:
    """What things aboard weigh in all, as far as it counts in the balance, g."""
    return fsum(one.mass_g for thing in things for one in items_of(thing, items))


def shift_mm(change_mm: float, mass_g: float, moved_g: float) -> float:
    """How far a thing has to move so that the centre of gravity moves by `change_mm`, aft positive.

    Weight moved / total weight = change of the centre of gravity / distance moved (Pilot's Handbook of
    Aeronautical Knowledge, FAA-H-8083-25, chapter on weight and balance).

    Raises
    ------
    ValueError
        What is moved weighs nothing.
    """
    if not moved_g > 0:
        raise ValueError("what weighs nothing moves no balance")
    return change_mm * mass_g / moved_g


def movers(setup: Setup, items: Sequence[Item]) -> tuple[Aboard, ...]:
    """The batteries that are moved for the balance: those that may be moved, else all.

    Those alone that weigh something and have a place; all of them are moved by the same distance.
    """
    batteries = [one for one in setup.of(Carried.BATTERY) if mass_aboard([one], items) > 0]
    free = [one for one in batteries if one.slides_mm is not None or one.may_sit]
    return tuple(free or batteries)


def ends_of(model: Model, plan: Planform | None) -> tuple[float, float] | None:
    """Foremost and rearmost place that can take ballast, mm along: the ends of the bodies.

    Without a body those of the wings and tails; None without either.
    """
    along = [one.along_mm for body in model.inputs.bodies for one in body.side]
    if not along and plan is not None:
        level = [cross for one in (*plan.all_level, *plan.fins) for cross in one.crosses]
        along = [x * MM_PER_M for c in level for x in (c.leading_m[0], c.leading_m[0] + c.chord_m)]
    return (min(along), max(along)) if along else None


def ballast_for(
    centre_mm: float, mass_g: float, target_mm: float, ends: tuple[float, float] | None
) -> Ballast | None:
    """The smallest mass that brings a centre of gravity to a target; None where no end is far enough off.

    It stands at the nose when the centre lies too far aft, at the tail when too far forward: b (target -
    place) = mass (centre - target), moments about the target.  `mass_g` is that of all that has a place.
    """
    if ends is None or centre_mm == target_mm:
        return None
    at = ends[0] if centre_mm > target_mm else ends[1]
    arm = target_mm - at
    if (arm > 0) is not (centre_mm > target_mm) or abs(arm) < _LEAST_ARM_MM:
        return None
    grams = mass_g * (centre_mm - target_mm) / arm
    return Ballast(mass_g=grams, along_mm=at, end="nose" if arm > 0 else "tail")
