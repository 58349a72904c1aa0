"""A section as a beam: bands of paper, foam and plywood."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from foamcut.airframe.planform import panels
from foamcut.airframe.section import section_at
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.strength_places import spots
from foamcut.flight.strength_section import Band, Beam, sheet_bands, up_to
from foamcut.flight.strength_stuff import Kind, Level, Stuff, kind_of, paper, wrinkling_mpa
from foamcut.flight.strength_wing import beam_at
from tests.airframe.section_surfaces import BOARD, surface
from tests.flight.strength_sample import STOCKS, wing_of

PAPER = paper(Level.USUAL)


def caps(width: float, height: float) -> list[Band]:
    """Two boards of 5 mm, so high in all, papers alone."""
    bands = []
    for low in (0.0, height - 5.0):
        lines = (((0.0, low), (width, low)), ((0.0, low + 5.0), (width, low + 5.0)))
        bands += sheet_bands(*lines, 5.0, Kind.PAPERED, Level.USUAL)
    return [one for one in bands if one.stuff.word == "paper"]


def test_two_caps_of_board_as_worked_out_by_hand():
    """Two caps 40 mm wide, 30 mm high in all, foam ignored: EI 17.10 N m2, 12.3 MPa at 4.707 N m.

    Check: arithmetic (plane bending).
    """
    beam = Beam.of(caps(40.0, 30.0))
    assert beam is not None
    arm_outer, arm_inner, area = 15 - 0.11, 10 + 0.11, 40 * 0.22
    by_hand = 3000 * 2 * (area * (arm_outer**2 + arm_inner**2) + 2 * 40 * 0.22**3 / 12)

    assert beam.stiffness_n_mm2 == pytest.approx(by_hand, rel=1e-12)
    assert round(beam.stiffness_n_mm2 / 1e6, 2) == 17.10
    worst = beam.worst(4707.0)
    assert worst is not None
    assert round(abs(worst.stress_mpa), 1) == 12.3
    # fails across the grain of its paper, passes along it
    assert worst.margin < 1 < ASSUMED["paper_strength"].high / abs(worst.stress_mpa)


def test_stiffness_of_a_board_for_each_mm_of_its_width():
    """E t d^2 / 2 = 12.6 N m for 5 GPa, 0.22 mm, 4.78 mm.  Check: arithmetic (sandwich plates)."""
    stuff = replace(PAPER, modulus_mpa=5000.0)
    bands = [Band((0.0, n), (1.0, n), 0.22, stuff) for n in (0.0, 4.78)]
    beam = Beam.of(bands)

    assert beam is not None
    assert beam.stiffness_n_mm2 / 1000 == pytest.approx(5000 * 0.22 * 4.78**2 / 2 / 1000, rel=1e-3)
    assert round(beam.stiffness_n_mm2 / 1000, 1) == 12.6


@pytest.mark.parametrize(
    ("moduli", "stress"), [((3000, 1.4, 2.0), 10.2), ((7000, 1.4, 2.0), 13.5), ((3000, 10, 4), 24.7)]
)
def test_wrinkling(moduli, stress):
    """Check: arithmetic (Hoff and Mautner's formula as it is remembered; numbers worked out beforehand)."""
    assert wrinkling_mpa(*moduli) == pytest.approx(stress, abs=0.06)


def green(polygon: Polygon) -> tuple[float, float, float]:
    """Area, first and second moment about the c axis, by Green's theorem."""
    ring = shapely.get_coordinates(shapely.geometry.polygon.orient(polygon).exterior)
    area = first = second = 0.0
    for (x0, y0), (x1, y1) in pairwise(ring):
        cross = x0 * y1 - x1 * y0
        area += cross / 2
        first += cross * (y0 + y1) / 6
        second += cross * (y0 * y0 + y0 * y1 + y1 * y1) / 12
    return area, first, second


def by_polygons(bands: tuple[Band, ...]) -> tuple[float, float]:
    """Axis and stiffness of bands drawn as polygons."""
    stretch = moment = bending = 0.0
    for one in bands:
        if math.dist(one.first, one.last) < 1e-9:
            continue
        shape = LineString([one.first, one.last]).buffer(one.thick_mm / 2, cap_style="flat")
        area, first, second = green(shape)
        stretch += one.stuff.modulus_mpa * area
        moment += one.stuff.modulus_mpa * first
        bending += one.stuff.modulus_mpa * second
    axis = moment / stretch
    return axis, bending - stretch * axis * axis


@pytest.mark.parametrize("s", [0.0, 200.0, 500.0])
def test_section_of_a_wing_against_its_polygons(s):
    """Check: arithmetic (second moments of polygons by Green's theorem)."""
    one = surface()
    spot = next(spot for spot in spots(one, wing_of(one).joints, s))
    beam = beam_at(wing_of(one), spot, Level.USUAL)
    assert beam is not None
    axis, bending = by_polygons(beam.bands)

    assert beam.axis_mm == pytest.approx(axis, rel=1e-9)
    assert beam.stiffness_n_mm2 == pytest.approx(bending, rel=1e-9)


def test_papers_lie_on_the_boards_faces():
    """Papers of the upper skin and the strips fill, with their cores, just what the boards fill."""
    one = surface()
    panel = panels(one)[0]
    section = section_at(one, panel, 100.0)
    spot = spots(one, wing_of(one).joints, 100.0)[0]
    beam = beam_at(wing_of(one), spot, Level.USUAL)
    assert beam is not None
    t, tp = BOARD.thickness_mm, ASSUMED["paper_thickness"].value
    heights = {round(n, 6) for band in beam.bands for _, n in (band.first, band.last)}

    assert {tp / 2, t - tp / 2, t + tp / 2, 2 * t - tp / 2, 3 * t - tp / 2} <= {round(n, 6) for n in heights}
    assert max(heights) < max(n for _, n in section.upper_outer)
    # the lower skin's two papers, four of the strips, all three flats of the upper skin's two
    assert sum(band.stuff.word == "paper" for band in beam.bands) == 2 + 4 + 6


bands_drawn = st.lists(
    st.tuples(
        st.floats(0.0, 200.0), st.floats(0.0, 40.0), st.floats(0.0, 200.0), st.floats(0.0, 40.0),
        st.floats(0.05, 5.0), st.floats(1.0, 9000.0),
    ).map(lambda v: Band((v[0], v[1]), (v[2], v[3]), v[4], Stuff(word="x", modulus_mpa=v[5], bears_mpa=10.0))),
    min_size=1, max_size=8,
)  # fmt: skip


@given(bands_drawn, st.floats(-50.0, 50.0))
def test_a_beam_moved_up_is_as_stiff(bands, up):
    beam = Beam.of(bands)
    moved = Beam.of(
        [
            one._replace(first=(one.first[0], one.first[1] + up), last=(one.last[0], one.last[1] + up))
            for one in bands
        ]
    )
    assert (beam is None) == (moved is None)
    if beam is not None and moved is not None:
        assert moved.axis_mm == pytest.approx(beam.axis_mm + up, abs=1e-6)
        assert moved.stiffness_n_mm2 == pytest.approx(beam.stiffness_n_mm2, rel=1e-6, abs=1e-3)


@given(bands_drawn)
def test_more_stuff_is_stiffer(bands):
    less, more = Beam.of(bands[:-1]), Beam.of(bands)
    if less is not None and more is not None:
        assert more.stiffness_n_mm2 >= less.stiffness_n_mm2 * (1 - 1e-9)


def test_a_moment_upwards_presses_the_top_and_pulls_the_bottom():
    beam = Beam.of(caps(40.0, 30.0))
    assert beam is not None
    up, down = beam.worst(1000.0), beam.worst(-1000.0)
    assert up is not None
    assert down is not None
    # what is pressed can wrinkle as well; alike in stress the highest is named
    assert up.stress_mpa > 0
    assert up.height_mm > beam.axis_mm
    assert down.stress_mpa == pytest.approx(-up.stress_mpa)


def test_weak_core_lets_paper_wrinkle_before_it_is_crushed():
    low = paper(Level.LOW)
    assert low.limit_mpa(pressed=True) == pytest.approx(0.5 * (2000 * 1.24 * 1.9) ** (1 / 3))
    assert low.limit_mpa(pressed=False) == 10.0
    assert PAPER.limit_mpa(pressed=True) == 10.0


def test_nothing_bears():
    assert Beam.of([]) is None
    assert Beam.of([Band((0.0, 1.0), (0.0, 1.0), 1.0, PAPER)]) is None
    beam = Beam.of(caps(40.0, 30.0))
    assert beam is not None
    assert beam.worst(0.0) is None
    lines = (((0.0, 0.0), (9.0, 0.0)), ((0.0, 5.0), (9.0, 5.0)))
    assert sheet_bands(*lines, 5.0, Kind.UNKNOWN, Level.USUAL) == []


def test_paper_is_never_thicker_than_half_its_board():
    lines = (((0.0, 0.0), (9.0, 0.0)), ((0.0, 0.3), (9.0, 0.3)))
    bands = sheet_bands(*lines, 0.3, Kind.PAPERED, Level.USUAL)
    assert sum(one.thick_mm for one in bands) == pytest.approx(0.3)


def test_a_line_is_cut_where_it_passes_a_place():
    line = [(0.0, 0.0), (10.0, 4.0), (20.0, 4.0), (40.0, 0.0)]
    assert up_to(line, 30.0) == [(0.0, 0.0), (10.0, 4.0), (20.0, 4.0), (30.0, 2.0)]
    assert up_to(line, 15.0) == [(0.0, 0.0), (10.0, 4.0), (15.0, 4.0), (15.0, 4.0)]
    assert up_to(line, 99.0) == line


@pytest.mark.parametrize(
    ("name", "kind"),
    [("board", Kind.PAPERED), ("ply", Kind.PLYWOOD), ("foam", Kind.FOAM), ("balsa", Kind.UNKNOWN)],
)
def test_kinds_are_told_by_the_words_of_the_stock(name, kind):
    assert kind_of(replace(BOARD, name=name), STOCKS) is kind


def test_a_stock_that_is_not_listed_goes_by_its_name():
    assert kind_of(replace(BOARD, name="reed"), {}) is Kind.UNKNOWN
    assert kind_of(replace(BOARD, name="ply3"), {}) is Kind.PLYWOOD
