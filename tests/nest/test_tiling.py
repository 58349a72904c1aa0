"""Boards cut up and put together again: what is found is checked by shapely alone."""

from random import Random

import pytest
from shapely import Polygon, affinity, box
from shapely.ops import unary_union

from foamcut.flat.placement import Placement
from foamcut.nest.tiling import Tile, tile
from tests.nest.making import dissection

QUARTERS = ((0.0, False), (90.0, False), (180.0, False), (270.0, False))


def _tiles(*polygons: Polygon, turns=QUARTERS) -> list[Tile]:
    return [Tile(polygon=p, turns=turns) for p in polygons]


def _placed(one: Tile, at: Placement) -> Polygon:
    polygon = affinity.scale(one.polygon, 1, -1, origin=(0, 0)) if at.flipped else one.polygon
    return affinity.translate(affinity.rotate(polygon, at.turn_deg, origin=(0, 0)), at.x_mm, at.y_mm)


def _check(tiles: list[Tile], room, found, boards: int = 1) -> None:
    """Nothing overlaps by 0.001 mm, nothing leaves the room by it, and every board is full."""
    assert found is not None
    assert len(found) == len(tiles)
    by_board: list[list[Polygon]] = [[] for _ in range(boards)]
    for one, (board, at) in zip(tiles, found, strict=True):
        assert one.askew or (at.turn_deg, at.flipped) in one.turns
        by_board[board].append(_placed(one, at))
    for polygons in by_board:
        for k, p in enumerate(polygons):
            assert box(*room).buffer(0.001, join_style="mitre").covers(p)
            inner = p.buffer(-0.001, join_style="mitre")
            assert not any(inner.intersects(q) for q in polygons[k + 1 :])
        rest = box(*room).area - unary_union(polygons).area
        assert abs(rest) < 1e-6 * box(*room).area + 0.001 * sum(p.length for p in polygons)


def test_four_squares_fill_a_square():
    """arithmetic: four quarters."""
    tiles = _tiles(*[box(0, 0, 50, 50)] * 4)
    _check(tiles, (10, 10, 110, 110), tile(tiles, (10, 10, 110, 110), 1, 100))


def test_pieces_fill_several_boards():
    """arithmetic: two halves, or four quarters, to a board."""
    tiles = _tiles(*[box(0, 0, 50, 50)] * 4, box(0, 0, 100, 50), box(0, 0, 50, 100))
    _check(tiles, (0, 0, 100, 100), tile(tiles, (0, 0, 100, 100), 2, 200), boards=2)


def test_a_pinwheel_is_found():
    """arithmetic: 2 x 3 four times around a unit square, 5 x 5 in all."""
    tiles = _tiles(*[box(0, 0, 20, 30)] * 4, box(0, 0, 10, 10))
    _check(tiles, (0, 0, 50, 50), tile(tiles, (0, 0, 50, 50), 1, 200))


def test_nine_squares_of_different_sizes_fill_a_rectangle():
    """published: Z. Moron, 1925, 33 x 32 by squares of 18, 15, 14, 10, 9, 8, 7, 4, 1; from memory."""
    sides = (18, 15, 14, 10, 9, 8, 7, 4, 1)
    assert sum(s * s for s in sides) == 33 * 32
    tiles = _tiles(*(box(0, 0, s, s) for s in sides))
    _check(tiles, (0, 0, 33, 32), tile(tiles, (0, 0, 33, 32), 1, 2000))


@pytest.mark.parametrize("seed", range(6))
def test_a_board_cut_into_rectangles_comes_together(seed):
    rng = Random(seed)
    sizes = dissection(rng, 1000, 700, 12)
    tiles = _tiles(*(box(3, -5, 3 + h, -5 + w) if rng.random() < 0.5 else box(0, 0, w, h) for w, h in sizes))
    _check(tiles, (0, 0, 1000, 700), tile(tiles, (0, 0, 1000, 700), 1, 4000))


def _grid(rng: Random) -> list[Polygon]:
    corners = {
        (i, j): (
            100.0 * i + (rng.uniform(-30, 30) if 0 < i < 5 else 0),
            100.0 * j + (rng.uniform(-30, 30) if 0 < j < 3 else 0),
        )
        for i in range(6)
        for j in range(4)
    }
    around = ((0, 0), (1, 0), (1, 1), (0, 1))
    return [Polygon([corners[i + a, j + b] for a, b in around]) for i in range(5) for j in range(3)]


