"""The checker on a joined part written by hand: joints, doublers, and the fold lines of its sections."""

import copy
import json
from typing import Any

import numpy as np
import pytest
from pack_drawn import read_drawn
from pack_geometry import Track
from pack_joints import check_joints
from pack_layout import Layout, read_layout
from pack_layout_checks import check_layout
from pack_report import Report
from pack_view import view_of
from pack_worked import Expected, check_worked

DESIGN = """
[plan]
name = "p"
[sketch]
scale = 1
[stock.b]
thickness = "2 mm"
sheets = [ { size = "130 x 100 mm" } ]
[parts.s]
stock = "b"
rectangle = [200, 30]
joints = [ { x = 100 } ]
slots = [ { at = [50, 15], length = 10, takes = "b" } ]
folds = [ { kind = "score", from = [170, -1], to = [170, 31], turn = 20 } ]
"""
SLOT = [[44.9, 13.9], [44.9, 16.1], [55.1, 16.1], [55.1, 13.9], [44.9, 13.9]]
DOUBLER = [[80, 12], [90, 2], [110, 2], [120, 12], [120, 18], [110, 28], [90, 28], [80, 18], [80, 12]]


def _ring(x0: float, y0: float, x1: float, y1: float) -> list[list[float]]:
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1], [x0, y0]]


def _joined() -> dict[str, Any]:
    """A strip of 200 x 30 in two halves, its doubler beside them, on a board of 130 x 100, margin 3, gap 2."""
    pieces = [
        ("s-1-section-1", "section", [_ring(0, 0, 100, 30), SLOT]),
        ("s-1-section-2", "section", [_ring(100, 0, 200, 30)]),
        ("s-1-doubler-a", "doubler", [DOUBLER]),
    ]
    placed = {"s-1-section-1": (3.0, 3.0), "s-1-section-2": (-97.0, 35.0), "s-1-doubler-a": (-77.0, 65.0)}
    document: dict[str, Any] = {
        "format": "foamcut-layout",
        "version": 1,
        "units": "mm",
        "made_by": {"foamcut": "0", "seed": 0, "squeezed": False},
        "design": {"name": "p", "revision": "", "sha256": "0" * 64},
        "stocks": [{"name": "b", "thickness": 2, "margin": 3, "gap": 2, "grain": "none"}],
        "parts": [
            {
                "name": "s",
                "stock": "b",
                "count": 1,
                "hand": "none",
                "face": "inner",
                "grain": "any",
                "turns": "quarter",
                "polygon": [_ring(0, 0, 200, 30), SLOT],
                "pose": None,
            }
        ],
        "pieces": [
            {
                "id": name,
                "name": name.replace("-1-", "-", 1),
                "part": "s",
                "copy": 1,
                "role": role,
                "polygon": p,
            }
            for name, role, p in pieces
        ],
        "joints": [{"part": "s", "axis": "x", "at": 100, "doublers": ["A"], "length": 200}],
        "sheets": [
            {
                "stock": "b",
                "number": 1,
                "kind": "new",
                "size": [130, 100],
                "outline": [_ring(0, 0, 130, 100)],
                "files": ["sheets/b-1.dxf", "sheets/b-1.svg"],
                "placed": [
                    {
                        "piece": name,
                        "x": placed[name][0],
                        "y": placed[name][1],
                        "turn_deg": 0,
                        "flipped": False,
                        "polygon": [
                            [[x + placed[name][0], y + placed[name][1]] for x, y in ring] for ring in polygon
                        ],
                    }
                    for name, _, polygon in pieces
                ],
            }
        ],
        "bound": [
            {
                "stock": "b",
                "new": 1,
                "at_least": 1,
                "cost": None,
                "cost_at_least": None,
                "proven": True,
                "reason": "one board at least",
            }
        ],
    }
    return document


def _read(document: dict[str, Any]) -> Layout:
    layout = read_layout(Report(), json.dumps(document).encode())
    assert layout is not None
    return layout


def _faults(document: dict[str, Any], design: str = DESIGN) -> list[str]:
    report = Report()
    layout = _read(document)
    check_layout(report, layout, None, read_drawn(design.encode()), Expected(layout))
    return [fault.text for fault in report.faults]


def test_a_part_joined_by_hand_has_no_fault() -> None:
    assert _faults(_joined()) == []


