"""How lift is spread along a wing, and the shear and bending moment that it makes.

N, mm, N mm; s out from the root along the panels, as on the board: of a wing with dihedral that is a little
farther than level, so that moments come out a little high.
"""

import math
from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """The lift of a whole wing, N, over its half span: `stations` are (s, chord) of one half, mm.

    Method: at every place the mean of a lift spread as an ellipse and one spread as the chords, both of the
    whole lift: O. Schrenk, A simple approximation method for obtaining the spanwise lift distribution,
    NACA TM 948, 1940 (abstract read).  `elliptic_share` is that of the ellipse: 1/2; 0 and 1 are the two
    alone.  Twist, control surfaces and the body are left out.  Shear and moment are exact for stations
    joined by straight lines.  What the wing weighs itself is not taken off: both come out high.  Lift
    downwards, gusts from the side and landings are not looked at.
    """

    lift_n: float
    stations: tuple[tuple[float, float], ...]
    elliptic_share: float = 0.5

    @property
    def half_mm(self) -> float:
        """The half span."""
        return self.stations[-1][0]

    @property
    def area_mm2(self) -> float:
        """Area of both halves along the panels."""
        return 2 * sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(self.stations))

    def shear_n(self, s_mm: float) -> float:
        """The lift from a place out to the tip."""
        chords = sum(area for area, _ in self._beyond(s_mm)) / self.area_mm2
        u = self._share_out(s_mm)
        ellipse = (math.acos(u) - u * math.sqrt(1 - u * u)) / math.pi
        return self.lift_n * self._mean(ellipse, chords)

    def moment_n_mm(self, s_mm: float) -> float:
        """The bending moment of that lift about a place."""
        chords = sum(first for _, first in self._beyond(s_mm)) / self.area_mm2
        u = self._share_out(s_mm)
        root = math.sqrt(1 - u * u)
        ellipse = (2 * root**3 / 3 - u * (math.acos(u) - u * root)) * self.half_mm / math.pi
        return self.lift_n * self._mean(ellipse, chords)

    def _mean(self, ellipse: float, chords: float) -> float:
        return self.elliptic_share * ellipse + (1 - self.elliptic_share) * chords

    def _share_out(self, s_mm: float) -> float:
        return min(max(s_mm / self.half_mm, 0.0), 1.0)

    def _beyond(self, s_mm: float) -> list[tuple[float, float]]:
        """Of every panel the area beyond a place, and its first moment about that place."""
        found = []
        for (a, chord_a), (b, chord_b) in pairwise(self.stations):
            if b <= s_mm or b <= a:
                continue
            start = max(a, s_mm)
            first = chord_a + (chord_b - chord_a) * (start - a) / (b - a)
            long = b - start
            area = long * (first + chord_b) / 2
            found.append((area, area * (start - s_mm) + long * long * (first + 2 * chord_b) / 6))
        return found
