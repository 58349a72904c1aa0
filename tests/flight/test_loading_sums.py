"""Centre of gravity, its range, moments of inertia: against printed examples, other sums, a mesh library."""

from fractions import Fraction
from itertools import product
from typing import Any

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.flight.figures import Item, Sort
from foamcut.flight.loading import loaded
from foamcut.flight.loading_move import shift_mm
from foamcut.flight.loading_numbers import loading_numbers
from foamcut.flight.loading_sums import along_bounds, centre_of, inertia_of, mass_of
from foamcut.flight.values import Setup, Weighed
from tests.flight.loading_sample import item, now_of, plank, setup


def on(*rows: tuple[float, float]) -> tuple[Item, ...]:
    """Things of (mass, place along)."""
    return tuple(item(mass, along) for mass, along in rows)


def centre(*rows: tuple[float, float]) -> float:
    found = centre_of(on(*rows))
    assert found is not None
    return found[0]


def test_weight_shifted_aft_by_the_printed_example() -> None:
    """Published (a reprint read): FAA, Pilot's Handbook of Aeronautical Knowledge, "Weight shifting", as reprinted at
    flightlearnings.com, "Determining loaded weight and CG (part five)", 21 March 2011: 100 lb from station 30
    to 150 of 8000 lb with 616,000 in-lb gives 628,000 in-lb and 78.5 in."""
    rest = (616_000 - 100 * 30) / 7900
    assert centre((7900, rest), (100, 30)) == pytest.approx(77.0, abs=1e-9)
    assert centre((7900, rest), (100, 150)) == pytest.approx(78.5, abs=1e-9)
    assert shift_mm(1.5, 8000, 100) == pytest.approx(150 - 30, abs=1e-9)


def test_how_much_weight_has_to_be_shifted() -> None:
    """Arithmetic: the same handbook's example of 7800 lb, 81.5 in, limit 80.5 in, stations 150 and 30, 65 lb, as a
    reader quotes it in a forum (jetcareers.com, thread 151008); the handbook itself was not opened."""
    assert shift_mm(80.5 - 81.5, 7800, 65) == pytest.approx(30 - 150, abs=1e-9)


def test_other_shifts() -> None:
    """Arithmetic (weight moved / total weight = change / distance): examples of flight schools: 180 lb from
    110 to 142 of 2700 lb shift the centre by 2.13; 192 lb from 167 to 142 of 3200 lb shift it by -1.5."""
    rest = (2520, 90.0)
    assert round(centre(rest, (180, 142)) - centre(rest, (180, 110)), 2) == 2.13
    assert shift_mm(-1.5, 3200, 192) == pytest.approx(142 - 167, abs=1e-9)


#: 4f, 4g, 4h, 4i, 4j of the facts: rows of weight and arm, printed centre and its decimals
TABLES = {
    "five items": (((1150, 13.0), (190, 12.6), (135, 12.6), (15, 42.1), (156, 13.6)), 13.24, 2),
    "one added": (((1150, 13.0), (190, 12.6), (135, 12.6), (15, 42.1), (156, 13.6), (35, 42.1)), 13.84, 2),
    "helicopter": (((1109, 104.7), (180, 72.4), (160, 72.4), (150, 115.8)), 98.9, 1),
    "sample loading": (((2100, 78.3), (340, 85), (350, 121), (450, 75), (80, 150)), 84.8, 1),
    "three on a board": (((100, 50), (100, 90), (200, 150)), 110.0, 1),
}


@pytest.mark.parametrize("name", TABLES)
def test_loading_tables(name: str) -> None:
    """Arithmetic (sum of moments over sum of weights) on loading tables of schools and handbooks."""
    rows, printed, places = TABLES[name]
    assert round(centre(*rows), places) == printed


def test_aft_is_positive_and_removal_is_negative() -> None:
    """Arithmetic: arms before the datum count negative, what is removed has negative weight."""
    rows = ((10, -3.0), (20, 4.0), (30, 7.0))
    assert centre(*rows, (-20, 4.0)) == pytest.approx(centre((10, -3.0), (30, 7.0)), abs=1e-12)
    assert centre(*((m, x - 100) for m, x in rows)) == pytest.approx(centre(*rows) - 100, abs=1e-9)


