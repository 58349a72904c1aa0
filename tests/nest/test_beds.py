"""Pieces on rectangles no larger than a machine's bed, and the rectangles on the sheets."""

from collections.abc import Callable
from dataclasses import replace
from random import Random

import pytest

from foamcut.flat.drawn import Turns
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest.beds import by_hand
from foamcut.nest.search import lay
from foamcut.nest.values import Bed, Layout, Pace, Sheet
from foamcut.nest.verify import faults
from tests.nest.making import nasty_outline, part, rectangle, stock, want

BED = (400.0, 300.0)


def on_bed(board: Stock, *parts: Part, bed: tuple[float, float] = BED, steps: int = 60) -> Layout:
    """A layout in which the verifier finds nothing."""
    wanted = want(board, *parts)
    layout = lay(wanted, board, seed=1, pace=Pace(steps=steps), bed_mm=bed)
    assert faults([layout], wanted, bed_mm=bed) == ()
    return layout


def hand(layout: Layout, bed: tuple[float, float] = BED) -> set[str]:
    return {one.id for one in by_hand(layout.sheets, bed)}


def test_four_equal_rectangles_fill_a_board():
    """Arithmetic: (694 - 2) / 2 x (494 - 2) / 2 = 346 x 246 mm, with a gap between them."""
    layout = on_bed(stock((700, 500), margin=3, gap=2), part("panel", rectangle(346, 246), 4))
    assert [len(sheet.beds) for sheet in layout.sheets] == [4]
    assert {(bed.width_mm, bed.height_mm) for bed in layout.sheets[0].beds} == {(346, 246)}
    assert layout.bound.proven and hand(layout) == set()


def test_a_rectangle_is_a_gap_larger_all_round_where_there_is_room():
    layout = on_bed(stock((700, 500), margin=3, gap=2), part("rib", rectangle(100, 60), turns=Turns.NONE))
    (bed,) = layout.sheets[0].beds
    assert (bed.width_mm, bed.height_mm, bed.pieces) == (104, 64, ("rib-1",))
    assert bed.corner == (3, 3) and layout.sheets[0].placed[0].outline.bounds == (5, 5, 105, 65)


def test_pieces_larger_than_the_bed_lie_on_the_sheet_and_are_cut_by_hand():
    layout = on_bed(stock((700, 500), margin=3, gap=2), part("long", rectangle(450, 40)), part("rib", rectangle(90, 60), 4))
    assert hand(layout) == {"long-1"}
    assert {piece for bed in layout.sheets[0].beds for piece in bed.pieces} == {f"rib-{i}" for i in range(1, 5)}


def test_small_rectangles_lie_beside_what_is_cut_by_hand():
    """Arithmetic: 400 x 340 and 6 of 80 x 50 mm fit a board of 500 x 350 as 400 + 2 + 84 mm wide."""
    board = stock((500, 350), margin=3, gap=2)
    layout = on_bed(board, part("hull", rectangle(400, 340)), part("rib", rectangle(80, 50), 6), bed=(300, 200))
    assert layout.bound.new == 1 and hand(layout, (300, 200)) == {"hull-1"}


@pytest.mark.parametrize(("turns", "by_machine"), [(Turns.QUARTER, True), (Turns.HALF, False)])
def test_a_piece_fits_the_bed_in_the_turns_that_it_may_take(turns, by_machine):
    """280 x 380 mm lies on 400 x 300 mm by a quarter turn alone."""
    layout = on_bed(stock((700, 500), margin=3, gap=2), part("panel", rectangle(280, 380), turns=turns))
    assert (hand(layout) == set()) is by_machine
    assert bool(layout.sheets[0].beds) is by_machine


def test_a_sheet_that_lies_wholly_on_the_bed_needs_no_rectangles():
    for size in ((400, 300), (300, 400)):
        layout = on_bed(stock(size, margin=3, gap=2), part("panel", rectangle(200, 100), 3))
        assert all(not sheet.beds for sheet in layout.sheets) and hand(layout) == set()


def test_offcuts_on_the_bed_are_used_first_and_without_rectangles():
    triangle = Outline.of_points([(0, 0), (300, 0), (120, 200)])
    board = stock((700, 500), margin=3, gap=2, offcuts=((triangle, 1), (rectangle(320, 180), 1)))
    layout = on_bed(board, part("rib", rectangle(100, 80), 12))
    assert [(sheet.kind.value, bool(sheet.beds)) for sheet in layout.sheets] == [
        ("offcut", False), ("offcut", False), ("new", True),
    ]  # fmt: skip
    assert [sheet.number for sheet in layout.sheets] == [1, 2, 3] and hand(layout) == set()


def test_a_bed_on_which_no_piece_fits_leaves_all_to_the_hand():
    layout = on_bed(stock((700, 500), margin=3, gap=2), part("panel", rectangle(200, 100), 2), bed=(90, 90))
    assert hand(layout, (90, 90)) == {"panel-1", "panel-2"}
    assert not layout.sheets[0].beds


