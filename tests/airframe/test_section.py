"""Sections of whole surfaces: every nose, creased and bent, both trailing edges."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foamcut.airframe.bent import bent_skin, chord_counts
from foamcut.airframe.planform import panel_at
from foamcut.airframe.section import bent_at, lower_length, section_places, upper_length
from foamcut.airframe.section_nose import nose_band, nose_height
from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.section_spar import spar_height, spar_of
from foamcut.airframe.section_turns import true_turn_deg
from foamcut.airframe.values import Build, Control, Nose, OverSpar, TrailingEdge
from foamcut.flat.tolerances import CHORD_MM
from tests.airframe.section_surfaces import board, section, spar, stations, surface, surfaces

ALL = [(nose, over) for nose in Nose for over in OverSpar]


def upper_board(one):
    return shapely.Polygon([*one.upper_outer, *reversed(one.upper_inner)])


def lower_board(one):
    (first, last), t = one.lower_mm, one.thickness_mm
    return shapely.box(first, 0.0, last, t)


def ways(points):
    return [math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in pairwise(points)]


def test_a_stripped_nose_turns_at_both_edges_of_its_band():
    """arithmetic: outer line from (0, 10), the spar's edge (36, 15) lies 5 mm below it."""
    one = section(surface())
    slope = math.degrees(math.atan2(5, 36) + math.asin(5 / math.hypot(36, 5)))
    assert one.turns_deg[:2] == pytest.approx((90.0, 90.0 - slope))
    assert one.upper_outer[0] == (0.0, 10.0)
    assert one.upper_outer[-1] == (204.0, 5.0)
    assert nose_band(surface()) == 10.5
    assert one.outline[0] == (0.0, 0.0)


def test_an_opened_nose_turns_about_its_inner_paper():
    """arithmetic: the inner paper runs from (0, 5) to the spar's edge (36, 15)."""
    one = section(surface(nose=Nose.OPENED))
    slope = math.atan2(10, 36)
    assert one.turns_deg[:2] == pytest.approx((180.0 - math.degrees(slope), 0.0))
    assert one.upper_inner[0] == (0.0, 5.0)
    assert one.upper_outer[0] == pytest.approx((-5 * math.sin(slope), 5 + 5 * math.cos(slope)))
    assert nose_band(surface(nose=Nose.OPENED)) == 0.0


def test_two_skins_lie_as_an_opened_nose_does_and_turn_nowhere():
    two, opened = section(surface(nose=Nose.TWO_SKINS)), section(surface(nose=Nose.OPENED))
    assert two == replace(opened, turns_deg=(0.0, 0.0, *opened.turns_deg[2:]))


def test_a_scored_nose_is_half_a_turn_of_paper():
    """arithmetic: pi t for a nose of two boards, less the slope of the first flat where it is bent."""
    made = surface(nose=Nose.SCORED)
    one = section(made)
    assert nose_band(made) == pytest.approx(math.pi * 5.0)
    length = sum(math.dist(a, b) for a, b in pairwise(one.nose_outer))
    assert length == pytest.approx(5.0 * math.radians(180 - one.slopes_deg[0]), rel=1e-3)
    assert one.nose_outer[0] == pytest.approx((5.0, 0.0))
    assert one.nose_outer[-1] == pytest.approx(one.upper_outer[0])
    assert one.nose_inner[-1] == pytest.approx(one.upper_inner[0])
    assert min(c for c, _ in one.nose_outer) == pytest.approx(0.0, abs=CHORD_MM)


def test_chords_of_a_scored_nose_stay_within_the_tolerance():
    one = section(surface(nose=Nose.SCORED, nose_height_mm=16.0))
    for a, b in pairwise(one.nose_outer):
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        assert 8.0 - CHORD_MM * 1.001 <= math.dist(middle, (8.0, 8.0)) <= 8.0


