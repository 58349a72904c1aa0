"""The air of the US Standard Atmosphere, 1976, against printed tables."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.flight.air import air_at, air_figures, pressure_pa, standard_temperature_k
from foamcut.flight.values import Site

#: published: Mechanical Engineers' Handbook, volume 4, p. 12, Table 6, "Thermophysical Properties of the U.S.
#: Standard Atmosphere": geometric height m, temperature K, pressure bar, density kg/m3
HANDBOOK = (
    (0, 288.15, 1.0133, 1.2250), (1000, 281.65, 0.8988, 1.1117), (2000, 275.15, 0.7950, 1.0066),
    (3000, 268.66, 0.7012, 0.9093), (4000, 262.17, 0.6166, 0.8194), (5000, 255.68, 0.5405, 0.7364),
    (6000, 249.19, 0.4722, 0.6601), (7000, 242.70, 0.4111, 0.5900), (8000, 236.22, 0.3565, 0.5258),
    (9000, 229.73, 0.3080, 0.4671),
)  # fmt: skip

#: published: The Engineering ToolBox, "International Standard Atmosphere": elevation m, pressure bar, density
#: over that at the sea, kinematic viscosity 1e-5 m2/s
TOOLBOX = (
    (-2000, 1.2778, 1.2067, 1.253), (-1000, 1.1393, 1.0996, 1.352), (-500, 1.0748, 1.0489, 1.405),
    (0, 1.01325, 1.0000, 1.461), (500, 0.9546, 0.9529, 1.520), (1500, 0.8456, 0.8638, 1.646),
    (2500, 0.7469, 0.7812, 1.787), (4500, 0.5775, 0.6343, 2.117), (6500, 0.4408, 0.5096, 2.528),
    (9000, 0.3080, 0.3813, 3.196),
)  # fmt: skip


@pytest.mark.parametrize(("height", "kelvin", "bar", "density"), HANDBOOK)
def test_temperature_pressure_and_density_of_the_handbook(height, kelvin, bar, density):
    """published: see HANDBOOK; half a unit of its last place and a little."""
    assert standard_temperature_k(height) == pytest.approx(kelvin, abs=0.0051)
    assert pressure_pa(height) / 1e5 == pytest.approx(bar, abs=0.000051)
    assert air_at(Site(altitude_m=height)).density_kg_m3 == pytest.approx(density, abs=0.00006)


@pytest.mark.parametrize(("height", "bar", "ratio", "kinematic"), TOOLBOX)
def test_density_and_viscosity_of_the_engineering_table(height, bar, ratio, kinematic):
    """published: see TOOLBOX; also below the sea."""
    air = air_at(Site(altitude_m=height))
    assert pressure_pa(height) / 1e5 == pytest.approx(bar, abs=0.0001)
    assert air.density_kg_m3 / 1.225 == pytest.approx(ratio, abs=0.0001)
    assert air.viscosity_pa_s / air.density_kg_m3 * 1e5 == pytest.approx(kinematic, abs=0.001)


@pytest.mark.parametrize(
    ("height", "density"),
    [(0, 1.22500), (500, 1.16727), (1000, 1.11166), (1500, 1.05810), (2000, 1.00655), (3000, 0.90925)],
)
def test_densities_at_geometric_heights(height, density):
    """arithmetic: the closed form with geopotential height, worked out by another program."""
    assert air_at(Site(altitude_m=height)).density_kg_m3 == pytest.approx(density, abs=0.00001)


def test_a_given_temperature_keeps_the_pressure():
    """arithmetic: density goes with 1 / T; 288.15 K over 308.15 K at the sea."""
    warm = air_at(Site(temperature_c=35.0))
    assert warm.density_kg_m3 == pytest.approx(1.225 * 288.15 / 308.15, rel=1e-5)
    assert warm.viscosity_pa_s > air_at(Site()).viscosity_pa_s
    own = air_at(Site(altitude_m=1000, temperature_c=standard_temperature_k(1000) - 273.15))
    assert own.density_kg_m3 == pytest.approx(air_at(Site(altitude_m=1000)).density_kg_m3)


@given(st.floats(-430, 9000), st.floats(-60, 60))
def test_air_grows_thinner_upwards_and_with_heat(height, degrees):
    here = air_at(Site(altitude_m=height, temperature_c=degrees))
    assert 0.35 < here.density_kg_m3 < 2.0
    assert air_at(Site(altitude_m=height + 10, temperature_c=degrees)).density_kg_m3 < here.density_kg_m3
    assert air_at(Site(altitude_m=height, temperature_c=degrees + 1)).density_kg_m3 < here.density_kg_m3


@pytest.mark.parametrize("height", [11001, -5001, float("nan"), float("inf")])
def test_heights_beyond_the_layer_are_a_bug(height):
    with pytest.raises(ValueError, match="troposphere"):
        air_at(Site(altitude_m=height))


def test_colder_than_the_absolute_zero_is_a_bug():
    with pytest.raises(ValueError, match="cold"):
        air_at(Site(temperature_c=-273.15))


def test_density_is_told_with_its_source():
    site = Site(altitude_m=350.0, temperature_c=18.0)
    figures = air_figures(site, air_at(site))
    (number,) = figures.numbers
    assert (number.name, number.unit) == ("air_density", "kg/m3")
    assert "own temperature" in number.source
    assert not figures.findings
