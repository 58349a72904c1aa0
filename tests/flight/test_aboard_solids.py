"""Room aboard against the parts as they are cut: a thing that is said to have room meets no board."""

import random
from functools import cache
from typing import Any

import pytest
from manifold3d import Manifold

from foamcut.airframe.airframe import airframe_parts
from foamcut.airframe.model import assembled
from foamcut.flat.build import build_part
from foamcut.flight.aboard_bays import Bay, bays
from foamcut.flight.aboard_boxes import FIT_MM, Box, boxes_of
from foamcut.flight.aboard_room import fits
from foamcut.flight.values import Aboard, Carried
from tests.airframe.body_sample import body, tail, twin, wing
from tests.airframe.motors_sample import firewall, in_nose

NOSE = in_nose(at_mm=(45.0, 45.0), firewall=firewall("motor.nose", width_mm=42.0))
MODELS = {
    "high wing": twin(),
    "low wing": twin(surfaces=(wing(at=(240.0, 8.0)), tail())),
    "nose motor": twin(body(cooling_in_mm=None), motors=(NOSE,)),
}


@cache
def boards(name: str) -> list[tuple[str, Any]]:
    """Every board of a model as a solid where it stands."""
    made = airframe_parts(MODELS[name])
    assert made.refusals == ()
    parts = [part for drawn in made.parts for part in build_part(drawn)[0]]
    return [(one.part.name, body.solid) for one in assembled(parts, made.shells) for body in one.bodies]


def met(name: str, box: Box, more_mm: float) -> list[str]:
    """The boards that a box meets when it is made larger on every side."""
    low, high = zip(*((a - more_mm, b + more_mm) for a, b in (box.x, box.y, box.z)), strict=True)
    if any(b <= a for a, b in zip(low, high, strict=True)):
        return []
    cube = Manifold.cube([b - a for a, b in zip(low, high, strict=True)]).translate(low)
    return [part for part, solid in boards(name) if (cube ^ solid).volume() > 1e-3]


def within(bay: Bay, box: Box) -> bool:
    """Whether a box lies between the edges of the sides and no farther out than they do."""
    xs = [*box.x, *(one.along_mm for one in bay.body.side if box.x[0] < one.along_mm < box.x[1])]
    held = all(bay.profile.bottom(x) <= box.z[0] and box.z[1] <= bay.profile.top(x) for x in xs)
    ends = bay.ends[0] <= box.x[0] and box.x[1] <= bay.ends[1]
    return held and ends and max(abs(y) for y in box.y) <= bay.body.width_mm / 2


def over_wing(bay: Bay, box: Box) -> bool:
    """Whether a box lies over the top of a wing, or under that of a low one: outside, but beside the sides."""
    return any(
        low < box.x[1] and box.x[0] < high for low, high in (saddle.span for saddle in bay.view.seats.saddles)
    )


@pytest.mark.parametrize("name", MODELS)
def test_what_has_room_meets_no_board_and_what_has_none_does(name: str) -> None:
    """Another way: 700 boxes, and every board of the model as a solid, cut with each other.

    One that is free, made smaller by what is let pass, meets none; one that is not, and lies within the
    sides, meets some when it is made larger by as much.
    """
    bay = bays(MODELS[name])[0]
    source = random.Random(4)
    free = barred = 0
    for _ in range(700):
        size = (source.uniform(10, 150), source.uniform(6, 50), source.uniform(6, 60))
        at = (source.uniform(0, 864), source.uniform(5, 80))
        thing = Aboard(
            key="a", name="a", kind=Carried.OTHER, at=at, out_mm=source.uniform(-12, 12), size_mm=size
        )
        box = boxes_of(thing)[0]
        if fits((box,), bay) and not any(plate.meets(box) for plate in bay.plates):
            free += 1
            assert met(name, box, -1.2 * FIT_MM) == [], (at, size)
        elif within(bay, box) and not over_wing(bay, box):
            barred += 1
            assert met(name, box, 1.2 * FIT_MM) != [], (at, size)
    assert free > 30
    assert barred > 30
