"""Things aboard as boxes square to the model.  Model axes, mm: x aft, y right, z up."""

from collections.abc import Iterable
from dataclasses import dataclass

from foamcut.flat.outline import Point
from foamcut.flight.values import Aboard

#: what meets by less than this does not: no sketch is read more finely
FIT_MM = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """From where to where along, across and up."""

    x: tuple[float, float]
    y: tuple[float, float]
    z: tuple[float, float]

    def meets(self, other: "Box") -> bool:
        """Whether both fill some place together, deeper than `FIT_MM` every way."""
        return all(
            overlap(a, b) > FIT_MM for a, b in ((self.x, other.x), (self.y, other.y), (self.z, other.z))
        )


def overlap(one: tuple[float, float], other: tuple[float, float]) -> float:
    """How far two ranges lie over each other; negative: the gap between them."""
    return min(one[1], other[1]) - max(one[0], other[0])


def boxes_of(thing: Aboard, at: Point | None = None) -> tuple[Box, ...]:
    """The boxes of a thing, two of a mirrored one, at its place or another; none without a size."""
    if thing.size_mm is None:
        return ()
    x, z = thing.at if at is None else at
    sides = (thing.out_mm, 0.0 - thing.out_mm) if thing.mirrored else (thing.out_mm,)
    long, wide, high = thing.size_mm
    return tuple(Box(x=_about(x, long), y=_about(out, wide), z=_about(z, high)) for out in sides)


def swept(boxes: Iterable[Box], low_mm: float, high_mm: float, middle_mm: float) -> tuple[Box, ...]:
    """All that boxes pass while what they belong to moves along from one place of its middle to another."""
    return tuple(
        Box(x=(one.x[0] + low_mm - middle_mm, one.x[1] + high_mm - middle_mm), y=one.y, z=one.z)
        for one in boxes
    )


def _about(middle: float, size: float) -> tuple[float, float]:
    return middle - size / 2, middle + size / 2
