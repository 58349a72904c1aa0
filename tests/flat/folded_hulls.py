"""The hull of an airboat that a builder folds up, drawn flat, right and with slips; 5 mm board."""

import math

from foamcut.flat.drawn import Side
from foamcut.flat.part import Part
from tests.flat.folded_parts import built
from tests.strategies import fold, readings

HIGH, HALF, STERN, BOW = 50.0, 80.0, 230.0, -100.0
RISE = 35.0
RAKE, PLATE = HIGH / math.tan(math.radians(RISE)), HIGH / math.sin(math.radians(RISE))


def hull(*, turn: float = RISE, rake: float = RAKE, side: Side = Side.UP) -> Part:
    """The hull with its bow turned by another angle, or with sides that go forward by another length."""
    b = {"bevel_deg" if side is Side.UP else "bevel_back_deg": 45.0}
    rows = [
        (BOW - PLATE, -HALF, b), (BOW, -HALF, b), (BOW - rake, -HALF - HIGH), (STERN, -HALF - HIGH, b),
        (STERN, -HALF, b), (STERN + HIGH, -HALF), (STERN + HIGH, HALF, b), (STERN, HALF, b),
        (STERN, HALF + HIGH), (BOW - rake, HALF + HIGH, b), (BOW, HALF, b), (BOW - PLATE, HALF),
    ]  # fmt: skip
    ends = [((BOW, -HALF), (BOW, HALF)), ((STERN, HALF), (STERN, -HALF))]
    ends += [((STERN, -HALF), (BOW, -HALF)), ((BOW, HALF), (STERN, HALF))]
    turns = [turn, 90.0, 90.0, 90.0]
    folds = [
        fold(i, "groove", *pair, angle, side=side)
        for i, (pair, angle) in enumerate(zip(ends, turns, strict=True))
    ]
    return built(readings(*rows), *folds)
