"""Outlines moved outwards and inwards: parallels, concentric arcs, mitres; out and in again is the same."""

import math
from random import Random

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from foamcut.flat.build import build_part
from foamcut.flat.offset import moved
from foamcut.flat.outline import Circle, Outline, Point, Segment
from foamcut.flat.tolerances import CHORD_MM, OFFSET_MM
from tests.nest.making import nasty_outline
from tests.strategies import sound_parts

#: one rounding of a coordinate, seen across a corner that is not square
NANOMETRES = 4e-6


def only(outlines: tuple[Outline, ...]) -> Outline:
    (outline,) = outlines
    assert outline.fault() is None
    return outline


def fine(outline: Outline) -> Polygon:
    """The outline with its arcs in chords a tenth as far off as its own."""
    rings = [[ring[0].start, *(p for s in ring for p in s.points(CHORD_MM / 10))] for ring in outline.lines()]
    return Polygon(rings[0], rings[1:])


def nasty(rng: Random) -> Outline:
    """A nasty outline with discs added to it and taken out of it."""
    outline = nasty_outline(rng)
    for _ in range(rng.randrange(4)):
        x0, y0, x1, y1 = outline.bounds
        disc = Outline.circle(rng.uniform(x0, x1), rng.uniform(y0, y1), rng.uniform(0.5, 8))
        pieces = outline.plus(disc) if rng.random() < 0.5 else outline.minus(disc)
        sound = [piece for piece in pieces if piece.fault() is None]
        outline = max(sound, key=lambda piece: piece.area, default=outline)
    return outline


def test_a_square_grows_and_its_hole_shrinks():
    (frame,) = Outline.rectangle(0, 0, 100, 100).minus(Outline.rectangle(20, 20, 60, 50))
    out = only(moved(frame, 0.1))
    assert out.bounds == (-0.1, -0.1, 100.1, 100.1)
    assert out.polygon.interiors[0].bounds == pytest.approx((20.1, 20.1, 59.9, 49.9))
    assert out.corner_count == 8
    smaller = only(moved(frame, -0.1))
    assert smaller.bounds == (0.1, 0.1, 99.9, 99.9)
    assert smaller.polygon.interiors[0].bounds == pytest.approx((19.9, 19.9, 60.1, 50.1))


@pytest.mark.parametrize("radius", [0.8, 3.0, 250.0])
@pytest.mark.parametrize("out", [0.1, -0.1, 5.0])
def test_a_circle_keeps_its_centre(radius, out):
    disc = only(moved(Outline.circle(7.0, -3.0, radius), out))
    assert disc.circles == (Circle(7.0, -3.0, round(radius + out, 6)),)
    assert all(segment.bulge for segment in disc.lines()[0])
    assert all(
        segment.radius == pytest.approx(radius + out, abs=1e-5)
        and segment.centre == pytest.approx((7, -3), abs=1e-5)
        for segment in disc.lines()[0]
    )


def test_rounded_corners_stay_tangent():
    """A corner of radius 2 becomes one of radius 3 when the plate grows by 1, and 1.5 when it shrinks by 0.5."""
    arcs = [
        Outline.circle(x, y, 2.0).polygon for x, y in ((2.0, 2.0), (48.0, 2.0), (48.0, 28.0), (2.0, 28.0))
    ]
    centres = [(2.0, 2.0), (48.0, 2.0), (48.0, 28.0), (2.0, 28.0)]
    plate = Outline(
        shapely.union_all([*arcs, shapely.box(0, 2, 50, 28), shapely.box(2, 0, 48, 30)]),
        tuple(Circle(x, y, 2.0) for x, y in centres),
    )
    for out, radius in ((1.0, 3.0), (-0.5, 1.5)):
        grown = only(moved(plate, out))
        assert grown.bounds == pytest.approx((-out, -out, 50 + out, 30 + out), abs=1e-6)
        assert sorted(grown.circles) == sorted(Circle(x, y, radius) for x, y in centres)
        bent = [s for s in grown.lines()[0] if s.bulge]
        assert [s.included_deg for s in bent] == pytest.approx([90.0] * 4, abs=1e-3)


def test_line_and_arc_meet_on_both():
    """A half disc grows: its corner lies on the moved line and on the moved circle, not on their chords."""
    (half,) = Outline.circle(0, 0, 10).within(shapely.box(-20, 3, 20, 20))
    grown = only(moved(half, 1.0))
    x = math.sqrt(11**2 - 2**2)
    assert min(math.dist(p, (x, 2.0)) for p in grown.rings()[0]) < CHORD_MM  # the corner lay on a chord
    (whole,) = Outline.circle(0, 0, 10).within(shapely.box(-20, 0, 20, 20))
    grown = only(moved(whole, 1.0))
    assert min(math.dist(p, (math.sqrt(120), -1.0)) for p in grown.rings()[0]) < 2e-6
    shrunk = only(moved(whole, -1.0))
    assert min(math.dist(p, (math.sqrt(80), 1.0)) for p in shrunk.rings()[0]) < 2e-6


