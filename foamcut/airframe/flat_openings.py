"""Openings for servos in flat board.  mm."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from foamcut.airframe.flat_sheet import Sheet
from foamcut.airframe.planform import panel_beside
from foamcut.airframe.values import Inputs, Servo, Surface
from foamcut.errors import Refusal
from foamcut.flat.drawn import Cutout, Rectangle
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: board left round an opening (common practice, no source)
_ROUND_MM = 8.0
_SAME_MM = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A servo's opening: (c, s) of its middle, s below 0 on the left half; sizes along c and along s."""

    servo: Servo
    at: Point
    size_mm: tuple[float, float]

    def shape(self, sheet: Sheet) -> Polygon:
        """Its outline as drawn."""
        (x, y), (a, b) = sheet.drawn(*self.at), self.size_mm
        return shapely.box(x - a / 2, y - b / 2, x + a / 2, y + b / 2)


def servos_on(surface: Surface, inputs: Inputs) -> tuple[Servo, ...]:
    """The servos in a surface."""
    return tuple(servo for servo in inputs.servos if servo.on[0] == surface.name)


def openings(sheet: Sheet, inputs: Inputs) -> tuple[Opening, ...]:
    """The openings of a sheet; of a pair one for both hands, whichever side its servo is given on."""
    found: list[Opening] = []
    for servo in servos_on(sheet.surface, inputs):
        along, out = servo.at
        if sheet.fin:
            s = out - sheet.surface.at[1]
        else:
            _, s = panel_beside(sheet.surface, abs(out))
        if not sheet.holds(s):
            continue
        panel = sheet.panel(s)
        root = panel.point(0.0, s, sheet.thickness_mm / 2)[0]
        way = -1.0 if sheet.across and out < 0 else 1.0
        one = Opening(servo=servo, at=((along - root) / panel.aft[0], way * s), size_mm=servo.size_mm)
        if not any(_alike(one, other) for other in found):
            found.append(one)
    return tuple(found)


def _alike(one: Opening, other: Opening) -> bool:
    return max(abs(one.at[i] - other.at[i]) for i in (0, 1)) <= _SAME_MM and one.size_mm == other.size_mm


def cutouts(sheet: Sheet, several: Sequence[Opening]) -> tuple[Cutout, ...]:
    """The openings as drawn."""
    made = []
    for one in several:
        (a, b), (x, y) = one.size_mm, sheet.drawn(*one.at)
        shape = Rectangle(key=one.servo.key, width_mm=a, height_mm=b)
        made.append(Cutout(key=one.servo.key, shape=shape, at=(x - a / 2, y - b / 2)))
    return tuple(made)


def opening_refusals(sheet: Sheet, several: Sequence[Opening], fixed: Polygon) -> Iterator[Refusal]:
    """Openings too near to an edge, a control or a slot of the board; `fixed` is what does not move."""
    for one in several:
        shape = one.shape(sheet).buffer(_ROUND_MM, join_style="mitre")
        if fixed.covers(shape):
            continue
        text = (
            f"the servo's opening comes nearer than {decimal_text(_ROUND_MM)} mm to an edge, a control or a"
            f' slot of "{sheet.surface.name}": move it, or make the surface larger there'
        )
        yield Refusal(key=f"{one.servo.key}.at", text=text)


def servo_refusals(surface: Surface, inputs: Inputs) -> Iterator[Refusal]:
    """Servos in a panel that a surface does not have, or off it."""
    for servo in servos_on(surface, inputs):
        if servo.on[1]:
            text = (
                f'"{surface.name}" is a surface and has no panel "{servo.on[1]}": write'
                f' `on = "{surface.name}"`'
            )
            yield Refusal(key=f"{servo.key}.on", text=text)
