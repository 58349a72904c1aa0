"""Templates: what is tiled, ruled or left to its pair, and what every page says."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from foamcut.draw.paper import PAPERS
from foamcut.draw.part import part_lines, stroke_shape
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.templates import same_as, template_document
from foamcut.draw.tilepage import STRIP_MM
from foamcut.draw.tiles import OVERLAP_MM
from foamcut.draw.values import Line
from foamcut.draw.words import text_box
from foamcut.findings import CLOSING_WORDS
from foamcut.flat.drawn import Face, Hand
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement
from tests.draw.drawn_parts import BOARD, ON_THE_RIGHT, PLY, TITLE, LineMark, layout, pair, part, side, slot
from tests.draw.page_checks import crowded, outside, words

STOCKS = {"board": 5.0, "ply": 1.5}


def templates(*parts, paper="a4", every_part=False, title=TITLE, **more):
    values = {"by": "part", "sheet_drawings": (), "thicknesses": STOCKS, "summary": ("board: buy 2",)} | more
    return template_document(parts, (), title, paper, every_part=every_part, **values)


def big(name="panel", **more):
    """Too large for one page, and with too many corners to be ruled."""
    points = [*[(60.0 * i, 0.0) for i in range(11)], (560, 180), (300, 210), (0, 200)]
    return part(Outline.of_points(points), name, **{"place": ON_THE_RIGHT} | more)


MIXED = (
    *pair(),
    big(),
    part(Outline.rectangle(0, 0, 62, 300), "bottom"),
    part(Outline.circle(0, 0, 30), "disc"),
)


@pytest.mark.parametrize("paper", list(PAPERS))
def test_index_says_where_each_tile_is(paper):
    """Window, corner and turn of the index are those of the page, which carries one tile."""
    document, index = templates(*MIXED, paper=paper)
    assert index.file == f"templates-{paper}.pdf" and index.pages == len(document.pages)
    numbers = [tile.page for tile in index.tiles]
    assert len(set(numbers)) == len(numbers) and min(numbers) > 1
    for tile in index.tiles:
        page = document.pages[tile.page - 1]
        (window,) = page.windows
        assert (window.view, window.corner, window.turned) == (tile.window, tile.corner, tile.turned)
        assert page.label == f"{tile.name} {tile.row}{tile.column}"
        wide, high = window.size()
        assert tile.corner[0] + wide <= page.width_mm - 10 and tile.corner[1] + high <= page.height_mm - 10
        assert tile.corner[1] <= 10 + STRIP_MM


@pytest.mark.parametrize("paper", list(PAPERS))
def test_every_page_says_what_it_is(paper):
    """Plan, revision, page n of m, a caution, a bar of 100 mm on every page; tiles name their board."""
    document, index = templates(*MIXED, paper=paper)
    for number, page in enumerate(document.pages, 1):
        text = words(page)
        for wanted in (
            "cordgrass-2",
            "revision A",
            f"page {number} of {index.pages}",
            "100 mm",
            "4 in",
            "blade",
        ):
            assert wanted in text, (number, wanted)
        bars = [
            s for s in page.strokes if stroke_shape(s).length == pytest.approx(100) and len(s.segments) == 1
        ]
        assert len(bars) == (2 if page.windows else 1)
    for tile in index.tiles:
        assert "board 5 mm" in words(document.pages[tile.page - 1])


@pytest.mark.parametrize("paper", list(PAPERS))
@pytest.mark.parametrize("every_part", [False, True])
def test_words_of_a_page_are_apart_and_inside_the_margin(paper, every_part):
    document, _ = templates(*MIXED, paper=paper, every_part=every_part)
    for page in document.pages:
        assert not crowded(page.texts), page.label
        assert not outside(page), page.label


def test_long_names_are_cut_not_run_over():
    """Names of 200 letters stay on their page and off their neighbours."""
    long = replace(
        TITLE, name="sea-lavender-" * 15, title="glasswort " * 20, maker="cordgrass " * 20, revision="AB12"
    )
    document, _ = templates(big("x" * 200), part(Outline.rectangle(0, 0, 62, 300), "y" * 200), title=long)
    for page in document.pages:
        assert not crowded(page.texts), page.label
        assert not outside(page), page.label
        assert "page" in words(page) and "AB12" in words(page)


@settings(max_examples=15)
@given(
    st.lists(st.tuples(st.floats(0, 700), st.floats(0, 500)), min_size=3, max_size=9, unique=True),
    st.sampled_from(["a4", "tabloid"]),
)
def test_tiles_show_every_line(points, paper):
    """The trimmed windows hold every line of the part; neighbours' windows share the overlap."""
    hull = shapely.MultiPoint(points).convex_hull
    if hull.geom_type != "Polygon" or hull.area < 100:
        return
    p = part(Outline(hull), place=ON_THE_RIGHT)
    document, index = templates(p, paper=paper, every_part=True)
    windows = shapely.union_all([shapely.box(*tile.window) for tile in index.tiles])
    strokes, _ = part_lines(p, TITLE, number=1, template=True, thicknesses=STOCKS)
    for stroke in strokes:
        assert stroke_shape(stroke).difference(windows.buffer(1e-6)).is_empty
        assert all(stroke in page.windows[0].strokes for page in document.pages[1:] if page.windows)
    for a in index.tiles:
        for b in index.tiles:
            if a.row == b.row and b.column == a.column + 1:
                x0, y0, x1, y1 = shapely.box(*a.window).intersection(shapely.box(*b.window)).bounds
                assert min(x1 - x0, y1 - y0) >= OVERLAP_MM - 1e-6


