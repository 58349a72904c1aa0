"""Outlines: one form, arcs found again, nothing lost by turning and cutting."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Polygon

from foamcut.errors import Refused
from foamcut.flat.outline import Circle, Outline, Segment
from foamcut.flat.placement import Placement
from foamcut.flat.shape import outline_of
from foamcut.flat.tolerances import CHORD_MM, ON_CIRCLE_MM
from tests.strategies import shapes


def _rebuilt(outline: Outline) -> Polygon:
    rings = [[point for segment in ring for point in segment.points()] for ring in outline.lines()]
    return Polygon(rings[0], rings[1:])


def test_one_form_whatever_the_direction_and_start():
    """The same ring from another corner, the other way round, gives the same outline."""
    corners = [(0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0)]
    outlines = [Outline.of_points(c[i:] + c[:i]) for c in (corners, corners[::-1]) for i in range(4)]
    assert all(outline == outlines[0] for outline in outlines)
    assert outlines[0].rings()[0][0] == (0.0, 0.0)


def test_a_circle_reaches_its_diameter_and_is_four_quarter_turns():
    outline = Outline.circle(3.0, 4.0, 7.5)
    assert outline.bounds == (-4.5, -3.5, 10.5, 11.5)
    (ring,) = outline.lines()
    assert [segment.included_deg for segment in ring] == pytest.approx([90.0] * 4)
    assert ring[0].centre == pytest.approx((3.0, 4.0), abs=1e-6)


def test_a_slot_with_round_ends_is_two_lines_and_four_arcs():
    (outline,) = Outline.rectangle(0, 0, 20, 10).plus(Outline.circle(0, 5, 5), Outline.circle(20, 5, 5))
    (ring,) = outline.lines()
    assert sorted(round(segment.included_deg, 3) for segment in ring) == [0, 0, 90, 90, 90, 90]
    assert outline.circles == (Circle(0.0, 5.0, 5.0), Circle(20.0, 5.0, 5.0))


def test_circles_that_are_cut_away_are_forgotten():
    (outline,) = Outline.rectangle(0, 0, 20, 20).minus(
        Outline.circle(20, 20, 5), Outline.rectangle(12, 12, 30, 30)
    )
    assert outline.circles == ()
    assert outline.area == 400 - 64


def test_a_line_that_touches_a_circle_is_no_part_of_it():
    """The first chord after a large arc is a line, however short."""
    arc = Segment((0.0, 0.0), (100.0, 0.0), -0.05)
    top = [(0.0, 0.0), *arc.points()]
    x, y = top[-1]
    slope = math.tan(math.radians(-arc.included_deg / 2))
    tangent = [(x + step, y - step * slope) for step in (4.0, 8.0)]
    outline = Outline.of_points(
        [*top, *tangent, (120.0, -50.0), (0.0, -50.0)], [Circle(*arc.centre, arc.radius)]
    )
    bent = [s for s in outline.lines()[0] if s.bulge]
    assert len(bent) == 1
    assert {bent[0].start, bent[0].end} == {(0.0, 0.0), (100.0, 0.0)}


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([(0, 0), (10, 10), (10, 0), (0, 10)], "it crosses itself at 5.000, 5.000 mm"),
        ([(0, 0), (0.5, 0), (0.5, 0.5)], "its area is 0.125 mm2"),
        ([(0, 0), (1, 0)], "nothing is left"),
    ],
)
def test_faults_say_what_and_where(points, words):
    outline = Outline(Polygon([*points, points[0]])) if len(points) > 2 else Outline(Polygon())
    assert words in outline.fault()


@given(shape=shapes)
def test_lines_and_arcs_rebuild_the_outline(shape):
    """What a writer gets as lines and arcs is the polygon, within a chord and a rounding."""
    try:
        outline = outline_of(shape)
    except Refused:
        assume(False)
    rebuilt = _rebuilt(outline)
    off = rebuilt.exterior.hausdorff_distance(outline.polygon.exterior)
    assert off <= CHORD_MM + ON_CIRCLE_MM
    assert abs(rebuilt.area - outline.area) <= outline.polygon.length * (CHORD_MM + ON_CIRCLE_MM)
    for ring in outline.lines():
        assert all(a.end == b.start for a, b in pairwise([*ring, ring[0]]))
        assert all(abs(segment.bulge) <= 1 + 1e-9 for segment in ring)


@given(shape=shapes, quarters=st.integers(0, 3), flipped=st.booleans())
def test_quarter_turns_are_exact(shape, quarters, flipped):
    """A quarter turn swaps and negates coordinates and changes nothing else."""
    try:
        outline = outline_of(shape)
    except Refused:
        assume(False)
    placed = outline.placed(Placement(turn_deg=90.0 * quarters, flipped=flipped))
    points = {(x, -y if flipped else y) for x, y in outline.rings()[0]}
    for _ in range(quarters):
        points = {(-y, x) for x, y in points}
    assert set(placed.rings()[0]) == points
    assert placed.area == pytest.approx(outline.area, rel=1e-12)


@given(shape=shapes)
def test_mirroring_twice_changes_nothing(shape):
    try:
        outline = outline_of(shape)
    except Refused:
        assume(False)
    assert outline.mirrored().mirrored() == outline


@given(x=st.floats(-500, 500), y=st.floats(-500, 500), turn=st.floats(0, 359.99), r=st.floats(0.3, 300))
def test_a_moved_circle_is_still_found(x, y, turn, r):
    """Roundings of a turn and a move do not lose an arc."""
    (plate,) = Outline.rectangle(-700, -700, 700, 700).minus(Outline.circle(1.0, 2.0, r))
    moved = plate.placed(Placement(x_mm=x, y_mm=y, turn_deg=turn))
    hole = moved.lines()[1]
    assert len(hole) <= 5
    assert sum(segment.included_deg for segment in hole) == pytest.approx(-360.0, abs=1e-3)


def test_every_circle_of_a_full_plate_is_found():
    """Thousands of points, a hundred holes: each hole is four quarter turns, the edge four lines."""
    holes = [Outline.circle(50 + i % 10 * 100, 50 + i // 10 * 100, 20 + i / 5) for i in range(100)]
    (plate,) = Outline.rectangle(0, 0, 1000, 1000).minus(*holes)
    assert plate.corner_count > 10_000
    assert [len(ring) for ring in plate.lines()] == [4, *[4] * 100]
    assert set(plate.circles) == {circle for hole in holes for circle in hole.circles}


def test_a_placement_outside_a_full_turn_is_a_bug():
    with pytest.raises(ValueError, match="not in"):
        Placement(turn_deg=360.0)


def test_a_line_has_no_centre():
    with pytest.raises(ValueError, match="no centre"):
        _ = Segment((0.0, 0.0), (1.0, 0.0)).centre
