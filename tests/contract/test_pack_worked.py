"""The checker's own arithmetic of sums, folds, bevels, kerf and joints, on what can be worked out by hand."""

import copy
import json
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
import shapely
from pack_bevels import slopes_of
from pack_drawn import DrawnFold, DrawnPart, read_drawn
from pack_folds import fold_courses, table_of
from pack_geometry import Track
from pack_kerf import match_moved
from pack_layout import Layout, read_layout
from pack_layout_checks import check_layout
from pack_report import Report
from pack_sums import Measures
from pack_view import view_of
from pack_worked import Expected, check_worked
from shapely import LinearRing, Polygon, box

SKETCH = Measures(
    scale=Fraction(6),
    unit_mm=Fraction(1),
    sizes={"half_span": "552 mm", "root_chord": "204 mm", "tip_chord": "162 mm", "paper": 92},
)


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("half_span - 2", 540),
        ("half_span - 2 1/2", 537),
        ("half_span - 1/2", 549),
        ("half_span - 2 * 3", 516),
        ("root_chord / 4 + 3 mm", 54),
        ("2 * (root_chord + 1/8 in)", 414.35),
        ("root_chord * (1 - 0.25)", 153),
        ("25 % * root_chord", 51),
        ("root_chord * tip_chord / half_span", 59.8696),
        ("3/16 in", 4.7625),
        ("1 ft 3 1/2 in", 393.7),
        ("1 ft - 3 in", 228.6),
        ("max(3, 5 mm)", 18),
        ("-1 1/16 in", -26.9875),
        ("4 mm * scale", 24),
        ("2 1/2", 15),
        ("paper", 552),
        (7, 42),
    ],
)
def test_sums_come_out_as_the_contract_says(written: object, mm: float) -> None:
    """Published: the table of the design file's contract (scale 6)."""
    assert SKETCH.length_mm(written) == pytest.approx(mm, abs=1e-4)


def test_a_word_of_an_outline_may_be_the_name_of_a_size() -> None:
    design = b"""
        [sketch]
        scale = 2
        [sizes]
        smooth = 3
        [stock.b]
        thickness = "5 mm"
        [parts.p]
        stock = "b"
        outline = '''
          0, 0  round 1 name a; 12, 2 * smooth through max(7, 1 mm), 6 3/4  # the size, not the word
          smooth, 7 smooth ; 0, smooth bevel 45 deg
        '''
    """
    edges = read_drawn(design).parts["p"].edges
    assert [edge.start for edge in edges] == [(0, 0), (24, 12), (6, 14), (0, 6)]
    assert edges[1].through == (14, 13.5)
    assert edges[2].curved and edges[3].bevel_deg == 45
    assert edges[0].rounds_mm == (2, 0)


def _fold(**changes: Any) -> DrawnFold:
    given: dict[str, Any] = {
        "kind": "groove",
        "start": (0.0, 0.0),
        "end": (100.0, 0.0),
        "turn_deg": 90.0,
        "down": False,
        "extra_deg": 0.0,
        "lands_mm": 5.0,
        "near": False,
        "radius_mm": 60.0,
        "every_mm": 3.0,
        "bevel_deg": 0.0,
    }
    return DrawnFold(**(given | changes))


def _part(design: str, name: str = "p") -> DrawnPart:
    head = '[sketch]\nscale = 1\n[stock.b]\nthickness = "5 mm"\n[stock.ply]\nthickness = "1.5 mm"\n'
    return read_drawn((head + design).encode()).parts[name]


@pytest.mark.parametrize(
    ("fold", "layer", "places", "axis"),
    [
        (_fold(), "GROOVE", (-5, 5), 0),  # a mouth of 2 x 5 tan 45 = 10
        (_fold(turn_deg=60.0), "GROOVE", (-2.886751, 2.886751), 0),  # 5 tan 30
        (_fold(turn_deg=80.0, extra_deg=10.0), "GROOVE", (-5, 5), 0),
        (_fold(kind="score"), "HALF", (0,), 0),
        (_fold(kind="wrap", lands_mm=1.5), "LIFT", (0, 1.5), 1.5),
        (_fold(kind="wrap", near=True), "LIFT", (0, 5), 0),
        (_fold(kind="hinge", bevel_deg=45.0), "BEVEL", (5,), 0),
    ],
)
def test_lines_of_folds_by_trigonometry(
    fold: DrawnFold, layer: str, places: tuple[float, ...], axis: float
) -> None:
    """Arithmetic: the formulas of the contract's table of folds, board of 5 mm."""
    table = table_of(fold, 5.0)
    assert table.cuts[layer] == pytest.approx(places, abs=1e-6)
    assert table.axis == pytest.approx(axis)


