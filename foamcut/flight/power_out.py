"""One failed motor of several: its partner turns the model, the rudder holds it above some speed.  SI."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.airframe.meets import Disc
from foamcut.airframe.motor_places import clearance
from foamcut.airframe.motor_seat import discs_of
from foamcut.airframe.values import Inputs, Motor
from foamcut.findings import Finding, Level
from foamcut.flight.air import Air
from foamcut.flight.controls_flap import lift_share
from foamcut.flight.controls_shape import board_mm2, hung
from foamcut.flight.figures import Figures, Loaded, Number, Vector
from foamcut.flight.lift_values import Lift
from foamcut.flight.planform import Lifting, Planform
from foamcut.flight.power_drives import Drive, Span, row
from foamcut.flight.power_formulas import bladed_share, ideal_power, moving_thrust, side_slope
from foamcut.flight.power_numbers import number
from foamcut.units import decimal_text, mm_text

#: the model should be held on its line down to so many times its stall speed (full-size practice for twins,
#: 1.2), against half of the static thrust at the speed of flight, 1.5 (both from memory)
_LEAST, _FLIGHT = 1.2, 1.5
#: no plane is flown faster; without a root below, none is given
_FASTEST_M_S = 100.0
_HALVINGS = 60
_END = "thrust_end"
#: what a rudder can be turned to at most (textbook shares, from memory), and the gap beside a body
_MOST_DEG = 30.0
_GAP_MM = 15.0
#: a fin more than so many times larger is another design
_MOST_LARGER = 2.0
_METHOD = (
    "full thrust of the other motor at that speed (disc theory, blades' end) x its distance, against"
    " fin and rudder without sideslip: slope of a low surface, thin-aerofoil theory"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Failing:
    """The worst motor to fail: its partner's lever about the centre of gravity, and the rudder's hold.

    `room_mm` is how far in the motors may be moved before propellers come near anything; `hold_m3` is the
    yawing moment of the rudder at full throw over dynamic pressure: (usual, low, high).
    """

    drive: Drive
    lever_m: float
    room_mm: float
    hold_m3: Span


def motor_out(
    drives: Sequence[Drive],
    inputs: Inputs,
    air: Air,
    plan: Planform | None,
    now: Loaded | None,
    lift: Lift | None,
) -> Figures:
    """The speed below which the rudder cannot hold one failed motor, and what to do about it.

    Nothing where no motor stands off the centre plane, or weight or wing are not known.
    """
    if plan is None or now is None or lift is None or lift.stall_m_s[1] <= 0:
        return Figures()
    worst = _worst(drives, inputs, plan, now)
    if worst is None:
        return Figures()
    thrust = worst.drive.thrust_n
    if thrust is None:
        return Figures()
    if worst.hold_m3.low <= 0:
        return Figures(findings=(_no_rudder(worst, plan),))
    return _judged(worst, plan, air, lift)


def _worst(drives: Sequence[Drive], inputs: Inputs, plan: Planform, now: Loaded) -> Failing | None:
    """Of all motors off the centre plane the one whose partner turns the model most, standing still."""
    found = []
    for one in drives:
        motor = one.engine.motor
        if motor is None or not motor.on_wing or motor.out_mm is None:
            continue
        discs = discs_of(motor, inputs)
        lever = lever_m(discs[0], now.at) if discs else (motor.out_mm - now.at[1]) / 1000
        moment = abs(lever) * (one.thrust_n.value if one.thrust_n else 0.0)
        found.append((round(moment, 9), one, abs(lever), _room(motor, inputs)))
    if not found:
        return None
    _, drive, lever, room = max(found, key=lambda each: each[0])
    return Failing(drive=drive, lever_m=lever, room_mm=room, hold_m3=rudder_hold(plan, now.at))


def _room(motor: Motor, inputs: Inputs) -> float:
    beside = clearance(motor, inputs)
    if beside is None:  # no body: the propellers come near each other
        beside = (motor.out_mm or 0.0) - motor.propeller.diameter_mm / 2
    return beside - _GAP_MM


def lever_m(disc: Disc, gravity_mm: Vector) -> float:
    """Yawing moment of a disc's thrust about the centre of gravity, over the thrust; nose left: positive."""
    along, out = disc.middle[0] - gravity_mm[0], disc.middle[1] - gravity_mm[1]
    return (along * disc.forwards[1] - out * disc.forwards[0]) / 1000


