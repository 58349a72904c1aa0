"""Joints, places to keep clear, doublers, kerf and bed as they are read, and each refusal with its words."""

import pytest

from foamcut.errors import Refused
from foamcut.flat.drawn import Doubling, DrawnPart, Hand, JointLine, KeepClear

from .making import GOOD, changed, part, read, refused, with_keys


def drawn(keys: str) -> DrawnPart:
    return read(part(f"rectangle = [200, 20]\n{keys}")).parts[0]


def cutting(keys: str, text: str = GOOD) -> str:
    return changed("[sketch]", f"[cutting]\n{keys}\n[sketch]", text)


# ---- joints ---------------------------------------------------------------------------------------


def test_joint_lines_of_both_hands_and_of_one():
    """Each at one x or one y, a sketch measure or a true size; without a hand it is for both."""
    found = drawn("pair = 'right'\njoints = [ { x = 90, hand = 'right' }, { y = '107 mm', hand = 'left' }, { x = 5 } ]")
    assert found.may_be_joined
    assert found.joint_lines == (
        JointLine(key="parts.side.joints[0]", x_mm=540, hand=Hand.RIGHT),
        JointLine(key="parts.side.joints[1]", y_mm=107, hand=Hand.LEFT),
        JointLine(key="parts.side.joints[2]", x_mm=30, hand=Hand.NONE),
    )


def test_who_places_the_joints():
    """Left out, and with an empty list, the program does; "none" forbids them."""
    for keys in ("", "joints = []"):
        found = drawn(keys)
        assert (found.joint_lines, found.may_be_joined) == ((), True)
    found = drawn('joints = "none"')
    assert (found.joint_lines, found.may_be_joined) == ((), False)


@pytest.mark.parametrize(
    ("joints", "key", "words"),
    [
        ('"nome"', "", 'the text "nome" where a list of tables is due; write joints = [ { ... } ], or joints = "none"'),
        ("90", "", "90 where a list of tables is due"),
        ("{ x = 90 }", "", "a table where a list of tables is due; write joints = [ { ... } ], or"),
        ("[90]", "[0]", "90 where a table is due; write it in curly brackets"),
        ("[{ x = 9 }, {}]", "[1]", "none of x, y is given; add one"),
        ("[{ x = 9, y = 9 }]", "[0]", "has x and y; keep one of them"),
        ("[{ x = [9, 12] }]", "[0].x", "a list where a number is due"),
        ("[{ z = 9 }]", "[0].z", "unknown key; known here are x, y, hand"),
        ("[{ x = 9, hand = 'both' }]", "[0].hand", '"both" is none of "right", "left"'),
        ("[{ x = 9, hand = 'left' }]", "[0].hand", "the part is no pair, so that it has no hands; take this key out"),
    ],
)  # fmt: skip
def test_faults_of_joints(joints: str, key: str, words: str):
    """A fault is told once, at its key."""
    found = refused(part(f"circle = 9\njoints = {joints}"))
    assert list(found) == [f"parts.side.joints{key}"]
    assert words in found[f"parts.side.joints{key}"]


def test_the_line_of_a_joint_that_is_refused():
    text = part("circle = 9\njoints = [\n  { x = 9 },\n  { y = 'nine' },\n]")
    with pytest.raises(Refused) as caught:
        read(text)
    (refusal,) = caught.value.refusals
    assert (refusal.key, refusal.line) == ("parts.side.joints[1].y", text.split("\n").index("  { y = 'nine' },") + 1)


# ---- keep_clear -----------------------------------------------------------------------------------


def test_ranges_to_keep_clear():
    """One axis is a strip right across, both are a box; lengths like all others, sums too."""
    found = drawn("keep_clear = [ { x = [40, 74] }, { x = [1, '9 mm'], y = [-2, 'half_span / 2'] } ]")
    assert found.keep_clear == (
        KeepClear(key="parts.side.keep_clear[0]", x_mm=(240, 444)),
        KeepClear(key="parts.side.keep_clear[1]", x_mm=(6, 9), y_mm=(-12, 276)),
    )
    assert drawn("").keep_clear == ()


