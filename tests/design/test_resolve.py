"""From keys to values: lengths, defaults, outlines, marks, places, limits, and each refusal with its words."""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.design import parts
from foamcut.design.stocks import Tool
from foamcut.errors import Refused
from foamcut.flat.drawn import (
    Disc,
    Face,
    Grain,
    Hand,
    Place,
    Reading,
    Readings,
    Rectangle,
    Trapezoid,
    Turns,
)

from .making import GOOD, changed, part, read, refused, with_keys


def drawn(keys: str):
    """The only part of a design whose part has these keys."""
    return read(part(keys)).parts[0]


def points(outline: str) -> tuple[Reading, ...]:
    shape = drawn(f'outline = """\n{outline}\n"""').shape
    assert isinstance(shape, Readings)
    return shape.points


# ---- outlines -------------------------------------------------------------------------------------


def test_a_table_of_readings():
    """Rows end at the line's end or a semicolon; comments are skipped; bare numbers are times the scale."""
    found = points("0, 2   # nose; not a row\n\n  8, 0 ; 9 mm, 1/2")
    assert [p.at for p in found] == [(0, 12), (48, 0), (9, 3)]
    assert [p.key for p in found] == [f"parts.side.outline[{i}]" for i in range(3)]


def test_words_behind_a_point():
    """Several words may follow a point, in any order."""
    a, b, c, d = points(
        "0, 0 round 1 name tail-top\n9, 0 smooth name b\n9, 9 name c through 4, 15\n0, 9 round 2 mm"
    )
    assert (a.round_mm, a.name, a.smooth, a.through) == (6, "tail-top", False, None)
    assert (b.round_mm, b.name, b.smooth) == (None, "b", True)
    assert (c.through, c.name) == ((24, 90), "c")
    assert d.round_mm == 2


def test_commas_in_brackets_part_no_columns():
    """A sum may stand in either column, with commas in its brackets."""
    a, b, _ = points("max(3, 5 mm), min(half_span, 2)\n half_span - (2 + 1), 0 through max(1, 2), 3\n0, 9")
    assert a.at == (18, 12)
    assert (b.at, b.through) == ((534, 0), (12, 18))


def test_a_size_may_be_called_like_a_word():
    """A word begins only behind a finished number."""
    text = changed("half_span = 92", "half_span = 92\nsmooth = 3\nname = 4\nround = 1", part(
        'outline = "0, smooth smooth name name; 2 * name, round round round; 5, 5"'
    ))  # fmt: skip
    shape = read(text).parts[0].shape
    assert isinstance(shape, Readings)
    a, b, _ = shape.points
    assert (a.at, a.smooth, a.name) == ((0, 18), True, "name")
    assert (b.at, b.round_mm) == ((48, 6), 6)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("3", '"3" has one number where two are due; write "x, y"'),
        (
            "3, 4, 5",
            '"3, 4, 5" has 3 columns where two are due; write "x, y"; the decimal sign is a full stop',
        ),
        ("3,", '"3," has nothing on one side of the comma'),
        ("3, 4 rond 1", '"rond" is no word of an outline; did you mean "round"?'),
        ("3, 4 Smooth", '"Smooth" is no word of an outline; did you mean "smooth"?'),
        ("3, 4 round", '"round" needs a radius behind it, such as "round 1"'),
        ("3, 4 round 1 round 2", '"round" stands there twice; take one out'),
        ("3, 4 smooth 1", '"smooth" stands alone; take "1" out'),
        ("3, 4 smooth round 1", "either smooth or round; take one of the words out"),
        ("3, 4 name", '"" is no name of a point; write one word behind "name"'),
        ("3, 4 name 1st", '"1st" is no name of a point'),
        ("3, 4 name a b", '"a b" is no name of a point'),
    ],
)
def test_faults_of_a_row(row: str, words: str):
    """What is wrong with a row is told at that row."""
    found = refused(part(f'outline = """\n0, 0\n9, 0\n{row}\n"""'))
    assert list(found) == ["parts.side.outline[2]"]
    assert words in found["parts.side.outline[2]"]


