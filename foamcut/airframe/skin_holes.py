"""What is cut through the skins of a folded surface: slots of firewalls, openings for wires and servos.

mm; c and s are those of the panel, `foamcut.airframe.folded_flat` says where they lie on the board.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from foamcut.airframe.folded_controls import hinged
from foamcut.airframe.folded_flat import FlatSkin
from foamcut.airframe.motors import skin_openings, skin_slots
from foamcut.airframe.planform import Panel, panel_beside
from foamcut.airframe.section import spar_in
from foamcut.airframe.values import Inputs, Servo, Surface
from foamcut.errors import Refusal
from foamcut.flat.drawn import Cutout, DrawnSlot, Rectangle
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: between a servo's opening and the spar, or the hinge line (common practice, no source)
KEEP_MM = 2.0
#: an upper skin that is closed over a plate settles within so much (common practice, no source)
SETTLES_MM = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A rectangle through one skin: (c, s) of its middle, sizes along c and s, and the plate it takes."""

    key: str
    c_mm: float
    s_mm: float
    size_mm: tuple[float, float]
    upper: bool
    text: str = ""
    closed_first: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Well:
    """A servo's opening in the lower skin: its place on its panel."""

    servo: Servo
    panel: Panel
    c_mm: float
    s_mm: float


def wells(surface: Surface, inputs: Inputs) -> tuple[Well, ...]:
    """The servos that sit in a surface, each once for both halves."""
    made = []
    for servo in inputs.servos:
        if servo.on[0] != surface.name:
            continue
        along, out = servo.at
        panel, s = panel_beside(surface, abs(out))
        x = panel.point(0.0, s, 0.0)[0]
        made.append(Well(servo=servo, panel=panel, c_mm=(along - x) / panel.aft[0], s_mm=s))
    return tuple(made)


def well_refusals(surface: Surface, inputs: Inputs) -> Iterator[Refusal]:
    """Servos that have no room between the spar and the hinge line, or lie off the surface."""
    for well in wells(surface, inputs):
        long, wide = well.servo.size_mm
        ends = well.s_mm - wide / 2, well.s_mm + wide / 2
        if ends[0] < KEEP_MM or ends[1] > surface.half_span_mm - KEEP_MM:
            text = (
                f"the servo lies {decimal_text(well.s_mm)} mm out and its opening is {decimal_text(wide)} mm"
                f' wide: "{surface.name}" goes from 0 to {decimal_text(surface.half_span_mm)} mm'
            )
            yield Refusal(key=f"{well.servo.key}.at", text=text)
            continue
        panel = well.panel
        if not panel.first.out_mm + KEEP_MM <= ends[0] or not ends[1] <= panel.last.out_mm - KEEP_MM:
            station = panel.first.out_mm if ends[0] < panel.first.out_mm + KEEP_MM else panel.last.out_mm
            text = (
                f"the servo lies {decimal_text(well.s_mm)} mm out and its opening is {decimal_text(wide)} mm"
                f" wide, across the joint of the skin {decimal_text(station)} mm out: move it off that"
            )
            yield Refusal(key=f"{well.servo.key}.at", text=text)
            continue
        front = max(spar_in(surface, well.panel, s)[1] for s in ends) + KEEP_MM
        rear = min(_rear(surface, well.panel, s) for s in ends) - KEEP_MM
        if front <= well.c_mm - long / 2 and well.c_mm + long / 2 <= rear:
            continue
        x0, x1 = (well.panel.point(c, well.s_mm, 0.0)[0] for c in (front + long / 2, rear - long / 2))
        room = (
            f"give along from {decimal_text(x0)} to {decimal_text(x1)} mm"
            if x0 <= x1
            else f"there are {decimal_text(max(rear - front, 0.0))} mm: move it, or lay it crosswise"
        )
        text = (
            f"the opening of {decimal_text(long)} x {decimal_text(wide)} mm does not lie between the spar and"
            f" the hinge line or trailing edge: {room}"
        )
        yield Refusal(key=f"{well.servo.key}.at", text=text)


