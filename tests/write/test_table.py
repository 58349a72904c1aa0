"""The shopping list: whole packs, cost, and cells that a spreadsheet takes for text."""

import csv
import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamcut.write.table import SHOPPING_COLUMNS, ShoppingRow, render, shopping


def row(**changes) -> ShoppingRow:
    values = {
        "kind": "sheet", "name": "board", "size": "700 x 500 mm", "needed": 3, "on_hand": 1, "to_buy": 2,
        "spare": 1, "sold_in": 5, "price": Decimal("3.40"), "currency": "EUR",
    }  # fmt: skip
    return ShoppingRow(**{**values, **changes})


def test_only_whole_packs_are_bought():
    assert row().packs == 1
    assert row().cost == Decimal("17.00")
    assert row(to_buy=5).packs == 2
    assert row(sold_in=1).cost == Decimal("10.20")
    assert row(to_buy=0, spare=0).packs == 0


def test_without_a_price_there_is_no_cost():
    cells = list(csv.reader(io.StringIO(shopping([row(price=None)]).decode(), newline="")))
    assert cells[0] == list(SHOPPING_COLUMNS)
    assert cells[1][9:11] == ["", ""]


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_a_cell_that_starts_like_a_formula_is_made_harmless(start):
    cells = list(csv.reader(io.StringIO(shopping([row(name=start + "cmd|x")]).decode(), newline="")))
    assert cells[1][1] == "'" + start + "cmd|x"


@given(st.lists(st.lists(st.text(st.characters(exclude_categories=["Cs"]), max_size=9), min_size=2, max_size=4)))
def test_what_is_written_is_read_again(rows):
    """Another reader of RFC 4180 (the standard library's) gets the cells back, apostrophes apart."""
    text = render(rows).decode()
    back = list(csv.reader(io.StringIO(text, newline="")))
    assert [[c.removeprefix("'") for c in r] for r in back] == [[c.removeprefix("'") for c in r] for r in rows]
