"""The verifier finds every way in which a good layout can be damaged."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from foamcut.flat.drawn import Face, Grain, Turns
from foamcut.flat.outline import Outline
from foamcut.flat.placement import Placement
from foamcut.nest.search import lay
from foamcut.nest.values import Kind, Layout, Pace, Placed, Sheet
from foamcut.nest.verify import faults
from tests.nest.making import part, rectangle, stock, want

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
