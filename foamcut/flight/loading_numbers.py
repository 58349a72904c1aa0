"""The numbers of weight and balance.  g, mm, kg m2."""

import math
from collections.abc import Sequence

from foamcut.flight.figures import Group, Item, Loaded, Number, Sort
from foamcut.flight.loading_move import items_of, movers, shift_mm
from foamcut.flight.loading_sums import bounds_of, centre_of, mass_of, placed
from foamcut.flight.loading_target import share_at
from foamcut.flight.planform import Planform
from foamcut.flight.values import Setup

_SUM = "sum of the masses of all things"
_MOMENTS = "sum of moments over sum of masses"
_TENSOR = "point masses and their own spread about the centre of gravity; products left out"
_SHIFT = (
    "weight moved / total weight = change of balance / distance: Pilot's Handbook of Aeronautical Knowledge,"
    " FAA-H-8083-25, weight and balance"
)
#: of models whose tail lies behind
_BEHIND = "25 to 33 % of a straight wing, common practice, no source"
#: below this no mass is told of
_TOLD_G = 0.05
#: no battery lies farther from the nose: a light one would have to
_FARTHEST_MM = 10_000.0
#: rounding of moments of inertia, kg m2
_NO_TURNING = 1e-9


def loading_numbers(
    items: Sequence[Item], now: Loaded, setup: Setup, plan: Planform | None
) -> tuple[Number, ...]:
    """All-up mass and what makes it up; the centre of gravity and its target; moments of inertia."""
    return (
        *_weights(items, now),
        *_centre(items, now, plan),
        *_target(items, now, setup, plan),
        *_turning(now),
    )


def assumed_of(items: Sequence[Item]) -> tuple[str, ...]:
    """The rows of usual values that went into things, each once."""
    return tuple(dict.fromkeys(row for one in items for row in one.assumed))


def all_up(items: Sequence[Item], now: Loaded | None = None) -> Number:
    """The weight of all things, with or without a place; what the scales said has no range."""
    low = math.fsum(one.low_g for one in items) if now is None else now.low_g
    high = math.fsum(one.high_g for one in items) if now is None else now.high_g
    return Number(
        name="mass_all_up",
        title="all-up weight",
        value=math.fsum(one.mass_g for one in items),
        unit="g",
        group=Group.WEIGHT,
        low=low,
        high=high,
        source=_SUM,
        assumed=assumed_of(items),
    )


def _weights(items: Sequence[Item], now: Loaded) -> list[Number]:
    found = [all_up(items, now)]
    found += _part(
        "airframe",
        "bare airframe: board, glue, tape, paint",
        [one for one in items if one.sort in (Sort.BOARD, Sort.GLUE)],
        now,
        usual="at most 50 %, one club's course on electric flight",
    )
    found += _part("battery", "battery", [one for one in items if one.sort is Sort.BATTERY], now)
    found += _part("no_place", "weight without a place, left out of the balance", _lost(items), now)
    return found


def _lost(items: Sequence[Item]) -> list[Item]:
    return [one for one in items if one.at is None]


def _part(name: str, title: str, items: Sequence[Item], now: Loaded, usual: str = "") -> list[Number]:
    """What some things weigh, and their share of all; nothing when they weigh nothing.

    No share is told where they weigh more than the whole does by the scales.
    """
    mass = mass_of(items)
    if mass < _TOLD_G:
        return []
    bounds = [bounds_of(one) for one in items]
    percent = 100 * mass / now.mass_g
    found = [
        Number(
            name=f"mass_{name}",
            title=title,
            value=mass,
            unit="g",
            group=Group.WEIGHT,
            low=sum(low for low, _ in bounds),
            high=sum(high for _, high in bounds),
            source=_SUM,
            assumed=assumed_of(items),
        )
    ]
    if round(percent, 6) > 100:
        return found
    return [
        *found,
        Number(
            name=f"share_{name}",
            title=f"share of {title.partition(':')[0].partition(',')[0]} in the all-up weight",
            value=percent,
            unit="%",
            group=Group.WEIGHT,
            usual=usual,
            source=_SUM,
            assumed=assumed_of(items),
        ),
    ]


def _centre(items: Sequence[Item], now: Loaded, plan: Planform | None) -> list[Number]:
    rows = assumed_of(placed(items))
    low, high = now.along_low_mm, now.along_high_mm
    found = [_mm("cg_along", "balance (centre of gravity), behind the nose", now.at[0], rows, low, high)]
    share = share_at(plan, now.at[0])
    if share is not None:
        ends = [share_at(plan, one) for one in (low, high)]
        found.append(
            Number(
                name="cg_mean_chord",
                title="balance, share of the mean chord",
                value=100 * share,
                unit="%",
                group=Group.BALANCE,
                low=None if ends[0] is None else 100 * ends[0],
                high=None if ends[1] is None else 100 * ends[1],
                usual=_BEHIND if plan is not None and plan.tail and not plan.foreplane else "",
                source=_MOMENTS,
                assumed=rows,
            )
        )
    found.append(_mm("cg_up", "balance, height", now.at[2], rows))
    found.append(_mm("cg_out", "balance, right of the centre plane", now.at[1], rows))
    return found


def _mm(
    name: str,
    title: str,
    value: float,
    assumed: tuple[str, ...] = (),
    low: float | None = None,
    high: float | None = None,
    source: str = _MOMENTS,
) -> Number:
    return Number(
        name=name,
        title=title,
        value=value,
        unit="mm",
        group=Group.BALANCE,
        low=low,
        high=high,
        source=source,
        assumed=assumed,
    )


def _target(items: Sequence[Item], now: Loaded, setup: Setup, plan: Planform | None) -> list[Number]:
    if now.target_mm is None:
        return []
    given = "the design's target" if setup.wishes.target else "the wing's balance mark"
    found = [
        _mm(
            "balance_target_along",
            "where the balance shall lie, behind the nose",
            now.target_mm,
            source=given,
        )
    ]
    share = share_at(plan, now.target_mm)
    if share is not None:
        found.append(
            Number(
                name="balance_target_mean_chord",
                title="where the balance shall lie, share of the mean chord",
                value=100 * share,
                unit="%",
                group=Group.BALANCE,
                source=given,
            )
        )
    moved = movers(setup, items)
    carried = [one for thing in moved for one in items_of(thing, items)]
    centre, mass = centre_of(carried), mass_of(carried)
    if centre is not None:
        change = shift_mm(now.target_mm - now.at[0], mass_of(placed(items)), mass)
        at, rows = centre[0] + change, assumed_of(placed(items))
        title = (
            "battery's middle for that balance" if len(moved) == 1 else "batteries' middle for that balance"
        )
        if round(abs(at), 3) <= _FARTHEST_MM:
            found.append(_mm("battery_along_target", title, at, rows, source=_SHIFT))
    return found


def _turning(now: Loaded) -> list[Number]:
    """Moments of inertia; none where what was weighed makes them those of no body.

    Of a body none is larger than the sum of the other two.
    """
    if sum(now.inertia_kg_m2) - 2 * max(now.inertia_kg_m2) < -_NO_TURNING:
        return []
    words = (("roll", "about the long axis"), ("pitch", "nose up and down"), ("yaw", "nose left and right"))
    return [
        Number(
            name=f"inertia_{name}",
            title=f"moment of inertia in {name}, {title}",
            value=value,
            unit="kg m2",
            group=Group.BALANCE,
            source=_TENSOR,
        )
        for (name, title), value in zip(words, now.inertia_kg_m2, strict=True)
    ]
