"""One failed motor of several: its partner turns the model, the rudder holds it above some speed.  SI."""

from collections.abc import Sequence

from foamcut.airframe.motor_places import clearance
from foamcut.airframe.motor_seat import discs_of
from foamcut.airframe.values import Inputs, Motor
from foamcut.flight.air import Air
from foamcut.flight.figures import Figures, Loaded, Number
from foamcut.flight.lift_values import Lift
from foamcut.flight.planform import Planform
from foamcut.flight.power_drives import Drive, Span
from foamcut.flight.power_hold import END, LEAST, Failing, control_speed, lever_m, pull_of, rudder_hold
from foamcut.flight.power_numbers import number
from foamcut.flight.power_out_advice import no_rudder, out_finding
from foamcut.units import decimal_text

#: what is kept free beside a body (15 to 25 mm is usual, from memory)
_GAP_MM = 15.0
_METHOD = (
    "full thrust of the other motor at that speed (disc theory, blades' end) x its distance, against"
    " fin and rudder without sideslip: slope of a low surface, thin-aerofoil theory"
)


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
        return Figures(findings=(no_rudder(worst, plan),))
    return _judged(worst, plan, air, lift)


def _worst(drives: Sequence[Drive], inputs: Inputs, plan: Planform, now: Loaded) -> Failing | None:
    """Of all motors off the centre plane the one whose partner turns the model most, standing still."""
    found = []
    for one in drives:
        motor = one.engine.motor
        if motor is None or not motor.on_wing or motor.out_mm is None:
            continue
        discs = discs_of(motor, inputs)
        levers = [lever_m(disc, now.at) for disc in discs] or [(motor.out_mm + abs(now.at[1])) / 1000]
        lever = max(abs(each) for each in levers)
        moment = lever * (one.thrust_n.value if one.thrust_n else 0.0)
        found.append((round(moment, 9), one, lever, _room(motor, inputs)))
    if not found:
        return None
    _, drive, lever, room = max(found, key=lambda each: each[0])
    return Failing(drive=drive, lever_m=lever, room_mm=room, hold_m3=rudder_hold(plan, now.at))


def _room(motor: Motor, inputs: Inputs) -> float:
    beside = clearance(motor, inputs)
    if beside is None:  # no body: the propellers come near each other
        beside = (motor.out_mm or 0.0) - motor.propeller.diameter_mm / 2
    return beside - _GAP_MM


def _judged(worst: Failing, plan: Planform, air: Air, lift: Lift) -> Figures:
    motor, thrust = worst.drive.engine.motor, worst.drive.thrust_n
    if motor is None or thrust is None:
        return Figures()
    speeds = [
        control_speed(pull_of(worst.drive, force, air.density_kg_m3), worst.lever_m, hold)
        for force, hold in (
            (thrust.value, worst.hold_m3.value),
            (thrust.low, worst.hold_m3.high),
            (thrust.high, worst.hold_m3.low),
        )
    ]
    value, low, high = speeds
    numbers = (
        _numbers(worst, lift, Span(value, low, high if high is not None else value))
        if (value is not None and low is not None)
        else ()
    )
    return Figures(numbers=numbers, findings=(out_finding(worst, plan, air, lift, value),))


def _numbers(worst: Failing, lift: Lift, speed: Span) -> tuple[Number, ...]:
    turning = worst.drive.turning
    rows = (
        *worst.drive.thrust_assumed,
        "flap_effect",
        "cl_max_flat",
        *((END, *turning.turns_assumed) if turning and turning.pitch_m_s else ()),
    )
    return (
        number(
            "control_speed",
            "one motor stopped, the other full: line held above",
            speed,
            "m/s",
            _METHOD,
            usual=f"below {decimal_text(LEAST * lift.stall_m_s[0], 1)}, 1.2 x stall (from memory)",
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
