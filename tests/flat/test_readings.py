"""From readings to an outline: what is built, and every refusal with its words."""

import math
import re
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Point

from foamcut.errors import Refused
from foamcut.flat.drawn import Disc, Grain, Trapezoid
from foamcut.flat.outline import Circle
from foamcut.flat.shape import outline_of, trace
from foamcut.flat.tolerances import CHORD_MM
from tests.strategies import KEY, readings, rectangle, shapes, star_shapes

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


def rounded_corners(radius: float):
    return readings(*((x, y, {"round_mm": radius}) for x, y in ((0, 0), (20, 0), (20, 10), (0, 10))))


def refusals(shape, mirrored=Grain.ANY) -> list[tuple[str, str]]:
    with pytest.raises(Refused) as caught:
        outline_of(shape, mirrored)
    return [(r.key, r.text) for r in caught.value.refusals]


def test_clockwise_and_counter_clockwise_are_the_same():
    assert outline_of(readings(*SQUARE)) == outline_of(readings(*SQUARE[::-1]))


def test_points_on_a_straight_line_are_dropped_and_names_kept():
    """A square read at five points has four corners; the fifth keeps its name."""
    found = trace(readings((0, 0), (4, 0, {"name": "peg"}), (10, 0), (10, 10), (0, 10)))
    assert found.outline.corner_count == 4
    assert found.named == (("peg", (4, 0)),)
    assert frozenset(((0.0, 0.0), (10.0, 0.0))) in {frozenset(edge) for edge in found.straight}


def test_a_rounded_rectangle_has_four_quarter_arcs():
    outline = outline_of(rounded_corners(3.0))
    assert outline.area == pytest.approx(200 - (4 - math.pi) * 9, abs=2 / 3 * CHORD_MM * 6 * math.pi)
    assert sorted(round(s.included_deg, 3) for s in outline.lines()[0]) == [0, 0, 0, 0, 90, 90, 90, 90]


def test_roundings_may_use_an_edge_up():
    """Half the height as radius: the short sides become half circles."""
    outline = outline_of(rounded_corners(5.0))
    assert set(outline.circles) == {Circle(15.0, 5.0, 5.0), Circle(5.0, 5.0, 5.0)}
    assert outline.bounds == (0.0, 0.0, 20.0, 10.0)


def test_an_inner_corner_is_rounded_too():
    """A concave corner gains material."""
    outline = outline_of(readings((0, 0), (20, 0), (20, 10), (10, 10, {"round_mm": 2.0}), (10, 20), (0, 20)))
    assert outline.area == pytest.approx(300 + (1 - math.pi / 4) * 4, abs=0.02)


@pytest.mark.parametrize("bow", [(5.0, -5.0), (5.0, -1.0), (5.0, -8.0), (5.0, 2.0)])
def test_through_gives_the_arc_of_three_points(bow):
    outline = outline_of(readings((0, 0, {"through": bow}), (10, 0), (10, 20), (0, 20)))
    (circle,) = outline.circles
    for point in ((0.0, 0.0), (10.0, 0.0), bow):
        assert math.dist(point, circle[:2]) == pytest.approx(circle.radius, abs=2e-6)
    assert outline.polygon.exterior.distance(Point(bow)) <= CHORD_MM


def test_two_points_and_an_arc_are_enough():
    half_disc = outline_of(readings((0, 0, {"through": (5.0, -5.0)}), (10, 0)))
    assert half_disc.area == pytest.approx(math.pi * 25 / 2, abs=0.1)


def test_a_corner_between_line_and_arc_is_rounded():
    """The fillet touches the line and, from inside, the arc; both tangent points lie on both circles."""
    radius = 2.0
    outline = outline_of(
        readings((0, 0), (10, 0, {"through": (13.0, 5.0), "round_mm": radius}), (10, 10), (0, 10))
    )
    large = max(outline.circles, key=lambda c: c.radius)
    small = min(outline.circles, key=lambda c: c.radius)
    assert small.radius == pytest.approx(radius)
    assert small.y == pytest.approx(radius, abs=1e-6)
    assert math.dist(small[:2], large[:2]) == pytest.approx(large.radius - radius, abs=2e-6)


def test_a_corner_between_two_arcs_is_rounded():
    outline = outline_of(
        readings(
            (0, 0, {"through": (5.0, 3.0)}),
            (10, 0, {"through": (13.0, 5.0), "round_mm": 1.0}),
            (10, 10),
            (0, 10),
        )
    )
    assert any(circle.radius == pytest.approx(1.0) for circle in outline.circles)
    assert outline.fault() is None


def test_smooth_runs_pass_their_points_and_end_at_corners():
    outline = outline_of(readings((0, 0), (30, 0), (20, 14, {"smooth": True}), (10, 14, {"smooth": True})))
    corners = set(outline.rings()[0])
    assert {(0.0, 0.0), (30.0, 0.0), (20.0, 14.0), (10.0, 14.0)} <= corners
    assert outline.corner_count > 30


