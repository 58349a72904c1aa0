"""Elevator power as a number, and what would mend too little of it.  SI; mm and degrees in words."""

import math
from collections.abc import Iterator

from foamcut.findings import Finding, Level
from foamcut.flight.controls_shape import MOST_THROW_DEG
from foamcut.flight.figures import Figures, Group, Loaded, Number
from foamcut.flight.lift import Lift
from foamcut.flight.neutral import Neutral
from foamcut.flight.neutral_margin import LEAST
from foamcut.flight.planform import Planform
from foamcut.flight.stability_pitch import Case, Pitch, PitchModel, bounds, cases, pitch_model, rows_used
from foamcut.flight.stability_reach import MOST_GROWTH, least, most_back_mm, most_percent, ways
from foamcut.flight.stability_tail import Tail
from foamcut.units import mm_text

#: elevators take up to half of their stabiliser on models (common practice, no source)
_MOST_SHARE = 0.5
#: so many ways are told
_TOLD = 3


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
    share, ends = model.at(likely).share, bounds(model, likely, best, worst)
    if share is None or ends is None:
        return Figures()
    name = "elevons" if not model.on_tail else "elevator"
    number = Number(
        name="elevator_at_stall",
        title=f"{name} that the wing's highest lift takes, share of full throw",
        value=100 * share,
        unit="%",
        group=Group.STABILITY,
        low=100 * ends[0],
        high=100 * ends[1],
        usual="below 100; negative: nose down",
        source="moments about the balance at the highest lift; flaps by thin-aerofoil theory (Glauert);"
        " range: root of the sum of squares of what each uncertain value does alone",
        assumed=rows_used(plan, lift),
    )
    findings = () if round(share, 2) <= 1 else (_weak(plan, model, likely, share, name),)
    return Figures(numbers=(number,), findings=findings)


def _weak(plan: Planform, model: PitchModel, case: Case, share: float, name: str) -> Finding:
    several = (*model.on_tail, *model.on_wing)
    found = [one for one in _ways(plan, model, case, name) if one]
    # two changes at once are told where no single one is enough
    mends = [one for one in found if " and " not in one] or found
    mends = mends or [_nearest(plan, model, case, share, name)]
    percent = f"{math.ceil(round(100 * share, 3))} %"
    what = f"the {name} {'give' if name == 'elevons' else 'gives'} at full throw"
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
        mend=", or ".join(mends[:_TOLD]),
    )


def _ways(plan: Planform, model: PitchModel, case: Case, name: str) -> Iterator[str]:
    """Each change that is enough alone, the handiest first."""
    yield _throw(model, case)
    yield _aft(plan, model, case)
    yield _deep(model, case, name)
    if model.plan.tail is None:
        return
    yield from ways("a stabiliser", plan, lambda size, back: _enough(model, case, size=size, back_m=back))


def _enough(
    model: PitchModel, case: Case, *, size: float = 1.0, throw: float = 1.0, back_m: float = 0.0
) -> bool:
    share = model.at(case, size=size, throw=throw, back_m=back_m).share
    return share is not None and share <= 1


def _most_throw(model: PitchModel) -> float:
    return max(one.control.throw_deg for one in (*model.on_tail, *model.on_wing))


def _throw(model: PitchModel, case: Case) -> str:
    """The least whole degrees that do, when they are no more than can be had."""
    now = _most_throw(model)
    if now <= 0:
        return ""
    for degrees in range(math.ceil(now), int(MOST_THROW_DEG) + 1):
        if _enough(model, case, throw=degrees / now):
            return f"a throw of {degrees} degrees"
    return ""


def _aft_room_m(plan: Planform, model: PitchModel, case: Case) -> float:
    """How far aft the balance may move and keep a margin before the neutral point."""
    return max(model.neutral.lattice_m - LEAST * plan.wing.mean_chord_m - case.along_m, 0.0)


def _aft(plan: Planform, model: PitchModel, case: Case) -> str:
    """How far aft the balance would have to lie, when that leaves a margin before the neutral point."""
    room = min(1000 * _aft_room_m(plan, model, case), float(most_back_mm(plan)))
    for mm in range(1, int(room) + 1):
        if _enough(model, case._replace(along_m=case.along_m + mm / 1000)):
            return f"the balance {mm_text(mm, 0)} farther back"
    return ""


def _deepest(model: PitchModel) -> int:
    """By how many percent what moves may be made deeper, within half of the surface."""
    share = model.share_of_surface()
    return min(most_percent(), int(round(100 * (_MOST_SHARE / share - 1), 3))) if share > 0 else 0


def _deep(model: PitchModel, case: Case, name: str) -> str:
    """By how many percent a deeper elevator would do."""
    percent = least(_deepest(model), lambda one: _enough(model.deeper(1 + one / 100), case))
    if percent is None:
        return ""
    chord = max(one.control.chord_mm for one in (*model.on_tail, *model.on_wing))
    deep = mm_text(math.ceil(round(chord * (1 + percent / 100), 3)), 0)
    return f"{name} {percent} % deeper, {deep} in all"


def _nearest(plan: Planform, model: PitchModel, case: Case, share: float, name: str) -> str:
    """Of all ways at their most the one that helps most, with the share of what is lacking that it gives."""
    now, aft = _most_throw(model), _aft_room_m(plan, model, case)
    tried: list[tuple[str, Pitch]] = []
    if 0 < now < MOST_THROW_DEG:
        tried.append((f"a throw of {MOST_THROW_DEG:g} degrees", model.at(case, throw=MOST_THROW_DEG / now)))
    if 1000 * aft >= 1:
        moved = model.at(case._replace(along_m=case.along_m + int(1000 * aft) / 1000))
        tried.append((f"the balance {int(1000 * aft)} mm farther back", moved))
    if (percent := _deepest(model)) > 0:
        tried.append((f"{name} {percent} % deeper", model.deeper(1 + percent / 100).at(case)))
    if model.plan.tail is not None:
        back = most_back_mm(plan)
        words = f"a stabiliser {most_percent()} % larger and {back} mm farther back"
        tried.append((words, model.at(case, size=MOST_GROWTH, back_m=back / 1000)))
    helps = [(words, (share - one.share) / (share - 1)) for words, one in tried if one.share is not None]
    helps = [(words, part) for words, part in helps if part >= 0.005]
    if not helps:
        return "no way here helps: let it land faster than at its stall speed"
    words, part = max(helps, key=lambda one: round(one[1], 6))
    return f"the nearest: {words}, {math.floor(round(100 * min(part, 1.0), 3))} % of what is lacking"
