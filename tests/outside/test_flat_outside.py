"""Flat parts against what is known outside the program.  Each check names its source and carries a tag."""

import math

import pytest

from foamcut.flat.build import build_part
from foamcut.flat.outline import Outline, Segment
from foamcut.flat.shape import outline_of
from foamcut.flat.spline import natural_bends
from foamcut.flat.tolerances import CHORD_MM
from tests.strategies import panel, readings, slot


@pytest.mark.parametrize(
    ("included_deg", "bulge"), [(180.0, 1.0), (90.0, 0.414213562), (60.0, 0.267949192), (-90.0, -0.414213562)]
)
def test_bulge_is_the_tangent_of_a_quarter_of_the_angle(included_deg, bulge):
    """*published*: DXF Reference 2024, LWPOLYLINE, group 42: bulge is the tangent of one fourth of the
    included angle, negative clockwise from start to end, 1 a semicircle."""
    angle = math.radians(included_deg)
    start, end = (7.0, 0.0), (7.0 * math.cos(angle), 7.0 * math.sin(angle))
    segment = Segment(start, end, bulge)
    assert segment.included_deg == pytest.approx(included_deg, abs=1e-6)
    assert segment.radius == pytest.approx(7.0)
    assert segment.centre == pytest.approx((0.0, 0.0), abs=1e-7)


def test_outlines_give_the_bulge_of_the_reference():
    """*published*: the same; a quarter round drawn as an outline comes out with tan(90 / 4 degrees)."""
    (ring,) = outline_of(readings((0, 0), (20, 0, {"round_mm": 5.0}), (20, 20), (0, 20))).lines()
    assert [round(s.bulge, 6) for s in ring if s.bulge] == [0.414214]


@pytest.mark.parametrize(("corner_deg", "radius"), [(90.0, 4.0), (60.0, 3.0), (120.0, 5.0), (30.0, 1.0)])
def test_a_fillet_takes_its_tangent_length_off_both_edges(corner_deg, radius):
    """*arithmetic*: tangent length of an arc of radius R that turns by D is R tan(D / 2) (route surveying,
    simple circular curve, T = R tan(D / 2)); D is 180 degrees less the corner's angle."""
    angle = math.radians(corner_deg)
    tip = (50.0 * math.cos(angle), 50.0 * math.sin(angle))
    (ring,) = outline_of(readings((0, 0, {"round_mm": radius}), (50, 0), tip)).lines()
    first, *_, last = [arc for arc in ring if arc.bulge] * 2
    tangent = radius * math.tan((math.pi - angle) / 2)
    assert math.hypot(*first.start) == pytest.approx(tangent, abs=2e-6)
    assert math.hypot(*last.end) == pytest.approx(tangent, abs=2e-6)
    assert sum(arc.included_deg for arc in ring) == pytest.approx(180 - corner_deg, abs=1e-3)


def test_the_natural_spline_of_a_textbook_example():
    """*memory*: Burden and Faires, Numerical Analysis, section 3.5, example 1: through (1, 2), (2, 3),
    (3, 5) the pieces are 2 + 3/4 (x-1) + 1/4 (x-1)^3 and 3 + 3/2 (x-2) + 3/4 (x-2)^2 - 1/4 (x-2)^3."""
    assert natural_bends([1, 2, 3], [2, 3, 5]) == pytest.approx((0.0, 2 * 3 / 4, 0.0))


def test_the_natural_spline_of_the_exponential():
    """*memory*: the same section, example 2: e^x at 0, 1, 2, 3 has c1 = 0.75685, c2 = 5.83007 (half the
    second derivatives)."""
    bends = natural_bends([0, 1, 2, 3], [math.exp(x) for x in range(4)])
    assert [b / 2 for b in bends] == pytest.approx([0.0, 0.75685, 5.83007, 0.0], abs=5e-6)


@pytest.mark.parametrize("radius", [0.5, 2.0, 25.4, 300.0])
def test_a_circle_lies_between_its_inscribed_and_its_true_size(radius):
    """*arithmetic*: Archimedes' bounds: an inscribed polygon has less than pi r^2 and 2 pi r; with chords
    at most e off, at least pi (r - e)^2 and 2 pi (r - e)."""
    outline = Outline.circle(0.0, 0.0, radius)
    inner = radius - CHORD_MM
    assert math.pi * inner**2 <= outline.area < math.pi * radius**2
    assert 2 * math.pi * inner <= outline.polygon.length < 2 * math.pi * radius


@pytest.mark.parametrize(("thickness", "fit"), [(5.0, 0.2), (4.8, 0.2), (3.0, 0.0), (1.5, -0.1)])
def test_the_measured_thickness_decides_the_slot(thickness, fit):
    """*common practice, no source*: a slot is cut to the measured thickness of what goes in, plus what the
    builder adds for an easy fit; the label on the board does not count."""
    ((part,), _) = build_part(panel(slots=(slot(0, (50, 25), 30, thickness=thickness, fit=fit),)))
    x0, y0, x1, y1 = part.outline.polygon.interiors[0].bounds
    assert y1 - y0 == pytest.approx(thickness + fit)
    assert x1 - x0 == pytest.approx(30 + fit)


def test_three_points_give_the_circle_of_the_sagitta_formula():
    """*arithmetic*: radius from chord c and height h of an arc, r = h / 2 + c^2 / (8 h) (machinists'
    handbooks, segments of circles)."""
    chord, height = 80.0, 12.0
    rows = readings((0, 0, {"through": (chord / 2, -height)}), (chord, 0), (chord, 30), (0, 30))
    (circle,) = outline_of(rows).circles
    assert circle.radius == pytest.approx(height / 2 + chord**2 / (8 * height), abs=1e-6)
