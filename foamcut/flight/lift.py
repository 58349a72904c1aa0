"""Loadings, Reynolds number, stall speed as a range by kind of section.  SI."""

import math
from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe.values import Build, Role
from foamcut.flight.air import Air
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Figures, Loaded
from foamcut.flight.lift_advice import lift_findings
from foamcut.flight.lift_numbers import lift_numbers
from foamcut.flight.lift_values import GRAVITY_M_S2, Lift
from foamcut.flight.planform import Lifting, Planform

__all__ = ["Lift", "lift_figures", "lift_of_wing", "stall_m_s"]

#: which row of usual values bounds the lift of a section
_ROWS = {Build.FOLDED: "cl_max_folded", Build.FLAT: "cl_max_flat"}
_SHARE = "cl_max_share"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bears:
    """Lift coefficient times area of one wing: usual, low, high, m2."""

    usual: float
    low: float
    high: float


def lift_of_wing(plan: Planform, now: Loaded, air: Air) -> Lift | None:
    """What the wing bears in this air; None without a shadow of the wing, or a weight.

    Highest lift coefficient of a wing: 0.9 x that of its section x cosine of the sweep of the quarter line
    (D. Raymer, Aircraft Design: A Conceptual Approach, ch. 12, from memory).  Several wings bear together,
    each by its area.  Limits: no flaps, no propeller blowing over the wing, stabiliser left out; sections at
    Reynolds numbers of 50 000 to 200 000.
    """
    wings = tuple(one for one in plan.all_level if one.surface.role is Role.WING and one.area_m2 > 0)
    area = sum(one.area_m2 for one in wings)
    if area <= 0 or now.mass_g <= 0 or air.density_kg_m3 <= 0:
        return None
    each = [_bears(one) for one in wings]
    usual, low, high = (
        sum(one.usual for one in each) / area,
        sum(one.low for one in each) / area,
        sum(one.high for one in each) / area,
    )
    if low <= 0:
        return None
    rho = air.density_kg_m3
    return Lift(
        cl_max=(usual, low, high),
        stall_m_s=(
            stall_m_s(now.mass_g / 1000, area, usual, rho),
            stall_m_s(now.low_g / 1000, area, high, rho),
            stall_m_s(now.high_g / 1000, area, low, rho),
        ),
        loading_kg_m2=now.mass_g / 1000 / area,
        assumed=(*dict.fromkeys(_ROWS[one.surface.build] for one in wings), _SHARE),
    )


def stall_m_s(mass_kg: float, area_m2: float, cl_max: float, density_kg_m3: float) -> float:
    """Speed at which the wing just bears the weight: sqrt(2 W / (rho S CL)).

    >>> round(stall_m_s(0.5, 0.2, 0.8, 1.225), 2)
    7.07
    """
    return math.sqrt(2 * max(mass_kg, 0.0) * GRAVITY_M_S2 / (density_kg_m3 * area_m2 * cl_max))


def _bears(wing: Lifting) -> _Bears:
    section, share = ASSUMED[_ROWS[wing.surface.build]], ASSUMED[_SHARE]
    swept = quarter_cosine(wing) * wing.area_m2
    return _Bears(
        usual=section.value * share.value * swept,
        low=section.low * share.low * swept,
        high=section.high * share.high * swept,
    )


def quarter_cosine(wing: Lifting) -> float:
    """Cosine of the sweep of the quarter line, the panels' mean by area; 1 for a wing of one section."""
    total = area = 0.0
    for a, b in pairwise(wing.crosses):
        out = math.hypot(b.leading_m[1] - a.leading_m[1], b.leading_m[2] - a.leading_m[2])
        back = b.leading_m[0] + b.chord_m / 4 - a.leading_m[0] - a.chord_m / 4
        panel = (a.chord_m + b.chord_m) / 2 * out
        if panel > 0:
            total += panel * out / math.hypot(out, back)
            area += panel
    return total / area if area > 0 else 1.0


def lift_figures(plan: Planform, now: Loaded, air: Air, lift: Lift) -> Figures:
    """Loadings, Reynolds number and speeds, and advice; the weight against where authorities ask for more."""
    return Figures(
        numbers=lift_numbers(plan, now, air, lift),
        findings=lift_findings(plan, now, air, lift),
    )
