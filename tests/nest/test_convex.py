"""Outlines as sums and unions of convex ones, held against the sum by crossing boundaries and another library."""

import math
from random import Random

import pytest
from shapely import Polygon, union_all

from foamcut.nest.convex import convex_parts, convex_sum
from foamcut.nest.exact import hull_of
from foamcut.nest.forms import is_convex, signed_area
from foamcut.nest.nofit import no_fit, no_fit_by_parts

Path = list[tuple[int, int]]


def _star(rng: Random, corners: int) -> Path:
    """A counter-clockwise ring with dents, units."""
    turns = sorted(rng.uniform(0, 2 * math.pi) for _ in range(corners))
    return [(round(r * math.cos(a)), round(r * math.sin(a))) for a in turns for r in [rng.uniform(2e8, 1e9)]]


def _stars(seed: int, count: int) -> list[Path]:
    rng = Random(seed)
    found: list[Path] = []
    while len(found) < count:
        path = _star(rng, rng.randrange(4, 30))
        if Polygon(path).is_valid and signed_area(path) > 0:
            found.append(path)
    return found


@pytest.mark.parametrize("seed", range(5))
def test_convex_parts_are_convex_and_make_the_ring_without_overlap(seed: int) -> None:
    for path in _stars(seed, 10):
        parts = convex_parts(tuple(path))
        assert parts
        assert all(is_convex(one) for one in parts)
        assert sum(signed_area(one) for one in parts) == pytest.approx(signed_area(path), rel=1e-12)
        assert union_all([Polygon(one) for one in parts]).symmetric_difference(Polygon(path)).area < 1e6


def test_lines_through_corners_do_not_stop_the_parting() -> None:
    """Arithmetic: a cross of five unit squares, with corners in the middle of its sides."""
    cross = [(1, 0), (2, 0), (2, 1), (3, 1), (3, 2), (2, 2), (2, 3), (1, 3), (1, 2), (0, 2), (0, 1), (1, 1)]
    doubled = [(2 * x, 2 * y) for x, y in cross]
    middles = [
        ((ax + bx) // 2, (ay + by) // 2)
        for (ax, ay), (bx, by) in zip(doubled, doubled[1:] + doubled[:1], strict=True)
    ]
    path = [point for pair in zip(doubled, middles, strict=True) for point in pair]
    parts = convex_parts(tuple(path))
    assert sum(signed_area(one) for one in parts) == 5 * 4
    assert all(is_convex(one) for one in parts)


def test_a_ring_that_crosses_itself_has_no_parts() -> None:
    assert convex_parts(((0, 0), (10, 0), (0, 8), (10, 10))) == []


@pytest.mark.parametrize("seed", range(5))
def test_sums_by_parts_are_the_sums_by_crossing_boundaries(seed: int) -> None:
    """Both take the same area and the same box, but for a few units of rounding all along."""
    stars = _stars(seed, 12)
    for one, other in zip(stars[::2], stars[1::2], strict=True):
        by_parts, due = no_fit_by_parts([one], [other]), no_fit([one], [other])
        assert Polygon(by_parts[0]).bounds == pytest.approx(Polygon(due[0]).bounds, abs=4)
        areas = [sum(signed_area(path) for path in paths) for paths in (by_parts, due)]
        assert areas[0] == pytest.approx(areas[1], abs=40 * Polygon(due[0]).length)


def test_the_sum_of_convex_rings_is_the_hull_of_all_sums_of_corners() -> None:
    """Arithmetic: the sum of two convex sets is the hull of the sums of their corners."""
    for one, other in zip(_stars(1, 10), _stars(2, 10), strict=True):
        a, b = hull_of([one]), hull_of([other])
        sums = [(ax + bx, ay + by) for ax, ay in a for bx, by in b]
        found = convex_sum(a, b)
        assert set(hull_of([sums])) <= set(found)
        assert Polygon(found).area == pytest.approx(Polygon(hull_of([sums])).area, rel=1e-12)


def test_hulls_are_those_of_another_library() -> None:
    for path in _stars(3, 20):
        due = Polygon(path).convex_hull
        assert {tuple(map(int, point)) for point in due.exterior.coords} == set(hull_of([path]))
        assert signed_area(hull_of([path])) > 0
