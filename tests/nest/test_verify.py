"""The verifier finds every way in which a good layout can be damaged."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from foamcut.flat.drawn import Face, Grain, Turns
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement
from foamcut.nest.leftover import with_left
from foamcut.nest.search import lay
from foamcut.nest.together import lay_all
from foamcut.nest.values import Bed, Kind, Layout, Pace, Placed, Sheet, Wanted
from foamcut.nest.verify import faults
from tests.nest.making import part, rectangle, stock, want
from tests.plan.joined import in_two, strip

WEDGE = Outline.of_points([(0, 0), (60, 0), (60, 20), (0, 35)])
BOARD = stock(
    (200, 120), margin=3, gap=2, grain=Grain.X, on_hand=(1,), offcuts=((rectangle(80, 60), 1),)
)
WANTED = want(
    BOARD,
    part("wedge", WEDGE, 9, grain=Grain.X, turns=Turns.HALF),
    part("tile", rectangle(50, 50), 6, turns=Turns.NONE),
)
GOOD = lay(WANTED, BOARD, seed=1, pace=Pace(steps=5))


def _with_sheet(index: int, sheet: Sheet) -> Layout:
    sheets = list(GOOD.sheets)
    sheets[index] = sheet
    return replace(GOOD, sheets=tuple(sheets))


def _with_placed(change: Callable[[Placed], Placed], name: str = "tile-1") -> Layout:
    for index, sheet in enumerate(GOOD.sheets):
        if any(one.id == name for one in sheet.placed):
            placed = tuple(change(one) if one.id == name else one for one in sheet.placed)
            return _with_sheet(index, replace(sheet, placed=placed))
    raise ValueError(name)


def _at(one: Placed, **changes: object) -> Placed:
    placement = replace(one.placement, **changes)  # type: ignore[arg-type]
    return replace(one, placement=placement, outline=one.piece.outline.placed(placement))


def _moved(dx: float, dy: float) -> Callable[[Placed], Placed]:
    return lambda one: _at(one, x_mm=one.placement.x_mm + dx, y_mm=one.placement.y_mm + dy)


def _renumbered(numbers: list[int]) -> Layout:
    sheets = tuple(replace(s, number=n) for s, n in zip(GOOD.sheets, numbers, strict=True))
    return replace(GOOD, sheets=sheets)


def test_the_layout_is_good_before_it_is_damaged() -> None:
    assert faults([GOOD], WANTED) == ()
    assert {sheet.kind for sheet in GOOD.sheets} == set(Kind)


def test_a_hair_less_than_the_tolerance_is_no_fault() -> None:
    """Every neighbour in every direction: 0.0005 mm is within the tolerance, 0.01 mm into one is not."""
    for sheet in GOOD.sheets:
        for one in sheet.placed:
            for dx, dy in ((0.0005, 0), (-0.0005, 0), (0, 0.0005), (0, -0.0005)):
                assert faults([_with_placed(_moved(dx, dy), one.id)], WANTED) == ()


def test_each_piece_moved_a_hundredth_of_a_millimetre_into_what_it_touches() -> None:
    """Bottom-left placing leaves each piece against something on its left and below it."""
    for sheet in GOOD.sheets:
        for one in sheet.placed:
            found = faults([_with_placed(_moved(-0.01, -0.01), one.id)], WANTED)
            assert any("the margin is" in fault or "the gap is" in fault for fault in found), one.id


DAMAGED: dict[str, tuple[Callable[[], Layout], str]] = {
    "outline does not follow the placement": (
        lambda: _with_placed(lambda o: replace(o, placement=replace(o.placement, x_mm=o.placement.x_mm + 0.001))),
        "its polygon is not its piece",
    ),
    "outline of another shape": (
        lambda: _with_placed(lambda o: replace(o, outline=Outline.rectangle(*o.outline.bounds[:2], 54, 53))),
        "its polygon is not its piece",
    ),
    "turned by a quarter": (lambda: _with_placed(lambda o: _at(o, turn_deg=90.0)), "its turns are none"),
    "turned by a little": (lambda: _with_placed(lambda o: _at(o, turn_deg=0.5), "wedge-1"), "its turns are half"),
    "grain crosses": (lambda: _with_placed(lambda o: _at(o, turn_deg=90.0), "wedge-2"), "its grain x"),
    "turned over": (lambda: _with_placed(lambda o: _at(o, flipped=True)), "it is turned over"),
    "on top of another": (
        lambda: _with_placed(
            lambda o: _at(o, x_mm=_placed("tile-2").placement.x_mm, y_mm=_placed("tile-2").placement.y_mm)
        ),
        "",
    ),
    "off the sheet": (lambda: _with_placed(_moved(5000, 0)), "it leaves the sheet"),
    "copy twice": (lambda: _with_placed(lambda o: replace(o, copy=2)), "is not placed once"),
    "id twice": (lambda: _with_placed(lambda o: replace(o, id="tile-2")), "the id tile-2 is there 2 times"),
    "piece lost": (
        lambda: _with_sheet(0, replace(GOOD.sheets[0], placed=GOOD.sheets[0].placed[1:])), "is not placed once"
    ),
    "numbers out of order": (
        lambda: _renumbered([len(GOOD.sheets) - i for i in range(len(GOOD.sheets))]), "are numbered"
    ),
    "new before on hand": (
        lambda: replace(
            GOOD, sheets=tuple(replace(s, number=i) for i, s in enumerate(reversed(GOOD.sheets), 1))
        ),
        "are not in the order",
    ),
    "shelf used twice": (
        lambda: replace(GOOD, sheets=tuple(
            replace(s, kind=Kind.ON_HAND if s.kind is Kind.NEW else s.kind) for s in GOOD.sheets
        )),
        "is taken from the shelf",
    ),
    "offcut used too often": (
        lambda: replace(GOOD, sheets=tuple(
            replace(
                s, kind=Kind.OFFCUT, source="stock.board.offcuts[0]", outline=rectangle(80, 60),
                width_mm=80, height_mm=60,
            ) for s in GOOD.sheets
        )),
        "there are 1",
    ),
    "unknown source": (lambda: _with_sheet(0, replace(GOOD.sheets[0], source="stock.board.sheets[7]")), "does not have"),
    "sheet of another size": (
        lambda: _with_sheet(-1, replace(GOOD.sheets[-1], outline=rectangle(200, 121))), "is not of the size"
    ),
    "empty sheet": (lambda: _with_sheet(-1, replace(GOOD.sheets[-1], placed=())), "carries nothing"),
    "sheet of another stock": (lambda: _with_sheet(0, replace(GOOD.sheets[0], stock="ply")), "says that it is of"),
    "bound counts wrongly": (
        lambda: replace(GOOD, bound=replace(GOOD.bound, new=GOOD.bound.new + 1)), "the bound counts"
    ),
}  # fmt: skip


def _placed(name: str) -> Placed:
    return next(one for sheet in GOOD.sheets for one in sheet.placed if one.id == name)


@pytest.mark.parametrize("damage", DAMAGED)
def test_damage_is_found(damage: str) -> None:
    make, words = DAMAGED[damage]
    found = faults([make()], WANTED)
    assert any(words in fault for fault in found), found


def test_overlaps_of_every_kind_are_found() -> None:
    """One inside the other, crossing like a plus, the same place, and deeper than the tolerance at gap 0."""
    board = stock((100, 100))
    plain = want(board, part("a", rectangle(60, 10), turns=Turns.NONE), part("b", rectangle(8, 8)))
    good = lay(plain, board, seed=1, pace=Pace(steps=1))
    assert faults([good], plain) == ()
    a, b = (next(p for p in good.sheets[0].placed if p.id == name) for name in ("a-1", "b-1"))
    x, y, _, _ = a.outline.bounds
    for dx, dy in ((1, 1), (-4, 1), (59.998, 0), (0, 9.998)):
        moved = _at(b, turn_deg=0.0, x_mm=x + max(dx, 0), y_mm=y + dy)
        layout = replace(good, sheets=(replace(good.sheets[0], placed=(a, moved)),))
        assert faults([layout], plain) == ("sheet board 1: a-1 and b-1 overlap or touch",)
    touching = _at(b, turn_deg=0.0, x_mm=x + 60, y_mm=y)
    assert faults([replace(good, sheets=(replace(good.sheets[0], placed=(a, touching)),))], plain) == ()


def test_either_face_may_be_turned_over() -> None:
    board = stock((100, 60))
    wanted = want(board, part("a", rectangle(60, 40), face=Face.EITHER))
    good = lay(wanted, board, seed=1, pace=Pace(steps=1))
    one = good.sheets[0].placed[0]
    placement = Placement(x_mm=0.0, y_mm=40.0, flipped=True)
    flipped = replace(one, placement=placement, outline=one.piece.outline.placed(placement))
    assert faults([replace(good, sheets=(replace(good.sheets[0], placed=(flipped,)),))], wanted) == ()


def test_a_void_keeps_its_margin() -> None:
    (voided,) = rectangle(100, 100).minus(Outline.rectangle(40, 40, 60, 60))
    board = stock(margin=2, offcuts=((voided, 1),))
    wanted = want(board, part("a", rectangle(30, 30)))
    good = lay(wanted, board, seed=1, pace=Pace(steps=1))
    assert faults([good], wanted) == ()
    over = _at(good.sheets[0].placed[0], x_mm=35.0, y_mm=35.0, turn_deg=0.0)
    near = _at(good.sheets[0].placed[0], x_mm=8.1, y_mm=35.0, turn_deg=0.0)
    for one, words in ((over, "it leaves the sheet"), (near, "from an edge or void")):
        found = faults([replace(good, sheets=(replace(good.sheets[0], placed=(one,)),))], wanted)
        assert len(found) == 1 and words in found[0]


# ---- whole parts, what is left, sums --------------------------------------------------------------

SPAR = strip("spar", count=2)
PLY = replace(stock((300, 200), gap=1), key="stock.ply", name="ply")
LONG = stock((1000, 200), (800, 200), margin=3, gap=2, prices=("7", "5.50"))
SPARS = [Wanted(part=SPAR, ways=(in_two(SPAR, doubler_stock="ply"), in_two(SPAR, 400.0, doubler_stock="ply")))]
SPLIT = lay_all(SPARS, [LONG, PLY], seed=1, pace=Pace(steps=5)).layouts


def _of_way(copy: int, way: int) -> tuple[Layout, ...]:
    """Copy `copy` of the spar as that way has it, wherever its pieces come to lie."""

    def changed(one: Placed) -> Placed:
        if one.copy != copy:
            return one
        (piece,) = (p for p in SPARS[0].ways[way].pieces if p.suffix == one.piece.suffix)
        return replace(one, piece=piece, outline=piece.outline.placed(one.placement))

    return tuple(
        replace(
            layout,
            sheets=tuple(replace(s, placed=tuple(changed(one) for one in s.placed)) for s in layout.sheets),
        )
        for layout in SPLIT
    )


def test_a_part_may_lie_on_two_stocks() -> None:
    """Both layouts together hold its copies; one of them alone does not."""
    assert faults(SPLIT, SPARS) == ()
    assert {layout.stock.name for layout in SPLIT} == {"board", "ply"}
    for layout in SPLIT:
        assert any("spar copy 1 is not placed once" in fault for fault in faults([layout], SPARS))


def test_all_copies_are_cut_the_same_way() -> None:
    taken = next(w for w in (0, 1) if not any("not all" in f for f in faults(_of_way(1, w), SPARS)))
    words = "the copies of spar are not all cut the same way"
    assert words in faults(_of_way(1, 1 - taken), SPARS)
    assert words not in faults(_of_way(1, taken), SPARS)


def test_a_copy_too_many() -> None:
    (one,) = SPARS
    fewer = [replace(one, part=replace(SPAR, count=1))]
    assert "spar copy 2 is placed and not wanted" in faults(SPLIT, fewer)


def _money(words: str | None) -> Decimal | None:
    return None if words is None else Decimal(words)


def test_costs_are_the_sum_of_prices() -> None:
    """Arithmetic: two boards at 5.50 are 11."""
    wanted = want(LONG, part("tile", rectangle(700, 190), 2))
    good = lay(wanted, LONG, seed=1, pace=Pace(steps=5))
    assert faults([good], wanted) == () and good.bound.cost == Decimal("11.00")
    for cost, least in (("10.99", "5"), ("11", "11.01"), (None, None), ("11", None)):
        bound = replace(good.bound, cost=_money(cost), cost_at_least=_money(least))
        assert len(faults([replace(good, bound=bound)], wanted)) == (2 if cost is None else 1), (cost, least)
    unpriced = replace(GOOD, bound=replace(GOOD.bound, cost=Decimal(3)))
    assert any("a size without a price" in fault for fault in faults([unpriced], WANTED))


KEEPING = stock((400, 300), margin=5, gap=2, on_hand=(1,))
KEPT = want(KEEPING, part("tile", rectangle(200, 100), 8))
KEEPER = with_left(lay(KEPT, KEEPING, seed=1, pace=Pace(steps=5)))


def test_what_is_left_is_looked_at() -> None:
    """It grows 2 mm on each side in turn: towards a piece, and towards an edge of the board."""
    assert faults([KEEPER], KEPT) == ()
    *others, last = KEEPER.sheets
    assert last.left is not None
    kept = last.left
    (x, y), w, h = kept.corner, kept.width_mm, kept.height_mm

    def found(**changes: object) -> tuple[str, ...]:
        left = replace(kept, **changes)  # type: ignore[arg-type]
        return faults([replace(KEEPER, sheets=(*others, replace(last, left=left)))], KEPT)

    grown = [
        *found(corner=(x - 2, y), width_mm=w + 2), *found(corner=(x, y - 2), height_mm=h + 2),
        *found(width_mm=w + 2), *found(height_mm=h + 2),
    ]  # fmt: skip
    assert any("leaves the sheet" in fault for fault in grown)
    assert any("mm off tile-" in fault for fault in grown)
    assert any("it keeps -3 x" in fault for fault in found(width_mm=-3))
    hole = replace(last, register=((x + 40.0, y + 40.0), (x + 120.0, y + 40.0)))
    assert any("off register hole 1" in f for f in faults([replace(KEEPER, sheets=(*others, hole))], KEPT))
    bed = Bed(number=1, corner=(x + 20, y + 20), width_mm=30, height_mm=20, pieces=())
    bedded = replace(last, beds=(bed,))
    assert any(
        "off bed rectangle 1" in f
        for f in faults([replace(KEEPER, sheets=(*others, bedded))], KEPT, bed_mm=(30, 20))
    )


def test_only_one_new_board_keeps_something() -> None:
    *others, last = KEEPER.sheets
    on_hand = next(i for i, s in enumerate(KEEPER.sheets) if s.kind is Kind.ON_HAND)
    shelf = tuple(replace(s, left=last.left) if i == on_hand else s for i, s in enumerate(KEEPER.sheets))
    assert any("is not new but on_hand" in fault for fault in faults([replace(KEEPER, sheets=shelf)], KEPT))
    full = replace(KEEPER, sheets=(*others[:-1], replace(others[-1], left=last.left), replace(last, left=None)))
    assert others[-1].kind is Kind.NEW
    assert any("another has less on it" in fault for fault in faults([full], KEPT))
    both = replace(KEEPER, sheets=(*others[:-1], replace(others[-1], left=last.left), last))
    assert any("2 boards keep something" in fault for fault in faults([both], KEPT))
