"""A piece as proofs see it: its own outline, not a simpler form, in every way in which it may lie.

Units as in `foamcut.nest.rooms`.  Whole numbers, rounded so that a piece never takes more than it does.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import Polygon

from foamcut.flat.joint import Piece
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.flat.tolerances import PLACED_MM
from foamcut.nest.rooms import NM_PER_MM, Path, Paths, unit_rings
from foamcut.nest.turning import flips, upright_turns

#: corners of an outline whose chords are measured; those of more are taken for nothing
_MOST_CORNERS = 400

Point = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Lying:
    """A piece in one lie: rings, width and height of its box, and whether a quarter turn led there."""

    rings: Paths
    width: int
    height: int
    is_across: bool


def lyings(piece: Piece, stock: Stock) -> tuple[Lying, ...]:
    """Every upright way for a piece to lie, each that looks the same only once."""
    found: dict[tuple[tuple[tuple[int, int], ...], ...], Lying] = {}
    for flipped in flips(piece.flat):
        for turn in upright_turns(piece.flat, stock):
            rings = unit_rings(piece.outline.placed(Placement(turn_deg=turn, flipped=flipped)).polygon)
            x0, y0, x1, y1 = box_of(rings)
            rings = [[(x - x0, y - y0) for x, y in path] for path in rings]
            lying = Lying(rings, x1 - x0, y1 - y0, turn % 180 != 0)
            found.setdefault(tuple(sorted(tuple(_from_first(path)) for path in rings)), lying)
    return tuple(found.values())


def _from_first(path: Path) -> Path:
    first = path.index(min(path))
    return path[first:] + path[:first]


def box_of(paths: Paths) -> tuple[int, int, int, int]:
    """The box around all paths."""
    xs = [x for path in paths for x, _ in path]
    ys = [y for path in paths for _, y in path]
    return min(xs), min(ys), max(xs), max(ys)


def hull_of(paths: Paths) -> Path:
    """The convex hull, counter-clockwise (Andrew's monotone chain; from memory)."""
    points = sorted({point for path in paths for point in path})

    def half(some: Iterable[Point]) -> Path:
        found: Path = []
        for x, y in some:
            while len(found) > 1:
                (ax, ay), (bx, by) = found[-2:]
                if (bx - ax) * (y - by) - (by - ay) * (x - bx) > 0:
                    break
                found.pop()
            found.append((x, y))
        return found[:-1]

    return half(points) + half(reversed(points))


def across(lying: Lying, width: int, aside: int) -> int:
    """What a piece takes of any upright line at least `aside` from both edges of a sheet so wide.

    The least chord among those that can come to lie on such a line, wherever the piece lies on the sheet; 0
    when it can keep clear of one.
    """
    low, high = aside - (width - lying.width), width - aside
    return _least_chord(lying.rings, low, high) if low > 0 else 0


def all_through(lying: Lying) -> tuple[int, int]:
    """The least chord of a piece on any upright line that meets it, and how wide it is there."""
    x0, _, x1, _ = box_of(lying.rings)
    return _least_chord(lying.rings, x0, x1), x1 - x0


def on_its_side(lying: Lying) -> Lying:
    """The piece mirrored in the diagonal: what is said of upright lines holds of level ones."""
    rings = [[(y, x) for x, y in reversed(path)] for path in lying.rings]
    return Lying(rings, lying.height, lying.width, not lying.is_across)


def _least_chord(rings: Paths, low: int, high: int) -> int:
    """The shortest chord, all its bits together, on upright lines from `low` to `high`.

    Between two corners a chord's length runs straight, so that the shortest is at an end.
    """
    edges = [edge for path in rings for edge in zip(path, path[1:] + path[:1], strict=True)]
    if len(edges) > _MOST_CORNERS:
        return 0
    corners = sorted({x for path in rings for x, _ in path})
    least = None
    for left, right in pairwise(corners):
        if right < low or left > high:
            continue
        crossed = [(a, b) for a, b in edges if min(a[0], b[0]) <= left and max(a[0], b[0]) >= right]
        for x in (max(left, low), min(right, high)):
            chord = sum(_above(a, b, x) for a, b in crossed)
            least = chord if least is None else min(least, chord)
    return max(0, least or 0)


def _above(a: tuple[int, int], b: tuple[int, int], x: int) -> int:
    """Height of an edge at x, taken off where stuff begins above it and added where it ends, rounded down.

    Stuff lies to the left of an edge: above one that runs to the right.
    """
    rise = (b[1] - a[1]) * (x - a[0])
    run = b[0] - a[0]
    return a[1] + rise // run if run < 0 else -a[1] + (-rise) // run


def fitting(all_lyings: Sequence[Lying], width: int, height: int) -> tuple[Lying, ...]:
    """Those whose box is no larger than a sheet."""
    return tuple(one for one in all_lyings if one.width <= width and one.height <= height)


def area_at_least(polygon: Polygon, gap_mm: float) -> int:
    """Area of a piece grown all round by half the gap, less what the tolerance of placing may take, nm2."""
    half = gap_mm / 2 - PLACED_MM
    # chords of the buffer's arcs lie inside; what shrinks loses no more than its length by the width
    grown = polygon.buffer(half, quad_segs=8) if half > 0 else polygon
    lost = PLACED_MM * (grown.length + 1) if half <= 0 else 0.0
    return max(0, math.floor((grown.area - lost) * NM_PER_MM**2))
