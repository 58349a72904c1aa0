"""Register holes: on sheets worked on both faces, off everything, as far apart as the room allows."""

import math
from dataclasses import replace
from itertools import combinations
from random import Random

import pytest
import shapely

from foamcut.flat.bevels import Bevel
from foamcut.flat.outline import Outline, straight
from foamcut.flat.part import Part
from foamcut.flat.placement import Placement
from foamcut.nest.register import with_register
from foamcut.nest.values import Bed, Layout, Sheet
from tests.draw.drawn_parts import BOARD, layout, part
from tests.nest.making import nasty_outline

REACH = 1.5  # of a hole from its middle, mm
NEAR_MM = 0.001


def worked(outline: Outline, name: str = "panel") -> Part:
    """A part with an edge that is bevelled from behind."""
    run = straight([(0.0, 0.0), (1.0, 0.0)])
    bevel = Bevel(key="parts.panel.bevels[0]", angle_deg=45, back=True, width_mm=5, edge=(run,), runs=(run,))
    return part(outline, name, bevels=(bevel,))


def sheet_of(each: Layout, **changes) -> Sheet:
    """The first sheet with its register holes."""
    return with_register(replace(each, sheets=(replace(each.sheets[0], **changes),))).sheets[0]


def small(x: float = 100, y: float = 100, size: float = 50) -> Layout:
    return layout((worked(Outline.rectangle(0, 0, size, size)), Placement(x_mm=x, y_mm=y)), size=(400, 300))


def test_holes_lie_in_opposite_corners_of_an_almost_empty_sheet():
    """Margin 3 mm and half a hole off the edges; of the two diagonals, equally long, the one with lower y."""
    assert sheet_of(small()).register == ((4.5, 4.5), (395.5, 295.5))


def test_a_sheet_that_is_worked_on_one_face_has_none():
    each = layout((part(Outline.rectangle(0, 0, 50, 50)), Placement(x_mm=100, y_mm=100)))
    assert sheet_of(each, register=((1.0, 1.0), (90.0, 90.0))).register == ()


def test_a_piece_in_the_corner_drives_a_hole_away_by_the_gap():
    first, second = sheet_of(small(3, 3)).register
    assert {first, second} == {(4.5, 295.5), (395.5, 4.5)}
    both = layout(
        (worked(Outline.rectangle(0, 0, 50, 50)), Placement(x_mm=3, y_mm=3)),
        (worked(Outline.rectangle(0, 0, 50, 50)), Placement(x_mm=3, y_mm=247)),
        size=(400, 300),
    )
    holes = sheet_of(both).register
    assert math.dist(*holes) > 380
    assert all(not 4.5 < x < 53 + 2 + REACH - NEAR_MM or 53 + 3.4 < y < 247 - 3.4 for x, y in holes)


def test_a_full_sheet_has_none_and_a_cramped_one_neither():
    """Less than 50 mm apart they turn the sheet too little exactly."""
    full = layout((worked(Outline.rectangle(0, 0, 394, 294)), Placement(x_mm=3, y_mm=3)), size=(400, 300))
    assert sheet_of(full).register == ()
    for room, count in ((20, 0), (60, 2)):
        each = layout(
            (worked(Outline.rectangle(0, 0, 394, 297 - room)), Placement(x_mm=3, y_mm=3)), size=(400, 300)
        )
        strip = sheet_of(each, outline=Outline.rectangle(0, 0, 50, 300))
        assert len(strip.register) == count


def test_rectangles_for_the_bed_are_kept_free():
    beds = (Bed(number=1, corner=(3, 3), width_mm=200, height_mm=150, pieces=()),)
    holes = sheet_of(small(), beds=beds).register
    rectangle = shapely.box(3, 3, 203, 153)
    assert len(holes) == 2
    assert all(shapely.Point(hole).distance(rectangle) >= REACH + BOARD.gap_mm - NEAR_MM for hole in holes)


def allowed(sheet: Sheet, x: float, y: float) -> bool:
    """Whether a hole may lie there, by distances alone."""
    middle = shapely.Point(x, y)
    inside = sheet.outline.polygon.contains(middle)
    off_edge = sheet.outline.polygon.boundary.distance(middle) >= BOARD.margin_mm + REACH - NEAR_MM
    pieces = all(p.outline.polygon.distance(middle) >= BOARD.gap_mm + REACH - NEAR_MM for p in sheet.placed)
    return bool(inside and off_edge and pieces)


@pytest.mark.parametrize("seed", range(6))
def test_no_two_places_on_a_grid_are_farther_apart(seed):
    """Brute force: every place that distances allow on a grid of 10 mm, on a scrap with a void."""
    rng = Random(seed)
    (scrap,) = Outline.of_points([(0, 0), (300, 0), (240, 200), (0, 180)]).minus(
        Outline.circle(rng.uniform(60, 200), 100, 30)
    )
    placed = [
        (
            worked(nasty_outline(rng), f"piece-{i}"),
            Placement(x_mm=rng.uniform(20, 260), y_mm=rng.uniform(10, 170)),
        )
        for i in range(8)
    ]
    sheet = sheet_of(layout(*placed, size=(300, 200)), outline=scrap)
    grid = [(x, y) for x in range(0, 301, 10) for y in range(0, 201, 10) if allowed(sheet, x, y)]
    best = max((math.dist(a, b) for a, b in combinations(grid, 2)), default=0.0)
    if sheet.register:
        assert all(allowed(sheet, *hole) for hole in sheet.register)
        assert math.dist(*sheet.register) >= max(50.0, best) - NEAR_MM
    else:
        assert best < 50


def test_two_hundred_pieces_and_the_same_holes_again():
    rng = Random(7)
    placed = [
        (
            worked(nasty_outline(rng), f"piece-{i}"),
            Placement(x_mm=40.0 * (i % 20) + 90, y_mm=60.0 * (i // 20) + 60),
        )
        for i in range(200)
    ]
    each = layout(*placed)
    first, second = sheet_of(each), sheet_of(each)
    assert first.register == second.register != ()
    assert all(allowed(first, *hole) for hole in first.register)
    assert all(round(value, 6) == value for hole in first.register for value in hole)
