"""Panels of a surface on the model: where each lies, its edges in plan, the mean chord.

A panel lies between two neighbouring stations.  Its coordinates, mm: c runs aft along the chord from the
root's leading edge, s out along the span from the root, n up from the paper that lies below; of a fin, s runs
up and n to the left.  Model axes: x aft, y right, z up.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from foamcut.airframe.values import Role, Station, Surface

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A panel and its frame on the model; a surface's right half, or a fin.

    `origin` is the point c = 0, s = that of its first station, n = 0; `aft`, `out` and `up` are the unit
    vectors of c, s and n.  Each end lies in a plane that leans by its tilt from square: there
    s = station + n tan(tilt).  Neighbours meet in the plane that halves their angle, the two halves of a
    surface in the centre plane.
    """

    index: int
    first: Station
    last: Station
    origin: Vector
    aft: Vector
    out: Vector
    up: Vector
    first_tilt_deg: float = 0.0
    last_tilt_deg: float = 0.0

    @property
    def length_mm(self) -> float:
        """Along s."""
        return self.last.out_mm - self.first.out_mm

    def leading(self, s_mm: float) -> float:
        """c of the leading edge at a place along the span, also beyond the panel's ends."""
        return self._between(self.first.back_mm, self.last.back_mm, s_mm)

    def chord(self, s_mm: float) -> float:
        """The chord at a place along the span, also beyond the panel's ends."""
        return self._between(self.first.chord_mm, self.last.chord_mm, s_mm)

    def trailing(self, s_mm: float) -> float:
        """c of the trailing edge."""
        return self.leading(s_mm) + self.chord(s_mm)

    def _between(self, first: float, last: float, s_mm: float) -> float:
        return first + (last - first) * (s_mm - self.first.out_mm) / self.length_mm

    def point(self, c: float, s: float, n: float) -> Vector:
        """A point of the panel in model axes."""
        x, y, z = self.points(np.array([[c, s, n]]))[0].tolist()
        return x, y, z

    def points(self, csn: np.ndarray) -> np.ndarray:
        """Points (..., 3) of the panel, (c, s, n), in model axes."""
        moved = csn - np.array([0.0, self.first.out_mm, 0.0])
        return moved @ np.array([self.aft, self.out, self.up]) + np.array(self.origin)

    def place(self, model: Vector) -> Vector:
        """(c, s, n) of a point in model axes: the reverse of `point`."""
        c, s, n = (
            np.array([self.aft, self.out, self.up]) @ (np.array(model) - np.array(self.origin))
        ).tolist()
        return c, s + self.first.out_mm, n


def panels(surface: Surface) -> tuple[Panel, ...]:
    """The panels of a surface from the root out; stations have to lie farther out one after another.

    Dihedral is that of each panel against the horizontal; then the whole is turned nose up by the angle of
    the surface about the underside of its nose at the root.  A fin stands on the centre plane, half its
    thickness to each side, and has neither.
    """
    made: list[Panel] = []
    x, z = surface.at
    fin = surface.role is Role.FIN
    origin: Vector = (x, surface.material.thickness_mm / 2 if fin else 0.0, z)
    turns = [station.dihedral_deg for station in surface.stations[:-1]]
    for i, (first, last) in enumerate(pairwise(surface.stations)):
        inner = turns[0] if i == 0 else (turns[i] - turns[i - 1]) / 2
        outer = (turns[i + 1] - turns[i]) / 2 if i + 1 < len(turns) else 0.0
        aft, out, up = _STANDING if fin else _axes(surface.angle_deg, first.dihedral_deg)
        panel = Panel(
            index=i,
            first=first,
            last=last,
            origin=origin,
            aft=aft,
            out=out,
            up=up,
            first_tilt_deg=0.0 if fin else inner,
            last_tilt_deg=0.0 if fin else 0.0 - outer,
        )
        made.append(panel)
        origin = panel.point(0.0, last.out_mm, 0.0)
    return tuple(made)


_STANDING: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))


def _axes(angle_deg: float, dihedral_deg: float) -> tuple[Vector, Vector, Vector]:
    a, g = math.radians(angle_deg), math.radians(dihedral_deg)
    aft = (math.cos(a), 0.0, -math.sin(a))
    out = (math.sin(g) * math.sin(a), math.cos(g), math.sin(g) * math.cos(a))
    up = (math.cos(g) * math.sin(a), -math.sin(g), math.cos(g) * math.cos(a))
    return aft, out, up


def panel_at(surface: Surface, s_mm: float) -> Panel:
    """The panel that holds a place along the span; beyond the tip the last one, before the root the first."""
    several = panels(surface)
    return next((panel for panel in several if s_mm <= panel.last.out_mm), several[-1])


def panel_beside(surface: Surface, y_mm: float) -> tuple[Panel, float]:
    """The panel over a distance from the centre plane, and the s of its lower paper there."""
    for panel in panels(surface):
        s = panel.first.out_mm + (y_mm - panel.origin[1]) / panel.out[1]
        if s <= panel.last.out_mm or panel.last is surface.stations[-1]:
            return panel, s
    raise AssertionError("a surface has at least one panel")


@dataclass(frozen=True, slots=True, kw_only=True)
class MeanChord:
    """The mean aerodynamic chord: its length, c of its leading edge, s where it lies, area of one half."""

    chord_mm: float
    leading_mm: float
    out_mm: float
    area_mm2: float


def mean_chord(surface: Surface) -> MeanChord:
    """The mean aerodynamic chord of one half, stations joined by straight lines, dihedral left out.

    Method: the integrals of c^2, c x and c y over the span divided by the area, exact for straight taper.
    """
    area = chord2 = leading = out = 0.0
    for a, b in pairwise(surface.stations):
        c0, c1, x0, x1 = a.chord_mm, b.chord_mm, a.back_mm, b.back_mm
        y0, y1, span = a.out_mm, b.out_mm, b.out_mm - a.out_mm
        area += span * (c0 + c1) / 2
        chord2 += span * (c0 * c0 + c0 * c1 + c1 * c1) / 3
        leading += span * (2 * c0 * x0 + c0 * x1 + c1 * x0 + 2 * c1 * x1) / 6
        out += span * (2 * c0 * y0 + c0 * y1 + c1 * y0 + 2 * c1 * y1) / 6
    return MeanChord(chord_mm=chord2 / area, leading_mm=leading / area, out_mm=out / area, area_mm2=area)
