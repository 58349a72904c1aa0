"""What keeps a flat surface from being built: its own numbers, looked at before anything is drawn.  mm."""

from collections.abc import Iterator
from itertools import pairwise

from foamcut.airframe.flat_controls import Hinged
from foamcut.airframe.flat_sheet import sheets
from foamcut.airframe.planform import panels
from foamcut.airframe.values import Control, Role, Surface
from foamcut.errors import Refusal
from foamcut.flat.tolerances import ROUNDING_MM
from foamcut.units import decimal_text

#: what has to be left of the fixed part before a hinge line (common practice, no source)
LEAST_FIXED_MM = 10.0
#: what a control has at least, and behind its bevel (common practice, no source)
_LEAST_CHORD_MM, _BEHIND_BEVEL_MM = 10.0, 5.0
#: a steeper panel has no top and no underside
_STEEPEST_DEG = 60.0


def flat_refusals(surface: Surface) -> tuple[Refusal, ...]:
    """All that is wrong with a flat surface's stations, and with its controls on their own."""
    if whole := tuple(_surface(surface)):
        return whole
    found = [refusal for control in surface.controls for refusal in _control(surface, control)]
    return (*found, *_crossing(surface))


def _surface(surface: Surface) -> Iterator[Refusal]:
    if len(surface.stations) < 2:
        text = "a surface needs two stations or more, from the root out: give its tip"
        yield Refusal(key=f"{surface.key}.stations", text=text)
    for one, other in pairwise(surface.stations):
        if other.out_mm <= one.out_mm + ROUNDING_MM:
            text = (
                f"this station lies {decimal_text(other.out_mm)} mm out and the one before it"
                f" {decimal_text(one.out_mm)} mm: stations go from the root out, each farther than the last"
            )
            yield Refusal(key=other.key, text=text)
    for word, given in (("spar", surface.spar), ("joiner", surface.joiner)):
        if given is not None:
            text = (
                f"a flat surface has no room for a {word}: leave it out; its halves are glued along their"
                " bevelled roots and taped on both faces"
            )
            yield Refusal(key=given.key, text=text)
    fin = surface.role is Role.FIN
    if fin and surface.angle_deg != 0:
        text = "a fin stands along the middle of the model: leave its angle out"
        yield Refusal(key=f"{surface.key}.angle", text=text)
    for one in surface.stations[:-1]:
        if fin and one.dihedral_deg != 0:
            text = "a fin stands upright: leave its dihedral out"
            yield Refusal(key=one.key, text=text)
        elif abs(one.dihedral_deg) > _STEEPEST_DEG:
            text = (
                f"a dihedral of {decimal_text(one.dihedral_deg)} degrees is more than"
                f" {decimal_text(_STEEPEST_DEG)}: take a fin where a surface stands upright"
            )
            yield Refusal(key=one.key, text=text)


def _control(surface: Surface, control: Control) -> Iterator[Refusal]:
    first, last, span = control.from_mm, control.to_mm, surface.half_span_mm
    if not 0 <= first < last <= span + ROUNDING_MM:
        text = (
            f"the {control.word} goes from {decimal_text(first)} to {decimal_text(last)} mm out; it has to"
            f" lie between the root and the tip, {decimal_text(span)} mm out"
        )
        yield Refusal(key=f"{control.key}.{'to' if last > span else 'from'}", text=text)
        return
    for sheet in sheets(surface):
        low, high = sheet.stations_mm[0], sheet.stations_mm[-1]
        if first < high - ROUNDING_MM and last > high + ROUNDING_MM:
            text = (
                f"the {control.word} runs over the joint of two panels {decimal_text(high)} mm out: end it"
                " there, or write two of them"
            )
            yield Refusal(key=f"{control.key}.to", text=text)
            return
        if low <= first and last <= high + ROUNDING_MM:
            yield from _chord(surface, control, sheet.stations_mm)


def _chord(surface: Surface, control: Control, stations: tuple[float, ...]) -> Iterator[Refusal]:
    """Where the hinge line comes too near to the leading or to the trailing edge."""
    first, last = control.from_mm, control.to_mm

    def edges(s: float) -> tuple[float, float]:
        panel = next((one for one in panels(surface) if s <= one.last.out_mm), panels(surface)[-1])
        return panel.leading(s), panel.trailing(s)

    ends = [edges(s)[1] - control.chord_mm for s in (first, last)]
    line = Hinged(control=control, from_mm=first, to_mm=last, hinge_mm=(ends[0], ends[1]))
    bevel = line.bevel_mm(surface.material.thickness_mm)
    least = max(_LEAST_CHORD_MM, bevel + _BEHIND_BEVEL_MM)
    for s in (first, *(one for one in stations if first < one < last), last):
        leading, trailing = edges(s)
        hinge = line.hinge(s)
        if hinge - leading < LEAST_FIXED_MM:
            most = control.chord_mm - LEAST_FIXED_MM + hinge - leading
            mend = f"give it a chord of {decimal_text(most)} mm or less"
            if most < _LEAST_CHORD_MM:
                mend = "end it where the surface is deeper, or make the surface deeper there"
            text = (
                f"{decimal_text(s)} mm out the hinge line of the {control.word} lies"
                f" {decimal_text(max(hinge - leading, 0.0))} mm behind the leading edge, and"
                f" {decimal_text(LEAST_FIXED_MM)} mm are the least: {mend}"
            )
            yield Refusal(key=f"{control.key}.chord", text=text)
            return
        if trailing - hinge < least:
            text = (
                f"{decimal_text(s)} mm out the {control.word} is {decimal_text(max(trailing - hinge, 0.0))}"
                f" mm deep, and {decimal_text(least)} mm are the least, its bevel takes"
                f" {decimal_text(bevel)} mm: make its chord larger"
            )
            yield Refusal(key=f"{control.key}.chord", text=text)
            return


def _crossing(surface: Surface) -> Iterator[Refusal]:
    several = sorted(surface.controls, key=lambda one: (one.from_mm, one.key))
    for one, other in pairwise(several):
        if other.from_mm < one.to_mm - ROUNDING_MM:
            text = (
                f"the {other.word} begins {decimal_text(other.from_mm)} mm out and the {one.word} before it"
                f" ends {decimal_text(one.to_mm)} mm out: let one end where the other begins"
            )
            yield Refusal(key=f"{other.key}.from", text=text)