@pytest.mark.parametrize(
    ("row", "key", "words"),
    [
        ("3, four", "outline[2][1]", '"four" is no name in [sizes]'),
        ("3, 4 round 0", "outline[2].round", "0 mm is not above 0; write a larger number"),
        ("3, 4 through 5", "outline[2].through", 'has one number where two are due; write "through x, y"'),
        ("3, 4 through 5, x", "outline[2].through[1]", '"x" is no name in [sizes]'),
        ("3, 2 half_span", "outline[2][1]", 'write "2 * half_span"'),
        ("3, 1e9", "outline[2][1]", "has an exponent"),
    ],
)
def test_faults_of_a_number_in_a_row(row: str, key: str, words: str):
    """A number that is refused is told with its column or word, and its line is that of the row."""
    text = part(f'outline = """\n0, 0\n9, 0\n{row}\n"""')
    assert words in refused(text)[f"parts.side.{key}"]
    with pytest.raises(Refused) as caught:
        read(text)
    assert caught.value.refusals[0].line == text.split("\n").index(row) + 1


def test_a_name_of_a_point_is_given_once():
    """Points are told apart by their names."""
    found = refused(part('outline = "0, 0 name a; 9, 0 name b; 9, 9 name a"'))
    assert found == {
        "parts.side.outline[2]": '(9, 9 name a): the name "a" is given twice; choose another'
    }


@pytest.mark.parametrize(
    ("raw", "key", "words"),
    [
        ("3", "outline", "3 where points are due"),
        ('""', "outline", "has no point"),
        ('"1, 2"', "outline", "has 1 point; an outline needs three"),
        ("[]", "outline", "has no point"),
        ("[[1, 2], [3]]", "outline[1]", "a list of 1 where two lengths are due; write [x, y]"),
        ("[[1, 2], 3]", "outline[1]", "3 where two lengths are due; write [x, y]"),
        ("[[1, 2], [3, true]]", "outline[1][1]", "true where a number is due"),
        ("[[1, 2], [3, nan]]", "outline[1][1]", "nan is no number"),
        ("[[1, 2], [3, 2031-04-02]]", "outline[1][1]", "the date or time 2031-04-02 where a number is due"),
        ("[[1, 2], [3, 1000000]]", "outline[1][1]", "over 1e6 mm"),
    ],
)
def test_faults_of_an_outline(raw: str, key: str, words: str):
    """An outline is a text or a list of pairs of lengths."""
    assert words in refused(part(f"outline = {raw}"))[f"parts.side.{key}"]


def test_too_many_points(monkeypatch):
    """Limits of points are told by name: of an outline, of a part, of all."""
    rows = ";".join(f"{i}, {i % 7}" for i in range(20_001))
    assert (
        "has 20,001 points; at most 20,000 are read"
        in refused(part(f'outline = "{rows}"'))["parts.side.outline"]
    )
    half = ";".join(f"{i % 97}, {i % 7}" for i in range(10_001))
    text = part(f'outline = "{half}"\ncutouts = [ {{ outline = "{half}" }} ]')
    assert refused(text)["parts.side"] == "has 20,002 points; at most 20,000 are read"
    assert parts.MAX_POINTS == 200_000
    monkeypatch.setattr(parts, "MAX_POINTS", 20_000)  # ten times as many take ten times as long
    several = "".join(f'[parts.p{i}]\nstock = "board"\noutline = "{half}"\n' for i in range(2))
    assert (
        refused(GOOD.split("[parts")[0] + several)["parts"]
        == "have 20,002 points; at most 20,000 are read in all"
    )


def test_thousands_of_refusals_are_cut_short():
    """The first two hundred are told, and how many more there are."""
    rows = "\n".join(["0, 0"] + ["x, 1"] * 3000)
    with pytest.raises(Refused) as caught:
        read(part(f'outline = """\n{rows}\n"""'))
    *told, last = caught.value.refusals
    assert len(told) == 200
    assert last.text == "2,800 more of the design's keys are refused; mend these first"


# ---- shapes ---------------------------------------------------------------------------------------


def test_shapes():
    """Rectangle, circle and trapezoid, with sketch measures and true sizes."""
    assert drawn('rectangle = ["7 mm", 5]').shape == Rectangle(
        key="parts.side.rectangle", width_mm=7, height_mm=30
    )
    assert drawn("circle = 2").shape == Disc(key="parts.side.circle", diameter_mm=12)
    assert drawn('trapezoid = { bottom = 4, top = 3, height = "9 mm", shift = -1 }').shape == Trapezoid(
        key="parts.side.trapezoid", bottom_mm=24, top_mm=18, height_mm=9, shift_mm=-6
    )


def test_a_mirrored_half():
    """The axis is handed on; the half itself stays as drawn."""
    found = drawn('mirrored = "x"\noutline = [[0, 0], [2, 3], [4, 0]]')
    assert found.mirrored is Grain.X
    assert drawn("circle = 2").mirrored is Grain.ANY


