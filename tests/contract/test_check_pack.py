"""The pack checker itself: each rule on a fragment written by hand, so that it does not lean on the program."""

import copy
import json
import math
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from pack_bound import area_bound
from pack_design import Board, Stock, size_mm, true_length_mm
from pack_geometry import (
    Track,
    match_rings,
    mirrored,
    move_points,
    moved,
    polygon,
    ring_faults,
    unmove_points,
)
from pack_layout import Layout, read_layout
from pack_layout_checks import check_layout
from pack_lines import has_bar
from pack_report import Report
from pack_schema import number_fault, read_json
from pack_sheets import allowed_turn
from pack_tables import HEADER, check_shopping, file_stem_fault
from pack_templates import _back
from pack_words import says, written
from shapely import LinearRing, Polygon, box

SQUARE = [[0, 0], [10, 0], [10, 10], [0, 10], [0, 0]]
HOLE = [[2, 2], [2, 4], [4, 4], [4, 2], [2, 2]]


@pytest.mark.parametrize("token", ["0", "12", "-3", "0.5", "12.345678", "-0.000001"])
def test_plain_numbers_pass(token: str) -> None:
    assert number_fault(token) is None


@pytest.mark.parametrize("token", ["1e3", "1E-6", "-0", "-0.0", "-0.000000", "0.1234567"])
def test_numbers_with_exponent_minus_nought_or_seven_decimals_are_faults(token: str) -> None:
    assert number_fault(token) is not None


def test_a_key_said_twice_and_nan_are_faults() -> None:
    assert read_json(b'{"a": 1, "a": 2}')[1]
    assert read_json(b'{"a": NaN}')[1]
    assert read_json(b'{"a": [1, 2.5]}') == ({"a": [1, 2.5]}, [])


def test_a_ring_is_closed_runs_its_way_and_starts_at_its_lowest_x_then_y() -> None:
    assert ring_faults(SQUARE, outside=True) == []
    assert ring_faults(HOLE, outside=False) == []
    assert "counter-clockwise" in ring_faults(SQUARE[::-1], outside=True)[0]
    assert "clockwise" in ring_faults(HOLE[::-1], outside=False)[0]
    assert "not closed" in ring_faults(SQUARE[:-1], outside=True)[0]
    assert "lowest x" in ring_faults([*SQUARE[1:], SQUARE[1]], outside=True)[0]
    assert "twice" in ring_faults([[0, 0], *SQUARE], outside=True)[0]


def test_a_placement_mirrors_then_turns_then_moves() -> None:
    """(3, 1) mirrored is (3, -1), a quarter turn counter-clockwise makes it (1, 3), moved by (100, 10) (101, 13)."""
    point = np.array([[3.0, 1.0]])
    assert move_points(point, 100, 10, 90, True).tolist() == [[101.0, 13.0]]
    back = unmove_points(move_points(point, 7, -2, 33.3, True), 7, -2, 33.3, True)
    assert back == pytest.approx(point)
    assert moved(polygon([SQUARE]), x=0, y=0, turn_deg=0, flipped=True).equals(mirrored(polygon([SQUARE])))


@pytest.mark.parametrize(
    ("turn", "turns", "part_grain", "stock_grain", "allowed"),
    [
        (0, "none", "any", "none", True),
        (180, "none", "any", "none", False),
        (180, "half", "any", "x", True),
        (90, "half", "any", "x", False),
        (270, "quarter", "x", "none", True),
        (45, "quarter", "any", "none", False),
        (45, "any", "any", "x", True),
        (45, "any", "x", "x", False),
        (180, "any", "x", "x", True),
        (90, "quarter", "x", "x", False),
        (90, "quarter", "x", "y", True),
        (0, "quarter", "y", "x", False),
        (0, "quarter", "y", "y", True),
    ],
)
def test_turns_and_both_grains_allow_a_turn(
    turn: float, turns: str, part_grain: str, stock_grain: str, allowed: bool
) -> None:
    assert allowed_turn(turn, turns=turns, part_grain=part_grain, stock_grain=stock_grain) is allowed


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("5 mm", 5.0),
        ("3/16 in", 4.7625),
        ("1 1/16 in", 26.9875),
        (".5 cm", 5.0),
        ("4 mm * scale", None),
        (5, None),
    ],
)
def test_true_lengths_are_read_when_they_are_plain(text: object, expected: float | None) -> None:
    assert true_length_mm(text) == expected


def test_sizes_are_read_in_both_units() -> None:
    assert size_mm("700 x 500 mm") == (700.0, 500.0)
    assert size_mm("20 x 30 in") == (508.0, 762.0)


