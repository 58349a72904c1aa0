"""Tiles show everything, overlap, part the drawing without gaps, and are as few as can be."""

import itertools
import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiLineString, MultiPolygon

from foamcut.draw.tiles import KEEP_OFF_MM, OVERLAP_MM, Content, Room, best_tiling, joined

ROOMS = (Room(width_mm=60, height_mm=90, lying=False), Room(width_mm=85, height_mm=50, lying=True))

boxes = st.tuples(
    st.integers(-200, 200), st.integers(-200, 200), st.integers(1, 180), st.integers(1, 180)
).map(lambda b: shapely.box(b[0], b[1], b[0] + b[2], b[1] + b[3]))
triangles = (
    st.tuples(*[st.tuples(st.floats(-150, 150), st.floats(-150, 150))] * 3)
    .map(shapely.Polygon)
    .filter(lambda p: p.is_valid and p.area > 1)
)
lines = (
    st.tuples(*[st.tuples(st.floats(-150, 150), st.floats(-150, 150))] * 2)
    .map(shapely.LineString)
    .filter(lambda line: line.length > 1)
)
shapes = st.lists(st.one_of(boxes, triangles), min_size=1, max_size=4)


def content(polygons, strokes=(), **more):
    return Content(area=joined(polygons), lines=MultiLineString(list(strokes)), **more)


@given(shapes, st.lists(lines, max_size=3))
def test_every_point_is_in_the_core_of_one_tile(polygons, strokes):
    """Trimmed tiles show all of the material and every line, and no two of them share any area."""
    tiling = best_tiling(content(polygons, strokes), ROOMS)
    cores = [shapely.box(*cell.core) for cell in tiling.cells]
    everything = shapely.union_all([*polygons, *(s.buffer(0.01) for s in strokes)])

    assert everything.difference(shapely.union_all(cores).buffer(0.02)).area == pytest.approx(0, abs=1e-6)
    for a, b in itertools.combinations(cores, 2):
        assert a.intersection(b).area == pytest.approx(0, abs=1e-6)


@given(shapes)
def test_neighbours_overlap_and_windows_hold_their_cores(polygons):
    """Windows of neighbours share at least the overlap, along their whole side; each window has its room."""
    tiling = best_tiling(content(polygons), ROOMS)
    views = {(cell.row, cell.column): shapely.box(*cell.view) for cell in tiling.cells}
    size = (tiling.room.width_mm, tiling.room.height_mm)
    for cell in tiling.cells:
        x0, y0, x1, y1 = cell.view
        assert (x1 - x0, y1 - y0) == pytest.approx(size[::-1] if tiling.turned else size)
        assert views[cell.row, cell.column].buffer(1e-5).contains(shapely.box(*cell.core))
        for other in (cell.row + 1, cell.column), (cell.row, cell.column + 1):
            if other in views:
                x0, y0, x1, y1 = views[cell.row, cell.column].intersection(views[other]).bounds
                assert min(x1 - x0, y1 - y0) >= OVERLAP_MM - 1e-5


@given(shapes)
def test_no_printed_tile_is_blank(polygons):
    """Every printed core has material on it, and cells that are not printed have none."""
    what = content(polygons)
    tiling = best_tiling(what, ROOMS)
    assert all(what.meets(cell.core) for cell in tiling.cells)
    assert 1 <= len(tiling.cells) <= tiling.columns * tiling.rows


@settings(max_examples=15)
@given(st.lists(boxes, min_size=1, max_size=3))
def test_as_few_pages_as_trying_everything(polygons):
    """No grid of windows with whole offsets, in either paper direction, turned or not, needs fewer pages."""
    what = content(polygons)
    assert len(best_tiling(what, ROOMS).cells) <= fewest_pages(what)


