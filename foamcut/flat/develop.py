"""Bent sheet laid flat: strips of straight rulings between lines in space, developed one after another.

A rail is a line in space with m points (a fold, an edge, the outer paper along a bend).  Points of equal
index on neighbouring rails are joined by rulings; two rulings and the pieces of rail between them are a
cell.  mm.  This module knows nothing of folds or parts.
"""

from dataclasses import dataclass

import numpy as np

from foamcut.flat.tolerances import PARALLEL, ROUNDING_MM
from foamcut.flat.vectors import cross


class RulingsCross(ValueError):
    """A cell of a strip is too twisted to be laid flat."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Developed:
    """Strips laid into the plane: `flat` is (k, m, 2), the points of k rails.

    `error_mm` is the largest difference between a length on the model and on the flat pattern, of every
    piece of rail, every whole rail, every ruling and both diagonals of every cell.  `straight_mm` tells by
    rail how far its points stray from the straight line through its ends, on the flat pattern.
    """

    flat: np.ndarray
    error_mm: float
    straight_mm: tuple[float, ...]


def develop(rails: np.ndarray) -> Developed:
    """Lay the strips between neighbouring rails flat; `rails` is (k, m, 3), k and m at least 2.

    The first rail starts at (0, 0) and ends on the +y axis; the strips go to its left as it runs, towards
    -x.  The first rail bends as its own strip asks; every further strip is laid onto the rail that it
    shares with the strip before.

    Neighbouring rails may share their first or their last points (the apex of a cone).  A cell whose rails
    are not in one plane cannot keep both its diagonals while it keeps its four edges.  Unfolded about
    either diagonal it keeps that one; each of its angles is the mean of those two ways, so that each
    diagonal is out by about half of what the other way would put it out by.

    Raises ValueError where two points of a rail coincide, where rails share other points, and where the
    ends of the first rail meet: they give no direction.  Raises RulingsCross where a cell's rulings cross or
    it is bent by more than a right angle about both diagonals.

    Source: plane geometry.  Exact for flat facets; as the rulings of a developable surface grow denser it
    goes to the true development (cells of neighbouring rulings are then flat to third order).
    """
    rails = np.asarray(rails, dtype=float)
    _check(rails)
    lines: list[np.ndarray] = []
    for j in range(len(rails) - 1):
        near, far = rails[j], rails[j + 1]
        after, before = _angles(near, far, j)
        if not lines:
            lines.append(_bent(_lengths(near), after, before))
        lines.append(lines[-1] + _length(far - near) * _rulings(lines[-1], after, before))
    first = lines[0]
    if abs(first[-1] - first[0]) <= ROUNDING_MM:
        raise ValueError("the ends of rail 0 meet on the flat pattern, which gives it no direction")
    turn = 1j * _unit(np.conj(first[-1] - first[0]))
    laid = [(line - first[0]) * turn for line in lines]
    flat = np.stack([np.stack([line.real, line.imag], axis=1) for line in laid])
    flat[0, -1, 0] = 0.0
    return Developed(
        flat=flat,
        error_mm=max(float(np.max(np.abs(a - b))) for a, b in zip(_all(rails), _all(flat), strict=True)),
        straight_mm=tuple(_strays(line) for line in laid),
    )


def edge_difference(a: np.ndarray, b: np.ndarray) -> float:
    """By how much line a, (n, 2) or (n, 3), is longer than line b, which is glued to it; mm."""
    return float(_lengths(np.asarray(a, dtype=float)).sum() - _lengths(np.asarray(b, dtype=float)).sum())


def _check(rails: np.ndarray) -> None:
    if rails.ndim != 3 or rails.shape[2] != 3 or min(rails.shape[:2]) < 2:
        raise ValueError(
            f"rails have the shape {rails.shape}; two or more rails of two or more points needed"
        )
    if not np.isfinite(rails).all():
        raise ValueError(f"rail {int(np.argwhere(~np.isfinite(rails))[0][0])} has a point that is no number")
    for j, rail in enumerate(rails):
        steps = _lengths(rail)
        if float(steps.sum()) <= ROUNDING_MM:
            raise ValueError(f"rail {j} has no length")
        for i in np.flatnonzero(steps <= ROUNDING_MM).tolist():
            raise ValueError(f"points {i} and {i + 1} of rail {j} coincide")
    last = rails.shape[1] - 1
    for j in range(len(rails) - 1):
        shared = np.flatnonzero(_length(rails[j + 1] - rails[j]) <= ROUNDING_MM).tolist()
        for i in shared:
            if 0 < i < last or len(shared) > last:
                raise ValueError(f"rails {j} and {j + 1} share point {i}; they may share their ends alone")


def _angles(near: np.ndarray, far: np.ndarray, j: int) -> tuple[np.ndarray, np.ndarray]:
    """The angles of strip j at the points of its near rail, in the cell after and the cell before each.

    An angle is a complex number of size 1, so that sums of angles are products; (m - 1,) each: `after`
    of points 0 to m - 2, `before` of points 1 to m - 1.
    """
    a, b, c, d = near[:-1], near[1:], far[1:], far[:-1]
    ac, bd = _split(a, b, c, d, j)
    at_a, at_b = _corner(a, b, d), _corner(b, c, a)
    after = ac * _corner(a, b, c) * _corner(a, c, d) + bd * at_a
    before = ac * at_b + bd * _corner(b, c, d) * _corner(b, d, a)
    return _unit(after), _unit(before)


def _split(
    a: np.ndarray, b: np.ndarray, c: np.ndarray, d: np.ndarray, j: int
) -> tuple[np.ndarray, np.ndarray]:
    """Which ways to part the cells a b c d into triangles count: about a c, about b d; 1 or 0 each.

    A way whose triangles lie on each other does not: the cell has a hollow corner off that diagonal.
    """
    abc, acd = cross(b - a, c - a), cross(c - a, d - a)
    abd, bcd = cross(b - a, d - a), cross(c - b, d - b)
    # a triangle without area, at an apex or at a corner of 180 degrees, lies on nothing
    least = -PARALLEL * np.max([_dot(n, n) for n in (abc, acd, abd, bcd)], axis=0)
    ac, bd = _dot(abc, acd) >= least, _dot(abd, bcd) >= least
    for i in np.flatnonzero(~ac & ~bd).tolist():
        raise RulingsCross(f"rulings {i} and {i + 1} between rails {j} and {j + 1} cross, or twist too much")
    return ac.astype(float), bd.astype(float)


def _corner(at: np.ndarray, first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """The angle at a point between the ways to two others; none where it is one of them."""
    u, v = first - at, second - at
    angle = _dot(u, v) + 1j * _length(cross(u, v))
    return np.where((_length(u) > ROUNDING_MM) & (_length(v) > ROUNDING_MM), _unit(angle), 1.0)


def _bent(steps: np.ndarray, after: np.ndarray, before: np.ndarray) -> np.ndarray:
    """A rail laid out with the bend that its strip gives it at each point."""
    way, points = 1.0 + 0j, [0j]
    for i, step in enumerate(steps):
        if i:
            way = complex(_unit(np.asarray(-way * np.conj(before[i - 1] * after[i]))))
        points.append(points[-1] + float(step) * way)
    return np.array(points)


def _rulings(line: np.ndarray, after: np.ndarray, before: np.ndarray) -> np.ndarray:
    """Which way the rulings leave a rail that lies flat: the mean of what the cells beside each say."""
    ways = _unit(line[1:] - line[:-1])
    first, last = ways * after, -ways * np.conj(before)
    return np.concatenate([first[:1], _unit(first[1:] + last[:-1]), last[-1:]])


def _all(points: np.ndarray) -> tuple[np.ndarray, ...]:
    """Every length that the flat pattern should keep, of (k, m, 2 or 3) points."""
    steps = _length(points[:, 1:] - points[:, :-1])
    return (
        steps,
        steps.sum(axis=1),
        _length(points[1:] - points[:-1]),
        _length(points[1:, 1:] - points[:-1, :-1]),
        _length(points[1:, :-1] - points[:-1, 1:]),
    )


def _strays(line: np.ndarray) -> float:
    """How far points lie from the straight line through the ends, or from where the ends meet."""
    from_first = line - line[0]
    if abs(from_first[-1]) <= ROUNDING_MM:
        return float(np.max(np.abs(from_first)))
    return float(np.max(np.abs((from_first * np.conj(_unit(from_first[-1]))).imag)))


def _lengths(line: np.ndarray) -> np.ndarray:
    """The lengths of the pieces of one line."""
    return _length(line[1:] - line[:-1])


def _length(vectors: np.ndarray) -> np.ndarray:
    return np.sqrt(_dot(vectors, vectors))


def _dot(u: np.ndarray, v: np.ndarray) -> np.ndarray:
    return np.asarray((u * v).sum(axis=-1))


def _unit(numbers: np.ndarray) -> np.ndarray:
    """Complex numbers at size 1; 0 stays 0."""
    size = np.abs(numbers)
    return np.asarray(numbers / np.where(size > 0, size, 1.0))
