"""A section across a wing as a beam: thin bands of paper, foam and plywood, bent about one axis.

mm, MPa, N mm2; c aft along the chord, n up, in the plane of the section.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from foamcut.flat.outline import Point
from foamcut.flight.strength_stuff import Kind, Level, Stuff, core, paper, solid

#: shorter bands add nothing
_SHORT_MM = 1e-9


class Band(NamedTuple):
    """A straight band from one end of its middle line to the other, of a thickness."""

    first: Point
    last: Point
    thick_mm: float
    stuff: Stuff

    @property
    def area_mm2(self) -> float:
        """Its length times its thickness."""
        (c0, n0), (c1, n1) = self.first, self.last
        return float(((c1 - c0) ** 2 + (n1 - n0) ** 2) ** 0.5) * self.thick_mm

    @property
    def own_mm4(self) -> float:
        """Second moment of area about the level axis through its own middle: a parallelogram's."""
        (c0, n0), (c1, n1) = self.first, self.last
        length2 = (c1 - c0) ** 2 + (n1 - n0) ** 2
        if length2 <= _SHORT_MM:
            return 0.0
        return self.area_mm2 * ((n1 - n0) ** 2 + self.thick_mm**2 * (c1 - c0) ** 2 / length2) / 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Stress:
    """The greatest stress for what is borne: MPa, + pressed; where over the lower paper; its stuff."""

    stress_mpa: float
    limit_mpa: float
    height_mm: float
    stuff: Stuff

    @property
    def margin(self) -> float:
        """What is borne over what is there."""
        return self.limit_mpa / abs(self.stress_mpa)

    @property
    def wrinkles(self) -> bool:
        """Whether it would wrinkle before it is crushed."""
        return self.stress_mpa > 0 and self.stuff.wrinkles_mpa < self.stuff.bears_mpa


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam:
    """Bands that bend together about the level axis on which their stretch adds up to nothing.

    Method: plane sections stay plane, each band by its own stiffness; stress at the middle of its thickness.
    The whole chord bends about one level axis: that of a section is nearly level.  Shear, torsion, and
    buckling of a skin between nose, spar and rear are not looked at.
    """

    bands: tuple[Band, ...]
    axis_mm: float
    stiffness_n_mm2: float

    @classmethod
    def of(cls, bands: Iterable[Band]) -> "Beam | None":
        """The beam of some bands; None where there are none that bear."""
        kept = tuple(bands)
        rows = [(one.stuff.modulus_mpa, one.area_mm2, _middle(one), one.own_mm4) for one in kept]
        stretch = sum(modulus * area for modulus, area, _, _ in rows)
        if stretch <= 0:
            return None
        axis = sum(modulus * area * middle for modulus, area, middle, _ in rows) / stretch
        bending = sum(modulus * (own + area * (middle - axis) ** 2) for modulus, area, middle, own in rows)
        return cls(bands=kept, axis_mm=axis, stiffness_n_mm2=bending) if bending > 0 else None

    def worst(self, moment_n_mm: float) -> Stress | None:
        """Where the margin is least under a moment that bends the tip up; None where nothing is stressed."""
        found: tuple[float, float, Stress] | None = None
        turn = moment_n_mm / self.stiffness_n_mm2
        for one in self.bands:
            for _, n in (one.first, one.last):
                stress = one.stuff.modulus_mpa * turn * (n - self.axis_mm)
                limit = one.stuff.limit_mpa(pressed=stress > 0)
                if abs(stress) <= _SHORT_MM or limit == math.inf:
                    continue
                rank = round(limit / abs(stress), 9), -round(n, 6)
                if found is None or rank < found[:2]:
                    made = Stress(stress_mpa=stress, limit_mpa=limit, height_mm=n, stuff=one.stuff)
                    found = (*rank, made)
        return found[2] if found else None


def _middle(band: Band) -> float:
    return (band.first[1] + band.last[1]) / 2


def sheet_bands(
    outer: Sequence[Point], inner: Sequence[Point], thickness_mm: float, kind: Kind, level: Level
) -> list[Band]:
    """A board between the lines of its two faces, as many points each, in bands.

    A papered board has two papers, of the row's thickness, and its core between them.
    """
    whole = solid(kind, level)
    if whole is not None:
        return _along(outer, inner, 0.5, thickness_mm, whole)
    if kind is not Kind.PAPERED:
        return []
    thin = min(level.of("paper_thickness"), thickness_mm / 2)
    share = thin / 2 / thickness_mm
    return [
        *_along(outer, inner, share, thin, paper(level)),
        *_along(outer, inner, 0.5, thickness_mm - 2 * thin, core(level)),
        *_along(outer, inner, 1 - share, thin, paper(level)),
    ]


def _along(
    outer: Sequence[Point], inner: Sequence[Point], share: float, thick: float, stuff: Stuff
) -> list[Band]:
    line = [
        (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        for a, b in zip(outer, inner, strict=True)
    ]
    return [Band(first, last, thick, stuff) for first, last in pairwise(line) if thick > _SHORT_MM]


def up_to(line: Sequence[Point], end_c: float) -> list[Point]:
    """The points of a line from front to rear; those behind a place are moved to where it passes there."""
    kept: list[Point] = []
    for first, last in pairwise(line):
        if not kept:
            kept.append(first)
        if last[0] <= end_c or last[0] <= first[0]:
            kept.append(last)
        elif first[0] < end_c:
            share = (end_c - first[0]) / (last[0] - first[0])
            kept.append((end_c, first[1] + (last[1] - first[1]) * share))
        else:
            kept.append(kept[-1])
    return kept
