"""The marking-out sheet: its numbers rebuild every piece, and its pages can be read."""

import math
import re
from dataclasses import replace

import pytest
import shapely

from foamcut.draw.marking import marking_document, marking_rows
from foamcut.draw.marking_points import marked, places
from foamcut.draw.marking_rule import RULES
from foamcut.draw.part import stroke_shape
from foamcut.draw.values import Line
from foamcut.flat.drawn import FoldKind, Side
from foamcut.flat.outline import Circle, Outline
from foamcut.flat.placement import Placement
from foamcut.nest.values import Layout
from foamcut.write.marking_csv import render
from tests.draw.drawn_parts import PLY, TITLE, LineMark, layout, pair, part, side, slot
from tests.draw.folded_parts import plate
from tests.draw.marking_samples import DESIGNS, rebuilt, sample
from tests.draw.page_checks import crowded, outside, words

UNITS = ("mm", "in")


def pieces(layouts):
    return {
        (sheet.stock, sheet.number, placed.id): placed.outline.polygon
        for each in layouts
        for sheet in each.sheets
        for placed in sheet.placed
    }


def assert_rebuilt(layouts: tuple[Layout, ...], unit: str) -> None:
    """Every piece, made from the table alone, is the true one within a rounding of its corners.

    A corner is off by half the rule's tick at most in either direction, which is 0.71 ticks askew; a twentieth
    more is left to curves and arcs.
    """
    tick = float(RULES[unit].tick_mm)
    table = rebuilt(render(marking_rows(layouts, unit)))
    true = pieces(layouts)
    assert list(table) == list(true)
    for key, polygon in true.items():
        made = table[key]
        assert len(made.interiors) == len(polygon.interiors), key
        rings = [(made.exterior, polygon.exterior)]
        for hole in polygon.interiors:
            rings.append((min(made.interiors, key=lambda ring: ring.hausdorff_distance(hole)), hole))
        for ours, theirs in rings:
            assert ours.hausdorff_distance(theirs) <= tick * (math.sqrt(0.5) + 0.05), key


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_every_piece_of_a_design_is_rebuilt_from_the_table_alone(path, unit):
    assert_rebuilt(sample(path)[0], unit)


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_every_corner_is_within_half_the_fraction_either_way(path, unit):
    """Rows of outlines and holes are true vertices, rounded to the nearest tick; the error told is theirs."""
    layouts, _, _, _ = sample(path)
    rule = RULES[unit]
    half = float(rule.tick_mm) / 2 + 1e-9
    rows = iter(marking_rows(layouts, unit))
    for each in layouts:
        for sheet in each.sheets:
            for placed in sheet.placed:
                corners = {at for ring in placed.outline.rings() for at in ring}
                for line in marked(placed, sheet, rule).lines:
                    if line.line in (Line.THROUGH, Line.OPENING):
                        assert {at for _, at in line.points} <= corners
                    for _, at in (*line.points, *((c.name, c.at) for c in line.centres)):
                        row = next(rows)
                        off = [abs(float(rule.read(value).mm) - value) for value in at]
                        assert max(off) <= half
                        assert row.rounding_error_mm == pytest.approx(max(off), abs=1e-9)
                        assert row.written == " and ".join(rule.read(value).text for value in at)
    assert next(rows, None) is None


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_pages_of_a_design_can_be_read(path, paper):
    layouts, title, numbers, unit = sample(path)
    document = marking_document(layouts, title, numbers, unit, paper)
    assert_readable(document)
    sheets = sum(len(each.sheets) for each in layouts)
    assert len([page for page in document.pages if page.bookmark]) == sheets + 1
    assert not re.search("not numbered", "\n".join(map(words, document.pages)))


def test_a_table_goes_on_rather_than_that_its_drawing_is_small():
    """Marks of the twin's wing: half as large they would have leaders all over it."""
    path = next(path for path in DESIGNS if path.stem == "cordgrass-2")
    layouts, title, numbers, unit = sample(path)
    pages = marking_document(layouts, title, numbers, unit, "a4").pages
    found = [words(page) for page in pages if "wing-skin-right: marks\n" in words(page)]
    assert found and "scale 1:5" in found[0] and "one half\nflat and the other tip" in found[0]


