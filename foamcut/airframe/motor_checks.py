"""What keeps a wing motor's mount from being built.  mm."""

import math

from foamcut.airframe.motor_seat import WingSeat, wing_seat
from foamcut.airframe.section_nose import nose_band
from foamcut.airframe.values import Build, Inputs, Motor, Nose, Role
from foamcut.errors import Refusal
from foamcut.units import decimal_text
from foamcut.units import mm_text as _mm

#: how far a firewall has to stand out above and below the skins, so that there is something to glue to, and
#: material left between a slot and another cut; common practice, no source
LEAST_PROUD_MM, KEEP_MM = 5.0, 3.0
#: how far before the nose of a wing a disc has to be: 5 mm of cheeks round the nose, 5 mm to a blade
LEAST_AHEAD_MM = 10.0
#: a thrust line turned more is a slip: 1 to 4 degrees are usual (trade practice)
MOST_DEG = 15.0


def turn_refusals(motor: Motor) -> tuple[Refusal, ...]:
    """A thrust line that is turned too much."""
    side = ("outwards", motor.outwards_deg) if motor.on_wing else ("right", motor.right_deg)
    return tuple(
        Refusal(
            key=f"{motor.key}.thrust.{word}",
            text=(
                f"{decimal_text(angle, 2)} degrees {word} is no thrust line: 1 to 4 degrees are usual, give"
                f" at most {decimal_text(MOST_DEG)}"
            ),
        )
        for word, angle in (side, ("down", motor.down_deg))
        if not abs(angle) <= MOST_DEG
    )


def ground_refusals(motor: Motor, inputs: Inputs) -> tuple[Refusal, ...]:
    """No wing to sit on, or none that a firewall can go through."""
    surface = inputs.surface(motor.on)
    if surface is None:
        text = (
            f'the motor sits on "{motor.on}", which is no surface: give a [surface.{motor.on}], or name one'
        )
    elif surface.role is Role.FIN:
        text = f'a pair of motors sits on a wing; "{motor.on}" is a fin ({surface.key}.role): name a wing'
    elif surface.build is Build.FLAT:
        text = (
            f'a wing motor needs a folded wing, whose spar its firewall stands on; "{motor.on}" is flat'
            f' board: set {surface.key}.build to "folded", or put the motor in the nose of the body'
        )
    elif surface.spar is None:
        text = (
            f'the firewall stands on the front face of the spar; "{motor.on}" has none: give'
            f" {surface.key}.spar"
        )
    else:
        return ()
    return (Refusal(key=motor.key, text=text),)


def no_seat(motor: Motor, inputs: Inputs) -> Refusal:
    """A section that cannot be made where the motor sits."""
    text = (
        f'"{motor.on}" has no section {_mm(motor.out_mm or 0.0)} out that can be folded: mend the wing first'
    )
    return Refusal(key=motor.key, text=text)


def seat_refusals(seat: WingSeat, inputs: Inputs) -> tuple[Refusal, ...]:
    """Everything that keeps a mount from being built where it sits."""
    return (*_aside(seat, inputs), *_beside(seat, inputs), *_lengthwise(seat), *_high(seat))


def _beside(seat: WingSeat, inputs: Inputs) -> list[Refusal]:
    """A mount that stands in that of a motor before it in the file."""
    motor = seat.motor
    before = inputs.motors[: inputs.motors.index(motor)]
    for one in before:
        other = wing_seat(one, inputs) if one.on_wing and one.on == motor.on else None
        if other is None:
            continue
        lack = half_width(seat) + half_width(other) + KEEP_MM - abs(seat.s_mm - other.s_mm)
        if lack > 0:
            text = (
                f'the mount comes {_mm(lack)} too near to that of "{one.name}" ({one.key}.out): move one of'
                " them, or leave one out"
            )
            return [Refusal(key=f"{motor.key}.out", text=text)]
    return []


def half_width(seat: WingSeat) -> float:
    """How far the mount reaches to each side of its axis."""
    nacelle, t = seat.motor.nacelle, seat.surface.material.thickness_mm
    firewall = seat.motor.firewall.width_mm / 2
    return firewall + t if nacelle is None else max(firewall, nacelle.width_mm / 2)


def foremost(seat: WingSeat) -> float:
    """c of the foremost of the leading edge over the width of the mount."""
    half = half_width(seat)
    return min(seat.panel.leading(seat.s_mm - half), seat.panel.leading(seat.s_mm + half))


def disc_rear(seat: WingSeat) -> float:
    """c of the rearmost of the disc over the width and the height of the mount: a turned one leans."""
    side, down = (math.tan(math.radians(abs(a))) for a in (seat.motor.outwards_deg, seat.motor.down_deg))
    return seat.disc_mm + half_width(seat) * side + seat.height_mm / 2 * down


