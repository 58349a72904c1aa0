"""Parts of a surface of flat board: stabiliser, fin, flat wing, with their controls and horns.

mm, degrees; how they are drawn is said in `foamcut.airframe.flat_sheet`.
"""

from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely import Polygon
from shapely.affinity import scale

from foamcut.airframe.body_holes import ring_points, ring_readings
from foamcut.airframe.flat_base import base_of
from foamcut.airframe.flat_clear import Cleared, cleared, inner_end
from foamcut.airframe.flat_controls import BELOW_MM, Hinged, gaps, hinge_lines, hinges, kept_clear
from foamcut.airframe.flat_horns import horn_findings, horn_parts, horn_slots
from foamcut.airframe.flat_marks import balance_findings, marks
from foamcut.airframe.flat_openings import cutouts, opening_refusals, openings, servo_refusals
from foamcut.airframe.flat_refusals import flat_refusals
from foamcut.airframe.flat_sheet import Sheet, sheets
from foamcut.airframe.flat_tabs import drawn_tabs, root_findings, slots_for, tabs_of, trimmed_root
from foamcut.airframe.made import Made
from foamcut.airframe.meets import TabInto
from foamcut.airframe.values import Build, Inputs, Role, Surface
from foamcut.flat.drawn import DrawnPart, DrawnSlot, DrawnTab, Face, Hand, Readings

_SAME_MM = 1e-5
#: beyond every surface
_FAR_MM = 1.0e5


def flat_surface_parts(surface: Surface, inputs: Inputs) -> Made:
    """Every part of a flat surface."""
    if refusals := flat_refusals(surface):
        return Made(refusals=refusals)
    found = cleared(surface, inputs)
    said = Made(findings=found.findings, refusals=(*found.refusals, *servo_refusals(surface, inputs)))
    if found.refusals:
        return said
    made = [said, *(_sheet_made(sheet, found, inputs) for sheet in sheets(surface))]
    advice = balance_findings(surface, inputs)
    if surface.role is Role.FIN:
        advice = (*advice, *root_findings(surface, inputs, _tabs(surface, inputs)))
    return Made.of([*made, Made(findings=advice)])


def root_tabs(surface: Surface, inputs: Inputs) -> tuple[TabInto, ...]:
    """The tabs with which a fin stands in the deck of a body; none where no deck lies under it.

    The middle of a tab's root lies on the deck's outer paper at `along_mm`.
    """
    base = base_of(surface, inputs) if surface.role is Role.FIN and surface.build is Build.FLAT else None
    if base is None or base.stabiliser or flat_refusals(surface):
        return ()
    return _tabs(surface, inputs)


def _tabs(fin: Surface, inputs: Inputs) -> tuple[TabInto, ...]:
    base, found = base_of(fin, inputs), cleared(fin, inputs)
    if base is None or found.refusals:
        return ()
    (sheet,) = sheets(fin)
    return tabs_of(fin, base, _outline(sheet, found.of(sheet), inputs))


def _outline(sheet: Sheet, controls: Sequence[Hinged], inputs: Inputs) -> Polygon:
    """The outline in c and s, gaps cut out; of a sheet across the centre plane the right half."""
    base = base_of(sheet.surface, inputs) if sheet.fin else None
    shape = sheet.half(-BELOW_MM if base is not None else None)
    if base is not None:
        shape = trimmed_root(sheet.surface, shape, base)
    taken = [gap.shape for gap in gaps(sheet, controls, inner_end(sheet, inputs))]
    return shape.difference(shapely.union_all(taken)) if taken else shape


