"""Whether a banked model comes back to level, and whether a rudder alone can bank it.  SI and degrees.

Source: M. Drela, Basic Aircraft Design Rules, MIT, 2006: B = (arm / span) x (dihedral in degrees / CL), above
5 stable, below 5 not; fin volume times B from 0.10 (marginal) to 0.20 (very effective) where a rudder banks
the model.  Limits: dihedral alone; what a wing above or below the body, or sweep, adds is not modelled.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe.values import Surface
from foamcut.findings import Finding, Level
from foamcut.flight.controls_shape import words_on
from foamcut.flight.figures import Figures, Group, Loaded, Number
from foamcut.flight.lift import Lift
from foamcut.flight.lift_numbers import APPROACH
from foamcut.flight.neutral_margin import DRELA
from foamcut.flight.planform import Planform
from foamcut.flight.planform_numbers import sweep_deg
from foamcut.flight.stability_reach import ways
from foamcut.flight.stability_steer import aileron_words
from foamcut.flight.stability_tail import FIN_VOLUME, NEARLY, Tail, fin_volume
from foamcut.units import decimal_text

#: B that is neutral, and that does with ailerons (judgement)
_NEUTRAL, _WITH_AILERONS = 5.0, 1.0
#: fin volume times B: marginal, very effective
_AUTHORITY = (0.10, 0.20)
#: what does without ailerons where the wing stands above the balance (judgement)
_HIGH_WING = 3.0
#: a wing swept back more has dihedral effect of its own (judgement)
_SWEPT_DEG = 10.0
#: the most that is usual without ailerons (from memory)
_USUAL_DEG = 8.0
#: more dihedral than that is no mend: the airframe tells it as odd (from memory)
_MOST_DEG = 10.0
_NOT_COUNTED = "what a high or low wing adds is not counted"


def equivalent_dihedral_deg(surface: Surface) -> float:
    """The dihedral of a plain V that rolls as much in a sideslip: of several panels their weighted mean.

    Method: a sideslip turns the air by its angle times the dihedral of each strip, whose lift has its place
    out as arm: integral(dihedral c y dy) / integral(c y dy).  Own derivation from strip theory.  Limits:
    small angles; the lift of a wing of finite span spreads over its neighbours.
    """
    weighed = total = y = 0.0
    for a, b in pairwise(surface.stations):
        dy = (b.out_mm - a.out_mm) * math.cos(math.radians(a.dihedral_deg))
        c0, c1 = a.chord_mm, b.chord_mm
        moment = dy * (y * (c0 + c1) / 2 + dy * (c0 + 2 * c1) / 6)
        weighed += moment * a.dihedral_deg
        total += moment
        y += dy
    return weighed / total if total > 0 else 0.0


def spiral_parameter(arm_m: float, span_m: float, dihedral_deg: float, cl: float) -> float:
    """Drela's B; the arm runs from the centre of gravity to the quarter point of the fin.

    >>> round(spiral_parameter(0.558, 1.0, 4.0, 0.39), 2)
    5.72
    """
    return arm_m / span_m * dihedral_deg / cl


def banks_by_rudder(plan: Planform) -> bool:
    """Whether nothing on the wings rolls the model: no ailerons and no elevons."""
    level = [one.surface for one in plan.all_level]
    return not {"aileron", "elevon"} & set(words_on(level))


def _rudder(plan: Planform, tail: Tail) -> bool:
    """Whether anything yaws the model: a rudder, or the controls of a V tail."""
    several = [one.surface for one in (plan.tail, *plan.fins, *plan.others) if one is not None]
    mixed = tail.vee and plan.tail is not None and bool(plan.tail.surface.controls)
    return mixed or "rudder" in words_on(several)


def roll_figures(plan: Planform, tail: Tail, now: Loaded | None, lift: Lift | None) -> Figures:
    """Equivalent dihedral, spiral parameter, roll authority of models without ailerons, with advice.

    The lift coefficient is that of level flight at 1.3 times the stall speed: the highest over 1.3 squared.
    """
    dihedral = equivalent_dihedral_deg(plan.wing.surface)
    numbers = [
        Number(
            name="equivalent_dihedral",
            title="dihedral of a plain V with as much effect",
            value=dihedral,
            unit="deg",
            group=Group.STABILITY,
            usual="" if not banks_by_rudder(plan) else "5 to 8 without ailerons (from memory)",
            source="mean over the wing, weighted by chord times place out (own derivation, strip theory)",
        )
    ]
    volume = fin_volume(plan, tail)
    if now is None or lift is None or volume is None or min(lift.cl_max) <= 0 or plan.wing.span_m <= 0:
        return Figures(numbers=tuple(numbers))
    arm = tail.yaw_arm_m + plan.wing.quarter_m - now.at[0] / 1000
    if arm <= 0:  # a fin ahead of the centre of gravity has its own advice
        return Figures(numbers=tuple(numbers))
    usual_b, least, most = _several(arm, plan.wing.span_m, dihedral, lift)
    numbers.append(
        Number(
            name="spiral_parameter",
            title="spiral parameter at 1.3 x stall speed",
            value=usual_b,
            unit="",
            group=Group.STABILITY,
            low=least,
            high=most,
            usual=f"above 5 stable ({DRELA}); 1 to 3 does with ailerons (judgement)",
            source=f"{DRELA}: arm from balance to fin / span x dihedral / lift coefficient;"
            " a high or low wing and sweep are not modelled",
            assumed=lift.assumed,
        )
    )
    if not banks_by_rudder(plan):
        need = _needed(_WITH_AILERONS, arm, plan, lift)
        found = _with_ailerons(plan, now, usual_b, most, need)
        return Figures(numbers=tuple(numbers), findings=tuple(found))
    rudder = _rudder(plan, tail)
    if rudder:
        numbers.append(
            Number(
                name="roll_authority",
                title="roll by rudder alone: volume of the fin x spiral parameter",
                value=volume * usual_b,
                unit="",
                group=Group.STABILITY,
                low=min(volume * least, volume * most),
                high=max(volume * least, volume * most),
                usual=f"0.10 marginal, 0.20 very effective ({DRELA})",
                source=DRELA,
                assumed=lift.assumed,
            )
        )
    above = 1000 * plan.wing.up_m > now.at[2]
    enough = _HIGH_WING if above else _NEUTRAL
    banked = _Banked(volume=volume, yaw_arm_m=tail.yaw_arm_m, arm_m=arm, per_b=_per_b(arm, plan, lift))
    found = _weak_rudder(plan, banked, usual_b, enough) if rudder else []
    if not found and round(most, 2) < _NEUTRAL and round(usual_b, 2) < enough:
        found = [_banks_on(plan, usual_b, _needed(enough, arm, plan, lift))]
    return Figures(numbers=tuple(numbers), findings=tuple(found))


def _cl(cl_max: float) -> float:
    return cl_max / APPROACH**2


def _several(arm: float, span: float, dihedral: float, lift: Lift) -> tuple[float, float, float]:
    """B: usual, least, most."""
    usual, *ends = (spiral_parameter(arm, span, dihedral, _cl(cl)) for cl in lift.cl_max)
    return usual, min(usual, *ends), max(usual, *ends)


def _per_b(arm: float, plan: Planform, lift: Lift) -> float:
    """The dihedral that gives a B of 1, degrees."""
    return _cl(lift.cl_max[0]) * plan.wing.span_m / arm


def _needed(b: float, arm: float, plan: Planform, lift: Lift) -> float:
    """The dihedral that gives a B, degrees, up to the next half."""
    return _half_deg(b * _per_b(arm, plan, lift))


def _half_deg(exact: float) -> float:
    return math.ceil(round(2 * exact, 3)) / 2


def _with_ailerons(plan: Planform, now: Loaded, b: float, most: float, need: float) -> list[Finding]:
    """Told where B is below 1 and neither a wing above the balance nor sweep helps."""
    above = 1000 * plan.wing.up_m > now.at[2]
    if round(most, 3) >= _WITH_AILERONS or (
        round(b, 3) >= 0 and (above or sweep_deg(plan.wing) > _SWEPT_DEG)
    ):
        return []
    return [
        Finding(
            code="spiral",
            level=Level.NOTE,
            where=plan.wing.surface.stations[0].key,
            text=f"left alone in a bank it tends to bank more: spiral parameter {decimal_text(b)}"
            f" ({_NOT_COUNTED})",
            value=decimal_text(b),
            range="1 to 3 with ailerons, above 5 without",
            source=f"{DRELA}; with ailerons: judgement",
            mend=f"a dihedral of {decimal_text(need)} deg, or steer out of banks with the ailerons",
        )
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Banked:
    """What a rudder banks by: the fin's volume, its arms from the wing and from the balance.

    `per_b` is the dihedral that gives a B of 1, degrees.
    """

    volume: float
    yaw_arm_m: float
    arm_m: float
    per_b: float

    def authority(self, dihedral: float, size: float = 1.0, back: float = 0.0) -> float:
        """Volume times B with another dihedral, degrees, a fin so many times as large, so far back, m."""
        b = dihedral / self.per_b * (self.arm_m + back) / self.arm_m
        return self.volume * size * (self.yaw_arm_m + back) / self.yaw_arm_m * b


def _weak_rudder(plan: Planform, banked: _Banked, b: float, enough: float) -> list[Finding]:
    """Told where a rudder alone banks the model weakly; the mend brings it back to level too."""
    authority = banked.volume * b
    if banked.volume <= 0 or round(authority, 3) >= _AUTHORITY[0]:
        return []
    return [
        Finding(
            code="roll-authority",
            level=Level.WARNING if authority < NEARLY * _AUTHORITY[0] else Level.NOTE,
            where=plan.wing.surface.stations[0].key,
            text="without ailerons the rudder banks it weakly: volume of the fin x spiral parameter is"
            f" {decimal_text(authority, 3)} ({_NOT_COUNTED})",
            value=decimal_text(authority, 3),
            range="0.10 (marginal) to 0.20 (very effective)",
            source=DRELA,
            mend=_roll_mend(plan, banked, enough),
        )
    ]


def _roll_mend(plan: Planform, banked: _Banked, enough: float) -> str:
    """More dihedral; where that would be more than is usual, a larger fin or a longer tail with it.

    Ailerons are the other way, and the only one where a fin would be larger than is usual.
    """
    need = _half_deg(max(enough, _AUTHORITY[0] / banked.volume) * banked.per_b)
    if need <= _USUAL_DEG:
        return _rise(plan, need)
    have = equivalent_dihedral_deg(plan.wing.surface)
    at_most = max(have, _USUAL_DEG)

    def does(size: float, back: float) -> bool:
        fin = banked.volume * size * (banked.yaw_arm_m + back) / banked.yaw_arm_m
        does_it = round(banked.authority(at_most, size, back), 6) >= _AUTHORITY[0]
        return does_it and (fin <= FIN_VOLUME[1] or size == 1.0)

    ailerons = aileron_words(plan)
    if does(1.0, 0.0):
        return f"{_rise(plan, need)}, or {ailerons}"
    rise = f"{_rise(plan, at_most)} and " if at_most > have else ""
    found = list(ways("a fin", plan, does))
    return f"{rise}{' or '.join(found)}; or {ailerons}" if found else ailerons


def _banks_on(plan: Planform, b: float, need: float) -> Finding:
    """A model without ailerons that does not come back to level."""
    return Finding(
        code="spiral",
        level=Level.NOTE,
        where=plan.wing.surface.stations[0].key,
        text=f"left alone in a bank it tends to bank more: spiral parameter {decimal_text(b)}, without"
        f" ailerons ({_NOT_COUNTED})",
        value=decimal_text(b),
        range="above 5",
        source=DRELA,
        mend=_rise(plan, need) if need <= _MOST_DEG else aileron_words(plan),
    )


def _rise(plan: Planform, need: float) -> str:
    """The dihedral that a wing needs, as what is to be added to every panel."""
    more = max(need - equivalent_dihedral_deg(plan.wing.surface), 0.5)
    mend = f"{decimal_text(more)} deg more dihedral on each side"
    if len(plan.wing.surface.stations) == 2:
        mend = f"{mend} ({decimal_text(need)} deg in all)"
    return mend
