"""A letter stands wherever a doubler lies."""

from foamcut.flat.build import build_part
from foamcut.flat.drawn import DrawnPart, Rectangle
from foamcut.flat.joint import Role, ways
from foamcut.flat.joint_mark import JointMark
from foamcut.flat.stock import SheetSize, Stock

BOARD = Stock(
    key="stock.board", name="board", material="board", thickness_mm=3.0, margin_mm=3.0, gap_mm=2.0,
    sheets=(SheetSize(key="stock.board.sheets[0]", width_mm=500.0, height_mm=350.0),),
)  # fmt: skip


def test_a_doubler_on_several_sections_has_its_letter_on_each():
    """Cut both ways: the doubler that runs over the crossing lies on sections on either side of it."""
    (part,), _ = build_part(
        DrawnPart(
            key="parts.deck", name="deck", stock="board", thickness_mm=3.0,
            shape=Rectangle(key="parts.deck.rectangle", width_mm=760.0, height_mm=563.0),
        )
    )  # fmt: skip
    pieces = ways(part, BOARD, most=1)[0].pieces
    doublers = [piece for piece in pieces if piece.role is Role.DOUBLER]
    sections = [piece for piece in pieces if piece.role is Role.SECTION]
    assert len(sections) == 4 and len(doublers) >= 4
    for section in sections:
        lettered = {m.letter for m in section.flat.marks if isinstance(m, JointMark) and m.letter_places}
        lying = {
            mark.letter
            for doubler in doublers
            if doubler.outline.polygon.intersection(section.outline.polygon).area > 1
            for mark in doubler.flat.marks
            if isinstance(mark, JointMark)
        }
        assert lying <= lettered
