"""What is bolted to the airframe: motors, propellers, servos in panels, dowels.  g, mm; model axes."""

import math
from collections.abc import Iterable, Iterator, Sequence

from foamcut.airframe.meets import Disc
from foamcut.airframe.motor_seat import discs_of, nose_seat, wing_seat
from foamcut.airframe.values import Dowel, Inputs, Motor, Servo
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Item, Sort, Vector
from foamcut.flight.values import Model
from foamcut.flight.weights_missing import Missing
from foamcut.flight.weights_servos import servo_places

#: the diameter of the propeller of the usual mass, mm
_PROPELLER_MM = 200.0


def motor_things(inputs: Inputs, *, motors_aboard: bool) -> tuple[tuple[Item, ...], tuple[Missing, ...]]:
    """Motors and propellers, both of a pair; motors without a mass are named unless one is carried.

    The middle of a motor is taken half way between its firewall and its disc, along the shaft: its length is
    not known.  A propeller lies in its disc, an even bar that may point any way.
    """
    items: list[Item] = []
    missing: list[Missing] = []
    for motor in inputs.motors:
        discs = discs_of(motor, inputs)
        places = [_behind(disc, _shaft_mm(motor, inputs) / 2) for disc in discs]
        if motor.mass_g is not None:
            items += _motors(motor, motor.mass_g, places)
        elif not motors_aboard:
            name = f'{"each motor of the pair" if motor.on_wing else "the motor"} "{motor.name}"'
            missing.append(Missing(key=f"{motor.key}.mass", name=name, at=tuple(places)))
        items += _propellers(motor, [disc.middle for disc in discs])
    return tuple(items), tuple(missing)


def _shaft_mm(motor: Motor, inputs: Inputs) -> float:
    """From the front face of the firewall to the disc."""
    if motor.on_wing:
        seat = wing_seat(motor, inputs)
        return seat.shaft_mm if seat is not None else 0.0
    return motor.ahead_mm if nose_seat(motor, inputs) is not None else 0.0


def _behind(disc: Disc, by_mm: float) -> Vector:
    x, y, z = (at - by_mm * way for at, way in zip(disc.middle, disc.forwards, strict=True))
    return x, y, z


def hands(on_both: bool) -> tuple[str, ...]:
    """What is said behind the name of each of a pair, right before left; of a single thing nothing."""
    return ("-right", "-left") if on_both else ("",)


def _placed(motor: Motor, places: Sequence[Vector]) -> Iterator[tuple[str, Vector | None]]:
    """The word of each hand with its place; None where the motor has no seat."""
    for i, hand in enumerate(hands(motor.on_wing)):
        yield hand, places[i] if i < len(places) else None


def _motors(motor: Motor, mass_g: float, places: Sequence[Vector]) -> Iterable[Item]:
    return [
        Item(
            key=motor.key,
            name=f"motor-{motor.name}{hand}",
            sort=Sort.MOTOR,
            mass_g=mass_g,
            low_g=mass_g,
            high_g=mass_g,
            at=at,
            source="as given; half way between firewall and propeller",
        )
        for hand, at in _placed(motor, places)
    ]


def _propellers(motor: Motor, places: Sequence[Vector]) -> Iterable[Item]:
    """A bar of length D has the mean square D^2 / 12 along itself, half of it each way as it turns."""
    one, usual = motor.propeller, ASSUMED["propeller"]
    given = one.mass_g
    size = (one.diameter_mm / _PROPELLER_MM) ** 2
    masses = (
        (given, given, given)
        if given is not None
        else (usual.value * size, usual.low * size, usual.high * size)
    )
    turning = one.diameter_mm**2 / 24
    return [
        Item(
            key=one.key,
            name=f"propeller-{motor.name}{hand}",
            sort=Sort.MOTOR,
            mass_g=masses[0],
            low_g=masses[1],
            high_g=masses[2],
            at=at,
            spread_mm2=(0.0, turning, turning),
            source="as given" if given is not None else f"{usual.what}; {usual.source}",
            assumed=() if given is not None else ("propeller",),
        )
        for hand, at in _placed(motor, places)
    ]


def servo_items(model: Model) -> tuple[Item, ...]:
    """Servos in panels, each in the middle of its board; in a surface made in halves one in each."""
    usual = ASSUMED["servo"]
    found = []
    for servo in model.inputs.servos:
        given = servo.mass_g
        masses = (given, given, given) if given is not None else (usual.value, usual.low, usual.high)
        places = servo_places(servo, model)
        for hand, at in zip(hands(len(places) > 1), places, strict=True):
            found.append(
                Item(
                    key=servo.key,
                    name=f"servo-{servo.drives}{hand}",
                    sort=Sort.RADIO,
                    mass_g=masses[0],
                    low_g=masses[1],
                    high_g=masses[2],
                    at=at,
                    spread_mm2=_plate(servo),
                    source="as given" if given is not None else f"{usual.what}; {usual.source}",
                    assumed=() if given is not None else ("servo",),
                )
            )
    return tuple(found)


def _plate(servo: Servo) -> Vector:
    """Of its two sizes; how high it is is not known."""
    long, wide = servo.size_mm
    return long**2 / 12, wide**2 / 12, 0.0


def dowel_items(inputs: Inputs) -> tuple[Item, ...]:
    """Every dowel, right across its body and proud on both sides; volume x mass of hardwood."""
    widths = {body.name: body.width_mm for body in inputs.bodies}
    return tuple(
        _dowel(dowel, i, at, widths[dowel.on])
        for dowel in inputs.dowels
        if dowel.on in widths
        for i, at in enumerate(dowel.at)
    )


def _dowel(dowel: Dowel, number: int, at: tuple[float, float], width_mm: float) -> Item:
    usual = ASSUMED["dowel_wood"]
    length = width_mm + 2 * dowel.proud_mm
    volume_m3 = math.pi / 4 * dowel.diameter_mm**2 * length / 1e9
    mass, low, high = (1000 * volume_m3 * row for row in (usual.value, usual.low, usual.high))
    round_mm2 = dowel.diameter_mm**2 / 16
    return Item(
        key=f"{dowel.key}.at[{number}]",
        name=f"dowel-{number + 1}-{dowel.on}",
        sort=Sort.OTHER,
        mass_g=mass,
        low_g=low,
        high_g=high,
        at=(at[0], 0.0, at[1]),
        spread_mm2=(round_mm2, length**2 / 12, round_mm2),
        source=f"volume x {usual.what}; {usual.source}",
        assumed=("dowel_wood",),
    )
