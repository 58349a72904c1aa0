"""Letters of folds beside each other, and numbers on small sheets, in the drawings of steps."""

import math
from itertools import combinations

import pytest

from foamcut.book.step_flat import Lying, flat_picture
from foamcut.book.step_sheets import sheets_picture
from foamcut.flat.outline import Outline
from foamcut.nest.values import Kind, Sheet
from tests.book.steps_facts import sample_facts


@pytest.mark.parametrize(("name", "skin"), [("thrift-1", "wing-skin-"), ("sea-blite-3", "wing-skin-")])
def test_letters_of_folds_do_not_lie_on_each_other(name: str, skin: str) -> None:
    parts = [part for part in sample_facts(name).parts if part.name.startswith(skin)]
    assert len(parts) == 2
    lying = [Lying(part=one, label="", lettered=True) for one in parts]
    picture = flat_picture("skins", "Skins", "two skins", lying)
    letters = [one for one in picture.texts if len(one.text) == 1]
    assert len(letters) >= 6
    for one, other in combinations(letters, 2):
        assert math.dist(one.at, other.at) > one.height_mm, (one.text, other.text)


def sheet(stock: str, wide: float, high: float) -> Sheet:
    """An empty sheet."""
    return Sheet(
        stock=stock, number=1, kind=Kind.NEW, source="", width_mm=wide, height_mm=high,
        outline=Outline.rectangle(0, 0, wide, high), placed=(),
    )  # fmt: skip


def test_a_small_sheet_is_drawn_larger_and_says_so() -> None:
    picture = sheets_picture("cut", "Cut", "sheets", [sheet("board", 1000, 700), sheet("ply", 300, 200)], {})
    said = {one.text for one in picture.texts}
    assert said == {"board 1", "ply 1, drawn larger"}
    wide = [max(x for x, _ in one.points) - min(x for x, _ in one.points) for one in picture.shapes]
    assert 0.5 < min(wide) / max(wide) < 0.6


def test_sheets_of_one_size_are_drawn_alike() -> None:
    picture = sheets_picture(
        "cut", "Cut", "sheets", [sheet("board", 1000, 700), sheet("board", 900, 600)], {}
    )
    assert not any("larger" in one.text for one in picture.texts)