masses = st.floats(0.1, 2000)
places = st.floats(-500, 2000)
things = st.lists(
    st.builds(lambda m, x, y, z: item(m, x, out=y, up=z), masses, places, places, places),
    min_size=1,
    max_size=8,
)


@settings(max_examples=40, deadline=None)
@given(things)
def test_the_centre_is_that_of_an_exact_sum(several: list[Item]) -> None:
    """Another way: the same sum in fractions, without rounding, and by numpy."""
    found = centre_of(several)
    assert found is not None
    total = sum(Fraction(one.mass_g) for one in several)
    for axis in range(3):
        exact = sum(Fraction(one.mass_g) * Fraction(one.at[axis]) for one in several if one.at) / total
        assert abs(found[axis] - float(exact)) < 0.01
    rows = np.array([one.at for one in several])
    other = np.average(rows, axis=0, weights=[one.mass_g for one in several])
    assert np.allclose(found, other, atol=0.01, rtol=0)


ranged = st.builds(
    lambda m, x, down, up: item(m, x, range=(m * down, m * up)),
    masses, places, st.floats(0.0, 1.0), st.floats(1.0, 3.0),
)  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(st.lists(ranged, min_size=1, max_size=7))
def test_the_range_is_that_of_every_mass_at_either_end(several: list[Item]) -> None:
    """Another way: all 2^n combinations of lowest and highest masses are tried."""
    tried = [
        np.average([one.at[0] for one in several if one.at], weights=ends)
        for ends in product(*((one.low_g, one.high_g) for one in several))
        if sum(ends) > 1e-6
    ]
    low, high = along_bounds(several)
    assert low == pytest.approx(min(tried), abs=1e-6)
    assert high == pytest.approx(max(tried), abs=1e-6)
    middle = centre_of(several)
    assert middle is not None
    assert low - 1e-6 <= middle[0] <= high + 1e-6


def test_the_range_by_hand() -> None:
    """Arithmetic: 100 g at 0 and 50 to 200 g at 300 mm: 100 to 200 mm."""
    assert along_bounds([item(100, 0), item(100, 300, range=(50, 200))]) == (100.0, 200.0)


def test_a_range_with_what_was_overcounted() -> None:
    """A mass below 0 (more was counted than was weighed) keeps the range in order."""
    several = [item(100, 0, range=(80, 120)), item(100, 300), item(-20, 150)]
    low, high = along_bounds(several)
    assert low == pytest.approx((0 * 120 + 300 * 100 - 20 * 150) / 200)
    assert high == pytest.approx((0 * 80 + 300 * 100 - 20 * 150) / 160)


def box_mesh(size: tuple[float, float, float], at: tuple[float, float, float]) -> Any:
    return trimesh.creation.box(size, transform=trimesh.transformations.translation_matrix(at))


def test_inertia_of_boxes_is_that_of_a_mesh() -> None:
    """Another program: trimesh, two solid boxes of one density, about their common centre."""
    boxes = (((105.0, 34.0, 24.0), (130.0, 10.0, 40.0)), ((300.0, 20.0, 60.0), (400.0, -30.0, 10.0)))
    meshes: Any = trimesh.util.concatenate([box_mesh(*one) for one in boxes])
    several = [
        item(
            size[0] * size[1] * size[2] / 1000, at[0], out=at[1], up=at[2],
            spread_mm2=tuple(one**2 / 12 for one in size),
        )
        for size, at in boxes
    ]  # fmt: skip
    found = centre_of(several)
    assert found is not None
    assert np.allclose(found, meshes.center_mass, atol=0.01, rtol=0)
    ours = inertia_of(several, found)
    theirs = np.diag(meshes.moment_inertia) * 1e-3 * 1e-9  # 0.001 g/mm3, kg m2
    assert np.allclose(ours, theirs, rtol=1e-9)


