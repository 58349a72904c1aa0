"""Bounds are never above what can be done, and say why."""

from fractions import Fraction
from itertools import combinations, product
from random import Random

import pytest

from foamcut.flat.drawn import Turns
from foamcut.flat.outline import Outline
from foamcut.nest.apart import largest_group
from foamcut.nest.bound import Least, bound
from foamcut.nest.cover import Demand, cover
from foamcut.nest.rooms import sources, stock_findings
from foamcut.nest.values import NearMiss
from tests.nest.making import laid, part, rectangle, stock


def test_exact_filling_is_one_board_and_a_hair_more_is_two() -> None:
    full = laid(stock((100, 100)), part("a", rectangle(50, 50), 4))
    assert full.bound.at_least == 1 and full.bound.proven
    assert full.bound.reason == "proven: the parts cover 1 board, so 1 is needed and 1 is used"
    more = laid(stock((100, 100)), part("a", rectangle(50, 50), 4), part("b", rectangle(2, 2)))
    assert more.bound.at_least == more.bound.new == 2
    assert more.bound.reason == "proven: the parts cover just over 1 board, so 2 are needed and 2 are used"


def test_the_gap_counts_as_area() -> None:
    """25 tiles of 19 mm cover 0.9 of the room, but with their gaps no 25 fit 100 mm square."""
    layout = laid(stock((100, 100), gap=2), part("tile", rectangle(19, 19), 25), steps=30)
    assert layout.bound.at_least == layout.bound.new == 2


def test_pieces_that_cannot_share_a_board() -> None:
    """Three discs of 60 mm: two boards' worth of area, three boards of 100 mm."""
    layout = laid(stock((100, 100)), part("disc", Outline.circle(0, 0, 30), 3), steps=30)
    assert (layout.bound.new, layout.bound.at_least) == (3, 3)
    reason = "proven: no two of 3 parts (disc) fit one board, so 3 are needed and 3 are used"
    assert layout.bound.reason == reason


def test_pieces_that_share_a_board_only_in_one_turn_are_not_called_apart() -> None:
    """Two right triangles fill a square exactly, one turned by half; they are no proof of two boards."""
    triangle = Outline.of_points([(0, 0), (100, 0), (0, 100)])
    assert laid(stock((100, 100)), part("half", triangle, 2)).bound.new == 1
    fixed = laid(stock((100, 100)), part("half", triangle, 2, turns=Turns.NONE), steps=30)
    assert (fixed.bound.new, fixed.bound.at_least) == (2, 2)


def test_a_piece_in_the_hole_of_another_is_not_called_apart() -> None:
    (frame,) = rectangle(100, 100).minus(Outline.rectangle(20, 20, 80, 80))
    layout = laid(stock((100, 100)), part("frame", frame), part("patch", rectangle(60, 60)))
    assert (layout.bound.new, layout.bound.at_least) == (1, 1)


def test_the_shelf_is_taken_off() -> None:
    board = stock((100, 100), on_hand=(1,), offcuts=((rectangle(100, 50), 1),))
    layout = laid(board, part("tile", rectangle(50, 50), 10))
    assert (layout.bound.new, layout.bound.at_least) == (1, 1)
    assert layout.bound.reason == (
        "proven: the parts cover 2.5 boards, what is on hand holds 1.5 boards at most, so 1 is needed and 1 is used"
    )


def test_parts_that_only_fit_the_large_size_need_it() -> None:
    """By area one small board would do, but the long part fits the large one alone."""
    board = stock((200, 100), (100, 100), prices=("5", "1"))
    layout = laid(board, part("long", rectangle(150, 20)), part("tile", rectangle(75, 75)))
    assert layout.bound.cost == layout.bound.cost_at_least == 5
    assert layout.bound.proven


def _priced_reason(new: int, cost: str, *, sizes: int = 2) -> tuple[bool, str]:
    """The bound of two boards at 4 at least, three of which cost 3, when so many were bought for so much."""
    board = stock((200, 100), (100, 100), prices=("2", "1"))
    if sizes == 1:
        board = stock((200, 100), prices=("2",))
    floor = Least(
        boards=2, cost=Fraction(3), boards_at_cost=3, by_area=Fraction(3, 2), on_hand=Fraction(0), apart=(), mixes=()
    )
    found = bound(board, floor, new, Fraction(cost))
    return found.proven, found.reason