def fewest_pages(what: Content) -> int:
    """By trying every offset of 3 mm: how many cores meet anything, on a grid without an end."""
    fewest = math.inf
    for turned, room in itertools.product((False, True), ROOMS):
        laid = what.laid(turned=turned)
        x0, y0, x1, y1 = laid.bounds()
        step_x, step_y = room.width_mm - OVERLAP_MM, room.height_mm - OVERLAP_MM
        if x1 - x0 <= room.width_mm and y1 - y0 <= room.height_mm:
            return 1
        for left, low in itertools.product(range(0, step_x, 3), range(0, step_y, 3)):
            columns = range(math.ceil((x1 - x0) / step_x) + 1)
            rows = range(math.ceil((y1 - y0) / step_y) + 1)
            xs = [(x0 - left + i * step_x, x0 - left + (i + 1) * step_x) for i in columns]
            ys = [(y0 - low + i * step_y, y0 - low + (i + 1) * step_y) for i in rows]
            cores = [shapely.box(a, c, b, d) for (a, b), (c, d) in itertools.product(xs, ys)]
            fewest = min(fewest, sum(shapely.intersects(what_of(laid), cores)))
    return int(fewest)


def what_of(laid: Content) -> MultiPolygon:
    shapely.prepare(laid.area)
    return laid.area


def test_exact_fit_is_one_page():
    """A drawing as large as the room needs one tile, one nanometre more needs two."""
    assert len(best_tiling(content([shapely.box(0.5, 0.25, 60.5, 90.25)]), ROOMS[:1]).cells) == 1
    assert len(best_tiling(content([shapely.box(0, 0, 90.000001, 60.000001)]), ROOMS[:1]).cells) == 2


def test_two_windows_cover_twice_the_room_less_the_overlap():
    """110 = 60 + 60 - 10 mm fits on two tiles of 60 mm."""
    tiling = best_tiling(content([shapely.box(0, 0, 110, 90)]), ROOMS[:1])
    assert (tiling.columns, tiling.rows, len(tiling.cells)) == (2, 1, 2)


def test_drawing_is_turned_when_that_saves_pages():
    """A strip of 85 x 20 mm fits the upright page only when it is turned."""
    tiling = best_tiling(content([shapely.box(0, 0, 85, 20)]), ROOMS[:1])
    assert tiling.turned and len(tiling.cells) == 1


def test_blank_corner_is_left_out():
    """An L needs three of four cells."""
    ell = [shapely.box(0, 0, 100, 20), shapely.box(0, 0, 20, 150)]
    tiling = best_tiling(content(ell), ROOMS[:1])
    assert (tiling.columns, tiling.rows, len(tiling.cells)) == (2, 2, 3)
    assert not tiling.printed(0, 1)


@given(st.lists(st.integers(4, 36), min_size=1, max_size=8, unique=True))
def test_seams_keep_off_slots_when_there_is_room(places):
    """With slots of 2 mm in a strip that leaves slack, no seam comes within reach of a slot if one offset allows it."""
    slots = [(4.0 * x, 5.0, 4.0 * x + 2, 15.0) for x in places]
    strip = shapely.box(0, 0, 150, 20)
    plain = best_tiling(content([strip]), ROOMS[:1])
    tiling = best_tiling(content([strip], keep_off=tuple(slots)), ROOMS[:1])
    assert len(tiling.cells) == len(plain.cells)
    axis = tiling.upwards if tiling.turned else tiling.across
    hits = sum(a - KEEP_OFF_MM < seam < b + KEEP_OFF_MM for seam in axis[1:-1] for a, _, b, _ in slots)
    # a window of 90 mm, two columns: the one seam may lie anywhere from 65 to 85 mm
    possible = min(
        sum(a - KEEP_OFF_MM < seam < b + KEEP_OFF_MM for a, _, b, _ in slots) for seam in range(65, 86)
    )
    assert hits == possible


def test_nothing_to_show_is_refused():
    with pytest.raises(ValueError, match="nothing to tile"):
        best_tiling(content([]), ROOMS)


def test_room_that_is_all_overlap_is_refused():
    with pytest.raises(ValueError, match="too small"):
        best_tiling(content([shapely.box(0, 0, 9, 9)]), [Room(width_mm=20, height_mm=90, lying=False)])