def _sheet_made(sheet: Sheet, found: Cleared, inputs: Inputs) -> Made:
    surface, controls = sheet.surface, found.of(sheet)
    half = _outline(sheet, controls, inputs)
    if sheet.across:
        half = shapely.union_all([half, scale(half, yfact=-1.0, origin=(0.0, 0.0))])
    shape = shapely.transform(half, lambda at: at - sheet.start)
    slots = (*(slot for one in controls for slot in horn_slots(sheet, one)), *_fin_slots(sheet, inputs))
    holes = openings(sheet, inputs)
    part = DrawnPart(
        key=surface.key if sheet.panels[0].index == 0 else sheet.panels[0].first.key,
        name=sheet.name,
        stock=surface.material.name,
        thickness_mm=sheet.thickness_mm,
        shape=_bevelled(sheet, ring_readings(f"{surface.key}.{sheet.name}", ring_points(shape))),
        pair=Hand.NONE if sheet.across or sheet.fin else Hand.RIGHT,
        face=Face.OUTER,
        cutouts=cutouts(sheet, holes),
        slots=slots,
        tabs=_fin_tabs(sheet, inputs),
        marks=marks(sheet, controls, inputs),
        folds=tuple(fold for one in controls for fold in hinges(sheet, one)),
        keep_clear=tuple(keep for one in controls for keep in kept_clear(sheet, one)),
        place=sheet.place(),
        kerf_mm=surface.material.kerf_mm,
    )
    words = [one.control.word for one in found.controls]
    horns: list[DrawnPart] = []
    for one in controls:
        i, word = found.controls.index(one), one.control.word
        name = f"{surface.name}-{word}-horn"
        if words.count(word) > 1:
            name = f"{name}-{words[: i + 1].count(word)}"
        horns += horn_parts(sheet, one, name)
    return Made(
        parts=(part, *horns),
        findings=tuple(finding for one in controls for finding in horn_findings(sheet, one)),
        refusals=tuple(opening_refusals(sheet, holes, _fixed(sheet, shape, controls, slots))),
    )


def _fixed(sheet: Sheet, shape: Polygon, controls: Sequence[Hinged], slots: Sequence[DrawnSlot]) -> Polygon:
    """What of a board as drawn does not move, slots taken out."""
    moving = [
        Polygon([start, end, (_FAR_MM, end[1]), (_FAR_MM, start[1])])
        for one in controls
        for start, end in hinge_lines(sheet, one)
    ]
    lines = [
        shapely.LineString([(x - slot.length_mm / 2, y), (x + slot.length_mm / 2, y)])
        for slot in slots
        for x, y in (slot.at,)
    ]
    return shape.difference(shapely.union_all([*moving, *lines]))


def _bevelled(sheet: Sheet, readings: Readings) -> Readings:
    """The ends that meet another panel at an angle, bevelled by what they lean."""
    if sheet.fin:
        return readings
    (low, high), (inner, outer) = (s - sheet.start[1] for s in sheet.ends_mm), sheet.tilts_deg
    # a lean outwards on the way up takes board off the drawn face at an inner end, off the other at an outer
    ends = [(low, inner), (high, -outer), *([(-high, -outer)] if sheet.across else [])]
    rows = []
    points = readings.points
    for row, after in zip(points, [*points[1:], points[0]], strict=True):
        for y, lean in ends:
            if lean and max(abs(row.at[1] - y), abs(after.at[1] - y)) <= _SAME_MM:
                row = replace(
                    row,
                    bevel_deg=lean if lean > 0 else None,
                    bevel_back_deg=-lean if lean < 0 else None,
                )
        rows.append(row)
    return replace(readings, points=tuple(rows))


def _fin_tabs(sheet: Sheet, inputs: Inputs) -> tuple[DrawnTab, ...]:
    base = base_of(sheet.surface, inputs) if sheet.fin else None
    return () if base is None else drawn_tabs(sheet, base, _tabs(sheet.surface, inputs))


def _fin_slots(sheet: Sheet, inputs: Inputs) -> tuple[DrawnSlot, ...]:
    """In a stabiliser those for the tabs of fins that stand on it."""
    if not sheet.across:
        return ()
    found: list[DrawnSlot] = []
    for fin in inputs.surfaces:
        if fin.role is not Role.FIN or fin.build is not Build.FLAT or flat_refusals(fin):
            continue
        base = base_of(fin, inputs)
        if base is not None and base.stabiliser == sheet.surface.name:
            found += slots_for(sheet, fin, base, _tabs(fin, inputs))
    return tuple(found)