@pytest.mark.parametrize(
    ("keys", "key", "words"),
    [
        ("rectangle = [7]", "rectangle", "a list of 1 where two lengths are due; write [width, height]"),
        ("rectangle = [7, -1]", "rectangle[1]", "-6 mm is not above 0"),
        ("circle = 0", "circle", "0 mm is not above 0"),
        ("circle = inf", "circle", "inf is no number"),
        ('circle = ""', "circle", "is empty; write a number"),
        ("trapezoid = { bottom = 4, top = 3 }", "trapezoid.height", "is missing; add it: distance between"),
        ("circle = 2\nmirrored = 'x'", "mirrored", "only an outline is mirrored, not a circle"),
        ("circle = 2\ncutouts = [ { circle = 1, turn = 400 } ]", "cutouts[0].turn", "more than a full turn"),
        ("circle = 2\ncutouts = [ { at = [1, 2] } ]", "cutouts[0]", "none of outline, rectangle, circle"),
        ("circle = 2\ncount = 0", "count", "0 is less than 1"),
        ("circle = 2\ncount = 1.5", "count", "1.5 where a whole number is due"),
        ("circle = 2\ncount = 10000", "count", "10,000 is too many; at most 5,000 are read"),
        ("circle = 2\npair = 'both'", "pair", 'none of "right", "left"'),
        ("circle = 2\ncutting = { fit = '4 mm' }", "cutting.fit", "4 mm is not from -1 mm to 3 mm"),
        ("circle = 2\nslots = [ { at = [1, 1], length = 1 } ]", "slots[0].takes", "is missing; add it: name"),
        (
            "circle = 2\nslots = [ { at = [1, 1], length = 1, takes = 'plyw' } ]",
            "slots[0].takes",
            'there is no stock "plyw"; did you mean "ply"?',
        ),
        ("circle = 2\ntabs = [ { at = [1, 1], length = 0, into = 'ply' } ]", "tabs[0].length", "not above 0"),
        ("circle = 2\nlabel = { at = 3 }", "label.at", "3 where two lengths are due; write [x, y]"),
    ],
)  # fmt: skip
def test_faults_of_a_part(keys: str, key: str, words: str):
    """Each key of a part is refused by name."""
    assert words in refused(part(keys))[f"parts.side.{key}"]


def test_an_unknown_stock_is_refused_with_the_known_ones():
    """Where no name is near, all are told."""
    found = refused(changed('stock = "board"', 'stock = "tin"'))
    assert found == {"parts.side.stock": 'there is no stock "tin"; known are board, ply'}


# ---- defaults and tools ---------------------------------------------------------------------------


def test_defaults_of_a_part():
    """Count 1, no pair, face inner, grain any, turns quarter."""
    found = drawn("circle = 2")
    assert (found.count, found.pair, found.face) == (1, Hand.NONE, Face.INNER)
    assert (found.grain, found.turns) == (Grain.ANY, Turns.QUARTER)
    assert (found.stock, found.thickness_mm, found.place, found.label) == ("board", 5, None, None)


@pytest.mark.parametrize(("tool", "fit", "margin"), [("knife", 0.2, 3), ("plotter", 0, 6), ("laser", 0, 6)])
def test_defaults_of_a_tool(tool: str, fit: float, margin: float):
    """The tool sets fit and margin where they are left out; the gap is 2 mm."""
    design = read(changed("[sketch]", f'[cutting]\ntool = "{tool}"\n[sketch]'))
    assert (design.plan.tool, design.plan.fit_mm) == (Tool(tool), fit)
    assert (design.stocks[0].margin_mm, design.stocks[0].gap_mm) == (margin, 2)


def test_fit_of_a_design_and_of_a_part():
    """A part's own fit stands before that of [cutting]; widths come from the stock that goes in."""
    slots = "slots = [ { at = [1, 1], length = 2, turn = '90 deg', takes = 'ply', open = true } ]"
    text = changed("[sketch]", '[cutting]\nfit = "-0.5 mm"\n[sketch]', with_keys(slots))
    (slot,) = read(text).parts[0].slots
    assert (slot.fit_mm, slot.takes, slot.takes_thickness_mm) == (-0.5, "ply", 1.5)
    assert (slot.length_mm, slot.turn_deg, slot.open, slot.at) == (12, 90, True, (6, 6))
    (slot,) = read(text + 'cutting = { fit = "0 mm" }\n').parts[0].slots
    assert slot.fit_mm == 0