@pytest.mark.parametrize(("nose", "over"), ALL)
def test_a_section_is_as_thick_as_its_strips_and_two_skins(nose, over):
    """arithmetic: two strips and two skins of 5 mm; a bent skin lifts off between the edges."""
    one = section(surface(nose=nose, over_spar=over))
    front, rear, top = one.spar
    upright = shapely.LineString([((front + rear) / 2, -10.0), ((front + rear) / 2, 60.0)])
    low, high = shapely.Polygon(one.outline).intersection(upright).bounds[1::2]
    assert low == 0.0
    if over is OverSpar.CREASED:
        assert high == pytest.approx(20.0)
    else:
        assert 20.0 < high <= 20.0 + one.lift_mm + 1e-6
    assert top == 15.0


def test_a_bevel_is_measured_from_square():
    """arithmetic: a skin that falls at 6 degrees wants a bevel of 84 degrees, t / sin 6 wide."""
    one = section(surface())
    slope = math.radians(one.slopes_deg[1])
    assert one.bevel_deg == pytest.approx(90.0 - one.slopes_deg[1])
    assert one.bevel_mm == pytest.approx(math.dist(one.upper_inner[-1], one.upper_outer[-1]))
    assert one.bevel_run_mm == pytest.approx(one.bevel_mm * math.cos(slope))


@pytest.mark.parametrize("chord", [None, 48.0])
def test_a_single_trailing_edge_ends_the_upper_skin_at_the_hinge_line(chord):
    controls = ()
    if chord is not None:
        key = "surface.wing.aileron"
        controls = (
            Control(key=key, word="aileron", from_mm=276.0, to_mm=528.0, chord_mm=chord, throw_deg=20.0),
        )
    one = section(surface(trailing_edge=TrailingEdge.SINGLE, controls=controls))
    hinge = 204.0 - (chord or 40.0)
    assert one.upper_outer[-1] == (hinge, 5.0)
    assert (204.0, 5.0) in one.outline
    assert one.lower_mm == (0.0, 204.0)
    upright = shapely.LineString([(190.0, -10.0), (190.0, 60.0)])
    assert shapely.Polygon(one.outline).intersection(upright).length == pytest.approx(5.0)


def test_a_flat_surface_is_a_rectangle():
    one = section(surface(build=Build.FLAT, spar=None), 552.0)
    assert one.outline == ((6.0, 0.0), (168.0, 0.0), (168.0, 5.0), (6.0, 5.0))
    assert one.corners == ()
    assert upper_length(one) == lower_length(one) == 162.0
    assert (one.bevel_deg, one.bevel_mm, one.bevel_run_mm) == (0.0, 0.0, 0.0)


def test_lengths_are_those_of_the_outer_paper():
    one = section(surface())
    assert upper_length(one) == pytest.approx(shapely.LineString(one.upper_outer).length)
    assert one.stops_mm[0] == pytest.approx(math.dist(*one.upper_outer[:2]))
    assert lower_length(one) == 204.0


def test_the_blank_is_twice_the_chord_with_the_nose_and_a_few_millimetres():
    """common practice, no source: about twice the chord, the nose band, and 2 to 4 % for the upper skin."""
    made = surface()
    one = section(made)
    blank = lower_length(one) + nose_height(made) + upper_length(one)
    assert 0.0 < blank - 2 * 204.0 - 10.0 < 0.04 * 204.0


def test_bent_sections_of_one_surface_have_as_many_points_each():
    made = surface(over_spar=OverSpar.BENT, spar=spar(layers=3, tip_layers=1, tip_width_mm=12.0))
    counts = {len(section(made, s).upper_outer) for s in (0.0, 100.0, 184.0, 300.0, 552.0)}
    assert len(counts) == 1


