"""The firewall in the nose of a body: a plate on the front edges of its sides, or between them.  mm.

Drawn as seen from ahead: x to the left of the model, y up; (0, 0) is where the propeller's line meets its
front face.
"""

import math

from foamcut.airframe.body_profile import Profile
from foamcut.airframe.made import Made
from foamcut.airframe.motor_firewall import plate, plate_marks
from foamcut.airframe.motor_holes import ROUND_MM, SCREW_MM, holes
from foamcut.airframe.motor_seat import NoseSeat
from foamcut.airframe.motor_thrust import thrust_of
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.drawn import Cutout, Disc, DrawnMark, DrawnPart, Face, Place
from foamcut.flat.outline import Point
from foamcut.units import mm_text as _mm

#: how far a plate on the front has to lie on each side's edge, and may miss a gap that it stands in
_ON_EDGE_MM, _SAME_MM = 2.0, 0.5
#: a leg of the three-cornered strip that is glued behind the plate (common practice, no source)
_STRIP_MM = 8.0
#: the hole for air to what lies behind, half of a motor that must not cover it; common practice, no source
_AIR_MM, _MOTOR_MM = 10.0, 14.0


def nose_firewall(seat: NoseSeat) -> Made:
    """The plate with its holes, and why it cannot be made."""
    refusals = _refused(seat)
    if refusals:
        return Made(refusals=refusals)
    motor, material = seat.motor, seat.motor.firewall.material
    half, key = motor.firewall.width_mm / 2, motor.firewall.key
    low, high = (-half, seat.foot_mm - seat.axis_mm), (half, seat.head_mm - seat.axis_mm)
    right, up = thrust_of(motor).moved(motor.ahead_mm)
    middle = (0.0 - right, up)
    made = holes(motor, middle, low, high)
    if made.refusals:
        return Made(refusals=made.refusals)
    air = _air(seat, middle)
    part = DrawnPart(
        key=key,
        name=f"motor-{motor.name}-firewall",
        stock=material.name,
        thickness_mm=material.thickness_mm,
        shape=plate(key, low[0], high[0], low[1], high[1]),
        face=Face.OUTER,
        cutouts=(*made.cutouts, *air),
        marks=(*_glued(seat, low, high), *plate_marks(motor, motor.ahead_mm, low, high), *made.marks),
        place=Place(key=key, at=(seat.front_mm, 0.0, seat.axis_mm), x=(0.0, -1.0, 0.0), y=(0.0, 0.0, 1.0)),
        may_be_joined=False,
        kerf_mm=material.kerf_mm,
    )
    return Made(parts=(part,), findings=() if air else (_no_air(seat),))


def _refused(seat: NoseSeat) -> tuple[Refusal, ...]:
    body, motor, profile = seat.body, seat.motor, Profile(body=seat.body)
    found, wide = [], seat.motor.firewall.width_mm
    if not profile.front_mm - _SAME_MM <= seat.rear_mm < profile.rear_mm:
        text = (
            f"the firewall stands {_mm(seat.rear_mm)} along, off the body, which goes from"
            f" {_mm(profile.front_mm)} to {_mm(profile.rear_mm)} ({body.key}.side): move it, or leave its"
            " place out"
        )
        return (Refusal(key=f"{motor.key}.at", text=text),)
    if seat.on_front and wide < seat.sides_mm + 2 * _ON_EDGE_MM:
        mend = f"make it as wide as the body, {_mm(body.width_mm)}"
        if body.width_mm < seat.sides_mm + 2 * _ON_EDGE_MM:
            mend = "the sides are too thin to carry it, take thicker board"
        text = (
            f"the firewall is {_mm(wide)} wide and has to stand on the front edges of the sides, whose inside"
            f" faces are {_mm(seat.sides_mm)} apart: {mend}"
        )
        found.append(Refusal(key=f"{motor.firewall.key}.width", text=text))
    if not seat.on_front:
        found += _between(seat, profile)
    return tuple(found)


