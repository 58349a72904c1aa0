"""Every reason why parts cannot be laid out, all of them at once, with the key of the part."""

import math

import pytest
from shapely import Polygon

from foamcut.errors import Refused
from foamcut.findings import Level
from foamcut.flat.drawn import Grain, Turns
from foamcut.flat.joint import Piece, Role, Way
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest.rooms import stock_findings
from foamcut.nest.search import lay, takes_whole
from foamcut.nest.values import Pace, Wanted
from foamcut.nest.verify import faults
from tests.nest.making import part, rectangle, stock, want
from tests.plan.joined import in_two, strip


def refusals(board: Stock, *parts: Part) -> dict[str, str]:
    with pytest.raises(Refused) as caught:
        lay(want(board, *parts), board, seed=1, pace=Pace(steps=2))
    return {refusal.key: refusal.text for refusal in caught.value.refusals}


BOARD = stock((700, 500), (300, 200), margin=3, gap=2)


def test_too_long_a_part() -> None:
    found = refusals(BOARD, part("spar", rectangle(864, 66)), part("rib", rectangle(100, 50)))
    assert found == {
        "parts.spar": "864 x 66 mm fits no sheet of stock board: the largest leaves 694 x 494 mm inside its margin; "
        "make it shorter or add a larger size"
    }


def test_a_free_turn_would_fit() -> None:
    (text,) = refusals(BOARD, part("spar", rectangle(800, 10))).values()
    assert text.endswith(
        "degrees it would fit: give it turns = \"any\"; otherwise make it shorter or add a larger size"
    )
    angle = float(text.split("turned by ")[1].split(" ")[0])
    assert 30 < angle < 40
    board = stock((700, 500), margin=3)
    assert lay(want(board, part("spar", rectangle(800, 10), turns=Turns.ANY)), board, seed=1, pace=Pace(steps=1)).bound.new == 1


def test_a_quarter_turn_would_fit() -> None:
    (text,) = refusals(BOARD, part("post", rectangle(100, 600), turns=Turns.HALF)).values()
    assert "turned by 90 degrees it would fit" in text
    board = stock((700, 500), margin=3, grain=Grain.X)
    (text,) = refusals(board, part("post", rectangle(100, 600), grain=Grain.X)).values()
    assert "it would fit: its grain does not allow that, so change the grain; otherwise make it shorter" in text


def test_grain_and_turns_contradict() -> None:
    board = stock((700, 500), grain=Grain.X)
    found = refusals(
        board,
        part("a", rectangle(10, 10), grain=Grain.Y, turns=Turns.HALF),
        part("b", rectangle(10, 10), grain=Grain.Y),
        part("c", rectangle(900, 10)),
    )
    assert list(found) == ["parts.a.grain", "parts.c"]
    assert found["parts.a.grain"] == (
        'parts.a.grain = "y" and stock.board.grain = "x" ask for a quarter turn, which parts.a.turns = "half" '
        "does not allow; change one of the grains, or the turns"
    )


def test_margin_without_room() -> None:
    found = refusals(stock((700, 500), (300, 200), margin=120), part("a", rectangle(10, 10)))
    assert found == {
        "stock.board.sheets[1]": "a margin of 120 mm leaves no room on a sheet of 300 x 200 mm; "
        "make the margin of stock board smaller, or the size larger"
    }


def test_nothing_to_lay_parts_on() -> None:
    assert "add a size" in refusals(stock(), part("a", rectangle(10, 10)))["stock.board"]


def test_the_shelf_runs_out() -> None:
    board = stock(offcuts=((rectangle(100, 100), 1),))
    found = refusals(board, part("a", rectangle(60, 60), 3), part("b", rectangle(20, 20)))
    assert found == {
        "parts.a": "what is on hand of stock board does not hold 2 of 3, and there is no size that can be bought; "
        "add one to its sheets"
    }


def test_the_shelf_runs_out_of_room_for_sections() -> None:
    """Pieces are counted, not copies, where a copy is several pieces."""
    board = stock(offcuts=((rectangle(500, 80), 2),))
    with pytest.raises(Refused) as caught:
        lay([Wanted(part=(one := strip(count=2)), ways=(in_two(one),))], board, seed=1, pace=Pace(steps=5))
    (refusal,) = caught.value.refusals
    assert "does not hold" in refusal.text and "of its 6 pieces, and" in refusal.text


def test_only_offcuts_without_room() -> None:
    board = stock(margin=5, offcuts=((rectangle(100, 8), 1),))
    assert "has room inside its margin" in refusals(board, part("a", rectangle(5, 5)))["parts.a"]


def test_too_many_sheets() -> None:
    found = refusals(stock((100, 100)), part("a", rectangle(90, 90), 201))
    assert found == {
        "stock.board": "the parts take at least 201 sheets of stock board, and at most 200 are laid out at once; "
        "use a larger size, or cut fewer copies at a time"
    }
    assert lay(want(board := stock((100, 100)), part("a", rectangle(90, 90), 200)), board, seed=1, pace=Pace(steps=1)).bound.new == 200


