"""The firewall of a wing motor: a plate on the front face of the spar, through both skins.  mm.

Drawn as seen from ahead: x to the centre plane, y up; (0, 0) is where the propeller's line meets its front
face.
"""

from itertools import pairwise

from foamcut.airframe.made import Made
from foamcut.airframe.motor_holes import holes
from foamcut.airframe.motor_seat import WingSeat
from foamcut.airframe.motor_thrust import moved_words, thrust_of, washers
from foamcut.airframe.motor_widths import widths
from foamcut.airframe.values import Motor
from foamcut.flat.drawn import DrawnMark, DrawnPart, Face, Hand, Place, Reading, Readings
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: from the plate's upper edge to a line of words
_OFF_MM = 5.0


def wing_firewall(seat: WingSeat) -> Made:
    """The plate, and refusals where its holes have no room between the innermost boards."""
    motor, material = seat.motor, seat.motor.firewall.material
    half, high = motor.firewall.width_mm / 2, seat.height_mm / 2
    out, up = thrust_of(motor).moved(seat.shaft_mm)
    middle = (0.0 - out, up)
    free, nacelle = widths(seat).free_mm / 2, motor.nacelle
    by_nacelle = nacelle is not None and free < half - seat.surface.material.thickness_mm
    widen = (nacelle.key, "nacelle") if nacelle is not None and by_nacelle else None
    made = holes(motor, middle, (-free, -high), (free, high), widen=widen)
    key, panel = motor.firewall.key, seat.panel
    part = DrawnPart(
        key=key,
        name=f"motor-{motor.name}-firewall",
        stock=material.name,
        thickness_mm=material.thickness_mm,
        shape=plate(key, -half, half, -high, high),
        pair=Hand.RIGHT,
        face=Face.OUTER,
        cutouts=made.cutouts,
        marks=(
            *_skins(seat, half),
            *plate_marks(motor, seat.shaft_mm, (-half, -high), (half, high)),
            *made.marks,
        ),
        place=Place(
            key=key,
            at=panel.point(seat.front_mm, seat.s_mm, seat.axis_mm),
            x=(0.0 - panel.out[0], 0.0 - panel.out[1], 0.0 - panel.out[2]),
            y=panel.up,
        ),
        may_be_joined=False,
        kerf_mm=material.kerf_mm,
    )
    return Made(parts=(part,), refusals=made.refusals)


def plate(key: str, left: float, right: float, foot: float, head: float) -> Readings:
    """A rectangle by its corners."""
    corners = ((left, foot), (right, foot), (right, head), (left, head))
    return Readings(
        key=key, points=tuple(Reading(key=f"{key}.outline[{i}]", at=at) for i, at in enumerate(corners))
    )


def _skins(seat: WingSeat, half: float) -> tuple[DrawnMark, ...]:
    """Where the outer papers of both skins pass the plate's front face."""
    key, axis = seat.motor.firewall.key, seat.axis_mm
    upper = upper_mm(seat, seat.front_mm)
    return tuple(
        DrawnMark(
            key=f"{key}.skins[{i}]",
            kind="line",
            face=Face.OUTER,
            points=((-half, n - axis), (half, n - axis)),
            text=text,
        )
        for i, (n, text) in enumerate(((0.0, "underside of the wing"), (upper, "top of the wing")))
    )


def upper_mm(seat: WingSeat, c: float) -> float:
    """n of the outer paper of the upper skin."""
    paper = seat.section.upper_outer
    for (c0, n0), (c1, n1) in pairwise(paper):
        if c0 <= c <= c1 and c1 > c0:
            return n0 + (n1 - n0) * (c - c0) / (c1 - c0)
    return paper[0][1]


def plate_marks(motor: Motor, shaft_mm: float, low: Point, high: Point) -> tuple[DrawnMark, ...]:
    """Both lines of the propeller; for a turned thrust line where the motor goes and what is put under it."""
    key = motor.firewall.key
    lines = [
        (((low[0], 0.0), (high[0], 0.0)), ""),
        (((0.0, low[1]), (0.0, high[1])), ""),
    ]
    said = ((_moved(motor, shaft_mm), high[1] - _OFF_MM), (_washers(motor), low[1] + _OFF_MM / 2))
    lines += [(((low[0] + 1.0, y), (high[0] - 1.0, y)), words) for words, y in said if words]
    return tuple(
        DrawnMark(key=f"{key}.lines[{i}]", kind="line", face=Face.OUTER, points=points, text=text)
        for i, (points, text) in enumerate(lines)
    )


def _moved(motor: Motor, shaft_mm: float) -> str:
    words = moved_words(motor, shaft_mm)
    return f"motor {', '.join(words)}" if words else ""


def _washers(motor: Motor) -> str:
    under = [f"{which} {decimal_text(thick, 1)}" for which, thick in washers(motor)]
    return f"washers {', '.join(under)} mm" if under else ""
