"""What elevons of a wing do to its lift and moment, by the vortex lattice.  SI.

A control turns every section by flap effectiveness times its angle; how that lift spreads over the span is
the lattice's, the moment of the bent section thin-aerofoil theory's.  Strips side by side would promise half
as much again at the tips of a swept wing.
"""

import math
from dataclasses import dataclass

import numpy as np

from foamcut.airframe.planform import panel_beside, panels
from foamcut.flight.controls_flap import flap_effectiveness, flap_moment
from foamcut.flight.controls_shape import Hung
from foamcut.flight.lattice import ROWS, STRIPS
from foamcut.flight.lattice_flow import flow_through
from foamcut.flight.lattice_grid import Lattice, lattice
from foamcut.flight.planform import Lifting

#: below it a wing has no shadow to lay a lattice on
_LEAST_M = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Elevons:
    """All at full throw, trailing edges up, per dynamic pressure: lift that is lost (m2), moments (m3).

    `lost_at_nose_m3` is the lost lift times x of its place, `section_m3` what bends the nose up besides.
    """

    lost_m2: float = 0.0
    lost_at_nose_m3: float = 0.0
    section_m3: float = 0.0

    def moment_m3(self, along_m: float) -> float:
        """About a place along, nose up."""
        return self.lost_at_nose_m3 - along_m * self.lost_m2 + self.section_m3


def elevons_of(wing: Lifting, several: tuple[Hung, ...]) -> Elevons:
    """What the controls of a wing do, all moved up by their throws; nothing where there are none."""
    if not several or wing.area_m2 <= 0 or wing.crosses[-1].leading_m[1] < _LEAST_M:
        return Elevons()
    grid = lattice((wing,), strips=STRIPS, rows=ROWS)
    inner, outer = grid.nodes[grid.inner], grid.nodes[grid.outer]
    turned = np.sum([_turned(one, inner[:, 1], outer[:, 1]) for one in several], axis=0)
    strength = _strength(grid, turned)
    lost = 4 * strength * (outer[:, 1] - inner[:, 1])
    places = (inner[:, 0] + outer[:, 0]) / 2
    # solvers of different machines differ in the last digits
    return Elevons(
        lost_m2=round(float(lost.sum()), 9),
        lost_at_nose_m3=round(float(lost @ places), 9),
        section_m3=round(sum(_section(one) for one in several), 9),
    )


def _strength(grid: Lattice, turned: np.ndarray) -> np.ndarray:
    flow, against = flow_through(grid), -grid.normals[:, 2] * turned
    try:
        return np.linalg.solve(flow, against)
    except np.linalg.LinAlgError:
        return np.linalg.lstsq(flow, against, rcond=None)[0]


def _turned(one: Hung, inner_m: np.ndarray, outer_m: np.ndarray) -> np.ndarray:
    """By how much the sections of panels between two places out are turned at full throw, radians."""
    first, last = (_out_m(one, s) for s in (one.places[0], one.places[-1]))
    angles = []
    for y0, y1 in zip(inner_m.tolist(), outer_m.tolist(), strict=True):
        low, high = max(y0, first), min(y1, last)
        if high <= low:
            angles.append(0.0)
            continue
        panel, s = panel_beside(one.surface, 500 * (low + high))
        chord = panel.chord(s)
        share = (panel.trailing(s) - one.hinge(s)) / chord if chord > 0 else 0.0
        angles.append(flap_effectiveness(share) * (high - low) / (y1 - y0))
    return np.array(angles) * math.radians(one.control.throw_deg)


def _out_m(one: Hung, s: float) -> float:
    several = panels(one.surface)
    panel = next((panel for panel in several if s <= panel.last.out_mm), several[-1])
    return panel.point(0.0, s, 0.0)[1] / 1000


def _section(one: Hung) -> float:
    """Moment of the bent sections of all there are at full throw, m3."""
    turned = sum(
        -flap_moment(strip.share) * strip.width_mm * strip.chord_mm**2 * strip.level for strip in one.strips()
    )
    return one.count * turned * 1e-9 * math.radians(one.control.throw_deg)