def test_too_many_sheets_that_area_does_not_tell() -> None:
    """Five tiles cover 0.83 of a board and only four fit it: 820 need 205 boards, 171 by area."""
    found = refusals(stock((100, 70)), part("tile", rectangle(34, 34), 820))
    assert "the parts take more than 200 sheets of stock board" in found["stock.board"]


def test_triangle_that_leaves_its_offcut_only_by_the_slope_is_refused() -> None:
    offcut = Outline.of_points([(0, 0), (100, 0), (0, 100)])
    (text,) = refusals(stock(offcuts=((offcut, 1),)), part("a", rectangle(51, 50))).values()
    assert "51 x 50 mm fits no sheet" in text
    board = stock(offcuts=((offcut, 1),))
    assert lay(want(board, part("a", rectangle(50, 50))), board, seed=1, pace=Pace(steps=1)).bound.new == 0


CROSSED = Outline.of_points([(0, 0), (45, 45), (90, 90), (90, 0), (0, 80)])
VOID_OUTSIDE = Outline(Polygon([(0, 0), (90, 0), (90, 80), (0, 80)], [[(100, 10), (110, 10), (110, 20)]]))
VOIDS_OVERLAP = Outline(
    Polygon(
        [(0, 0), (90, 0), (90, 80), (0, 80)], [[(10, 10), (40, 10), (40, 40)], [(20, 5), (60, 5), (30, 30)]]
    )
)
FLAT = Outline.of_points([(0, 0), (90, 45), (60, 30)])


@pytest.mark.parametrize("outline", [CROSSED, VOID_OUTSIDE, VOIDS_OVERLAP, FLAT])
def test_an_offcut_with_a_faulty_outline_is_left_alone(outline: Outline) -> None:
    """It is a finding where there is something else, and refused where there is not."""
    board = stock((200, 100), offcuts=((outline, 3), (rectangle(50, 50), 1)))
    wanted = want(board, part("a", rectangle(40, 40), 3))
    layout = lay(wanted, board, seed=1, pace=Pace(steps=2))
    assert [sheet.source for sheet in layout.sheets] == ["stock.board.offcuts[1]", "stock.board.sheets[0]"]
    (finding,) = stock_findings(board)
    assert (finding.code, finding.level, finding.where) == (
        "offcut-outline", Level.WARNING, "stock.board.offcuts[0]"
    )  # fmt: skip
    assert outline.fault() in finding.text and finding.mend
    found = refusals(stock(offcuts=((outline, 1),)), part("a", rectangle(5, 5)))
    assert outline.fault() in found["stock.board.offcuts[0]"]


def test_piece_of_many_corners_fits_an_offcut_of_its_own_outline() -> None:
    """Search lays out simpler outlines; they must not be the reason for a refusal."""
    disc, star = Outline.circle(60, 60, 60), _burr(24)
    for outline in (disc, star):
        board = stock(offcuts=((outline, 1),))
        wanted = want(board, part("a", outline))
        layout = lay(wanted, board, seed=1, pace=Pace(steps=1))
        assert layout.bound.new == 0 and faults([layout], wanted) == ()
    larger = Outline.circle(60, 60, 60.001)
    assert "fits no sheet" in refusals(stock(offcuts=((disc, 1),)), part("a", larger))["parts.a"]


def _burr(points: int) -> Outline:
    """A star of many points, whose box starts at (0, 0)."""
    angles = [i * math.pi / points for i in range(2 * points)]
    radii = [60 if i % 2 == 0 else 52 for i in range(2 * points)]
    corners = [(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, angles, strict=True)]
    left, low = min(x for x, _ in corners), min(y for _, y in corners)
    return Outline.of_points([(x - left, y - low) for x, y in corners])


def test_a_part_that_lies_whole_in_a_slanting_offcut_alone_is_taken_whole() -> None:
    """The diagonal band holds a strip that is drawn at its angle and longer than every board."""
    band = Outline.of_points([(0, 0), (30, 0), (400, 370), (400, 400), (370, 400), (0, 30)])
    board = stock((300, 200), margin=3, offcuts=((band, 1), (rectangle(310, 40), 1)))
    takes = takes_whole(board)
    assert takes(part("upright", rectangle(300, 30)))
    assert not takes(part("long", rectangle(450, 20)))
    assert not takes(part("longer", rectangle(560, 20), turns=Turns.ANY))
    sloping = Outline.of_points([(25, 5), (395, 375), (375, 395), (5, 25)])
    assert takes(part("sloping", sloping)) and not takes_whole(stock((300, 200), margin=3))(part("sloping", sloping))


def test_a_doubler_larger_than_the_sheets_of_its_stock() -> None:
    """The refusal stands at the part, and says which piece it is about."""
    ply = stock((60, 40), margin=3)
    whole = part("side", rectangle(900, 60))
    flat = part("side-doubler-a", rectangle(100, 50))
    doubler = Piece(part=whole, role=Role.DOUBLER, flat=flat, suffix="doubler-a")
    with pytest.raises(Refused) as caught:
        lay([Wanted(part=whole, ways=(Way(pieces=(doubler,)),))], ply, seed=1, pace=Pace(steps=1))
    (refusal,) = caught.value.refusals
    assert refusal.key == "parts.side"
    assert refusal.text.startswith("its doubler-a of 100 x 50 mm fits no sheet of stock board")
