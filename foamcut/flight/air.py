"""The air at the site, by the US Standard Atmosphere, 1976.  SI."""

from dataclasses import dataclass

from foamcut.flight.figures import Figures
from foamcut.flight.values import Site


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Density kg/m3 and dynamic viscosity Pa s."""

    density_kg_m3: float
    viscosity_pa_s: float


def air_at(site: Site) -> Air:
    """The air of the standard atmosphere at the site's height, of its own temperature where it is given."""
    raise NotImplementedError


def air_figures(site: Site, air: Air) -> Figures:
    """Density at the site."""
    raise NotImplementedError
