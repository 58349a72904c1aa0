"""The text of a design: its values as tomllib has them, the line of every key, and every fault of its letters."""

import datetime
import random
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.design.text import TextErrors, key_of, path_of, read_document, rows_with_lines

GOOD = '''#:schema ./foamcut.schema.json
format = 1

[sketch]
units = "mm"     # what the ruler reads
scale = 6

[sizes]
half_span = 92
root = "half_span / 4 + 3 mm"

[stock.board]
thickness = "5 mm"
sheets = [
  # the usual one first
  { size = "700 x 500 mm", price = 3.40 },

  { size = "500 x 350 mm", price = 1.90 },
]
offcuts = [ { size = "320 x 180 mm" }, { outline = "0 mm, 0 mm; 300 mm, 0 mm; 120 mm, 200 mm", count = 2 } ]

[parts.side]
stock = "board"
outline = """
  # along, up
  0,   2
  8,   0      round 1  # this corner; not two rows

  152, 6; 152, 11 name tail
"""
slots = [
  { at = [46, 8], length = 4,
    takes = "board" },
  { at = [
      60,
      8,
    ], length = 4, takes = "board" },
]

[parts."left wing"]
outline = [
  [0, 2],
  [8, 0], [8, 4],
]
place.at = [0, 0]
place."x axis" = "aft"

[parts.rib-2]
outline = "0 0; 4 0; 4 4"

[[hardware]]
name = "dowel"

[[hardware]]
name = "rubber band"
[hardware.note]
text = """one
two"""

[plan]
date = 2031-04-02
'''.replace("length = 4,\n    takes", "length = 4, takes")  # TOML 1.0: an inline table is one line


def at(text):
    """The line of the only place where a text stands in GOOD."""
    before, found, after = GOOD.partition(text)
    assert found and text not in after
    return before.count("\n") + 1


LINES = {
    "format": "format =",
    "sketch": "[sketch]",
    "sketch.scale": "scale =",
    "sizes.half_span": "half_span = ",
    "stock.board.sheets": "sheets = [",
    "stock.board.sheets[0]": "700 x 500",
    "stock.board.sheets[1].size": "500 x 350",
    "stock.board.offcuts[1].outline[2]": "offcuts",
    "parts.side": "[parts.side]",
    "parts.side.outline": "  # along, up",
    "parts.side.outline[0]": "  0,   2",
    "parts.side.outline[1]": "  8,   0",
    "parts.side.outline[2]": "152, 6;",
    "parts.side.outline[3]": "152, 6;",
    "parts.side.slots[0].at": "at = [46, 8]",
    "parts.side.slots[0].at[1]": "at = [46, 8]",
    "parts.side.slots[1].at": "{ at = [\n",
    "parts.side.slots[1].at[1]": "      8,\n",
    "parts.side.slots[1].takes": "    ], length",
    'parts."left wing"': '[parts."left wing"]',
    'parts."left wing".outline[1]': "[8, 0], [8, 4]",
    'parts."left wing".outline[2][1]': "[8, 0], [8, 4]",
    'parts."left wing".place': "place.at",
    'parts."left wing".place.at[0]': "place.at",
    'parts."left wing".place."x axis"': 'place."x axis"',
    "parts.rib-2.outline[2]": '"0 0; 4 0; 4 4"',
    "hardware[0].name": '"dowel"',
    "hardware[1].name": '"rubber band"',
    "hardware[1].note.text": 'text = """one',
    "plan.date": "date = ",
    # not in the file: the nearest thing around it
    "parts.side.outline[4]": "  # along, up",
    "parts.side.slots[7].at": "slots = [",
    "parts.side.face": "[parts.side]",
    "stock.board.sheets[0].mass": "700 x 500",
    "hardware[1].count": '[[hardware]]\nname = "rubber band"',
}


@pytest.mark.parametrize(("key", "place"), LINES.items())
def test_line_of(key, place):
    line = at(place)
    if place == "  # along, up":
        line -= 1  # the key itself, one line above
    assert read_document(GOOD.encode()).line_of(key) == line


def test_line_of_nothing():
    document = read_document(GOOD.encode())
    for key in ("", "nothing", "nothing.at[3]", ".", "[", '"'):
        assert document.line_of(key) is None


