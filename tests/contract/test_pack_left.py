"""The check of what a board keeps in one piece, on a layout written by hand and damaged in every way."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from breakage import Breakage
from breakages_left import BREAKAGES
from pack_layout import read_layout
from pack_left import check_left
from pack_report import Report


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> list[list[list[float]]]:
    return [[[x0, y0], [x1, y0], [x1, y1], [x0, y1], [x0, y0]]]


def _document(**more: Any) -> dict[str, Any]:
    """A piece of 100 x 100 mm in a corner of 500 x 300 mm, gap 2: 398 x 300 mm are left beside it (arithmetic)."""
    part = {"name": "s", "stock": "board", "count": 1, "hand": "none", "face": "inner", "grain": "any"}
    placed = {"piece": "s-1", "x": 0, "y": 0, "turn_deg": 0, "flipped": False}
    square = {"polygon": _rectangle(0, 0, 100, 100)}
    sheet = {
        "stock": "board",
        "number": 1,
        "kind": "new",
        "size": [500, 300],
        "outline": _rectangle(0, 0, 500, 300),
        "files": ["sheets/board-1.dxf"],
        "placed": [placed | square],
        "left": {"corner": [102, 0], "size": [398, 300]},
    }
    return {
        "format": "foamcut-layout",
        "version": 1,
        "units": "mm",
        "made_by": {"foamcut": "0", "seed": 0, "squeezed": True, "stopped_early": True},
        "design": {"name": "p", "revision": "A", "sha256": "0" * 64},
        "stocks": [{"name": "board", "thickness": 5, "margin": 0, "gap": 2, "grain": "none"}],
        "parts": [part | square | {"turns": "quarter", "pose": None}],
        "pieces": [{"id": "s-1", "part": "s", "copy": 1, "role": "whole"} | square],
        "sheets": [sheet | more],
        "bound": [],
    }


def _faults(data: bytes) -> list[str]:
    report = Report()
    layout = read_layout(report, data)
    if layout is not None:
        check_left(report, layout)
    return [str(fault) for fault in report.faults]


def test_a_free_rectangle_has_no_fault() -> None:
    assert _faults(json.dumps(_document()).encode()) == []


@pytest.mark.parametrize("damage", BREAKAGES, ids=lambda damage: damage.name)
def test_every_damage_is_found(damage: Breakage, tmp_path: Path) -> None:
    path = tmp_path / "layout.json"
    path.write_text(json.dumps(_document()), "utf-8")
    damage.damage(tmp_path)
    assert any(re.search(damage.finds, fault) for fault in _faults(path.read_bytes()))


@pytest.mark.parametrize(
    ("more", "fault"),
    [
        ({"register": [[300, 150], [20, 280]]}, "from a register hole"),
        (
            {"bed": [{"number": 1, "corner": [0, 0], "size": [101, 101], "pieces": ["s-1"]}]},
            "from bed 1",
        ),
    ],
)
def test_the_gap_is_kept_from_holes_and_beds_too(more: dict[str, Any], fault: str) -> None:
    assert any(fault in text for text in _faults(json.dumps(_document(**more)).encode()))


def test_the_board_with_the_least_on_it_is_the_one() -> None:
    document = _document()
    small = {"polygon": _rectangle(0, 0, 50, 50)}
    (first,) = document["sheets"]
    second = first | {"number": 2, "placed": [first["placed"][0] | small | {"piece": "s-2"}]}
    del second["left"]
    document["sheets"].append(second)
    document["pieces"].append(document["pieces"][0] | small | {"id": "s-2"})
    assert any("is not the new one with the least" in text for text in _faults(json.dumps(document).encode()))
