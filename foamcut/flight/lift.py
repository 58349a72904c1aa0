"""Loadings, Reynolds number, stall speed as a range by kind of section.  SI."""

from dataclasses import dataclass

from foamcut.flight.air import Air
from foamcut.flight.figures import Figures, Loaded
from foamcut.flight.planform import Planform


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """Highest lift coefficient of the wing and stall speed m/s, each (usual, low, high); wing loading kg/m2.

    The lowest stall speed goes with the highest coefficient and the lightest weight.
    """

    cl_max: tuple[float, float, float]
    stall_m_s: tuple[float, float, float]
    loading_kg_m2: float
    assumed: tuple[str, ...] = ()


def lift_of_wing(plan: Planform, now: Loaded, air: Air) -> Lift:
    """What the wing bears in this air."""
    raise NotImplementedError


def lift_figures(plan: Planform, now: Loaded, air: Air, lift: Lift) -> Figures:
    """Loadings, Reynolds number and speeds, and advice; the weight against where authorities ask for more."""
    raise NotImplementedError
