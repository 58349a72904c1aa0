"""From where to where along a thing aboard may be moved, and what bars its way.  mm."""

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from foamcut.findings import Finding, Level
from foamcut.flat.outline import Point
from foamcut.flight.aboard_bays import Bay, Plate, Rod
from foamcut.flight.aboard_boxes import FIT_MM, Box, boxes_of, overlap, swept
from foamcut.flight.aboard_room import Met, Other, fits, is_free, met
from foamcut.flight.values import Aboard, Setup
from foamcut.units import decimal_text
from foamcut.units import mm_text as _mm

#: a way is looked at every so often, but at no more places than this; its ends are then found so closely
_STEP_MM, _MOST_STEPS, _CLOSE_MM = 1.0, 250, 0.01
#: so many of the things in the way are named
_TOLD = 3

Way = tuple[float, float]


def free_ways(thing: Aboard, way: Way, bay: Bay, setup: Setup) -> tuple[Way, ...]:
    """The stretches of a way along on which a thing has room and meets nothing, its place up kept.

    Limit: what is narrower than a step, 1 mm or 1/250 of the way, may be missed; as no obstacle
    is shorter than the thing, this concerns free stretches alone.
    """
    return _stretches(lambda x: is_free(thing, (x, thing.at[1]), bay, setup), way)


def _stretches(is_open: Callable[[float], bool], way: Way) -> tuple[Way, ...]:
    """The stretches of a way that are open; ends that something bounds leave it `FIT_MM` more."""
    low, high = way
    count = min(max(math.ceil((high - low) / _STEP_MM), 1), _MOST_STEPS)
    places = [low + (high - low) * i / count for i in range(count + 1)]
    rows = [(x, is_open(x)) for x in places]
    found: list[Way] = []
    start = low if rows[0][1] else None
    for (x0, before), (x1, now) in pairwise(rows):
        if before is now:
            continue
        edge = _edge(is_open, x0, x1, before)
        if now:
            start = edge + FIT_MM
        elif start is not None:
            found.append((start, edge - FIT_MM))
            start = None
    found += [] if start is None else [(start, high)]
    return tuple(way for way in found if way[0] <= way[1])


def _edge(is_open: Callable[[float], bool], x0: float, x1: float, at_first: bool) -> float:
    """Where an open stretch ends or begins between two places, on its open side."""
    while x1 - x0 > _CLOSE_MM:
        middle = (x0 + x1) / 2
        if is_open(middle) is at_first:
            x0 = middle
        else:
            x1 = middle
    return x0 if at_first else x1


def way_findings(thing: Aboard, bay: Bay, setup: Setup) -> Iterator[Finding]:
    """A way that does not hold the place drawn; one on which a thing meets what it does not meet there."""
    if thing.slides_mm is None:
        return
    low, high = sorted(thing.slides_mm)
    at = thing.at[0]
    if not low - FIT_MM <= at <= high + FIT_MM:
        off = low - at if at < low else at - high
        end = low if at < low else high
        yield Finding(
            code="slides-place",
            level=Level.WARNING,
            where=f"{thing.key}.slides",
            text=f'"{thing.name}" is drawn at {_mm(at)} along, {_mm(off)} beyond where it may slide'
            f" ({_span((low, high))})",
            value=_mm(at),
            mend=f"draw it at {_mm(end)}, or let it slide from {_mm(min(at, low))} to {_mm(max(at, high))}",
        )
    yield from _barred(thing, (low, high), bay, setup)


def _barred(thing: Aboard, way: Way, bay: Bay, setup: Setup) -> Iterator[Finding]:
    """What bars a way and not the place drawn; nothing of a thing that has no room even there."""
    here = boxes_of(thing)
    if not fits(here, bay):
        return
    there = swept(here, *way, thing.at[0])
    told = {words_of(one) for one in met(thing, here, bay, setup)}
    bars = [one for one in met(thing, there, bay, setup) if words_of(one) not in told]
    tight = not _fits_along(thing, way, bay)
    ways = free_ways(thing, way, bay, setup) if bars or tight else ()
    if not (bars or tight) or (told and not ways):
        return
    mends = [free_words(ways, thing.at[0]), "" if tight else openings(bars, there)]
    yield Finding(
        code="slides-through",
        level=Level.WARNING,
        where=f"{thing.key}.slides",
        text=f'"{thing.name}" slides {_span(way)} and {_barred_words(bars, there, tight=tight)}',
        value=_span(way),
        source="the parts of the body as they are cut",
        mend="; or ".join(filter(None, mends)),
    )


