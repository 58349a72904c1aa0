"""What was built is drawn in: the same geometry, and every other byte of the design as it was."""

import datetime
import tomllib
from collections import Counter
from pathlib import Path

import pytest

from foamcut.design.adopting import adopted, next_letter, reasons
from foamcut.design.built import toml_text, with_built
from foamcut.design.changes import changed_path
from foamcut.design.design import read_design
from foamcut.design.keys import key_of
from tests.design.test_built import entry

ROOT = Path(__file__).parents[2]
SAMPLES = sorted(ROOT.glob("sample_designs/*.toml"))
DESIGNS = [
    *SAMPLES,
    *sorted(ROOT.glob("foamcut/design/starters/*.toml")),
    *sorted((ROOT / "tests" / "design").glob("*.toml")),
]
DAY = datetime.date(2031, 7, 1)


def paths(data, path=()):
    """Every value that is no table and no list of tables, and every entry of its lists."""
    items = data.items() if isinstance(data, dict) else enumerate(data)
    for step, value in items:
        here = (*path, step)
        if here[0] in ("format", "revision", "built"):
            continue
        if isinstance(value, dict):
            yield from paths(value, here)
        elif isinstance(value, list):
            if not any(isinstance(one, dict) for one in value):
                yield here, value
            yield from paths(value, here)
        else:
            yield here, value


def otherwise(value):
    """Another value of the same kind."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value + 1
    if isinstance(value, str):
        return f"{value} or so"
    return [*value, *value[-1:]]


def with_entries(text: str, *changes) -> bytes:
    tables = (
        f"\n[[built]]\nkey = {toml_text(key_of(path))}\nvalue = {toml_text(value)}\n"
        'why = "the sheet was longer"\ndate = 2031-05-02\n'
        for path, value in changes
    )
    return (text + "".join(tables)).encode()


def other_lines(before: bytes, after: bytes) -> tuple[Counter[str], Counter[str]]:
    """Lines that are gone, and lines that are new."""
    old, new = (Counter(data.decode().splitlines()) for data in (before, after))
    return old - new, new - old


@pytest.mark.parametrize("lists", [False, True])
@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_every_value_of_a_design_can_be_drawn_in(path, lists):
    """All its values, then all its lists: the tables say what was built, no other line has changed."""
    text = path.read_text(encoding="utf-8")
    tables = tomllib.loads(text)
    changes = [
        (where, otherwise(value))
        for where, value in paths(tables)
        if isinstance(value, list) == lists and changed_path(tables, key_of(where)) == where
    ]
    for some in batched(changes, 60):
        data = with_entries(text, *some)
        wanted, built, _ = with_built(tomllib.loads(data.decode()))
        assert len(built) > len(some) / 2
        made = adopted(data, built, DAY)
        found = tomllib.loads(made.decode())
        assert found.pop("revision")[:-1] == wanted.pop("revision", [])
        wanted.pop("built")
        wanted.setdefault("plan", {})["revision"] = found["plan"]["revision"]
        assert found == wanted
        gone, new = other_lines(text.encode(), made)
        heights = sum(1 + str(one.drawn).count("\n") + isinstance(one.drawn, list) * 40 for one in built)
        assert gone.total() <= heights + 1 + 5 * text.count("[[built]]")
        assert "[[revision]]" in new or "[[revision]]" in text


def batched(rows, most):
    return [rows[i : i + most] for i in range(0, len(rows), most)]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_the_next_revision_has_the_geometry_that_was_built(path):
    """Each size in turn is built a little larger, where the design can be read with that."""
    text = path.read_text(encoding="utf-8")
    sizes = tomllib.loads(text).get("sizes", {})
    read = 0
    for name, value in sizes.items():
        larger = round(value * 1.01, 3) if isinstance(value, int | float) else value
        data = with_entries(text, (("sizes", name), larger))
        before = read_design(data, path.name)
        after = read_design(adopted(data, before.built, DAY), path.name)
        assert (after.airframe, after.stocks, after.setup) == (before.airframe, before.stocks, before.setup)
        assert after.parts == before.parts
        assert after.plan.revision != before.plan.revision
        assert after.revisions[-1].letter == after.plan.revision
        assert not after.built
        read += 1
    assert read or not sizes


def built_of(text: str):
    data = text.encode()
    _, built, refusals = with_built(tomllib.loads(text))
    assert not refusals
    return data, built


DESIGN = """\
# A tray.
format = 1

[plan]
name   = "tray"          # the name
revision = 'A'           # first

[sizes]
span = 92                # measured
"odd" = "2 5/16"

[stock.board]
material = "foam board"
sheets = [
  { size = "700 x 500 mm", price = 3.40 },   # the usual one
  { size = "500 x 350 mm" , on_hand = 2 },
]

[[built]]
key = "span"
value = 94.50   # by the rule
why = "the sheet was longer"
date = 2031-05-02

# What changed.
[[revision]]
letter = "A"
date = 2031-04-02
what = "first issue"

