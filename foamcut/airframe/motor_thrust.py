"""A turned thrust line: where the shaft points, how far the motor moves, what is put under it.  mm, degrees.

The propeller stays where it would be without the turn, so that the motor moves on its firewall the other way.
"""

import math
from dataclasses import dataclass

from foamcut.airframe.planform import Vector
from foamcut.airframe.values import Motor
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: washers are worked out for screws so far apart when the builder drills to the motor (common practice, no
#: source)
_USUAL_SCREWS_MM = 25.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Thrust:
    """A thrust line: `side_deg` to the side that `side_word` names (outwards or right), `down_deg` down."""

    side_deg: float
    down_deg: float
    side_word: str

    @property
    def straight(self) -> bool:
        """Whether it is not turned at all."""
        return not (self.side_deg or self.down_deg)

    def forwards(self, aft: Vector, side: Vector, up: Vector) -> Vector:
        """The way the shaft points, from the directions that are aft, to the side and up without a turn."""
        a, d = math.radians(self.side_deg), math.radians(self.down_deg)
        ahead, across, low = math.cos(d) * math.cos(a), math.cos(d) * math.sin(a), math.sin(d)
        x, y, z = (0.0 - ahead * aft[i] + across * side[i] - low * up[i] for i in range(3))
        return x, y, z

    def ahead(self, length_mm: float) -> float:
        """How far before the firewall the propeller is, at a length along the shaft."""
        return length_mm * math.cos(math.radians(self.down_deg)) * math.cos(math.radians(self.side_deg))

    def moved(self, length_mm: float) -> tuple[float, float]:
        """How far the motor's middle moves on the firewall, to the side and up: length x sin(angle).

        `length_mm` is along the shaft from the firewall to the propeller.  Source: hobby practice in print,
        5 in and 4 degrees give 11/32 in.
        """
        a, d = math.radians(self.side_deg), math.radians(self.down_deg)
        return 0.0 - length_mm * math.cos(d) * math.sin(a), length_mm * math.sin(d)


def thrust_of(motor: Motor) -> Thrust:
    """The thrust line that a motor asks for."""
    if motor.on_wing:
        return Thrust(side_deg=motor.outwards_deg, down_deg=motor.down_deg, side_word="outwards")
    return Thrust(side_deg=motor.right_deg, down_deg=motor.down_deg, side_word="right")


def washer_mm(apart_mm: float, angle_deg: float) -> float:
    """What goes under one side of a motor: screw spacing x tan(angle), a club's rule (25 mm, 2: 0.9 mm)."""
    return apart_mm * math.tan(math.radians(angle_deg))


def screw_spacing(motor: Motor) -> float:
    """Between neighbouring screws, which lie square on their circle; a usual 25 mm when none are given."""
    circle = motor.firewall.screws_mm
    return _USUAL_SCREWS_MM if circle is None else circle / math.sqrt(2)


def washers(motor: Motor) -> tuple[tuple[str, float], ...]:
    """Under which screws washers go, and how thick: on the side that the shaft is turned away from."""
    thrust, apart = thrust_of(motor), screw_spacing(motor)
    sides = {"outwards": ("inner", "outer"), "right": ("left", "right")}[thrust.side_word]
    turns = ((thrust.side_deg, sides), (thrust.down_deg, ("upper", "lower")))
    return tuple(
        (away if angle > 0 else towards, washer_mm(apart, abs(angle)))
        for angle, (away, towards) in turns
        if angle
    )


def moved_words(motor: Motor, length_mm: float) -> tuple[str, ...]:
    """Which way the motor's middle is moved on the firewall, a phrase for each turn."""
    thrust = thrust_of(motor)
    side, up = thrust.moved(length_mm)
    to, back = {"outwards": ("outwards", "inwards"), "right": ("right", "left")}[thrust.side_word]
    words = []
    for value, more, less in ((side, to, back), (up, "up", "down")):
        if value:
            words.append(f"{decimal_text(abs(value), 1)} mm {more if value > 0 else less}")
    return tuple(words)


def thrust_findings(motor: Motor, length_mm: float) -> tuple[Finding, ...]:
    """What a turned thrust line asks for; nothing for a straight one."""
    thrust = thrust_of(motor)
    if thrust.straight:
        return ()
    angles = [(thrust.side_deg, thrust.side_word), (thrust.down_deg, "down")]
    value = ", ".join(f"{decimal_text(angle, 2)} degrees {word}" for angle, word in angles if angle)
    apart = decimal_text(screw_spacing(motor), 1)
    under = " and ".join(
        f"washers of {decimal_text(thick, 2)} mm go under the {which} screws"
        for which, thick in washers(motor)
    )
    return (
        Finding(
            code="thrust-line",
            level=Level.NOTE,
            where=f"{motor.key}.thrust",
            text=(
                f"the middle of the motor is moved {' and '.join(moved_words(motor, length_mm))}, so that the"
                f" propeller, {decimal_text(length_mm, 1)} mm ahead, stays on its line;"
                f" {under}, which are {apart} mm apart"
            ),
            value=value,
            source="length x sin(angle), screw spacing x tan(angle): hobby practice in print",
            mend="put the washers between motor and firewall, then look at the shaft from above and aside",
        ),
    )