@pytest.mark.parametrize(
    ("stem", "name", "good"),
    [
        ("board", "board", True),
        ("ply-1-5", "ply-1-5", True),
        ("foam-board", "Foam board", False),
        ("con", "con", False),
        ("b" * 41, "b" * 41, False),
        ("Board", "Board", False),
    ],
)
def test_file_names_are_plain_or_carry_digits_of_their_digest(stem: str, name: str, good: bool) -> None:
    assert (file_stem_fault(stem, name) is None) is good


def _layout() -> dict[str, Any]:
    """Two squares of 10 mm with a hole, 2 mm apart, 3 mm inside a board of 28 x 16 mm."""
    rings = [SQUARE, HOLE]

    def at(x: float) -> list[list[list[float]]]:
        return [[[a + x, b + 3] for a, b in ring] for ring in rings]

    return {
        "format": "foamcut-layout",
        "version": 1,
        "units": "mm",
        "made_by": {"foamcut": "0", "seed": 0, "squeezed": False},
        "design": {"name": "p", "revision": "A", "sha256": "0" * 64},
        "stocks": [{"name": "board", "thickness": 5, "margin": 3, "gap": 2, "grain": "none"}],
        "parts": [
            {
                "name": "s",
                "stock": "board",
                "count": 2,
                "hand": "none",
                "face": "inner",
                "grain": "any",
                "turns": "quarter",
                "polygon": rings,
                "pose": None,
            }
        ],
        "pieces": [
            {"id": f"s-{copy}", "part": "s", "copy": copy, "role": "whole", "polygon": rings}
            for copy in (1, 2)
        ],
        "sheets": [
            {
                "stock": "board",
                "number": 1,
                "kind": "new",
                "size": [28, 16],
                "outline": [[[0, 0], [28, 0], [28, 16], [0, 16], [0, 0]]],
                "files": ["sheets/board-1.dxf", "sheets/board-1.svg"],
                "placed": [
                    {"piece": f"s-{copy}", "x": x, "y": 3, "turn_deg": 0, "flipped": False, "polygon": at(x)}
                    for copy, x in ((1, 3), (2, 15))
                ],
            }
        ],
        "bound": [
            {
                "stock": "board",
                "new": 1,
                "at_least": 1,
                "cost": None,
                "cost_at_least": None,
                "proven": True,
                "reason": "one board at least",
            }
        ],
    }


def _faults(document: dict[str, Any]) -> list[str]:
    report = Report()
    layout = read_layout(report, json.dumps(document).encode())
    if layout is not None:
        check_layout(report, layout, None, None, None)
    return [fault.text for fault in report.faults]


def test_a_true_layout_has_no_fault() -> None:
    assert _faults(_layout()) == []


def test_a_piece_0_01_mm_into_the_gap_is_found_and_0_0005_mm_is_within_the_allowance() -> None:
    for step, found in ((0.01, True), (0.0005, False)):
        document = copy.deepcopy(_layout())
        entry = document["sheets"][0]["placed"][1]
        entry["x"] -= step
        entry["polygon"] = [[[round(x - step, 6), y] for x, y in ring] for ring in entry["polygon"]]
        assert any("mm apart" in text for text in _faults(document)) is found


def test_a_piece_in_anothers_hole_keeps_the_gap_to_its_edge() -> None:
    """Distances are measured to the holes' edges: the hole is empty room, not part of the piece."""
    plate = Polygon(box(0, 0, 100, 100).exterior, [box(20, 20, 80, 80).exterior])
    assert plate.distance(box(22, 22, 78, 78)) == pytest.approx(2.0)
    assert plate.intersects(box(10, 22, 78, 78))


@pytest.mark.parametrize(("boards", "bound"), [(1, 1), (2, 2)])
def test_an_exact_filling_of_one_board_is_one_board(boards: int, bound: int) -> None:
    """Margin 0 and gap 0: squares that fill the board to the last bit need that board and no second one."""
    layout = Layout(
        raw={},
        stocks={"board": {"margin": 0, "gap": 0}},
        parts={"s": {"name": "s", "stock": "board", "count": 4 * boards}},
        shapes={"part s": box(0, 0, 50, 25)},
    )
    stock = Stock(
        name="board",
        thickness_mm=5,
        margin_mm=0,
        gap_mm=0,
        grain="none",
        spare=0,
        boards=(Board(size_mm=(100.0, 50.0), price=Decimal("1"), sold_in=1, on_hand=0, offcut=False),),
    )
    assert area_bound(layout, stock) == bound