def test_values_are_those_of_tomllib():
    """tomllib is the reader of reference; windows line ends and a byte-order mark change neither value nor line."""
    for data in (GOOD.encode(), b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode()):
        document = read_document(data)
        assert document.data == tomllib.loads(GOOD)
        assert document.data["plan"]["date"] == datetime.date(2031, 4, 2)
        assert document.line_of("plan.date") == at("date = ")
        assert document.line_of("parts.side.outline[3]") == at("152, 6;")


def test_mixed_line_ends():
    document = read_document(b'a = 1\r\nb = """\r\n0 0\n1 1\r\n"""\nc = 2')
    assert document.data["b"] == "0 0\n1 1\n"
    assert [document.line_of(key) for key in ("a", "b[1]", "c")] == [1, 4, 6]


def test_rows():
    assert rows_with_lines("") == []
    assert rows_with_lines("0 0; 1 1") == [("0 0", 0), ("1 1", 0)]
    assert rows_with_lines("\n 0 0 # a; b\n\n;\n1 1;; 2 2\n") == [("0 0", 1), ("1 1", 4), ("2 2", 4)]


@pytest.mark.parametrize(
    ("literal", "lines"),
    [
        ('"""\n0 0\n1 1"""', [2, 3]),
        ('"""0 0\n1 1"""', [1, 2]),
        ("'''\n\n0 0\n1 1\n'''", [3, 4]),
        ("'0 0; 1 1'", [1, 1]),
        ('"0 0\\n1 1"', [1, 1]),
        ('"""\n0 \\\n   0\n1 1"""', [2, 4]),
        ('"""\n0 0 \\"\\n1 1\n2 2"""', [2, 2, 3]),
        ('"""\n0 0\\u000a1 1\n2 2"""', [2, 2, 3]),
        ("'''\n0 0\\n\n1 1'''", [2, 3]),
    ],
)
def test_lines_of_rows_in_every_kind_of_text(literal, lines):
    document = read_document(f"x = {literal}\n".encode())
    assert len(rows_with_lines(document.data["x"])) == len(lines)
    assert [document.line_of(f"x[{index}]") for index in range(len(lines))] == lines


STEPS = st.lists(st.one_of(st.text(max_size=8), st.integers(0, 999)), max_size=6)


@given(STEPS)
def test_a_key_can_be_taken_apart_again(path):
    key = key_of(path)
    assert path_of(key) == tuple(path)
    assert key.isprintable()


def test_keys_as_written():
    assert key_of(("parts", "my-part", "outline", 3)) == "parts.my-part.outline[3]"
    assert key_of(("parts", "left wing", "at")) == 'parts."left wing".at'
    assert key_of(("parts", 'a"b\\\x1b', 0, 1)) == 'parts."a\\"b\\\\\\u001b"[0][1]'


@given(st.text())
def test_any_text_as_a_key(key):
    path_of(key)
    read_document(GOOD.encode()).line_of(key)


# ---- faults


