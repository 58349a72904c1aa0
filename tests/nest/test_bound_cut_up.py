"""Boards cut up along slanted lines: corners are rounded to the nanometre, and the board still holds all pieces."""

import math
from random import Random

import pytest
from shapely import LineString, Polygon
from shapely.ops import split

from foamcut.flat.drawn import Face, Turns
from foamcut.flat.joint import Piece
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.nest.apart import Kin
from foamcut.nest.bound import Least, bound
from foamcut.nest.floor import floor
from foamcut.nest.rooms import sources
from tests.nest.making import laid, part, rectangle, stock


def _floor(board: Stock, parts: list[Part]) -> Least:
    rooms = sources(board)
    return floor([Kin(Piece.whole(one), one.count, (True,) * len(rooms)) for one in parts], board, rooms)


def _cut(rng: Random, width: float, height: float, count: int) -> list[Polygon]:
    """A rectangle cut from edge to edge, the largest piece first, mostly on the slant."""
    pieces = [Polygon([(0, 0), (width, 0), (width, height), (0, height)])]
    while len(pieces) < count:
        pieces.sort(key=lambda piece: piece.area)
        piece = pieces.pop()
        middle = piece.centroid
        turn = rng.choice([0, math.pi / 2, rng.uniform(0, math.pi), rng.uniform(0, math.pi)])
        dx, dy = 1e4 * math.cos(turn), 1e4 * math.sin(turn)
        line = LineString([(middle.x - dx, middle.y - dy), (middle.x + dx, middle.y + dy)])
        pieces.extend(split(piece, line).geoms)
    return pieces


def _parts(rng: Random, board: Stock, boards: int, turns: Turns, face: Face) -> list[Part]:
    """What so many boards were cut into, half the gap off all round, each piece drawn turned."""
    size, gap = board.sheets[0], board.gap_mm
    width, height = (v - 2 * board.margin_mm + gap for v in (size.width_mm, size.height_mm))
    angles = {Turns.NONE: [0.0], Turns.HALF: [0.0, 180.0], Turns.QUARTER: [0.0, 90.0, 180.0, 270.0]}
    found: list[Part] = []
    for polygon in [one for _ in range(boards) for one in _cut(rng, width, height, rng.randrange(2, 16))]:
        less = polygon.buffer(-gap / 2, join_style="mitre", mitre_limit=50) if gap else polygon
        if less.is_empty or not isinstance(less, Polygon):
            continue
        outline = Outline.of_points(list(less.exterior.coords)[:-1])
        turn = rng.choice(angles[turns]) if turns in angles else rng.uniform(0, 360)
        flipped = face is Face.EITHER and rng.random() < 0.5
        outline = outline.placed(Placement(turn_deg=turn, flipped=flipped))
        if outline.fault() is None:
            found.append(part(f"p{len(found)}", outline, face=face, turns=turns))
    return found


@pytest.mark.parametrize("turns", list(Turns))
@pytest.mark.parametrize("gap", [0.0, 0.5, 2.0])
def test_a_board_cut_up_on_the_slant_is_never_proven_to_be_two(gap: float, turns: Turns) -> None:
    """Arithmetic: the boards that were cut up hold the pieces, each off by no more than roundings."""
    for seed in range(16):
        rng = Random(seed)
        boards, margin = rng.randrange(1, 4), rng.choice([0.0, 3.0, 6.35])
        width, height = rng.choice([(100.0, 60.0), (749.3, 495.3), (103.874864, 186.552783)])
        board = stock((width + 2 * margin, height + 2 * margin), margin=margin, gap=gap)
        parts = _parts(rng, board, boards, turns, rng.choice([Face.INNER, Face.EITHER]))
        assert _floor(board, parts).boards <= boards


def test_what_only_roundings_add_is_not_told_as_more_than_a_board() -> None:
    """Arithmetic: twelve pieces of one board of 100 by 60; their corners' roundings make 1.000000002 boards."""
    board = stock((100, 60))
    outlines = [Outline.of_points(list(one.exterior.coords)[:-1]) for one in _cut(Random(7), 100, 60, 12)]
    found = _floor(board, [part(f"p{i}", outline) for i, outline in enumerate(outlines)])
    assert found.boards == 1
    assert bound(board, found, 1, found.cost).reason == "proven: the parts cover 1 board, so 1 is needed and 1 is used"


def test_what_is_more_than_roundings_is_still_proven() -> None:
    """Arithmetic: four quarters of a board are one board, and a tile of 1 mm more does not go on it."""
    quarters = [part("quarter", rectangle(50, 30), 4)]
    assert laid(stock((100, 60)), *quarters).bound.at_least == 1
    assert laid(stock((100, 60)), *quarters, part("tile", rectangle(1, 1))).bound.at_least == 2


def test_a_tile_of_less_than_what_placing_may_be_off_by_proves_nothing() -> None:
    """Arithmetic: four tiles of 50.0004 mm stand 0.0008 mm over 100, less than the 0.001 that is allowed."""
    assert _floor(stock((100, 100)), [part("tile", rectangle(50.0004, 50.0004), 4)]).boards == 1
    assert _floor(stock((100, 100)), [part("tile", rectangle(50.02, 50.02), 4)]).boards > 1
