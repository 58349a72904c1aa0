"""What is wrong with one place of a thing aboard: outside the body, no room, something in the way.  mm."""

from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flat.outline import Point
from foamcut.flight.aboard_bays import Bay, Plate
from foamcut.flight.aboard_boxes import FIT_MM, Box, boxes_of
from foamcut.flight.aboard_room import Met, Other, fits, is_free, met
from foamcut.flight.aboard_ways import nearest_free, openings, words_of
from foamcut.flight.values import Aboard, Setup
from foamcut.units import decimal_text
from foamcut.units import mm_text as _mm

_CUT = "the parts of the body as they are cut"


def spot_findings(
    thing: Aboard, at: Point, where: str, bay: Bay, setup: Setup, *, others: bool
) -> Iterator[Finding]:
    """The findings of a thing at a place; with `others` also what it meets of them."""
    outside = _outside(thing, at, where, bay, setup)
    if outside is not None:
        yield outside
        return
    boxes = boxes_of(thing, at)
    yield from _tight(thing, boxes[0], where, bay)
    bars = _bars(thing, boxes, bay, setup, others=others)
    if not bars:
        return
    near = nearest_free(thing, at, bay, setup) if fits(boxes, bay) else None
    mends = [
        "" if near is None else f"{thing.name} {moved(near - at[0])}, to {_mm(near)} along",
        openings(bars, boxes),
        *(_lifted(thing, at, one, bay, setup) for one in bars if isinstance(one, Plate)),
    ]
    yield Finding(
        code="aboard-through",
        level=Level.WARNING,
        where=where,
        text=f'"{thing.name}", {_size(thing)}, goes through {_bars_words(bars)}'
        f" with its middle at {_mm(at[0])} along and {_mm(at[1])} up",
        value=_mm(at[0]),
        source=_CUT,
        mend="; or ".join(filter(None, mends))
        or "no place along is free for it at that height: make it smaller",
    )


def _bars(thing: Aboard, boxes: Sequence[Box], bay: Bay, setup: Setup, *, others: bool) -> list[Met]:
    found = met(thing, tuple(boxes), bay, setup)
    return [one for one in found if others or not isinstance(one, Other)]


def _bars_words(bars: Sequence[Met]) -> str:
    return " and ".join(words_of(one) for one in bars)


def through_words(thing: Aboard, at: Point, bay: Bay, setup: Setup, *, others: bool) -> str:
    """What a thing goes through at a place."""
    return _bars_words(_bars(thing, boxes_of(thing, at), bay, setup, others=others))


def moved(by_mm: float) -> str:
    """A distance along in words."""
    return f"{_mm(abs(by_mm))} {'back' if by_mm > 0 else 'forward'}"


def _size(thing: Aboard) -> str:
    assert thing.size_mm is not None
    return f"{' x '.join(decimal_text(one, 1) for one in thing.size_mm)} mm"


def _outside(thing: Aboard, at: Point, where: str, bay: Bay, setup: Setup) -> Finding | None:
    """A middle off the side view, or an end past the body's."""
    box = boxes_of(thing, at)[0]
    low, high = bay.ends
    name = bay.body.name
    if not low <= at[0] <= high:
        off = _mm(low - at[0] if at[0] < low else at[0] - high)
        side = "before" if at[0] < low else "behind"
        text = f'the middle of "{thing.name}" lies {off} {side} "{name}", which goes {_span(low, high)} along'
    elif not bay.profile.bottom(at[0]) <= at[1] <= bay.profile.top(at[0]):
        bottom, top = bay.profile.bottom(at[0]), bay.profile.top(at[0])
        off = _mm(bottom - at[1] if at[1] < bottom else at[1] - top)
        side = "under" if at[1] < bottom else "over"
        text = (
            f'the middle of "{thing.name}" lies {off} {side} "{name}", which goes {_span(bottom, top)} up'
            f" at {_mm(at[0])} along"
        )
    elif box.x[0] < low - FIT_MM or box.x[1] > high + FIT_MM:
        before = box.x[0] < low - FIT_MM
        off = _mm(low - box.x[0] if before else box.x[1] - high)
        text = f'"{thing.name}" stands out {off} {"before" if before else "behind"} "{name}"'
    else:
        return None
    return Finding(
        code="outside-body",
        level=Level.WARNING,
        where=where,
        text=text,
        value=off,
        source=_CUT,
        mend=_inwards(thing, at, bay, setup),
    )