def test_tabs_stand_out_by_what_they_go_into():
    """The tab knows the thickness of its stock."""
    (tab,) = drawn("circle = 2\ntabs = [ { at = [1, 1], length = 2, into = 'ply' } ]").tabs
    assert (tab.at, tab.length_mm, tab.into, tab.into_thickness_mm) == ((6, 6), 12, "ply", 1.5)


# ---- stock ----------------------------------------------------------------------------------------


def test_stock_with_everything():
    """Sizes, masses, prices, packs, shelf, grain, offcuts."""
    text = changed(
        'sheets = [ { size = "700 x 500 mm" } ]',
        'margin = "1 cm"\ngap = "0 mm"\ngrain = "y"\nspare = 2\n'
        'sheets = [ { size = "20 x 30 in", mass = "4 oz", price = 3.4, sold_in = 5, on_hand = 7 }, '
        '{ size = "500 mm x 0.35 m" } ]\n'
        'offcuts = [ { size = "320 x 180 mm", count = 3 }, '
        '{ outline = "10 mm, -20 mm; 310 mm, -20 mm; 130 mm, 180 mm" } ]',
    )
    stock = read(text).stocks[0]
    assert (stock.margin_mm, stock.gap_mm, stock.grain, stock.spare) == (10, 0, Grain.Y, 2)
    usual, other = stock.sheets
    assert (usual.width_mm, usual.height_mm) == (508, 762)
    assert usual.mass_g == pytest.approx(113.398, abs=1e-3)
    assert (usual.price, usual.sold_in, usual.on_hand) == (Decimal("3.40"), 5, 7)
    assert (other.width_mm, other.height_mm, other.price, other.mass_g) == (500, 350, None, None)
    assert (other.sold_in, other.on_hand, other.key) == (1, 0, "stock.board.sheets[1]")
    square, triangle = stock.offcuts
    assert (square.outline.bounds, square.count) == ((0, 0, 320, 180), 3)
    assert (triangle.outline.bounds, triangle.outline.area, triangle.count) == ((0, 0, 300, 200), 30000, 1)


@pytest.mark.parametrize(
    ("keys", "key", "words"),
    [
        ("sheets = [ { size = 700 } ]", "sheets[0].size", "where a size is due"),
        ("sheets = [ { size = '6 x 500 mm' } ]", "sheets[0].size", "nothing is left inside a margin of 3 mm"),
        ("sheets = [ { size = '5001 x 500 mm' } ]", "sheets[0].size", "a side of 5001 mm is over 5000 mm"),
        ("sheets = [ { mass = '3 g' } ]", "sheets[0].size", "is missing"),
        ("sheets = [ { size = '7 x 5 in', mass = 3 } ]", "sheets[0].mass", '3 has no unit; write "3 g"'),
        ("sheets = [ { size = '7 x 5 in', mass = '0 g' } ]", "sheets[0].mass", "0 is not above 0"),
        ("sheets = [ { size = '7 x 5 in', price = 1.005 } ]", "sheets[0].price", "more than two places"),
        ("sheets = [ { size = '7 x 5 in', price = -1 } ]", "sheets[0].price", "less than 0"),
        ("sheets = [ { size = '7 x 5 in', on_hand = 201 } ]", "sheets[0].on_hand", "201 is too many; at most 200"),
        ("sheets = [ { size = '7 x 5 in', sold_in = 0 } ]", "sheets[0].sold_in", "0 is less than 1"),
        ("sheets = []\nspare = -1", "spare", "-1 is less than 0"),
        ("sheets = []\nmargin = '-1 mm'", "margin", "-1 mm is less than 0; write 0 or more"),
        ("sheets = []\nmargin = 3", "margin", '3 has no unit. Write "3 mm" for a true size'),
        ("sheets = []\ngap = 'half_span - 2'", "gap", "has no unit"),
        ("sheets = []\ngrain = 'any'", "grain", 'none of "none", "x", "y"'),
        ("offcuts = [ { count = 2 } ]", "offcuts[0]", "none of size, outline is given; add one"),
        ("offcuts = [ { size = '6 x 6 m' } ]", "offcuts[0]", "a side of 6000 mm is over 5000 mm"),
        ("offcuts = [ { outline = '0 mm, 0 mm; 6 m, 1 m; 0 mm, 1 m' } ]", "offcuts[0]", "6000 mm is over 5000"),
        ("offcuts = [ { outline = '0 mm, 0; 6 m, 1 m' } ]", "offcuts[0].outline[0][1]", "0 has no unit"),
        ("offcuts = [ { outline = [['1 mm', 2], ['3 mm', '4 mm']] } ]", "offcuts[0].outline[0][1]", "2 has no unit"),
        ("offcuts = [ { outline = '0 mm, 0 mm round 3; 6 mm, 1 mm' } ]", "offcuts[0].outline[0].round", "no unit"),
        ("offcuts = [ { size = '6 x 6 in', count = 0 } ]", "offcuts[0].count", "0 is less than 1"),
    ],
)  # fmt: skip
def test_faults_of_stock(keys: str, key: str, words: str):
    """Each key of a stock is refused by name."""
    text = changed('sheets = [ { size = "700 x 500 mm" } ]', keys)
    assert words in refused(text)[f"stock.board.{key}"]


