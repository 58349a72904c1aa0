"""How far propeller tips stay from the body, from the plane of the belly and from each other.  mm.

What is too close is said with the motor mounts; here are the numbers, beside practice and the rule for
full-size aeroplanes.
"""

from collections.abc import Sequence

from foamcut.airframe.meets import Disc
from foamcut.airframe.motor_clear import lowest
from foamcut.airframe.motor_places import clearance
from foamcut.airframe.motor_seat import discs_of
from foamcut.airframe.values import Inputs
from foamcut.flight.figures import Number
from foamcut.flight.power_drives import Drive, Span
from foamcut.flight.power_numbers import number

_BODY = "15 to 25 mm, never under 10 (from memory); full size 25 mm radial, 14 CFR 23.925 before 2017"
_GROUND = (
    "25 mm or an eighth of the diameter with a landing gear (from memory); full size 180 mm with a nose"
    " wheel, 230 mm with a tail wheel, 14 CFR 23.925 before 2017; launched by hand: fold it or stop it level"
)
_SIZES = "the sizes given"


def clearance_numbers(drives: Sequence[Drive], words: Sequence[str], inputs: Inputs) -> tuple[Number, ...]:
    """Of every motor that has a place: to the side of the body (wing), to the belly, to its partner."""
    made: list[Number] = []
    for one, word in zip(drives, words, strict=True):
        motor = one.engine.motor
        if motor is None:
            continue
        discs = discs_of(motor, inputs)
        beside = clearance(motor, inputs) if motor.on_wing else None
        if beside is not None:
            made.append(_gap(f"tip_to_body_{word}", f"propeller tip to body, {motor.name}", beside, _BODY))
        if discs:
            made += _low(discs[0], word, inputs)
        if len(discs) > 1:
            apart = discs[0].middle[1] - discs[1].middle[1] - discs[0].diameter_mm
            made.append(_gap(f"tip_to_tip_{word}", f"propeller tip to tip, {motor.name}", apart, ""))
    return tuple(made)


def _low(disc: Disc, word: str, inputs: Inputs) -> list[Number]:
    """Below nought: the tip reaches lower than the belly."""
    if not inputs.bodies:
        return []
    belly = min(one.bottom_mm for body in inputs.bodies for one in body.side)
    title = f"propeller tip above the plane of the belly, {disc.name.removesuffix('-right')}"
    return [_gap(f"tip_to_belly_{word}", title, lowest(disc) - belly, _GROUND)]


def _gap(name: str, title: str, value: float, usual: str) -> Number:
    return number(name, title, Span(value, value, value), "mm", _SIZES, usual=usual)
