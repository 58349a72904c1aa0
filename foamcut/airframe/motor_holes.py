"""Holes in the plate that a motor is screwed to, round the middle of the motor.  mm.

Sizes are common practice without a source: a shaft and its collar, screws of 3 mm, on a cross that stands
at 45 degrees to the plate's edges.
"""

import math
from dataclasses import dataclass

from foamcut.airframe.values import Motor
from foamcut.errors import Refusal
from foamcut.flat.drawn import Cutout, Disc, DrawnMark, Face
from foamcut.flat.outline import Point
from foamcut.units import mm_text as _mm

#: the hole for the shaft, those of the screws, what stays between holes and to the edge
SHAFT_MM, SCREW_MM, ROUND_MM = 8.0, 3.0, 2.0
#: half a cross that is drawn where no screws are given
_CROSS_MM = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Holes:
    """Holes, marks, and why they cannot be made."""

    cutouts: tuple[Cutout, ...] = ()
    marks: tuple[DrawnMark, ...] = ()
    refusals: tuple[Refusal, ...] = ()


def holes(
    motor: Motor, middle: Point, low: Point, high: Point, *, widen: tuple[str, str] | None = None
) -> Holes:
    """The holes for a motor whose middle is at `middle`, in the free part of a plate between two corners.

    `widen` is the key and the name of what sets the free width, when that is not the plate.
    """
    key, circle = motor.firewall.key, motor.firewall.screws_mm
    if refusals := _refused(motor, middle, low, high, widen):
        return Holes(refusals=refusals)
    shaft = Cutout(key=f"{key}.shaft", shape=Disc(key=f"{key}.shaft", diameter_mm=SHAFT_MM), at=middle)
    if circle is None:
        return Holes(cutouts=(shaft,), marks=_cross(key, middle))
    off = circle / 2 / math.sqrt(2)
    screws = tuple(
        Cutout(
            key=f"{key}.screws[{i}]",
            shape=Disc(key=f"{key}.screws[{i}]", diameter_mm=SCREW_MM),
            at=(middle[0] + x * off, middle[1] + y * off),
        )
        for i, (x, y) in enumerate(((-1, -1), (1, -1), (1, 1), (-1, 1)))
    )
    return Holes(cutouts=(shaft, *screws))


def reach_mm(motor: Motor) -> float:
    """How far the holes reach up, down and to the sides of the motor's middle."""
    circle = motor.firewall.screws_mm
    return SHAFT_MM / 2 if circle is None else max(SHAFT_MM / 2, circle / 2 / math.sqrt(2) + SCREW_MM / 2)


def _refused(
    motor: Motor, middle: Point, low: Point, high: Point, widen: tuple[str, str] | None
) -> tuple[Refusal, ...]:
    found, circle = [], motor.firewall.screws_mm
    least = SHAFT_MM + SCREW_MM + 2 * ROUND_MM
    if circle is not None and circle < least:
        text = (
            f"screws on a circle of {_mm(circle)} run into the hole for the shaft, {_mm(SHAFT_MM)}: the"
            f" circle has to be {_mm(least)} or more"
        )
        found.append(Refusal(key=f"{motor.firewall.key}.screws", text=text))
    need = reach_mm(motor) + ROUND_MM
    plate = motor.firewall.key, "firewall"
    for word, i, (key, name) in (("width", 0, widen or plate), ("height", 1, plate)):
        short = max(low[i] - middle[i], middle[i] - high[i]) + need
        if short > 0:
            text = (
                f"the holes for the motor reach {_mm(need)} from its middle, {_mm(ROUND_MM)} round them"
                f" counted, and come {_mm(short)} too near to the end of the free {word}, which is"
                f" {_mm(max(high[i] - low[i], 0.0))}: take a larger {name}, a smaller circle of screws or"
                " less turn of the thrust line"
            )
            found.append(Refusal(key=f"{key}.{word}", text=text))
    return tuple(found)


def _cross(key: str, middle: Point) -> tuple[DrawnMark, ...]:
    x, y = middle
    half = _CROSS_MM / math.sqrt(2)
    return tuple(
        DrawnMark(
            key=f"{key}.cross[{i}]",
            kind="line",
            face=Face.OUTER,
            points=((x - half, y - half * way), (x + half, y + half * way)),
        )
        for i, way in enumerate((1, -1))
    )