def test_part_for_ruler_is_drawn_small_with_its_distances():
    """Straight, at most eight corners: no tile; distances from one corner in mm and inches."""
    p = part(Outline.rectangle(0, 0, 300, 62), "bottom", slots=(slot(100, 30, 40),))
    document, index = templates(p)
    assert not index.tiles and [r.name for r in index.ruled] == ["bottom"]
    text = words(document.pages[index.ruled[0].page - 1])
    for wanted in (
        "300 (~11 13/16)",
        "62 (~2 7/16)",
        "80 (~3 5/32)",
        "120 (~4 23/32)",
        "slot takes ply 1.5",
        "cut 1",
    ):
        assert wanted in text
    assert "ruled straight on the board: bottom" in words(document.pages[0])


def test_ruled_parts_share_the_width():
    """Two drawings beside each other, in the order of the parts; each with its datum on its own corner."""
    small = [part(Outline.rectangle(0, 0, 90 + i, 40), f"shim-{i}", place=ON_THE_RIGHT) for i in range(4)]
    document, index = templates(*small)
    assert [r.name for r in index.ruled] == [p.name for p in small] and len(
        {r.page for r in index.ruled}
    ) == 1
    page = document.pages[index.ruled[0].page - 1]
    starts = [t.at for t in page.texts if t.text.endswith(tuple(p.name for p in small))]
    assert len({round(x) for x, _ in starts}) == len({round(y) for _, y in starts}) == 2
    assert not crowded(page.texts) and not outside(page)


def test_datum_is_a_corner_of_the_part():
    """A part none of whose corners is one of its box: the circle stands on one of its corners."""
    kite = part(Outline.of_points([(0, 30), (40, 0), (100, 25), (45, 60)]), "kite")
    document, index = templates(kite)
    page = document.pages[index.ruled[0].page - 1]
    (circle,) = (s for s in page.strokes if s.closed and len(s.segments) == 2)
    (outline,) = (s for s in page.strokes if s.line is Line.THROUGH)
    centre = circle.segments[0].centre
    assert min(math.dist(centre, s.start) for s in outline.segments) < 1e-6


def test_every_tile_tells_all_of_its_part():
    """Count, face and sizes stand on every page of a part too small for words, and in the list."""
    lug = part(Outline.circle(0, 0, 4), "lug", count=7)
    document, index = templates(lug)
    for page in (document.pages[0], document.pages[index.tiles[0].page - 1]):
        for wanted in ("1  lug", "cut 7", "inner face up", "length 8 mm", "width 8 mm"):
            assert wanted in words(page)


def test_blank_middle_is_not_printed():
    """A disc of 1.2 m has no line in its middle: only its rim is printed, and the map shows all cells."""
    _, index = templates(part(Outline.circle(0, 0, 600), "dial"))
    cores = [shapely.box(*tile.window) for tile in index.tiles]
    centre = shapely.Point(250, 150)
    assert not any(core.contains(centre) for core in cores)
    rim = shapely.Point(0, 0).buffer(600, quad_segs=64).exterior
    assert rim.difference(shapely.union_all(cores)).is_empty


