"""Keys: which may stand where, and what is said when one may not."""

import datetime

import pytest

from foamcut.design.key_kinds import Kind, Of, keys_of
from foamcut.design.schema import DesignTable
from foamcut.design.structure import MAX_PARTS, checked, tables_of

from .making import GOOD, changed, part, read, refused, with_keys


def test_a_small_design_is_read():
    """The design that all tests here change is in order."""
    design = read(GOOD)
    assert design.name == "samphire"
    assert [p.name for p in design.parts] == ["side"]
    assert design.file_name == "design.toml"


@pytest.mark.parametrize(
    ("text", "key", "words"),
    [
        (changed("name =", "nam ="), "plan.nam", 'unknown key; did you mean "name"?'),
        (changed("name =", "nam ="), "plan.name", "is missing; add it: short name of the plan"),
        (changed("[parts.side]", "[part.side]"), "part", 'unknown key; did you mean "parts"?'),
        (changed("scale = 6", "scale = 6\nwind = 3"), "sketch.wind", "unknown key; known here are units, scale"),
        (changed("scale = 6", "scale = 6\nstock = 3"), "sketch.stock", "table of its own: [stock]"),
        (changed("format = 1", "format = 2"), "format", "2 cannot be read by this version; write 1"),
        (changed("format = 1", "format = true"), "format", "true cannot be read by this version"),
        (changed("format = 1", "format = 1.0"), "format", "1.0 cannot be read by this version"),
        (changed("format = 1\n", ""), "format", "is missing; write format = 1 at the top"),
        (changed('units = "mm"', 'units = "cm"'), "sketch.units", 'none of "mm", "in"; write one of them'),
        (changed('units = "mm"\n', ""), "sketch.units", "is missing; add it: what the ruler"),
        (changed('"samphire"', "7"), "plan.name", "7 where text is due; write it in quotes"),
        (changed("[sketch]", '[cutting]\ntool = "nife"\n[sketch]'), "cutting.tool", 'did you mean "knife"?'),
        (with_keys("may_join = 1"), "parts.side.may_join", "1 where true or false is due"),
        (with_keys("slots = 3"), "parts.side.slots", "3 where a list of tables is due; write slots = [ { ... } ]"),
        (with_keys("slots = [ 3 ]"), "parts.side.slots[0]", "3 where a table is due; write it in curly brackets"),
        (with_keys("label = 3"), "parts.side.label", "3 where a table is due; write label = { key = value }"),
        (with_keys("[parts]\nwing = 3", GOOD.split("[parts")[0]), "parts.wing", "write [parts.wing] and its keys"),
        (with_keys("[hardware]"), "hardware", "a table where a list of tables is due; write [[hardware]]"),
        (f"sizes = 3\n{GOOD.replace('[sizes]', '[sizing]')}", "sizes", "a table of names is due"),
        (f"cutting = 3\n{GOOD}", "cutting", "3 where a table is due; write [cutting] and its keys below"),
        (f"{GOOD.split('[stock')[0]}[parts.a]\ncircle=2", "stock", "is missing; add a table [stock.name]"),
        (GOOD.split("[parts")[0], "parts", "is missing; add a table [parts.name]"),
        (with_keys("[parts]", GOOD.split("[parts")[0]), "parts", "has no part; add a table [parts.name]"),
        (with_keys("rectangle = [1, 2]"), "parts.side", "has outline and rectangle; keep one of them"),
        (part("count = 1"), "parts.side", "none of outline, rectangle, circle, trapezoid is given; add one"),
        (with_keys('[[revision]]\nletter = "A"\nwhat = "x"\ndate = "2031"'), "revision[0].date", "2031-04-02"),
        (with_keys('[[revision]]\nletter = "A"\nwhat = "x"'), "revision[0].date", "is missing; add it: day"),
    ],
)  # fmt: skip
def test_each_fault_of_a_key_is_told(text: str, key: str, words: str):
    """The refusal names the key, what was found and what to do."""
    assert words in refused(text)[key]