def _between(seat: NoseSeat, profile: Profile) -> list[Refusal]:
    """A plate that does not go between the sides, floor and deck, or stands in a former."""
    found, motor, body = [], seat.motor, seat.body
    if abs(motor.firewall.width_mm - seat.sides_mm) > _SAME_MM:
        text = (
            f"the firewall is {_mm(motor.firewall.width_mm)} wide and stands between the sides, whose inside"
            f" faces are {_mm(seat.sides_mm)} apart there: make it {_mm(seat.sides_mm)} wide, or leave its"
            " place out: then it stands on the front of the body"
        )
        found.append(Refusal(key=f"{motor.firewall.key}.width", text=text))
    floor, top = profile.inside_height(seat.rear_mm)
    if seat.foot_mm < floor - _SAME_MM or seat.head_mm > top + _SAME_MM:
        text = (
            f"the firewall goes from {_mm(seat.foot_mm)} to {_mm(seat.head_mm)} up, the inside of the body"
            f" there from {_mm(floor)} to {_mm(top)}: move it, or make it lower"
        )
        found.append(Refusal(key=f"{motor.firewall.key}.height", text=text))
    for former in body.formers:
        thick = (former.material or body.material).thickness_mm
        if min(seat.rear_mm, former.at_mm + thick) - max(seat.front_mm, former.at_mm) > 0:
            text = f"the firewall stands {_mm(seat.rear_mm)} along, inside a former ({former.key}): move one"
            found.append(Refusal(key=f"{motor.key}.at", text=text))
    return found


def _glued(seat: NoseSeat, low: Point, high: Point) -> tuple[DrawnMark, ...]:
    """On the rear face, where the inside of the sides is: there a three-cornered strip is glued in."""
    key, x = seat.motor.firewall.key, seat.sides_mm / 2
    return tuple(
        DrawnMark(
            key=f"{key}.sides[{i}]",
            kind="line",
            face=Face.INNER,
            points=((side * x, low[1]), (side * x, high[1])),
            text="strip behind, epoxy",
        )
        for i, side in enumerate((-1, 1))
        if x < high[0] - 0.1
    )


def _air(seat: NoseSeat, middle: Point) -> tuple[Cutout, ...]:
    """Holes for air, beside the motor and inside the body: one below or above, or two in the corners."""
    t, key, around = seat.body.material.thickness_mm, seat.motor.firewall.key, _AIR_MM / 2 + ROUND_MM
    x = min(seat.sides_mm, seat.motor.firewall.width_mm) / 2 - around - _STRIP_MM
    edge = t if seat.on_front else 0.0
    foot, head = seat.foot_mm + edge - seat.axis_mm + around, seat.head_mm - edge - seat.axis_mm - around
    screws = (seat.motor.firewall.screws_mm or 0.0) / 2 + SCREW_MM / 2
    off = max(screws, _MOTOR_MM) + around
    for places in (((0.0, foot),), ((0.0, head),), ((-x, foot), (x, foot)), ((-x, head), (x, head))):
        if x >= 0 and foot <= head and all(math.dist(place, middle) >= off for place in places):
            return tuple(
                Cutout(
                    key=f"{key}.air[{i}]", shape=Disc(key=f"{key}.air[{i}]", diameter_mm=_AIR_MM), at=place
                )
                for i, place in enumerate(places)
            )
    return ()


def _no_air(seat: NoseSeat) -> Finding:
    high = f"{_mm(seat.motor.firewall.width_mm)} x {_mm(seat.head_mm - seat.foot_mm)}"
    return Finding(
        code="motor-mount",
        level=Level.NOTE,
        where=seat.motor.firewall.key,
        text="the firewall has no room for a hole that lets air to what lies behind it",
        value=high,
        range=f"room for a hole of {_mm(_AIR_MM)} beside a motor {_mm(2 * _MOTOR_MM)} across",
        source="common practice, no source",
        mend="give the body openings for air, or a higher front",
    )
