"""Motor mounts: where motors sit, their firewalls, cheeks and nacelles, and what their propellers sweep.

mm, degrees; model axes: x aft, y right, z up.  Of a pair on the wing the right one is made.
"""

import math

from foamcut.airframe.made import Made
from foamcut.airframe.meets import Disc, SkinOpening, SkinSlot
from foamcut.airframe.motor_checks import ground_refusals, no_seat, seat_refusals, turn_refusals
from foamcut.airframe.motor_clear import disc_findings
from foamcut.airframe.motor_firewall import wing_firewall
from foamcut.airframe.motor_nose import nose_firewall
from foamcut.airframe.motor_open import opened
from foamcut.airframe.motor_places import placed
from foamcut.airframe.motor_seat import WingSeat, discs_of, nose_seat, wing_seat
from foamcut.airframe.motor_thrust import thrust_findings
from foamcut.airframe.motor_widths import GLUED_MM
from foamcut.airframe.motor_wires import wire_findings, wire_opening
from foamcut.airframe.nacelle import side_boards
from foamcut.airframe.values import Inputs, Motor, Surface
from foamcut.findings import Finding, Level
from foamcut.flat.outline import Point
from foamcut.units import decimal_text


def with_places(inputs: Inputs) -> tuple[Inputs, Made]:
    """The inputs with every motor's `out_mm` (wing) or `at_mm` (nose) worked out, and what is said of it.

    On the wing out = W/2 + D/2 + clearance, of the first body and the propeller; 20 mm unless given.  What
    follows of the places, as what the propellers come near, is said with the parts.
    """
    return placed(inputs)


def motor_parts(motor: Motor, inputs: Inputs) -> Made:
    """Every part of a motor mount, what keeps it from being built, and what its propeller comes near.

    On the wing a firewall, cheeks and sides of a nacelle, each a pair; in a nose a firewall.
    """
    if refusals := turn_refusals(motor):
        return Made(refusals=refusals)
    made = _on_wing(motor, inputs) if motor.on_wing else _in_nose(motor, inputs)
    return Made.of((made, Made(findings=disc_findings(motor, inputs))))


def _on_wing(motor: Motor, inputs: Inputs) -> Made:
    if refusals := ground_refusals(motor, inputs):
        return Made(refusals=refusals)
    if motor.out_mm is None:  # refused when it was to be placed
        return Made()
    seat = wing_seat(motor, inputs)
    if seat is None:
        return Made(refusals=(no_seat(motor, inputs),))
    if refusals := seat_refusals(seat, inputs):
        return Made(refusals=refusals)
    said = Made(
        findings=(*thrust_findings(motor, seat.shaft_mm), *wire_findings(seat), _shaft(seat), *_wedge(seat))
    )
    return Made.of((wing_firewall(seat), side_boards(seat), said))


def _shaft(seat: WingSeat) -> Finding:
    """The motor stands behind the nose of the wing: what the builder has to bridge and to open."""
    nose = seat.front_mm - seat.section.leading_mm
    return Finding(
        code="motor-mount",
        level=Level.NOTE,
        where=seat.motor.key,
        text=(
            f"the propeller turns {decimal_text(seat.shaft_mm, 1)} mm before the firewall, which stands"
            f" {decimal_text(nose, 1)} mm behind the nose of the wing: motor, stand-offs and shaft bridge"
            " that, and both skins are opened inside their marks as far as the motor needs"
        ),
        value=f"{decimal_text(seat.shaft_mm, 1)} mm",
        source="the sizes given",
        mend="screw the motor on before the boards beside it stand, and open the nose to its diameter",
    )


def _wedge(seat: WingSeat) -> tuple[Finding, ...]:
    """A firewall square to the chord before a spar that is not."""
    if seat.gap_mm <= GLUED_MM:
        return ()
    gap = f"{decimal_text(seat.gap_mm, 1)} mm"
    return (
        Finding(
            code="motor-mount",
            level=Level.NOTE,
            where=seat.motor.firewall.key,
            text=(
                "the spar runs along the swept leading edge and the firewall stands square to the chord: it"
                f" touches the spar at one edge and stands {gap} off at the other"
            ),
            value=gap,
            range=f"up to {decimal_text(GLUED_MM)} mm",
            source="the sizes given",
            mend=f"glue a wedge, 0 to {gap} thick, between them; or let the spar run square to the root",
        ),
    )


def _in_nose(motor: Motor, inputs: Inputs) -> Made:
    seat = nose_seat(motor, inputs)
    if seat is None:  # refused when it was to be placed
        return Made()
    said = Made(findings=thrust_findings(motor, motor.ahead_mm))
    return Made.of((nose_firewall(seat), said))


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
    """Of the motors that can be mounted: what is refused needs no hole in the skin."""
    seats = (
        wing_seat(motor, inputs) for motor in inputs.motors if motor.on_wing and motor.on == surface.name
    )
    return [seat for seat in seats if seat is not None and not seat_refusals(seat, inputs)]


def skin_openings(surface: Surface, inputs: Inputs) -> tuple[SkinOpening, ...]:
    """The openings for wires that motors need in a folded surface, of its right half."""
    openings = (wire_opening(seat) for seat in _seats(surface, inputs))
    return tuple(opening for opening in openings if opening is not None)


def skin_marks(surface: Surface, inputs: Inputs) -> tuple[tuple[str, tuple[Point, ...], str], ...]:
    """What is opened for motors in both skins of a folded surface, of its right half: key, (c, s), words.

    Each line begins and ends at the leading edge.
    """
    made = []
    for seat in _seats(surface, inputs):
        slot = _slot(seat)
        front = slot.c_mm - (slot.takes.thickness_mm + slot.extra_mm + slot.takes.fit_mm) / 2
        made.append((f"{seat.motor.key}.open", opened(seat, front), "open for the motor"))
    return tuple(made)


def discs(inputs: Inputs) -> tuple[Disc, ...]:
    """What the propellers sweep, both of a pair; a motor without a place has none yet."""
    return tuple(disc for motor in inputs.motors for disc in discs_of(motor, inputs))
