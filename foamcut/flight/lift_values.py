"""What the wing bears, and what follows from it for several questions.  SI."""

import math
from dataclasses import dataclass

from foamcut.flight.air import GRAVITY_M_S2, Air
from foamcut.flight.planform import Planform

__all__ = ["GRAVITY_M_S2", "Lift", "cube_loading", "reynolds", "surface_slope", "wing_area_m2"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """Highest lift coefficient of the wing and stall speed m/s, each (usual, low, high); wing loading kg/m2.

    The lowest stall speed goes with the highest coefficient and the lightest weight.
    """

    cl_max: tuple[float, float, float]
    stall_m_s: tuple[float, float, float]
    loading_kg_m2: float
    assumed: tuple[str, ...] = ()


def wing_area_m2(now_mass_g: float, lift: Lift) -> float:
    """The area of all wings together, from the loading."""
    return now_mass_g / 1000 / lift.loading_kg_m2 if lift.loading_kg_m2 > 0 else 0.0


def cube_loading(mass_g: float, lift: Lift) -> float:
    """Weight over area^1.5, kg/m3: the same for models of one kind whatever their size.

    Source: in print since 1959 and 1989, two articles reprinted by a club.
    """
    area = wing_area_m2(mass_g, lift)
    return mass_g / 1000 / area**1.5 if area > 0 else 0.0


def reynolds(plan: Planform, air: Air, speed_m_s: float) -> float:
    """Reynolds number on the wing's mean chord: rho V c / mu."""
    return air.density_kg_m3 * speed_m_s * plan.wing.mean_chord_m / air.viscosity_pa_s


def surface_slope(aspect_ratio: float) -> float:
    """Lift per radian of a stabiliser or fin by its aspect ratio: 2 pi A / (2 + sqrt(A^2 + 4)).

    Source: H. Helmbold's formula in the form of D. Raymer, ch. 12 (from memory).  Limits: no sweep, no body
    or other surface beside it, which would make it steeper.
    """
    if aspect_ratio <= 0:
        return 0.0
    return 2 * math.pi * aspect_ratio / (2 + math.sqrt(aspect_ratio**2 + 4))
