"""Pieces of a tiling as the search sees them: corners with angles, convex parts, and when two overlap.

mm and radians.  A *shape* is one piece as it may lie, its lower left box corner at (0, 0); pieces that look
the same are of one *kind*.  A piece with a hole has no shape.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import Polygon

from foamcut.flat.placement import cos_sin

Point = tuple[float, float]
#: how far seams of coarsely rounded pieces run apart in a long chain of neighbours; the end is checked well
SLACK_MM = 0.01
#: how far a seam of pieces rounded to 0.001 mm is off: over its length, its direction's doubt
SEAM_MM = 0.0015
#: pieces that differ by less are the same: roundings of a nanometre
_SAME_MM = 0.00001
#: sides of a piece may lie on one line when they are no farther off: rather too much than too little
ONE_LINE_MM = 1.0
_TURN = 2 * math.pi


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of a shape: the edge that leaves it counter-clockwise (`out`), and the one that comes.

    `angle` lies inside, from `out` to the other one, both seen from the corner; `length` is that of the
    edge that leaves; `doubt` is how far the two directions may be off together.
    """

    x: float
    y: float
    out: float
    angle: float
    length: float
    doubt: float


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A piece as it lies.  `index` is its own among all shapes, `kind` that of its piece.

    `sides` are the edges: where each begins, and its direction of length 1.
    """

    index: int
    kind: int
    turn_deg: float
    flipped: bool
    points: tuple[Point, ...]
    corners: tuple[Corner, ...]
    sides: tuple[tuple[Corner, Point], ...]
    parts: tuple[tuple[Point, ...], ...]
    width: float
    height: float
    area: float

    def lone(self, corner: Corner) -> bool:
        """Whether no other side lies on the line of the one that leaves the corner, the same way."""
        cos, sin = math.cos(corner.out), math.sin(corner.out)
        return not any(
            c is not corner
            and abs((c.x - corner.x) * sin - (c.y - corner.y) * cos) <= ONE_LINE_MM
            and math.cos(c.out - corner.out) > 0.9
            for c in self.corners
        )


def ring(polygon: Polygon) -> tuple[Point, ...]:
    """The corners of a polygon counter-clockwise, without those on the line of their neighbours."""
    points = [(float(x), float(y)) for x, y in polygon.exterior.coords[:-1]]
    if not polygon.exterior.is_ccw:
        points.reverse()
    k = 0
    while k < len(points) and len(points) > 3:
        if _off_line(points[k - 1], points[k], points[(k + 1) % len(points)]) <= SEAM_MM:
            del points[k]
            k = max(0, k - 1)
        else:
            k += 1
    return tuple(points)


def _off_line(a: Point, b: Point, c: Point) -> float:
    """How far b lies off the line from a to c, as far as it lies between them."""
    dx, dy = c[0] - a[0], c[1] - a[1]
    length = math.hypot(dx, dy)
    along = (b[0] - a[0]) * dx + (b[1] - a[1]) * dy
    if not 0 < along < length * length:
        return min(math.dist(a, b), math.dist(b, c))
    return abs((b[0] - a[0]) * dy - (b[1] - a[1]) * dx) / length


def laid(points: Sequence[Point], turn_deg: float, flipped: bool) -> tuple[Point, ...]:
    """The ring mirrored (y -> -y) if `flipped`, then turned about (0, 0), counter-clockwise again."""
    cos, sin = cos_sin(turn_deg)
    sign = -1.0 if flipped else 1.0
    turned = [(cos * x - sin * sign * y, sin * x + cos * sign * y) for x, y in points]
    return tuple(reversed(turned)) if flipped else tuple(turned)


def from_corner(points: Sequence[Point]) -> tuple[Point, ...]:
    """The ring moved to its lower left box corner, from its leftmost, then lowest point, on."""
    x0, y0 = min(x for x, _ in points), min(y for _, y in points)
    moved = [(x - x0, y - y0) for x, y in points]
    first = min(range(len(moved)), key=lambda k: (round(moved[k][0], 3), round(moved[k][1], 3)))
    return tuple(moved[first:] + moved[:first])


def looks_like(a: Sequence[Point], b: Sequence[Point]) -> bool:
    """Whether two rings from `from_corner` are the same."""
    return len(a) == len(b) and all(
        abs(p[0] - q[0]) <= _SAME_MM and abs(p[1] - q[1]) <= _SAME_MM for p, q in zip(a, b, strict=True)
    )


def shape(index: int, kind: int, points: Sequence[Point], turn_deg: float, flipped: bool) -> Shape:
    """The shape of a ring from `from_corner` that came about by this turn."""
    corners = tuple(_corner(points, k) for k in range(len(points)))
    ahead = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise([*points, points[0]])]
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise([*points, points[0]])) / 2
    return Shape(
        index,
        kind,
        turn_deg,
        flipped,
        tuple(points),
        corners,
        tuple((c, (dx / c.length, dy / c.length)) for c, (dx, dy) in zip(corners, ahead, strict=True)),
        convex_parts(points),
        max(x for x, _ in points),
        max(y for _, y in points),
        area,
    )


def _corner(points: Sequence[Point], k: int) -> Corner:
    here, after, before = points[k], points[(k + 1) % len(points)], points[k - 1]
    out = math.atan2(after[1] - here[1], after[0] - here[0]) % _TURN
    back = math.atan2(before[1] - here[1], before[0] - here[0]) % _TURN
    length, length_before = math.dist(here, after), math.dist(before, here)
    doubt = SEAM_MM / length + SEAM_MM / length_before
    return Corner(*here, out, (back - out) % _TURN, length, doubt)


def convex_parts(points: Sequence[Point]) -> tuple[tuple[Point, ...], ...]:
    """A simple ring as convex rings: ears cut off, then glued again as long as they stay convex."""
    left, parts = list(points), list[list[Point]]()
    if all(_cross(points[k - 2], points[k - 1], points[k]) >= 0 for k in range(len(points))):
        return (tuple(points),)
    while len(left) > 3:
        k = _ear(left)
        parts.append([left[k - 1], left[k], left[(k + 1) % len(left)]])
        del left[k]
    parts.append(left)
    k = 0
    while k < len(parts):
        for other in range(k + 1, len(parts)):
            glued = _glued(parts[k], parts[other])
            if glued is not None:
                parts[k] = glued
                del parts[other]
                break
        else:
            k += 1
    return tuple(map(tuple, parts))


def _cross(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _ear(ring: Sequence[Point]) -> int:
    """The fattest ear of a simple ring that holds no other corner."""
    best, best_k = -math.inf, 0
    for k in range(len(ring)):
        a, b, c = ring[k - 1], ring[k], ring[(k + 1) % len(ring)]
        size = _cross(a, b, c)
        if size > best and not any(
            p not in (a, b, c) and min(_cross(a, b, p), _cross(b, c, p), _cross(c, a, p)) >= 0 for p in ring
        ):
            best, best_k = size, k
    return best_k


def _glued(a: Sequence[Point], b: Sequence[Point]) -> list[Point] | None:
    """Two convex rings with a common edge as one, if that is convex."""
    for k, start in enumerate(a):
        end = a[(k + 1) % len(a)]
        for m, there in enumerate(b):
            if there == end and b[(m + 1) % len(b)] == start:
                ring = [a[(k + 1 + i) % len(a)] for i in range(len(a))]
                ring += [b[(m + 2 + i) % len(b)] for i in range(len(b) - 2)]
                if all(_cross(ring[i - 2], ring[i - 1], ring[i]) >= 0 for i in range(len(ring))):
                    return ring
    return None


Planes = tuple[tuple[float, float, float], ...]


class Overlaps:
    """When two shapes overlap by more than the slack: half planes for each pair of convex parts, kept."""

    def __init__(self) -> None:
        self._pairs: dict[tuple[int, int], tuple[Planes, ...]] = {}

    def overlap(self, a: Shape, b: Shape, dx: float, dy: float) -> bool:
        """Whether b, (dx, dy) from a, goes deeper into it than the slack."""
        if not (
            SLACK_MM - b.width < dx < a.width - SLACK_MM and SLACK_MM - b.height < dy < a.height - SLACK_MM
        ):
            return False
        pairs = self._pairs.get((a.index, b.index))
        if pairs is None:
            pairs = tuple(_planes(p, q) for p in a.parts for q in b.parts)
            self._pairs[a.index, b.index] = pairs
        for planes in pairs:
            for nx, ny, least in planes:
                if nx * dx + ny * dy >= least:
                    break
            else:
                return True
        return False


def _planes(a: Sequence[Point], b: Sequence[Point]) -> Planes:
    """Convex b, moved by d, is clear of convex a where n d >= h for one of these (n, h)."""
    found = []
    for ring, other, sign in ((a, b, 1.0), (b, a, -1.0)):
        for p, q in pairwise([*ring, ring[0]]):
            length = math.dist(p, q)
            nx, ny = (q[1] - p[1]) / length, (p[0] - q[0]) / length
            reach = nx * p[0] + ny * p[1] - min(nx * x + ny * y for x, y in other)
            found.append((sign * nx, sign * ny, reach - SLACK_MM))
    return tuple(found)
