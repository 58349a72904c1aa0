"""A body drawn by hand: two sides, floor, deck and two formers of 5 mm board, each with its place.

Model axes, mm: x aft, y right, z up.  200 long, 60 wide, 80 high outside; corners butt, the sides run past.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from foamcut.flat.build import build_part
from foamcut.flat.drawn import DrawnPart, Hand, Place, Shape
from foamcut.flat.part import Part
from tests.strategies import readings, rectangle, slot, tab

T = 5.0
LENGTH, WIDTH, HEIGHT = 200.0, 60.0, 80.0
INSIDE = WIDTH / 2 - T  # half of the inside width
FORMERS = (50.0, 150.0)  # their front faces
AFT, FORE = (1.0, 0.0, 0.0), (-1.0, 0.0, 0.0)
RIGHT, LEFT = (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)
UP, DOWN = (0.0, 0.0, 1.0), (0.0, 0.0, -1.0)
Three = tuple[float, float, float]


def drawn(name: str, shape: Shape, at: Three, x: Three, y: Three, **more: Any) -> DrawnPart:
    """A part in its place; whatever it has on it is called after it."""
    key = f"parts.{name}"
    named = {
        word: tuple(replace(one, key=f"{key}.{word}[{i}]") for i, one in enumerate(more.pop(word, ())))
        for word in ("slots", "tabs")
    }
    return DrawnPart(
        key=key, name=name, stock=more.pop("stock", "board"), thickness_mm=more.pop("thickness_mm", T),
        shape=shape, place=Place(key=f"{key}.place", at=at, x=x, y=y), **named, **more,
    )  # fmt: skip


def side(**more: Any) -> DrawnPart:
    slots = [slot(i, (x + T / 2, 40.0), 20.0, 90.0) for i, x in enumerate(FORMERS)]
    values: dict[str, Any] = {"slots": slots, "pair": Hand.RIGHT} | more
    return drawn("side", rectangle(LENGTH, HEIGHT), (0.0, INSIDE, 0.0), AFT, UP, **values)


def former(i: int, *, wider: float = 0.0, **more: Any) -> DrawnPart:
    """Seen from behind: x to the right, y up; `wider`: to each side."""
    half, low, high = INSIDE + wider, T, HEIGHT - T
    values: dict[str, Any] = {"tabs": [tab(0, (half, 40.0), 20.0), tab(1, (-half, 40.0), 20.0)]} | more
    at = values.pop("at", (FORMERS[i] + T, 0.0, 0.0))
    shape = readings((-half, low), (half, low), (half, high), (-half, high))
    return drawn(f"former-{i + 1}", shape, at, RIGHT, UP, **values)


def floor(**more: Any) -> DrawnPart:
    at = more.pop("at", (0.0, 0.0, T))
    shape = readings((0, -INSIDE), (LENGTH, -INSIDE), (LENGTH, INSIDE), (0, INSIDE))
    return drawn("floor", shape, at, AFT, RIGHT, **more)


def deck(**more: Any) -> DrawnPart:
    shape = readings((0, -INSIDE), (LENGTH, -INSIDE), (LENGTH, INSIDE), (0, INSIDE))
    return drawn("deck", shape, (0.0, 0.0, HEIGHT - T), AFT, LEFT, **more)


def box() -> dict[str, DrawnPart]:
    """The body as it should be, by name."""
    return {one.name: one for one in (side(), floor(), deck(), former(0), former(1))}


def built(several: Iterable[DrawnPart]) -> list[Part]:
    return [part for one in several for part in build_part(one)[0]]


def box_with(*changed: DrawnPart) -> list[Part]:
    """The body with some parts drawn otherwise, or more of them."""
    return built((box() | {one.name: one for one in changed}).values())
