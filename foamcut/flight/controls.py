"""How far control surfaces move, in mm at the trailing edge and degrees, and how large they are."""

import math

from foamcut.findings import Finding, Level
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.controls_shape import MOST_THROW_DEG, hung, slug
from foamcut.flight.controls_sizes import size_figures
from foamcut.flight.figures import Figures, Group, Number, Throw
from foamcut.flight.planform import Planform
from foamcut.units import decimal_text

#: throws at the trailing edge of a model of 1 m span, mm (from memory); larger models as their span
_USUAL_MM = {"aileron": (12.0, 15.0), "elevator": (10.0, 15.0), "rudder": (20.0, 25.0)}
#: how far off that a throw may be before it is told (judgement): it is a habit, no rule
_FAR = (0.6, 1.6)


def throws(plan: Planform) -> tuple[Throw, ...]:
    """The throw of every control surface of wing, tail and fins.

    Method: the trailing edge moves by the distance from the hinge line times the sine of the angle, each way,
    measured square to the hinge line where the control is deepest.
    """
    surfaces = [one.surface for one in (plan.wing, plan.tail, *plan.fins, *plan.others) if one is not None]
    return tuple(
        Throw(
            key=one.control.key,
            surface=surface.name,
            word=one.control.word,
            deg=one.control.throw_deg,
            mm=one.widest_mm * math.sin(math.radians(min(one.control.throw_deg, 90.0))),
            chord_mm=one.widest_mm,
        )
        for surface in surfaces
        for one in hung(surface)
    )


def control_figures(plan: Planform, several: tuple[Throw, ...]) -> Figures:
    """The throws as numbers, and advice on those and on the sizes of control surfaces."""
    numbers: list[Number] = []
    for throw, name in zip(several, _names(several), strict=True):
        numbers += _throw_numbers(plan, throw, name)
    if several:
        numbers.append(_low_rate())
    findings = tuple(found for throw in several if (found := _odd_throw(plan, throw)))
    return Figures.of([Figures(numbers=tuple(numbers), findings=findings), size_figures(plan)])


def _names(several: tuple[Throw, ...]) -> list[str]:
    """Unique names; a second control of the same word on a surface has a number."""
    made: list[str] = []
    for throw in several:
        name = f"throw_{slug(throw.surface)}_{slug(throw.word)}"
        i = 2
        while name in made or f"{name}_deg" in made:
            name = f"throw_{slug(throw.surface)}_{slug(throw.word)}_{i}"
            i += 1
        made.append(name)
    return made


def _usual(plan: Planform, throw: Throw) -> tuple[float, float] | None:
    """The usual throw on this span, mm."""
    row = _USUAL_MM.get(throw.word)
    return (row[0] * plan.wing.span_m, row[1] * plan.wing.span_m) if row else None


def _throw_numbers(plan: Planform, throw: Throw, name: str) -> list[Number]:
    usual = _usual(plan, throw)
    words = f"{_mm_range(usual)} on this span (common practice, no source)" if usual else ""
    title = f"{throw.word} of {throw.surface}, each way"
    return [
        Number(
            name=name,
            title=f"{title}, at the trailing edge",
            value=throw.mm,
            unit="mm",
            group=Group.THROWS,
            usual=words,
            source="geometry: depth at its deepest, square to the hinge line, times the sine of the angle",
        ),
        Number(
            name=f"{name}_deg",
            title=title,
            value=throw.deg,
            unit="deg",
            group=Group.THROWS,
            source="the design",
        ),
    ]


def _low_rate() -> Number:
    row = ASSUMED["low_rate"]
    return Number(
        name="low_rate",
        title="low rate to begin with, of the throws",
        value=row.value,
        unit="%",
        group=Group.THROWS,
        low=row.low,
        high=row.high,
        source=row.source,
        assumed=("low_rate",),
    )


def _mm_range(ends: tuple[float, float]) -> str:
    return f"{decimal_text(ends[0], 0)} to {decimal_text(ends[1], 0)} mm"


def _odd_throw(plan: Planform, throw: Throw) -> Finding | None:
    """A throw far off what is usual on this span."""
    usual = _usual(plan, throw)
    if usual is None or throw.chord_mm <= 0:
        return None
    low, high = usual
    if round(_FAR[0] * low, 3) <= round(throw.mm, 3) <= round(_FAR[1] * high, 3):
        return None
    if throw.mm < low:
        factor = f"{decimal_text(throw.mm / low, 2)} of the least that is usual"
    else:
        factor = f"{decimal_text(throw.mm / high, 1)} times the most that is usual"
    return Finding(
        code="throw-size",
        level=Level.NOTE,
        where=f"{throw.key}.throw",
        text=f"the trailing edge of the {throw.word} moves {decimal_text(throw.mm)} mm each way, {factor} on"
        f" a span of {decimal_text(1000 * plan.wing.span_m, 0)} mm",
        value=f"{decimal_text(throw.mm)} mm",
        range=_mm_range(usual),
        source="common practice, no source",
        mend=_throw_mend(throw, usual),
    )


def _throw_mend(throw: Throw, usual: tuple[float, float]) -> str:
    """The angles that give the usual mm; where they are too large, a depth that does at the largest."""
    ends = [math.degrees(math.asin(min(mm / throw.chord_mm, 1.0))) for mm in usual]
    if ends[0] > MOST_THROW_DEG:
        depth = math.ceil(round(usual[0] / math.sin(math.radians(MOST_THROW_DEG)), 3))
        words = f"a throw of {decimal_text(MOST_THROW_DEG, 0)} degrees and a depth of {depth} mm"
    else:
        low, high = (decimal_text(min(one, MOST_THROW_DEG), 0) for one in ends)
        words = f"a throw of {low if low == high else f'{low} to {high}'} degrees"
    return f"{words}, or leave it when it is meant so"
