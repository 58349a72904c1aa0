"""What is ruled first and what is measured last: long lines, diagonals, and the edges of the sheet.

mm, the sheet's coordinates.  Lengths come from the true geometry, never from rounded distances.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import shapely
from shapely import MultiPoint

from foamcut.draw.marking_points import Marked, Ruled
from foamcut.flat.outline import Point
from foamcut.nest.values import Sheet

#: a line is long from this share of the piece's longest on, and from this length on, mm
_LONG_SHARE = 1 / 3
_LONG_MM = 60.0
_MOST_LONG = 6
#: an edge lies along the box of its sheet when it is as near as this, mm
_ON_MM = 0.01

Length = tuple[str, str, float]


def long_lines(rings: Sequence[Ruled]) -> tuple[Length, ...]:
    """The long straight lines between corners, the longest first: both numbers and the length, mm.

    The longest is among them however short it is; there are six at most.
    """
    found = sorted(
        (
            (-round(math.dist(a, b), 6), order, m, n)
            for ring in rings
            for order, ((m, a), (n, b)) in enumerate(
                (ring.points[i], ring.points[j]) for i, j in ring.trace.sides()
            )
        ),
    )
    if not found:
        return ()
    least = max(_LONG_MM, -found[0][0] * _LONG_SHARE)
    kept = [row for row in found if -row[0] >= least][:_MOST_LONG] or found[:1]
    return tuple((m, n, -length) for length, _, m, n in kept)


def diagonals(piece: Marked) -> tuple[Length, ...]:
    """Two lengths between far corners that cross: the longest, and the longest between its two sides.

    Of a triangle there is one, of a circle none.
    """
    points = piece.rings[0].points
    if len(points) < 3:
        return ()
    far = _hull(points)
    first = _longest((a, b) for i, a in enumerate(far) for b in far[i + 1 :])
    if first is None:
        return ()
    (m, a), (n, b) = first
    sides: tuple[list[tuple[str, Point]], list[tuple[str, Point]]] = ([], [])
    for name, at in points:
        across = (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])
        if name not in (m, n) and round(across, 6):
            sides[across > 0].append((name, at))
    one, other = (_hull(side) for side in sides)
    second = _longest((c, d) for c in one for d in other)
    pairs = [first] if second is None else [first, second]
    return tuple((c, d, math.dist(at, to)) for (c, at), (d, to) in pairs)


def _hull(points: Sequence[tuple[str, Point]]) -> list[tuple[str, Point]]:
    """Those of the points that are corners of their convex hull: the farthest of all are among them."""
    if len(points) < 4:
        return list(points)
    hull = MultiPoint([at for _, at in points]).convex_hull
    corners = {(x, y) for x, y in shapely.get_coordinates(hull).tolist()}
    return [(name, at) for name, at in points if at in corners]


def _longest(
    pairs: Iterator[tuple[tuple[str, Point], tuple[str, Point]]],
) -> tuple[tuple[str, Point], tuple[str, Point]] | None:
    return max(pairs, key=lambda pair: round(math.dist(pair[0][1], pair[1][1]) * 1e6), default=None)


def straight_edges(sheet: Sheet) -> tuple[tuple[float, float] | None, tuple[float, float] | None]:
    """From where to where the left edge runs along x = 0, and the bottom edge along y = 0; None: nowhere.

    Of several stretches it is the longest.
    """
    ring = list(sheet.outline.polygon.exterior.coords)
    found = []
    for axis in (0, 1):
        runs = [
            tuple(sorted((a[1 - axis], b[1 - axis])))
            for a, b in pairwise(ring)
            if abs(a[axis]) < _ON_MM and abs(b[axis]) < _ON_MM
        ]
        best = max(runs, key=lambda run: round((run[1] - run[0]) * 1e6), default=None)
        found.append((best[0], best[1]) if best else None)
    return found[0], found[1]