def _barred_words(bars: Sequence[Met], boxes: Sequence[Box], *, tight: bool) -> str:
    several = [f"{words_of(one)} by {_mm(_depth(one, boxes))}" for one in bars]
    more = [f"{len(several) - _TOLD} more"] if len(several) > _TOLD else []
    through = " and ".join([", ".join(several[:_TOLD]), *more])
    room = "has not room between floor, cover, sides and ends all along"
    return "; it ".join(filter(None, [f"goes through {through}" if through else "", room if tight else ""]))


def _fits_along(thing: Aboard, way: Way, bay: Bay) -> bool:
    whole = _stretches(lambda x: fits(boxes_of(thing, (x, thing.at[1])), bay), way)
    return len(whole) == 1 and overlap(whole[0], way) >= way[1] - way[0] - FIT_MM


def free_words(ways: Sequence[Way], at_mm: float) -> str:
    """The stretch that holds a place, else the longest, in words."""
    if not ways:
        return "nowhere on that way is it free"
    holds = [way for way in ways if way[0] - FIT_MM <= at_mm <= way[1] + FIT_MM]
    low, high = max(holds or ways, key=lambda way: round(way[1] - way[0], 2))
    low, high = math.ceil(round(10 * low, 1)) / 10, math.floor(round(10 * high, 1)) / 10
    return f"slides {_span((low, max(low, high)))} is free"


def nearest_free(thing: Aboard, at: Point, bay: Bay, setup: Setup) -> float | None:
    """The free place along a body that lies nearest to a place, its place up kept; None: there is none."""
    long = 0.0 if thing.size_mm is None else thing.size_mm[0] / 2
    low, high = bay.ends[0] + long, bay.ends[1] - long
    if low >= high:
        return None
    ways = _stretches(lambda x: is_free(thing, (x, at[1]), bay, setup), (low, high))
    places = [min(max(at[0], a), b) for a, b in ways]
    return min(places, key=lambda x: (round(abs(x - at[0]), 2), x), default=None)


def words_of(one: Met) -> str:
    """What is met and where."""
    if isinstance(one, Rod):
        return f"the dowel at {_mm(one.at[0])} along and {_mm(one.at[1])} up"
    if isinstance(one, Plate):
        return f"{one.words} at {_mm(one.x[0])}"
    return f'"{one.thing.name}"'


def _depth(one: Met, boxes: Sequence[Box]) -> float:
    """How far along boxes reach into what they meet, from the side that lies nearer."""
    if isinstance(one, Rod):
        spans = [one.reach(box) for box in boxes]
    else:
        spans = [one.box.x if isinstance(one, Other) else one.x] * len(boxes)
    pairs = [(box.x, span) for box, span in zip(boxes, spans, strict=True) if span is not None]
    return max(min(x[1] - span[0], span[1] - x[0]) for x, span in pairs)


def openings(bars: Sequence[Met], boxes: Sequence[Box]) -> str:
    """The openings in formers that let boxes pass; empty where something else bars them, or without room."""
    found = []
    for one in bars:
        if not isinstance(one, Plate) or not one.may_open:
            return ""
        wide, high = (max(sizes) for sizes in zip(*(one.needs(box) for box in boxes), strict=True))
        if wide > one.most_mm[0] + FIT_MM or high > one.most_mm[1] + FIT_MM:
            return ""
        found.append(f"opening of {words_of(one)} at least {_up(wide)} x {_up(high)} mm (wide, high)")
    return " and ".join(found)


def _up(value: float) -> str:
    return decimal_text(math.ceil(round(value, 3)), 0)


def _span(way: Way) -> str:
    return f"from {decimal_text(way[0], 1)} to {decimal_text(way[1], 1)} mm"