def test_whether_a_part_may_be_joined_to_save_a_board():
    """Left out it may not; that it may and that it never may contradict each other, and both are named."""
    for keys, may in (("", False), ("may_join = false", False), ("may_join = true", True)):
        assert read(with_keys(keys)).parts[0].may_join is may
    found = refused(with_keys('may_join = true\njoints = "none"'))
    assert list(found) == ["parts.side.may_join"]
    assert "may_join = true lets the part be cut in two" in found["parts.side.may_join"]
    assert 'joints = "none" forbids it' in found["parts.side.may_join"]
    assert not read(with_keys('may_join = false\njoints = "none"')).parts[0].may_be_joined


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("a/b", 'has "/" in it; write letters, digits, - and _'),
        ("..", 'has "." in it'),
        ("", "the name is empty"),
        (" ", "the name is empty"),
        ("a  b", "a space too many"),
        ("-a", 'begins with "-"; begin with a letter or a digit'),
        ("a\\u0000", "in it; write letters"),
        ("x" * 201, "the name has 201 letters; shorten it to 200 or fewer"),
    ],
)
def test_names_that_cannot_be_file_names(name: str, words: str):
    """Names of parts go into file names and lettering."""
    found = refused(changed("[parts.side]", f'[parts."{name}"]'))
    assert any(words in text for text in found.values())


@pytest.mark.parametrize(
    "name", ["side", "F2", "Seitenwand hinten", "крыло", "φτερό_1", "rib-3", "e\u0301le\u0301von"]
)
def test_names_of_any_script(name: str):
    """Letters of any script serve, with accents as letters of their own too."""
    assert read(changed("[parts.side]", f'[parts."{name}"]')).parts[0].name == name


def test_all_faults_of_keys_and_numbers_at_once():
    """Wrong keys do not hide wrong numbers, nor the other way round, and nothing follows from what was refused."""
    text = changed("scale = 6", "scale = 6\nwind = 3").replace('"5 mm"', '"5"').replace("8, 4", "8, four")
    assert list(refused(text)) == ["sketch.wind", "stock.board.thickness", "parts.side.outline[2][1]"]


def test_nothing_follows_from_a_table_taken_out():
    """A stock that is refused is still known by its name; its missing keys are not told."""
    text = f"{GOOD.split('[stock.board]')[0]}[stock]\nboard = 3\n[parts.side]\nstock = 'board'\ncircle = 8\n"
    assert list(refused(text)) == ["stock.board"]


def test_too_many_parts():
    """The limit is told by name."""
    parts = "".join(f'[parts.p{i}]\nstock = "board"\ncircle = 3\n' for i in range(MAX_PARTS + 1))
    assert refused(GOOD.split("[parts")[0] + parts) == {"parts": "has 401 parts; at most 400 are read"}


def test_too_long_a_list():
    """So is that of lists."""
    marks = ", ".join("{ line = [[1, 1], [2, 2]] }" for _ in range(5001))
    assert refused(with_keys(f"marks = [{marks}]"))["parts.side.marks"].startswith("has 5,001 entries")
    folds = ", ".join("{ kind = 'wrap', from = [1, 1], to = [2, 2] }" for _ in range(201))
    assert refused(with_keys(f"folds = [{folds}]"))["parts.side.folds"] == "has 201 entries; at most 200 are read"
    joints = ", ".join("{ x = 3 }" for _ in range(101))
    assert refused(with_keys(f"joints = [{joints}]"))["parts.side.joints"] == "has 101 entries; at most 100 are read"


def test_every_key_has_a_kind_and_a_description():
    """What editors show and what readers look up is there for every key."""
    seen = 0

    def walk(model) -> None:
        nonlocal seen
        for key in keys_of(model).values():
            seen += 1
            assert key.description.strip(), key
            assert (key.of is None) != (key.table is None), key
            assert not (key.of and key.of.kind is Kind.WORD) or key.words, key
            if key.table:
                walk(key.table)

    walk(DesignTable)
    assert seen > 90
    assert keys_of(DesignTable)["sizes"].of == Of(Kind.NAMES)


def test_the_tables_handed_on_lack_only_what_was_refused():
    """What is right is handed on unchanged."""
    data = {"format": 1, "plan": {"name": "x", "colour": "red"}, "revision": [{"letter": "A"}, 3]}
    tables, refusals, gone = checked(data)
    assert tables.plan is not None and tables.plan.name == "x"
    assert gone == {("plan", "colour"), ("revision", 1)}
    assert data["plan"] == {"name": "x", "colour": "red"}
    keys = [r.key for r in refusals]
    assert "revision[0].date" in keys and "revision[1].date" not in keys
    assert len(list(tables_of(tables, ()))) == 4


def test_dates_are_read():
    """A date stands without quotes."""
    text = with_keys('[[revision]]\nletter = "A"\ndate = 2031-04-02\nwhat = "first issue"')
    (revision,) = read(text).revisions
    assert (revision.letter, revision.date, revision.what) == ("A", datetime.date(2031, 4, 2), "first issue")
