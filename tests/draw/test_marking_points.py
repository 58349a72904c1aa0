"""Lines as they are ruled: few corners for a curve, arcs for a compass, what is ruled first and measured last."""

import math

import pytest
from shapely import LineString

from foamcut.draw.marking_checks import diagonals, long_lines
from foamcut.draw.marking_points import marked
from foamcut.draw.marking_rule import RULES
from foamcut.draw.marking_trace import traced
from foamcut.flat.outline import Outline, Segment, straight
from foamcut.flat.placement import Placement
from tests.draw.drawn_parts import layout, part

MM = RULES["mm"]


def everywhere(_):
    return True


def marking(outline: Outline, x: float = 10, y: float = 10):
    each = layout((part(outline, "floor"), Placement(x_mm=x, y_mm=y)))
    (sheet,) = each.sheets
    return marked(sheet.placed[0], sheet, MM)


def test_a_curve_of_a_thousand_points_becomes_few_and_stays_near():
    points = [(i / 4, 30 * math.sin(i / 160)) for i in range(1001)]
    trace = traced(straight(points), closed=False, off_mm=0.1, reachable=everywhere)
    assert 5 < len(trace.corners) < 50
    assert set(trace.corners) <= set(points)
    assert LineString(trace.corners).hausdorff_distance(LineString(points)) <= 0.1


def test_rounded_corners_are_struck_with_a_compass():
    """Four arcs of a quarter turn, each with its middle and radius, join eight corners."""
    quarter = math.tan(math.pi / 8)
    segments = [
        Segment((10, 0), (90, 0)),
        Segment((90, 0), (100, 10), quarter),
        Segment((100, 10), (100, 40)),
        Segment((100, 40), (90, 50), quarter),
        Segment((90, 50), (10, 50)),
        Segment((10, 50), (0, 40), quarter),
        Segment((0, 40), (0, 10)),
        Segment((0, 10), (10, 0), quarter),
    ]
    trace = traced(segments, closed=True, off_mm=0.1, reachable=everywhere)
    assert len(trace.corners) == 8
    assert [trace.corners[i] for i in sorted(trace.arcs)] == [(90, 0), (100, 40), (10, 50), (0, 10)]
    assert all(arc.radius == pytest.approx(10) and arc.left for arc in trace.arcs.values())
    assert len(list(trace.sides())) == 4


def test_an_arc_parted_by_the_start_of_its_ring_is_one_arc():
    half = Outline.circle(50, 50, 40).within(Outline.rectangle(0, 50, 100, 100).polygon)[0]
    trace = traced(half.lines()[0], closed=True, off_mm=0.1, reachable=everywhere)
    assert len(trace.corners) == 2 and len(trace.arcs) == 1


def test_arcs_beyond_a_compass_or_off_the_board_become_corners():
    """Too large, too small, or with a middle where no board is: a bent strip does it."""
    arc = [Segment((0, 0), (100, 0), 0.05)]
    assert arc[0].radius > 300
    near = [Segment((0, 0), (100, 0), -0.5)]
    for segments, reachable in ((arc, everywhere), (near, lambda _: False)):
        trace = traced(segments, closed=False, off_mm=0.1, reachable=reachable)
        assert not trace.arcs and len(trace.corners) > 2
    assert traced(near, closed=False, off_mm=0.1, reachable=everywhere).arcs


def test_a_circle_is_a_place_and_a_diameter():
    found = marking(Outline.circle(50, 60, 12.5))
    (ring,) = found.rings
    assert ring.points == () and ring.centres[0].words(MM) == "circle, diameter 25 mm"
    assert ring.centres[0].at == pytest.approx((60, 70))
    assert diagonals(found) == () and long_lines(found.rings) == ()


def test_long_lines_come_longest_first_and_diagonals_cross():
    found = marking(Outline.of_points([(0, 0), (300, 0), (300, 80), (280, 80), (280, 100), (0, 100)]))
    assert [(a, b, round(mm, 3)) for a, b, mm in long_lines(found.rings)] == [
        ("1", "2", 300),
        ("5", "6", 280),
        ("6", "1", 100),
    ]
    (a, b, first), (c, d, second) = diagonals(found)
    assert ({a, b}, {c, d}) == ({"2", "6"}, {"1", "3"})
    assert first == pytest.approx(math.hypot(300, 100)) and second == pytest.approx(math.hypot(300, 80))


def test_a_triangle_has_one_diagonal():
    assert len(diagonals(marking(Outline.of_points([(0, 0), (100, 0), (0, 60)])))) == 1
