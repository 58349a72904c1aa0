"""Outlines moved by half the kerf: what a drawn ring must lie between."""

from collections.abc import Sequence

import shapely
from shapely import LinearRing, Polygon

# The layout's rings have chords up to 0.005 mm off their arcs, moved arcs and corners come on top.
KERF_OFF_MM = 0.02
_MITRE_LIMIT = 20.0


def bounds_of(ring: LinearRing, kerf_mm: float, *, hole: bool) -> tuple[shapely.Geometry, shapely.Geometry]:
    """Return the least and the most that a ring moved by half a kerf may enclose.

    An outside moves out, a hole in. Corners may be anything between round and mitred.
    """
    move = -kerf_mm / 2 if hole else kerf_mm / 2
    body = Polygon(ring)
    rounded = body.buffer(move, join_style="round", quad_segs=64)
    mitred = body.buffer(move, join_style="mitre", mitre_limit=_MITRE_LIMIT)
    least = rounded.intersection(mitred).buffer(-KERF_OFF_MM, join_style="mitre")
    most = rounded.union(mitred).buffer(KERF_OFF_MM, join_style="mitre", mitre_limit=_MITRE_LIMIT)
    return least, most


def match_moved(
    wanted: Sequence[LinearRing], kerfs_mm: Sequence[float], found: Sequence[Polygon], *, holes: bool
) -> tuple[list[int], list[int]]:
    """Pair rings moved by their kerf with drawn ones; return the indices without a partner, wanted and drawn."""
    free = list(range(len(found)))
    missing = []
    for index, (ring, kerf_mm) in enumerate(zip(wanted, kerfs_mm, strict=True)):
        least, most = bounds_of(ring, kerf_mm, hole=holes)
        if least.is_empty:
            continue  # narrower than the kerf: the tool makes it by itself, nothing is checked
        partner = next((at for at in free if _between(found[at], least, most)), None)
        if partner is None:
            missing.append(index)
        else:
            free.remove(partner)
    return missing, free


def _between(drawn: Polygon, least: shapely.Geometry, most: shapely.Geometry) -> bool:
    left, bottom, right, top = most.bounds
    box = drawn.bounds
    if box[0] < left or box[1] < bottom or box[2] > right or box[3] > top:
        return False
    body = drawn.buffer(0)
    return bool(most.covers(body) and body.covers(least))