def test_a_fold_across_a_swept_panel_turns_more_than_its_section_shows():
    """arithmetic: square to a line swept by 35 degrees a slope of 15 has the tangent tan 15 / cos 35."""
    slope = math.radians(15)
    line = (math.sin(math.radians(35)), math.cos(math.radians(35)), 0.0)
    turn = true_turn_deg(line, (0.0, 1.0), (math.cos(slope), math.sin(slope)))
    seen = math.degrees(math.atan(math.tan(slope) / math.cos(math.radians(35))))
    assert turn == pytest.approx(90.0 - seen)
    assert true_turn_deg((0.0, 1.0, 0.0), (0.0, 1.0), (math.cos(slope), math.sin(slope))) == pytest.approx(
        75.0
    )


@given(made=surfaces(), share=st.floats(0.0, 1.0))
def test_sections_that_are_not_refused_are_true(made, share):
    """arithmetic, and shapely as reference library: for many shapes, at stations and between them."""
    if section_refusals(made):
        return
    t = made.material.thickness_mm
    for s in (share * made.half_span_mm, *(s for _, s in section_places(made))):
        one = section(made, s)
        front, rear, top = one.spar
        assert top == pytest.approx(t + spar_height(made, s))
        inner = shapely.LineString(one.upper_inner)
        assert inner.distance(shapely.Point(front, top)) < 1e-6
        assert inner.distance(shapely.Point(rear, top)) < 1e-6
        upper, lower, stack = upper_board(one), lower_board(one), shapely.box(front, t, rear, top)
        assert upper.is_valid
        for a, b in ((upper, lower), (upper, stack), (lower, stack)):
            assert a.intersection(b).area < 1e-4
        around = shapely.Polygon(one.outline)
        assert around.is_valid
        assert around.exterior.is_ccw
        for solid in (upper, lower, stack):
            assert solid.difference(around).area < 1e-4
        _turns(made, one)


@given(made=surfaces(), share=st.floats(0.0, 1.0))
def test_chords_of_a_bent_skin_stay_within_the_tolerance(made, share):
    """arithmetic: against sixteen times as many chords, anywhere along the span."""
    made = replace(made, over_spar=OverSpar.BENT)
    if section_refusals(made):
        return
    s = share * made.half_span_mm
    one, bent = section(made, s), bent_at(made, panel_at(made, s), s)
    fine = bent_skin(bent, [16 * count for count in chord_counts(bent)])
    for chords, many in ((one.upper_outer, fine.outer), (one.upper_inner, fine.inner)):
        off = shapely.distance(shapely.points(many), shapely.LineString(chords))
        assert off.max() <= CHORD_MM * 1.001


def _turns(made, one):
    """Every turn is the angle between the lines before and after it."""
    if one.corners:
        first, middle, last = ways(one.upper_outer)
        assert one.turns_deg[2:] == pytest.approx((first - middle, middle - last), abs=1e-6)
        nose = first
    else:
        assert one.turns_deg[2:] == (0.0, 0.0)
        nose = one.slopes_deg[0]
        assert nose == pytest.approx(ways(one.upper_outer)[0], abs=1.0)
    if made.nose is Nose.STRIPPED:
        assert one.turns_deg[:2] == pytest.approx((90.0, 90.0 - nose))
    elif made.nose is not Nose.TWO_SKINS:
        assert one.turns_deg[:2] == pytest.approx((180.0 - nose, 0.0))


def test_strips_of_another_thickness_make_the_section_by_their_own():
    """arithmetic: three strips of 3 mm between skins of 5 mm: 19 mm."""
    made = surface(spar=spar(layers=3, material=board(3.0)))
    assert max(n for _, n in section(made).outline) == pytest.approx(19.0)
    assert spar_of(made).material.thickness_mm == 3.0


def test_a_swept_panel_moves_its_sections():
    one = section(surface(stations=stations((0.0, 0.0, 200.0), (500.0, 20.0, 200.0))), 250.0)
    assert (one.leading_mm, one.trailing_mm) == (10.0, 210.0)
    assert one.spar[:2] == (36.0, 61.0)
