"""Advice on one failed motor of several: how far the rudder holds it, and each way that mends it."""

from foamcut.findings import Finding, Level
from foamcut.flight.air import Air
from foamcut.flight.lift_numbers import FLIGHT
from foamcut.flight.lift_values import Lift
from foamcut.flight.planform import Planform
from foamcut.flight.power_hold import LEAST, Failing, pull_of, rudders
from foamcut.flight.stability_tail import is_vee
from foamcut.units import decimal_text, mm_text

#: what a rudder can be turned to at most (textbook shares, from memory)
_MOST_DEG = 30.0
#: a fin more than so many times larger is another design
_MOST_LARGER = 2.0


def out_finding(worst: Failing, plan: Planform, air: Air, lift: Lift, speed: float | None) -> Finding:
    """Above which speed it is held (None: at none); a warning where half of the thrust is not."""
    name, stall = worst.drive.engine.name, lift.stall_m_s[0]
    held = speed is not None and round(speed - LEAST * stall, 3) <= 0
    above = "at no speed" if speed is None else f"only above {decimal_text(speed, 1)} m/s"
    caution = "close the throttle at once if one stops, land straight ahead"
    return Finding(
        code="motor-out",
        level=Level.NOTE if _held_by_half(worst, air, lift) else Level.WARNING,
        where=worst.drive.engine.key,
        text=(
            f'one motor "{name}" stopped, the other full: full rudder holds the line {above}; it stalls at'
            f" {decimal_text(stall, 1)} m/s"
        ),
        value="none" if speed is None else f"{decimal_text(speed, 1)} m/s",
        range=f"up to {decimal_text(LEAST * stall, 1)} m/s, 1.2 x stall",
        source="from memory; estimate without bank and without the drag of the stopped propeller",
        mend=caution if held else f"{caution}; {_mend(worst, plan, air, lift)}",
    )


def _held_by_half(worst: Failing, air: Air, lift: Lift) -> bool:
    """Whether the rudder holds half of the static thrust of the other motor in flight (from memory)."""
    thrust = worst.drive.thrust_n
    pressure = air.density_kg_m3 / 2 * (FLIGHT * lift.stall_m_s[0]) ** 2
    return thrust is None or round(pressure * worst.hold_m3.value - thrust.value / 2 * worst.lever_m, 6) >= 0


def _mend(worst: Failing, plan: Planform, air: Air, lift: Lift) -> str:
    """What would hold it at 1.2 x stall: each way alone."""
    motor, thrust = worst.drive.engine.motor, worst.drive.thrust_n
    if motor is None or thrust is None:
        return ""
    speed = LEAST * lift.stall_m_s[0]
    has = air.density_kg_m3 / 2 * speed**2 * worst.hold_m3.value
    needs = pull_of(worst.drive, thrust.value, air.density_kg_m3).at(speed) * worst.lever_m
    ways = [*_larger(plan, needs / has), *_throw(worst, plan, needs / has), *_closer(worst, 1 - has / needs)]
    share = (has / needs) ** 1.5
    ways.append(f"about {decimal_text(share * 100, 0)} % of the power on each motor until it is faster")
    return f"it holds with {'; or '.join(ways)}"


def _larger(plan: Planform, factor: float) -> list[str]:
    """A larger fin or V tail, as long as it would still be one."""
    if factor > _MOST_LARGER:
        return []
    several = ["fin and rudder"] * bool(plan.fins) + ["V tail"] * is_vee(plan.tail)
    return [f"{' and '.join(several)} {decimal_text((factor - 1) * 100 + 0.5, 0)} % larger"]


def _throw(worst: Failing, plan: Planform, factor: float) -> list[str]:
    """More throw, as long as no rudder goes beyond what works and no fin beyond what it bears."""
    widest = max((one.control.throw_deg for one in rudders(plan)), default=0.0)
    hold = worst.hold_m3
    if widest <= 0 or widest * factor > _MOST_DEG or round(hold.value * factor - hold.high, 9) > 0:
        return []
    what = "rudder throw" if plan.fins else "a throw of"
    return [f"{what} {decimal_text(widest * factor, 0)} instead of {decimal_text(widest, 0)} deg"]


def _closer(worst: Failing, share: float) -> list[str]:
    """Motors closer in, where propellers then stay clear."""
    inwards = worst.lever_m * 1000 * share
    return [] if inwards > worst.room_mm else [f"the motors {mm_text(inwards, 0)} closer in"]


def no_rudder(worst: Failing, plan: Planform) -> Finding:
    """Said where no rudder behind the balance can hold anything."""
    where = plan.fins[0].surface.key if plan.fins else worst.drive.engine.key
    if not plan.fins and plan.tail is not None and is_vee(plan.tail):
        where = plan.tail.surface.key
    return Finding(
        code="motor-out",
        level=Level.WARNING,
        where=where,
        text=(
            f'with one motor "{worst.drive.engine.name}" stopped nothing holds the model straight: it has no'
            " rudder behind the balance"
        ),
        value="no rudder",
        range="a rudder that holds the line at 1.2 x stall",
        source="from memory",
        mend="give a fin a rudder; without one keep the throttle low until it is fast, and close it at once"
        " if one stops",
    )
