"""The whole balance of a design: every question asked in turn, each told what those before it found."""

from foamcut.findings import Finding, Level
from foamcut.flight.aboard import room_findings
from foamcut.flight.air import air_at, air_figures
from foamcut.flight.controls import control_figures, throws
from foamcut.flight.figures import Figures, Group, Report
from foamcut.flight.lift import lift_figures, lift_of_wing
from foamcut.flight.loading import loaded, loading_figures, places
from foamcut.flight.loading_bare import left_out
from foamcut.flight.loading_lost import lost_findings
from foamcut.flight.loading_numbers import all_up
from foamcut.flight.loading_wish import aim_mm
from foamcut.flight.neutral import neutral_figures, neutral_of
from foamcut.flight.planform import planform, planform_figures
from foamcut.flight.power import power_figures
from foamcut.flight.stability import stability_figures
from foamcut.flight.strength import strength_figures
from foamcut.flight.values import Model, Setup
from foamcut.flight.weights import weighed
from foamcut.flight.wiring import wiring_findings

#: what comes first among findings; those of a level stay in the order in which questions are asked
_URGENT = (Level.STOP, Level.WARNING, Level.NOTE)


def report(model: Model, setup: Setup) -> Report:
    """Weight, balance and flight numbers of what is built, with advice."""
    weighing = weighed(model, setup)
    plan = planform(model.inputs)
    now = loaded(weighing.items, setup, plan)
    air = air_at(setup.site)
    rows = places(weighing.items, now, model, setup, plan) if now else ()
    lift = lift_of_wing(plan, now, air) if plan and now else None
    several = throws(plan) if plan else ()
    neutral = neutral_of(plan) if plan else None
    points_m = neutral.points_m if neutral else ()
    figures = [Figures(findings=weighing.findings), Figures(findings=room_findings(model, setup))]
    if now:
        figures.append(loading_figures(weighing.items, now, rows, model, setup, plan, points_m))
    elif weighing.items:
        lost = tuple(lost_findings(weighing.items, now, model, plan))
        figures.append(Figures(numbers=(all_up(weighing.items),), findings=lost))
    if plan is None or neutral is None:
        figures.append(Figures(findings=(_no_wing(model),)))
    else:
        led = now and any(one.code == "balance-target" for one in figures[-1].findings)
        led_to_mm = aim_mm(now, plan, points_m) if now and led else None
        is_bare = bool(left_out(model, setup))
        figures += [
            planform_figures(plan),
            neutral_figures(plan, neutral, now, led_to_mm=led_to_mm, is_bare=is_bare),
            stability_figures(plan, now, neutral, lift),
            control_figures(plan, several),
            air_figures(setup.site, air),
        ]
    if plan and now and lift:
        figures += [
            lift_figures(plan, now, air, lift),
            strength_figures(model, setup, plan, now),
        ]
    figures.append(power_figures(model, setup, air, plan, now, lift))
    figures.append(Figures(findings=wiring_findings(model, setup)))
    found = Figures.of(figures)
    order = list(Group)
    return Report(
        numbers=tuple(sorted(found.numbers, key=lambda number: order.index(number.group))),
        items=weighing.items,
        loaded=now,
        places=rows,
        throws=several,
        findings=tuple(sorted(dict.fromkeys(found.findings), key=lambda one: _URGENT.index(one.level))),
    )


def _no_wing(model: Model) -> Finding:
    """Why there is nothing but weight and balance."""
    wing = model.inputs.wing
    if wing is None:
        text = "there is no wing, so that nothing but weight and balance is worked out"
        mend = 'an aeroplane has a [surface.*] with role = "wing"'
    else:
        text = "seen from above the wing has no area, so that nothing but weight and balance is worked out"
        mend = "make its span and chords larger"
    where = wing.key if wing else "plan"
    return Finding(code="no-wing", level=Level.NOTE, where=where, text=text, mend=mend)
