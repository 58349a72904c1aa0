"""The spar along the span: where strips end, how high the skin lies over them."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foamcut.airframe.planform import panel_at, panels
from foamcut.airframe.section import section_at
from foamcut.airframe.section_spar import (
    spar_front,
    spar_height,
    spar_of,
    spar_steps,
    spar_width,
    step_mm,
    strips_at,
)
from foamcut.airframe.values import Run
from tests.airframe.section_surfaces import board, spar, stations, surface


def test_without_a_drop_every_strip_runs_to_the_tip():
    made = surface()
    assert spar_steps(made) == ((552.0, 1), (552.0, 2))
    assert step_mm(made) is None
    assert [spar_height(made, s) for s in (0.0, 300.0, 552.0)] == [10.0] * 3


def test_strips_end_at_equal_divisions_the_top_one_first():
    """arithmetic: four strips of 4 mm, two at the tip, over 600 mm: ends at 200 and 400."""
    made = surface(
        stations=stations((0.0, 0.0, 300.0), (600.0, 0.0, 200.0)),
        spar=spar(layers=4, tip_layers=2, material=board(4.0)),
    )
    assert spar_steps(made) == ((600.0, 1), (600.0, 2), (400.0, 3), (200.0, 4))
    heights = [spar_height(made, s) for s in (0.0, 200.0, 300.0, 400.0, 600.0)]
    assert heights == pytest.approx([16.0, 16.0, 14.0, 12.0, 8.0])
    assert [strips_at(made, s) for s in (0.0, 199.0, 200.0, 399.0, 400.0, 600.0)] == [4, 4, 3, 3, 2, 2]


@given(layers=st.integers(1, 8), drops=st.integers(0, 7), s=st.floats(0.0, 552.0))
def test_the_skin_lies_on_the_hull_of_the_steps(layers, drops, s):
    """reference library: shapely's convex hull of the strips, seen from the side."""
    made = surface(spar=spar(layers=layers, tip_layers=max(1, layers - drops)))
    each = spar_of(made).material.thickness_mm
    strips = [shapely.box(0.0, (layer - 1) * each, end, layer * each) for end, layer in spar_steps(made)]
    hull = shapely.union_all(strips).convex_hull
    upright = hull.intersection(shapely.LineString([(s, -1.0), (s, 100.0)]))
    assert spar_height(made, s) == pytest.approx(upright.bounds[3], abs=1e-9)
    assert strips_at(made, s) * each <= spar_height(made, s) + 1e-9


def test_width_runs_straight_to_the_tip_over_all_panels():
    made = surface(
        stations=stations((0.0, 0.0, 204.0), (100.0, 0.0, 204.0), (400.0, 0.0, 162.0)),
        spar=spar(tip_width_mm=15.0),
    )
    assert [spar_width(made, panel_at(made, s), s) for s in (0.0, 100.0, 400.0)] == pytest.approx([25.0, 22.5, 15.0])


def test_a_square_spar_stays_where_it_is_and_a_following_one_keeps_its_distance():
    swept = stations((0.0, 0.0, 204.0), (500.0, 100.0, 162.0))
    for run, c in ((Run.SQUARE, 36.0), (Run.FOLLOW, 86.0)):
        made = surface(stations=swept, spar=spar(run=run))
        assert spar_front(made, panels(made)[0], 250.0) == pytest.approx(c)


@pytest.mark.parametrize("back", [150.0, -150.0])
def test_along_the_chord_a_swept_spar_is_wider_than_its_strips(back):
    """arithmetic: square to a line that runs 3 aft for 4 out, a strip of 20 mm spans 20 x 5 / 4 = 25 mm."""
    swept = stations((0.0, 0.0, 204.0), (200.0, back, 204.0))
    made = surface(stations=swept, spar=spar(run=Run.FOLLOW, width_mm=20.0, tip_width_mm=12.0))
    panel = panels(made)[0]
    assert [spar_width(made, panel, s) for s in (0.0, 200.0)] == pytest.approx([25.0, 15.0])
    front, rear, _ = section_at(made, panel, 0.0).spar
    assert rear - front == pytest.approx(25.0)
    bent = surface(
        stations=stations((0.0, 0.0, 204.0), (200.0, back, 204.0), (400.0, back, 204.0)),
        spar=spar(run=Run.FOLLOW, width_mm=20.0),
    )
    rears = [section_at(bent, one, 200.0).spar for one in panels(bent)]
    assert [rear - front for front, rear, _ in rears] == pytest.approx([25.0, 20.0])
    square = surface(stations=swept, spar=spar(width_mm=20.0))
    assert spar_width(square, panels(square)[0], 0.0) == pytest.approx(20.0)