def _inwards(thing: Aboard, at: Point, bay: Bay, setup: Setup) -> str:
    """How far a thing has to be moved to lie inside, along and up."""
    near = nearest_free(thing, at, bay, setup)
    if near is not None:
        return f"{moved(near - at[0])}, to {_mm(near)} along"
    box = boxes_of(thing, at)[0]
    long = (box.x[1] - box.x[0]) / 2
    low, high = bay.ends[0] + long, bay.ends[1] - long
    if low > high:
        return f"it is {_mm(2 * long)} long and the body {_mm(bay.ends[1] - bay.ends[0])}"
    x = min(max(at[0], low), high)
    words = [f"{moved(x - at[0])}, to {_mm(x)} along"] if abs(x - at[0]) > FIT_MM else []
    foot, head = bay.height((x - long, x + long))
    half = (box.z[1] - box.z[0]) / 2
    if foot + half <= head - half + FIT_MM:
        z = max(min(at[1], head - half), foot + half)
        if abs(z - at[1]) > FIT_MM:
            words.append(f"{_mm(abs(z - at[1]))} {'higher' if z > at[1] else 'lower'}, to {_mm(z)} up")
    return " and ".join(words) or "move it to where the body has room; a bare number is read off the sketch"


def _tight(thing: Aboard, box: Box, where: str, bay: Bay) -> Iterator[Finding]:
    """Too high or too low for floor and cover, too wide or too far out for the sides."""
    foot, head = bay.height(box.x)
    high = box.z[1] - box.z[0]
    along = _span(*(round(x, 1) for x in box.x))
    turned = _turned(thing, box, bay)
    if high > head - foot + FIT_MM:
        less = high - max(head - foot, 0.0)
        yield _room(
            where,
            f'"{thing.name}" is {_mm(high)} high; {along} along there are {_mm(max(head - foot, 0.0))}'
            " between the floor and what lies over it",
            _mm(high),
            f"at most {_mm(max(head - foot, 0.0))}",
            turned or f"{_raised(thing, box, bay, less)}; or a thing {_mm(less)} lower, or another place",
        )
    elif box.z[0] < foot - FIT_MM or box.z[1] > head + FIT_MM:
        by = foot - box.z[0] if box.z[0] < foot - FIT_MM else head - box.z[1]
        into = "the floor" if by > 0 else "what lies over it"
        yield _room(
            where,
            f'"{thing.name}" lies {_mm(abs(by))} into {into} {along} along',
            _mm(abs(by)),
            f"its middle {_span(foot + high / 2, head - high / 2)} up",
            f"{_mm(abs(by))} {'higher' if by > 0 else 'lower'}, its middle at"
            f" {_mm((box.z[0] + box.z[1]) / 2 + by)} up",
        )
    wide, room = box.y[1] - box.y[0], bay.width(box)
    past = max(box.y[1] - room / 2, 0.0 - room / 2 - box.y[0])
    if wide > room + FIT_MM:
        yield _room(
            where,
            f'"{thing.name}" is {_mm(wide)} wide; between the sides there are {_mm(room)}',
            _mm(wide),
            f"at most {_mm(room)}",
            turned or f"a body {_mm(wide - room)} wider",
        )
    elif past > FIT_MM:
        side = "left" if box.y[1] > room / 2 else "right"
        yield _room(
            where, f'"{thing.name}" lies {_mm(past)} into a side', _mm(past), "", f"{_mm(past)} to the {side}"
        )


def _room(where: str, text: str, value: str, span: str, mend: str) -> Finding:
    return Finding(
        code="aboard-room",
        level=Level.WARNING,
        where=where,
        text=text,
        value=value,
        range=span,
        source=_CUT,
        mend=mend,
    )


def _raised(thing: Aboard, box: Box, bay: Bay, more: float) -> str:
    """The body that is high enough: how high inside, from where to where, and the thing's middle."""
    foot, high = bay.height(box.x)[0], box.z[1] - box.z[0]
    wing = ", the wing with it" if bay.view.seats.limits(*box.x)[0] is not None else ""
    return (
        f"a body {_mm(more)} higher there{wing}, its floor where it is: inside"
        f" height {_mm(high)}, {_span(foot, foot + high)} up, with the middle of {thing.name} at"
        f" {_mm(foot + high / 2)} up"
    )


def _turned(thing: Aboard, box: Box, bay: Bay) -> str:
    """That a thing has room when it lies on its side, or nothing."""
    foot, head = bay.height(box.x)
    assert thing.size_mm is not None
    _, wide, high = thing.size_mm
    if wide > head - foot + FIT_MM or high > bay.width(box) + FIT_MM or abs(wide - high) <= FIT_MM:
        return ""
    return (
        f"turned on its side, {decimal_text(high, 1)} wide and {decimal_text(wide, 1)} high, its middle"
        f" {_span(foot + wide / 2, head - wide / 2)} up"
    )


def _lifted(thing: Aboard, at: Point, plate: Plate, bay: Bay, setup: Setup) -> str:
    """The place up at which a thing passes the opening that a plate has, where it is free."""
    if plate.opening_mm is None or thing.size_mm is None:
        return ""
    room, middle = (plate.opening_mm[1] - thing.size_mm[2]) / 2, plate.middle_mm
    if room < 0 or not is_free(thing, (at[0], middle), bay, setup):
        return ""
    return f"its middle {_span(middle - room, middle + room)} up, through the opening at {_mm(plate.x[0])}"


def _span(low: float, high: float) -> str:
    return f"{decimal_text(low, 1)} to {decimal_text(high, 1)} mm"