def test_findings_stand_on_the_key():
    """Each finding is told, and the closing words stand once, after them."""
    document, index = templates(big(), findings=["parts.panel: little is left", CLOSING_WORDS])
    key = " ".join(" ".join(words(page) for page in document.pages[: index.tiles[0].page - 1]).split())
    assert key.count(CLOSING_WORDS) == 1 and key.index("little is left") < key.index(CLOSING_WORDS)


def test_far_marks_of_sheets_are_pricked():
    """On sheets made for templates a far mark is two circles; the steps on the key page tell of them."""
    right = side()
    one = layout((right, Placement(x_mm=10, y_mm=10)))
    drawing = sheet_drawing(one.sheets[0], one, TITLE, {"side": 1}, STOCKS, template=True)
    far = [s for s in drawing.strokes if s.line is Line.MARK_BACK]
    assert len(far) == 2 and all(s.closed and stroke_shape(s).length < 8 for s in far)
    document, _ = template_document(
        [right], [one], TITLE, "a4", by="sheet", every_part=False, sheet_drawings=[drawing]
    )
    assert "prick through paper and board" in words(document.pages[0])


def test_no_revision_no_word_of_it():
    document, _ = templates(*MIXED, title=replace(TITLE, revision=""))
    assert "revision" not in document.title
    assert not any("revision" in words(page) for page in document.pages)


def test_long_revision_leaves_plan_thickness_and_page():
    title = replace(TITLE, name="n" * 31, revision="r" * 31)
    document, index = templates(*MIXED, title=title)
    for number, page in enumerate(document.pages, 1):
        text = words(page)
        assert "n" * 31 in text and "r" * 31 in text and f"page {number} of {index.pages}" in text
    assert all("board 5 mm" in words(document.pages[tile.page - 1]) for tile in index.tiles)


def test_boards_of_a_sketch_in_inches_are_told_in_inches_too():
    document, index = templates(big(), paper="letter", title=replace(TITLE, sketch_unit="in"))
    for tile in index.tiles:
        assert "board 0.197 in (5 mm)" in words(document.pages[tile.page - 1])


def test_the_caution_on_a_crowded_strip_loses_no_word_but_those_of_the_bar_below():
    plan = replace(TITLE, name="a-plan-with-a-name-of")
    document, index = templates(big("a-part-with-a-rather-long-name-as-well"), title=plan)
    told = {"Measure the bar first." in words(document.pages[tile.page - 1]) for tile in index.tiles}
    assert told == {False}
    for tile in index.tiles:
        assert "cut away from your hand." in words(document.pages[tile.page - 1])


def test_every_part_tiles_all():
    _, index = templates(*MIXED, every_part=True)
    assert not index.ruled
    assert {tile.name for tile in index.tiles} == {"side-right", "panel", "bottom", "disc"}


def test_arc_or_ninth_corner_is_tiled():
    """A disc cannot be ruled, nor can a part with nine corners."""
    nine = part(Outline.of_points([(i * 20, i * i) for i in range(8)] + [(0, 60)]), "nine")
    eight = part(Outline.of_points([(i * 20, i * i) for i in range(7)] + [(0, 60)]), "eight")
    _, index = templates(nine, eight, part(Outline.circle(0, 0, 30), "disc"))
    assert {tile.name for tile in index.tiles} == {"nine", "disc"}
    assert [ruled.name for ruled in index.ruled] == ["eight"]


def test_pair_is_printed_once():
    """The other hand is left to the paper's back, and each tile says how many of both are cut."""
    document, index = templates(*pair())
    assert [(s.name, s.printed_as) for s in index.same_as] == [("side-left", "side-right")]
    assert {tile.name for tile in index.tiles} == {"side-right"}
    for tile in index.tiles:
        text = words(document.pages[tile.page - 1])
        assert "as drawn: 1  side-right" in text and "right hand, cut 1" in text
        assert "turned over: 2  side-left, left hand, cut 1" in text


