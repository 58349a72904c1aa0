"""What each part meets: in slots, or face to face; of parts without a place, what their sizes fit.

mm; model axes.  Parts meet where their bodies are no farther apart than bent skins and bevels leave them.
One stands in a slot of the other when the middle of that slot, halfway through its board, lies within it; in
a cut-out when most of what the other's plane cuts of it lies within the other's convex hull.  Of a right-hand
and a left-hand part only the two of a pair are named: others meet at corners alone, where halves butt against
each other.
"""

from collections.abc import Sequence
from enum import Enum
from typing import NamedTuple

import numpy as np
import shapely
from shapely import Polygon

from foamcut.book import steps_mates
from foamcut.flat.assembled import Standing
from foamcut.flat.drawn import Hand
from foamcut.flat.folded_body import Body
from foamcut.flat.part import Part, Slot

#: bodies that are so near to each other meet: fits, bevels and bent skins leave some tenths
NEAR_MM = 0.6
_PLACES = 3
#: what reaches through a plane stands out so far on both sides of the board
_OUT_MM = 1.0
_MOST = 0.5


class How(Enum):
    """How the first of two parts meets the second."""

    SLOT = "stands in a slot of"
    FITS = "fits a slot of"  # one of several that it may stand in
    CUTOUT = "lies in a cut-out of"
    CROSS = "is slid crosswise over"
    FACE = "lies against"


class Mate(NamedTuple):
    """Two parts that meet, by their names."""

    one: str
    other: str
    how: How


def mates(standing: Sequence[Standing]) -> tuple[Mate, ...]:
    """Parts that meet where they stand on the model, in their order."""
    boxes = np.array([one.box for one in standing]).reshape(-1, 2, 3)
    found: list[Mate] = []
    for i, one in enumerate(standing):
        for j in range(i + 1, len(standing)):
            other = standing[j]
            apart = np.maximum(boxes[i, 0], boxes[j, 0]) - np.minimum(boxes[i, 1], boxes[j, 1])
            if (np.round(apart, _PLACES) > NEAR_MM).any() or _across(one, other):
                continue
            ways = ((one, other), (other, one))
            in_slot = next((way for way in ways if _stands_in(*way)), None)
            if in_slot is None and _gap_mm(one, other) > NEAR_MM:
                continue
            in_cutout = None if in_slot else next((way for way in ways if _lies_in(*way)), None)
            how = How.SLOT if in_slot else How.CUTOUT if in_cutout else How.FACE
            first, second = in_slot or in_cutout or (one, other)
            found.append(Mate(first.part.name, second.part.name, how))
    return tuple(found)


def _across(one: Standing, other: Standing) -> bool:
    """Whether they are of different hands and no pair."""
    hands = {one.part.hand, other.part.hand}
    return hands == {Hand.LEFT, Hand.RIGHT} and one.pair_name != other.pair_name


def _gap_mm(one: Standing, other: Standing) -> float:
    far = 2 * NEAR_MM
    gaps = [
        a.solid.min_gap(b.solid, far)
        for a in one.bodies
        for b in other.bodies
        if not (a.solid.is_empty() or b.solid.is_empty())
    ]
    return round(min(gaps, default=far), _PLACES)


def _stands_in(one: Standing, other: Standing) -> bool:
    """Whether one stands in a slot of the other."""
    return any(
        slot.takes == one.part.stock and _holds(one, _middle(slot, other)) for slot in other.part.slots
    )


def _middle(slot: Slot, of: Standing) -> np.ndarray:
    """The middle of a slot, halfway through its board, on the model."""
    matrix = of.board_of(*slot.at).matrix
    local = np.array([*slot.at, -of.part.thickness_mm / 2])
    at: np.ndarray = matrix[:3, :3] @ local + matrix[:3, 3]
    return at


def _holds(one: Standing, at: np.ndarray) -> bool:
    """Whether a place on the model lies within the board of a part, or nearly."""
    for board in one.boards:
        x, y, z = board.matrix[:3, :3].T @ (at - board.matrix[:3, 3])
        deep = -one.part.thickness_mm - NEAR_MM <= round(z, _PLACES) <= NEAR_MM
        if deep and round(board.panel.outline.polygon.distance(shapely.Point(x, y)), _PLACES) <= NEAR_MM:
            return True
    return False


def _lies_in(one: Standing, other: Standing) -> bool:
    """Whether one reaches through the plane of a board of another, within what that board surrounds."""
    return other.bent is None and any(_reaches_through(one, board) for board in other.boards)


def _reaches_through(one: Standing, board: Body) -> bool:
    t = board.part.thickness_mm
    hull = Polygon(board.panel.outline.rings()[0]).convex_hull
    back = np.linalg.inv(board.matrix)[:3, :]
    for body in one.bodies:
        turned = body.solid.transform(back)
        if turned.is_empty():
            continue
        box = turned.bounding_box()
        if box[2] > -t - _OUT_MM or box[5] < _OUT_MM:
            continue
        rings = [Polygon(ring) for ring in turned.slice(-t / 2).to_polygons() if len(ring) > 2]
        cut = shapely.union_all(shapely.make_valid(rings))
        if round(cut.intersection(hull).area - _MOST * cut.area, _PLACES) > 0:
            return True
    return False


def loose_mates(parts: Sequence[Part]) -> tuple[Mate, ...]:
    """What parts without a place fit by their sizes alone, in the order of the parts."""
    found = [
        Mate(one.tabbed.name, one.slotted.name, How.SLOT if one.sure else How.FITS)
        for one in steps_mates.mates(parts)
        if one.tabbed.place is None or one.slotted.place is None
    ]
    found += [
        Mate(one.name, other.name, How.CROSS)
        for one, other in steps_mates.crossing(parts)
        if one.place is None or other.place is None
    ]
    return tuple(dict.fromkeys(found))