@pytest.mark.parametrize(
    ("thickness", "words"),
    [
        ("5", '5 has no unit. Write "5 mm"'),
        ('"0 mm"', "0 mm is not above 0"),
        ('"-2 mm"', "-2 mm is not above 0"),
        ('"2 * half_span - 2"', "has no unit"),
        ("true", "true where a number is due"),
    ],
)
def test_a_thickness_has_its_unit(thickness: str, words: str):
    """What is measured on the board is never read off the sketch."""
    assert words in refused(changed('"5 mm"', thickness))["stock.board.thickness"]


def test_crossing_and_flat_offcuts_are_kept_with_their_fault():
    """Rows that are no outline at all are refused, in the step behind keys and numbers."""
    for rows in ("90 mm, 90 mm; 90 mm, 0 mm; 0 mm, 80 mm", "90 mm, 0 mm; 20 mm, 0 mm", "40 mm, 40 mm through 60 mm, 20 mm; 40 mm, 0 mm; 0 mm, 40 mm"):
        text = changed('material = "foam board"', f'material = "foam board"\noffcuts = [ {{ outline = "0 mm, 0 mm; {rows}" }} ]')
        (offcut,) = read(text).stocks[0].offcuts
        assert offcut.outline.fault()
    none = changed('material = "foam board"', 'material = "foam board"\noffcuts = [ { outline = "0 mm, 0 mm; 9 mm, 0 mm" } ]')
    assert "two points" in refused(none)["stock.board.offcuts[0].outline"]
    assert list(refused(none.replace("scale = 6", "scale = 0"))) == ["sketch.scale"]


# ---- marks ----------------------------------------------------------------------------------------


def mark(words: str, part_keys: str = "circle = 50"):
    (found,) = drawn(f"{part_keys}\nmarks = [ {{ {words} }} ]").marks
    return found


def test_marks_of_every_kind():
    """Each kind has its own numbers; balance and tape are on the outer face unless said otherwise."""
    line = mark("line = [[0, 1], [2, 3], ['4 mm', 5]], text = 'F2'")
    assert (line.kind, line.points, line.text, line.face) == (
        "line", ((0, 6), (12, 18), (4, 30)), "F2", Face.INNER,
    )  # fmt: skip
    balance = mark("balance = '25 %', from = [0, 1], to = [8, 1]")
    assert (balance.kind, balance.points, balance.ratio, balance.face) == (
        "balance", ((0, 6), (48, 6)), 0.25, Face.OUTER,
    )  # fmt: skip
    circle = mark("circle = 2, at = [1, 1], face = 'outer'")
    assert (circle.kind, circle.points, circle.diameter_mm, circle.face) == (
        "circle", ((6, 6),), 12, Face.OUTER,
    )  # fmt: skip
    tape = mark("tape = [[0, 0], [9, 0]], width = '50 mm', face = 'inner'")
    assert (tape.kind, tape.width_mm, tape.face) == ("tape", 50, Face.INNER)


def test_marks_of_a_part_without_faces():
    """A part that may lie either way has its marks on the drawn face."""
    for words in ("line = [[0, 1], [2, 3]]", "balance = 0.3, from = [0, 0], to = [1, 0]"):
        assert mark(words, "circle = 50\nface = 'either'").face is Face.EITHER


