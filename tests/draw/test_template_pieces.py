"""Templates of folded parts, and of the sections and doublers of joined ones."""

import itertools
from dataclasses import replace

import pytest
import shapely

from foamcut.draw.part import left_out, part_lines, stroke_shape
from foamcut.draw.pieces import joint_words, measuring_words, piece_roles
from foamcut.draw.sheet import sheet_drawing
from foamcut.draw.styles import STYLES
from foamcut.draw.templates import same_as, template_document
from foamcut.draw.values import Line
from foamcut.draw.words import text_box
from foamcut.draw.worked import BACK_LINES
from foamcut.flat.drawn import Face, FoldKind, Hand, Side
from foamcut.flat.joint import Joint, Piece
from foamcut.flat.joint_mark import JointMark
from foamcut.flat.outline import Outline, straight
from foamcut.flat.placement import Placement
from tests.draw.drawn_parts import ON_THE_RIGHT, TITLE, LineMark, layout, part
from tests.draw.folded_parts import CUTS, drawn_fold, folded, lower_bevel, plate
from tests.draw.joined_parts import joints, laid_out, pieces
from tests.draw.page_checks import crowded, outside, words

EVERY = list(itertools.product(FoldKind, Side))


def templates(*parts, every_part=False, paper="a4", layouts=(), **more):
    values = {"by": "part", "sheet_drawings": (), "thicknesses": {"board": 5.0}} | more
    return template_document(parts, layouts, TITLE, paper, every_part=every_part, **values)


def of_pieces(**more):
    return templates(*(p.flat for p in pieces()), layouts=(laid_out(),), joints=joints(), **more)


def flowing(page) -> str:
    """The words of a page in one line."""
    return " ".join(words(page).split())


@pytest.mark.parametrize(("kind", "side"), EVERY)
def test_tiles_show_every_line_of_a_fold(kind, side):
    """Put together, the windows hold all of it, and the legend explains it."""
    p = plate(kind, side, size=(420.0, 300.0))
    document, index = templates(p, every_part=True)
    assert len(index.tiles) > 1
    windows = shapely.union_all([shapely.box(*tile.window) for tile in index.tiles]).buffer(1e-6)
    drawn = part_lines(p, TITLE, number=1, template=True, thicknesses={"board": 5.0})[0]
    for stroke in drawn:
        assert stroke_shape(stroke).difference(windows).is_empty
        assert all(stroke in document.pages[t.page - 1].windows[0].strokes for t in index.tiles)
    key = [text.text for page in document.pages[: index.tiles[0].page - 1] for text in page.texts]
    assert {STYLES[s.line].letter for s in drawn} <= set(key)


@pytest.mark.parametrize(("side", "told"), [(Side.UP, False), (Side.DOWN, True)])
def test_the_key_tells_what_to_do_with_lines_cut_from_the_back(side, told):
    document, _ = templates(plate(FoldKind.GROOVE, side), every_part=True)
    assert ("line cut from the back" in flowing(document.pages[0])) is told


@pytest.mark.parametrize(("kind", "side"), EVERY)
def test_a_folded_rectangle_is_ruled_with_the_distances_of_its_lines(kind, side):
    """Every line that is worked has its distance from the corner, its words a letter on the drawing."""
    p = plate(kind, side, size=(300.0, 120.0))
    document, index = templates(p)
    (page,) = (document.pages[r.page - 1] for r in index.ruled)
    numbers = {text.text.split(" ")[0] for text in page.texts}
    xs = {round(run[0].start[0], 1) for run in p.folds[0].cut_runs()}
    assert {f"{x:.1f}".removesuffix(".0") for x in xs} <= numbers
    assert {s.line for s in page.strokes} >= CUTS[kind][side is Side.DOWN]
    assert [t.text for t in page.texts].count("a") == 1 and "a: " in words(page)
    assert ("prick lines near their ends" in flowing(page)) is (side is Side.DOWN)
    assert not crowded(page.texts) and not outside(page)