def test_two_arcs_meet_on_both():
    """A lens of two discs of 10 mm, 12 mm apart, grown by 1: its tips lie at sqrt(11^2 - 6^2)."""
    polygon = Outline.circle(0, 0, 10).polygon.intersection(Outline.circle(12, 0, 10).polygon)
    lens = Outline(polygon, (Circle(0, 0, 10), Circle(12, 0, 10)))
    grown = only(moved(lens, 1.0))
    assert grown.bounds[3] == pytest.approx(math.sqrt(85), abs=2 * CHORD_MM)
    assert sorted(grown.circles) == [Circle(0, 0, 11), Circle(12, 0, 11)]


def test_a_very_sharp_corner_is_cut_square():
    """A corner of 2.9 degrees ends 4 times the move beyond it, not 40 times; nothing of it is lost."""
    wedge = Outline.of_points([(0, 0), (100, 0), (0, 5)])
    grown = only(moved(wedge, 1.0))
    assert 103.9 < grown.bounds[2] < 104.1
    assert grown.polygon.contains(wedge.polygon.buffer(0.99))
    again = only(moved(grown, -1.0)).rings()[0]
    assert len(again) == 4  # closed
    for a, b in zip(again, wedge.rings()[0], strict=True):
        assert a == pytest.approx(b, abs=1e-4)  # a nanometre off the edges is 20 along them


def test_what_is_too_small_vanishes():
    (frame,) = Outline.rectangle(0, 0, 50, 50).minus(
        Outline.circle(25, 25, 2), Outline.rectangle(5, 5, 9, 40)
    )
    assert len(only(moved(frame, 1.99)).rings()) == 3
    assert len(only(moved(frame, 2.01)).rings()) == 1
    assert moved(Outline.rectangle(0, 0, 10, 3), -1.5) == ()
    assert moved(Outline.circle(0, 0, 3), -3.0) == ()


def test_a_part_divides_at_its_neck():
    dumb_bell = Outline.rectangle(0, 0, 20, 20).plus(
        Outline.rectangle(19, 9, 41, 11), Outline.rectangle(40, 0, 60, 20)
    )[0]
    left, right = moved(dumb_bell, -1.5)
    assert left.bounds == pytest.approx((1.5, 1.5, 18.5, 18.5))
    assert right.bounds == pytest.approx((41.5, 1.5, 58.5, 18.5))


def test_a_notch_that_closes_becomes_a_hole_or_goes():
    keyhole = Outline.rectangle(0, 0, 40, 40).minus(
        Outline.rectangle(19, 20, 21, 41), Outline.circle(20, 20, 5)
    )[0]
    closed = only(moved(keyhole, 1.5))
    assert len(closed.rings()) == 2
    assert closed.circles == (Circle(20, 20, 3.5),)


def test_no_move_is_the_same_outline():
    outline = Outline.circle(1, 2, 3)
    assert moved(outline, 0.0) == (outline,)
    with pytest.raises(ValueError, match="cannot be moved"):
        moved(outline, math.nan)


@pytest.mark.parametrize("seed", range(12))
def test_every_point_of_the_moved_edge_is_as_far_off_as_it_was_moved(seed):
    """Nearer than the move lies nothing; what lies farther belongs to mitres and reaches 4 moves, or 8 at arcs."""
    rng = Random(seed)
    for _ in range(12):
        outline = nasty(rng)
        out = rng.choice([0.05, 0.1, 0.5, 2.0, 5.0]) * rng.choice([1, -1])
        edge = fine(outline)
        for piece in moved(outline, out):
            assert piece.fault() is None
            points = shapely.points([p for ring in piece.lines() for s in ring for p in s.points()])
            far = shapely.distance(points, edge.boundary)
            assert far.min() > abs(out) - OFFSET_MM
            assert far.max() < 8 * abs(out) + OFFSET_MM
            inside = shapely.contains_properly(edge, points)
            assert not inside.any() if out > 0 else inside.all()