@pytest.mark.parametrize(
    ("words", "key", "text"),
    [
        ("line = [[0, 1]]", ".line", "needs two points or more; write [[x, y], [x, y]]"),
        ("line = 3", ".line", "3 where a list of points is due"),
        ("line = [[0, 1], 2]", ".line", "needs two points or more"),
        ("text = 'x'", "", "none of line, balance, circle, tape is given; add one"),
        ("circle = 1, at = [0, 0], line = [[0, 1], [2, 3]]", "", "has line and circle; keep one of them"),
        ("circle = 1", ".at", 'is missing; a mark "circle" needs it: its centre'),
        ("balance = '25 %', from = [0, 1]", ".to", 'is missing; a mark "balance" needs it: rear end of the chord'),
        ("balance = 25, from = [0, 1], to = [1, 1]", ".balance", '25 is not from 0 to 1; write a share such as "25 %"'),
        ("tape = [[0, 1], [2, 3]]", ".width", 'is missing; a mark "tape" needs it: its width'),
        ("tape = [[0, 1], [2, 3]], width = 0", ".width", "0 mm is not above 0"),
        ("line = [[0, 1], [2, 3]], width = 1", ".width", 'belongs to a mark "tape", not to "line"; take it out'),
        ("line = [[0, 1], [2, 3]], text = 'a\\nb'", ".text", "cannot be printed; write it in one line"),
        ("lin = [[0, 1], [2, 3]]", ".lin", 'unknown key; did you mean "line"?'),
    ],
)  # fmt: skip
def test_faults_of_marks(words: str, key: str, text: str):
    """A mark has the keys of its kind and no others."""
    quoted = words.replace("'a\\nb'", '"a\\nb"')
    found = refused(part(f"circle = 50\nmarks = [ {{ {quoted} }} ]"))
    assert list(found) == [f"parts.side.marks[0]{key}"]
    assert text in found[f"parts.side.marks[0]{key}"]


def test_a_mark_has_no_face_where_the_part_has_none():
    """Inner and outer mean nothing on a part that may be turned over."""
    keys = "circle = 50\nface = 'either'\nmarks = [ { line = [[0, 1], [2, 3]], face = 'outer' } ]"
    assert "it has no inner and outer" in refused(part(keys))["parts.side.marks[0].face"]


# ---- places ---------------------------------------------------------------------------------------


def place(words: str) -> Place:
    found = drawn(f"circle = 2\nplace = {{ {words} }}").place
    assert found is not None
    return found


def test_a_place_in_words():
    """At is along and up, out is to the right: model axes are aft, right, up."""
    found = place("at = [1, 2], out = '26 mm', x = 'aft', y = 'up'")
    assert (found.at, found.x, found.y) == ((6, 26, 12), (1, 0, 0), (0, 0, 1))
    assert place("at = [0, 0], x = 'left', y = 'down'").x == (0, -1, 0)
    assert place("at = [0, 0], x = 'fore', y = 'right'").fore() == (1, 0)


def test_a_place_in_numbers_is_made_square():
    """Within a tenth of a degree y is turned until it is exactly square to x; both are unit vectors."""
    found = place("at = [0, 0], x = [2, 0, 0.06], y = [-0.0305, 0, 1]")
    assert math.hypot(*found.x) == pytest.approx(1, abs=1e-15)
    assert math.hypot(*found.y) == pytest.approx(1, abs=1e-15)
    assert sum(a * b for a, b in zip(found.x, found.y, strict=True)) == pytest.approx(0, abs=1e-15)
    assert found.x[2] == pytest.approx(0.06 / math.hypot(2, 0.06))


@given(st.floats(-89, 89), st.floats(-0.09, 0.09))
def test_nearly_square_is_enough(turn_deg: float, off_deg: float):
    """Directions less than 0.1 degrees from square are taken, whichever way they lie."""
    a, b = math.radians(turn_deg), math.radians(turn_deg + 90 + off_deg)
    found = place(
        f"at = [0, 0], x = [{math.cos(a):.9f}, 0, {math.sin(a):.9f}], "
        f"y = [{math.cos(b):.9f}, 0, {math.sin(b):.9f}]"
    )
    assert sum(p * q for p, q in zip(found.x, found.y, strict=True)) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(
    ("words", "key", "text"),
    [
        ("at = [0, 0], x = 'aft'", "y", "is missing; add it: where the part's y runs"),
        ("at = [0, 0], x = 'aft', y = 'fore'", "y", "x and y are 180.0 degrees apart; they must be square"),
        ("at = [0, 0], x = [1, 0, 0.003], y = 'up'", "y", "x and y are 89.8 degrees apart"),
        ("at = [0, 0], x = 'after', y = 'up'", "x", 'did you mean "aft"?'),
        ("at = [0, 0], x = 'north', y = 'up'", "x", "write one of them"),
        ("at = [0, 0], x = [1, 0], y = 'up'", "x", 'a list of 2 where a direction is due; write "aft" or'),
        ("at = [0, 0], x = 3, y = 'up'", "x", "3 where a direction is due"),
        ("at = [0, 0], x = [0, 0, 0], y = 'up'", "x", "[0, 0, 0] is no direction"),
        ("at = [0, 0], x = [1, '2 mm', 0], y = 'up'", "x[1]", "where a bare number is due"),
        ("at = [0, 0], x = [1, true, 0], y = 'up'", "x[1]", "true where a number is due"),
        ("at = [0], x = 'aft', y = 'up'", "at", "a list of 1 where two lengths are due"),
        ("at = [0, 0], out = 'wide', x = 'aft', y = 'up'", "out", '"wide" is no name in [sizes]'),
    ],
)
def test_faults_of_places(words: str, key: str, text: str):
    """Directions are words or three bare numbers, and square to each other."""
    found = refused(part(f"circle = 2\nplace = {{ {words} }}"))
    assert list(found) == [f"parts.side.place.{key}"]
    assert text in found[f"parts.side.place.{key}"]


