"""Marks on flat board: centre line, edges of bodies, hinge tape, joints with dihedral, the balance.

mm.  The drawn face is the outer one; what touches a body is marked on the face that lies down.
"""

import math
from collections.abc import Iterator, Sequence

from foamcut.airframe.flat_controls import Hinged, hinge_lines
from foamcut.airframe.flat_horns import horn_marks
from foamcut.airframe.flat_sheet import Sheet
from foamcut.airframe.planform import mean_chord, panel_beside, panels
from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.findings import Finding, Level
from foamcut.flat.drawn import DrawnMark, Face
from foamcut.units import decimal_text

#: widths of tape over a hinge and over a joint, where words stand off a joint (common practice, no source)
_TAPE_MM, _JOINT_MM = 12.0, 15.0
#: how far beside a body fingers find the balance (common practice, no source)
_FINGER_MM = 25.0


def marks(sheet: Sheet, controls: Sequence[Hinged], inputs: Inputs) -> tuple[DrawnMark, ...]:
    """Every mark of a sheet."""
    found = [
        *_centre(sheet),
        *_bodies(sheet, inputs),
        *(mark for one in controls for mark in (*_tape(sheet, one), *horn_marks(sheet, one))),
        *_joints(sheet),
    ]
    if sheet.surface.role is Role.WING:
        found += _balance(sheet, inputs)
    return tuple(found)


def _line(sheet: Sheet, key: str, s: float, text: str, face: Face) -> DrawnMark:
    points = (sheet.drawn(sheet.leading(s), s), sheet.drawn(sheet.trailing(s), s))
    return DrawnMark(key=f"{sheet.surface.key}.{key}", kind="line", face=face, points=points, text=text)


def _mirrored(sheet: Sheet, mark: DrawnMark) -> tuple[DrawnMark, ...]:
    if not sheet.across:
        return (mark,)
    x, key = mark.points, mark.key
    other = tuple((a, 0.0 - b) for a, b in x)
    return mark, DrawnMark(
        key=f"{key}.left", kind=mark.kind, face=mark.face, points=other, text=mark.text,
        ratio=mark.ratio, width_mm=mark.width_mm,
    )  # fmt: skip


def _centre(sheet: Sheet) -> Iterator[DrawnMark]:
    if sheet.across:
        yield _line(sheet, "centre", 0.0, "centre line", Face.OUTER)


def _bodies(sheet: Sheet, inputs: Inputs) -> Iterator[DrawnMark]:
    """Where the sides of bodies stand, outside."""
    if sheet.fin:
        return
    for body in inputs.bodies:
        panel, s = panel_beside(sheet.surface, body.width_mm / 2)
        ends = [panel.point(c, s, 0.0)[0] for c in (panel.leading(s), panel.trailing(s))]
        beside = ends[0] < body.side[-1].along_mm and body.side[0].along_mm < ends[1]
        if beside and sheet.holds(s) and s < sheet.surface.half_span_mm:
            mark = _line(sheet, f"edge.{body.name}", s, f"edge of {body.name}", Face.INNER)
            yield from _mirrored(sheet, mark)


def _tape(sheet: Sheet, one: Hinged) -> Iterator[DrawnMark]:
    for i, (start, end) in enumerate(hinge_lines(sheet, one)):
        yield DrawnMark(
            key=f"{one.control.key}.tape[{i}]",
            kind="tape",
            face=Face.OUTER,
            points=(start, end),
            text="hinge tape, cut on the other face",
            width_mm=_TAPE_MM,
        )


def _joints(sheet: Sheet) -> Iterator[DrawnMark]:
    """Where a bevelled inner end is taped, and how high the other side is propped up to glue it."""
    if sheet.tilts_deg[0] == 0 or sheet.fin:
        return
    first = sheet.panels[0]
    rise = prop_mm(sheet)
    other = "the other tip" if first.first.out_mm == 0 else "this tip"
    where = f"tape the joint; to glue it prop {other} up {decimal_text(rise)} mm"
    if rise < 0:
        where = f"tape the joint; to glue it turn both over and prop {other} up {decimal_text(-rise)} mm"
    s = sheet.ends_mm[0] + _JOINT_MM
    if s < sheet.ends_mm[1]:
        yield _line(sheet, f"joint[{first.index}]", s, where, Face.OUTER)


def prop_mm(sheet: Sheet) -> float:
    """How high the tip is over the table when the inner end is joined and what it joins lies flat.

    At the root the other half lies flat: of one panel b/2 sin(2 g), trade practice.
    """
    several, first = panels(sheet.surface), sheet.panels[0]
    rises = [panel.first.dihedral_deg for panel in several]
    flat = -rises[0] if first.index == 0 else rises[first.index - 1]
    return sum(
        panel.length_mm * math.sin(math.radians(rise - flat))
        for panel, rise in zip(several[first.index :], rises[first.index :], strict=True)
    )


def balance_out(surface: Surface, inputs: Inputs) -> float:
    """s of the places where fingers find the balance: beside the first body."""
    half = inputs.bodies[0].width_mm / 2 if inputs.bodies else 0.0
    return min(panel_beside(surface, half + _FINGER_MM)[1], surface.half_span_mm)


def _balance_ratio(surface: Surface, inputs: Inputs) -> float:
    mean, s = mean_chord(surface), balance_out(surface, inputs)
    panel = next((one for one in panels(surface) if s <= one.last.out_mm), panels(surface)[-1])
    return (mean.leading_mm + surface.balance * mean.chord_mm - panel.leading(s)) / panel.chord(s)


def _balance(sheet: Sheet, inputs: Inputs) -> Iterator[DrawnMark]:
    """The V at the share of the mean chord, on the face that lies down."""
    surface, s = sheet.surface, balance_out(sheet.surface, inputs)
    ratio = _balance_ratio(surface, inputs)
    if not sheet.holds(s) or not 0 <= ratio <= 1:
        return
    points = (sheet.drawn(sheet.leading(s), s), sheet.drawn(sheet.trailing(s), s))
    mark = DrawnMark(
        key=f"{surface.key}.balance",
        kind="balance",
        face=Face.INNER,
        points=points,
        text=f"balance, {decimal_text(100 * surface.balance)} % of the mean chord",
        ratio=ratio,
    )
    yield from _mirrored(sheet, mark)


def balance_findings(surface: Surface, inputs: Inputs) -> tuple[Finding, ...]:
    """A balance that lies off the chord beside the body, so that it cannot be marked there."""
    if surface.role is not Role.WING or 0 <= (ratio := _balance_ratio(surface, inputs)) <= 1:
        return ()
    s = balance_out(surface, inputs)
    panel = next((one for one in panels(surface) if s <= one.last.out_mm), panels(surface)[-1])
    off = max(-ratio, ratio - 1) * panel.chord(s)
    way = "behind the trailing edge" if ratio > 1 else "before the leading edge"
    return (
        Finding(
            code="balance-off",
            level=Level.NOTE,
            where=f"{surface.key}.balance",
            text=f"the balance lies {decimal_text(off)} mm {way} beside the body, and is not marked there",
            value=f"{decimal_text(off)} mm",
            source="geometry of the numbers given",
            mend="mark it on the body",
        ),
    )
