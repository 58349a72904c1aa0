"""Sums of outlines, made of convex ones: quick where outlines have many corners.

Whole numbers in any unit, see `foamcut.nest.rooms`; nothing is rounded.
"""

from collections.abc import Iterator
from functools import lru_cache

from foamcut.nest.rooms import Path, Paths

Point = tuple[int, int]
Frozen = tuple[Point, ...]


def convex_sum(a: Path, b: Path) -> Path:
    """The Minkowski sum of two convex rings: edges of both by direction, from the lowest corner on."""
    a, b = _from_lowest(a), _from_lowest(b)
    i, j = 0, 0
    x, y = a[0][0] + b[0][0], a[0][1] + b[0][1]
    path = [(x, y)]
    while i < len(a) or j < len(b):
        ax, ay = _edge(a, i)
        bx, by = _edge(b, j)
        cross = ax * by - ay * bx
        if j == len(b) or (i < len(a) and cross >= 0):
            x, y, i = x + ax, y + ay, i + 1
            if j < len(b) and cross == 0 and i <= len(a):
                x, y, j = x + bx, y + by, j + 1
        else:
            x, y, j = x + bx, y + by, j + 1
        path.append((x, y))
    path.pop()
    return path


@lru_cache(maxsize=512)
def convex_parts(path: Frozen) -> Paths:
    """Convex rings that together are a counter-clockwise ring; none when the ring crosses or touches itself.

    Method: ears are cut off, then put together again over every line that no corner needs to stay convex
    (Hertel and Mehlhorn; from memory).
    """
    triangles = _triangles(path)
    if sum(_turn(*(path[i] for i in three)) for three in triangles) != _doubled(path):
        return []
    return _joined(path, triangles)


def _triangles(path: Frozen) -> list[list[int]]:
    """Indices of corners, three by three; not all of the ring when no ear is left."""
    left = list(range(len(path)))
    # no ear is taken amiss but because of these
    inward = [i for i in left if _turn(path[i - 1], path[i], path[(i + 1) % len(path)]) <= 0]
    found: list[list[int]] = []
    at = missed = 0
    while len(left) > 3 and missed < len(left):
        at %= len(left)
        ear = left[at - 1], left[at], left[(at + 1) % len(left)]
        a, b, c = (path[i] for i in ear)
        turn = _turn(a, b, c)
        if turn < 0 or (turn and any(_holds(a, b, c, path[i]) for i in inward if i not in ear)):
            at, missed = at + 1, missed + 1
            continue
        if turn:
            found.append(list(ear))
        gone = left.pop(at)
        inward = [i for i in inward if i != gone]
        missed = 0
    if len(left) == 3 and _turn(*(path[i] for i in left)) > 0:
        found.append(left)
    return found


def _holds(a: Point, b: Point, c: Point, point: Point) -> bool:
    """Whether a point lies in a triangle or on its edge."""
    return _turn(a, b, point) >= 0 and _turn(b, c, point) >= 0 and _turn(c, a, point) >= 0


def _joined(path: Frozen, faces: list[list[int]]) -> Paths:
    owner = {edge: face for face in faces for edge in _edges(face)}
    for a, b in list(owner):
        if a > b or not {(a, b), (b, a)} <= owner.keys():
            continue
        # from b round to a, and from a round to b
        one, other = _from(owner[a, b], b), _from(owner[b, a], a)
        if (
            _turn(path[one[-2]], path[a], path[other[1]]) >= 0
            and _turn(path[other[-2]], path[b], path[one[1]]) >= 0
        ):
            both = one + other[1:-1]
            del owner[a, b], owner[b, a]
            for edge in _edges(both):
                owner[edge] = both
    found = {id(face): face for face in owner.values()}
    return [[path[i] for i in face] for face in found.values()]


def _edges(face: list[int]) -> Iterator[tuple[int, int]]:
    return zip(face, face[1:] + face[:1], strict=True)


def _from(face: list[int], corner: int) -> list[int]:
    at = face.index(corner)
    return face[at:] + face[:at]


def _turn(a: Point, b: Point, c: Point) -> int:
    """Twice the area of a triangle: positive when c lies to the left of the line from a to b."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _doubled(path: Frozen) -> int:
    """Twice the area of a ring, positive counter-clockwise."""
    return sum(ax * by - ay * bx for (ax, ay), (bx, by) in zip(path, path[1:] + path[:1], strict=True))


def _from_lowest(path: Path) -> Path:
    first = min(range(len(path)), key=lambda i: (path[i][1], path[i][0]))
    return path[first:] + path[:first]


def _edge(path: Path, i: int) -> Point:
    if i >= len(path):
        return 0, 0
    (x0, y0), (x1, y1) = path[i], path[(i + 1) % len(path)]
    return x1 - x0, y1 - y0