def test_the_reason_says_what_is_proven() -> None:
    """Boards and cost are each proven or not; the word stands in every sentence."""
    area = "the parts cover 1.5 boards"
    assert _priced_reason(2, "3") == (True, f"proven: {area}, so 2 are needed and 2 are used; no mix costs less")
    assert _priced_reason(2, "4") == (
        True,
        f"proven: {area}, so 2 are needed and 2 are used; no fewer boards do, but a cheaper mix is not ruled out",
    )
    assert _priced_reason(3, "3") == (
        True, f"proven: {area}, and no mix costs less; at that cost no fewer boards do"
    )  # fmt: skip
    assert _priced_reason(4, "3") == (
        True, f"proven: {area}, and no mix costs less; at that cost fewer boards are not ruled out"
    )  # fmt: skip
    assert _priced_reason(4, "5") == (
        False, f"not proven: {area}; 4 are used, 2 might do, and a cheaper mix is not ruled out"
    )  # fmt: skip
    assert _priced_reason(4, "5", sizes=1) == (False, f"not proven: {area}; 4 are used, 2 might do")
    shelf = laid(stock((100, 100), on_hand=(1,)), part("tile", rectangle(50, 50)), steps=1)
    assert shelf.bound.reason == "proven: everything fits on what is on hand, and no board is bought"


def test_parts_that_share_no_size_are_a_reason_of_their_own() -> None:
    """A long part and a high one cover half a board, and each fits one of the sizes alone."""
    layout = laid(stock((200, 60), (90, 120)), part("long", rectangle(180, 20)), part("high", rectangle(80, 100)))
    assert layout.bound.at_least == layout.bound.new == 2
    assert layout.bound.reason == (
        "proven: the parts cover 0.97 boards, but some fit only some of the sheets, so 2 are needed and 2 are used"
    )


@pytest.mark.parametrize("number", range(30))
def test_the_cheapest_mix_against_all_mixes(number: int) -> None:
    """Arithmetic: every number of every size is tried; the cost counts first, then the boards."""
    rng = Random(number)
    count = rng.randrange(1, 4)
    sizes = [Fraction(rng.randrange(2, 9)) for _ in range(count)]
    prices = [Fraction(rng.randrange(1, 7)) for _ in range(count)]
    masks = [tuple(rng.random() < 0.7 for _ in range(count)) for _ in range(2)]
    demands = [Demand(m, Fraction(rng.randrange(20)), rng.randrange(3)) for m in masks if any(m)]
    mixes = [
        (sum(n * p for n, p in zip(mix, prices, strict=True)), sum(mix))
        for mix in product(range(24), repeat=count)
        if all(
            sum(n * s for n, s, m in zip(mix, sizes, d.sizes, strict=True) if m) >= d.area
            and sum(n for n, m in zip(mix, d.sizes, strict=True) if m) >= d.boards
            for d in demands
        )
    ]
    cost, boards = min(mixes)
    found = cover(sizes, [p * 1000 + 1 for p in prices], demands)
    assert found.least == cost * 1000 + boards
    assert sum(found.counts) == boards
    few = cover(sizes, prices, demands, tries=2)
    assert few.least <= cost


@pytest.mark.parametrize("number", range(12))
def test_the_bound_is_never_above_the_layout(number: int) -> None:
    rng = Random(number)
    parts = [
        part(f"p{i}", rectangle(rng.randrange(10, 70), rng.randrange(10, 70)), rng.randrange(1, 4)) for i in range(5)
    ]
    board = stock(
        (100, 80), (70, 70), margin=rng.choice([0, 2]) * 0.5, gap=rng.choice([0.0, 1.0]),
        prices=rng.choice([(), ("3.5", "2.25")]), on_hand=(rng.randrange(2), 0),
    )  # fmt: skip
    found = laid(board, *parts, steps=40).bound
    assert found.at_least <= found.new
    assert found.cost is None or (found.cost_at_least is not None and found.cost_at_least <= found.cost)
    assert found.proven == (found.new == found.at_least or (found.cost is not None and found.cost == found.cost_at_least))
    assert found.reason.startswith("proven: " if found.proven else "not proven: ")