def test_ruled_pair_is_a_mirror_image():
    right = part(Outline.rectangle(0, 0, 90, 30), "cheek-right", key="parts.cheek", hand=Hand.RIGHT, count=3)
    left = replace(right, name="cheek-left", hand=Hand.LEFT, outline=right.outline.mirrored())
    document, index = templates(right, left)
    text = words(document.pages[index.ruled[0].page - 1])
    assert "mirror image for 2 cheek-left, left hand, cut 3" in text and "turn the paper" not in text


def test_handed_mark_prints_both():
    """A mark that would read wrong on the other hand has each hand printed."""
    right, left = pair(marks=(LineMark(ends=((276, 20), (276, 60)), handed=True),))
    assert same_as([right, left]) == ()


def test_unlike_hands_are_printed_both():
    """Two parts of one key that are not mirror images, or of one hand, are no pair."""
    right, left = pair()
    assert same_as([right, replace(left, outline=Outline.rectangle(0, 0, 50, 50), slots=())]) == ()
    assert same_as([right, replace(left, hand=Hand.RIGHT)]) == ()
    assert same_as([right, replace(left, key="parts.other")]) == ()


def test_by_sheet_tiles_sheets_and_nothing_else():
    """Sheets with all that lies on them; the board's edge alone is no reason for a page."""
    right, left = pair()
    one = layout((right, Placement(x_mm=10, y_mm=10)), (left, Placement(x_mm=900, y_mm=120, turn_deg=180.0)))
    two = layout((replace(right, stock="ply"), Placement(x_mm=10, y_mm=10)), stock=PLY)
    numbers = {"side-right": 1, "side-left": 2}
    drawings = [sheet_drawing(each.sheets[0], each, TITLE, numbers, STOCKS) for each in (one, two)]
    document, index = template_document(
        [right, left], [one, two], TITLE, "a4", by="sheet", every_part=False, sheet_drawings=drawings
    )
    assert {(tile.of, tile.name) for tile in index.tiles} == {("sheet", "board-1"), ("sheet", "ply-1")}
    assert not index.ruled and not index.same_as
    windows = shapely.union_all([shapely.box(*t.window) for t in index.tiles if t.name == "board-1"])
    for placed in one.sheets[0].placed:
        assert placed.outline.polygon.boundary.difference(windows.buffer(1e-6)).is_empty
    assert len([t for t in index.tiles if t.name == "board-1"]) < 15
    shown = {stroke.line for t in index.tiles for stroke in document.pages[t.page - 1].windows[0].strokes}
    assert Line.NOTES not in shown and Line.SHEET in shown
    assert BOARD.name == "board"


def test_trim_lines_only_where_a_neighbour_follows():
    """Right and upper side at most; the last tile of a row has none on its right."""
    document, index = templates(side())
    lines = {
        tile.column: [s for s in document.pages[tile.page - 1].strokes if s.line is Line.TRIM]
        for tile in index.tiles
    }
    assert [len(lines[column]) for column in sorted(lines)] == [1] * (len(lines) - 1) + [0]


def test_neighbours_share_letters():
    """The letters at the right of a tile are those at the left of the next."""
    document, index = templates(big())
    sides = {}
    for tile in index.tiles:
        texts = [t for t in document.pages[tile.page - 1].texts if len(t.text) == 1 and t.text.islower()]
        left = sorted(t.text for t in texts if t.at[0] < tile.corner[0])
        sides[tile.row, tile.column] = left, sorted(t.text for t in texts if t.at[0] > tile.corner[0])
    pairs = [(sides[r, c][1], sides[r, c + 1][0]) for r, c in sides if (r, c + 1) in sides]
    assert pairs and all(right == left and len(right) == 2 for right, left in pairs)


def test_check_line_has_the_length_written_on_it():
    document, index = templates(side())
    page = document.pages[index.tiles[0].page - 1]
    longest = max(page.windows[0].strokes, key=lambda s: stroke_shape(s).length * (s.line is Line.RULER))
    assert stroke_shape(longest).length == pytest.approx(864)
    for tile in index.tiles:
        assert "check line, 864 mm (34 1/64 in) in all" in words(document.pages[tile.page - 1])


def test_check_line_costs_no_page():
    """Where the part fills its two pages to the brim, the line runs through the part."""
    tight = part(Outline.rectangle(0, 0, 177 * 2 - 10, 253), "tight")
    document, index = templates(tight, every_part=True)
    assert len(index.tiles) == 2
    assert any(s.line is Line.RULER for s in document.pages[-1].windows[0].strokes)


