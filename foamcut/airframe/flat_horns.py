"""Control horns of thin stock: plates that stand square on a control, a tab through a slot behind its hinge.

mm; sizes are common practice without a source unless they say otherwise.  A horn stands on the face that lies
down, of a fin on the left; its hole lies over the hinge line, so that the throw is alike both ways.
"""

from collections.abc import Iterator

from foamcut.airframe.flat_controls import Hinged
from foamcut.airframe.flat_sheet import Sheet
from foamcut.airframe.values import Material
from foamcut.findings import Finding, Level
from foamcut.flat.drawn import (
    Cutout,
    Disc,
    DrawnMark,
    DrawnPart,
    DrawnSlot,
    DrawnTab,
    Face,
    Hand,
    Place,
    Reading,
    Readings,
)
from foamcut.units import decimal_text

#: the hole over the surface (10 to 20 mm: from memory), its diameter, and the board round it
HOLE_MM, HOLE_WIDE_MM, _ROUND_MM = 15.0, 1.5, 4.0
#: the length of the slot, and the least worth cutting
_SLOT_MM, _LEAST_SLOT_MM = 20.0, 8.0
#: between bevel and slot, and between slot and trailing edge
_WEB_MM = 4.0
#: what the foot of a horn is longer than its tab at each end
_FOOT_MM = 1.5
#: how far out from its inner end an elevator's or a rudder's horn stands
_IN_MM = 20.0
_MIDDLE = ("aileron", "elevon")


def horn_out(one: Hinged) -> float:
    """s of a horn: in the middle of ailerons and elevons, near the inner end of the others."""
    long = one.to_mm - one.from_mm
    return one.from_mm + (long / 2 if one.control.word in _MIDDLE else min(_IN_MM, long / 2))


def _slot(sheet: Sheet, one: Hinged) -> tuple[float, float] | None:
    """From where to where behind the hinge line the slot runs; None when there is no room."""
    s = horn_out(one)
    front = one.bevel_mm(sheet.thickness_mm) + _WEB_MM
    length = min(_SLOT_MM, sheet.trailing(s) - one.hinge(s) - _WEB_MM - front)
    return (front, front + length) if length >= _LEAST_SLOT_MM else None


def horn_slots(sheet: Sheet, one: Hinged) -> tuple[DrawnSlot, ...]:
    """The slots in the control, right and left of a sheet across the centre plane."""
    horn, span = one.control.horn, _slot(sheet, one)
    if horn is None or span is None:
        return ()
    s = horn_out(one)
    c = one.hinge(s) + (span[0] + span[1]) / 2
    return tuple(
        DrawnSlot(
            key=f"{one.control.key}.horn.slots[{i}]",
            at=sheet.drawn(c, way * s),
            length_mm=span[1] - span[0],
            takes=horn.name,
            takes_thickness_mm=horn.thickness_mm,
            fit_mm=horn.fit_mm,
        )
        for i, way in enumerate((1, -1) if sheet.across else (1,))
    )


def horn_marks(sheet: Sheet, one: Hinged) -> tuple[DrawnMark, ...]:
    """Where a horn stands when none is cut."""
    if horn_slots(sheet, one):
        return ()
    s = horn_out(one)
    ends = (one.hinge(s), sheet.trailing(s))
    return tuple(
        DrawnMark(
            key=f"{one.control.key}.horn.mark[{i}]",
            kind="line",
            face=Face.OUTER if sheet.fin else Face.INNER,
            points=(sheet.drawn(ends[0], way * s), sheet.drawn(ends[1], way * s)),
            text="horn here",
        )
        for i, way in enumerate((1, -1) if sheet.across else (1,))
    )


def horn_parts(sheet: Sheet, one: Hinged, name: str) -> tuple[DrawnPart, ...]:
    """The horn of a control: a pair, of a fin a single one; none without a stock or without room."""
    horn, span = one.control.horn, _slot(sheet, one)
    if horn is None or span is None:
        return ()
    key = f"{one.control.key}.horn"
    return (
        DrawnPart(
            key=key,
            name=name,
            stock=horn.name,
            thickness_mm=horn.thickness_mm,
            shape=_shape(key, span),
            pair=Hand.NONE if sheet.fin else Hand.RIGHT,
            face=Face.OUTER,
            cutouts=(
                Cutout(
                    key=f"{key}.hole",
                    shape=Disc(key=f"{key}.hole", diameter_mm=HOLE_WIDE_MM),
                    at=(0.0, HOLE_MM),
                ),
            ),
            tabs=(
                DrawnTab(
                    key=f"{key}.tabs[0]",
                    at=((span[0] + span[1]) / 2, 0.0),
                    length_mm=span[1] - span[0],
                    into=sheet.surface.material.name,
                    into_thickness_mm=sheet.thickness_mm,
                ),
            ),
            place=_place(key, sheet, one, horn),
            may_be_joined=False,
            kerf_mm=horn.kerf_mm,
        ),
    )


def _shape(key: str, span: tuple[float, float]) -> Readings:
    """x aft from the hinge line, y away from the surface: a foot behind the bevel, a head over the hinge."""
    front, rear = span[0] - _FOOT_MM, span[1] + _FOOT_MM
    corners = (
        (front, 0.0),
        (rear, 0.0),
        (_ROUND_MM, HOLE_MM + _ROUND_MM),
        (-_ROUND_MM, HOLE_MM + _ROUND_MM),
        (-_ROUND_MM, HOLE_MM - _ROUND_MM),
    )
    rows = (Reading(key=f"{key}.outline[{i}]", at=at) for i, at in enumerate(corners))
    return Readings(key=key, points=tuple(rows))


def _place(key: str, sheet: Sheet, one: Hinged, horn: Material) -> Place:
    s = horn_out(one)
    panel, half = sheet.panel(s), horn.thickness_mm / 2
    if sheet.fin:
        at = panel.point(one.hinge(s), s - half, sheet.thickness_mm)
        return Place(key=key, at=at, x=panel.aft, y=panel.up)
    x, y, z = panel.up
    at = panel.point(one.hinge(s), s + half, 0.0)
    return Place(key=key, at=at, x=panel.aft, y=(0.0 - x, 0.0 - y, 0.0 - z))


def horn_findings(sheet: Sheet, one: Hinged) -> Iterator[Finding]:
    """A control too narrow for the slot of its horn."""
    if one.control.horn is None or _slot(sheet, one) is not None:
        return
    need = one.bevel_mm(sheet.thickness_mm) + 2 * _WEB_MM + _LEAST_SLOT_MM
    yield Finding(
        code="control-place",
        level=Level.WARNING,
        where=f"{one.control.key}.horn",
        text=f"the {one.control.word} is too narrow for the slot of a horn: its place is marked, and no horn"
        " is cut",
        range=f"a chord of at least {decimal_text(need)} mm",
        source="common practice, no source",
        mend="make its chord larger, or glue a bought horn on",
    )
