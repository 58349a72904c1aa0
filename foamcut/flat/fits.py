"""Tabs and slots of different parts: does each tab find a slot, each slot something that fits it."""

from collections.abc import Iterable, Sequence

from foamcut.findings import Finding, Level
from foamcut.flat.part import Part, Slot, Tab
from foamcut.flat.tolerances import ON_EDGE_MM
from foamcut.units import decimal_text


def check_fits(parts: Sequence[Part]) -> tuple[Finding, ...]:
    """Notes on tabs that no slot takes, and on slots into which no tab and no part of their length goes.

    A tab fits a slot when the slot is in a part cut from the stock that the tab goes into, takes the
    stock of the tab's part, and is as long before its fit.  An open slot asks for no tab.  A hand of a
    pair is not told of twice.
    """
    findings = [
        *(_tab_note(part, tab) for part in parts for tab in part.tabs if not _slot_for(part, tab, parts)),
        *(
            _slot_note(slot)
            for part in parts
            for slot in part.slots
            if not slot.open and not _goes_in(part, slot, parts)
        ),
    ]
    return tuple({finding.where: finding for finding in findings}.values())


def _slot_for(part: Part, tab: Tab, parts: Iterable[Part]) -> bool:
    return any(
        slot.takes == part.stock and _alike(slot.length_mm - slot.fit_mm, tab.length_mm)
        for other in parts
        if other.stock == tab.into
        for slot in other.slots
    )


def _goes_in(part: Part, slot: Slot, parts: Iterable[Part]) -> bool:
    """Whether a tab, or a whole part by its length or width, goes into a slot."""
    length = slot.length_mm - slot.fit_mm
    return any(
        _alike(other.length_mm, length)
        or _alike(other.width_mm, length)
        or any(tab.into == part.stock and _alike(tab.length_mm, length) for tab in other.tabs)
        for other in parts
        if other.stock == slot.takes
    )


def _alike(a: float, b: float) -> bool:
    return abs(a - b) <= ON_EDGE_MM


def _tab_note(part: Part, tab: Tab) -> Finding:
    length = f"{decimal_text(tab.length_mm, 2)} mm"
    return Finding(
        code="tab-without-slot",
        level=Level.NOTE,
        where=tab.key,
        text=f'no slot {length} long in a part of stock "{tab.into}" takes "{part.stock}"',
        value=length,
        source="common practice, no source",
        mend="check the tab's length and the slot that it should go into",
    )


def _slot_note(slot: Slot) -> Finding:
    length = f"{decimal_text(slot.length_mm - slot.fit_mm, 2)} mm"
    return Finding(
        code="tab-without-slot",
        level=Level.NOTE,
        where=slot.key,
        text=f'no tab and no part of stock "{slot.takes}" is {length} long to go into this slot',
        value=length,
        source="common practice, no source",
        mend="check the slot's length and what should go in; with open = true it is not looked at",
    )
