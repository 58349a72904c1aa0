"""Whether a thing aboard has room at a place in a body.  mm."""

from collections.abc import Iterator
from dataclasses import dataclass

from foamcut.airframe.values import Inputs
from foamcut.flat.outline import Point
from foamcut.flight.aboard_bays import Bay, Plate, Rod, bays
from foamcut.flight.aboard_boxes import FIT_MM, Box, boxes_of
from foamcut.flight.values import Aboard, Carried, Model, Setup

#: what hangs out of a body by its nature, and what has no shape of its own
_ANYWHERE = (Carried.GEAR, Carried.PAINT, Carried.MOTOR, Carried.WIRE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Other:
    """Another thing aboard, or the other one of a pair, in the way."""

    thing: Aboard
    box: Box


Met = Plate | Rod | Other


def hangs(thing: Aboard) -> bool:
    """Whether a thing has its place outside a body by its nature, or no shape of its own."""
    return thing.kind in _ANYWHERE


def bay_at(thing: Aboard, at: Point, inputs: Inputs) -> Bay | None:
    """The body that a thing belongs in at a place, else the nearest along; None: none is asked of it.

    None for what hangs outside by its nature, for what sits beyond the sides of the body (on a wing, in a
    nacelle), for what sits in the wing, and without a body.
    """
    if hangs(thing) or thing.size_mm is None:
        return None
    found = bays(inputs)
    off = [round(max(one.ends[0] - at[0], at[0] - one.ends[1], 0.0), 3) for one in found]
    bay = found[off.index(min(off))] if found else None
    if bay is None or abs(thing.out_mm) > bay.body.width_mm / 2 or bay.in_wing(boxes_of(thing, at)[0]):
        return None
    return bay


def met(thing: Aboard, boxes: tuple[Box, ...], bay: Bay, setup: Setup) -> Iterator[Met]:
    """What boxes of a thing go through: plates, dowels, other things where they are drawn; each once."""
    seen: dict[tuple[str, Point], None] = {}
    for box in boxes:
        for one in bay.clashes(box):
            place = one.at if isinstance(one, Rod) else one.x
            if (one.key, place) not in seen:
                seen[one.key, place] = None
                yield one
    for other in setup.aboard:
        if other.key == thing.key or hangs(other):
            continue
        hit = next((b for b in boxes_of(other) if any(b.meets(box) for box in boxes)), None)
        if hit is not None:
            yield Other(thing=other, box=hit)


def fits(boxes: tuple[Box, ...], bay: Bay) -> bool:
    """Whether boxes lie between the ends, floor and cover, and sides of a body."""
    return all(_within(box, bay) for box in boxes)


def _within(box: Box, bay: Bay) -> bool:
    low, high = bay.ends
    if box.x[0] < low - FIT_MM or box.x[1] > high + FIT_MM:
        return False
    foot, head = bay.height(box.x)
    half = bay.width(box) / 2
    return (
        box.z[0] >= foot - FIT_MM
        and box.z[1] <= head + FIT_MM
        and max(abs(y) for y in box.y) <= half + FIT_MM
    )


def is_free(thing: Aboard, at: Point, bay: Bay, setup: Setup) -> bool:
    """Whether a thing has room at a place of a body and meets nothing there."""
    boxes = boxes_of(thing, at)
    return fits(boxes, bay) and next(met(thing, boxes, bay, setup), None) is None


def has_room(thing: Aboard, model: Model, setup: Setup) -> bool:
    """Whether a thing has room where it is placed; true where its size is not known or nothing bounds it."""
    bay = bay_at(thing, thing.at, model.inputs)
    return bay is None or is_free(thing, thing.at, bay, setup)