def _rear(surface: Surface, panel: Panel, s: float) -> float:
    """c of what lies behind a servo: the hinge line where there is a control, else the bevelled edge."""
    for control in surface.controls:
        if control.from_mm <= s <= control.to_mm:
            return hinged(panel, control).hinge(s)
    return panel.trailing(s) - 4 * surface.material.thickness_mm


def openings(surface: Surface, inputs: Inputs) -> tuple[Opening, ...]:
    """Every opening in either skin, those of firewalls left out."""
    made = [
        Opening(
            key=one.key, c_mm=one.c_mm, s_mm=one.s_mm, size_mm=one.size_mm, upper=one.upper, text=one.text
        )
        for one in skin_openings(surface, inputs)
    ]
    for well in wells(surface, inputs):
        made.append(
            Opening(
                key=f"{well.servo.key}.at",
                c_mm=well.c_mm,
                s_mm=well.s_mm,
                size_mm=well.servo.size_mm,
                upper=False,
                text="servo, before closing",
            )
        )
    return tuple(made)


def lower_slots(flat: FlatSkin, inputs: Inputs) -> tuple[DrawnSlot, ...]:
    """The slots of firewalls in the lower skin, along the span."""
    return tuple(
        DrawnSlot(
            key=f"{one.key}.lower_slot",
            at=flat.lower_at(one.c_mm, one.s_mm),
            length_mm=one.length_mm,
            takes=one.takes.name,
            takes_thickness_mm=one.takes.thickness_mm,
            fit_mm=one.takes.fit_mm,
            turn_deg=90.0,
        )
        for one in skin_slots(flat.piece.surface, inputs)
        if flat.piece.holds(one.s_mm)
    )


def lower_cutouts(flat: FlatSkin, inputs: Inputs) -> tuple[Cutout, ...]:
    """Openings in the lower skin."""
    return tuple(
        _cutout(one.key, flat.lower_at(one.c_mm, one.s_mm), one.size_mm, 0.0)
        for one in openings(flat.piece.surface, inputs)
        if not one.upper and flat.piece.holds(one.s_mm)
    )


def upper_cutouts(flat: FlatSkin, inputs: Inputs) -> tuple[Cutout, ...]:
    """Openings in the upper skin, and those through which firewalls stand: these may lie over a groove."""
    surface = flat.piece.surface
    made = []
    for slot in skin_slots(surface, inputs):
        if flat.piece.holds(slot.s_mm):
            size = (
                slot.takes.thickness_mm + slot.extra_mm + slot.takes.fit_mm + SETTLES_MM,
                slot.length_mm + slot.takes.fit_mm + SETTLES_MM,
            )
            made.append(_upper(flat, f"{slot.key}.upper_slot", slot.c_mm, slot.s_mm, size))
    for one in openings(surface, inputs):
        if one.upper and flat.piece.holds(one.s_mm):
            made.append(_upper(flat, one.key, one.c_mm, one.s_mm, one.size_mm))
    return tuple(made)


def _upper(flat: FlatSkin, key: str, c: float, s: float, size: tuple[float, float]) -> Cutout:
    middle, beyond = flat.upper_at(c, s), flat.upper_at(c, s + 1.0)
    turn = math.degrees(math.atan2(beyond[1] - middle[1], beyond[0] - middle[0])) - 90.0
    return _cutout(key, middle, size, turn)


def _cutout(key: str, middle: Point, size: tuple[float, float], turn_deg: float) -> Cutout:
    a = math.radians(turn_deg)
    dx, dy = -size[0] / 2, -size[1] / 2
    at = (
        middle[0] + dx * math.cos(a) - dy * math.sin(a),
        middle[1] + dx * math.sin(a) + dy * math.cos(a),
    )
    shape = Rectangle(key=key, width_mm=size[0], height_mm=size[1])
    return Cutout(key=key, shape=shape, turn_deg=turn_deg, at=at)
