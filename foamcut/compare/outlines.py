"""How the outlines of two versions of a part lie on each other.

mm, the new part's coordinates.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.compare.placed import Shift, moved
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.placement import rounded
from foamcut.flat.tolerances import EDGES_AGREE_MM, ROUNDING_MM


@dataclass(frozen=True, eq=False)
class Laid:
    """The old part laid on the new one: `lacking` is what it has too little, `over` what it has too much.

    Edges that agree count as one edge in both.
    """

    shift: Shift
    old: Polygon
    new: Polygon
    lacking: tuple[Polygon, ...]
    over: tuple[Polygon, ...]

    @property
    def unlike_mm2(self) -> float:
        """Area that only one of them has."""
        return round(float(self.old.symmetric_difference(self.new).area), 1)

    @property
    def off_mm(self) -> float:
        """How far the edges of one lie off those of the other at most."""
        return max(
            farthest(self.old.boundary, self.new.boundary), farthest(self.new.boundary, self.old.boundary)
        )


def laid(old: Part, new: Part, shift: Shift) -> Laid:
    """The old part on the new one, moved by `shift`."""
    before, after = moved(old.outline.polygon, shift), new.outline.polygon
    if shift == (0.0, 0.0) and before.equals(after):
        return Laid(shift, before, after, (), ())
    return Laid(shift, before, after, tuple(_beyond(after, before)), tuple(_beyond(before, after)))


def shifts(old: Outline, new: Outline) -> Iterator[Shift]:
    """No shift, then those that bring ends of both together along x, along y, along both."""
    a, b = old.bounds, new.bounds
    along = [
        [0.0, *(rounded(b[i] - a[i]) for i in (axis, axis + 2))]
        for axis in (0, 1)
    ]  # fmt: skip
    several = [(x, y) for x in along[0] for y in along[1]]
    several.sort(key=lambda shift: sum(one != 0 for one in shift))
    yield from dict.fromkeys(several)


def grown(shape: Polygon, by_mm: float) -> BaseGeometry:
    """A shape that is wider all round, its corners kept."""
    return shape.buffer(by_mm, join_style="mitre", mitre_limit=2.0)


def _beyond(one: Polygon, other: Polygon) -> Iterator[Polygon]:
    """What of a shape lies more than the tolerance beyond another, back to its edge."""
    left = one.difference(grown(other, EDGES_AGREE_MM + ROUNDING_MM))
    parts = (part for part in shapely.get_parts(left) if isinstance(part, Polygon))
    yield from sorted((part for part in parts if part.area > ROUNDING_MM), key=lambda part: part.bounds)


def farthest(one: BaseGeometry, other: BaseGeometry, step_mm: float = 5.0) -> float:
    """How far points of one line, so close together, lie off another at most; 0 where one is empty."""
    if one.is_empty or other.is_empty:
        return 0.0
    points = shapely.points(shapely.get_coordinates(shapely.segmentize(one, step_mm)))
    shapely.prepare(other)
    return float(np.max(shapely.distance(points, other)))


def largest(shape: BaseGeometry) -> Polygon | None:
    """The largest piece of a shape, of like ones the first; None where it has no area."""
    several = [one for one in shapely.get_parts(shape) if isinstance(one, Polygon) and not one.is_empty]
    return max(several, key=lambda one: round(one.area, 3), default=None)