def test_all_points_smooth_give_a_closed_curve_without_a_corner():
    """Four points of a circle: no direction changes by more than a few degrees from chord to chord."""
    said = {"smooth": True}
    outline = outline_of(readings((20, 0, said), (0, 20, said), (-20, 0, said), (0, -20, said)))
    ring = outline.rings()[0][:-1]
    for i in range(len(ring)):
        (ax, ay), (bx, by), (cx, cy) = ring[i - 2], ring[i - 1], ring[i]
        turn = math.atan2(
            (bx - ax) * (cy - by) - (by - ay) * (cx - bx), (bx - ax) * (cx - bx) + (by - ay) * (cy - by)
        )
        assert abs(math.degrees(turn)) < 6


@pytest.mark.parametrize(("axis", "swap"), [(Grain.X, False), (Grain.Y, True)])
def test_a_half_and_its_mirror_image_make_the_whole(axis, swap):
    rows = [(0.0, 0.0), (10.0, 8.0), (40.0, 5.0), (50.0, 0.0)]
    rows = [(y, x) for x, y in rows] if swap else rows
    outline = outline_of(readings(*rows), axis)
    assert outline.corner_count == 6
    assert outline.area == pytest.approx(2 * (40 + 30 * 6.5 + 25))


def test_a_half_takes_arcs_smooth_points_and_rounded_ends():
    rows = ((0, 0, {"through": (2.0, 5.0)}), (10, 8, {"smooth": True}), (30, 6), (50, 0, {"round_mm": 1.0}))
    rows = (rows[0], (8, 8), (10, 8.5, {"smooth": True}), *rows[2:])
    outline = outline_of(readings(*rows), Grain.X)
    up = {(x, -y + 0.0) for x, y in outline.rings()[0]}
    off = max(min(math.dist(p, q) for q in outline.rings()[0]) for p in up)
    assert off <= 2e-6
    assert outline.fault() is None


def test_a_half_disc_mirrored_is_a_disc():
    outline = outline_of(readings((0, 0, {"through": (5.0, 5.0)}), (10, 0)), Grain.X)
    assert outline.circles == (Circle(5.0, 0.0, 5.0),)
    assert [s.included_deg for s in outline.lines()[0]] == pytest.approx([90.0] * 4)


REFUSED = [
    (readings(), "no point bound nothing"),
    (readings((0, 0)), "one point bound nothing"),
    (readings((0, 0), (1, 0)), "two points and no arc bound nothing; give at least three points"),
    (readings((0, 0), (5, 0), (10, 0)), "all points lie on one line"),
    (
        readings((0, 0), (10, 0), (10, 0), (0, 9)),
        r"outline\[2\] is the same point as outline\[1\] \(10, 0 mm\)",
    ),
    (readings(*SQUARE, (0, 0)), r"outline\[4\] is the first point again"),
    (readings((0, 0), (math.nan, 0), (3, 9)), "the point is no number"),
    (readings((0, 0), (1e300, 0), (3, 9)), "the point is no number, or lies beyond"),
    (readings((0, 0), (9, 0, {"through": (math.inf, 0)}), (3, 9)), "the point after through is no number"),
    (
        readings((0, 0), (10, 10), (10, 0), (0, 10)),
        r"crosses itself at 5, 5 mm: .*outline\[0\].*outline\[2\]",
    ),
    (readings((0, 0), (10, 0), (10, 10), (5, 0), (0, 10)), "touches itself at 5, 0 mm"),
    (readings((0, 0), (10, 0), (20, 5), (10, 0.0001), (10, 9), (0, 9)), "a needle without width"),
    (readings((0, 0), (10, 0), (10, 5), (10, -5), (20, 0), (20, 9), (0, 9)), "runs out to 10, 5 mm and back"),
    (readings((0, 0), (0.5, 0), (0.5, 0.5)), r"its area is 0.125 mm2, less than can be cut \(1 mm2\)"),
    (readings((0, 0), (9, 0, {"name": "a"}), (3, 9, {"name": "a"})), 'the name "a" stands at outline'),
    (readings((0, 0), (9, 0, {"round_mm": 0.0}), (3, 9)), "the radius after round is 0 mm"),
    (readings((0, 0), (9, 0, {"round_mm": 1.0, "smooth": True}), (3, 9)), "either rounded or smooth"),
    (readings((0, 0), (10, 0, {"round_mm": 50.0}), (10, 10)), "the largest that fits is 10 mm"),
    (rounded_corners(6.0), "need 12 mm of the edge .* 10 mm long; .*the largest that fits is 4 mm"),
    (readings((0, 0), (5, 0, {"round_mm": 1.0}), (10, 0), (10, 9)), "there is no corner here to round"),
    (
        readings((0, 0), (9, 0, {"round_mm": 1.0}), (9, 9, {"smooth": True}), (0, 9)),
        "round stands beside a smooth",
    ),
    (readings((0, 0, {"through": (5, 0)}), (9, 0), (3, 9)), r"no arc runs from outline\[0\] through 5, 0 mm"),
    (readings((0, 0, {"through": (0, 0)}), (9, 0), (3, 9)), "two are the same"),
    (readings((0, 0), (9, 0, {"through": (9, 3)}), (9, 9, {"smooth": True}), (0, 9)), "cannot be an arc too"),
    (rectangle(0.0, 5.0), "the width is 0 mm; it has to be above 0"),
    (rectangle(math.nan, 5.0), "the width is nan mm"),
    (rectangle(0.5, 0.5), "less than can be cut"),
    (Disc(key=KEY, diameter_mm=-1.0), "the diameter is -1 mm"),
    (Disc(key=KEY, diameter_mm=1e6), "takes 22,2.. points, more than the 20,000"),
    (Trapezoid(key=KEY, bottom_mm=9.0, top_mm=0.0, height_mm=5.0), "the top is 0 mm"),
    (
        Trapezoid(key=KEY, bottom_mm=9.0, top_mm=5.0, height_mm=5.0, shift_mm=math.inf),
        "the shift is no number",
    ),
    (readings(*((i, i % 2) for i in range(20_001))), "20,001 points, more than"),
    (
        readings((0, 0), (1, 0, {"smooth": True}), (1e6, 1e6, {"smooth": True}), (0, 1e6)),
        "more than the 20,000",
    ),
]


