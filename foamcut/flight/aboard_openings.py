"""Whether a battery can be put into a body: its openings, and which lead to where it sits.  mm."""

from collections.abc import Iterator
from typing import NamedTuple

from foamcut.findings import Finding, Level
from foamcut.flight.aboard_bays import Bay
from foamcut.flight.aboard_boxes import FIT_MM, boxes_of, swept
from foamcut.flight.aboard_room import fits
from foamcut.flight.values import Aboard, Carried
from foamcut.units import decimal_text
from foamcut.units import mm_text as _mm


class Opening(NamedTuple):
    """From where to where along a body can be opened."""

    words: str
    low_mm: float
    high_mm: float


def openings_of(bay: Bay) -> tuple[Opening, ...]:
    """The hatch, what nothing covers, and what lies open with the wing off.

    Limit: a wing is taken for one that comes off.
    """
    body, (front, rear) = bay.body, bay.ends
    saddles = bay.view.seats.saddles
    found = [] if body.hatch_mm is None else [Opening("the hatch", *body.hatch_mm)]
    found += [Opening(f'the saddle of "{one.surface.name}"', *one.span) for one in saddles]
    covered = [*bay.profile.covers, *(one.span for one in saddles if one.upwards)]
    at = front
    for low, high in [*sorted(covered), (rear, rear)]:
        if low - at > FIT_MM:
            found.append(Opening("the open top", at, low))
        at = max(at, high)
    return tuple(found)


def opening_findings(thing: Aboard, bay: Bay) -> Iterator[Finding]:
    """A battery that no opening lets in at its length, or none that leads to its place.

    It is taken to go in level and to be slid along at the height at which it sits; one that has no room
    there is told of elsewhere.
    """
    if thing.kind is not Carried.BATTERY or thing.size_mm is None:
        return
    here = boxes_of(thing)
    if not fits(here, bay) or any(True for box in here for _ in bay.clashes(box)):
        return
    long = thing.size_mm[0]
    several = openings_of(bay)
    wide = [one for one in several if one.high_mm - one.low_mm >= long - FIT_MM]
    if any(_leads(one, thing, bay) for one in wide):
        return
    if wide:
        text = f'what bars its way parts "{thing.name}" from {wide[0].words}, which is long enough for it'
    elif several:
        best = max(several, key=lambda one: round(one.high_mm - one.low_mm, 2))
        text = (
            f'"{thing.name}" is {_mm(long)} long; the longest opening of "{bay.body.name}" is {best.words},'
            f" {_mm(best.high_mm - best.low_mm)}"
        )
    else:
        text = f'"{bay.body.name}" has no opening through which "{thing.name}" goes in'
    low, high = thing.at[0] - long / 2, thing.at[0] + long / 2
    yield Finding(
        code="aboard-opening",
        level=Level.NOTE,
        where=f"{thing.key}.size",
        text=text,
        value=_mm(long),
        source="it goes in level and slides at the height at which it sits",
        mend=f"a hatch over it, {decimal_text(low, 1)} to {decimal_text(high, 1)} mm along, or larger"
        " openings in the formers",
    )


def _leads(opening: Opening, thing: Aboard, bay: Bay) -> bool:
    """Whether nothing stands between an opening and the place of a thing."""
    boxes = boxes_of(thing)
    half = (boxes[0].x[1] - boxes[0].x[0]) / 2
    low, high = opening.low_mm + half, max(opening.high_mm - half, opening.low_mm + half)
    at = thing.at[0]
    start = min(max(at, low), high)
    way = swept(boxes, min(start, at), max(start, at), at)
    return not any(True for box in way for _ in bay.clashes(box))
