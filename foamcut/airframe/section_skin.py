"""An upper skin over a spar in three flats: pure geometry of numbers.

mm, radians; c aft, n up.  Its inner paper touches both upper edges of the spar; the outer paper is the line
a thickness outside it, corners mitred.  At its rear the board is feathered on its inner face: the outer paper
runs down to the inner face of the lower skin.
"""

import math
from dataclasses import dataclass
from itertools import accumulate, pairwise

from foamcut.airframe.section_nose import Anchor
from foamcut.flat.outline import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Skin:
    """An upper skin from the nose to the rear, as many points on either paper.

    `front` and `rear` are the slopes of its ends, up and down, in radians; `corners` the indexes of the
    creases.  `stops_mm` says how far along the board lie the spar's front edge, its rear edge and the end:
    along the outer paper, which stays whole at creases, or along the middle of the board where it is bent (no
    source).  `lift_mm` is how far it stands off the spar's top between the edges.
    """

    outer: tuple[Point, ...]
    inner: tuple[Point, ...]
    front: float
    rear: float
    corners: tuple[int, ...]
    stops_mm: tuple[float, float, float]
    lift_mm: float = 0.0
    least_radius_mm: float = math.inf


def first_slope(start: Anchor, edge: Point) -> float:
    """Slope of the first flat, whose inner paper passes through the spar's front edge.

    The edge lies as far below the line through the anchor as the inner paper does: the angle to the edge
    and the one whose sine is that distance over the length.

    Raises
    ------
    ValueError
        The edge is nearer to the anchor than that.
    """
    c, n = edge[0] - start.at[0], edge[1] - start.at[1]
    return math.atan2(n, c) + _angle(start.below_mm, math.hypot(c, n))


def last_slope(end: Point, edge: Point, thickness: float) -> float:
    """Slope of the last flat, down, whose outer paper ends at `end`: the same seen from behind.

    Raises
    ------
    ValueError
        The edge is nearer to the end than a thickness.
    """
    c, n = end[0] - edge[0], edge[1] - end[1]
    return math.atan2(n, c) + _angle(thickness, math.hypot(c, n))


def _angle(apart: float, length: float) -> float:
    if abs(apart) > length or not length:
        raise ValueError(f"no line {apart} from a point {length} away")
    return math.asin(apart / length)


def moved(at: Point, slope: float, up: float) -> Point:
    """A point moved square to a line of a slope, upwards."""
    return at[0] - up * math.sin(slope), at[1] + up * math.cos(slope)


def feather(end: Point, slope: float, thickness: float) -> Point:
    """Where the inner paper meets the lower skin, when the outer one ends there at `end`."""
    return (end[0] - thickness / math.sin(slope), end[1]) if thickness else end


def creased_skin(start: Anchor, edges: tuple[Point, Point], end: Point, thickness: float) -> Skin:
    """Three flats, with a crease over each of the spar's upper edges.

    `edges` are the spar's upper edges, front and rear, on one height; `end` is where the outer paper ends.

    Raises
    ------
    ValueError
        A spar's edge is too near to an end for the skin to pass over it.
    """
    front, rear = first_slope(start, edges[0]), last_slope(end, edges[1], thickness)
    inner_start = moved(start.at, front, 0.0 - start.below_mm)
    inner = (inner_start, *edges, feather(end, rear, thickness))
    outer = (
        moved(inner_start, front, thickness),
        moved(edges[0], front / 2, thickness / math.cos(front / 2)),
        moved(edges[1], -rear / 2, thickness / math.cos(rear / 2)),
        end,
    )
    lengths = tuple(accumulate(math.dist(a, b) for a, b in pairwise(outer)))
    stops = (lengths[0], lengths[1], lengths[2])
    return Skin(outer=outer, inner=inner, front=front, rear=rear, corners=(1, 2), stops_mm=stops)