def _aside(seat: WingSeat, inputs: Inputs) -> list[Refusal]:
    """Into the body, beyond the tip, over a station, against a joiner."""
    found, motor, key = [], seat.motor, seat.motor.firewall.key
    half, out = half_width(seat), seat.motor.out_mm or 0.0
    body = inputs.bodies[0] if inputs.bodies else None
    inside = 0.0 if body is None else body.width_mm / 2
    if half > out - inside:
        what = (
            "the other one's side"
            if body is None
            else f"the body, {_mm(body.width_mm)} wide ({body.key}.width)"
        )
        room = f"{_mm(out)} out there is room for {_mm(2 * (out - inside))}"
        if body is not None and out <= inside:
            room = (
                f"{_mm(out)} out lies inside it, its side is {_mm(inside)} out; a width without a unit is a"
                " measure off the sketch, so give it its unit, or move the motor outwards"
            )
        text = f"the mount is {_mm(2 * half)} wide over its sides and reaches into {what}: {room}"
        found.append(Refusal(key=f"{key}.width", text=text))
    first, last = seat.panel.first, seat.panel.last
    tip = seat.surface.half_span_mm
    if seat.s_mm + half > tip:
        text = (
            f"the mount is {_mm(2 * half)} wide over its sides and would end {_mm(seat.s_mm + half - tip)}"
            f" beyond the tip, which is {_mm(tip)} out along the wing: move the motor inwards"
        )
        return [*found, Refusal(key=f"{motor.key}.out", text=text)]
    for station, over in (
        (first, first.out_mm + KEEP_MM - seat.s_mm),
        (last, seat.s_mm + KEEP_MM - last.out_mm),
    ):
        if over + half > 0 and 0 < station.out_mm < tip:
            text = (
                f"the mount, from {_mm(seat.s_mm - half)} to {_mm(seat.s_mm + half)} out along the wing,"
                f" stands over the station at {_mm(station.out_mm)} ({station.key}) or within {_mm(KEEP_MM)}"
                f" of it: move the motor by {_mm(over + half)} or more"
            )
            found.append(Refusal(key=f"{motor.key}.out", text=text))
    joiner = seat.surface.joiner
    if joiner is not None and joiner.length_mm / 2 > seat.across_mm[0]:
        text = (
            f"the joiner reaches {_mm(joiner.length_mm / 2)} out along the spar, the firewall stands on the"
            f" spar from {_mm(seat.across_mm[0])} on: make the joiner ({joiner.key}) shorter, or move the"
            " motor outwards"
        )
        found.append(Refusal(key=f"{motor.key}.out", text=text))
    return found


def _lengthwise(seat: WingSeat) -> list[Refusal]:
    """Too near to the nose of the wing, or the disc too near to it."""
    found, motor = [], seat.motor
    room = seat.front_mm - band_end(seat) - KEEP_MM
    if room < 0:
        text = (
            f"the slot of the firewall comes {_mm(-room)} too near to the nose of the wing; the spar's front"
            f" face is {_mm(seat.rear_mm - seat.section.leading_mm)} behind it: set the spar farther back"
            f" ({seat.surface.key}.spar)"
        )
        found.append(Refusal(key=motor.firewall.key, text=text))
    ahead = foremost(seat) - disc_rear(seat)
    if ahead < LEAST_AHEAD_MM:
        text = (
            f"the propeller is {_mm(max(ahead, 0.0))} before the foremost of the wing's nose beside the"
            " motor; cheeks go round the nose, and a blade keeps 5 mm off them: put it"
            f" {_mm(LEAST_AHEAD_MM - ahead)} farther ahead"
        )
        found.append(Refusal(key=f"{motor.key}.ahead", text=text))
    return found


def band_end(seat: WingSeat) -> float:
    """c behind which the lower skin is flat board all across the firewall.

    That is behind the bend of a round nose, or behind the board that stands on the nose.
    """
    surface, t = seat.surface, seat.surface.material.thickness_mm
    bent = nose_band(surface) / math.pi if surface.nose is Nose.SCORED else t
    return seat.rearmost_mm + max(bent, seat.section.lower_mm[0] - seat.section.leading_mm)


def _high(seat: WingSeat) -> list[Refusal]:
    least = seat.thick_mm + 2 * LEAST_PROUD_MM
    if seat.height_mm >= least:
        return []
    text = (
        f"the firewall is {_mm(seat.height_mm)} high where the wing is {_mm(seat.thick_mm)} thick: it has to"
        f" stand out {_mm(LEAST_PROUD_MM)} above and below; make it {_mm(least)} or more, or leave its height"
        " out"
    )
    return [Refusal(key=f"{seat.motor.firewall.key}.height", text=text)]
