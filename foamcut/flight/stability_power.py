"""Elevator power as a number, and what would mend too little of it.  SI; mm and degrees in words."""

import math
from collections.abc import Iterator

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Figures, Group, Loaded, Number
from foamcut.flight.lift import Lift
from foamcut.flight.neutral import Neutral
from foamcut.flight.planform import Planform
from foamcut.flight.stability_pitch import Case, PitchModel, cases, pitch_model, rows_used
from foamcut.flight.stability_tail import Tail
from foamcut.units import mm_text

#: larger throws stall the stabiliser (common practice, no source)
_MOST_DEG = 35.0
#: so much of the mean chord is kept between balance and neutral point (Drela's least static margin)
_MARGIN = 0.05
#: no stabiliser is told to grow by more: then the aeroplane is another
_MOST_LARGER = 2.0


def power_of_elevator(
    plan: Planform, now: Loaded | None, neutral: Neutral, lift: Lift | None, tail: Tail
) -> Figures:
    """How much of the elevator the wing's highest lift takes, with advice where it is more than there is.

    Nothing is told of a balance behind the neutral point: there is no hold by a steady elevator.
    """
    model = pitch_model(plan, tail, neutral)
    if model is None or now is None or lift is None or min(lift.cl_max) <= 0:
        return Figures()
    if round(now.at[0] / 1000, 6) >= neutral.lattice_m:
        return Figures()
    likely, best, worst = cases(plan, now, lift)
    share, *ends = (model.at(one).share for one in (likely, best, worst))
    if share is None:
        return Figures()
    known = [share, *(one for one in ends if one is not None)]
    name = "elevons" if not model.on_tail else "elevator"
    number = Number(
        name="elevator_at_stall",
        title=f"{name} that the wing's highest lift takes, of full throw",
        value=100 * share,
        unit="%",
        group=Group.STABILITY,
        low=100 * min(known),
        high=100 * max(known),
        usual="below 100; negative: nose down",
        source="moments about the balance at the highest lift; flaps by thin-aerofoil theory (Glauert)",
        assumed=rows_used(plan, lift),
    )
    findings = () if round(share, 2) <= 1 else (_weak(plan, model, likely, share, name),)
    return Figures(numbers=(number,), findings=findings)


def _weak(plan: Planform, model: PitchModel, case: Case, share: float, name: str) -> Finding:
    several = (*model.on_tail, *model.on_wing)
    mends = [one for one in (_throw(model, case), _aft(plan, model, case), _larger(model, case)) if one]
    percent = f"{math.ceil(round(100 * share, 3))} %"
    what = f"the {name} gives at full throw"
    if model.at(case).at_limit:
        what = "the stabiliser bears before it stalls itself"
    text = (
        f"holding the wing at its highest lift takes {percent} of what {what}: it cannot be flown down to its"
        " stall speed, and lands faster"
    )
    return Finding(
        code="elevator-power",
        level=Level.WARNING,
        where=several[0].control.key,
        text=text,
        value=percent,
        range="up to 100 %",
        source="moments at the highest lift, thin-aerofoil theory",
        mend=" or ".join(mends) or "a longer tail arm, or a larger elevator",
    )


def _enough(model: PitchModel, case: Case, *, size: float = 1.0, throw: float = 1.0) -> bool:
    share = model.at(case, size=size, throw=throw).share
    return share is not None and share <= 1


def _throw(model: PitchModel, case: Case) -> str:
    """The least whole degrees that do, when they are no more than can be had."""
    control = max((*model.on_tail, *model.on_wing), key=lambda one: round(one.control.throw_deg, 3)).control
    if control.throw_deg <= 0:
        return ""
    for degrees in range(math.ceil(control.throw_deg), int(_MOST_DEG) + 1):
        if _enough(model, case, throw=degrees / control.throw_deg):
            return f"a throw of {degrees} degrees"
    return ""


def _aft(plan: Planform, model: PitchModel, case: Case) -> str:
    """How far aft the balance would have to lie, when that leaves a margin before the neutral point."""
    room = model.neutral.lattice_m - _MARGIN * plan.wing.mean_chord_m - case.along_m
    for mm in _whole(room * 1000):
        if _enough(model, case._replace(along_m=case.along_m + mm / 1000)):
            return f"the balance {mm_text(mm, 0)} farther back"
    return ""


def _larger(model: PitchModel, case: Case) -> str:
    """By how many percent more stabiliser, its elevator with it, would do."""
    if model.plan.tail is None:
        return ""
    for percent in _whole(100 * (_MOST_LARGER - 1)):
        if _enough(model, case, size=1 + percent / 100):
            return f"a stabiliser {percent} % larger"
    return ""


def _whole(most: float) -> Iterator[int]:
    return iter(range(1, max(int(min(most, 1000.0)), 0) + 1))