def test_not_proven_says_so() -> None:
    """Five tiles of 34 mm cover 0.83 of the board, and only four fit it."""
    layout = laid(stock((100, 70)), part("tile", rectangle(34, 34), 5), steps=20)
    assert (layout.bound.new, layout.bound.at_least) == (2, 1)
    assert layout.bound.reason == "not proven: the parts cover 0.8 boards; 2 are used, 1 might do; all but tile fit on 1 board"


def _near_reason(near: NearMiss | None, *, new: int = 3, on_hand: str = "0") -> str:
    floor = Least(
        boards=1, cost=Fraction(0), boards_at_cost=1, by_area=Fraction(3, 2), on_hand=Fraction(on_hand), apart=(), mixes=()
    )
    return bound(stock((100, 100)), floor, new, Fraction(0), near=near).reason


def test_the_reason_says_how_near_fewer_boards_came() -> None:
    start = "not proven: the parts cover 1.5 boards; 3 are used, 1 might do"
    assert _near_reason(NearMiss(boards=2, missing=("deck",))) == f"{start}; all but deck fit on 2 boards"
    many = NearMiss(boards=1, missing=("rib", "deck", "rib", "fin"))
    assert _near_reason(many) == f"{start}; all but 2 of rib, deck and fin fit on 1 board"
    more = NearMiss(boards=2, missing=("rib", "deck", "rib", "fin", "spar"))
    assert _near_reason(more) == f"{start}; all but 5 pieces fit on 2 boards"
    shelf = _near_reason(NearMiss(boards=2, missing=("deck",)), on_hand="1/2")
    assert shelf.endswith("; all but deck fit on what is on hand and 2 boards")


def test_what_the_rectangles_for_a_bed_take_is_said_before_the_near_layout() -> None:
    floor = Least(boards=1, cost=Fraction(0), boards_at_cost=1, by_area=Fraction(1), on_hand=Fraction(0), apart=(), mixes=())
    near = NearMiss(boards=1, missing=("deck",))
    assert bound(stock((100, 100)), floor, 2, Fraction(0), on_beds=True, near=near).reason == (
        "not proven: the parts cover 1 board; 2 are used, 1 might do; that does not count what the rectangles for the "
        "bed take; all but deck fit on 1 board"
    )


def test_pieces_apart_count_boards_on_hand() -> None:
    """Arithmetic: three discs of 60 mm, one of them on the board that is there."""
    layout = laid(stock((100, 100), on_hand=(1,)), part("disc", Outline.circle(0, 0, 30), 3), steps=30)
    assert (layout.bound.new, layout.bound.at_least) == (2, 2)
    reason = "proven: no two of 3 parts (disc) fit one board, new or on hand, so 2 are needed and 2 are used"
    assert layout.bound.reason == reason


def test_a_near_layout_of_no_fewer_boards_or_fewer_than_proven_is_not_told() -> None:
    plain = _near_reason(None)
    assert [_near_reason(NearMiss(boards=n, missing=("deck",))) == plain for n in (0, 1, 2, 3)] == [
        True, False, False, True,
    ]  # fmt: skip
    assert "deck" not in _near_reason(NearMiss(boards=0, missing=("deck",)), new=1)


def test_largest_group_against_all_groups() -> None:
    for number in range(20):
        rng = Random(number)
        nodes = range(8)
        edges = {pair for pair in combinations(nodes, 2) if rng.random() < 0.6}
        near = {i: [j for j in nodes if (i, j) in edges or (j, i) in edges] for i in nodes}
        weights = {i: rng.randrange(1, 4) for i in nodes}
        due = max(
            sum(weights[i] for i in group)
            for size in range(len(nodes) + 1)
            for group in combinations(nodes, size)
            if all(pair in edges for pair in combinations(group, 2))
        )
        assert sum(weights[i] for i in largest_group(nodes, near, weights)) == due


def test_offcuts_without_room_are_left_out_and_found() -> None:
    sliver = Outline.of_points([(0, 0), (100, 0), (100, 5)])
    board = stock((100, 100), margin=3, offcuts=((sliver, 2), (rectangle(50, 6), 1), (rectangle(50, 7), 1)))
    assert [finding.where for finding in stock_findings(board)] == [
        "stock.board.offcuts[0]", "stock.board.offcuts[1]",
    ]  # fmt: skip
    assert [source.key for source in sources(board)] == ["stock.board.offcuts[2]", "stock.board.sheets[0]"]
