"""One surface as the air sees it: the shadow of a wing or tail in plan, of a fin from the side.  SI."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from foamcut.airframe.planform import panels
from foamcut.airframe.values import Role, Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class Cross:
    """A section across a surface, right half: leading edge (x, y, z) and chord, m; nose up `angle_deg`."""

    leading_m: tuple[float, float, float]
    chord_m: float
    angle_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifting:
    """One surface, both halves together (a fin: as it is).

    `area_m2` and `span_m` are those of its shadow: in plan, of a fin from the side (its span is its height,
    not doubled).  The mean chord is of that shadow: its length, x of its leading edge, y (fin: 0) and z of
    the place where it lies.  `crosses` from the root out.
    """

    surface: Surface
    area_m2: float
    span_m: float
    aspect_ratio: float
    mean_chord_m: float
    leading_m: float
    out_m: float
    up_m: float
    crosses: tuple[Cross, ...]

    @property
    def quarter_m(self) -> float:
        """x of the quarter point of the mean chord."""
        return self.leading_m + self.mean_chord_m / 4


def lifting(surface: Surface) -> Lifting:
    """One surface of two stations or more as the air sees it; its mean chord is 0 when it has no shadow.

    Method: the integrals of c, c^2, c x, c y and c z over the width of the shadow, exact for straight edges
    between stations; the mean aerodynamic chord is the second over the first.  A chord is as long in the
    shadow as the cosine of its angle makes it.
    """
    crosses = _crosses(surface)
    fin = surface.role is Role.FIN
    outs = [one.leading_m[2 if fin else 1] for one in crosses]
    shade = 1.0 if fin else math.cos(math.radians(surface.angle_deg))
    chords = [one.chord_m * shade for one in crosses]
    area = _over(outs, chords, [1.0] * len(outs))
    x, y, z = (_over(outs, chords, [one.leading_m[i] for one in crosses]) for i in range(3))
    chord2 = _over(outs, chords, chords)
    halves = 1 if fin else 2
    span = halves * abs(outs[-1] - outs[0])
    whole = area if area > 0 else 1.0
    return Lifting(
        surface=surface,
        area_m2=halves * area,
        span_m=span,
        aspect_ratio=span * span / (halves * area) if area > 0 else 0.0,
        mean_chord_m=chord2 / whole,
        leading_m=x / whole if area > 0 else crosses[0].leading_m[0],
        out_m=y / whole,
        up_m=z / whole if area > 0 else crosses[0].leading_m[2],
        crosses=crosses,
    )


def _crosses(surface: Surface) -> tuple[Cross, ...]:
    """The sections at the stations; a fin's lie on the centre plane."""
    several = panels(surface)
    ends = [(several[0], several[0].first), *((panel, panel.last) for panel in several)]
    fin = surface.role is Role.FIN
    made = []
    for panel, station in ends:
        x, y, z = (one / 1000 for one in panel.point(station.back_mm, station.out_mm, 0.0))
        made.append(
            Cross(
                leading_m=(x, 0.0 if fin else y, z),
                chord_m=station.chord_mm / 1000,
                angle_deg=0.0 if fin else surface.angle_deg,
            )
        )
    return tuple(made)


def _over(outs: Sequence[float], chords: Sequence[float], what: Sequence[float]) -> float:
    """The integral of chord times `what` over the width of the shadow, both straight between the places."""
    return sum(
        abs(y1 - y0) * (2 * c0 * a0 + c0 * a1 + c1 * a0 + 2 * c1 * a1) / 6
        for (y0, y1), (c0, c1), (a0, a1) in zip(pairwise(outs), pairwise(chords), pairwise(what), strict=True)
    )