@pytest.mark.parametrize("seed", range(12))
def test_against_the_buffers_of_a_general_library(seed):
    """shapely's mitred buffer, on outlines of straight edges: the same outlines within 0.01 mm.

    It drops dents that are shallower than a hundredth of the distance (GEOS, BufferInputLineSimplifier).
    """
    rng = Random(100 + seed)
    for _ in range(15):
        outline = nasty_outline(rng)
        if outline.circles:
            continue
        out = rng.choice([0.05, 0.1, 0.5]) * rng.choice([1, -1])
        buffer = outline.polygon.buffer(out, join_style="mitre", mitre_limit=4.0)
        theirs = [p for p in shapely.get_parts(buffer) if p.area >= 1.0]
        ours = moved(outline, out)
        assert len(ours) == len(theirs)
        if ours:
            a, b = (shapely.union_all(x).boundary for x in ([o.polygon for o in ours], theirs))
            for of, on in ((a, b), (b, a)):
                far = shapely.distance(shapely.points(shapely.get_coordinates(of)), on)
                assert far.max() < OFFSET_MM + 0.01 * abs(out)


def corners(outline: Outline) -> list[list[Point]]:
    """Ends of lines and arcs, but those at which an arc goes on."""
    found = []
    for ring in outline.lines():
        ends = [
            s.end
            for s, after in zip(ring, (*ring[1:], ring[0]), strict=True)
            if not (s.bulge and after.bulge and goes_on(s, after))
        ]
        found.append(sorted(ends))
    return sorted(found)


def goes_on(a: Segment, b: Segment) -> bool:
    same = math.dist(a.centre, b.centre) < 0.2 * a.radius and abs(a.radius - b.radius) < 0.2 * a.radius
    return same and (a.bulge > 0) == (b.bulge > 0)


def sharpest_deg(outline: Outline) -> float:
    """The least angle between two chords in a row, to either side."""
    least = 180.0
    for ring in outline.rings():
        points = ring[:-1]
        for i, (x, y) in enumerate(points):
            (ax, ay), (bx, by) = points[i - 1], points[(i + 1) % len(points)]
            a, b = math.atan2(ay - y, ax - x), math.atan2(by - y, bx - x)
            turn = abs(math.degrees(a - b)) % 360
            least = min(least, turn, 360 - turn)
    return least


@pytest.mark.parametrize("seed", range(20))
def test_out_and_in_again_gives_the_same_outline(seed):
    """Within a nanometre or a few across a corner, circles too, where nothing vanished or was cut square."""
    rng = Random(1000 + seed)
    tried = 0
    for _ in range(30):
        outline = nasty(rng)
        out = rng.choice([0.05, 0.1, 0.5]) * rng.choice([1, 1, -1])
        there = moved(outline, out)
        if len(there) != 1 or sharpest_deg(outline) < 32:  # 4 = 1 / sin(29 / 2)
            continue
        before, after = corners(outline), corners(there[0])
        if [len(ring) for ring in before] != [len(ring) for ring in after]:
            continue
        tried += 1
        back = only(moved(there[0], -out))
        again = corners(back)
        assert [len(ring) for ring in again] == [len(ring) for ring in before]
        edge = back.polygon.boundary
        ends = shapely.points([p for ring in before for p in ring]) if any(before) else []
        assert all(shapely.distance(ends, shapely.multipoints(shapely.get_coordinates(edge))) < NANOMETRES)
        assert len(back.circles) == len(outline.circles)
        for a, b in zip(sorted(back.circles), sorted(outline.circles), strict=True):
            assert a == pytest.approx(b, abs=2e-6)
        assert abs(back.area - outline.area) < 2 * CHORD_MM * outline.polygon.length * 0.7
    assert tried >= 3


def test_the_kerf_of_a_design_part_comes_back_to_the_nanometre():
    """A plate with rounded corners, a slot, a hole and a notch: every coordinate, every circle."""
    plate = Outline.rectangle(0, 0, 120, 60).minus(
        Outline.rectangle(30, 20, 50, 25.2), Outline.circle(90, 30, 8), Outline.rectangle(118, 20, 121, 40)
    )[0]
    there = only(moved(plate, 0.1))
    assert only(moved(there, -0.1)) == plate


@given(drawn=sound_parts(), kerf=st.sampled_from([0.1, 0.2, 0.3]))
@settings(max_examples=25)
def test_the_kerf_of_built_parts_comes_back(drawn, kerf):
    """Holes, keyholes, turned slots, tabs and rounded corners: every corner to a few nanometres, every circle."""
    ((part, *_), _) = build_part(drawn)
    there = only(moved(part.outline, kerf / 2))
    back = only(moved(there, -kerf / 2))
    assert len(there.rings()) == len(part.outline.rings())
    assert [len(ring) for ring in corners(back)] == [len(ring) for ring in corners(part.outline)]
    ends = shapely.points([p for ring in corners(part.outline) for p in ring])
    assert (
        shapely.distance(ends, shapely.multipoints(shapely.get_coordinates(back.polygon))).max() < NANOMETRES
    )
    assert len(back.circles) == len(part.outline.circles)
    for a, b in zip(sorted(back.circles), sorted(part.outline.circles), strict=True):
        assert a == pytest.approx(b, abs=2e-6)
