"""Left and right joints lie a doubler apart whenever rows of fewest lines allow it."""

import pytest

from foamcut.flat.build import build_part
from foamcut.flat.drawn import DrawnPart, Hand, Rectangle
from foamcut.flat.joint import ways
from foamcut.flat.stock import SheetSize, Stock

ROOM_MM = 694.0
DOUBLER_MM = 100.0
BOARD = Stock(
    key="stock.board", name="board", material="board", thickness_mm=5.0, margin_mm=3.0, gap_mm=2.0,
    sheets=(SheetSize(key="stock.board.sheets[0]", width_mm=700.0, height_mm=500.0),),
)  # fmt: skip


def places(length_mm: float) -> list[list[float]]:
    """The places of the joints of the right-hand and of the left-hand strip."""
    drawn = DrawnPart(
        key="parts.p", name="p", stock="board", thickness_mm=5.0, pair=Hand.RIGHT,
        shape=Rectangle(key="parts.p.rectangle", width_mm=length_mm, height_mm=100.0),
    )  # fmt: skip
    hands, _ = build_part(drawn)
    return [[joint.x_mm or 0.0 for joint in ways(hand, BOARD, most=1)[0].joints] for hand in hands]


@pytest.mark.parametrize("length", [1200, 1282, 1285, 1288])
def test_one_joint_each(length):
    """A line may lie from length - 694 to 694; with 100 mm or more between, both hands find a place."""
    (right,), (left,) = places(length)
    assert ROOM_MM - (length - ROOM_MM) >= DOUBLER_MM
    assert abs(right - left) >= DOUBLER_MM - 1e-6


@pytest.mark.parametrize("length", [1900, 1950, 1975, 1982])
def test_two_joints_each(length):
    """Windows of two lines are 2082 - length wide; both lines of one hand keep off both of the other."""
    right, left = places(length)
    assert len(right) == len(left) == 2
    assert 3 * ROOM_MM - length >= DOUBLER_MM
    assert min(abs(a - b) for a in right for b in left) >= DOUBLER_MM - 1e-6