def assert_readable(document) -> None:
    for page in document.pages:
        assert crowded(page.texts) == []
        assert outside(page) == []
        inner = shapely.box(0, 0, page.width_mm, page.height_mm)
        for stroke in page.strokes:
            assert inner.contains(stroke_shape(stroke))


def document_of(*placed, units="mm", paper="a4", **more):
    each = layout(*placed, **more)
    numbers = {part.name: i for i, (part, _) in enumerate(placed, 1)}
    return marking_document((each,), TITLE, numbers, units, paper), each


def test_every_number_of_the_table_stands_in_a_drawing():
    """Names of points are written as dimensions beside the drawing, those of the table as words."""
    right, left = pair()
    document, each = document_of((right, Placement(x_mm=10, y_mm=10)), (left, Placement(x_mm=10, y_mm=300)))
    assert_readable(document)
    drawn = {text.text for page in document.pages for text in page.texts if text.line is Line.DIMENSION}
    for placed in each.sheets[0].placed:
        named = places(marked(placed, each.sheets[0], RULES["mm"]).lines)
        assert {name for name, _ in named} <= drawn


def test_distances_are_cumulative_from_the_lower_left_corner_of_the_sheet():
    square = part(Outline.rectangle(0, 0, 100, 50), "floor")
    rows = marking_rows((layout((square, Placement(x_mm=200.2, y_mm=30))),), "mm")
    assert [(row.point, row.from_left, row.from_bottom, row.written) for row in rows] == [
        ("1 of outline", "200", "30", "200 and 30"),
        ("2 of outline", "300", "30", "300 and 30"),
        ("3 of outline", "300", "80", "300 and 80"),
        ("4 of outline", "200", "80", "200 and 80"),
    ]
    assert {round(row.rounding_error_mm, 6) for row in rows} == {0.2}


def test_inches_are_fractions_of_a_thirty_second():
    square = part(Outline.rectangle(0, 0, 25.4, 50.8), "floor")
    rows = marking_rows((layout((square, Placement(x_mm=25.4 * 3 / 32, y_mm=25.4 / 2))),), "in")
    assert (rows[0].from_left, rows[0].from_bottom, rows[0].unit) == ("0.09375", "0.5", "in")
    assert [row.written for row in rows] == [
        "3/32 and 1/2",
        "1 3/32 and 1/2",
        "1 3/32 and 2 1/2",
        "3/32 and 2 1/2",
    ]


def test_slots_folds_and_marks_are_told_apart():
    rows = marking_rows((layout((side(), Placement(x_mm=10, y_mm=10))),), "mm")
    points = [row.point for row in rows]
    assert "10 of slot 1, takes board" in points
    assert sum("circle, diameter 28 mm" in point for point in points) == 1
    assert any(point.endswith("of mark 1, F2") for point in points)
    folded = plate(FoldKind.GROOVE, Side.UP, size=(300.0, 200.0))
    points = [row.point for row in marking_rows((layout((folded, Placement(x_mm=10, y_mm=10))),), "mm")]
    assert any("G, edge of a groove" in point for point in points)


def test_a_point_that_is_met_again_keeps_its_number():
    """A mark that ends on a corner is told by the corner's number."""
    square = part(Outline.rectangle(0, 0, 100, 50), "floor", marks=(LineMark(ends=((0, 0), (100, 50))),))
    rows = marking_rows((layout((square, Placement(x_mm=10, y_mm=10))),), "mm")
    assert [row.point for row in rows][4:] == ["1 of mark 1", "3 of mark 1"]