def faults(text):
    with pytest.raises(TextErrors) as caught:
        read_document(text if isinstance(text, bytes) else text.encode())
    return caught.value.refusals


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("x = 5 mm", 1, 'a number with a unit stands in quotes: write "5 mm". The line: x = 5 mm'),
        ("a = 1\nx = 25%", 2, 'stands in quotes: write "25%"'),
        ("x = 3,5", 1, '"3,5" has a comma; the decimal sign is a full stop'),
        ("x = 2 1/2", 1, 'a fraction stands in quotes, as all sums do: write "2 1/2"'),
        ("x = half - 2", 1, 'a text or a sum stands in quotes: write "half - 2"'),
        ("x = .5", 1, '".5" lacks the 0 before its full stop'),
        ("x = 5.", 1, '"5." lacks a digit behind its full stop'),
        ("x = 007", 1, '"007" begins with a 0 too many'),
        ("x = True", 1, "write true or false"),
        ("x = cordgrass", 1, 'stands in quotes: write "cordgrass"'),
        ("x = “cordgrass”", 1, "curly quotes"),
        ("x =\u00a01", 1, "special space"),
        ("x =", 1, "there is no value behind ="),
        ("x", 1, 'a key needs a value: "key = value"'),
        ("= 1", 1, "there is no key before ="),
        ("x: 1", 1, 'write "=" between a key and its value, not ":"'),
        ("x == 1", 1, 'write one "="'),
        ("half span = 1", 1, 'write _ for the spaces in "half span"'),
        ("// words", 1, 'a comment begins with #, not with "//"'),
        ("x = 1;", 1, "the ; at the end"),
        ("[parts.side", 1, 'write "]" behind its name'),
        ("[[hardware]", 1, "ends with two brackets"),
        ("[]", 1, "the heading has no name"),
        ("[left wing]", 1, "a name with a space stands in quotes"),
        ("x = { a = 1,\n b = 2 }", 1, "stands on one line"),
        ("x = { a = 1, }", 1, "the last comma before }"),
        ("x = { a = 1, a = 2 }", 1, "a key stands twice between"),
        ("x = [1 2]", 1, "a comma missing between two numbers"),
        ("x = [[1, 2] [3, 4]]", 1, "a comma missing between two items"),
        ("x = [\n 1, 2\ny = 3\n", 1, "the bracket opened here is not closed before line 3"),
        ("x = [\n 1,\n\n[parts]\n", 1, "the bracket opened here is not closed before line 4"),
        ("x = [\n [1, 2],\n [3, y],\n]", 3, 'stands in quotes: write "y"'),
        ("s = { size = \"7 x 5 mm\", price = 3,40 }", 1, '"3,40" has a comma; the decimal sign is a full stop'),
        ("scale 6", 1, 'there is no "=" behind "scale"; write "key = value"'),
        ("name cordgrass", 1, 'there is no "=" behind "name"'),
        ("s = [ { at = [8, 20, length = 4, turn = 90 } ]", 1, 'a list before "length" is not closed; write ]'),
        ("at = (8, 20)", 1, "a list stands in square brackets"),
        ("chord = 20 // root", 1, 'a comment begins with #, not with "//"'),
        ('name = "reed // 1" -- root', 1, 'a comment begins with #, not with "--"'),
        ('x = "\n 0, 0\n chord, 0\n 16, tip round 2\n"\ny = 1', 1, "begins and ends with three quotes"),
        ('x = "\n 0, 0\n chord, 0\n 16, tip round 2\n\"\"\"\ny = 1', 1, "begins and ends with three quotes"),
        ('name = "cordgrass', 1, 'as at its beginning. The line: name = "cordgrass'),
        ("s = [\n { at = [1, 2],\n length = 4 },\n]", 2, "a table in { } stands on one line"),
        ("x = [\n [1, 2],\n [3, 4],\n\n", 1, "the bracket opened here is never closed; close it"),
        ('x = "abc\ny = 1', 1, "a text is not closed"),
        ("x = 'abc", 1, "a text is not closed"),
        ('x = 1\ny = """abc\nz = 1\n', 2, "three quotes open a text here that is never closed"),
        ('x = """\n0 0\ny = """\n1, 1\n2, 2\n"""\n', 4, "a reading stands outside a text"),
        ('x = "a\\p"', 1, "a backslash between"),
        ('x = "\\ud800"', 1, "a code with a backslash"),
        ("x = 2031-02-30", 1, "there is no such day"),
        ("x = 1\x00", 1, "control character (U+0000) in column 6"),
        ('x = "\x1b[31m"', 1, "control character (U+001B)"),
        ("x = 1\ry = 2\n", 1, "a carriage return in column 6"),
        ("a = 1\nx = " + "9" * 5000, 2, "5,000 digits in a row"),
        ("a = 1\nx = " + "9" * 20, 2, "a whole number of over 18 digits"),
        ("x = " + "[" * 51 + "]" * 51, 1, "brackets nest over 50 deep"),
        ("x = " + "[" * 500_000, 1, "brackets nest over 50 deep"),
        ("x = " + "{a=" * 60 + "1" + "}" * 60, 1, "brackets nest over 50 deep"),
        ("a." * 60 + "a = 1", 1, "dotted names go over 50 deep"),
        ("[" + "a." * 30 + "a]\n" + "b." * 30 + "b = 1", 2, "tables and lists nest over 50 deep"),
    ],
)
def test_faults_of_toml(text, line, words):
    """One fault, in its line, with what to do; the brackets that nest as deep as allowed are read."""
    (fault,) = faults(text)
    assert fault.line == line
    assert words in fault.text


def test_nesting_that_is_allowed():
    read_document(("x = " + "[" * 49 + "]" * 49).encode())
    read_document(("a." * 49 + "a = 1").encode())


