"""Upper skins as pure geometry, against formulas and other programs."""

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from foamcut.airframe.bent import bent_line, bent_skin, chord_counts
from foamcut.airframe.section_nose import Anchor, anchor
from foamcut.airframe.section_skin import creased_skin, first_slope, last_slope
from foamcut.airframe.values import Nose
from foamcut.flat.tolerances import CHORD_MM


def thin(x, h, c, w=0.0):
    """A skin without thickness from (0, 0) over a spar of height h to (c, 0)."""
    start = Anchor(at=(0.0, 0.0), below_mm=0.0)
    return creased_skin(start, ((x, h), (x + w, h)), (c, 0.0), 0.0)


@pytest.mark.parametrize(
    ("chord", "x", "h", "upper", "extra"),
    [
        (150, 45, 15, 153.5, 3.5),
        (200, 60, 20, 204.7, 4.7),
        (200, 60, 25, 207.2, 7.2),
        (250, 75, 30, 258.3, 8.3),
    ],
)
def test_without_thickness_and_width_the_skin_is_two_straight_lines(chord, x, h, upper, extra):
    """arithmetic: sqrt(x2 + h2) + sqrt((c - x)2 + h2), and its table to a decimal."""
    length = thin(x, h, chord).stops_mm[2]
    assert length == pytest.approx(math.sqrt(x**2 + h**2) + math.sqrt((chord - x) ** 2 + h**2), abs=0.01)
    assert round(length, 1) == upper
    assert round(length - chord, 1) == extra


def test_without_thickness_a_wide_spar_adds_its_width():
    """arithmetic: sqrt(25^2 + 20^2) + 25 + sqrt(154^2 + 20^2) = 212.309."""
    assert thin(25.0, 20.0, 204.0, 25.0).stops_mm == pytest.approx((32.0156, 57.0156, 212.3088), abs=5e-4)


def test_a_crease_of_equal_slopes_is_a_mitre():
    """arithmetic: a board of 5 that turns by 30 degrees is t tan 15 longer outside on each side of it."""
    slope = math.radians(30)
    # from square below (0, 0) the inner paper runs 40 mm up to the edge; mirrored behind
    edge = (5 * math.sin(slope) + 40 * math.cos(slope), 40 * math.sin(slope) - 5 * math.cos(slope))
    skin = creased_skin(Anchor(at=(0.0, 0.0), below_mm=5.0), (edge, edge), (2 * edge[0], 0.0), 5.0)
    assert (skin.front, skin.rear) == pytest.approx((slope, slope))
    assert skin.stops_mm[0] == pytest.approx(40 + 5 * math.tan(slope / 2))
    assert skin.stops_mm[1] - skin.stops_mm[0] == pytest.approx(2 * 5 * math.tan(slope / 2))


sizes = {
    "t": st.floats(1.0, 8.0),
    "x": st.floats(10.0, 100.0),
    "w": st.floats(2.0, 60.0),
    "h": st.floats(1.0, 40.0),
    "behind": st.floats(10.0, 300.0),
    "nose": st.sampled_from(Nose),
    "high": st.floats(2.0, 4.0),
}


def held(t, x, w, h, behind, nose, high):
    """What holds a skin; what cannot be built is thrown away."""
    start = anchor(nose, 0.0, high * t, t)
    edges = ((x, t + h), (x + w, t + h))
    end = (x + w + behind, t)
    room = start.at[0] + abs(start.below_mm)
    assume(x >= room and behind >= t)
    up, down = first_slope(start, edges[0]), last_slope(end, edges[1], t)
    assume(0.0 <= up < math.radians(40) and 0.0 < down < math.radians(40))
    return start, edges, end, t


@given(**sizes)
def test_the_outer_paper_is_a_mitred_parallel_line(**given_sizes):
    """reference library: shapely's offset curve of the inner paper, join style mitre.

    The last flat is prolonged to below the trailing edge, where shapely ends it square.  Where a corner turns
    by less than a tenth of a degree shapely moves it by some nanometres.
    """
    start, edges, end, t = held(**given_sizes)
    skin = creased_skin(start, edges, end, t)
    below = (end[0] - t * math.sin(skin.rear), end[1] - t * math.cos(skin.rear))
    inner = shapely.LineString([*skin.inner[:3], below])
    parallel = inner.offset_curve(t, join_style="mitre", mitre_limit=100.0)
    assert parallel.hausdorff_distance(shapely.LineString(skin.outer)) < 1e-5


@given(**sizes)
def test_a_creased_skin_lies_on_the_spar_at_its_true_thickness(**given_sizes):
    """arithmetic: it touches both edges, and each flat is as thick as the board."""
    start, edges, end, t = held(**given_sizes)
    skin = creased_skin(start, edges, end, t)
    inner = shapely.LineString(skin.inner)
    assert all(inner.distance(shapely.Point(edge)) < 1e-6 for edge in edges)
    for (a, b), (c, d) in zip(pairwise(skin.outer), pairwise(skin.inner), strict=True):
        way = math.atan2(b[1] - a[1], b[0] - a[0])
        for point in (c, d):
            off = math.cos(way) * (a[1] - point[1]) - math.sin(way) * (a[0] - point[0])
            assert off == pytest.approx(t, abs=1e-6)
    assert skin.inner[-1][1] == end[1]
    assert math.dist(skin.inner[-1], end) == pytest.approx(t / math.sin(skin.rear))