# ---- the whole ------------------------------------------------------------------------------------


def test_pairs_and_parts_with_one_name():
    """The hands of a pair are called -right and -left; no other part may be."""
    text = with_keys("pair = 'right'\n[parts.side-left]\nstock = 'board'\ncircle = 2")
    assert refused(text) == {
        "parts.side-left": '"side-left" is also a hand of the pair "side"; choose another name'
    }
    assert len(read(text.replace("side-left", "side-front")).parts) == 2


def test_too_many_pieces():
    """Both hands of a pair count."""
    text = with_keys("pair = 'right'\ncount = 2501")
    assert refused(text) == {"parts": "5,002 pieces are wanted; at most 5,000 are read"}
    assert read(text.replace("2501", "2500")).parts[0].count == 2500


@pytest.mark.parametrize(
    ("scale", "words"),
    [("0", "0 is no scale"), ("-6", "-6 is no scale"), ('"1:6"', "write 6"), ("true", "true where a number"),
     ("nan", "nan is no number"), ("1001", "1001 is no scale; write a number above 0, at most 1000")],
)  # fmt: skip
def test_faults_of_the_scale(scale: str, words: str):
    """What cannot be a scale is told once, not at every length."""
    found = refused(changed("scale = 6", f"scale = {scale}"))
    assert list(found) == ["sketch.scale"]
    assert words in found["sketch.scale"]


def test_a_size_that_is_refused_is_told_once():
    """Lengths that use a refused size are not told again."""
    text = changed("half_span = 92", 'half_span = "9,2"', part('rectangle = ["half_span", "half_span / 2"]'))
    assert list(refused(text)) == ["sizes.half_span"]


def test_a_ring_of_sizes():
    """A ring is told with its names."""
    text = changed("half_span = 92", 'half_span = "tip"\ntip = "half_span"')
    assert "half_span -> tip -> half_span" in refused(text)["sizes.half_span"]


@pytest.mark.parametrize(
    ("value", "words"),
    [('""', "is empty; write something"), ('"   "', "is empty"), ('"a\\u001b[31m"', "cannot be printed"),
     ('"' + "x" * 201 + '"', "has 201 letters; shorten it to 200 or fewer"), ('"\\u202eabc"', "cannot be printed")],
)  # fmt: skip
def test_names_of_plans_can_be_printed(value: str, words: str):
    """A plan's name stands on every sheet."""
    assert words in refused(changed('"samphire"', value))["plan.name"]


def test_texts_of_any_script():
    """Letters of any script serve in texts."""
    design = read(changed('"samphire"', '"Αρμυρίδα No 2, Queller"'))
    assert design.plan.name == "Αρμυρίδα No 2, Queller"


def test_hardware():
    """What else is bought, with price and packs."""
    text = with_keys(
        '[[hardware]]\nname = "rubber band"\ncount = 6\nsize = "80 mm"\nprice = 0.10\nsold_in = 20\non_hand = 4\n[[hardware]]\nname = "dowel"'
    )
    band, dowel = read(text).hardware
    assert (band.name, band.count, band.size, band.price) == ("rubber band", 6, "80 mm", Decimal("0.10"))
    assert (band.sold_in, band.on_hand, band.key) == (20, 4, "hardware[0]")
    assert (dowel.count, dowel.price, dowel.sold_in, dowel.on_hand, dowel.size) == (1, None, 1, 0, "")