@pytest.mark.parametrize(
    ("ranges", "key", "words"),
    [
        ("{ x = [74, 40] }", ".x", "[74, 40]: the higher number stands first; write the lower one first"),
        ("{ x = [40, 40] }", ".x", "[40, 40]: nothing lies between the two"),
        ("{ y = ['9 mm', 1.5] }", ".y", "[9 mm, 1.5]: nothing lies between the two"),
        ("{ x = 40 }", ".x", "40 where two lengths are due; write [lower, higher]"),
        ("{ x = [1, 2, 3] }", ".x", "a list of 3 where two lengths are due"),
        ("{ x = [1, true] }", ".x[1]", "true where a number is due"),
        ("{ }", "", "none of x, y is given; add one or more"),
        ("{ X = [1, 2] }", ".X", 'unknown key; did you mean "x"?'),
    ],
)
def test_faults_of_keep_clear(ranges: str, key: str, words: str):
    """A range runs from its lower to its higher end."""
    found = refused(part(f"circle = 9\nkeep_clear = [ {ranges} ]"))
    assert list(found) == [f"parts.side.keep_clear[0]{key}"]
    assert words in found[f"parts.side.keep_clear[0]{key}"]


# ---- doublers -------------------------------------------------------------------------------------


def test_the_usual_doubler():
    """Ten thicknesses of the board to each side, one inside the edge, tapered over half the overlap."""
    assert drawn("").doubling == Doubling.usual("parts.side.doubler", "board", 5.0)
    assert drawn("doubler = {}").doubling == Doubling.usual("parts.side.doubler", "board", 5.0)
    thick = changed('"5 mm"', '"6 mm"', part("circle = 9"))
    assert read(thick).parts[0].doubling == Doubling.usual("parts.side.doubler", "board", 6.0)


def test_a_doubler_with_all_its_keys():
    """The stock may be another one; what is left out still follows the board that is joined."""
    found = drawn('doubler = { overlap = "3 cm", inset = "0 mm", taper = "30 mm", stock = "ply" }').doubling
    assert found == Doubling(
        key="parts.side.doubler", stock="ply", thickness_mm=1.5, overlap_mm=30, inset_mm=0, taper_mm=30
    )
    found = drawn('doubler = { stock = "ply" }').doubling
    assert found is not None
    assert (found.stock, found.thickness_mm) == ("ply", 1.5)
    assert (found.overlap_mm, found.inset_mm, found.taper_mm) == (50, 5, 25)
    found = drawn('doubler = { overlap = "40 mm" }').doubling
    assert found is not None and found.taper_mm == 20


@pytest.mark.parametrize(
    ("keys", "key", "words"),
    [
        ("overlap = 8", "overlap", '8 has no unit. Write "8 mm" for a true size, "4 mm * scale" if read off'),
        ("overlap = '0 mm'", "overlap", "0 mm is not above 0"),
        ("inset = '-1 mm'", "inset", "-1 mm is less than 0; write 0 or more"),
        ("taper = '-1 mm'", "taper", "-1 mm is less than 0"),
        ("taper = '51 mm'", "taper", "51 mm is longer than the overlap of 50 mm"),
        ("overlap = '20 mm', taper = '25 mm'", "taper", "25 mm is longer than the overlap of 20 mm"),
        ("stock = 'plyw'", "stock", 'there is no stock "plyw"; did you mean "ply"?'),
        ("stok = 'ply'", "stok", 'unknown key; did you mean "stock"?'),
        ("width = '9 mm'", "width", "unknown key; known here are overlap, inset, taper, stock"),
    ],
)
def test_faults_of_a_doubler(keys: str, key: str, words: str):
    """Its sizes are true ones."""
    found = refused(part(f"circle = 9\ndoubler = {{ {keys} }}"))
    assert list(found) == [f"parts.side.doubler.{key}"]
    assert words in found[f"parts.side.doubler.{key}"]


def test_an_unknown_board_leaves_nothing_to_say_of_its_doubler():
    """Where the part's own stock is not known, that alone is told."""
    text = part('circle = 9\ndoubler = { taper = "30 mm" }')
    assert list(refused(changed('stock = "board"', 'stock = "bord"', text))) == ["parts.side.stock"]


def test_marks_that_doublers_keep_off():
    keys = "marks = [ { circle = 2, at = [9, 9], clear = true }, { line = [[1, 1], [9, 9]] } ]"
    assert [mark.clear for mark in drawn(keys).marks] == [True, False]
    found = refused(part("circle = 9\nmarks = [ { circle = 2, at = [0, 0], clear = 1 } ]"))
    assert "1 where true or false is due" in found["parts.side.marks[0].clear"]


# ---- kerf and bed ---------------------------------------------------------------------------------


