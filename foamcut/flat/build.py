"""From a part as drawn to parts that can be cut: tabs on, cutouts and slots off, marks trimmed, hands made.

mm.  All refusals of a part are collected before they are raised; what rests on a refused
outline or tab is not looked at.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TypeVar

import shapely

from foamcut.errors import Refusal, Refused
from foamcut.findings import Finding, Level
from foamcut.flat.bevel_checks import laid_bevels
from foamcut.flat.bevels import Bevel
from foamcut.flat.cuts import Cut, cut_out, cutout_cut, slot_of
from foamcut.flat.drawn import DrawnMark, DrawnPart, Hand, Label
from foamcut.flat.fits import check_fits
from foamcut.flat.fold_checks import laid_folds
from foamcut.flat.fold_numbers import square_hinge, tight_roll
from foamcut.flat.folds import Fold
from foamcut.flat.marks import Mark, mark_of
from foamcut.flat.other_hand import other_hand
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part, Slot, Tab
from foamcut.flat.part_numbers import kerf_refused, part_numbers_refused
from foamcut.flat.shape import trace
from foamcut.flat.tabs import with_tabs
from foamcut.flat.tolerances import MOST_POINTS, NARROWEST_SLOT_MM, THIN_SLOT_MM
from foamcut.flat.trace import Trace, length_text, numbers_refused, place_text, refuse
from foamcut.flat.webs import narrow_webs

__all__ = ["build_part", "check_fits"]

_Drawn = TypeVar("_Drawn")
_Made = TypeVar("_Made")


def build_part(drawn: DrawnPart) -> tuple[tuple[Part, ...], tuple[Finding, ...]]:
    """The part as it is cut, or for a pair the right-hand and the left-hand one, and advice on it.

    Of a pair, the drawing is the hand that `pair` names, and the other its mirror image (y -> -y) with
    all that is on it.

    Raises
    ------
    Refused
        The part cannot be cut, with every reason found.
    """
    part, cuts = _drawn_hand(drawn)
    findings = (
        *(finding for fold in part.folds for finding in (*tight_roll(fold), *square_hinge(fold))),
        *(finding for slot in part.slots for finding in _thin_slot(slot)),
        *narrow_webs(part.key, part.outline, [(cut.key, cut.outline) for cut in cuts]),
    )
    if drawn.pair is Hand.NONE:
        return (part,), findings
    other = other_hand(part)
    hands = (part, other) if drawn.pair is Hand.RIGHT else (other, part)
    return tuple(replace(hand, name=f"{drawn.name}-{hand.hand.value}") for hand in hands), findings


@dataclass(slots=True)
class _Refusals:
    """What was refused so far."""

    found: list[Refusal]

    def each(self, make: Callable[[_Drawn], _Made], drawn: Iterable[_Drawn]) -> list[_Made]:
        """What can be made of each; the refusals of the rest are kept."""
        made = []
        for one in drawn:
            try:
                made.append(make(one))
            except Refused as refused:
                self.found.extend(refused.refusals)
        return made


def _drawn_hand(drawn: DrawnPart) -> tuple[Part, list[Cut]]:
    refusals = _Refusals(part_numbers_refused(drawn))
    cutouts = refusals.each(cutout_cut, drawn.cutouts)
    slots = refusals.each(slot_of, drawn.slots)
    marks = refusals.each(lambda mark: (mark, mark_of(mark)), drawn.marks)
    traces = refusals.each(lambda shape: trace(shape, drawn.mirrored), [drawn.shape])
    if not traces:
        refuse(refusals.found)
    cuts = [
        *cutouts,
        *(Cut(key=slot.key, outline=slot.outline, is_slot=True, open=slot.open) for slot in slots),
    ]
    outline, tabs, found = _material(drawn, traces[0], cuts)
    folds: tuple[Fold, ...] = ()
    bevels: tuple[Bevel, ...] = ()
    if not found and drawn.thickness_mm > 0:
        folds, found = laid_folds(drawn.folds, outline.polygon, drawn.thickness_mm, slots, tabs)
        bevels, refused = laid_bevels(traces[0], outline.polygon, drawn.thickness_mm, tabs, folds)
        found += refused
    trimmed = _trimmed(marks, outline, found)
    found += kerf_refused(slots, drawn.kerf_mm)
    refuse([*refusals.found, *found, *_label(drawn.label, outline)])
    part = Part(
        key=drawn.key,
        name=drawn.name,
        stock=drawn.stock,
        thickness_mm=drawn.thickness_mm,
        count=drawn.count,
        hand=drawn.pair,
        face=drawn.face,
        grain=drawn.grain,
        turns=drawn.turns,
        outline=outline,
        slots=tuple(slots),
        tabs=tabs,
        marks=trimmed,
        label=drawn.label,
        place=drawn.place,
        named=traces[0].named,
        folds=folds,
        bevels=bevels,
        joint_lines=drawn.joint_lines,
        may_be_joined=drawn.may_be_joined,
        may_join=drawn.may_join,
        keep_clear=drawn.keep_clear,
        doubling=drawn.doubling,
        kerf_mm=drawn.kerf_mm,
    )
    return part, cuts


def _material(
    drawn: DrawnPart, traced: Trace, cuts: list[Cut]
) -> tuple[Outline, tuple[Tab, ...], list[Refusal]]:
    """What falls out when every line is cut."""
    body, tabs, refused_tabs = with_tabs(traced, drawn.tabs)
    count = body.corner_count + sum(cut.outline.corner_count for cut in cuts)
    if count > MOST_POINTS:
        text = (
            f'part "{drawn.name}" takes {count:,} points with its cutouts and slots, more than the'
            f" {MOST_POINTS:,} that a part may have; draw it with fewer"
        )
        return body, tabs, [*refused_tabs, Refusal(key=drawn.key, text=text)]
    outline, refusals = cut_out(body, cuts, drawn.key)
    return outline, tabs, [*refused_tabs, *refusals]


def _trimmed(
    marks: Iterable[tuple[DrawnMark, Mark]], outline: Outline, refusals: list[Refusal]
) -> tuple[Mark, ...]:
    region = outline.polygon
    shapely.prepare(region)
    trimmed: list[Mark] = []
    for one, mark in marks:
        left = mark.trimmed(region)
        if left is not None:
            trimmed.append(left)
            continue
        where = place_text(one.points[0])
        text = (
            f"nothing of this {one.kind} mark lies on the part; it starts at {where}: move it onto the part"
        )
        if one.kind == "balance":
            text = "the balance point lies off the part, or in a hole of it; check from, to and the share"
        refusals.append(Refusal(key=mark.key, text=text))
    return tuple(trimmed)


def _label(label: Label | None, outline: Outline) -> list[Refusal]:
    if label is None:
        return []
    refusals = [
        *numbers_refused(f"{label.key}.at", "point", label.at),
        *numbers_refused(f"{label.key}.turn", "turn", (label.turn_deg,)),
    ]
    if not refusals and not outline.polygon.covers(shapely.Point(label.at)):
        off = outline.polygon.distance(shapely.Point(label.at))
        text = (
            f"the label lies off the part, or in a hole of it, by {length_text(off)}; move it"
        )
        refusals.append(Refusal(key=f"{label.key}.at", text=text))
    return refusals


def _thin_slot(slot: Slot) -> tuple[Finding, ...]:
    if slot.width_mm >= THIN_SLOT_MM:
        return ()
    width = length_text(slot.width_mm)
    return (
        Finding(
            code="thin-slot",
            level=Level.NOTE,
            where=slot.key,
            text=f"the slot comes out {width} wide, close to the {NARROWEST_SLOT_MM} mm that can be cut",
            value=width,
            range=f"at least {length_text(THIN_SLOT_MM)}",
            source="common practice, no source",
            mend="raise the fit, or check the measured thickness of what goes in",
        ),
    )