def _turned(rng: Random, polygons: list[Polygon], places: int) -> list[Polygon]:
    """The pieces in disorder, each turned, moved, and rounded on its own."""
    found = []
    for p in polygons:
        moved = affinity.translate(p, rng.uniform(-900, 900), rng.uniform(-900, 900))
        moved = affinity.rotate(moved, rng.choice((0, 90, 180, 270)), origin=(0, 0))
        found.append(Polygon([(round(x, places), round(y, places)) for x, y in moved.exterior.coords[:-1]]))
    rng.shuffle(found)
    return found


@pytest.mark.parametrize("places", [3, 6])
@pytest.mark.parametrize("seed", range(4))
def test_a_grid_with_corners_moved_comes_together(seed, places):
    rng = Random(seed)
    tiles = _tiles(*_turned(rng, _grid(rng), places))
    _check(tiles, (0, 0, 500, 300), tile(tiles, (0, 0, 500, 300), 1, 2000))


@pytest.mark.parametrize("flipped", [False, True])
def test_rectangles_drawn_askew_are_laid_along_the_room(flipped):
    """arithmetic: a pinwheel of 2 x 3 around a unit square, each piece drawn at another angle."""
    drawn = [affinity.rotate(box(0, 0, 20, 30), 17.0 * k, origin=(0, 0)) for k in range(4)]
    tiles = [Tile(polygon=p, turns=((0.0, flipped),), askew=True) for p in [*drawn, box(0, 0, 10, 10)]]
    found = tile(tiles, (0, 0, 50, 50), 1, 500)
    assert found is not None
    assert all(at.flipped == flipped for _, at in found)
    _check(tiles, (0, 0, 50, 50), found)


def test_a_concave_piece_and_what_was_cut_out_of_it_come_together():
    """arithmetic: a T and two squares are 30 x 20; a stair turned over fills what a stair leaves of 30 x 30."""
    tee = Polygon([(10, 0), (20, 0), (20, 10), (30, 10), (30, 20), (0, 20), (0, 10), (10, 10)])
    tiles = _tiles(affinity.rotate(tee, 90), box(0, 0, 10, 10), box(5, 5, 15, 15))
    _check(tiles, (0, 0, 30, 20), tile(tiles, (0, 0, 30, 20), 1, 100))
    stair = Polygon([(0, 0), (30, 0), (30, 10), (20, 10), (20, 20), (10, 20), (10, 30), (0, 30)])
    rest = box(0, 0, 30, 30).difference(stair)
    tiles = [Tile(polygon=p, turns=((0.0, True), (90.0, True))) for p in (stair, rest)]
    _check(tiles, (0, 0, 30, 30), tile(tiles, (0, 0, 30, 30), 1, 100))


def test_a_piece_a_hundredth_too_long_is_not_forced_in():
    """arithmetic: 50.01 + 49.99 is 100; 60.01 has no partner among 40, 30, 69.99 (areas add up to the board)."""
    tiles = _tiles(box(0, 0, 50.01, 50), *[box(0, 0, 50, 50)] * 2, box(0, 0, 49.99, 50))
    assert tile(tiles, (0, 0, 100, 100), 1, 2000) is not None
    tiles = _tiles(box(0, 0, 60.01, 50), box(0, 0, 40, 50), box(0, 0, 30, 50), box(0, 0, 69.99, 50))
    assert tile(tiles, (0, 0, 100, 100), 1, 2000) is None


def test_areas_that_do_not_add_up_need_no_search():
    tiles = _tiles(*[box(0, 0, 50, 50)] * 3)
    assert tile(tiles, (0, 0, 100, 100), 1, 10**9) is None
    assert tile([], (0, 0, 100, 100), 1, 10) is None


def test_an_end_is_made_when_the_tries_are_used_up_or_somebody_asks():
    rng = Random(5)
    tiles = _tiles(*(box(0, 0, w, h) for w, h in dissection(rng, 1000, 700, 12)))
    assert tile(tiles, (0, 0, 1000, 700), 1, 3) is None
    assert tile(tiles, (0, 0, 1000, 700), 1, 4000, lambda: True) is None


def test_the_same_comes_out_twice():
    rng = Random(8)
    tiles = _tiles(*_turned(rng, _grid(rng), 6))
    first = tile(tiles, (0, 0, 500, 300), 1, 2000)
    assert first is not None
    assert tile(tiles, (0, 0, 500, 300), 1, 2000) == first
