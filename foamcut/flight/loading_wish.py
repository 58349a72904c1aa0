"""The target of the balance held against the neutral point, before anything is moved towards it.  mm."""

import math
from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Loaded
from foamcut.flight.loading_target import mean_chord_mm, share_at
from foamcut.flight.loading_target import percent_text as _percent
from foamcut.flight.neutral_margin import DRELA, LEAST, NOSE_HEAVY, balance_range_m, margin_at
from foamcut.flight.planform import Planform
from foamcut.flight.values import Setup
from foamcut.units import mm_text as _mm


def aim_mm(now: Loaded, plan: Planform | None, points_m: Sequence[float]) -> float | None:
    """Where advice brings the balance: its target, or the nearest usual place where that is not usual.

    A balance that lies in the usual range, or between it and a target that is heavy in the nose, then stays
    where it is.  `points_m` are the neutral points; without one the target stands as it is.
    """
    if now.target_mm is None or plan is None or not points_m:
        return now.target_mm
    if is_usual(now, plan, points_m):
        return now.target_mm
    front, back = _usual_mm(plan, points_m)
    return max(min(front, now.target_mm), min(now.at[0], back))


def is_usual(now: Loaded, plan: Planform, points_m: Sequence[float]) -> bool:
    """Whether a target is stable and not heavy in the nose."""
    if now.target_mm is None:
        return False
    return LEAST <= margin_at(plan.wing, points_m, now.target_mm) <= NOSE_HEAVY


def _usual_mm(plan: Planform, points_m: Sequence[float]) -> tuple[float, float]:
    """From where to where the balance may lie, in whole tenths of a hundredth of the mean chord inwards."""
    leading, chord = mean_chord_mm(plan)
    front, back = ((1000 * one - leading) / chord * 1000 for one in balance_range_m(plan.wing, points_m))
    tenths = math.ceil(round(front, 6)), math.floor(round(back, 6))
    first, last = (leading + one / 1000 * chord for one in tenths)
    return first, last


def wish_findings(
    now: Loaded, setup: Setup, plan: Planform | None, points_m: Sequence[float]
) -> Iterator[Finding]:
    """A target that would not be stable, or that would make the model heavy in the nose."""
    wish = None if now.target_mm is None else share_at(plan, now.target_mm)
    if plan is None or now.target_mm is None or wish is None or not points_m:
        return
    margin = margin_at(plan.wing, points_m, now.target_mm)
    if LEAST <= margin <= NOSE_HEAVY:
        return
    front, back = _usual_mm(plan, points_m)
    target = setup.wishes.target
    what = "the target of the balance" if target else "the balance mark on the wing, which is its target,"
    neutral, off = points_m[0] * 1000, points_m[0] * 1000 - now.target_mm
    lies = f"{what} lies at {_mm(now.target_mm)} along, {_percent(wish)} of the mean chord, {_mm(abs(off))}"
    point = f"the neutral point ({_mm(neutral)}, {_percent(share_at(plan, neutral))})"
    if margin < 0:
        text = f"{lies} behind {point}: balanced there, it turns away from its course by itself"
    elif margin < LEAST:
        text = f"{lies} ahead of {point}, which is little: balanced there, its elevator is very lively"
    else:
        text = f"{lies} ahead of {point}: balanced there, it is heavy in the nose, and lands fast"
    best = back if margin < LEAST else front
    yield Finding(
        code="balance-wish",
        level=Level.WARNING if margin < LEAST else Level.NOTE,
        where=target.key if target else f"{plan.wing.surface.key}.balance",
        text=text,
        value=f"static margin {_percent(margin)} at the target",
        range="+5 to +15 % of the mean chord",
        source=DRELA,
        mend=f"target = {_key(plan, best)}, a margin of {'5' if margin < LEAST else '15'} %; from"
        f" {_mm(front)} to {_mm(back)} along, {_percent(share_at(plan, front))} to"
        f" {_percent(share_at(plan, back))} of the mean chord, is usual{_as_drawn(now, plan, front, back)}",
    )


def _as_drawn(now: Loaded, plan: Planform, front: float, back: float) -> str:
    if not front <= now.at[0] <= back:
        return ""
    return f", and there the balance lies as drawn ({_percent(share_at(plan, now.at[0]))})"


def _key(plan: Planform, along_mm: float) -> str:
    """A target as it is written: a share on the mean chord; off it a place along, and a mark elsewhere."""
    share = share_at(plan, along_mm)
    if share is not None and 0 < round(share, 6) < 1:
        return f'{{ mac = "{_percent(share)}" }}, {_mm(along_mm)} along'
    mark = f"{plan.wing.surface.key}.balance"
    return f'{{ along = "{_mm(along_mm)}" }}, off the wing (where its mark is drawn: {mark})'
