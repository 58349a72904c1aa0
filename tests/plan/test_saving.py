"""What is said of parts that are cut in two to save something.  Sums by arithmetic."""

from dataclasses import replace
from decimal import Decimal

import pytest

from foamcut.findings import Level
from foamcut.nest.values import Saving
from foamcut.plan.saving import saving_findings, saving_words
from tests.plan.joined import joined, strip

ONE, TWO = joined(strip("skin")), joined(strip("deck"))


def of(*parts: str, boards: int = 1, cost: str | None = None) -> Saving:
    return Saving(stock="foam", parts=parts, boards=boards, cost=None if cost is None else Decimal(cost))


@pytest.mark.parametrize(
    ("saving", "words"),
    [
        (of("skin"), "skin: cut in 2 although it lies whole: saves 1 board of foam"),
        (of("skin", boards=3), "skin: cut in 2 although it lies whole: saves 3 boards of foam"),
        (of("skin", "deck"), "skin, deck: cut in 2 although they lie whole: saves 1 board of foam"),
        (of("skin", cost="4.5"), "skin: cut in 2 although it lies whole: saves 1 board of foam (4.50 EUR)"),
        # one large board instead of two small ones, or the other way round, for less money
        (of("skin", boards=0, cost="2"), "skin: cut in 2 although it lies whole: saves 2.00 EUR on foam"),
        (of("skin", boards=-1, cost="2"), "skin: cut in 2 although it lies whole: saves 2.00 EUR on foam"),
    ],
)
def test_a_line_for_each_stock(saving: Saving, words: str):
    assert list(saving_words([saving], (ONE, TWO), "EUR")) == [words]


def test_parts_in_unlike_numbers_of_sections():
    three = replace(TWO, way=replace(TWO.way, pieces=(TWO.way.pieces[0], *TWO.way.pieces)))
    assert list(saving_words([of("skin", "deck")], (ONE, three))) == [
        "skin, deck: cut in 2 or 3 although they lie whole: saves 1 board of foam"
    ]


@pytest.mark.parametrize("cost", [None, "0"])
def test_where_nothing_is_saved_nothing_is_said(cost: str | None):
    saving = of("skin", boards=0, cost=cost)
    assert list(saving_words([saving], (ONE,))) == list(saving_findings([saving], (ONE,))) == []
    assert list(saving_words([], (ONE,))) == list(saving_findings([], (ONE,))) == []


def test_a_note_for_each_part():
    first, second = saving_findings([of("skin", "deck", boards=2)], (ONE, TWO))
    assert (first.code, first.level, first.where, first.value) == (
        "joint-saves", Level.NOTE, "parts.skin", "2 boards of foam",
    )  # fmt: skip
    assert first.text == (
        "skin would lie whole on a sheet, and is cut in 2 because that saves 2 boards of foam, together with deck"
    )
    assert second.where == "parts.deck" and second.text.endswith("together with skin")
    assert "may_join" in first.mend
