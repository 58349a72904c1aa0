"""A vortex lattice: lift and moment of thin surfaces in a steady stream, by horseshoe vortices.  SI."""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.flight.planform import Lifting


@dataclass(frozen=True, slots=True, kw_only=True)
class LatticeLift:
    """Lift slope (per radian, over the reference area) and x of the neutral point, m."""

    lift_slope: float
    neutral_m: float


def lift_of(surfaces: Sequence[Lifting], *, area_m2: float) -> LatticeLift:
    """Lift slope and neutral point of surfaces together, right halves mirrored at the centre plane."""
    raise NotImplementedError
