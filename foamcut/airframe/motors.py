"""Motor mounts: where motors sit, their firewalls, cheeks and nacelles, and what their propellers sweep.

mm, degrees; model axes: x aft, y right, z up.  Of a pair on the wing the right one is made.
"""

import math

from foamcut.airframe.made import Made
from foamcut.airframe.meets import Disc, SkinOpening, SkinSlot
from foamcut.airframe.motor_places import placed
from foamcut.airframe.motor_seat import WingSeat, discs_of, wing_seat
from foamcut.airframe.values import Inputs, Motor, Surface


def with_places(inputs: Inputs) -> tuple[Inputs, Made]:
    """The inputs with every motor's `out_mm` (wing) or `at_mm` (nose) worked out, and what is said of it.

    On the wing out = W/2 + D/2 + clearance, of the first body and the propeller; 20 mm unless given.  What
    follows of the places, as what the propellers come near, is said with the parts.
    """
    return placed(inputs)


def motor_parts(motor: Motor, inputs: Inputs) -> Made:
    """Every part of a motor mount."""
    return Made()


def skin_slots(surface: Surface, inputs: Inputs) -> tuple[SkinSlot, ...]:
    """The slots that firewalls need in a folded surface, of its right half."""
    return tuple(_slot(seat) for seat in _seats(surface, inputs))


def _slot(seat: WingSeat) -> SkinSlot:
    """A plate stands square to the chord; through a skin that rises by u it needs p / cos u + t tan u."""
    plate, t = seat.motor.firewall.material, seat.surface.material.thickness_mm
    rise = math.radians(seat.slope_deg)
    return SkinSlot(
        key=seat.motor.firewall.key,
        c_mm=seat.rear_mm - plate.thickness_mm / 2,
        s_mm=seat.s_mm,
        length_mm=seat.motor.firewall.width_mm,
        takes=plate,
        extra_mm=plate.thickness_mm * (1 / math.cos(rise) - 1) + t * math.tan(rise),
    )


def _seats(surface: Surface, inputs: Inputs) -> list[WingSeat]:
    seats = (
        wing_seat(motor, inputs) for motor in inputs.motors if motor.on_wing and motor.on == surface.name
    )
    return [seat for seat in seats if seat is not None]


def skin_openings(surface: Surface, inputs: Inputs) -> tuple[SkinOpening, ...]:
    """The openings for wires that motors need in a folded surface, of its right half."""
    return ()


def discs(inputs: Inputs) -> tuple[Disc, ...]:
    """What the propellers sweep, both of a pair; a motor without a place has none yet."""
    return tuple(disc for motor in inputs.motors for disc in discs_of(motor, inputs))
