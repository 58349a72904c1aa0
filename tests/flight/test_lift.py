"""Highest lift, stall speed and loadings of a wing."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.airframe.values import Build
from foamcut.findings import Level
from foamcut.flight.air import air_at
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.lift import lift_figures, lift_of_wing, quarter_cosine, stall_m_s
from foamcut.flight.lift_advice import usual_weight_g
from foamcut.flight.values import Site
from tests.flight.power_sample import loaded, plan, wing

SEA = air_at(Site())
G = 9.80665


def figures(mass: float = 800.0, spread: float = 0.1, **changed):
    """Numbers and advice of a weight on a plank of a wing."""
    main = wing(**changed)
    the_plan, now = plan(main=main), loaded(mass, spread)
    lift = lift_of_wing(the_plan, now, SEA)
    assert lift is not None
    return lift_figures(the_plan, now, SEA, lift)


def codes(found) -> list[str]:
    return [one.code for one in found.findings]


def test_stall_speed_of_a_textbook_aeroplane():
    """arithmetic: 8000 N, 17 m2, CL 2.2, 1.225 kg/m3 give 18.6877 m/s."""
    assert stall_m_s(8000 / G, 17.0, 2.2, 1.225) == pytest.approx(18.6877, abs=5e-5)


@pytest.mark.parametrize(("pounds_ft2", "cl"), [(10.0, 1.2), (16.5, 2.0), (4.0, 0.9)])
def test_stall_speed_in_knots_from_pounds_and_feet(pounds_ft2, cl):
    """arithmetic: 17.194 sqrt((W/S) / CL) of a magazine column, whose constant is 0.04 % off."""
    kg_m2 = pounds_ft2 * 0.45359237 / 0.3048**2
    knots = stall_m_s(kg_m2, 1.0, cl, 1.225) * 3600 / 1852
    assert knots == pytest.approx(17.194 * math.sqrt(pounds_ft2 / cl), rel=1e-3)


@pytest.mark.parametrize(
    ("mass", "area", "cl", "speed"),
    [(0.5, 0.20, 0.8, 7.07), (0.5, 0.20, 1.0, 6.33), (0.8, 0.24, 0.9, 7.70), (1.2, 0.28, 1.1, 7.90)],
)
def test_stall_speed_of_models(mass, area, cl, speed):
    """arithmetic: sqrt(2 m g / (rho S CL)), worked out by another program."""
    assert stall_m_s(mass, area, cl, 1.225) == pytest.approx(speed, abs=0.005)


def test_stall_grows_with_the_root_of_the_load_factor():
    """arithmetic: FAA text quoted: 4 times the weight, twice the speed; 9 times, thrice; 60 degrees, +41 %."""
    one = stall_m_s(1.0, 0.25, 1.0, 1.225)
    assert stall_m_s(4.0, 0.25, 1.0, 1.225) == pytest.approx(2 * one)
    assert stall_m_s(9.0, 0.25, 1.0, 1.225) == pytest.approx(3 * one)
    found = figures()
    assert found.value("stall_speed_banked") / found.value("stall_speed") == pytest.approx(1.41421, abs=1e-5)


@pytest.mark.parametrize(("build", "row"), [(Build.FOLDED, "cl_max_folded"), (Build.FLAT, "cl_max_flat")])
def test_the_wing_has_nine_tenths_of_its_section(build, row):
    lift = lift_of_wing(plan(main=wing(build=build)), loaded(), SEA)
    section = ASSUMED[row]
    assert lift.cl_max[0] == pytest.approx(0.9 * section.value)
    assert lift.cl_max[1] < 0.9 * section.low < 0.9 * section.high < lift.cl_max[2]
    assert lift.stall_m_s[1] < lift.stall_m_s[0] < lift.stall_m_s[2]
    assert lift.assumed == (row, "cl_max_share")
    assert lift.loading_kg_m2 == pytest.approx(4.0)


def test_sweep_takes_its_cosine():
    """arithmetic: a plank swept back by its half span leans 45 degrees."""
    swept = wing(back=500.0)
    assert quarter_cosine(swept) == pytest.approx(math.sqrt(0.5))
    straight, leaning = (lift_of_wing(plan(main=one), loaded(), SEA) for one in (wing(), swept))
    assert leaning.cl_max[0] / straight.cl_max[0] == pytest.approx(math.sqrt(0.5))
    assert quarter_cosine(replace(swept, crosses=swept.crosses[:1])) == 1.0


def test_two_wings_bear_together():
    """A second wing of the same size halves the loading."""
    one = plan()
    both = replace(one, others=(one.wing,))
    single, double = (lift_of_wing(each, loaded(), SEA) for each in (one, both))
    assert double.loading_kg_m2 == pytest.approx(single.loading_kg_m2 / 2)
    assert double.stall_m_s[0] == pytest.approx(single.stall_m_s[0] / math.sqrt(2))


def test_no_shadow_or_no_weight_bears_nothing():
    assert lift_of_wing(plan(main=replace(wing(), area_m2=0.0)), loaded(), SEA) is None
    assert lift_of_wing(plan(), loaded(0.0), SEA) is None


def test_numbers_of_a_usual_model():
    """arithmetic: 800 g on 20 dm2: 40 g/dm2, 0.8 / 0.2^1.5 kg/m3; 68 460 V c of the sea's air."""
    found = figures()
    assert found.value("wing_loading") == pytest.approx(40.0)
    assert found.value("cube_loading") == pytest.approx(0.8 / 0.2**1.5)
    stall = found.value("stall_speed")
    assert found.value("reynolds_stall") == pytest.approx(68460 * stall * 0.2, rel=1e-4)
    assert found.value("approach_speed") == pytest.approx(1.3 * stall)
    assert found.value("flight_speed") == pytest.approx(1.5 * stall)
    assert codes(found) == ["registration-weight"]
    assert all(one.low is None or one.low <= one.value <= one.high for one in found.numbers)