@given(**sizes)
def test_a_bent_skin_is_held_by_both_edges_and_no_shorter_than_straight_lines(**given_sizes):
    """arithmetic: no line through the same points is shorter than the straight ones."""
    start, edges, end, t = held(**given_sizes)
    bent = bent_line(start, edges, end, t)
    counts = chord_counts(bent)
    skin = bent_skin(bent, counts)
    points = [span.start for span in bent.spans] + [bent.spans[-1].end]
    assert points[1:3] == list(edges)
    inner = sum(math.dist(a, b) for a, b in pairwise(skin.inner))
    straight = sum(math.dist(a, b) for a, b in pairwise(points))
    assert inner >= straight
    # middle of the board: longer by half the thickness times the turn, and straight over the bevel
    total = inner + t / 2 * (skin.front + skin.rear) + t / math.tan(skin.rear)
    assert skin.stops_mm[2] == pytest.approx(total, abs=0.02)


@given(**sizes)
def test_the_ends_of_a_bent_skin_have_settled(**given_sizes):
    """arithmetic: the start lies square below the anchor, the bevel ends at the end of the outer paper."""
    start, edges, end, t = held(**given_sizes)
    bent = bent_line(start, edges, end, t)
    first, last = bent.spans[0].start, bent.spans[-1].end
    below = start.below_mm
    assert first == pytest.approx(
        (start.at[0] + below * math.sin(bent.front), start.at[1] - below * math.cos(bent.front)), abs=1e-6
    )
    assert last == pytest.approx((end[0] - t / math.sin(bent.rear), end[1]), abs=1e-6)


@given(**sizes)
def test_a_bent_skin_is_as_thick_as_its_board_and_does_not_enter_the_spar(**given_sizes):
    """reference library: shapely; chords within the tolerance."""
    start, edges, end, t = held(**given_sizes)
    bent = bent_line(start, edges, end, t)
    skin = bent_skin(bent, chord_counts(bent))
    spar = shapely.box(edges[0][0], t, edges[1][0], edges[0][1])
    board = shapely.Polygon([*skin.outer, *reversed(skin.inner)])
    assert board.is_valid
    assert board.intersection(spar).area < 1e-6 * t
    inner = shapely.LineString(skin.inner)
    for a in skin.outer[:-1]:
        assert inner.distance(shapely.Point(a)) == pytest.approx(t, abs=2 * CHORD_MM)


@given(**sizes)
def test_a_bent_skin_is_the_natural_spline_of_its_points(**given_sizes):
    """reference library: scipy's cubic spline with natural ends, over chord length."""
    interpolate = pytest.importorskip("scipy.interpolate")
    bent = bent_line(*held(**given_sizes))
    points = [span.start for span in bent.spans] + [bent.spans[-1].end]
    knots = [0.0]
    for span in bent.spans:
        knots.append(knots[-1] + span.length)
    theirs = interpolate.CubicSpline(knots, points, bc_type="natural")
    for knot, span in zip(knots, bent.spans, strict=False):
        for share in (0.1, 0.5, 0.9):
            assert span.at(share) == pytest.approx(theirs(knot + share * span.length), abs=1e-6)
    front, rear = theirs(knots[0], 1), theirs(knots[-1], 1)
    assert bent.front == pytest.approx(math.atan2(front[1], front[0]), abs=1e-9)
    assert bent.rear == pytest.approx(-math.atan2(rear[1], rear[0]), abs=1e-9)


@given(**sizes)
def test_lift_and_least_radius_are_those_of_the_natural_spline(**given_sizes):
    """reference library: scipy, looked for at 4001 places."""
    interpolate = pytest.importorskip("scipy.interpolate")
    numpy = pytest.importorskip("numpy")
    start, edges, end, t = held(**given_sizes)
    bent = bent_line(start, edges, end, t)
    skin = bent_skin(bent, chord_counts(bent))
    points = [span.start for span in bent.spans] + [bent.spans[-1].end]
    knots = numpy.cumsum([0.0, *(span.length for span in bent.spans)])
    theirs = interpolate.CubicSpline(knots, points, bc_type="natural")
    over = theirs(numpy.linspace(knots[1], knots[2], 4001))
    assert skin.lift_mm == pytest.approx(over[:, 1].max() - edges[0][1], abs=1e-4)
    places = numpy.linspace(knots[0], knots[-1], 4001)
    (x, y), (bx, by) = theirs(places, 1).T, theirs(places, 2).T
    bend = numpy.abs(x * by - y * bx) / numpy.hypot(x, y) ** 3
    assert 1 / skin.least_radius_mm == pytest.approx(bend.max(), rel=0.02)


def test_an_edge_too_near_is_a_bug_of_the_caller():
    with pytest.raises(ValueError, match="no line 5"):
        creased_skin(Anchor(at=(0.0, 10.0), below_mm=5.0), ((3.0, 10.0), (9.0, 10.0)), (200.0, 5.0), 5.0)