@pytest.mark.parametrize(
    ("text", "key", "first", "second"),
    [
        ("a = 1\nb = 2\na = 3\n", "a", 1, 3),
        ("a.b = 1\na = 2\n", "a", 1, 2),
        ("a = 1\na.b = 2\n", "a", 1, 2),
        ("[parts.side]\nx = 1\n[parts.side]\n", "parts.side", 1, 3),
        ("[parts.side]\nx = 1\ny = 2\nx = [\n1,\n]\n", "parts.side.x", 2, 4),
        ('[parts."left wing"]\n\n[parts.\'left wing\']\n', 'parts."left wing"', 1, 3),
        ("[[hardware]]\nname = 1\n[[hardware]]\nname = 1\nname = 2\n", "hardware[1].name", 4, 5),
        ("[[hardware]]\n[hardware]\n", "hardware", 1, 2),
        ("a = [1]\n[[a]]\n", "a", 1, 2),
        ("a = { b = 1 }\n[a.c]\n", "a", 1, 2),
    ],
)
def test_keys_given_twice_have_both_lines(text, key, first, second):
    assert faults(text) == ((second, key, f"is given in line {first} already; keep one of the two"),)


def test_all_keys_given_twice_are_told():
    found = faults("a = 1\na = 2\n[b]\nc = 1\nc = 2\n[d]\n[b]\n")
    assert [(fault.line, fault.key) for fault in found] == [(2, "a"), (5, "b.c"), (7, "b")]


def test_all_faults_are_told_by_line():
    """Not only the first; good lines between them, also below a broken heading, are no faults."""
    text = 'a = 5 mm\nb = 3\nc = 3,5\n[d\ne = 4\n[f]\ng = yes\nh = [\n [1, 2],\n [zero, 3],\n]\ni = "x"\nj = k l\n'
    found = faults(text)
    assert [fault.line for fault in found] == [1, 3, 4, 7, 10, 13]
    assert text.split("\n")[9].strip() in found[4].text


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("a = 1\na = 2\nb = [\n 1,\n", [2, 3]),
        ("a = 1\na = 2\nb = [\n 1,\n\n[c]\nd = 1\n", [2, 3]),
        ("a = 5 mm\nb = [\n 1,\n\nc = 2\n", [1, 2]),
        ("a = 1\na = 2\nb = [\n 1,\n]\n[c\n", [2, 6]),
        ('a = "\n 1, 2\n"\nb = 5 mm\n', [1, 4]),
    ],
)
def test_a_list_that_is_never_closed_is_told_beside_others(text, lines):
    assert [fault.line for fault in faults(text)] == lines


def test_letters_and_toml_are_told_together():
    found = faults('a = "\x01"\nb = 5 mm\nc = ' + "1" * 6000 + "\nd = 1\nd = 2\n")
    assert [fault.line for fault in found] == [1, 2, 3, 5]


def test_at_most_fifty_faults_are_shown():
    found = faults("".join(f"k{i} = 5 mm\n" for i in range(90)))
    assert len(found) == 51
    assert found[-1].text == "40 more faults from here on; mend the first ones first"


@pytest.mark.parametrize(
    ("data", "line", "words"),
    [
        (GOOD.encode("utf-16"), None, "the file is UTF-16; save it as UTF-8"),
        (GOOD.encode("utf-16-le"), None, "the file is UTF-16; save it as UTF-8"),
        (GOOD.encode("utf-16-be"), None, "the file is UTF-16; save it as UTF-8"),
        (GOOD.encode("utf-32"), None, "the file is UTF-32; save it as UTF-8"),
        ('a = 1\nname = "Seegrasfläche"'.encode("latin-1"), 2, "byte 18 of the line (E4 hexadecimal) is not UTF-8"),
        (b"", None, "the file is empty"),
        (b"\xef\xbb\xbf \n", None, "the file is empty"),
        (b"a = 1\rb = 2\r", 1, "carriage returns alone"),
        (b"#" * 2_000_001, None, "2,000,001 bytes, over 2,000,000 (2 MB)"),
    ],
)
def test_faults_of_the_bytes(data, line, words):
    (fault,) = faults(data)
    assert fault.line == line
    assert words in fault.text


def test_two_megabytes_are_read():
    document = read_document(b"x = 1\n" + b"#" * (2_000_000 - 6))
    assert document.data == {"x": 1}


