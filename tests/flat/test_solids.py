"""Folded panels as solid bodies: what folds and bevels take off the board, by hand.

mm; the board is 5 thick, its drawn face at z = 0 while it lies flat.
"""

import math
import subprocess
import sys

import numpy as np
import pytest
import shapely

from foamcut.flat.build import build_part
from foamcut.flat.drawn import FoldAt, FoldKind, Side
from foamcut.flat.panels import Panel, fold_up
from foamcut.flat.part import Part
from foamcut.flat.solids import flat_solid, solid
from tests.strategies import cutout, fold, hole, panel, readings, rectangle

T = 5.0
UP, DOWN = Side.UP, Side.DOWN


def across(i: int, kind: str, x: float, turn: float = 90.0, **more):
    """A fold across a strip at x; the panel at larger x lies to its left and turns."""
    return fold(i, kind, (x, 900.0), (x, -900.0), turn, **more)


def built(shape, *folds, **more) -> Part:
    return build_part(panel(shape, folds=folds, **more))[0][0]


def at(part: Part, x: float, y: float) -> Panel:
    """The panel that holds a place of the flat part."""
    (one,) = [p for p in fold_up(part).panels if p.outline.polygon.contains(shapely.Point(x, y))]
    return one


def level(part: Part, piece: Panel, z: float) -> shapely.Polygon:
    """What of a panel stands at a height while it lies flat."""
    rings = flat_solid(part, piece).slice(z).to_polygons()
    found = shapely.union_all(
        [shapely.Polygon(ring).buffer(0) for ring in rings if shapely.LinearRing(ring).is_ccw]
    )
    holes = [shapely.Polygon(ring) for ring in rings if not shapely.LinearRing(ring).is_ccw]
    return found.difference(shapely.union_all(holes))


def reach(part: Part, place: tuple[float, float], z: float) -> tuple[float, float]:
    """Lowest and highest x of a panel at a height."""
    x0, _, x1, _ = level(part, at(part, *place), z).bounds
    return x0, x1


#: how far the near and the far panel of a fold at x = 60 reach at 1 mm over the whole paper and 1 mm below
#: the cut face; t tan(45) = 5 at the cut face, so that 4 mm over the paper a groove has taken 4 mm
REACHES = {
    "groove": ({}, (59.0, 61.0), (56.0, 64.0)),
    "score": ({}, (60.0, 60.0), (60.0, 60.0)),
    "wrap": ({}, (60.0, 65.0), (60.0, 65.0)),  # bare paper from 60 to 65, left out
    "hinge": ({"bevel_deg": 45.0, "turn": 0.0}, (60.0, 61.0), (60.0, 64.0)),
}


@pytest.mark.parametrize("side", list(Side))
@pytest.mark.parametrize("kind", REACHES)
def test_what_a_fold_takes_off(kind, side):
    more, low, high = REACHES[kind]
    part = built(rectangle(100.0, 50.0), across(0, kind, 60.0, **{"turn": 90.0} | more, side=side))
    heights = (-4.0, -1.0) if side is UP else (-1.0, -4.0)
    for z, (ends, begins) in zip(heights, (low, high), strict=True):
        assert reach(part, (10.0, 25.0), z) == pytest.approx((0.0, ends), abs=1e-6)
        assert reach(part, (90.0, 25.0), z) == pytest.approx((begins, 100.0), abs=1e-6)


def test_a_wrap_that_turns_at_the_near_edge_takes_from_the_panel_that_turns():
    part = built(rectangle(100.0, 50.0), across(0, "wrap", 60.0, fold_at=FoldAt.NEAR))
    assert at(part, 10.0, 25.0).outline.bounds[2] == at(part, 90.0, 25.0).outline.bounds[0] == 60.0
    assert reach(part, (90.0, 25.0), -2.5) == pytest.approx((65.0, 100.0), abs=1e-6)


def test_facets_of_a_roll_are_board_of_full_thickness():
    part = built(rectangle(100.0, 50.0), across(0, "roll", 40.0, radius_mm=20.0))
    for one in fold_up(part).panels:
        assert flat_solid(part, one).volume() == pytest.approx(one.outline.area * T, rel=1e-9)


@pytest.mark.parametrize("back", [False, True])
def test_bevels_slope_from_the_larger_face_and_are_mitred(back):
    """Both edges at a corner: 1 mm from the smaller face each has lost 4 mm, as far as the corner."""
    word = "bevel_back_deg" if back else "bevel_deg"
    shape = readings((0, 0, {word: 45.0}), (100, 0, {word: 45.0}), (100, 50), (0, 50))
    part = built(shape)
    small, large = (-4.0, -1.0) if back else (-1.0, -4.0)
    one = at(part, 50.0, 25.0)
    assert level(part, one, small).bounds == pytest.approx((0.0, 4.0, 96.0, 50.0), abs=1e-6)
    assert level(part, one, large).bounds == pytest.approx((0.0, 1.0, 99.0, 50.0), abs=1e-6)
    assert level(part, one, small).area == pytest.approx(96.0 * 46.0, abs=1e-4)


def test_a_bevel_goes_through_to_a_square_edge():
    """The knife leaves the board at the end of the edge: nothing stays standing at an obtuse corner."""
    shape = readings((0, 0, {"bevel_deg": 45.0}), (100, 0), (110, 30), (0, 30))
    part = built(shape)
    cut = level(part, at(part, 50.0, 15.0), -1e-9)
    assert cut.bounds[1] == pytest.approx(T, abs=1e-6)


