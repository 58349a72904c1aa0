"""The largest group of pieces of which no two share a board, and which pairs share one."""

from itertools import combinations

import pytest

from foamcut.flat.drawn import Turns
from foamcut.flat.joint import Piece
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest.apart import Kin, Upright, largest_group, pieces_apart
from foamcut.nest.rooms import sources
from tests.nest.making import part, rectangle, stock


def _petersen() -> list[tuple[int, int]]:
    outer = [(i, (i + 1) % 5) for i in range(5)]
    inner = [(5 + i, 5 + (i + 2) % 5) for i in range(5)]
    return outer + inner + [(i, i + 5) for i in range(5)]


def _paley(prime: int) -> list[tuple[int, int]]:
    squares = {i * i % prime for i in range(1, prime)}
    return [(a, b) for a, b in combinations(range(prime), 2) if (b - a) % prime in squares]


def _cocktail(pairs: int) -> list[tuple[int, int]]:
    return [(a, b) for a, b in combinations(range(2 * pairs), 2) if a // 2 != b // 2]


@pytest.mark.parametrize(
    ("nodes", "edges", "due"),
    [
        pytest.param(10, _petersen(), 2, id="Petersen graph: memory"),
        pytest.param(13, _paley(13), 3, id="Paley graph of 13: memory"),
        pytest.param(17, _paley(17), 3, id="Paley graph of 17, by which R(4, 4) > 17: memory"),
        pytest.param(12, _cocktail(6), 6, id="six pairs, all but partners joined: arithmetic"),
        pytest.param(7, list(combinations(range(7), 2)), 7, id="complete graph: arithmetic"),
        pytest.param(5, [], 1, id="no edges: arithmetic"),
    ],
)
def test_clique_numbers_of_named_graphs(nodes: int, edges: list[tuple[int, int]], due: int) -> None:
    near = {i: [b if a == i else a for a, b in edges if i in (a, b)] for i in range(nodes)}
    group = largest_group(range(nodes), near, dict.fromkeys(range(nodes), 1))
    assert len(group) == due
    assert all(b in near[a] for a, b in combinations(group, 2))


def _upright(board: Stock, *parts: Part) -> Upright:
    rooms = sources(board)
    return Upright([Kin(Piece.whole(one), one.count, (True,) * len(rooms)) for one in parts], board, rooms)


def _corner() -> Outline:
    """An L of 90 with arms 30 wide."""
    (ell,) = rectangle(90, 90).minus(Outline.rectangle(30, 30, 90, 90))
    return ell


@pytest.mark.parametrize(
    ("turns", "width", "height", "due"),
    [
        (Turns.NONE, 120.0, 120.0, True),
        (Turns.NONE, 119.99, 170.0, False),
        (Turns.HALF, 120.0, 90.0, True),
        (Turns.HALF, 119.99, 119.99, False),
        (Turns.QUARTER, 90.0, 120.0, True),
        (Turns.QUARTER, 90.0, 90.0, False),
    ],
)
def test_two_brackets_share_a_board_as_their_turns_allow(turns: Turns, width: float, height: float, due: bool) -> None:
    """Arithmetic: without a turn one steps 30 mm along the other both ways, so that both take 120 mm; turned
    by half, an arm of one lies in the mouth of the other, and 120 by 90 are enough."""
    board = stock((width, height))
    upright = _upright(board, part("bracket", _corner(), 2, turns=turns))
    assert upright.may_share(0, 0) == due
    assert pieces_apart(upright) == (((0, 2),) if not due else ((0, 1),))


def test_the_tolerance_of_placing_keeps_two_halves_together() -> None:
    """Two halves that are a quarter of the tolerance too wide together are not called apart, with a gap or not."""
    for gap in (0.0, 2.0):
        board = stock((100 + gap, 60), gap=gap)
        close = _upright(board, part("half", rectangle(50.0001, 60), 2, turns=Turns.NONE))
        assert close.may_share(0, 0)
        over = _upright(board, part("half", rectangle(50.01, 60), 2, turns=Turns.NONE))
        assert not over.may_share(0, 0)


def test_what_may_lie_at_any_angle_is_never_called_apart() -> None:
    """Two bars longer than the board is wide lie side by side only on the diagonal, which is not looked at."""
    bar = part("bar", rectangle(110, 5), 2, turns=Turns.ANY)
    assert pieces_apart(_upright(stock((100, 100)), bar)) == ()


def test_holes_and_notches_take_what_fits_them() -> None:
    (frame,) = rectangle(100, 60).minus(Outline.rectangle(20, 20, 80, 40))
    fits = _upright(stock((100, 60), gap=1), part("frame", frame), part("patch", rectangle(58, 18)))
    assert fits.may_share(0, 1)
    tight = _upright(stock((100, 60), gap=1), part("frame", frame), part("patch", rectangle(58.01, 18.01)))
    assert not tight.may_share(0, 1)