# ---- properties


def outcome(data):
    """A document that tomllib agrees with, or refusals that say something about a line of the file."""
    count = data.count(b"\n") + 1
    try:
        document = read_document(data)
    except TextErrors as err:
        assert err.refusals
        for fault in err.refusals:
            assert fault.line is None or 1 <= fault.line <= count
            assert ";" in fault.text or ":" in fault.text
            assert fault.text.isprintable() and fault.key.isprintable()
        assert [f.line or 0 for f in err.refusals] == sorted(f.line or 0 for f in err.refusals)
        return None
    assert document.data == tomllib.loads(data.removeprefix(b"\xef\xbb\xbf").decode())
    return document


def keys_in(value, path=()):
    if path:
        yield path
    if isinstance(value, dict | list):
        for step, below in value.items() if isinstance(value, dict) else enumerate(value):
            yield from keys_in(below, (*path, step))


@given(st.one_of(st.binary(max_size=200), st.text(max_size=200).map(str.encode)))
def test_any_bytes(data):
    outcome(data)


@given(st.text(st.sampled_from("ab=\"'[]{}.,#\n\\ 12\u00e9-_"), max_size=120))
def test_any_letters_of_toml(text):
    document = outcome(text.encode())
    for path in keys_in(document.data if document else {}):
        line = document.line_of(key_of(path))
        assert line is not None
        assert 1 <= line <= text.count("\n") + 1


@given(st.randoms(use_true_random=False))
def test_mutated_designs(rnd: random.Random):
    lines = GOOD.split("\n")
    for _ in range(rnd.randint(1, 4)):
        index = rnd.randrange(len(lines))
        line = lines[index]
        cut = rnd.randint(0, len(line))
        lines[index] = rnd.choice(
            [
                line[:cut] + line[cut + 1 :],
                line[:cut] + rnd.choice("\"'[]{}=#.,\\\x00\r\u00e9 9") + line[cut:],
                line[:cut] + "\n" + line[cut:],
                line[:cut] + lines[rnd.randrange(len(lines))],
                line + "\n" + line,
                "",
            ]
        )
    data = "\n".join(lines).encode()
    if rnd.random() < 0.1:
        data = data[: rnd.randrange(len(data))] + bytes([rnd.randrange(256)]) + data[rnd.randrange(len(data)) :]
    if (document := outcome(data)) is not None:
        assert all(document.line_of(key_of(path)) for path in keys_in(document.data))


def test_a_single_slip_in_any_line_is_told_in_that_line():
    """For each plain line of the good design spoilt on its own, the only fault is told there and nowhere else."""
    lines = GOOD.split("\n")
    for index, line in enumerate(lines):
        if " = " in line and '"""' not in line and not line.startswith(("sheets", "slots", "outline = [", " ")):
            spoilt = [*lines[:index], line.split(" = ")[0] + " = 5 mm", *lines[index + 1 :]]
            assert [fault.line for fault in faults("\n".join(spoilt))] == [index + 1]


def test_lines_against_the_order_of_the_text():
    """Outside check (TOML 1.0 as Python's tomllib reads it, the general reference library).

    Every number written is unique, so that a plain search for the value that tomllib gave finds its line.
    """
    rnd = random.Random(7)
    for _ in range(30):
        numbers = iter(range(1000, 9999))
        text = ""
        for table in range(rnd.randint(1, 5)):
            text += "\n" * rnd.randint(0, 2) + rnd.choice([f"[t{table}]\n", f"[[rows]]\n[rows.t{table}]\n"])
            for key in range(rnd.randint(1, 5)):
                text += rnd.choice(
                    [
                        f"k{key} = {next(numbers)} # note\n",
                        f"'a b'.k{key}.\"c.d\" = {next(numbers)}\n",
                        f"k{key} = [\n  {next(numbers)},\n  [{next(numbers)}], # ]\n  {{ x.y = {next(numbers)} }}\n]\n",
                        f"k{key} = {{ a = {next(numbers)}, b = [{next(numbers)},\n{next(numbers)}] }}\n",
                    ]
                )
        document = read_document(text.encode())
        for path in keys_in(document.data):
            value = document.data
            for step in path:
                value = value[step]
            if isinstance(value, int):
                assert document.line_of(key_of(path)) == text[: text.find(str(value))].count("\n") + 1