def test_inertia_of_a_rod_is_that_of_a_mesh() -> None:
    """Another program: trimesh, a rod along x of 1024 sides; m (L^2 / 12 + r^2 / 4) across it."""
    radius, long = 4.0, 500.0
    rod = trimesh.creation.cylinder(radius, long, sections=1024)
    rod.apply_transform(trimesh.transformations.rotation_matrix(np.pi / 2, (0, 1, 0)))
    one = item(rod.volume, 0, spread_mm2=(long**2 / 12, radius**2 / 4, radius**2 / 4))
    ours = np.array(inertia_of([one], (0.0, 0.0, 0.0)))
    assert np.allclose(ours, np.diag(rod.moment_inertia) * 1e-9, rtol=1e-4)


@settings(max_examples=25, deadline=None)
@given(things)
def test_a_mirrored_model_balances_on_its_centre_plane(several: list[Item]) -> None:
    """Each thing beside its mirror image: nothing to the right, twice the weight, the same place along."""
    other = [item(one.mass_g, one.at[0], out=0 - one.at[1], up=one.at[2]) for one in several if one.at]
    found, alone = centre_of([*several, *other]), centre_of(several)
    assert found is not None
    assert alone is not None
    assert abs(found[1]) < 1e-9
    assert found[0] == pytest.approx(alone[0], abs=1e-6)


def test_things_without_a_place_count_for_the_weight_alone() -> None:
    lost = item(50, 0, at=None)
    now = now_of((item(100, 200), lost), setup(), None)
    assert (now.mass_g, now.at[0], now.target_mm) == (150, 200, None)
    assert mass_of([lost]) == 50


@pytest.mark.parametrize("several", [(), (item(50, 0, at=None),), (item(0, 100),)])
def test_nothing_to_balance(several: tuple[Item, ...]) -> None:
    assert loaded(several, setup(), plank()) is None


def test_nothing_has_no_range() -> None:
    with pytest.raises(ValueError, match="weighs"):
        along_bounds([])


def test_huge_and_tiny_masses_do_no_harm() -> None:
    several = (item(1e-6, 1e6), item(1e7, -1e5), item(0.0, 3.0, range=(0.0, 5.0)))
    now = now_of(several, setup(), plank())
    assert now.along_low_mm <= now.at[0] <= now.along_high_mm
    assert all(np.isfinite(now.inertia_kg_m2))


def test_what_was_weighed_has_no_range() -> None:
    """The whole model on the scales and balanced: its own numbers, not those of its parts."""
    several = (item(100, 0, range=(50, 200)), item(100, 300))
    given = Setup(weighed=Weighed(model_mass_g=200.0, model_along_mm=150.0))
    now = now_of(several, given, None)
    assert (now.low_g, now.mass_g, now.high_g) == (200, 200, 200)
    assert (now.along_low_mm, now.along_high_mm) == (150, 150)


def test_no_moments_of_inertia_that_no_body_has() -> None:
    """arithmetic: of a body none is larger than the sum of the other two; what was weighed may make it so."""
    counted = (item(100.0, 0.0, out=50.0), item(100.0, 1000.0, out=-50.0), item(400.0, 400.0))
    heavy = (*counted, item(900.0, 0.0, key="weighed.model"), item(-600.0, 1000.0, key="weighed.model"))
    for several, told in ((counted, 3), (heavy, 0)):
        now = loaded(several, Setup(), None)
        assert now is not None
        names = [one.name for one in loading_numbers(several, now, Setup(), None)]
        assert sum(name.startswith("inertia_") for name in names) == told


def test_a_share_of_more_than_all_is_left_out() -> None:
    """Scales that say far less than what is carried: 300 g of 100 g would be 300 %."""
    things = (item(300, 100, sort=Sort.BATTERY), item(-200, 100))
    names = [one.name for one in loading_numbers(things, now_of(things, Setup(), None), Setup(), None)]
    assert "mass_battery" in names and "share_battery" not in names