def test_letters_of_a_ruled_drawing_tell_folds_apart():
    """Like folds share a letter; a bevel has its own."""
    p = folded(
        Outline.rectangle(0, 0, 300, 120),
        drawn_fold(FoldKind.GROOVE, (80, -1), (80, 121)),
        drawn_fold(FoldKind.GROOVE, (220, 121), (220, -1)),
        drawn_fold(FoldKind.SCORE, (150, -1), (150, 121), 20.0),
        bevels=(lower_bevel(300),),
    )
    document, index = templates(p)
    page = document.pages[index.ruled[0].page - 1]
    single = sorted(t.text for t in page.texts if len(t.text) == 1 and t.text.isalpha())
    assert single == ["a", "a", "b", "c"]
    for told in ("a: groove, fold 90", "b: score, fold 20", "c: bevel 45"):
        assert told in words(page)
    lines = shapely.union_all([stroke_shape(s) for s in page.strokes if s.line is not Line.DIMENSION])
    assert not any(lines.intersects(text_box(t)) for t in page.texts if t.text in single)


def test_marks_of_a_ruled_drawing_have_letters_behind_those_of_folds():
    """The list says what each letter is, and which mark lies on the far face."""
    p = folded(
        Outline.rectangle(0, 0, 300, 120),
        drawn_fold(FoldKind.GROOVE, (80, -1), (80, 121)),
        marks=(
            LineMark(ends=((120, 20), (120, 100)), text="former", face=Face.INNER),
            LineMark(ends=((160, 20), (160, 100)), text="former", face=Face.INNER),
            LineMark(ends=((200, 20), (280, 60)), text="tape", face=Face.OUTER),
        ),
    )
    document, index = templates(p)
    page = document.pages[index.ruled[0].page - 1]
    single = sorted(t.text for t in page.texts if len(t.text) == 1 and t.text.isalpha())
    assert single == ["a", "b", "b", "c"]
    assert "marks: b former, c tape on the far face" in flowing(page)


def test_a_drawing_to_rule_is_as_large_as_the_page_allows():
    """552 x 204 mm upright: 110 mm high at 1:5; 300 x 60 over the width: 150 mm at 1:2; scales of ISO 5455."""
    for size, scale in (((204, 552), 5), ((300, 60), 2), ((90, 40), 2), ((140, 40), 1)):
        small = part(Outline.rectangle(0, 0, *size), "plate")
        document, index = templates(small)
        page = document.pages[index.ruled[0].page - 1]
        assert f"drawn 1:{scale}" in words(page)
        (outline,) = (stroke_shape(s) for s in page.strokes if s.line is Line.THROUGH)
        x0, y0, x1, y1 = outline.bounds
        assert (x1 - x0, y1 - y0) == pytest.approx((size[0] / scale, size[1] / scale))
        assert not outside(page)


def test_a_ruled_wrap_tells_where_its_paper_turns():
    """Strips from 80 to 75 and from 200 to 205 mm: the paper turns at 75 and at 205."""
    p = folded(
        Outline.rectangle(0, 0, 280, 200),
        drawn_fold(FoldKind.WRAP, (80, -1), (80, 201)),
        drawn_fold(FoldKind.WRAP, (200, 201), (200, -1)),
    )
    document, index = templates(p)
    said = flowing(document.pages[index.ruled[0].page - 1])
    assert "a: wrap: lift out 5 mm, fold 90 deg towards you at FU (75 mm, 205 mm)" in said


def test_a_roll_of_more_scores_than_a_page_has_room_for_is_tiled():
    """Distances of what is cut are never left out: the part is printed instead."""
    fold = drawn_fold(FoldKind.ROLL, (20, 101), (20, -1), 180.0, radius_mm=70.0)
    p = folded(Outline.rectangle(0, 0, 270, 100), fold)
    _, index = templates(p)
    assert len(p.folds[0].half) > 40 and not index.ruled and index.tiles