@pytest.mark.parametrize(
    ("design", "fault"),
    [
        (DESIGN.replace("x = 100", "x = 101"), "the design says"),
        (DESIGN.replace("[ { x = 100 } ]", '"none"'), "its design says joints = none"),
        (DESIGN.replace("at = [50, 15]", "at = [75, 15]"), "mm from a slot"),
        (DESIGN + "keep_clear = [ { x = [110, 150] } ]\n", "mm from what is kept clear"),
        (DESIGN.replace("[170,", "[115,"), "lies over a fold"),
        (DESIGN.replace("[170, -1]", "[115, -1]").replace("[170, 31]", "[115, 31]"), "which lies beside it"),
        (DESIGN + 'doubler = { overlap = "45 mm" }\n', "a section is 110 mm at least"),
        (DESIGN + 'doubler = { inset = "2.1 mm" }\n', "nearer than its inset"),
        (DESIGN + 'doubler = { overlap = "19 mm" }\n', "its overlap is 19 mm"),
        (DESIGN + 'doubler = { taper = "25 mm" }\n', ""),
        (
            DESIGN + "marks = [ { line = [[85, 15], [85, 40]], clear = true } ]\n",
            "from a mark that is kept clear",
        ),
    ],
)
def test_a_joint_is_held_to_the_designs_words(design: str, fault: str) -> None:
    texts = _faults(_joined(), design)
    assert any(fault in text for text in texts) if fault else texts == []


@pytest.mark.parametrize(
    ("keys", "whole", "fault"),
    [
        ("", True, "joined at [], the design says [('x', 100.0)]"),
        ("may_join = true\n", True, ""),
        ("may_join = true\n", False, ""),
        ("may_join = true\njoints = [ { x = 101 } ]\n", False, "the design says [('x', 101.0)]"),
        ('may_join = true\njoints = "none"\n', False, "its design says joints = none"),
    ],
)
def test_a_part_that_may_be_joined_is_whole_or_joined_where_the_design_says(
    keys: str, whole: bool, fault: str
) -> None:
    document = _joined()
    if whole:
        ((part,), piece) = document["parts"], document["pieces"][0]
        document["pieces"] = [piece | {"id": "s-1", "name": "s", "role": "whole", "polygon": part["polygon"]}]
        document |= {"joints": [], "sheets": []}
    design = DESIGN.replace("joints = [ { x = 100 } ]\n", "") if "joints" in keys else DESIGN
    report = Report()
    check_joints(report, _read(document), None, read_drawn((design + keys).encode()))
    texts = [found.text for found in report.faults]
    assert any(fault in text for text in texts) if fault else texts == []


def test_half_of_the_joint_must_be_covered() -> None:
    """14 of 30 mm are too little, 16 are enough."""
    for half, found in ((7, True), (8, False)):
        document = copy.deepcopy(_joined())
        low, high = 15 - half, 15 + half
        ring = [[80, low + 5], [85, low], [115, low], [120, low + 5]]
        ring += [[120, high - 5], [115, high], [85, high], [80, high - 5], [80, low + 5]]
        document["pieces"][2]["polygon"] = [ring]
        assert any("doublers cover" in text for text in _faults(document)) is found


def test_fold_lines_of_a_section_stand_where_it_lies() -> None:
    """The score at x = 170 of the part is drawn at 170 - 97 on the sheet, over the section's width and no more."""
    layout = _read(_joined())
    view = view_of(layout, 0, "sheets/b-1.dxf", read_drawn(DESIGN.encode()))
    for x, end, faults in ((73.0, 65.0, 0), (73.02, 65.0, 2), (73.0, 64.97, 1), (73.0, 65.03, 1)):
        report = Report()
        track = Track(points=np.array([[x, 35.0], [x, end]]), closed=False)
        check_worked(report, "f", view, {"HALF": [track]}, Expected(layout))
        assert len(report.faults) == faults
    report = Report()
    check_worked(report, "f", view, {}, Expected(layout))
    assert "score 1 at s = 0.000 is not drawn" in report.faults[0].text


def test_two_cuts_on_each_other_are_found() -> None:
    layout = _read(_joined())
    view = view_of(layout, 0, "sheets/b-1.dxf", read_drawn(DESIGN.encode()))
    track = Track(points=np.array([[73.0, 35.0], [73.0, 65.0]]), closed=False)
    report = Report()
    check_worked(report, "f", view, {"HALF": [track], "LIFT": [track]}, Expected(layout))
    assert any("lies on one of LIFT" in fault.text for fault in report.faults)
