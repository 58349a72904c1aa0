"""Advice on loading, Reynolds number and weight."""

import math
from itertools import pairwise

from foamcut.findings import Finding, Level
from foamcut.flight.air import Air
from foamcut.flight.assumed import MEMORY
from foamcut.flight.figures import Loaded
from foamcut.flight.lift_values import Lift, cube_loading, reynolds, wing_area_m2
from foamcut.flight.planform import Planform
from foamcut.units import decimal_text, mm_text

#: weight over area^1.5, kg/m3: outside of every author's bands (from memory)
_CUBE = (3.0, 13.0)
_THIN = 50_000.0
#: span m, weight g from and to, of powered models of foam board (from memory)
_USUAL_G = ((0.7, 200.0, 350.0), (1.0, 500.0, 800.0), (1.2, 800.0, 1200.0), (1.5, 1300.0, 2000.0))
#: weights from which authorities commonly ask for more, g, and how near below one is told
_THRESHOLDS_G = (250.0, 25_000.0)
_NEAR = 0.9


def lift_findings(plan: Planform, now: Loaded, air: Air, lift: Lift) -> tuple[Finding, ...]:
    """What is doubtful about loading and Reynolds number, and where the weight asks to look up rules."""
    return (*_loading(plan, now, lift), *_reynolds(plan, air, lift), *_registration(now))


def _loading(plan: Planform, now: Loaded, lift: Lift) -> tuple[Finding, ...]:
    cube = cube_loading(now.mass_g, lift)
    low, high = _CUBE
    if round(cube, 2) > high:
        return (_heavy(plan, now, lift, cube),)
    if 0 < round(cube, 2) < low:
        return (_light(plan, now, lift, cube),)
    return _for_span(plan, now, lift)


def _heavy(plan: Planform, now: Loaded, lift: Lift, cube: float) -> Finding:
    high = _CUBE[1]
    area = wing_area_m2(now.mass_g, lift)
    less = now.mass_g - 1000 * high * area**1.5
    more = (cube / high) ** (2 / 3) - 1
    return Finding(
        code="wing-loading",
        level=Level.WARNING,
        where=plan.wing.surface.key,
        text=(
            f"{_g(now.mass_g)} on {decimal_text(area * 100, 1)} dm2 of wing is heavy: weight over area^1.5 is"
            f" {decimal_text(cube, 1)} kg/m3; it flies and lands fast"
        ),
        value=f"{decimal_text(cube, 1)} kg/m3",
        range=f"up to {decimal_text(high)} kg/m3, trainers 5 to 7; authors differ",
        source=MEMORY,
        mend=f"{_g(less)} lighter, or {_percent(more)} more wing area",
    )


def _light(plan: Planform, now: Loaded, lift: Lift, cube: float) -> Finding:
    low = _CUBE[0]
    return Finding(
        code="wing-loading",
        level=Level.NOTE,
        where=plan.wing.surface.key,
        text=(
            f"weight over area^1.5 is {decimal_text(cube, 1)} kg/m3: very light for its wing, wind moves it"
            " about"
        ),
        value=f"{decimal_text(cube, 1)} kg/m3",
        range=f"from {decimal_text(low)} kg/m3; authors differ",
        source=MEMORY,
        mend=(
            "see that every mass is in the design, and fly in calm air; the usual would be"
            f" {_percent(1 - (cube / low) ** (2 / 3))} less wing area"
        ),
    )


def usual_weight_g(span_m: float) -> tuple[float, float] | None:
    """Usual weights of powered foam models of a span, from and to; None for spans without a row.

    Between the rows powers of the span are taken.  Source: rows for 0.7, 1.0, 1.2 and 1.5 m, from memory.
    """
    for (s0, *first), (s1, *last) in pairwise(_USUAL_G):
        if s0 <= span_m <= s1:
            share = math.log(span_m / s0) / math.log(s1 / s0)
            low, high = (a * (b / a) ** share for a, b in zip(first, last, strict=True))
            return low, high
    return None


def _for_span(plan: Planform, now: Loaded, lift: Lift) -> tuple[Finding, ...]:
    """Said of a weight that is over the usual even at its least."""
    usual = usual_weight_g(plan.wing.span_m)
    if usual is None or round(now.low_g - usual[1]) <= 0:
        return ()
    area = wing_area_m2(now.mass_g, lift)
    more = area * (now.mass_g / usual[1] - 1)
    return (
        Finding(
            code="wing-loading",
            level=Level.NOTE,
            where=plan.wing.surface.key,
            text=(
                f"{_g(now.mass_g)} is heavier than is usual for a span of"
                f" {decimal_text(plan.wing.span_m, 2)} m"
            ),
            value=_g(now.mass_g),
            range=f"{_g(usual[0])} to {_g(usual[1])}",
            source=MEMORY,
            mend=(
                f"{_g(now.mass_g - usual[1])} lighter; or {decimal_text(more * 100, 1)} dm2 more wing for the"
                " wing loading that is usual"
            ),
        ),
    )


def _reynolds(plan: Planform, air: Air, lift: Lift) -> tuple[Finding, ...]:
    number = reynolds(plan, air, lift.stall_m_s[0])
    if number >= _THIN or number <= 0:
        return ()
    more = _THIN / number - 1
    chord = mm_text(plan.wing.mean_chord_m * (1 + more) * 1000, 0)
    return (
        Finding(
            code="reynolds-low",
            level=Level.NOTE,
            where=plan.wing.surface.key,
            text=(
                f"the Reynolds number at stall is {_thousands(number)}: measurements of sections are few"
                " there, and the stall speed is rougher than its range says"
            ),
            value=_thousands(number),
            range="50 000 or more",
            source="tests of flat and curved plates begin there (abstracts, from memory)",
            mend=(
                f"a mean chord of {chord} ({_percent(more)} more) has 50 000 at that speed; else fly it"
                " faster at first than the numbers ask"
            ),
        ),
    )


def _registration(now: Loaded) -> tuple[Finding, ...]:
    """One note, of the largest threshold that the weight comes near."""
    near = [limit for limit in _THRESHOLDS_G if now.high_g >= _NEAR * limit]
    if not near:
        return ()
    limit = near[-1]
    over = now.mass_g - limit
    mend = "check your authority before the first flight"
    if 0 <= over < (1 - _NEAR) * limit:
        mend += f"; {_g(math.floor(over) + 1)} lighter is below {_g(limit)}"
    return (
        Finding(
            code="registration-weight",
            level=Level.NOTE,
            where="plan",
            text=f"it weighs {_g(now.mass_g)}, and rules often change at {_g(limit)}",
            value=_g(now.mass_g),
            range=f"thresholds are often at {_g(limit)}; rules change and differ by country",
            source=MEMORY,
            mend=mend,
        ),
    )


def _g(mass: float) -> str:
    return f"{decimal_text(mass, 0)} g"


def _percent(share: float) -> str:
    return f"{max(1, math.ceil(round(share * 100, 3)))} %"


def _thousands(number: float) -> str:
    return f"{round(number, -3):,.0f}".replace(",", " ")