def test_a_roll_is_scored_over_its_whole_bend_at_most_every_so_far() -> None:
    """Arithmetic: a quarter of a circle of radius 60 is 94.248 mm long; 32 steps of at most 3 mm."""
    places = np.array(table_of(_fold(kind="roll"), 3.0).cuts["HALF"])
    assert len(places) == 33
    assert places[[0, -1]] == pytest.approx((0, 94.247780), abs=1e-6)
    assert np.diff(places).max() <= 3


def test_a_wrapped_trough_of_80_by_100_outside_is_280_flat() -> None:
    """Arithmetic: 100 + 80 + 100 on the outer paper; it turns 100 mm from each edge."""
    part = _part(
        "[parts.p]\nstock = 'b'\nrectangle = [300, 280]\nfolds = [\n"
        "{ kind = 'wrap', from = [300, 105], to = [0, 105] },\n"
        "{ kind = 'wrap', from = [0, 175], to = [300, 175] } ]\n"
    )
    turns = [c.line for c in fold_courses(part, box(0, 0, 300, 280)) if c.layer == "FOLD"]
    assert [line.bounds[1] for line in turns] == pytest.approx([100, 180])


def test_grooves_that_meet_at_a_corner_are_mitred_and_end_at_edges() -> None:
    """A floor of 80 x 60 with walls of 20 on two sides: in the floor the edges meet 5 mm inside its corner."""
    shape = Polygon([(0, -20), (80, -20), (80, 0), (100, 0), (100, 60), (0, 60)])
    part = _part(
        "[parts.p]\nstock = 'b'\noutline = [[0, -20], [80, -20], [80, 0], [100, 0], [100, 60], [0, 60]]\n"
        "folds = [ { kind = 'groove', from = [80, 0], to = [0, 0], turn = 90 },\n"
        "{ kind = 'groove', from = [80, 61], to = [80, 0], turn = 90 } ]\n"
    )
    lines = {course.what: course.line for course in fold_courses(part, shape)}
    assert lines["groove 1 at s = -5.000"].bounds == pytest.approx((0, 5, 75, 5))
    assert lines["groove 1 at s = 5.000"].bounds == pytest.approx((0, -5, 80, -5))
    assert lines["groove 2 at s = -5.000"].bounds == pytest.approx((75, 5, 75, 60))
    assert lines["where the paper of groove 1 turns"].bounds == pytest.approx((0, 0, 80, 0))


def test_the_other_hand_is_worked_on_the_mirrored_side() -> None:
    """The strip lies left of the line on the drawn hand, so right of its mirror image."""
    design = "[parts.p]\nstock = 'b'\npair = 'right'\nrectangle = [100, 50]\n"
    design += "folds = [ { kind = 'wrap', from = [0, 20], to = [100, 20], lands = 'ply' } ]\n"
    right, left = _part(design, "p-right"), _part(design, "p-left")
    ends = [course.line.bounds[1] for course in fold_courses(right, box(0, 0, 100, 50))]
    assert ends == pytest.approx([20, 21.5, 21.5])
    ends = [course.line.bounds[1] for course in fold_courses(left, box(0, -50, 100, 0))]
    assert ends == pytest.approx([-20, -21.5, -21.5])


def test_bevels_round_a_square_are_mitred() -> None:
    part = _part(
        "[parts.p]\nstock = 'b'\noutline = '0, 0 bevel 45; 100, 0 bevel 45; 100, 100 bevel 45; 0, 100 bevel 45'\n"
    )
    slopes = slopes_of(part, box(0, 0, 100, 100))
    frame = shapely.union_all([slope.core for slope in slopes])
    assert frame.hausdorff_distance(box(5, 5, 95, 95).exterior) < 1e-9
    assert [slope.core.length for slope in slopes] == pytest.approx([90] * 4)
    assert not slopes[0].back


def test_kerf_moves_outsides_out_and_holes_in_and_takes_corners_of_either_kind() -> None:
    """Arithmetic: a square of 10 with a kerf of 0.4 is cut at 10.4, as a hole at 9.6."""
    square = LinearRing(box(0, 0, 10, 10).exterior)
    sharp, rounded = box(-0.2, -0.2, 10.2, 10.2), box(0, 0, 10, 10).buffer(0.2, quad_segs=32)
    for drawn in (sharp, rounded):
        assert match_moved([square], [0.4], [drawn], holes=False) == ([], [])
    for wrong in (box(0, 0, 10, 10), box(-0.4, -0.4, 10.4, 10.4), box(0.2, 0.2, 9.8, 9.8)):
        assert match_moved([square], [0.4], [wrong], holes=False) == ([0], [0])
    assert match_moved([square], [0.4], [box(0.2, 0.2, 9.8, 9.8)], holes=True) == ([], [])
    assert match_moved([square], [0.4], [sharp], holes=True) == ([0], [0])


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