[parts.side]
stock = "board"
outline = \"\"\"
# along, up
0, 0
span, 0
span, 20
\"\"\"
"""


def test_all_but_what_was_built_stays_byte_for_byte():
    data, built = built_of(DESIGN)
    made = adopted(data, built, "2031-07-01")
    wanted = (
        DESIGN.replace("span = 92  ", "span = 94.50  ")
        .replace("revision = 'A'", 'revision = "B"')
        .replace(DESIGN[DESIGN.index("[[built]]") : DESIGN.index("# What changed")], "")
        .replace(
            'what = "first issue"\n',
            'what = "first issue"\n\n[[revision]]\nletter = "B"\ndate = 2031-07-01\n'
            'what = "span 94.5 (was 92): the sheet was longer"\n',
        )
    )
    assert made.decode() == wanted


def test_line_ends_and_byte_order_mark_stay():
    data, built = built_of(DESIGN)
    plain = adopted(data, built, DAY)
    marked = b"\xef\xbb\xbf" + data.replace(b"\n", b"\r\n")
    assert adopted(marked, built, DAY) == b"\xef\xbb\xbf" + plain.replace(b"\n", b"\r\n")


@pytest.mark.parametrize(
    ("key", "value", "there"),
    [
        ("stock.board.sheets[1].on_hand", "3", '{ size = "500 x 350 mm" , on_hand = 3 },'),
        ("stock.board.sheets[0].mass", '"158 g"', 'price = 3.40, mass = "158 g" },   # the usual one'),
        ("odd", '"3 1/8"', '"odd" = "3 1/8"\n'),
        ("stock.board.margin", '"4 mm"', ']\nmargin = "4 mm"\n'),
        ("cutting.kerf", '"0.1 mm"', '\n[cutting]\nkerf = "0.1 mm"\n'),
        ("parts.side.outline", "'''\n0, 0\nspan, 0\n9, 9\n'''", "outline = '''\n0, 0\nspan, 0\n9, 9\n'''\n"),
        ("parts.side.cutting", '{ fit = "0 mm" }', 'cutting = { fit = "0 mm" }\n'),
    ],
)
def test_values_of_every_shape_are_drawn_in(key, value, there):
    text = DESIGN.replace('key = "span"\nvalue = 94.50   # by the rule', f'key = "{key}"\nvalue = {value}')
    data, built = built_of(text)
    assert there in adopted(data, built, DAY).decode()


def test_keys_with_dots_and_lists_of_tables():
    text = (
        "format = 1\nplan.name = 'tray'\nplan.title = 'Tray' # words\n[sizes]\n\tspan = 9\n[[servo]]\nat = [1, 2]\n"
        "[[servo]]\nat = [3, # first\n  4]\n"
        + entry("servo[1].at[1]", "5")
        + entry("servo[0].at", "[7, 8]")
        + entry("plan.maker", '"shed"')
    )
    data, built = built_of(text)
    made = adopted(data, built, DAY, what="moved").decode()
    assert made.startswith(
        "format = 1\nplan.name = 'tray'\nplan.title = 'Tray' # words\nplan.maker = \"shed\"\n"
        'plan.revision = "A"\n[sizes]\n\tspan = 9\n[[servo]]\nat = [7, 8]\n[[servo]]\nat = [3, # first\n  5]\n'
    )
    assert tomllib.loads(made)["revision"] == [{"letter": "A", "date": DAY, "what": "moved"}]


def test_lists_written_in_one_go():
    """Both what was built and the revisions may be lists of inline tables."""
    text = (
        'built = [{ key = "span", value = 3, why = "longer", date = 2031-05-02 }]\n'
        "revision = [{ letter = '9', date = 2031-05-01, what = 'first' },]\n[sizes]\nspan = 2\n"
    )
    data, built = built_of(text)
    made = tomllib.loads(adopted(data, built, DAY).decode())
    assert made["sizes"] == {"span": 3} and "built" not in made
    assert [row["letter"] for row in made["revision"]] == ["9", "10"]
    assert made["plan"] == {"revision": "10"}


def test_a_table_under_its_own_header_is_refused_by_name():
    """A whole table built otherwise, whose keys stand under a header, is for the builder to write."""
    text = DESIGN + "[parts.side.cutting]\nfit = '1 mm'\n" + entry("parts.side.cutting", '{ fit = "0 mm" }')
    data, built = built_of(text)
    with pytest.raises(ValueError, match=r"parts\.side\.cutting: cannot be changed"):
        adopted(data, built, DAY)


@pytest.mark.parametrize(
    ("letter", "following"),
    [
        ("A", "B"),
        ("Z", "AA"),
        ("AZ", "BA"),
        ("ZZ", "AAA"),
        ("c", "d"),
        ("3", "4"),
        ("09", "10"),
        ("A.1", "A.2"),
        ("rev 9", "rev 10"),
        ("first", "first.1"),
        ("é", "é.1"),
    ],
)
def test_the_next_letter(letter, following):
    assert next_letter({"plan": {"revision": letter}}) == following


def test_the_next_letter_is_a_new_one():
    rows = [{"letter": "A"}, {"letter": "B"}]
    assert next_letter({"plan": {"revision": "A"}, "revision": rows}) == "C"
    assert next_letter({"revision": rows}) == "C"
    assert next_letter({}) == "A"
    with pytest.raises(ValueError, match="no next one"):
        next_letter({"plan": {"revision": "x" * 40}})


def test_reasons_fit_on_a_line():
    text = DESIGN.replace("span = 92 ", "".join(f"s{i} = {i}\n" for i in range(80)) + "span = 92 ")
    text += "".join(entry(f"s{i}", str(i + 100)) for i in range(80))
    _, built = built_of(text)
    line = reasons(built)
    assert line.startswith("span 94.5 (was 92): the sheet was longer; s0 100 (was 0): ")
    assert len(line) <= 1000 and line.endswith(" more")
