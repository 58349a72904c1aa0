"""The overview: three views that belong together, to scale, with sizes, a title block and what holds of it."""

import itertools
import math
import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from shapely import LineString

from foamcut.airframe.model import Mesh
from foamcut.draw.balance_words import width_mm
from foamcut.draw.overview import SCALES, overview_document
from foamcut.draw.paper import PAPERS
from foamcut.draw.values import Align, Document, Line, Page
from foamcut.units import decimal_text
from foamcut.write.pdf import render
from tests.draw.balance_checks import NAMES
from tests.draw.balance_reports import title
from tests.draw.page_checks import crowded, outside, words
from tests.draw.view_solids import balanced, block, mesh, meshes_of

PLANES = ("cordgrass-2", "glasswort-1", "thrift-1", "sea-blite-3")
ISO_5455 = {"1:1", "1:2", "1:5", "1:10", "1:20", "1:50", "1:100"}
MARGIN_MM = 10.0


def overview(name: str, units: str = "", date: str = "2031-06-24") -> Document:
    found = balanced(name)
    plan = found.design.plan
    meshes = meshes_of(name)
    head = replace(
        title(units or plan.units, plan.name, plan.title),
        sketch_scale=plan.scale,
        scale_text=f"1:{plan.scale:g}",
    )
    parts = [one.part for one in found.model.standing]
    document = overview_document(head, units or plan.units, meshes, found.model, found.report, parts, date)
    assert document is not None
    return document


def scale_of(page: Page) -> int:
    found = [text.text for text in page.texts if re.fullmatch(r"1:\d+", text.text)]
    assert len(found) == 1
    assert found[0] in ISO_5455
    return int(found[0].removeprefix("1:"))


def drawn(page: Page, *lines: Line) -> list[LineString]:
    return [
        LineString([stroke.segments[0].start, *(s.end for s in stroke.segments)])
        for stroke in page.strokes
        if stroke.line in (lines or (Line.EDGE,)) and stroke.segments
    ]


def views(page: Page) -> list[shapely.Geometry]:
    """The three views as boxes of what hangs together, the largest first; the title block's sign is left out."""
    found = [line for line in drawn(page, Line.EDGE, Line.CREASE) if line.length > 0]
    sign = shapely.box(page.width_mm - 190, 0, page.width_mm, 40)
    joined = shapely.union_all([line.buffer(1.5) for line in found if not sign.contains(line)])
    boxes = [shapely.box(*one.buffer(-1.4).bounds) for one in shapely.get_parts(joined)]
    return sorted(boxes, key=lambda one: -one.area)


def look_over(page: Page) -> None:
    assert outside(page) == []
    assert crowded(page.texts) == []
    inner = shapely.box(0, 0, page.width_mm, page.height_mm).buffer(0.4 - MARGIN_MM, join_style="mitre")
    assert all(inner.contains(line) for line in drawn(page, *Line))


@pytest.mark.parametrize("name", PLANES)
def test_two_pages_on_the_papers_of_the_place_one_scale_or_larger_on_the_second(name):
    document = overview(name)
    units = balanced(name).design.plan.units
    papers = [PAPERS[one] for one in (("letter", "tabloid") if units == "in" else ("a4", "a3"))]
    for page, paper in zip(document.pages, papers, strict=True):
        assert sorted((page.width_mm, page.height_mm)) == [paper.width_mm, paper.height_mm]
    first, second = map(scale_of, document.pages)
    assert second <= first
    assert [f"{i}/2" in words(page) for i, page in enumerate(document.pages, 1)] == [True, True]
    assert render(document) == render(overview(name))


@pytest.mark.parametrize("name", PLANES)
@pytest.mark.parametrize("page", [0, 1])
def test_nothing_leaves_the_page_and_no_words_lie_over_words(name, page):
    one = overview(name).pages[page]
    look_over(one)


@pytest.mark.parametrize("name", PLANES)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_no_word_lies_over_the_line_of_a_size(name, units):
    for page in overview(name, units).pages:
        lines = [line for line in drawn(page, Line.DIMENSION) if line.length > 15]
        (chord,) = [text for text in page.texts if text.text.startswith("mean chord")]
        wide = width_mm(chord.text, chord.height_mm)
        low = chord.at[0] - (wide / 2 if chord.align is Align.MIDDLE else 0.0)
        box = shapely.box(low, chord.at[1], low + wide, chord.at[1] + chord.height_mm)
        assert [line.wkt for line in lines if line.intersects(box)] == []


def test_views_go_to_an_edge_where_facts_have_no_room_beside_them():
    """The wing of the sample, 47 3/4 in, has room on Letter at 1:10."""
    assert scale_of(overview("glasswort-1").pages[0]) == 10