def test_kerf_of_a_design_and_of_a_part():
    """A part's own kerf stands before that of [cutting]; without either it is 0."""
    assert (read(GOOD).plan.kerf_mm, read(GOOD).parts[0].kerf_mm) == (0, 0)
    text = cutting('tool = "laser"\nkerf = "0.2 mm"')
    assert (read(text).plan.kerf_mm, read(text).parts[0].kerf_mm) == (0.2, 0.2)
    own = read(with_keys('cutting = { kerf = "0 mm" }', text))
    assert (own.plan.kerf_mm, own.parts[0].kerf_mm) == (0.2, 0)
    assert read(cutting('kerf = "3 mm"')).plan.kerf_mm == 3


@pytest.mark.parametrize(
    ("kerf", "words"),
    [
        ("0.2", '0.2 has no unit; write "0.2 mm"'),
        ('"-0.1 mm"', "-0.1 mm is not from 0 to 3 mm; kerf is the full width of what the tool removes"),
        ('"3.1 mm"', "3.1 mm is not from 0 to 3 mm"),
        ('"thin"', '"thin" is no name in [sizes]'),
    ],
)
def test_faults_of_kerf(kerf: str, words: str):
    """The same holds for a design and for a part."""
    assert words in refused(cutting(f"kerf = {kerf}"))["cutting.kerf"]
    assert words in refused(with_keys(f"cutting = {{ kerf = {kerf} }}"))["parts.side.cutting.kerf"]


@pytest.mark.parametrize("tool", ["plotter", "laser"])
def test_the_bed_of_a_machine(tool: str):
    """Width and height in mm; left out, there is none."""
    assert read(cutting(f'tool = "{tool}"\nbed = "400 x 300 mm"')).plan.bed_mm == (400, 300)
    assert read(cutting(f'tool = "{tool}"\nbed = "24 x 12 in"')).plan.bed_mm == pytest.approx((609.6, 304.8))
    assert read(cutting(f'tool = "{tool}"')).plan.bed_mm is None


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ('tool = "knife"\nbed = "400 x 300 mm"', 'the tool is a knife, and a knife has no bed: it goes wherever'),
        ('bed = "400 x 300 mm"', "no tool is given, which means a knife, and a knife has no bed"),
        ('tool = "laser"\nbed = "400 mm"', "is not 2 numbers with x between"),
        ('tool = "laser"\nbed = "400 x 300"', "has no unit behind its last number"),
        ('tool = "laser"\nbed = "0 x 0 mm"', "has a number that is not above 0"),
        ('tool = "laser"\nbed = [400, 300]', "a list where a size is due"),
        ('tool = "laser"\nbed = "6 x 1 m"', "a side of 6000 mm is over 5000 mm"),
    ],
)
def test_faults_of_a_bed(keys: str, words: str):
    """A bed is a size, and belongs to a machine."""
    found = refused(cutting(keys))
    assert list(found) == ["cutting.bed"]
    assert words in found["cutting.bed"]


def test_a_part_has_no_bed_and_no_tool():
    """What is the machine's stands in [cutting], and that is said."""
    found = refused(with_keys('cutting = { bed = "400 x 300 mm" }'))
    assert found == {
        "parts.side.cutting.bed": 'the bed is the machine\'s and holds for every part; write "bed" under [cutting]'
    }
    assert "unknown key" in refused(with_keys("cutting = { tool = 'laser' }"))["parts.side.cutting.tool"]


def test_joints_and_doublers_in_the_table_of_sizes():
    """Every new length is ticked off, with what it was multiplied by."""
    keys = "circle = 9\njoints = [ { x = 3 } ]\nkeep_clear = [ { y = [1, 2] } ]\ndoubler = { overlap = '4 cm' }"
    text = cutting('tool = "laser"\nkerf = "0.2 mm"\nbed = "400 x 300 mm"', part(keys))
    rows = {row.key: (row.typed, row.factor, row.mm) for row in read(text).sizes_table}
    assert rows["parts.side.joints[0].x"] == ("3", "x 6", 18)
    assert rows["parts.side.keep_clear[0].y[1]"] == ("2", "x 6", 12)
    assert rows["parts.side.doubler.overlap"] == ("4 cm", "true size", 40)
    assert rows["cutting.kerf"] == ("0.2 mm", "true size", 0.2)
    assert rows["cutting.bed[1]"] == ("400 x 300 mm", "true size", 300)
