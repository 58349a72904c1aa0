"""The air at the site, by the US Standard Atmosphere, 1976.  SI."""

from dataclasses import dataclass

from foamcut.flight.figures import Figures, Group, Number
from foamcut.flight.values import Site

# Constants of the standard: U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF), troposphere and viscosity.
_PRESSURE_PA = 101325.0
_TEMPERATURE_K = 288.15
_LAPSE_K_M = 0.0065  # per metre of geopotential height
#: standard gravity (third General Conference on Weights and Measures, 1901), which the standard takes too
GRAVITY_M_S2 = 9.80665
_GAS_J_KG_K = 8.31432 / 0.0289644  # gas constant of the standard over the molar mass of its air
_EARTH_M = 6356766.0  # radius that turns a geometric height into a geopotential one
_SUTHERLAND_KG = 1.458e-6  # kg/(s m K^0.5)
_SUTHERLAND_K = 110.4
_ZERO_C_K = 273.15
#: heights for which these layers hold: the standard's tables begin 5 km below the sea, the troposphere ends
#: at a geopotential height of 11 km
_LOWEST_M, _HIGHEST_M = -5000.0, 11000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """Density kg/m3 and dynamic viscosity Pa s."""

    density_kg_m3: float
    viscosity_pa_s: float


def air_at(site: Site) -> Air:
    """The air of the standard atmosphere at the site's height, of its own temperature where it is given.

    The height is geometric, as on a map; the standard counts geopotential height r z / (r + z), which is
    0.5 m less at 1800 m.  With a temperature given, the pressure stays that of the standard at the height.

    Source: U.S. Standard Atmosphere, 1976, equations of the lowest layer; viscosity by Sutherland's law with
    that standard's constants.  Limits: dry air, the weather's pressure not known (3 % to either side).

    Raises
    ------
    ValueError
        The height is not from -5000 to 11000 m, or it is colder than the absolute zero.
    """
    if not _LOWEST_M <= site.altitude_m <= _HIGHEST_M:
        raise ValueError(f"the troposphere of the standard does not hold at {site.altitude_m} m")
    standard_k = standard_temperature_k(site.altitude_m)
    kelvin = standard_k if site.temperature_c is None else site.temperature_c + _ZERO_C_K
    if not kelvin > 0:
        raise ValueError(f"no air is as cold as {site.temperature_c} degC")
    return Air(
        density_kg_m3=pressure_pa(site.altitude_m) / (_GAS_J_KG_K * kelvin),
        viscosity_pa_s=_SUTHERLAND_KG * kelvin**1.5 / (kelvin + _SUTHERLAND_K),
    )


def standard_temperature_k(altitude_m: float) -> float:
    """Temperature of the standard at a geometric height."""
    return _TEMPERATURE_K - _LAPSE_K_M * _geopotential(altitude_m)


def pressure_pa(altitude_m: float) -> float:
    """Pressure of the standard at a geometric height."""
    exponent = GRAVITY_M_S2 / (_GAS_J_KG_K * _LAPSE_K_M)
    return _PRESSURE_PA * (standard_temperature_k(altitude_m) / _TEMPERATURE_K) ** exponent


def _geopotential(altitude_m: float) -> float:
    return _EARTH_M * altitude_m / (_EARTH_M + altitude_m)


def air_figures(site: Site, air: Air) -> Figures:
    """Density at the site."""
    own = "" if site.temperature_c is None else ", its own temperature"
    return Figures(
        numbers=(
            Number(
                name="air_density",
                title="density of the air at the site",
                value=air.density_kg_m3,
                unit="kg/m3",
                group=Group.SPEED,
                usual="1.225 at the sea, 1.112 at 1000 m, 1.007 at 2000 m",
                source=f"US Standard Atmosphere, 1976, at the height of the site{own}",
            ),
        )
    )
