"""How far out a wing motor sits, or how much room its propeller has; where a nose motor sits.  mm.

With a body as wide as W and a propeller of diameter D: out = W/2 + D/2 + clearance (trade practice).
"""

from dataclasses import replace

from foamcut.airframe.made import Made
from foamcut.airframe.motor_seat import body_named, front_middle
from foamcut.airframe.values import Inputs, Motor
from foamcut.errors import Refusal
from foamcut.units import mm_text as _mm

#: between propeller and body when neither it nor the place is given (common practice, no source)
USUAL_MM = 20.0
#: two numbers that say the same may differ so much: what a sketch is read to
_SAME_MM = 0.5


def placed(inputs: Inputs) -> tuple[Inputs, Made]:
    """The inputs with every motor's place worked out, and refusals where that cannot be done."""
    motors, made = [], []
    for motor in inputs.motors:
        one, said = _wing(motor, inputs) if motor.on_wing else _nose(motor, inputs)
        motors.append(one)
        made.append(said)
    return replace(inputs, motors=tuple(motors)), Made.of(made)


def clearance(motor: Motor, inputs: Inputs) -> float | None:
    """Between a wing motor's propeller and the side of the body; None without either."""
    if motor.out_mm is None or not inputs.bodies:
        return None
    return motor.out_mm - _least(motor, inputs.bodies[0].width_mm)


def _least(motor: Motor, width: float) -> float:
    """How far out the propeller just touches the body."""
    return width / 2 + motor.propeller.diameter_mm / 2


def _nose(motor: Motor, inputs: Inputs) -> tuple[Motor, Made]:
    body = body_named(motor.on, inputs)
    if body is None:
        text = f'the motor sits on "{motor.on}", which is no body: give a [body.{motor.on}], or name one'
        return motor, Made(refusals=(Refusal(key=motor.key, text=text),))
    return (motor if motor.at_mm is not None else replace(motor, at_mm=front_middle(body))), Made()


def _wing(motor: Motor, inputs: Inputs) -> tuple[Motor, Made]:
    if not inputs.bodies:
        if motor.out_mm is not None:
            return motor, Made()
        text = (
            "there is no body to keep clear of, so that the motor's place cannot be worked out: say how far"
            " its axis lies out from the centre plane"
        )
        return motor, Made(refusals=(Refusal(key=f"{motor.key}.out", text=text),))
    body = inputs.bodies[0]
    least = _least(motor, body.width_mm)
    asked = USUAL_MM if motor.clearance_mm is None else motor.clearance_mm
    if motor.out_mm is None:
        return replace(motor, out_mm=least + asked), Made()
    if motor.clearance_mm is None or abs(motor.out_mm - least - asked) <= _SAME_MM:
        return motor, Made()
    text = (
        f"{_mm(motor.out_mm)} out leaves {_mm(motor.out_mm - least)} between the propeller,"
        f" {_mm(motor.propeller.diameter_mm)} across, and the body, {_mm(body.width_mm)} wide"
        f" ({body.key}.width); the clearance asked for is {_mm(asked)}: leave one of the two out, or put the"
        f" motor {_mm(least + asked)} out"
    )
    return motor, Made(refusals=(Refusal(key=f"{motor.key}.clearance", text=text),))