def test_boards_are_told():
    assert "drawn for" in words(overview("glasswort-1").pages[0])
    assert "board 3/16 in" in words(overview("glasswort-1").pages[0])
    assert "board 5 mm" in words(overview("cordgrass-2").pages[1])


@pytest.mark.parametrize("name", PLANES)
@pytest.mark.parametrize("number", [0, 1])
def test_views_are_to_the_scale_that_is_written(name, number):
    """The largest view is that from above: its longer side is the span, over the scale."""
    page = overview(name).pages[number]
    points = np.concatenate([one.vertices for one in meshes_of(name)])
    span = points[:, 1].max() - points[:, 1].min()
    x0, y0, x1, y1 = views(page)[0].bounds
    longer = max(x1 - x0, y1 - y0)
    assert longer == pytest.approx(span / scale_of(page), abs=0.35)


def end_of(page: Page, word: str) -> tuple[float, float, str]:
    (text,) = [text for text in page.texts if text.text.startswith(f"{word} ")]
    return (*text.at, text.text)


def test_sizes_are_written_at_full_scale_and_as_the_sketch_has_them():
    """arithmetic: the twin is six times its sketch; its sizes were typed as 204, 162, 264, 62 mm and so on."""
    told = words(overview("cordgrass-2").pages[0])
    for size in (
        "root 204 (34)",
        "tip 162 (27)",
        "tail span 264 (44)",
        "body 62 (10.3)",
        "motors 324 (54)",
        "length 864 (144)",
        "body 84 (14)",
        "mean chord 183.8 (30.6)",
    ):
        assert size in told
    span = float(re.search(r"span (\d+\.\d) \(", told.replace("tail span", "tail"))[1])
    assert span == pytest.approx(balanced("cordgrass-2").report.number("wing_span").value, abs=0.06)


@pytest.mark.parametrize("name", PLANES)
def test_chords_are_those_of_the_design_though_the_wing_is_turned_nose_up(name):
    wing = balanced(name).model.inputs.wing
    scale = balanced(name).design.plan.scale
    told = words(overview(name, units="mm").pages[0])
    for word, station in (("root", wing.stations[0]), ("tip", wing.stations[-1])):
        sizes = (decimal_text(size) for size in (station.chord_mm, station.chord_mm / scale))
        assert "{} {} ({})".format(word, *sizes) in told


def test_sizes_in_inches_are_fractions():
    told = words(overview("glasswort-1").pages[0])
    assert "body 3 (3/8)" in told
    assert "height 10 1/4 (1 9/32)" in told
    assert " mm" not in told.replace("Sizes are", "")


@pytest.mark.parametrize("name", PLANES)
def test_balance_throws_and_weight_are_told(name):
    found = balanced(name)
    told = words(overview(name).pages[1])
    for throw in found.report.throws:
        assert throw.word in told
        assert f"{throw.deg:g} deg, " in told
    assert "Balance: the round mark" in told
    assert "wing loading" in told
    assert "third angle" in told
    assert "Written sizes govern." in told


def test_third_angle_the_views_lie_on_the_side_from_which_they_are_seen():
    """The view from above lies over that from the front, with the same span; the side at its right, as high.

    arithmetic: third-angle projection (ISO 5456-2).
    """
    page = overview("cordgrass-2").pages[0]
    above, *others = views(page)
    side = max(others, key=lambda one: one.bounds[2])
    front = next(one for one in others if one is not side and one.bounds[2] - one.bounds[0] > 80)
    assert front.bounds[0] == pytest.approx(above.bounds[0], abs=0.3)
    assert front.bounds[2] == pytest.approx(above.bounds[2], abs=0.3)
    assert front.bounds[3] < above.bounds[1]
    assert side.bounds[0] > front.bounds[2]
    assert side.bounds[3] == pytest.approx(front.bounds[3], abs=0.3)  # the top of the fin
    noses = [line.bounds[1] for line in drawn(page) if above.contains(line)]
    assert min(noses) < above.bounds[1] + 0.5


def test_title_block_has_the_fields_of_iso_7200_and_strokes_for_what_is_not_known():
    page = overview("cordgrass-2", date="").pages[0]
    told = [text.text for text in page.texts]
    for field in (
        "legal owner", "identification number", "date of issue", "sheet", "title", "approved by", "created by",
        "document type", "scale", "projection", "language",
    ):  # fmt: skip
        assert field in told
    assert told.count("-") == 3
    assert "cordgrass-2 C" in told
    assert "2031-06-24" in [text.text for text in overview("cordgrass-2").pages[0].texts]


