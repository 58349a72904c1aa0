"""Kerf against facts of the trade: what a tool of that width leaves of the board.

Each check names its tag: published, arithmetic, memory, or common practice, no source.
"""

import math

import pytest
import shapely
from shapely import Polygon

from foamcut.flat.offset import moved
from foamcut.flat.outline import Outline


def left_over(path: Outline, kerf: float) -> Polygon:
    """What falls out when the middle of a round tool as wide as the kerf runs along every line of the path."""
    cut = path.polygon.boundary.buffer(kerf / 2, quad_segs=32)
    pieces = shapely.get_parts(path.polygon.difference(cut))
    return max(pieces, key=lambda piece: piece.area)


def measured(polygon: Polygon) -> tuple[float, float]:
    x0, y0, x1, y1 = polygon.bounds
    return x1 - x0, y1 - y0


@pytest.mark.parametrize("kerf", [0.08, 0.15, 0.2, 0.25, 0.45])
def test_a_square_of_100_mm_comes_out_at_100_mm(kerf):
    """*arithmetic*: the tool path of a square of side a is a + kerf, of a hole of diameter d is d - kerf.

    Kerf as the full width of what is removed, half of it on either side of the line (makers' pages on laser
    cutting define it so; others speak of the half width).  The widths are those published for birch plywood,
    acrylic and board by a laser laboratory and two cutting services: 0.08 to 0.45 mm.
    """
    (frame,) = Outline.rectangle(0, 0, 100, 100).minus(Outline.circle(50, 50, 10))
    (path,) = moved(frame, kerf / 2)
    assert measured(path.polygon) == pytest.approx((100 + kerf, 100 + kerf), abs=1e-6)
    assert path.circles[0].radius == pytest.approx(10 - kerf / 2, abs=1e-6)
    assert path.area == pytest.approx(
        (100 + kerf) ** 2 - math.pi * (10 - kerf / 2) ** 2, abs=0.011 * 20 * math.pi
    )
    square = left_over(path, kerf)
    assert measured(square) == pytest.approx((100, 100), abs=1e-3)
    (hole,) = square.interiors
    assert measured(Polygon(hole)) == pytest.approx((20, 20), abs=0.011)


@pytest.mark.parametrize("kerf", [0.1, 0.2, 0.45])
def test_without_it_a_square_comes_out_smaller_by_the_kerf_and_a_hole_larger(kerf):
    """*published relation* (a laser laboratory's page on kerf): kerf = size drawn - size measured of a solid
    square that was cut along its lines; a hole measures the kerf more.  So one test square tells the width to
    be set, and a path with that width brings the square back to what was drawn."""
    (frame,) = Outline.rectangle(0, 0, 50, 50).minus(Outline.rectangle(20, 20, 30, 30))
    out = left_over(frame, kerf)
    side, _ = measured(out)
    hole, _ = measured(Polygon(out.interiors[0]))
    found = 50 - side
    assert found == pytest.approx(kerf, abs=1e-3)
    assert hole - 10 == pytest.approx(kerf, abs=1e-3)
    (path,) = moved(frame, found / 2)
    assert measured(left_over(path, kerf)) == pytest.approx((50, 50), abs=2e-3)


def test_a_tongue_fits_its_slot():
    """*arithmetic*: with the kerf set a tongue of 30 mm and a slot of 30.2 mm keep their 0.2 mm of play;
    without it play grows by twice the kerf."""
    kerf = 0.3
    tongue = Outline.rectangle(0, 0, 30, 5)
    (slotted,) = Outline.rectangle(0, 0, 80, 40).minus(Outline.rectangle(20, 20, 50.2, 25.2))
    true = left_over(moved(tongue, kerf / 2)[0], kerf), left_over(moved(slotted, kerf / 2)[0], kerf)
    raw = left_over(tongue, kerf), left_over(slotted, kerf)
    for (piece, plate), play in ((true, 0.2), (raw, 0.2 + 2 * kerf)):
        slot = Polygon(plate.interiors[0])
        assert measured(slot)[0] - measured(piece)[0] == pytest.approx(play, abs=2e-3)


def test_what_falls_out_is_the_part_but_for_the_tools_own_radius():
    """*arithmetic*: dents keep a fillet of the tool's radius, (1 - pi / 4) r^2 at a right angle; nothing is lost.

    An L with a hole and rounded by an arc: corners that stand out come out sharp."""
    kerf = 0.4
    (ell,) = Outline.rectangle(0, 0, 80, 60).minus(
        Outline.rectangle(30, 20, 81, 61), Outline.circle(15, 15, 6), Outline.circle(0, 60, 12)
    )
    out = left_over(moved(ell, kerf / 2)[0], kerf)
    fillet = (1 - math.pi / 4) * (kerf / 2) ** 2
    more = out.difference(ell.polygon).area
    assert more == pytest.approx(fillet, abs=0.05 * 80 * 0.011)
    assert ell.polygon.difference(out).area < 0.011 * ell.polygon.length
    assert out.boundary.hausdorff_distance(ell.polygon.boundary) < kerf / 2 * (math.sqrt(2) - 1) + 0.011
