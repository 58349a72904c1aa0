"""Advice on the static margin: which way the balance shall move, or by what the stabiliser shall grow."""

import math
from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Loaded
from foamcut.flight.neutral_formula import tail_factor
from foamcut.flight.neutral_margin import DRELA, LEAST, MOST, NOSE_HEAVY, Margin, margin_at
from foamcut.flight.planform import Planform
from foamcut.flight.stability_reach import MOST_GROWTH
from foamcut.units import decimal_text, mm_text


def margin_advice(
    plan: Planform, points_m: Sequence[float], margin: Margin, now: Loaded, led_to_mm: float | None = None
) -> Iterator[Finding]:
    """A balance behind the neutral point, hardly ahead of it, perhaps behind it, or far ahead of it.

    `led_to_mm` is where other advice already brings the balance: then the margin that it has there is told,
    and not another way to move it.  A target that is itself heavy in the nose is told of elsewhere.
    """
    chord = plan.wing.mean_chord_m * 1000
    value, low = round(margin.value, 4), round(margin.low, 4)
    ahead = mm_text(abs(margin.value) * chord, 0)
    led = None if led_to_mm is None else _led(plan, points_m, led_to_mm)
    if value < 0:
        yield _finding(
            plan,
            Level.WARNING,
            f"the balance lies {ahead} behind the neutral point: such a model turns away from its course by"
            " itself, and may not be controllable",
            margin,
            led or _forward(plan, LEAST - margin.value, now),
        )
    elif value < LEAST:
        yield _finding(
            plan,
            Level.WARNING if low < 0 else Level.NOTE,
            f"the balance lies only {ahead} ahead of the neutral point: the elevator will be very lively",
            margin,
            led or _forward(plan, LEAST - margin.value, now),
        )
    elif low < 0:
        until = f"{mm_text((LEAST - margin.low) * chord, 0)} farther forward"
        yield _finding(
            plan,
            Level.NOTE,
            f"the balance lies {ahead} ahead of the neutral point, but the other method and what is assumed"
            f" of masses leave it up to {mm_text(-margin.low * chord, 0)} behind",
            margin,
            f"weigh what is assumed; {led or f'until then balance {until}'}",
        )
    elif value > NOSE_HEAVY and not _wished(plan, points_m, now):
        back = (margin.value - MOST) * chord
        yield _finding(
            plan,
            Level.NOTE,
            f"the balance lies {ahead} ahead of the neutral point: heavy in the nose, it flies but asks for"
            " much elevator, and lands fast",
            margin,
            led or f"balance up to {_moved(plan, back, 'back', now)}, a little at a time between flights",
        )


def _wished(plan: Planform, points_m: Sequence[float], now: Loaded) -> bool:
    """Whether the target is heavy in the nose as well."""
    return now.target_mm is not None and margin_at(plan.wing, points_m, now.target_mm) > NOSE_HEAVY


def _led(plan: Planform, points_m: Sequence[float], along_mm: float) -> str:
    margin = margin_at(plan.wing, points_m, along_mm)
    return (
        f"at {mm_text(along_mm)} along, where the advice on its target brings it, it has {_percent(margin)}"
    )


def _finding(plan: Planform, level: Level, text: str, margin: Margin, mend: str) -> Finding:
    return Finding(
        code="static-margin",
        level=level,
        where=f"{plan.wing.surface.key}.balance",
        text=text,
        value=f"static margin {_percent(margin.value)} ({_percent(margin.low)} to {_percent(margin.high)})",
        range="+5 to +15 % of the mean chord",
        source=DRELA,
        mend=mend,
    )


def _percent(share: float) -> str:
    return f"{decimal_text(share * 100, 1)} %"


def _forward(plan: Planform, more: float, now: Loaded) -> str:
    """What brings the margin to the low end of its range: the balance, or a larger stabiliser."""
    mend = f"balance {_moved(plan, more * plan.wing.mean_chord_m * 1000, 'forward', now)}"
    if plan.tail is None or plan.foreplane:
        return mend
    factor = tail_factor(plan.wing, plan.tail, more)
    if factor is None or factor > MOST_GROWTH:
        return mend
    return f"{mend}, or stabiliser {decimal_text(math.ceil(round((factor - 1) * 100, 6)), 0)} % larger"


def _moved(plan: Planform, distance_mm: float, way: str, now: Loaded) -> str:
    """A way of the balance, and how far a handy part of the mass has to be moved for it, if it can be."""
    far = f"{mm_text(math.ceil(round(distance_mm, 6)), 0)} farther {way}"
    tenth = now.mass_g / 10
    if tenth < 1:
        return far
    digits = 10 ** math.floor(math.log10(tenth))
    part = round(tenth / digits) * digits
    move = distance_mm * now.mass_g / part
    if round(move, 3) > _length_mm(plan):
        return far
    return f"{far} ({part} g moved {mm_text(move, 0)} {way} does that)"


def _length_mm(plan: Planform) -> float:
    """From the foremost to the rearmost of wings, tails and fins: nothing can be moved farther."""
    several = [cross for one in (*plan.all_level, *plan.fins) for cross in one.crosses]
    ends = [x for one in several for x in (one.leading_m[0], one.leading_m[0] + one.chord_m)]
    return 1000 * (max(ends) - min(ends)) if ends else 0.0