@pytest.mark.parametrize(("shape", "words"), REFUSED)
def test_refusals_say_what_is_wrong(shape, words):
    found = refusals(shape)
    assert any(re.search(words, text) for _, text in found), found
    assert all(key.startswith(KEY) for key, _ in found)


HALVES = [
    (
        readings((0, 0.5), (10, 8), (50, -1)),
        ["start on the x axis; this point is 0.5 mm off", "end on the x axis"],
    ),
    (readings((0, 0), (10, 8), (20, 0), (30, 8), (50, 0)), ["only the ends of a half lie on the x axis"]),
    (readings((0, 0), (10, 8), (20, -8), (50, 0)), ["the half crosses the x axis before this point"]),
    (readings((0, 0), (10, 8), (50, 0, {"through": (9, 9)})), ["no edge leaves the last point of a half"]),
    (readings((0, 0), (10, 0)), ["two points and no arc"]),
    (rectangle(10.0, 5.0), ["only an outline by its points can be mirrored"]),
]


@pytest.mark.parametrize(("shape", "words"), HALVES)
def test_refusals_of_halves(shape, words):
    texts = [text for _, text in refusals(shape, Grain.X)]
    assert all(any(word in text for text in texts) for word in words), texts


def test_all_refusals_of_a_look_come_together():
    found = refusals(readings((0, 0), (math.nan, 0), (5, 1e9), (7, 7, {"round_mm": -1.0})))
    assert [key for key, _ in found] == [f"{KEY}.outline[{i}]" for i in (1, 2, 3)]


@given(shape=shapes, mirrored=st.sampled_from([Grain.ANY, Grain.X, Grain.Y]))
def test_any_shape_gives_a_sound_outline_or_refusals(shape, mirrored):
    """Never another error; and what comes out can be cut."""
    try:
        outline = outline_of(shape, mirrored)
    except Refused as refused:
        assert refused.refusals
        assert all(r.key and r.text for r in refused.refusals)
    else:
        assert outline.fault() is None
        assert all(round(c, 6) == c for ring in outline.rings() for point in ring for c in point)


@given(shape=star_shapes(said=False))
def test_straight_outlines_keep_their_area(shape):
    """The shoelace formula over the readings as typed."""
    try:
        outline = outline_of(shape)
    except Refused:
        assume(False)
    at = [p.at for p in shape.points]
    doubled = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(at, [*at[1:], at[0]], strict=True))
    assert outline.area == pytest.approx(abs(doubled) / 2, abs=1e-3)


@given(shape=shapes)
def test_vertices_of_arcs_lie_on_their_circles_and_chords_keep_close(shape):
    try:
        outline = outline_of(shape)
    except Refused:
        assume(False)
    ring = outline.rings()[0]
    for segment in outline.lines()[0]:
        if not segment.bulge:
            continue
        circle = min(
            outline.circles,
            key=lambda c: max(abs(math.dist(p, c[:2]) - c.radius) for p in (segment.start, segment.end)),
        )
        first = ring.index(segment.start)
        chain = [*ring[first:-1], *ring[:first], segment.start]
        chain = chain[: chain.index(segment.end, 1) + 1]
        for a, b in pairwise(chain):
            assert abs(math.dist(b, circle[:2]) - circle.radius) <= 1e-5
            middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
            assert circle.radius - math.dist(middle, circle[:2]) <= CHORD_MM + 1e-5
