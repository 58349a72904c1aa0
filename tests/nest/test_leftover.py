"""What a sheet keeps in one piece: against every rectangle of a grid, and by construction."""

from dataclasses import replace
from decimal import Decimal
from itertools import product
from random import Random

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from foamcut.flat.joint import Piece
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.nest.leftover import USEFUL_MM, Box, free_area, largest_left, with_left
from foamcut.nest.register import HOLE_MM
from foamcut.nest.values import Bed, Bound, Kind, Layout, Left, Placed, Sheet
from tests.nest.making import nasty_outline, part, rectangle, stock


def most_by_hand(room: Box, obstacles: list[Box], least: int = 1) -> int:
    """Area of the largest of all rectangles of the grid (arithmetic)."""
    x0, y0, x1, y1 = room
    best = 0
    for left, low in product(range(x0, x1), range(y0, y1)):
        for right, high in product(range(left + least, x1 + 1), range(low + least, y1 + 1)):
            if all(o[0] >= right or o[2] <= left or o[1] >= high or o[3] <= low for o in obstacles):
                best = max(best, (right - left) * (high - low))
    return best


def boxes(most: int) -> st.SearchStrategy[list[Box]]:
    side = st.tuples(st.integers(-3, 9), st.integers(1, 5))
    one = st.tuples(side, side).map(lambda s: (s[0][0], s[1][0], s[0][0] + s[0][1], s[1][0] + s[1][1]))
    return st.lists(one, max_size=most)


@given(boxes(8))
def test_no_rectangle_of_the_grid_is_larger_than_the_free_area(obstacles: list[Box]):
    room = (-1, 0, 8, 7)
    assert free_area(room, obstacles) == most_by_hand(room, obstacles)


def test_a_bare_room_is_all_free_and_a_full_one_has_nothing():
    assert free_area((0, 0, 30, 20), []) == 600
    assert free_area((0, 0, 30, 20), [(0, 0, 30, 20)]) == 0
    assert free_area((0, 0, 30, 20), [(-5, 3, 40, 4)]) == 30 * 16


def sheet_of(
    *outlines: Outline, board: Outline | None = None, kind: Kind = Kind.NEW, number: int = 1
) -> Sheet:
    """A board of 700 x 500 mm, or of an outline, with pieces where their outlines lie."""
    whole = board or rectangle(700, 500)
    placed = tuple(
        Placed(
            id=f"p{i}-1",
            copy=1,
            piece=Piece.whole(part(f"p{i}", outline)),
            placement=Placement(),
            outline=outline,
        )
        for i, outline in enumerate(outlines)
    )
    return Sheet(
        stock="board",
        number=number,
        kind=kind,
        source="stock.board.sheets[0]",
        width_mm=whole.bounds[2],
        height_mm=whole.bounds[3],
        outline=whole,
        placed=placed,
    )


def board_stock(gap: float = 0.0, margin: float = 0.0) -> Stock:
    return stock((700, 500), margin=margin, gap=gap)


def left_box(left: Left) -> Polygon:
    x, y = left.corner
    return shapely.box(x, y, x + left.width_mm, y + left.height_mm)


def test_beside_an_l_the_larger_of_two_rectangles_is_left():
    """An L along the left and the lower edge, 200 and 120 wide, gap 2.5: 497.5 x 377.5, in whole mm (arithmetic)."""
    l_shape = Outline.of_points([(0, 0), (700, 0), (700, 120), (200, 120), (200, 500), (0, 500)])
    left = largest_left(sheet_of(l_shape), board_stock(gap=2.5, margin=10))
    assert left == Left(corner=(203.0, 123.0), width_mm=497.0, height_mm=377.0)


def test_the_margin_is_board_like_any_other():
    left = largest_left(sheet_of(Outline.rectangle(10, 10, 300, 490)), board_stock(gap=2, margin=10))
    assert left == Left(corner=(302.0, 0.0), width_mm=398.0, height_mm=500.0)


def test_inch_steps_are_whole_sixteenths():
    """39.4 mm off one side of 700: 660.6 mm are 416 sixteenths and a bit, 500 are 314 and a bit (arithmetic)."""
    step = 25.4 / 16
    left = largest_left(sheet_of(Outline.rectangle(0, 0, 39.4, 500)), board_stock(), step)
    assert (left.width_mm, left.height_mm) == pytest.approx((416 * 1.5875, 314 * 1.5875))
    assert left.corner == (pytest.approx(700 - 416 * 1.5875), 0)


def test_beds_and_register_holes_are_kept_off():
    plain = sheet_of(Outline.rectangle(50, 50, 60, 60))
    bed = Bed(number=1, corner=(10.0, 10.0), width_mm=200.0, height_mm=480.0, pieces=("p0-1",))
    left = largest_left(replace(plain, beds=(bed,)), board_stock(gap=2))
    assert left == Left(corner=(212.0, 0.0), width_mm=488.0, height_mm=500.0)
    left = largest_left(replace(plain, beds=(bed,), register=((600.0, 250.0),)), board_stock(gap=2))
    assert left == Left(corner=(212.0, 0.0), width_mm=384.0, height_mm=500.0)
    assert left.corner[0] + left.width_mm <= 600 - HOLE_MM / 2 - 2


def test_a_hole_of_a_piece_is_no_room():
    (frame,) = rectangle(690, 490).minus(Outline.rectangle(20, 20, 670, 470))
    assert largest_left(sheet_of(frame), board_stock()) is None


