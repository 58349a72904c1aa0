"""How long the search goes on: until fewer boards are ruled out, or out of reach, or its steps are done."""

from dataclasses import replace

import pytest

from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.nest.search import lay
from foamcut.nest.trials import FAR_STEPS, LEAST_STEPS
from foamcut.nest.values import Layout, Pace, Progress
from tests.nest.making import part, rectangle, stock, want

_STEPS = 400


def _told(*parts: Part) -> tuple[Layout, list[Progress]]:
    told: list[Progress] = []
    board = stock((700, 500))
    return lay(want(board, *parts), board, seed=1, pace=Pace(steps=_STEPS), listener=told.append), told


def _steps(told: list[Progress], doing: str) -> int:
    return sum(one.doing == doing for one in told)


def _discs(count: int) -> Part:
    return part("disc", Outline.circle(0, 0, 80), count)


@pytest.mark.parametrize(
    ("count", "due"),
    [
        pytest.param(9, LEAST_STEPS + 1, id="one board is proven to be needed, and does"),
        pytest.param(14, _STEPS, id="two discs are left over, 0.11 of a board"),
        pytest.param(15, FAR_STEPS, id="three discs are left over, 0.17 of a board"),
    ],
)
def test_the_search_ends_where_a_board_less_is_out_of_reach(count: int, due: int) -> None:
    """Arithmetic: in rows twelve discs 160 wide lie on 700 x 500; by area 17 would."""
    layout, told = _told(_discs(count))
    assert (layout.bound.new, layout.bound.at_least) == (1 if count <= 12 else 2, 1)
    assert _steps(told, "laying pieces") == due


def test_few_large_pieces_are_tried_on() -> None:
    """Arithmetic: three of five discs 260 wide lie on 700 x 500, each more than a seventh of it."""
    layout, told = _told(part("disc", Outline.circle(0, 0, 130), 5))
    assert (layout.bound.new, layout.bound.at_least) == (2, 1)
    assert _steps(told, "laying pieces") == _STEPS


def test_no_more_than_some_thousand_pieces_are_laid_for_a_larger_rectangle() -> None:
    small = part("small", rectangle(30, 20), 250)
    assert _steps(_told(small)[1], "leaving a larger piece") == 4_000 // 250
    assert _steps(_told(replace(small, count=20))[1], "leaving a larger piece") == _STEPS // 10