def test_the_table_of_sizes():
    """Every length is listed as typed, with what it was multiplied by and its full size."""
    text = changed(
        "half_span = 92", 'half_span = 92\ntip = "half_span - 2 1/2"', part('rectangle = ["tip", "-2 + 5"]')
    )
    rows = {row.key: row for row in read(text).sizes_table}
    half = rows["sizes.half_span"]
    assert (half.typed, half.factor, half.mm) == ("92", "x 6", 552)
    tip = rows["sizes.tip"]
    assert (tip.typed, tip.factor, tip.mm) == ("half_span - 2 1/2", "sum", 537)
    thick = rows["stock.board.thickness"]
    assert (thick.typed, thick.factor, thick.mm) == ("5 mm", "true size", 5)
    assert (rows["stock.board.sheets[0].size[1]"].mm, rows["parts.side.rectangle[0]"].mm) == (500, 537)


def test_the_table_of_sizes_lists_what_is_no_length():
    """Scale, turns, counts, shares, prices and masses are read off something too, and are ticked off as typed."""
    keys = """circle = 9
count = 3
cutouts = [ { circle = 1, at = [1, 2], turn = "30 deg" } ]
marks = [ { balance = "25 %", from = [0, 0], to = [3, 0] } ]
place = { at = [0, 0], x = [1, 0, 0.5], y = "right" }"""
    size = '{ size = "700 x 500 mm" }'
    sheet = '{ size = "700 x 500 mm", mass = "158 g", price = 3.40, sold_in = 5 }'
    rows = {row.key: row for row in read(changed(size, sheet, part(keys))).sizes_table}
    numbers = {key: (row.typed, row.factor, row.unit) for key, row in rows.items() if row.mm is None}
    board, side = "stock.board.sheets[0]", "parts.side"
    assert numbers == {
        "sketch.scale": ("6", "as it stands", ""),
        f"{board}.mass": ("158 g", "as it stands", "g"),
        f"{board}.price": ("3.4", "as it stands", ""),
        f"{board}.sold_in": ("5", "as it stands", ""),
        f"{side}.count": ("3", "as it stands", ""),
        f"{side}.cutouts[0].turn": ("30 deg", "as it stands", "deg"),
        f"{side}.marks[0].balance": ("25 %", "as it stands", ""),
        f"{side}.place.x[0]": ("1", "as it stands", ""),
        f"{side}.place.x[1]": ("0", "as it stands", ""),
        f"{side}.place.x[2]": ("0.5", "as it stands", ""),
    }
    assert rows[f"{side}.circle"].mm == 54 and rows[f"{side}.circle"].unit == "mm"


def test_a_refused_reading_is_shown():
    """Keys count rows from 0, people from 1: the row's own words stand before what is wrong with it."""
    found = refused(changed("  8, 0\n", "  8,   halfspan   # tip\n"))
    assert found["parts.side.outline[1][1]"].startswith('(8, halfspan): "halfspan" is no name in [sizes]')


def test_lines_of_keys():
    """Values know the line that they came from."""
    design = read(GOOD)
    assert design.line_of("parts.side.outline[1]") == GOOD.split("\n").index("  8, 0") + 1
    assert design.line_of("stock.ply.thickness") == GOOD.split("\n").index('thickness = "1.5 mm"') + 1
    assert design.line_of("parts.side.tabs[3]") == design.line_of("parts.side")


def test_text_faults_come_first():
    """What is no TOML is refused alone, with its line; later steps are not looked at."""
    with pytest.raises(Refused) as caught:
        read(GOOD.replace("scale = 6", "scale = = 6"))
    assert caught.value.later_steps
    assert caught.value.refusals[0].line == GOOD.split("\n").index("scale = 6") + 1


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(data: bytes):
    """Whatever stands in the file, there is a design or refusals."""
    from foamcut.design.design import read_design

    with pytest.raises(Refused):
        read_design(data, "x.toml")


@given(st.integers(0, len(GOOD) - 1), st.text(max_size=6), st.integers(0, 12))
def test_any_change_is_read_or_refused(at: int, typed: str, gone: int):
    """A slip of the pen anywhere gives a design or refusals with words."""
    from foamcut.design.design import read_design

    text = GOOD[:at] + typed + GOOD[at + gone :]
    try:
        read_design(text.encode("utf-8", "surrogatepass"), "x.toml")
    except Refused as err:
        assert err.refusals
        assert all(r.text for r in err.refusals)
