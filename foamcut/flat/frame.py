"""Places along and beside a drawn line, and where an endless line beside it lies inside a region.

u runs along the drawn line from its start, s is the distance to its left; mm.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from shapely import LineString, Polygon

from foamcut.flat.outline import Point
from foamcut.flat.tolerances import ROUNDING_MM, SAME_POINT_MM

Stretch = tuple[float, float]  # from u to u


@dataclass(frozen=True, slots=True)
class Frame:
    """The line a fold is drawn on: u along it from its start, s to its left."""

    start: Point
    end: Point
    length: float = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "length", math.dist(self.start, self.end))

    @property
    def along(self) -> Point:
        """Unit vector along the line."""
        return (self.end[0] - self.start[0]) / self.length, (self.end[1] - self.start[1]) / self.length

    def at(self, u: float, s: float) -> Point:
        """The point of the part at u and s."""
        dx, dy = self.along
        return self.start[0] + u * dx - s * dy, self.start[1] + u * dy + s * dx

    def us(self, points: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """u and s of an (n, 2) array of points."""
        dx, dy = self.along
        x, y = points[:, 0] - self.start[0], points[:, 1] - self.start[1]
        return x * dx + y * dy, y * dx - x * dy


def across(frame: Frame, s: float, region: Polygon) -> list[Stretch]:
    """From where to where the endless line at s lies inside a region, edge to edge, by rising u.

    Stretches along an edge of the region are left out: there the outline is cut already.
    """
    first, last = reach(frame, region)
    line = LineString([frame.at(first, s), frame.at(last, s)])
    inside: list[Stretch] = []
    for part in shapely.get_parts(line.intersection(region)):
        if isinstance(part, LineString) and part.length:
            u, _ = frame.us(shapely.get_coordinates(part))
            inside.append((float(u.min()), float(u.max())))
    inside = _joined(sorted(inside))
    for edge in _edges_on(frame, s, region):
        inside = [left for stretch in inside for left in _without(stretch, edge)]
    return [(u0, u1) for u0, u1 in inside if u1 - u0 > SAME_POINT_MM]


def parted(stretch: Stretch, cuts: Iterable[float]) -> list[float]:
    """The ends of a stretch and what of the cuts lies between them, by rising u."""
    u0, u1 = stretch
    return [u0, *sorted({u for u in cuts if u0 < u < u1}), u1]


def reach(frame: Frame, region: Polygon) -> Stretch:
    """The u of the whole region, and a little more."""
    u, _ = frame.us(shapely.get_coordinates(region))
    return float(u.min()) - 1.0, float(u.max()) + 1.0


def _joined(stretches: Sequence[Stretch]) -> list[Stretch]:
    """Stretches that only a point parts, put together: the line touches a corner of the outline there."""
    joined: list[Stretch] = []
    for u0, u1 in stretches:
        if joined and u0 - joined[-1][1] <= ROUNDING_MM:
            u0, u1 = joined[-1][0], max(u1, joined.pop()[1])
        joined.append((u0, u1))
    return joined


def _edges_on(frame: Frame, s: float, region: Polygon) -> list[Stretch]:
    """The edges of a region that lie on the line at s."""
    found: list[Stretch] = []
    for ring in (region.exterior, *region.interiors):
        u, off = frame.us(shapely.get_coordinates(ring))
        on = np.abs(off - s) <= SAME_POINT_MM
        for i in np.flatnonzero(on[:-1] & on[1:]).tolist():
            found.append((float(min(u[i], u[i + 1])), float(max(u[i], u[i + 1]))))
    return found


def _without(stretch: Stretch, edge: Stretch) -> list[Stretch]:
    (u0, u1), (e0, e1) = stretch, edge
    if e1 <= u0 or e0 >= u1:
        return [stretch]
    return [(a, b) for a, b in ((u0, e0), (e1, u1)) if b > a]