def test_the_tool_stays_over_the_rectangle():
    """Half the kerf runs outside a piece: a piece as large as the bed does not fit it with a kerf."""
    for kerf, fits in ((0.0, True), (0.2, False)):
        panel = replace(part("panel", rectangle(400, 300)), kerf_mm=kerf)
        assert (hand(on_bed(stock((700, 500), margin=3, gap=2), panel)) == set()) is fits
    panel = replace(part("panel", rectangle(399.8, 299.8), turns=Turns.NONE), kerf_mm=0.2)
    layout = on_bed(stock((700, 500), margin=3, gap=2), panel)
    assert (layout.sheets[0].beds[0].width_mm, layout.sheets[0].beds[0].height_mm) == (400, 300)


def test_the_bound_is_that_without_a_bed_and_says_so():
    """Arithmetic: two right triangles of 340 x 240 make 344 x 240 mm with a gap, and eight lie on a board of
    700 x 500; a bed of 341 x 241 holds one triangle, and a board four such rectangles.
    """
    board = stock((700, 500), margin=3, gap=2)
    wedges = part("wedge", Outline.of_points([(0, 0), (340, 0), (0, 240)]), 8, turns=Turns.HALF)
    free = lay(want(board, wedges), board, seed=1, pace=Pace(steps=60))
    layout = on_bed(board, wedges, bed=(341, 241))
    assert (free.bound.new, layout.bound.at_least, layout.bound.new) == (1, 1, 2)
    assert not layout.bound.proven
    assert layout.bound.reason.endswith("1 might do; that does not count what the rectangles for the bed take")


def test_all_of_one_kind_of_bed_find_room_whatever_the_outlines():
    """Nasty outlines, several sizes, gaps and beds: the verifier, which shares no code, passes them all."""
    for seed in range(12):
        rng = Random(seed)
        parts = [part(f"p{i}", nasty_outline(rng), rng.randrange(1, 4)) for i in range(6)]
        parts.append(part("long", rectangle(380, 20), turns=Turns.ANY))
        board = stock((500, 350), (300, 200), margin=rng.choice((0, 3)), gap=rng.choice((0, 2, 5)), on_hand=(1, 0))
        bed = (rng.uniform(150, 420), rng.uniform(100, 320))
        layout = on_bed(board, *parts, bed=bed, steps=12)
        again = lay(want(board, *parts), board, seed=1, pace=Pace(steps=12), bed_mm=bed)
        assert again == layout


GOOD_BOARD = stock((700, 500), margin=3, gap=2)
GOOD_WANTED = want(GOOD_BOARD, part("rib", rectangle(180, 130), 7), part("long", rectangle(450, 40)))
GOOD = lay(GOOD_WANTED, GOOD_BOARD, seed=1, pace=Pace(steps=40), bed_mm=BED)


def _with_bed(change: Callable[[Bed], Bed], at: int = 0) -> Sheet:
    beds = list(GOOD.sheets[0].beds)
    beds[at] = change(beds[at])
    return replace(GOOD.sheets[0], beds=tuple(beds))


DAMAGED: dict[str, tuple[Callable[[], Sheet], str]] = {
    "wider than the bed": (lambda: _with_bed(lambda b: replace(b, width_mm=400.01)), "is larger than the bed"),
    "over the margin": (lambda: _with_bed(lambda b: replace(b, corner=(2.9, b.corner[1]))), "the margin is 3"),
    "two on each other": (lambda: _with_bed(lambda b: replace(b, corner=GOOD.sheets[0].beds[1].corner)), "overlap or touch"),
    "a piece sticks out": (lambda: _with_bed(lambda b: replace(b, height_mm=b.height_mm - 3)), "is not wholly on its"),
    "a piece of nobody": (lambda: _with_bed(lambda b: replace(b, pieces=b.pieces[1:])), "overlap or touch"),
    "a piece of another sheet": (lambda: _with_bed(lambda b: replace(b, pieces=(*b.pieces, "x-1"))), "is not there"),
    "a piece twice": (
        lambda: _with_bed(lambda b: replace(b, pieces=(*b.pieces, GOOD.sheets[0].beds[1].pieces[0]))), "is on bed rectangle"
    ),
    "a number twice": (lambda: _with_bed(lambda b: replace(b, number=2)), "are numbered"),
    "a hole in a piece": (
        lambda: replace(GOOD.sheets[0], register=((4.5, 4.5), (690.0, 490.0))), "register hole 1 and"
    ),
    "a hole over the edge": (lambda: replace(GOOD.sheets[0], register=((699.0, 499.0), (600.0, 490.0))), "leaves the sheet"),
    "one hole": (lambda: replace(GOOD.sheets[0], register=((690.0, 490.0),)), "has 1 register holes"),
}  # fmt: skip


@pytest.mark.parametrize("damage", DAMAGED)
def test_the_verifier_finds_what_is_wrong_with_beds_and_register(damage):
    assert faults([GOOD], GOOD_WANTED, bed_mm=BED) == ()
    assert len(GOOD.sheets) == 1 and len(GOOD.sheets[0].beds) > 1
    make, words = DAMAGED[damage]
    found = faults([replace(GOOD, sheets=(make(),))], GOOD_WANTED, bed_mm=BED)
    assert any(words in fault for fault in found), found


def test_beds_without_a_bed_are_a_fault():
    assert any("is larger than the bed" in fault for fault in faults([GOOD], GOOD_WANTED))
