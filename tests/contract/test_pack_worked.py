"""The checker's own arithmetic of sums, folds, bevels and kerf, on what can be worked out by hand."""

from fractions import Fraction
from typing import Any

import numpy as np
import pytest
import shapely
from pack_bevels import slopes_of
from pack_drawn import DrawnFold, DrawnPart, read_drawn
from pack_folds import fold_courses, table_of
from pack_kerf import match_moved
from pack_sums import Measures
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
        (_fold(kind="strip", band_mm=12.0), "LIFT", (0, 12), 0),
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


def test_a_strip_turns_where_the_foam_ends_on_both_sides() -> None:
    """Arithmetic: a nose of 2 x 5 mm between skins of 100 and 110 mm, measured on the paper that stays whole."""
    part = _part(
        "[parts.p]\nstock = 'b'\nrectangle = [300, 220]\nfolds = [\n"
        "{ kind = 'strip', from = [0, 100], to = [300, 100], band = '10 mm', turn = 90, side = 'down' } ]\n"
    )
    courses = fold_courses(part, box(0, 0, 300, 220))
    turns = [course for course in courses if course.layer == "FOLD"]
    assert [course.line.bounds for course in turns] == [(0, 100, 300, 100), (0, 110, 300, 110)]
    assert all(course.ticks and not course.rises for course in turns)
    cuts = [course.line.bounds[1] for course in courses if course.layer == "LIFT"]
    assert cuts == pytest.approx([100, 110])


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
