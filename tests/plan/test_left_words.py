"""What a board keeps in one piece, in words that can be written into the design as they are."""

import re
from dataclasses import replace

import pytest

from foamcut.design.design import read_design
from foamcut.nest.values import Kind, Layout, Left, Sheet
from foamcut.plan.words import left_words
from tests.design.making import changed
from tests.nest.making import rectangle, stock
from tests.nest.test_leftover import BOUND

SIZES = 'sheets = [ { size = "700 x 500 mm" } ]'


def layout_of(*lefts: Left | None) -> Layout:
    sheet = Sheet(
        stock="board",
        number=1,
        kind=Kind.NEW,
        source="stock.board.sheets[0]",
        width_mm=700.0,
        height_mm=500.0,
        outline=rectangle(700, 500),
        placed=(),
    )
    sheets = tuple(replace(sheet, number=number, left=left) for number, left in enumerate(lefts, 1))
    return Layout(stock=stock((700, 500)), sheets=sheets, bound=BOUND)


def test_the_line_names_the_sheet_and_the_size():
    layout = layout_of(None, Left(corner=(10.0, 0.0), width_mm=412.0, height_mm=300.0))
    assert list(left_words([layout], "mm")) == [
        "board: sheet 2 keeps a rectangle of 412 x 300 mm; "
        'when it is cut, add to offcuts: { size = "412 x 300 mm" }'
    ]
    assert list(left_words([layout_of(None, None)], "mm")) == []


@pytest.mark.parametrize(
    ("units", "width", "height", "size"),
    [
        ("mm", 412.0, 300.0, "412 x 300 mm"),
        ("in", 16 * 25.4 + 7 * 1.5875, 12 * 25.4, "16 7/16 x 12 in"),
        ("in", 1.5875 * 415, 1.5875 * 71, "25 15/16 x 4 7/16 in"),
        ("in", 412.0, 300.0, "412 x 300 mm"),
    ],
)
def test_the_entry_is_read_back_as_an_offcut_of_that_size(units: str, width: float, height: float, size: str):
    """An inch is 25.4 mm (published: international yard and pound agreement, 1959)."""
    left = Left(corner=(0.0, 0.0), width_mm=width, height_mm=height)
    (line,) = left_words([layout_of(left)], units)
    entry = re.search(r"add to offcuts: (\{.*\})$", line)[1]
    assert f'"{size}"' in entry
    design = read_design(changed(SIZES, f"{SIZES}\noffcuts = [ {entry} ]").encode(), "samphire.toml")
    (offcut,) = design.stocks[0].offcuts
    assert offcut.outline.bounds == pytest.approx((0, 0, width, height), abs=1e-6)
    assert offcut.count == 1
