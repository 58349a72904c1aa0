"""Which tabs of drawn parts go into which slots: by the stock that a slot takes, and by length.  mm."""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.flat.part import Part, Slot, Tab

#: a slot is longer than its tab by its fit; lengths that differ by less are the same, mm
_SAME_MM = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Mate:
    """Tabs of `tabbed` of one length, or that part's own edge, which go into slots of `slotted`.

    `tabs` of one copy; `slots` in one copy; `sure`: no other part has such slots.
    """

    tabbed: Part
    slotted: Part
    length_mm: float
    tabs: int
    slots: int
    sure: bool


def mates(parts: Sequence[Part]) -> tuple[Mate, ...]:
    """Every pair of parts of which one has tabs for the other's slots, by part in their order."""
    found: list[Mate] = []
    for tabbed in parts:
        for length in _lengths(tabbed.tabs):
            takers = [one for one in parts if one is not tabbed and _slots(one, tabbed, length)]
            tabs = sum(1 for tab in tabbed.tabs if _alike(tab.length_mm, length))
            takers = _by_count(takers, tabbed, length, tabs) or takers
            found += [
                Mate(
                    tabbed=tabbed,
                    slotted=one,
                    length_mm=length,
                    tabs=tabs,
                    slots=len(_slots(one, tabbed, length)),
                    sure=len(takers) == 1,
                )
                for one in takers
            ]
    tabbed_names = {one.tabbed.name for one in found}
    for slotted in parts:
        for slot in slotted.slots:
            for part in parts:
                if part is slotted or part.name in tabbed_names or part.tabs or slot.open:
                    continue
                if part.stock == slot.takes and part.stock != slotted.stock and _edge(part, slot):
                    found.append(
                        Mate(tabbed=part, slotted=slotted, length_mm=_own(slot), tabs=0, slots=1, sure=True)
                    )
    return tuple(found)


def crossing(parts: Sequence[Part]) -> tuple[tuple[Part, Part], ...]:
    """Pairs of parts that are pushed into each other crosswise: open slots of the same length in both."""
    found = []
    for i, one in enumerate(parts):
        for other in parts[i + 1 :]:
            if any(
                a.open
                and b.open
                and a.takes == other.stock
                and b.takes == one.stock
                and _alike(_own(a), _own(b))
                for a in one.slots
                for b in other.slots
            ):
                found.append((one, other))
    return tuple(found)


def _lengths(tabs: Sequence[Tab]) -> list[float]:
    found: list[float] = []
    for tab in tabs:
        if not any(_alike(tab.length_mm, one) for one in found):
            found.append(tab.length_mm)
    return found


def _slots(part: Part, tabbed: Part, length: float) -> list[Slot]:
    return [
        slot
        for slot in part.slots
        if not slot.open and slot.takes == tabbed.stock and _alike(_own(slot), length)
    ]


def _by_count(takers: Sequence[Part], tabbed: Part, length: float, tabs: int) -> list[Part]:
    """Of several parts with such slots those with one for each copy of the part that has the tabs."""
    if len(takers) < 2:
        return []
    several = [
        one for one in takers if len(_slots(one, tabbed, length)) == tabbed.count and one.count == tabs
    ]
    return several if len(several) == 1 else []


def _own(slot: Slot) -> float:
    return slot.length_mm - slot.fit_mm


def _edge(part: Part, slot: Slot) -> bool:
    return any(_alike(size, _own(slot)) for size in (part.length_mm, part.width_mm))


def _alike(a: float, b: float) -> bool:
    return abs(round(a - b, 3)) <= _SAME_MM
