"""Why and where a closed line of chords bounds no part: it crosses or touches itself, or has a needle."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import STRtree

from foamcut.flat.outline import Point
from foamcut.flat.tolerances import SAME_POINT_MM

#: chords looked at in one go, so that a scribble of thousands of crossings needs little memory
_CHUNK = 64


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two chords, by index, that meet where they must not, and the place."""

    first: int
    second: int
    at: Point


def needle(ring: Sequence[Point]) -> int | None:
    """The index of the first point where an open ring turns back on itself; None when it does not.

    A needle is a spike narrower than two points may lie apart: the end of the shorter of its two edges
    is that close to the longer one.
    """
    xy = np.asarray(ring, dtype=float)
    arriving = xy - np.roll(xy, 1, axis=0)
    leaving = np.roll(xy, -1, axis=0) - xy
    lengths = np.hypot(arriving[:, 0], arriving[:, 1]), np.hypot(leaving[:, 0], leaving[:, 1])
    dot = arriving[:, 0] * leaving[:, 0] + arriving[:, 1] * leaving[:, 1]
    cross = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
    longer = np.maximum(*lengths)
    found = np.flatnonzero((dot < 0) & (np.abs(cross) < SAME_POINT_MM * longer))
    return int(found[0]) if len(found) else None


def meeting(ring: Sequence[Point]) -> Meeting | None:
    """The first two chords of an open ring, not neighbours, that meet; chord i leaves point i."""
    count = len(ring)
    xy = np.asarray([*ring, ring[0]], dtype=float)
    chords = shapely.linestrings(np.stack([xy[:-1], xy[1:]], axis=1))
    tree = STRtree(chords)
    for start in range(0, count, _CHUNK):
        first, second = tree.query(chords[start : start + _CHUNK], predicate="intersects")
        first = first + start
        apart = (second > first + 1) & ~((first == 0) & (second == count - 1))
        if apart.any():
            i, j = min(zip(first[apart].tolist(), second[apart].tolist(), strict=True))
            place = shapely.intersection(chords[i], chords[j])
            x, y = shapely.get_coordinates(place)[0].tolist() if not place.is_empty else ring[j]
            return Meeting(i, j, (x, y))
    return None


def only_touches(ring: Sequence[Point], found: Meeting) -> bool:
    """Whether the place of a meeting is an end of one of its chords."""
    count = len(ring)
    ends = (ring[i % count] for i in (found.first, found.first + 1, found.second, found.second + 1))
    return any(math.dist(end, found.at) < SAME_POINT_MM for end in ends)
