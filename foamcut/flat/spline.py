"""Cubic splines through points, over chord length: what a bent batten does between its pins.

Natural (no bending at the ends) for an open run of points, periodic for a closed one; then cut
into chords.  mm; plain arithmetic in a fixed order, so the same points give the same curve.

Source: R. L. Burden, J. D. Faires, "Numerical Analysis", section 3.5, natural cubic spline
(memory); the periodic system is closed by the Sherman-Morrison formula (memory).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from foamcut.flat.outline import Point
from foamcut.flat.tolerances import CHORD_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A spline between two knots `length` apart: end points and second derivatives over chord length."""

    start: Point
    end: Point
    bend_start: Point
    bend_end: Point
    length: float

    def at(self, share: float) -> Point:
        """The point at a share of the span, 0 at its start and 1 at its end."""
        a, b, h = 1 - share, share, self.length
        x, y = (
            a * self.start[i]
            + b * self.end[i]
            + ((a**3 - a) * self.bend_start[i] + (b**3 - b) * self.bend_end[i]) * h**2 / 6
            for i in (0, 1)
        )
        return x, y

    def chord_count(self, chord_mm: float = CHORD_MM) -> int:
        """How many chords over equal shares stay within `chord_mm` of the curve.

        The error of a chord over a step k is at most k^2 max|f''| / 8, and f'' is linear here.
        """
        bend = max(math.hypot(*self.bend_start), math.hypot(*self.bend_end))
        return max(1, math.ceil(self.length * math.sqrt(bend / (8 * chord_mm))))

    def points(self, chord_mm: float = CHORD_MM) -> tuple[Point, ...]:
        """Points along the span without its start."""
        count = self.chord_count(chord_mm)
        return (*(self.at(i / count) for i in range(1, count)), self.end)


def spline(points: Sequence[Point], *, closed: bool = False) -> tuple[Span, ...]:
    """The spans between the points in turn; a closed curve has one more, back to the first.

    Raises
    ------
    ValueError
        Fewer than two points (three if closed), or two in a row that are the same.
    """
    ring = [*points, points[0]] if closed else list(points)
    knots = (0.0, *accumulate(math.dist(a, b) for a, b in pairwise(ring)))
    solve = periodic_bends if closed else natural_bends
    bends = list(zip(*(solve(knots, [p[i] for p in ring]) for i in (0, 1)), strict=True))
    return tuple(
        Span(start=a, end=b, bend_start=ba, bend_end=bb, length=tb - ta)
        for (a, b), (ba, bb), (ta, tb) in zip(pairwise(ring), pairwise(bends), pairwise(knots), strict=True)
    )


def natural_bends(knots: Sequence[float], values: Sequence[float]) -> tuple[float, ...]:
    """Second derivatives at the knots of the natural cubic spline through the values.

    Raises
    ------
    ValueError
        Fewer than two knots, or knots that do not rise.
    """
    steps, slopes = _steps_and_slopes(knots, values, fewest=2)
    middle = [2 * (a + b) for a, b in pairwise(steps)]
    right = [6 * (b - a) for a, b in pairwise(slopes)]
    return (0.0, *_tridiagonal(steps[1:-1], middle, right), 0.0)


def periodic_bends(knots: Sequence[float], values: Sequence[float]) -> tuple[float, ...]:
    """Second derivatives of the cubic spline whose end meets its start with the same slope and bend.

    The last value is the first again.

    Raises
    ------
    ValueError
        Fewer than four knots (three points), or knots that do not rise.
    """
    steps, slopes = _steps_and_slopes(knots, values, fewest=4)
    count = len(steps)
    middle = [2 * (steps[i - 1] + steps[i]) for i in range(count)]
    right = [6 * (slopes[i] - slopes[i - 1]) for i in range(count)]
    corner = steps[-1]
    # the corner entries are taken off as the outer product of (g, 0.., corner) and (1, 0.., corner / g)
    g = -middle[0]
    bordered = [middle[0] - g, *middle[1:-1], middle[-1] - corner**2 / g]
    plain = _tridiagonal(steps[:-1], bordered, right)
    unit = _tridiagonal(steps[:-1], bordered, [g, *[0.0] * (count - 2), corner])
    share = (plain[0] + corner / g * plain[-1]) / (1 + unit[0] + corner / g * unit[-1])
    bends = [p - share * u for p, u in zip(plain, unit, strict=True)]
    return (*bends, bends[0])


def _steps_and_slopes(
    knots: Sequence[float], values: Sequence[float], *, fewest: int
) -> tuple[list[float], list[float]]:
    if len(knots) < fewest or len(knots) != len(values):
        raise ValueError(f"{len(knots)} knots and {len(values)} values; at least {fewest} of each")
    steps = [b - a for a, b in pairwise(knots)]
    if not all(step > 0 for step in steps):
        raise ValueError("knots must rise")
    return steps, [(b - a) / h for (a, b), h in zip(pairwise(values), steps, strict=True)]


def _tridiagonal(side: Sequence[float], middle: Sequence[float], right: Sequence[float]) -> list[float]:
    """Solve a symmetric tridiagonal system whose diagonal outweighs its sides (no pivoting needed)."""
    middle, right = list(middle), list(right)
    for i in range(1, len(middle)):
        factor = side[i - 1] / middle[i - 1]
        middle[i] -= factor * side[i - 1]
        right[i] -= factor * right[i - 1]
    for i in reversed(range(len(middle))):
        if i + 1 < len(middle):
            right[i] -= side[i] * right[i + 1]
        right[i] /= middle[i]
    return right
