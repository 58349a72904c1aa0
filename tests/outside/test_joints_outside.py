"""Joints against what is known without the program: rectangles in rectangles, and how builders join sides."""

import math
from dataclasses import replace

import pytest

from foamcut.flat.build import build_part
from foamcut.flat.drawn import Doubling, Hand, KeepClear, Turns
from foamcut.flat.joint import Role, ways
from foamcut.flat.outline import Outline
from foamcut.flat.turning import roomiest_turn
from tests.nest.making import stock
from tests.strategies import KEY, panel, rectangle, slot

INCH = 25.4
BOARD = stock((20 * INCH, 30 * INCH))


def lies(p: float, q: float, a: float, b: float) -> bool:
    """Whether a p x q rectangle (p >= q) lies in an a x b one (a >= b) at some angle.

    *Arithmetic*: p <= a and q <= b, or p > a, q <= b and b >= (2 p q a + (p^2 - q^2) sqrt(p^2 + q^2 - a^2))
    / (p^2 + q^2) (W. Carver, "Solution to problem E 1225", American Mathematical Monthly 64, 1957, and
    J. Wetzel, "Rectangles in rectangles", Mathematics Magazine 73, 2000; from memory), numbers ours.
    """
    if p <= a:
        return q <= b
    if q > b:
        return False
    return b >= (2 * p * q * a + (p * p - q * q) * math.sqrt(p * p + q * q - a * a)) / (p * p + q * q)


@pytest.mark.parametrize(("width_in", "whole"), [(2, True), (3, False)])
def test_a_strip_on_a_board_at_an_angle(width_in: float, whole: bool) -> None:
    """34 x 2 in lies whole on 20 x 30 in, 34 x 3 in does not; *arithmetic*, see `lies`."""
    assert lies(34, width_in, 30, 20) == whole
    (part,) = build_part(panel(rectangle(34 * INCH, width_in * INCH)))[0]
    joined = ways(part, BOARD, most=1)[0]
    assert [f.code for f in joined.findings] == ["joined", *(["whole-at-an-angle"] if whole else [])]
    free = ways(replace(part, turns=Turns.ANY), BOARD, most=1)[0]
    assert ([piece.role for piece in free.pieces] == [Role.WHOLE]) == whole


def test_rectangles_in_rectangles_by_carvers_condition() -> None:
    """A turn is found whenever there is one with 0.2 mm to spare, and none where there is none."""
    found = []
    for p in range(31, 37):
        for q10 in range(5, 60, 5):
            q = q10 / 10
            turn = roomiest_turn(Outline.rectangle(0, 0, p * INCH, q * INCH), 30 * INCH, 20 * INCH)
            if turn is not None:
                assert lies(p, q, 30, 20)
            elif lies(p + 0.2 / INCH, q + 0.2 / INCH, 30, 20):
                pytest.fail(f"{p} x {q} in lies on the board, and no turn was found")
            found.append(turn is not None)
    assert 10 < sum(found) < len(found) - 10


#: sides of bodies as they are drawn: length, height, the wing from and to, formers, thickness; mm
SIDES = [
    (864.0, 84.0, (216.0, 468.0), (60.0, 228.0, 456.0, 732.0), 5.0),
    (1010.0, 110.0, (250.0, 520.0), (80.0, 240.0, 530.0, 800.0), 5.0),
    (1100.0, 140.0, (300.0, 500.0), (100.0, 290.0, 900.0), 6.0),
]


@pytest.mark.parametrize(("length", "height", "wing", "formers", "thickness"), SIDES)
def test_sides_are_joined_as_builders_do(length, height, wing, formers, thickness) -> None:
    """Overlap of 8 to 12 thicknesses each side, the two sides staggered, none under the wing.

    *Common practice, no source*.
    """
    board = replace(stock((700, 500), margin=3.0), thickness_mm=thickness)
    drawn = panel(
        rectangle(length, height),
        pair=Hand.RIGHT,
        thickness_mm=thickness,
        slots=tuple(slot(i, (x, height / 2), height / 3, 90, thickness=thickness) for i, x in enumerate(formers)),
        keep_clear=(KeepClear(key=f"{KEY}.keep_clear[0]", x_mm=wing),),
    )
    places = []
    for part in build_part(drawn)[0]:
        way = ways(part, board, most=1)[0]
        joints = [joint.x_mm for joint in way.joints]
        for piece in way.pieces:
            if piece.role is Role.DOUBLER:
                low, _, high, _ = piece.outline.bounds
                assert high <= wing[0] or low >= wing[1]
                assert max(high - x if low < x < high else 0 for x in joints) <= 12 * thickness
        places.append(joints)
    usual = Doubling.usual("", "board", thickness)
    assert 8 * thickness <= usual.overlap_mm <= 12 * thickness
    assert min(abs(a - b) for a in places[0] for b in places[1]) >= 2 * usual.overlap_mm