def test_what_found_no_room_stands_in_the_list_and_on_the_page():
    clip = plate(FoldKind.GROOVE, size=(36.0, 22.0))
    lost = left_out(clip, TITLE, number=1, thicknesses={}).words
    document, index = templates(clip, every_part=True)
    assert lost == ("G 90 FU: groove, fold 90 deg towards you",)
    for page in (document.pages[0], document.pages[index.tiles[0].page - 1]):
        assert lost[0] in flowing(page)


def test_the_other_hand_of_a_folded_part_is_not_printed():
    """Its folds are mirror images, and turned over the paper shows them."""
    right = folded(
        Outline.of_points([(0, 0), (300, 0), (320, 120), (0, 100)]),
        drawn_fold(FoldKind.GROOVE, (80, -1), (80, 130)),
        key="parts.wall",
        name="wall-right",
        hand=Hand.RIGHT,
    )
    left = replace(
        right,
        name="wall-left",
        hand=Hand.LEFT,
        outline=right.outline.mirrored(),
        folds=tuple(f.mirrored() for f in right.folds),
    )
    assert [s.name for s in same_as((right, left))] == ["wall-left"]


def test_roles_of_pieces():
    assert piece_roles((*pieces(), *pieces())) == {
        "side-right-section-1": "section 1 of 2 of side-right",
        "side-right-section-2": "section 2 of 2 of side-right",
        "side-right-doubler-a": "doubler A of side-right",
    }
    assert piece_roles([Piece.whole(part(Outline.rectangle(0, 0, 9, 9)))]) == {}


def test_joints_of_one_length_are_told_together():
    """864 mm is 34 1/64 in (arithmetic)."""
    a = Joint(x_mm=300, letters=("A",), length_mm=864.0)
    b = Joint(x_mm=600, letters=("B", "C"), length_mm=864.0)
    across = Joint(y_mm=600, letters=(), length_mm=700.0)
    assert joint_words((a, b)) == "864 mm (34 1/64 in) over 2 joints (doublers A, B, C)"
    assert joint_words((a, across)).endswith(", 700 mm (~27 9/16 in) over the joint")


@pytest.mark.parametrize("every_part", [False, True])
def test_pages_of_pieces_say_what_they_are(every_part):
    """Role, hand, count and face on each page, the length over the joint on those of sections."""
    document, index = of_pieces(every_part=every_part)
    pages = {each.name: document.pages[each.page - 1] for each in (*index.ruled, *index.tiles)}
    assert "side-right-doubler-a" in {each.name for each in index.tiles}  # full size, never to rule
    assert set(pages) == {p.flat.name for p in pieces()}
    glued = "glued: side-right 864 mm (34 1/64 in) over the joint (doubler A)"
    for name, page in pages.items():
        said = flowing(page)
        assert piece_roles(pieces())[name] in said and "cut 1" in said and "inner face up" in said
        assert glued in said or name.endswith("doubler-a")
        assert not crowded(page.texts) and not outside(page)
        assert {"FRONT", "UP"} <= set(words(page).split("\n"))


def test_a_piece_says_its_role_on_itself():
    section, _, patch = pieces()
    for piece, role in ((section, "section 1 of 2 of side-right"), (patch, "doubler A of side-right")):
        texts = part_lines(piece.flat, TITLE, number=3, template=True, role=role)[1]
        assert role in {t.text for t in texts}
        assert role not in {t.text for t in part_lines(piece.flat, TITLE, number=3, template=True)[1]}
        assert "A" in {t.text for t in texts}


def test_the_letter_of_a_doubler_is_the_one_drawn_on_it():
    """Letters run through a plan, so that the first doubler of a part need not be A."""
    *_, patch = pieces()
    mark = JointMark(key="j", face=Face.INNER, letter="C", runs=(straight([(500, 20), (500, 25)]),))
    flat = replace(patch.flat, marks=(mark,))
    roles = piece_roles([replace(patch, flat=flat)])
    assert roles == {"side-right-doubler-a": "doubler C of side-right"}


