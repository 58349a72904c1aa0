"""Corners that gape: walls that share a corner of the flat part and were turned too little to close it.

Square walls that stand `high` and lean out by an angle have rims high sin(angle) off the upright, each in
its own direction: 12.28 mm apart for 50 mm and 10 degrees (plane geometry).
"""

import math
import re

import pytest

from foamcut.findings import Finding
from foamcut.flat.drawn import Side
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.part import Part
from tests.flat.folded_hulls import RISE, hull
from tests.flat.folded_parts import built, tray
from tests.strategies import fold, readings

HIGH = 50.0
APART = "panels-apart"


def cross(
    turns: tuple[float, ...], kinds: tuple[str, ...] = ("groove",) * 4, sides: tuple[Side, ...] = (Side.UP,) * 4,
    *, relief: float = 0.0, slant: float = 0.0, bevel: float | None = 45.0,
) -> Part:  # fmt: skip
    """A floor of 100 x 80 and a wall along each side: front, right, back, left.

    `relief`: the right and left walls begin so much after the corner; `slant`: how much shorter every wall
    is at each end of its rim.
    """
    b = {} if bevel is None else {"bevel_deg": bevel}
    w, d, h, r, s = 100.0, 80.0, HIGH, relief, slant
    rows = [
        (0, 0, b), (s, -h), (w - s, -h, b), (w, 0), (w, r, b), (w + h, r + s), (w + h, d - r - s, b), (w, d - r),
        (w, d, b), (w - s, d + h), (s, d + h, b), (0, d), (0, d - r, b), (-h, d - r - s), (-h, r + s, b), (0, r),
    ]  # fmt: skip
    if not relief:
        rows = [row for i, row in enumerate(rows) if i not in (3, 7, 11, 15)]
    ends = [((w, 0), (0, 0)), ((w, d - r), (w, r)), ((0, d), (w, d)), ((0, r), (0, d - r))]
    folds = [
        fold(i, kind, *pair, turn, side=side)
        for i, (kind, pair, turn, side) in enumerate(zip(kinds, ends, turns, sides, strict=True))
    ]
    return built(readings(*rows), *folds)


def apart(part: Part) -> list[Finding]:
    return [found for found in fold_findings(part) if found.code == APART]


def millimetres(found: Finding) -> float:
    return float(found.value.removesuffix(" mm"))


def turns_named(found: Finding) -> dict[int, float]:
    return {int(i): float(turn) for turn, i in re.findall(r"`turn = ([\d.]+)` for folds\[(\d)\]", found.mend)}


@pytest.mark.parametrize("lean", [2.0, 5.0, 10.0, 20.0, 30.0])
def test_walls_that_lean_out_are_told_with_the_gap_at_their_rims(lean):
    """All four corners, however wide; the sections are square to one edge, so they may measure a little more."""
    found = apart(cross((90.0 - lean,) * 4))
    wide = math.sqrt(2) * HIGH * math.sin(math.radians(lean))
    assert len(found) == 4
    for one in found:
        assert 0.93 * wide <= millimetres(one) <= 1.07 * wide
        assert "gape: they are up to" in one.text
        # where the first of the two rims is reached, 50 mm from the corner on the flat part
        places = [
            float(n) for n in re.findall(r"-?[\d.]+", one.text.split("at ")[1].split(" mm of the flat")[0])
        ]
        assert min(abs(n - rim) for n in places for rim in _rims(places)) < 0.05 * HIGH


def _rims(places: list[float]) -> list[float]:
    """The rims that two of the four numbers lie at: x of a side wall, y of the front or back one."""
    x = 150.0 if max(places[0], places[2]) > 100 else -50.0
    y = 130.0 if max(places[1], places[3]) > 80 else -50.0
    return [x, y]


@pytest.mark.parametrize("turns", [(70.0, 90.0, 90.0, 90.0), (80.0, 85.0, 80.0, 70.0), (60.0,) * 4])
def test_the_turns_that_it_names_close_the_corners(turns):
    found = apart(cross(turns))
    better = dict(enumerate(turns))
    for one in found:
        better.update(turns_named(one))
    assert better == {i: 90.0 for i in range(4)}
    assert fold_findings(cross(tuple(better.values()))) == ()


def test_only_the_wall_that_leans_is_named():
    found = apart(cross((70.0, 90.0, 90.0, 90.0)))
    assert len(found) == 2
    assert [turns_named(one) for one in found] == [{0: 90.0}] * 2


@pytest.mark.parametrize("side", list(Side))
def test_a_bow_turned_too_little_is_given_its_rise(side):
    """The sides' bow edges rise by 35 degrees as they go forward (see the hull)."""
    for turn in (20.0, 29.0, 33.0):
        found = apart(hull(turn=turn, side=side))
        assert [turns_named(one) for one in found] == [{0: RISE}] * 2


@pytest.mark.parametrize("relief", [5.0, 9.0])
def test_a_relief_corner_is_one_corner(relief):
    """Walls that end a little before the corner are as much meant to meet as those that do not."""
    assert len(apart(cross((80.0,) * 4, relief=relief, bevel=None))) == 4


class TestNoFalseAlarm:
    def test_a_funnel(self):
        """Walls at 45 degrees with square ends are spread on purpose: no slip is as large."""
        assert apart(cross((45.0,) * 4)) == []

    def test_a_lip(self):
        """A tray with a front that is only raised a little, to pour over."""
        assert apart(cross((30.0, 90.0, 90.0, 90.0))) == []

    @pytest.mark.parametrize(("side", "count"), [(Side.UP, 1), (Side.DOWN, 0)])
    def test_one_wall_up_and_one_down(self, side, count):
        """The corner of the floor is notched, so that both faces can be cut."""
        n, w, d, h = 6.0, 100.0, 80.0, HIGH
        rows = [(0, 0), (0, -h), (w - n, -h), (w - n, 0), (w - n, n), (w, n), (w + h, n), (w + h, d), (0, d)]
        folds = [
            fold(0, "groove", (w - n, 0), (0, 0), 75.0),
            fold(1, "groove", (w, d), (w, n), 75.0, side=side),
        ]
        assert len(apart(built(readings(*rows), *folds))) == count

    @pytest.mark.parametrize("kind", ["score", "hinge"])
    def test_folds_that_leave_corners_open_by_themselves(self, kind):
        assert apart(cross((-70.0 if kind == "hinge" else 70.0,) * 4, (kind,) * 4, bevel=None)) == []

    def test_walls_with_ends_that_run_in(self):
        """Open corners that were drawn so: by no turn below 120 degrees would they close."""
        assert apart(cross((90.0,) * 4, slant=30.0, bevel=None)) == []

    def test_walls_far_from_each_other(self):
        assert apart(cross((80.0,) * 4, relief=15.2, bevel=None)) == []


def test_a_pyramid_closes_at_the_turn_that_the_cones_give():
    """Walls whose ends run in by s over h meet leaning in: turn = 90 + asin(s / h) for a square corner."""
    slant = 10.0
    turn = 90 + math.degrees(math.asin(slant / HIGH))
    found = apart(cross((turn - 12.0,) * 4, slant=slant, bevel=50.0))
    assert len(found) == 4
    for one in found:
        assert set(turns_named(one).values()) == {round(turn, 1)}


def test_the_mirror_image_is_told_the_same():
    up = [millimetres(one) for one in apart(tray(turn=80.0, bevel=45))]
    down = [millimetres(one) for one in apart(tray(turn=80.0, bevel=45, side=Side.DOWN))]
    assert up == pytest.approx(down) and len(up) == 4