def test_bookmarks_and_labels():
    """Templates at the top level, below it what is ruled and each part with its number of pages."""
    document, index = templates(*MIXED)
    marks = [(page.bookmark, page.level) for page in document.pages if page.bookmark]
    assert marks[:2] == [("Templates", 0), ("To rule straight on the board", 1)]
    many = sum(tile.name == "side-right" for tile in index.tiles)
    assert (f"side-right, {many} pages", 1) in marks and ("disc, 1 page", 1) in marks


def test_licence_left_out_is_said():
    assert "no licence stated: ask the maker" in words(templates(side())[0].pages[0])
    stated = templates(side(), title=replace(TITLE, licence="CC BY 4.0"))[0]
    assert "CC BY 4.0" in words(stated.pages[0])


def test_key_runs_over_several_pages():
    """Many maps do not fit on one page; the page numbers on the key still tell the truth."""
    discs = [part(Outline.circle(0, 0, 30 + i), f"disc-{i}") for i in range(30)]
    document, index = templates(*discs)
    first = min(tile.page for tile in index.tiles)
    assert first > 2
    key = "\n".join(words(page) for page in document.pages[: first - 1])
    assert f"print {index.pages} pages" in key
    for tile in index.tiles:
        assert f"{tile.name}\npage {tile.page}\n" in f"{key}\n"


def test_small_parts_share_a_page():
    """Whole parts of one tile: own windows that keep apart, all facts below each, nothing to trim."""
    discs = [part(Outline.circle(0, 0, 12 + 2 * i), f"disc-{i}", count=i + 1) for i in range(6)]
    document, index = templates(*discs, big())
    pages = [tile.page for tile in index.tiles if tile.name != "panel"]
    assert len(set(pages)) == 1 and len(pages) == 6
    page = document.pages[pages[0] - 1]
    boxes = [
        shapely.box(*w.corner, w.corner[0] + w.size()[0], w.corner[1] + w.size()[1]) for w in page.windows
    ]
    assert shapely.union_all(boxes).area == pytest.approx(sum(box.area for box in boxes))
    words_boxes = shapely.union_all([text_box(text) for text in page.texts])
    assert not any(box.buffer(-0.1).intersects(words_boxes) for box in boxes)
    assert not crowded(page.texts) and not outside(page)
    assert all(stroke.line is not Line.TRIM for stroke in page.strokes)
    said = " ".join(words(page).split())
    assert all(f"{i + 1} disc-{i}; cut {i + 1}; inner face up" in said for i in range(6))
    for tile, window in zip([t for t in index.tiles if t.name != "panel"], page.windows, strict=True):
        assert (tile.row, tile.column) == ("A", 1)
        assert (window.view, window.corner, window.turned) == (tile.window, tile.corner, tile.turned)


def test_same_in_same_out():
    assert templates(*MIXED) == templates(*MIXED)


def test_laser_has_its_own_cautions():
    key = words(templates(side(face=Face.OUTER), title=replace(TITLE, tool="laser"))[0].pages[0])
    assert "forbid" in key and "hydrogen" in key and "styrene" in key


@pytest.mark.parametrize(("by", "paper"), [("piece", "a4"), ("part", "a5")])
def test_unknown_words_are_bugs(by, paper):
    with pytest.raises(ValueError, match="templates by"):
        templates(side(), paper=paper, by=by)


@given(st.lists(st.tuples(st.floats(5, 145), st.floats(5, 85)), min_size=2, max_size=60))
@settings(max_examples=15)
def test_a_ruled_part_with_many_marks_stays_on_its_page(places):
    """Numbers that a page has no room for are left out, and the page says where to find them."""
    marks = tuple(LineMark(ends=((x, y), (x / 2, y / 2))) for x, y in places)
    marked = part(Outline.rectangle(0, 0, 150, 90), "panel", marks=marks)
    document, index = templates(marked, part(Outline.rectangle(0, 0, 40, 30), "plate"))
    assert {ruled.name for ruled in index.ruled} == {"panel", "plate"}
    for page in document.pages:
        assert not outside(page)
    if len(places) > 40:
        assert any("too many points to rule" in words(page) for page in document.pages)
