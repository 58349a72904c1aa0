"""Where servos that sit in panels are on the model: in the middle of the board that is cut for them.  mm.

How far a servo stands out of its board is not known and is left out: some mm upwards or downwards.
"""

from foamcut.airframe.body_profile import Profile
from foamcut.airframe.motor_seat import body_named
from foamcut.airframe.planform import panel_beside
from foamcut.airframe.values import Body, Inputs, Role, Servo, Surface
from foamcut.flat.drawn import Hand
from foamcut.flight.figures import Vector
from foamcut.flight.values import Model

#: places along, and to both sides, that say the same
_SAME_MM = 0.1


def servo_places(servo: Servo, model: Model) -> tuple[Vector | None, ...]:
    """The place of each servo of one entry, right before left; one None where its panel is not known.

    A surface that is made in halves takes one in each, unless another entry gives that of the other side.
    """
    word, _ = servo.on
    body = body_named(word, model.inputs)
    if body is not None:
        return (_in_body(servo, body),)
    surface = model.inputs.surface(word)
    if surface is None:
        return (None,)
    at = _in_surface(servo, surface)
    if surface.role is Role.FIN or not in_halves(surface, model) or _has_fellow(servo, model.inputs):
        return (at,)
    right = (at[0], abs(at[1]), at[2])
    return right, (right[0], 0.0 - right[1], right[2])


def in_halves(surface: Surface, model: Model) -> bool:
    """Whether a surface is made of a right and a left half."""
    starts = (f"{surface.name}-skin", f"{surface.name}-panel")
    return any(
        cut.piece.part.hand is Hand.RIGHT and cut.piece.part.name.startswith(starts) for cut in model.cuts
    )


def _has_fellow(servo: Servo, inputs: Inputs) -> bool:
    """Whether another entry gives the servo of the other side."""
    (along, out), on = servo.at, servo.on
    return any(
        other.on == on and abs(other.at[0] - along) <= _SAME_MM and abs(other.at[1] + out) <= _SAME_MM
        for other in inputs.servos
        if other is not servo
    )


def _in_surface(servo: Servo, surface: Surface) -> Vector:
    along, out = servo.at
    t = surface.material.thickness_mm
    if surface.role is Role.FIN:
        return along, 0.0, out
    panel, s = panel_beside(surface, abs(out))
    x, y, z = panel.point(0.0, s, t / 2)
    c = (along - x) / panel.aft[0]
    x, y, z = (at + c * way for at, way in zip((x, y, z), panel.aft, strict=True))
    return x, y if out >= 0 else 0.0 - y, z


def _in_body(servo: Servo, body: Body) -> Vector:
    """A side is cut for a servo on both hands, so that which of them has it is not known: on the middle."""
    word, (along, across) = servo.on[1], servo.at
    profile, t = Profile(body=body), body.material.thickness_mm
    if word == "side":
        return along, 0.0, across
    if word == "floor":
        return along, across, profile.floor(along) - t / 2
    if word.startswith("former-"):
        return _former_mm(word, body, along), 0.0, across
    return along, across, profile.under_cover(along) + t / 2


def _former_mm(word: str, body: Body, otherwise: float) -> float:
    """Where along the middle of a former's board is."""
    number = word.removeprefix("former-")
    if not number.isdecimal() or not 1 <= int(number) <= len(body.formers):
        return otherwise
    former = body.formers[int(number) - 1]
    board = former.material or body.material
    return former.at_mm + board.thickness_mm / 2