def test_rings_are_paired_one_to_one() -> None:
    wanted = [LinearRing(SQUARE), LinearRing(HOLE)]
    assert match_rings(wanted, [Polygon(HOLE), Polygon(SQUARE)], on_mm=0.001, off_mm=0.006) == ([], [])
    assert match_rings(wanted, [Polygon(SQUARE), Polygon(SQUARE)], on_mm=0.001, off_mm=0.006) == ([1], [1])


def test_a_circle_of_the_layout_matches_the_true_circle_and_no_other() -> None:
    """Chords 0.005 mm off the arc are allowed to the layout, a radius 0.002 mm too large is not to the drawing."""
    radius = 30.0
    steps = math.ceil(math.pi / math.acos(1 - 0.0049 / radius))
    coarse = LinearRing(
        [(radius * math.cos(a), radius * math.sin(a)) for a in np.linspace(0, 2 * math.pi, steps + 1)]
    )

    def fine(r: float) -> Polygon:
        return Polygon([(r * math.cos(a), r * math.sin(a)) for a in np.linspace(0, 2 * math.pi, 3601)])

    assert match_rings([coarse], [fine(radius)], on_mm=0.001, off_mm=0.006) == ([], [])
    assert match_rings([coarse], [fine(radius + 0.002)], on_mm=0.001, off_mm=0.006) == ([0], [0])


@pytest.mark.parametrize(
    ("length", "found"), [(100.0, True), (100.009, True), (99.0, False), (100.02, False)]
)
def test_the_bar_is_100_mm_within_a_hundredth(length: float, found: bool) -> None:
    assert has_bar([Track(points=np.array([[5.0, 5.0], [5.0 + length, 5.0]]), closed=False)], 100.0) is found


def test_a_turned_tile_is_taken_back_to_the_part() -> None:
    """The point (x, y) is printed at (px + y1 - y, py + x - x0)."""
    tile = {"window": [10, 20, 110, 60], "corner": [12, 35], "turned": True}
    x, y = 40.0, 25.0
    page = np.array([[12 + 60 - y, 35 + x - 10]])
    assert _back(page, tile).tolist() == [[x, y]]
    straight = tile | {"turned": False}
    assert _back(np.array([[12 + x - 10, 35 + y - 20]]), straight).tolist() == [[x, y]]


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ("sheet,board,500 x 350 mm,3,1,2,1,1,5,1.90,9.50,EUR", ""),
        ("sheet,board,500 x 350 mm,3,1,2,1,1,5,1.90,9.51,EUR", "cost is"),
        ("sheet,board,500 x 350 mm,3,1,3,1,1,5,1.90,9.50,EUR", "to_buy is"),
        ("sheet,board,500 x 350 mm,3,1,2,4,1,5,1.90,9.50,EUR", "packs is"),
        ("hardware,=cmd,,1,0,1,0,1,1,,,", "may run as a formula"),
        ("hardware,'=cmd,,1,0,1,0,1,1,,,", ""),
        ("hardware,a,,1", "fields"),
    ],
)
def test_the_sums_and_cells_of_the_shopping_list(row: str, fault: str) -> None:
    report = Report()
    check_shopping(report, f"{HEADER}\r\n{row}\r\n".encode(), None, None)
    texts = [found.text for found in report.faults]
    assert any(fault in text for text in texts) if fault else texts == []


@pytest.mark.parametrize(
    ("text", "name", "found"),
    [
        ("1: tail fin, cut 1", "tail fin", True),
        ("1: tail\r\nfin, cut 1", "tail fin", True),
        ("1: ????, cut 1", "\u062c\u0646\u0627\u062d", True),
        ("1: a\u0301 cut", "a\u0301\u0301\u0301", True),
        ("1: tail ???, cut 1", "tail fin", False),
        ("1: tall fin, cut 1", "tail fin", False),
    ],
)
def test_a_name_is_found_as_readers_give_it_back(text: str, name: str, found: bool) -> None:
    """Line ends count as spaces; only letters outside ASCII may be missing from a font."""
    assert says(text, name) is found


@pytest.mark.parametrize(
    ("length", "text", "found"),
    [
        (4.76, "measured thickness 4.76 mm", True),
        (4.76, "measured thickness 4.8 mm", True),
        (4.76, "measured thickness 5.1 mm", False),
        (5, "cut 5 of these", False),
        (6.5, "16.5 mm", False),
    ],
)
def test_a_length_is_told_to_the_decimals_it_is_written_with(length: float, text: str, found: bool) -> None:
    assert written(length, text, "mm") is found