def test_an_offcut_says_which_of_its_edges_are_straight():
    """Of a sheet without its lower left corner, the edges that lie along its box are told with their ends."""
    piece = part(Outline.rectangle(0, 0, 40, 40), "hatch")
    each = layout((piece, Placement(x_mm=100, y_mm=60)), size=(300, 200))
    (sheet,) = each.sheets
    slanting = Outline.of_points([(0, 50), (50, 0), (300, 0), (120, 200), (0, 200)])
    cut = replace(each, sheets=(replace(sheet, outline=slanting),))
    document = marking_document((cut,), TITLE, {"hatch": 1}, "mm", "a4")
    told = " ".join(" ".join(words(page).split()) for page in document.pages)
    assert "The left edge is straight from 50 mm to 200 mm" in told
    assert "The bottom edge is straight from 50 mm to 300 mm" in told
    pointed = Outline.of_points([(0, 0), (300, 40), (280, 200), (30, 180)])
    cut = replace(each, sheets=(replace(sheet, outline=pointed),))
    told = " ".join(
        " ".join(words(page).split())
        for page in marking_document((cut,), TITLE, {"hatch": 1}, "mm", "a4").pages
    )
    assert "No edge of this board runs along the left or the bottom" in told


TINY = part(Outline.rectangle(0, 0, 4, 3), "tag")
ROUND = part(Outline.circle(20, 20, 15), "disc", stock="ply")
RIM = part(Outline.of_points([(0, 0), (300, 0), (300, 10), (0, 10)], [Circle(150, 1200, 1195)]), "潮" * 200)
COMB = part(
    Outline.of_points(
        [
            (0, 0),
            (300, 0),
            *[
                (300 - 3 * i - (1.5 if k else 0), 40 if k == (i % 2) else 20)
                for i in range(99)
                for k in (0, 1)
            ],
            (0, 40),
        ]
    ),
    "comb",
)


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("each", [TINY, ROUND, RIM, COMB], ids=lambda each: each.name[:8])
def test_odd_parts_are_marked_out(each, units):
    """One tiny part, a disc, a name of 200 letters, a comb of teeth too fine to number."""
    document, laid = document_of((each, Placement(x_mm=10, y_mm=10)), units=units, paper="letter")
    assert_readable(document)
    assert_rebuilt((laid,), units)
    assert document == document_of((each, Placement(x_mm=10, y_mm=10)), units=units, paper="letter")[0]


def test_long_names_of_stocks_and_plans_stay_on_the_page():
    name = "paper-faced board of the boat shed " * 6
    plates = part(Outline.rectangle(0, 0, 200, 100), "floor", slots=(slot(50, 50, 40, takes=name),))
    each = layout((plates, Placement(x_mm=5, y_mm=5)), stock=replace(PLY, name=name, material=name))
    document = marking_document((each,), replace(TITLE, name=name, title=name), {"floor": 1}, "in", "a4")
    assert_readable(document)


def test_more_corners_than_a_drawing_can_number_are_told_of():
    """A saw of 500 teeth: as many numbers as have room, and in words how the others go on."""
    teeth = [(600 - 0.6 * i, 40 if i % 2 else 20) for i in range(1001)]
    document, laid = document_of(
        (part(Outline.of_points([(0, 0), (600, 0), *teeth]), "saw"), Placement(x_mm=10, y_mm=10))
    )
    assert_readable(document)
    told = " ".join(" ".join(words(page).split()) for page in document.pages)
    assert "points are not numbered in the drawing; numbers follow each line in turn" in told
    assert len(marking_rows((laid,), "mm")) > 900


def test_nothing_laid_gives_the_page_that_tells_how():
    document = marking_document((), TITLE, {}, "mm", "a4")
    assert len(document.pages) == 1
    assert marking_rows((), "mm") == ()


def test_slots_are_named_by_what_they_take():
    plates = part(
        Outline.rectangle(0, 0, 200, 100),
        "floor",
        slots=(slot(50, 50, 40), slot(150, 50, 40, 90, "board", 5.2)),
    )
    rows = marking_rows((layout((plates, Placement(x_mm=5, y_mm=5)), stock=PLY),), "mm")
    assert {row.point.partition(", ")[2] for row in rows} == {"", "takes ply", "takes board"}
