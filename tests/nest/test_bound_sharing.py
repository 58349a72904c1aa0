"""Pieces that were cut from so many boards are never proven to need more; what is proven is proven rightly."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from random import Random
from typing import Any

import pytest
from shapely import LineString, Polygon

from foamcut.flat.drawn import Face, Grain, Turns
from foamcut.flat.joint import Piece
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Offcut, Stock
from foamcut.nest.apart import Kin
from foamcut.nest.bound import Least, bound
from foamcut.nest.chords import Chords
from foamcut.nest.exact import Lying, across, lyings
from foamcut.nest.floor import Loose, floor
from foamcut.nest.rooms import NM_PER_MM, UNITS, sources, unit_rings
from tests.nest.making import dissection, laid, part, rectangle, stock

_MM = UNITS * NM_PER_MM


def _floor(board: Stock, parts: list[Part], loose: tuple[Loose, ...] = ()) -> Least:
    rooms = sources(board)
    kinds = [Kin(Piece.whole(one), one.count, (True,) * len(rooms)) for one in parts]
    return floor(kinds, board, rooms, loose)


def _shaped(rng: Random, width: float, height: float) -> Outline:
    """Something that lies inside a rectangle from (0, 0): whole, cut, tapered, hollow, notched."""
    kind = rng.randrange(6)
    a, b = rng.uniform(0.1, 0.4) * width, rng.uniform(0.1, 0.4) * height
    if kind == 1:
        return Outline.of_points([(0, b), (width, 0), (width, height), (0, height - b)])
    if kind == 2:
        return Outline.of_points([(0, 0), (width, 0), (a, height)])
    if kind == 3:
        (frame,) = rectangle(width, height).minus(Outline.rectangle(a, b, width - a, height - b))
        return frame
    if kind == 4:
        (notched,) = rectangle(width, height).minus(Outline.rectangle(a, b, width - a, height))
        return notched
    return rectangle(width, height)


def _cut(rng: Random, board: Stock, boards: int, turns: Turns, face: Face, grain: Grain) -> list[Part]:
    """Parts that lie on so many boards of the first size: its room dissected, half the gap left round each."""
    size, gap = board.sheets[0], board.gap_mm
    width, height = (v - 2 * board.margin_mm + gap for v in (size.width_mm, size.height_mm))
    parts = []
    for number in range(boards):
        for i, (w, h) in enumerate(dissection(rng, int(width), int(height), rng.randrange(2, 8))):
            if min(w, h) <= gap + 0.5:
                continue
            outline = _shaped(rng, w - gap, h - gap)
            # drawn turned: it lies on the board in a turn that is allowed
            angles = {Turns.NONE: [0], Turns.HALF: [0, 180]}.get(turns, [0, 90, 180, 270])
            if grain is not Grain.ANY:
                angles = [angle for angle in angles if angle % 180 == 0]
            flipped = face is Face.EITHER and rng.random() < 0.5
            drawn = outline.placed(Placement(turn_deg=float(rng.choice(angles)), flipped=flipped))
            one = part(f"p{number}-{i}", drawn, face=face, turns=turns, grain=grain)
            parts.append(one)
    return parts


@pytest.mark.parametrize("turns", list(Turns))
@pytest.mark.parametrize("seed", range(12))
def test_pieces_cut_from_boards_are_never_proven_to_need_more(seed: int, turns: Turns) -> None:
    """Arithmetic: the boards that were dissected hold the pieces, with gap, margin, grain and face."""
    rng = Random(seed)
    boards = rng.randrange(1, 4)
    grain = rng.choice([Grain.ANY, Grain.X])
    board = stock(
        (rng.choice([100, 97, 140]), rng.choice([60, 100])), gap=rng.choice([0.0, 1.0, 2.0]),
        margin=rng.choice([0.0, 3.0]), grain=grain,
    )  # fmt: skip
    parts = _cut(rng, board, boards, turns, rng.choice([Face.INNER, Face.EITHER]), grain)
    assert _floor(board, parts).boards <= boards
    two = replace(board, sheets=(*board.sheets, *stock((60, 50)).sheets))
    assert _floor(two, parts).boards <= boards
    held = replace(board, sheets=(replace(board.sheets[0], on_hand=1),))
    assert _floor(held, parts).boards <= boards - 1
    whole = rectangle(board.sheets[0].width_mm, board.sheets[0].height_mm)
    shelf = replace(board, offcuts=(Offcut(key="stock.board.offcuts[0]", outline=whole, count=1),))
    assert _floor(shelf, parts).boards <= boards - 1
    priced = replace(
        two,
        sheets=tuple(replace(s, price=p) for s, p in zip(two.sheets, (Decimal(3), Decimal(1)), strict=True)),
    )
    assert _floor(priced, parts).cost <= 3 * boards
    loose = tuple(Loose(Fraction(one.outline.area), 1) for one in parts[::2])
    assert _floor(board, parts[1::2], loose).boards <= boards


def test_patches_from_the_holes_and_notches_of_long_frames() -> None:
    """Arithmetic: a patch as large as the hole lies in it, and a bar in the mouth of a long bracket."""
    (frame,) = rectangle(100, 60).minus(Outline.rectangle(10, 10, 90, 50))
    (bracket,) = rectangle(100, 60).minus(Outline.rectangle(20, 20, 100, 60))
    parts = [
        part("frame", frame),
        part("patch", rectangle(80, 40)),
        part("bracket", bracket),
        part("bar", rectangle(80, 40)),
    ]
    assert _floor(stock((100, 60)), parts).boards == 2


def test_long_strips_beside_a_wide_panel() -> None:
    """Arithmetic: 62 mm of panel and three strips of 15 are 107 mm of the 100 that a board is high; two go."""
    parts = [part("panel", rectangle(80, 62), 2), part("strip", rectangle(101, 15), 5)]
    layout = laid(stock((120, 100)), *parts, steps=40)
    assert (layout.bound.at_least, layout.bound.new) == (3, 3)
    assert layout.bound.reason == (
        "proven: 7 parts (panel, strip) are too long to lie end to end and too wide to lie side by side on 2 boards, "
        "so 3 are needed and 3 are used"
    )
    fewer = [parts[0], part("strip", rectangle(101, 15), 4)]
    assert laid(stock((120, 100)), *fewer, steps=40).bound.new == 2


def test_pieces_that_are_only_too_many_together() -> None:
    """Arithmetic: of bars 60 by 30 three lie on 100 by 100, two wide and no more than one by another: 90 mm
    of 100, so that seven need three boards; their area is that of 1.26."""
    bars = part("bar", rectangle(60, 30), 7, turns=Turns.HALF)
    found = _floor(stock((100, 100)), [bars])
    assert (found.boards, found.by_lines, found.crowded) == (3, True, ("bar",) * 7)
    assert laid(stock((100, 100)), bars, steps=20).bound.new == 3
    # a quarter turn lets a fourth in
    assert _floor(stock((100, 100)), [part("bar", rectangle(60, 30), 8)]).boards == 2


def test_pieces_that_crowd_by_pairs_and_lines_together() -> None:
    """Arithmetic: a panel of 60 square and a plank of 98 by 37 fill 97 of 100 mm; a second panel shares no
    board, and a slat of 60 by 5 goes only beside the panel upright, where the plank leaves it 62 mm."""
    parts = [
        part("panel", rectangle(60, 60), 2),
        part("plank", rectangle(98, 37), 2),
        part("slat", rectangle(64, 5)),
    ]
    assert _floor(stock((100, 100)), parts).boards == 3
    assert laid(stock((100, 100)), *parts, steps=40).bound.reason == (
        "proven: 5 parts (panel, plank, slat) do not fit 2 boards, however they are shared out, so 3 are needed "
        "and 3 are used"
    )
    short = [*parts[:2], part("slat", rectangle(62, 5))]
    assert _floor(stock((100, 100)), short).boards == 2


def test_a_short_slat_that_two_planks_leave_no_line_for() -> None:
    """Arithmetic: planks of 98 lie above one another on 100 mm wherever they are, and a slat 5 wide stands
    over or under both: 37 + 20 + 45 mm are more than 100, 37 + 20 + 43 are not, and every pair fits."""
    planks = [
        part("plank", rectangle(98, 37), turns=Turns.HALF),
        part("lath", rectangle(98, 20), turns=Turns.HALF),
    ]
    high = [*planks, part("slat", rectangle(5, 45), turns=Turns.HALF)]
    found = _floor(stock((100, 100)), high)
    assert (found.boards, found.crowded, found.by_lines) == (2, ("plank", "lath", "slat"), False)
    low = [*planks, part("slat", rectangle(5, 43), turns=Turns.HALF)]
    assert _floor(stock((100, 100)), low).boards == 1
    assert laid(stock((100, 100)), *low, steps=20).bound.new == 1


def test_the_shelf_is_told_where_pieces_crowd() -> None:
    parts = [part("panel", rectangle(80, 62), 2), part("strip", rectangle(101, 15), 5)]
    board = stock((120, 100), on_hand=(1,))
    found = _floor(board, parts)
    assert found.boards == 2 and found.by_lines
    assert bound(board, found, 2, Fraction(0)).reason == (
        "proven: 7 parts (panel, strip) are too long to lie end to end and too wide to lie side by side on what is on "
        "hand and 1 board, so 2 are needed and 2 are used"
    )


@pytest.mark.parametrize("seed", range(40))
def test_the_least_chord_is_on_no_line_undercut(seed: int) -> None:
    """Reference library: shapely measures what each line through the middle of a board cuts from the piece."""
    rng = Random(seed)
    outline = _shaped(rng, rng.uniform(60, 100), rng.uniform(20, 60))
    width = rng.uniform(100, 130)
    for lying in lyings(Piece.whole(part("p", outline)), stock((width, width))):
        due = across(lying, round(width * _MM), round(width * _MM) // 2)
        turned = [[(x / _MM, y / _MM) for x, y in path] for path in lying.rings]
        moved = Outline.of_points(turned[0]).polygon
        if len(turned) > 1:
            (with_hole,) = Outline.of_points(turned[0]).minus(Outline.of_points(turned[1]))
            moved = with_hole.polygon
        free = width - lying.width / _MM
        chords = [_chord(moved, width / 2 - free * t / 50) for t in range(51)]
        assert due / _MM <= min(chords) + 1e-4


def _chord(polygon: Polygon, x: float) -> float:
    return float(LineString([(x, -1e3), (x, 1e3)]).intersection(polygon).length)


def test_the_chord_of_a_taper_is_that_of_its_narrowest_place_on_the_line() -> None:
    """Arithmetic: 100 long on a board of 120, the line is 40 to 60 from either end: 60 - 0.6 * 20 = 48 high."""
    taper = Lying(
        unit_rings(Outline.of_points([(0, 0), (100, 0), (100, 40), (0, 60)]).polygon),
        100 * _MM,
        60 * _MM,
        False,
    )
    assert across(taper, 120 * _MM, 60 * _MM) == 48 * _MM
    assert across(taper, 200 * _MM, 100 * _MM) == 0


def test_thousands_of_pieces_are_not_shared_out() -> None:
    """A count far beyond what the calls of one another may be deep."""
    board = stock((700, 500))
    many = [part(f"p{i}", rectangle(8 + i, 6), 1000) for i in range(5)]
    assert laid(board, *many, steps=1).bound.at_least >= 1


def test_an_offcut_counts_for_no_more_than_its_size() -> None:
    """Arithmetic: eleven level bars of 90 x 10 do not lie over each other on a board of 100 x 100, and an offcut
    of 60 x 100 takes none of them, though the area would do."""
    bars = [part("bar", rectangle(90, 10), 11, turns=Turns.NONE)]
    with_offcut = stock((100, 100), offcuts=((rectangle(60, 100), 1),))
    found = _floor(with_offcut, bars)
    assert (found.boards, found.crowded) == (2, ("bar",) * 11)
    larger = stock((100, 100), offcuts=((rectangle(90, 10), 1),))
    assert _floor(larger, bars).boards == 1


def test_what_lies_in_a_hole_is_not_called_apart_because_of_hulls_or_areas() -> None:
    """Arithmetic: a frame that fills the board holds a patch in its window, and needs no second board for it."""
    (frame,) = rectangle(100, 60).minus(Outline.rectangle(20, 20, 80, 40))
    parts = [part("frame", frame), part("patch", rectangle(60, 20))]
    assert _floor(stock((100, 60)), parts).boards == 1
    assert _floor(stock((100, 60)), [parts[0], part("patch", rectangle(60.01, 20.01))]).boards == 2


def test_hundreds_of_alike_pieces_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a line is used up by is asked once of a kind, not once of each two of its pieces."""
    asked = 0
    chord = Chords._across

    def counting(self: Chords, *about: Any) -> int:
        nonlocal asked
        asked += 1
        return chord(self, *about)

    monkeypatch.setattr(Chords, "_across", counting)
    board = stock((2000, 1500), gap=2.0, margin=3.0)
    hands = [part(name, rectangle(40, 30), count=300) for name in ("left", "right")]
    assert _floor(board, hands).boards == 1
    assert asked < 20_000