def test_a_bevelled_edge_runs_along_several_panels():
    """A strip of three panels: each has lost a triangle of t x t / 2 along its part of the edge."""
    shape = readings((0, 0, {"bevel_deg": 45.0}), (240, 0), (240, 60), (0, 60))
    folds = [fold(i, "score", (x, 900.0), (x, -900.0), 60.0) for i, x in enumerate((60.0, 180.0))]
    part = built(shape, *folds)
    for x, long in ((30.0, 60.0), (120.0, 120.0), (210.0, 60.0)):
        lost = long * 60.0 * T - flat_solid(part, at(part, x, 30.0)).volume()
        assert lost == pytest.approx(long * T * T / 2, rel=1e-9)


def test_a_bevel_round_an_arc():
    """A disc of 60 mm bevelled by 45 degrees all round is a frustum: less 4 mm in radius at 4 mm."""
    shape = readings(
        (30.0, 0.0, {"through": (0.0, 30.0), "bevel_deg": 45.0}), (-30.0, 0.0, {"through": (0.0, -30.0), "bevel_deg": 45.0})
    )  # fmt: skip
    part = built(shape)
    assert level(part, fold_up(part).panels[0], -1.0).area == pytest.approx(math.pi * 26.0**2, rel=1e-3)


def test_a_groove_ends_square_where_its_board_goes_on():
    """A flap cut out by a slit on three sides: the board beside the fold's ends keeps its whole thickness."""
    slit = readings((36, 20), (40, 20), (40, 40), (60, 40), (60, 20), (64, 20), (64, 44), (36, 44))
    part = built(
        rectangle(100.0, 60.0),
        fold(0, "groove", (60.0, 20.0), (40.0, 20.0), 90.0),
        cutouts=(cutout(0, slit),),
    )
    surface = -1e-9
    board, flap = (level(part, at(part, 50.0, y), surface) for y in (10.0, 30.0))
    hole = 28.0 * 24.0
    assert board.area == pytest.approx(100.0 * 60.0 - hole - 20.0 * T, abs=1e-4)
    assert flap.area == pytest.approx(20.0 * 20.0 - 20.0 * T, abs=1e-4)
    assert board.contains(shapely.Point(39.0, 17.5)) and not board.contains(shapely.Point(41.0, 17.5))


def test_solids_lose_what_is_drawn_as_groove():
    """Where the drawn lines of a groove go on past its fold, over ears beside reliefs, so does the slope."""
    shape = readings(
        (0, 0), (60, 0), (60, 15), (62, 15), (62, 0), (100, 0), (100, 50), (62, 50), (62, 35), (60, 35), (60, 50),
        (0, 50),
    )  # fmt: skip
    part = built(shape, fold(0, "groove", (61.0, 35.0), (61.0, 15.0), 90.0))
    drawn = max(y for run in part.folds[0].groove for segment in run for _, y in (segment.start, segment.end))
    ear = level(part, at(part, 90.0, 25.0), -1e-9).intersection(shapely.box(61, 35, 100, 50))
    assert drawn == 50.0 and ear.bounds[0] == pytest.approx(66.0, abs=1e-6)


def test_holes_go_through():
    part = built(
        rectangle(100.0, 50.0), cutouts=(hole(0, (50.0, 25.0), 20.0), cutout(1, rectangle(6, 6), (5, 5)))
    )
    one = fold_up(part).panels[0]
    assert flat_solid(part, one).volume() == pytest.approx(part.outline.area * T, rel=1e-9)
    assert flat_solid(part, one).genus() == 2


@pytest.mark.parametrize("side", list(Side))
@pytest.mark.parametrize("kind", [FoldKind.GROOVE, FoldKind.SCORE, FoldKind.WRAP, FoldKind.HINGE])
def test_panels_beside_a_fold_touch_and_do_not_overlap(kind, side):
    """Folded as drawn, the slopes of a groove lie on each other and the board lands in the strip of a wrap."""
    more = {"bevel_deg": 45.0} if kind is FoldKind.HINGE else {}
    turn = {FoldKind.WRAP: 90.0, FoldKind.HINGE: 45.0}.get(kind, 70.0)
    part = built(
        readings((0, 0), (100, 7), (100, 50), (0, 50)), across(0, kind.value, 60.0, turn, side=side, **more)
    )
    a, b = (solid(part, one) for one in fold_up(part).panels)
    assert (a ^ b).volume() < 1e-6
    assert a.min_gap(b, 10.0) < 1e-6


def test_a_solid_stands_in_the_pose_of_its_panel():
    """Its corners are those of the flat solid, moved by the panel's matrix."""
    part = built(rectangle(100.0, 50.0), across(0, "groove", 60.0))
    one = at(part, 90.0, 25.0)
    assert solid(part, one).bounding_box() == pytest.approx((55.0, 0.0, -5.0, 60.0, 50.0, 35.0), abs=1e-9)
    assert solid(part, one).volume() == pytest.approx(flat_solid(part, one).volume())


def test_only_who_looks_at_solids_pays_for_their_library():
    """Neither the command's help nor reading and building a design loads manifold3d."""
    code = (
        "import sys\n"
        "import foamcut.cli, foamcut.plan.chain, foamcut.flat.solids, foamcut.flat.folded_check\n"
        "sys.exit('manifold3d' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_vertices_are_exact():
    """The outline's own corners come back from the solid, far from (0, 0) too."""
    part = built(readings((900.123456, 700.000001), (1000.5, 700.0), (1000.5, 760.25)))
    mesh = flat_solid(part, fold_up(part).panels[0]).to_mesh64()
    corners = np.unique(np.round(np.asarray(mesh.vert_properties)[:, :2], 6), axis=0)
    assert corners.tolist() == sorted([900.123456, 700.000001] if i == 0 else p for i, p in enumerate(
        [[0, 0], [1000.5, 700.0], [1000.5, 760.25]]
    ))  # fmt: skip