def test_how_a_joint_is_measured_follows_its_line_and_the_place_on_the_model():
    """Along x for a line at one x, along y for one at one y; which way on the model where that is known."""
    a = Joint(x_mm=300, letters=("A",), length_mm=864.0)
    across = Joint(y_mm=60, letters=("B",), length_mm=700.0)
    one, other = measuring_words((a, across), ON_THE_RIGHT).split("; ")
    assert one.startswith("864 mm") and one.endswith("along x of the drawing, nose to tail")
    assert other.startswith("700 mm") and other.endswith("along y of the drawing, up the model")
    assert measuring_words((a,), None).endswith("from end to end, along x of the drawing")


def test_sections_and_doublers_have_no_sizes_of_the_sketch():
    """Nobody measured those on the sketch; a whole part keeps its own."""
    for every_part in (False, True):
        document, index = of_pieces(every_part=every_part)
        for each in (*index.ruled, *index.tiles):
            page = document.pages[each.page - 1]
            said = words(page) + " ".join(t.text for w in page.windows for t in w.texts)
            assert "length" in said and "sketch" not in said
    document, index = templates(plate(FoldKind.GROOVE))
    assert "sketch" in words(document.pages[index.ruled[0].page - 1])


def test_the_key_lists_the_joints():
    """Once each, with the length to lay a rule along; nothing of joints where there are none."""
    document, index = of_pieces()
    first = min(each.page for each in index.ruled)
    key = " ".join(flowing(page) for page in document.pages[: first - 1])
    told = "side-right is cut in 2: 864 mm (34 1/64 in) over the joint (doubler A), measured over all, "
    assert key.count(told + "from end to end, along x of the drawing, nose to tail") == 1
    assert key.count("To glue a joint: butt the sections on a flat table") == 1
    assert "letter to letter" in key and "ticks meet ticks" in key and "until the glue is dry" in key
    for name, role in piece_roles(pieces()).items():
        assert name in key and role in key
    plain, _ = templates(plate(FoldKind.GROOVE))
    assert "Joints" not in words(plain.pages[0])


def test_tiles_of_sections_show_every_line():
    document, index = of_pieces(every_part=True)
    for number, piece in enumerate(pieces(), 1):
        tiles = [tile for tile in index.tiles if tile.name == piece.flat.name]
        windows = shapely.union_all([shapely.box(*tile.window) for tile in tiles]).buffer(1e-6)
        role = piece_roles(pieces())[piece.flat.name]
        drawn = part_lines(
            piece.flat, TITLE, number=number, template=True, thicknesses={"board": 5.0}, role=role
        )[0]
        for stroke in drawn:
            assert stroke_shape(stroke).difference(windows).is_empty
            assert stroke in document.pages[tiles[0].page - 1].windows[0].strokes
    assert not BACK_LINES & {s.line for page in document.pages for w in page.windows for s in w.strokes}


@pytest.mark.parametrize("kind", FoldKind)
def test_sheets_to_tape_on_the_board_show_lines_cut_from_the_back(kind):
    """In their style, with circles to prick through; the key says what to do."""
    p = plate(kind, Side.DOWN)
    one = layout((p, Placement(x_mm=10, y_mm=10)), size=(500, 300))
    drawing = sheet_drawing(one.sheets[0], one, TITLE, {"tray": 1}, {"board": 5.0}, template=True)
    document, index = templates(p, layouts=(one,), by="sheet", sheet_drawings=[drawing])
    shown = {s for t in index.tiles for s in document.pages[t.page - 1].windows[0].strokes}
    own = part_lines(p, TITLE, number=1, template=True)[0]
    for line in (*CUTS[kind][1], Line.MARK_BACK):
        assert sum(s.line is line for s in shown) == sum(s.line is line for s in own) > 0
    assert "line cut from the back" in flowing(document.pages[0])