def test_thin_air_asks_for_speed():
    high = lift_of_wing(plan(), loaded(), air_at(Site(altitude_m=3000)))
    low = lift_of_wing(plan(), loaded(), SEA)
    assert high.stall_m_s[0] / low.stall_m_s[0] == pytest.approx(math.sqrt(1.225 / 0.90925), rel=1e-4)


def test_a_heavy_model_is_told_how_much_lighter():
    (heavy, *_) = figures(1400.0, 0.0).findings
    assert (heavy.code, heavy.level, heavy.where) == ("wing-loading", Level.WARNING, "surface.wing")
    lighter = int(heavy.mend.split(" g lighter")[0])
    more = int(heavy.mend.split(", or ")[1].split(" %")[0])
    mended = figures(1400.0 - lighter - 1, 0.0), figures(1400.0, 0.0, half=500.0 * (1 + more / 100))
    for found in mended:
        assert found.value("cube_loading") == pytest.approx(13.0, rel=0.02)
        assert not [one for one in found.findings if one.level is Level.WARNING]


def test_a_very_light_model_is_told():
    found = figures(200.0, 0.0)
    assert codes(found) == ["wing-loading"]
    assert found.findings[0].level is Level.NOTE


def test_usual_weights_go_through_their_rows():
    """memory: 0.7 m 200 to 350 g, 1.0 m 500 to 800, 1.2 m 800 to 1200, 1.5 m 1300 to 2000 g."""
    assert usual_weight_g(0.7) == pytest.approx((200, 350))
    assert usual_weight_g(1.0) == pytest.approx((500, 800))
    assert usual_weight_g(1.5) == pytest.approx((1300, 2000))
    low, high = usual_weight_g(1.1)
    assert 500 < low < 800 < high < 1200
    assert usual_weight_g(0.69) is None and usual_weight_g(1.6) is None


def test_a_model_heavy_for_its_span_is_told_by_how_much():
    found = figures(900.0, 0.05)
    assert codes(found) == ["wing-loading", "registration-weight"]
    assert found.findings[0].mend.startswith("100 g lighter")
    assert codes(figures(900.0, 0.2)) == ["registration-weight"]  # within what the masses leave open


def test_a_narrow_slow_wing_has_few_measurements():
    found = figures(120.0, 0.0, half=400.0, chord=80.0)
    assert "reynolds-low" in codes(found)
    note = next(one for one in found.findings if one.code == "reynolds-low")
    chord = float(note.mend.split("chord of ")[1].split(" mm")[0])
    stall = found.value("stall_speed")
    assert SEA.density_kg_m3 * stall * chord / 1000 / SEA.viscosity_pa_s == pytest.approx(50_000, rel=0.01)


@pytest.mark.parametrize(
    ("mass", "told"), [(120, False), (224, False), (226, True), (260, True), (900, True), (26_000, True)]
)
def test_weights_near_a_threshold_ask_to_check_the_authority(mass, told):
    found = [one for one in figures(mass, 0.0).findings if one.code == "registration-weight"]
    assert bool(found) is told
    for one in found:
        assert one.level is Level.NOTE
        assert one.mend.startswith("check your authority") and len(one.text) < 60
        assert "must" not in one.text + one.mend
        assert ("25000" in one.text) is (mass > 25_000)


def test_just_over_a_threshold_it_is_told_how_much_lighter_is_below():
    (note,) = (one for one in figures(255.0, 0.0).findings if one.code == "registration-weight")
    assert "6 g lighter is below 250 g" in note.mend


@given(
    mass=st.floats(1, 50_000),
    half=st.floats(20, 5000),
    chord=st.floats(10, 2000),
    build=st.sampled_from(Build),
    back=st.floats(-500, 3000),
)
def test_any_wing_has_finite_numbers(mass, half, chord, build, back):
    found = figures(mass, 0.3, half=half, chord=chord, build=build, back=back)
    assert all(math.isfinite(one.value) and one.value > 0 for one in found.numbers)
    assert len({one.name for one in found.numbers}) == len(found.numbers)
    assert not any("nan" in one.text + one.mend or "inf" in one.text + one.mend for one in found.findings)
