"""From a part as drawn to parts that can be cut: tabs on, cutouts and slots off, marks trimmed, hands made.

mm.  All refusals of a part are collected before they are raised; what rests on a refused
outline or tab is not looked at.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TypeVar

import shapely

from foamcut.errors import Refusal, Refused
from foamcut.findings import Finding, Level
from foamcut.flat.clipping import flip
from foamcut.flat.cuts import Cut, cut_out, cutout_cut, slot_of
from foamcut.flat.drawn import DrawnMark, DrawnPart, Hand, Label, Place
from foamcut.flat.fits import check_fits
from foamcut.flat.marks import Mark, mark_of
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part, Slot, Tab
from foamcut.flat.shape import trace
from foamcut.flat.tabs import with_tabs
from foamcut.flat.tolerances import MOST_POINTS, NARROWEST_SLOT_MM, THIN_SLOT_MM
from foamcut.flat.trace import Trace, length_text, numbers_refused, place_text, refuse, sizes_refused
from foamcut.flat.webs import narrow_webs
from foamcut.units import decimal_text

__all__ = ["build_part", "check_fits"]

#: unit vectors of a place may be this far from length 1 and a right angle
_SQUARE = 1e-6

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
        *(finding for slot in part.slots for finding in _thin_slot(slot)),
        *narrow_webs(part.key, part.outline, [(cut.key, cut.outline) for cut in cuts]),
    )
    if drawn.pair is Hand.NONE:
        return (part,), findings
    other = _other_hand(part)
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
    refusals = _Refusals([*_numbers(drawn), *_place(drawn.place)])
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
    trimmed = _trimmed(marks, outline, found)
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
    )
    return part, cuts


def _numbers(drawn: DrawnPart) -> list[Refusal]:
    refusals = sizes_refused(f"{drawn.key}.stock", {"thickness": drawn.thickness_mm})
    if drawn.count < 1:
        text = f"a count of {drawn.count} cuts nothing; give 1 or more, or take the part out"
        refusals.append(Refusal(key=f"{drawn.key}.count", text=text))
    return refusals


def _place(place: Place | None) -> list[Refusal]:
    """The directions of a place are of length 1 and square to each other."""
    if place is None:
        return []
    refusals = numbers_refused(f"{place.key}.at", "point", place.at)
    for name, vector in (("x", place.x), ("y", place.y)):
        if not abs(math.hypot(*vector) - 1) <= _SQUARE:
            text = f"{name} is no direction of length 1; name a direction or give one that is not 0"
            refusals.append(Refusal(key=f"{place.key}.{name}", text=text))
    lean = math.fsum(a * b for a, b in zip(place.x, place.y, strict=True))
    if not refusals and abs(lean) > _SQUARE:
        angle = decimal_text(math.degrees(math.acos(max(-1.0, min(1.0, lean)))), 3)
        text = f"x and y of the part stand at {angle} degrees to each other; they have to be square"
        refusals.append(Refusal(key=f"{place.key}.y", text=text))
    return refusals


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


def _other_hand(part: Part) -> Part:
    """The mirror image of a part, y -> -y, and all that is on it."""
    return replace(
        part,
        hand=Hand.LEFT if part.hand is Hand.RIGHT else Hand.RIGHT,
        outline=part.outline.mirrored(),
        slots=tuple(_slot_image(slot) for slot in part.slots),
        tabs=tuple(replace(t, at=flip(t.at), outline=t.outline.mirrored()) for t in part.tabs),
        marks=tuple(mark.mirrored() for mark in part.marks),
        label=_label_image(part.label),
        place=part.place.mirrored() if part.place else None,
        named=tuple((name, flip(at)) for name, at in part.named),
    )


def _slot_image(slot: Slot) -> Slot:
    return replace(slot, at=flip(slot.at), turn_deg=0.0 - slot.turn_deg, outline=slot.outline.mirrored())


def _label_image(label: Label | None) -> Label | None:
    return replace(label, at=flip(label.at), turn_deg=0.0 - label.turn_deg) if label else None