def test_the_bar_is_to_scale():
    for page in overview("cordgrass-2").pages:
        numbers = [t for t in page.texts if (re.fullmatch(r"\d+", t.text) and t.at[1] < 60) or t.text == "0"]
        level = next(t for t in numbers if t.text == "0").at[1]
        row = sorted((t.at[0], int(t.text)) for t in page.texts if t.at[1] == level and t.text.isdecimal())
        for (xa, a), (xb, b) in itertools.pairwise(row):
            assert (b - a) / (xb - xa) == pytest.approx(scale_of(page), rel=1e-6)


def hand_made(*meshes: Mesh, units: str = "mm", **words_of) -> Document:
    document = overview_document(
        replace(title(units), **words_of), units, meshes, None, None, (), "2031-04-02"
    )
    assert document is not None
    return document


def test_no_aeroplane_but_places_still_has_three_views():
    document = hand_made(block("crate", (0, -40, 0), (300, 40, 90)))
    for page in document.pages:
        told = words(page)
        assert "length 300 (50)" in told
        assert "width 80 (13.3)" in told
        assert "height 90 (15)" in told
        assert "Weight" not in told
        look_over(page)


def test_without_places_there_is_a_list_of_parts_and_without_parts_nothing():
    parts = [one.part for one in balanced("cordgrass-2").model.standing]
    document = overview_document(title(), "mm", (), None, None, parts, "")
    assert document is not None
    (page,) = document.pages
    told = words(page)
    assert all(part.name in told for part in parts)
    assert "list of parts" in told
    assert "third angle" not in told
    look_over(page)
    assert overview_document(title(), "mm", (), None, None, (), "") is None


def test_many_parts_take_more_pages():
    part = balanced("cordgrass-2").model.standing[0].part
    parts = [replace(part, name=f"part-{i}") for i in range(700)]
    document = overview_document(title(), "mm", (), None, None, parts, "")
    assert document is not None
    assert len(document.pages) > 1
    told = "\n".join(map(words, document.pages)).split("\n")
    assert all(f"part-{i}" in told for i in range(700))
    for page in document.pages:
        look_over(page)


def test_parts_that_are_not_drawn_are_told_of():
    parts = [one.part for one in balanced("sea-blite-3").model.standing]
    crate = block(parts[0].name, (0, -40, 0), (300, 40, 90))
    for count, said in ((1, ""), (2, "One part is not drawn"), (4, "3 parts are not drawn")):
        document = overview_document(title(), "mm", [crate], None, None, parts[:count], "")
        assert document is not None
        assert ("not drawn" in words(document.pages[0])) == bool(said)
        assert said in words(document.pages[0])


@pytest.mark.parametrize("size", [0.01, 1.0, 30.0, 2500.0, 90000.0])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_things_of_any_size_find_a_scale(size, units):
    document = hand_made(block("crate", (0, 0, 0), (size, size / 2, size / 3)), units=units)
    for page in document.pages:
        assert outside(page) == []
        scale = next(s for s in SCALES if f"1:{s}" in [t.text for t in page.texts])
        assert scale >= 1
        assert scale == 1 or size / scale > 30
        render(Document(title="t", author="a", subject="s", pages=(page,)))


def test_long_names_in_any_script_stay_in_their_fields():
    for name in NAMES:
        for page in hand_made(
            block("crate", (0, 0, 0), (300, 90, 60)), name=name, title=name, maker=name
        ).pages:
            lines = [s for s in page.strokes if s.line is Line.FRAME]
            assert lines
            assert outside(page) == []
            render(Document(title="t", author="a", subject="s", pages=(page,)))


def test_a_part_without_a_triangle_does_no_harm():
    empty = mesh("empty", [(0, 0, 0), (1, 1, 1), (2, 2, 2)], [])
    for page in hand_made(empty, block("crate", (0, 0, 0), (300, 90, 60))).pages:
        look_over(page)
    bare = mesh("bare", [], [])
    assert overview_document(title(), "mm", [empty, bare], None, None, (), "") is None


def test_propeller_discs_are_round_from_the_front():
    """arithmetic: a disc of 8 in is 203.2 mm across; from the front it is a circle of that over the scale."""
    page = overview("cordgrass-2").pages[0]
    discs = [line for line in drawn(page, Line.SWEPT) if line.is_ring]
    round_ones = [d for d in discs if d.bounds[2] - d.bounds[0] > 15 and d.bounds[3] - d.bounds[1] > 15]
    assert len(round_ones) == 2
    for disc in round_ones:
        x0, y0, x1, y1 = disc.bounds
        for size in (x1 - x0, y1 - y0):
            assert size == pytest.approx(8 * 25.4 / scale_of(page), rel=0.01)
        assert shapely.Polygon(disc).area == pytest.approx(
            math.pi * (8 * 25.4 / scale_of(page)) ** 2 / 4, rel=0.02
        )