def rudder_hold(plan: Planform, gravity_mm: Vector) -> Span:
    """Yawing moment of all rudders at full throw over dynamic pressure, m3; 0 without any.

    Side force = slope of the fin x share of its angle that the rudder turns it x throw, at the quarter point
    of the fin's mean chord.  Source: side slope see `side_slope`, share by thin-aerofoil theory.  Limits: the
    fin's own aspect ratio, no help of body and stabiliser; no bank, no propeller blast.  The usual and the
    low value are without sideslip; the high one is that of a model that has yawed until the fin bears the
    most that a flat plate does.
    """
    effect, most = row("flap_effect"), row("cl_max_flat")
    value = low = high = 0.0
    for fin in plan.fins:
        turned, arm = _turned(fin), fin.quarter_m - gravity_mm[0] / 1000
        if fin.area_m2 <= 0 or arm <= 0:
            continue
        lever = fin.area_m2 * arm
        slope = side_slope(fin.aspect_ratio) * turned
        value += lever * min(slope * effect.value, most.value)
        low += lever * min(slope * effect.low, most.low)
        high += lever * most.value
    return Span(value, low, high)


def _turned(fin: Lifting) -> float:
    """Angle of the whole fin that its rudders' full throw is worth, radians."""
    rudders = hung(fin.surface, "rudder")
    area = board_mm2(fin.surface)
    return sum(lift_share((one,), area) * math.radians(abs(one.control.throw_deg)) for one in rudders)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """A propeller's thrust over speed: static thrust N, diameter m, density kg/m3.

    `ends_m_s` is the speed at which it has none left; None where pitch or turns are not known.
    """

    static_n: float
    diameter_m: float
    density_kg_m3: float
    ends_m_s: float | None

    def at(self, speed_m_s: float) -> float:
        """The lesser of what a disc of the same power gives and what blades have left."""
        ideal = ideal_power(self.static_n, self.diameter_m, self.density_kg_m3)
        disc = moving_thrust(ideal, self.diameter_m, self.density_kg_m3, speed_m_s)
        if self.ends_m_s is None:
            return disc
        return min(disc, self.static_n * bladed_share(speed_m_s, self.ends_m_s))


def _pull(drive: Drive, thrust_n: float, density: float) -> Pull:
    motor, turning = drive.engine.motor, drive.turning
    return Pull(
        static_n=thrust_n,
        diameter_m=motor.propeller.diameter_mm / 1000 if motor else 0.0,
        density_kg_m3=density,
        ends_m_s=turning.pitch_m_s.value * row(_END).value if turning and turning.pitch_m_s else None,
    )


def control_speed(pull: Pull, lever: float, hold_m3: float) -> float | None:
    """Speed at which rudder and thrust balance, m/s: below it the rudder is too weak; None where none is.

    Thrust falls and the rudder's moment grows with speed, so that there is one such speed.
    """

    def over(speed: float) -> float:
        return pull.density_kg_m3 / 2 * speed**2 * hold_m3 - pull.at(speed) * lever

    if pull.static_n <= 0 or lever <= 0:
        return 0.0
    low, high = 0.0, _FASTEST_M_S
    if over(high) < 0:
        return None
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if over(middle) < 0 else (low, middle)
    return high


def _judged(worst: Failing, plan: Planform, air: Air, lift: Lift) -> Figures:
    motor, thrust = worst.drive.engine.motor, worst.drive.thrust_n
    if motor is None or thrust is None:
        return Figures()
    speeds = [
        control_speed(_pull(worst.drive, force, air.density_kg_m3), worst.lever_m, hold)
        for force, hold in (
            (thrust.value, worst.hold_m3.value),
            (thrust.value, worst.hold_m3.high),
            (thrust.high, worst.hold_m3.low),
        )
    ]
    value, low, high = speeds
    numbers = (
        _numbers(worst, lift, Span(value, low, high if high is not None else value))
        if (value is not None and low is not None)
        else ()
    )
    return Figures(numbers=numbers, findings=(_finding(worst, plan, air, lift, value),))


