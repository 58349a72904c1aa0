"""A vortex lattice: lift and moment of thin surfaces in a steady stream, by horseshoe vortices.  SI."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamcut.flight.lattice_flow import flow_through
from foamcut.flight.lattice_grid import Lattice, lattice
from foamcut.flight.planform import Lifting

#: across the widest half, and along every chord: twice as many of both move the neutral point less than
#: half a hundredth of the mean chord
STRIPS, ROWS = 24, 8


@dataclass(frozen=True, slots=True, kw_only=True)
class LatticeLift:
    """Lift slope (per radian, over the reference area) and x of the neutral point, m."""

    lift_slope: float
    neutral_m: float


def lift_of(
    surfaces: Sequence[Lifting], *, area_m2: float, strips: int = STRIPS, rows: int = ROWS
) -> LatticeLift:
    """Lift slope and neutral point of surfaces together, right halves mirrored at the centre plane.

    `strips` across the widest half and `rows` along every chord are even.

    Raises
    ------
    ValueError
        No surface has a shadow, or the area is not above 0.

    Notes
    -----
    Method: a lattice of horseshoe vortices, bound ones at the quarter of every panel, the flow along the
    surface at three quarters (Katz and Plotkin, Low-Speed Aerodynamics; Bertin and Smith, Aerodynamics for
    Engineers; from memory), small angles, legs straight aft.  Limits: thin flat sections (camber turns the
    lift and moves the neutral point little), no thickness, no stalled air, no body, no propeller; the wake
    stays at the height where it leaves the wing.
    """
    if not area_m2 > 0:
        raise ValueError(f"the area of reference must be above 0, not {area_m2}")
    return _lift(lattice(surfaces, strips=strips, rows=rows), area_m2)


def _lift(grid: Lattice, area_m2: float) -> LatticeLift:
    strength = _strength(flow_through(grid), -grid.normals[:, 2])
    inner, outer = grid.nodes[grid.inner], grid.nodes[grid.outer]
    lift = strength * (outer[:, 1] - inner[:, 1])
    whole = float(lift.sum())
    middle = float(lift @ (inner[:, 0] + outer[:, 0])) / 2 / whole
    # solvers of different machines differ in the last digits
    return LatticeLift(lift_slope=round(4 * whole / area_m2, 9), neutral_m=round(middle, 9))


def _strength(flow: np.ndarray, against: np.ndarray) -> np.ndarray:
    """Strengths of vortices that stop the air at all points; surfaces in one place share the lift."""
    try:
        return np.linalg.solve(flow, against)
    except np.linalg.LinAlgError:
        return np.linalg.lstsq(flow, against, rcond=None)[0]