def test_voids_of_an_outline_are_no_room():
    (board,) = rectangle(700, 500).minus(Outline.rectangle(300, 100, 310, 400))
    left = largest_left(sheet_of(board=board), board_stock(gap=5))
    assert left == Left(corner=(310.0, 0.0), width_mm=390.0, height_mm=500.0)


def test_what_is_narrower_than_useful_is_not_told():
    for wide, is_told in ((USEFUL_MM, True), (USEFUL_MM - 0.5, False)):
        left = largest_left(sheet_of(Outline.rectangle(0, 0, 700 - wide, 500)), board_stock())
        assert (left is not None) == is_told


@pytest.mark.parametrize("strip", [USEFUL_MM - 5, USEFUL_MM - 1, USEFUL_MM - 0.01])
def test_a_long_strip_of_scrap_does_not_hide_a_square(strip: float):
    """Strips of almost 35,000 mm² beside a square of 22,500 mm² that alone is wide enough (arithmetic)."""
    corners = [(0, strip), (700, strip), (700, 350), (550, 350), (550, 500), (0, 500)]
    left = largest_left(sheet_of(Outline.of_points(corners)), board_stock())
    assert left == Left(corner=(550.0, 350.0), width_mm=150.0, height_mm=150.0)


@settings(max_examples=40, deadline=None)
@given(boxes(8))
def test_no_rectangle_of_the_grid_is_larger(obstacles: list[Box]):
    """Pieces on a grid of 30 mm and the free rectangles of the same grid (arithmetic)."""
    pieces = [Outline.rectangle(*(30.0 * side for side in box)) for box in obstacles]
    left = largest_left(sheet_of(*pieces, board=rectangle(270, 210)), board_stock())
    best = 900 * most_by_hand((0, 0, 9, 7), obstacles, least=2)
    assert (left.width_mm * left.height_mm if left else 0) == best


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.sampled_from([0.0, 2.0, 7.3]), st.sampled_from([1.0, 25.4 / 16]))
def test_it_keeps_off_everything_and_cannot_grow(seed: int, gap: float, step: float):
    """By shapely's distances: never nearer than the gap, and a step more at any side is too much."""
    rng = Random(seed)
    turns = [
        Placement(x_mm=rng.uniform(0, 600), y_mm=rng.uniform(0, 400), turn_deg=rng.uniform(0, 359))
        for _ in range(8)
    ]
    pieces = [nasty_outline(rng).placed(turn) for turn in turns]
    board = Outline.of_points([(0, 30), (250, 0), (700, 0), (700, 350), (420, 500), (0, 500)])
    sheet = sheet_of(*pieces, board=board)
    left = largest_left(sheet, board_stock(gap), step)
    box = left_box(left)
    filled = [Polygon(piece.polygon.exterior) for piece in pieces]
    core = box.buffer(-0.001, join_style="mitre")
    assert board.polygon.covers(core)
    for shape in filled:
        assert box.distance(shape) >= gap - 0.001 and not core.intersects(shape)
    x0, y0, x1, y1 = box.bounds
    for more in (
        (x0 - step, y0, x1, y1),
        (x0, y0 - step, x1, y1),
        (x0, y0, x1 + step, y1),
        (x0, y0, x1, y1 + step),
    ):
        grown = shapely.box(*more)
        inner = grown.buffer(-1e-4, join_style="mitre")
        is_near = any(inner.intersects(s) or grown.distance(s) < gap - 1e-4 for s in filled)
        assert is_near or not board.polygon.covers(inner)


BOUND = Bound(
    stock="board", new=2, at_least=1, cost=None, cost_at_least=Decimal(1), proven=False, reason="area"
)


def test_it_is_told_of_the_new_board_with_the_least_on_it():
    small, large = Outline.rectangle(0, 0, 100, 100), Outline.rectangle(0, 0, 400, 400)
    kinds = (Kind.ON_HAND, Kind.NEW, Kind.NEW, Kind.NEW)
    pieces = (small, large, Outline.rectangle(0, 0, 200, 100), Outline.rectangle(0, 0, 100, 200))
    sheets = [sheet_of(p, kind=k, number=i) for i, (k, p) in enumerate(zip(kinds, pieces, strict=True), 1)]
    told = with_left(Layout(stock=board_stock(), sheets=tuple(sheets), bound=BOUND), 1.0)
    assert [sheet.left for sheet in told.sheets[:3]] == [None, None, None]
    assert told.sheets[3].left == Left(corner=(100.0, 0.0), width_mm=600.0, height_mm=500.0)
    assert with_left(told, 1.0) == told


def test_boards_from_the_shelf_alone_tell_nothing():
    sheet = sheet_of(rectangle(100, 100), kind=Kind.ON_HAND)
    layout = Layout(stock=board_stock(), sheets=(sheet,), bound=BOUND)
    assert with_left(layout, 1.0) == layout


def test_boards_below_a_step_or_all_margin_keep_nothing():
    for width, height in ((0.5, 500.0), (500.0, 0.5), (0.5, 0.5)):
        assert largest_left(sheet_of(board=rectangle(width, height)), board_stock(gap=2)) is None
    assert largest_left(sheet_of(board=rectangle(300, 60)), board_stock(margin=30)) is None
    assert largest_left(sheet_of(board=rectangle(300, 61)), board_stock(margin=30)) is not None
