"""One fault, one refusal: what only follows from a fault told elsewhere is not told again."""

import time

import pytest

from tests.design.making import GOOD, changed, part, read, refused


def test_a_size_with_a_capital_letter():
    """Sums that spell the name as it is to be spelt are in order once it is mended."""
    outline = 'rectangle = ["half_span", "half_span / 2"]'
    found = refused(changed("half_span = 92", "Half_span = 92", part(outline)))
    assert list(found) == ["sizes.Half_span"]
    assert found["sizes.Half_span"].endswith('a letter first: "half_span"')
    assert list(refused(changed("half_span = 92", "Half_span = 92\ntip = 'half_span'"))) == [
        "sizes.Half_span"
    ]


@pytest.mark.parametrize(
    ("table", "key"),
    [('stock = "board"\n', "stock"), ("stock = 5\n", "stock"), ("", "stock"), ("[stock]\n", "stock")],
)
def test_parts_without_any_table_of_stocks(table: str, key: str):
    """What a part is cut from cannot be looked up, and that is no fault of the part."""
    head, rest = GOOD.split("[stock.board]")
    text = head + rest[rest.index("[parts.side]") :]
    text = (
        table + text if table.startswith("stock =") else text.replace("[parts.side]", f"{table}[parts.side]")
    )
    assert list(refused(text)) == [key]


def test_a_stock_with_spaces_round_its_name():
    """The name is refused where it is given, not where it is used."""
    text = GOOD.replace("[stock.ply]", '[stock." rib "]').replace('stock = "board"', 'stock = " rib "')
    assert list(refused(text)) == ['stock." rib "']
    assert list(refused(text.replace('stock = " rib "', 'stock = "rib"'))) == ['stock." rib "']


def test_a_stock_that_is_not_there_is_still_told():
    """Only what follows is dropped."""
    assert list(refused(GOOD.replace('stock = "board"', 'stock = "bord"'))) == ["parts.side.stock"]


def test_a_table_given_twice():
    """Its keys are not told again; a key that stands twice in the first of the two is."""
    text = f'{GOOD}\n[parts.side]\nstock = "board"\n'
    assert list(refused(text)) == ["parts.side"]
    twice = changed('[parts.side]\nstock = "board"', '[parts.side]\nstock = "ply"\nstock = "board"', text)
    assert sorted(refused(twice)) == ["parts.side", "parts.side.stock"]


def test_a_percentage_is_multiplied_with_what_stands_there():
    """The hint uses a name of the file, or none."""
    text = changed(
        "half_span = 92", "chord = 20\nhalf_span = 92", part('rectangle = ["half_span + 25 %", 2]')
    )
    assert refused(text)["parts.side.rectangle[0]"].endswith(
        '25 % stands beside "+"; a percentage may only be multiplied or divided, as in "25 % * half_span"'
    )
    bare = changed("\n[sizes]\nhalf_span = 92\n", "", part('rectangle = ["12 mm - 5 %", 2]'))
    assert refused(bare)["parts.side.rectangle[0]"].endswith('as in "5 % * 40 mm"')


def test_a_ratio_for_a_scale():
    """The number is shown as it is to be written."""
    assert refused(changed("scale = 6", 'scale = "1 : 6"'))["sketch.scale"] == (
        '"1 : 6" is a ratio; write 6 alone, for one on the sketch that is 6 at full size'
    )


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("(half_span + 2, 0", 'has a "(" that is never closed; write ")"'),
        ("2, (half_span + 2", '"(" is never closed; write ")"'),
        ("half_span + 2), 0, 5", 'has a ")" too many; take it out, or write "(" before its sum'),
    ],
)
def test_brackets_of_a_reading(row: str, words: str):
    """A bracket that is not closed swallows the comma: it is told as what it is."""
    found = refused(changed("  8, 0\n", f"  {row}\n"))
    assert words in next(iter(found.values()))
    assert len(found) == 1


def test_a_reading_of_a_megabyte_is_refused_at_once():
    """The time grows with the length, not with its square."""
    began = time.perf_counter()
    assert list(refused(changed("  8, 0\n", "  8, " + "x" * 1_000_000 + "\n"))) == [
        "parts.side.outline[1][1]"
    ]
    assert list(refused(changed("  8, 0\n", "  (" + "x," * 500_000 + "\n"))) == ["parts.side.outline[1]"]
    assert time.perf_counter() - began < 5


def test_a_mark_of_200_letters():
    """Texts of marks are as long as names may be."""
    mark = 'circle = 9\nmarks = [ { circle = 2, at = [0, 0], text = "%s" } ]'
    assert read(part(mark % ("m" * 200))).parts[0].marks[0].text == "m" * 200
    assert refused(part(mark % ("m" * 201))) == {
        "parts.side.marks[0].text": "has 201 letters; shorten it to 200 or fewer"
    }
