"""Cards of angles: of the wing against the tail, and of thrust lines.  mm, degrees."""

from collections.abc import Iterator

from foamcut.airframe.motor_thrust import thrust_of, washers
from foamcut.airframe.planform import panels
from foamcut.airframe.values import Inputs, Motor, Role, Surface
from foamcut.draw.flow import Block
from foamcut.draw.gauges_cards import angle_words, gauge, lean_card, name_words, slope_card, thin_words

#: no card is drawn for less
_LEAST_DEG = 0.1
#: of the card of the wing's angle: longest length and thin end; of a thrust card: foot and height, mm
_LONGEST_MM, _THIN_MM = 150.0, 14.0
_FOOT_MM, _HEIGHT_MM = 50.0, 45.0
#: a tail that leans more than this has no angle to sight along
_V_TAIL_DEG = 20.0


def incidence(inputs: Inputs) -> tuple[float, Surface | None] | None:
    """How much the wing stands nose up of the tail, and that tail; of the base line where there is none.

    None without a wing.
    """
    wing = inputs.wing
    if wing is None:
        return None
    tail = next((one for one in inputs.surfaces if one.role is Role.STABILISER), None)
    if tail is not None and abs(tail.stations[0].dihedral_deg) > _V_TAIL_DEG:
        tail = None
    return wing.angle_deg - (tail.angle_deg if tail is not None else 0.0), tail


def incidence_gauges(inputs: Inputs, width_mm: float) -> Iterator[Block]:
    """A card of the wing's angle, to be sighted along."""
    found, wing = incidence(inputs), inputs.wing
    if found is None or wing is None or abs(found[0]) < _LEAST_DEG:
        return
    angle, tail = found
    to = f"the underside of {name_words(tail.name)}" if tail is not None else "the base line of the body"
    thick = "nose" if angle > 0 else "tail"
    named = name_words(wing.name)
    rows = (f"{wing.name}: {angle_words(angle)} nose {'up' if angle > 0 else 'down'}",)
    length = min(_LONGEST_MM, max(60.0, panels(wing)[0].first.chord_mm * 0.8))
    sentences = (
        f"For the angle of {named}: it stands {angle_words(angle)} nose {'up' if angle > 0 else 'down'} of"
        f" {to}."
        " Hold the sloping edge against its flat underside beside the body, along the chord, the thick end"
        " to the"
        f" {thick}, and look from the side: the level edge of the card is parallel to {to}.",
    )
    yield gauge(f"Angle of {named}", sentences, slope_card(rows, angle, length, _THIN_MM), width_mm)


def thrust_gauges(inputs: Inputs, units: str, width_mm: float) -> Iterator[Block]:
    """A card for every way in which a thrust line is turned."""
    for motor in inputs.motors:
        line = thrust_of(motor)
        for which, (deg, word) in enumerate(((line.side_deg, line.side_word), (line.down_deg, "down"))):
            if abs(deg) >= _LEAST_DEG:
                yield _thrust(motor, which, deg, word, units, width_mm)


_OTHER = {"right": "left", "outwards": "inwards", "down": "up"}


def _thrust(motor: Motor, which: int, deg: float, word: str, units: str, width_mm: float) -> Block:
    way = word if deg > 0 else _OTHER[word]
    seen = "from the side" if which else "from above"
    turned = [bool(one) for one in (thrust_of(motor).side_deg, thrust_of(motor).down_deg)]
    under = washers(motor)[which if all(turned) else 0]
    named = name_words(motor.name)
    sentences = (
        f"For the thrust line of motor {named}: {angle_words(deg)} {way}, by washers of"
        f" {thin_words(under[1], units)} under the {under[0]} screws.",
        f"Stand the foot of the card on the firewall beside the motor, the slanted edge leaning {way}, and"
        " look"
        f" {seen}: the shaft runs along the slanted edge. Propeller off.",
    )
    rows = (f"{motor.name}: {angle_words(deg)} {way}", f"seen {seen}")
    card = lean_card(rows, abs(deg), _FOOT_MM, _HEIGHT_MM)
    return gauge(f"Thrust line, motor {named}, {way}", sentences, card, width_mm)