def _numbers(worst: Failing, lift: Lift, speed: Span) -> tuple[Number, ...]:
    turning = worst.drive.turning
    rows = (
        *worst.drive.thrust_assumed,
        "flap_effect",
        "cl_max_flat",
        *((_END, *turning.turns_assumed) if turning and turning.pitch_m_s else ()),
    )
    return (
        number(
            "control_speed",
            "one motor stopped, the other full: line held above",
            speed,
            "m/s",
            _METHOD,
            usual=f"below {decimal_text(_LEAST * lift.stall_m_s[0], 1)}, 1.2 x stall (from memory)",
            assumed=rows,
            at_most=worst.drive.at_most,
        ),
        number(
            "control_speed_ratio",
            "one motor stopped: that speed over stall speed",
            speed.over(Span(*lift.stall_m_s)),
            "",
            _METHOD,
            usual="below 1.2 (from memory)",
            assumed=(*rows, *lift.assumed),
            at_most=worst.drive.at_most,
        ),
    )


def _finding(worst: Failing, plan: Planform, air: Air, lift: Lift, speed: float | None) -> Finding:
    name, stall = worst.drive.engine.name, lift.stall_m_s[0]
    held = speed is not None and round(speed - _LEAST * stall, 3) <= 0
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
        range=f"up to {decimal_text(_LEAST * stall, 1)} m/s, 1.2 x stall",
        source="from memory; estimate without bank and without the drag of the stopped propeller",
        mend=caution if held else f"{caution}; {_mend(worst, plan, air, lift)}",
    )


def _held_by_half(worst: Failing, air: Air, lift: Lift) -> bool:
    """Whether the rudder holds half of the static thrust of the other motor in flight."""
    thrust = worst.drive.thrust_n
    pressure = air.density_kg_m3 / 2 * (_FLIGHT * lift.stall_m_s[0]) ** 2
    return thrust is None or round(pressure * worst.hold_m3.value - thrust.value / 2 * worst.lever_m, 6) >= 0


def _mend(worst: Failing, plan: Planform, air: Air, lift: Lift) -> str:
    """What would hold it at 1.2 x stall: each way alone."""
    motor, thrust = worst.drive.engine.motor, worst.drive.thrust_n
    if motor is None or thrust is None:
        return ""
    speed = _LEAST * lift.stall_m_s[0]
    has = air.density_kg_m3 / 2 * speed**2 * worst.hold_m3.value
    needs = _pull(worst.drive, thrust.value, air.density_kg_m3).at(speed) * worst.lever_m
    ways = [*_larger(needs / has), *_throw(plan, needs / has), *_closer(worst, 1 - has / needs)]
    share = (has / needs) ** 1.5
    ways.append(f"about {decimal_text(share * 100, 0)} % of the power on each motor until it is faster")
    return f"it holds with {'; or '.join(ways)}"


def _larger(factor: float) -> list[str]:
    """A larger fin, as long as it would still be one."""
    if factor > _MOST_LARGER:
        return []
    return [f"fin and rudder {decimal_text((factor - 1) * 100 + 0.5, 0)} % larger"]


def _throw(plan: Planform, factor: float) -> list[str]:
    """More throw, as long as no rudder goes beyond what works."""
    throws = [one.throw_deg for fin in plan.fins for one in fin.surface.controls if one.word == "rudder"]
    widest = max(throws, default=0.0)
    if widest <= 0 or widest * factor > _MOST_DEG:
        return []
    return [f"rudder throw {decimal_text(widest * factor, 0)} instead of {decimal_text(widest, 0)} deg"]


def _closer(worst: Failing, share: float) -> list[str]:
    """Motors closer in, where propellers then stay clear."""
    inwards = worst.lever_m * 1000 * share
    return [] if inwards > worst.room_mm else [f"the motors {mm_text(inwards, 0)} closer in"]


def _no_rudder(worst: Failing, plan: Planform) -> Finding:
    where = plan.fins[0].surface.key if plan.fins else worst.drive.engine.key
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
