"""Folds that lay one panel back upon another, as at the nose of a wing: how far they turn, what is told."""

import math

import pytest
import shapely

from foamcut.errors import Refused
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Side
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.panels import Panel, fold_up
from foamcut.flat.part import Part
from tests.strategies import fold, panel, rectangle

T = 5.0


def nose(kind: str, turn: float, side: Side = Side.UP, **more):
    """A board of 200 x 60 folded at x = 80, and what is told of it before and after it is folded up."""
    one = fold(0, kind, (80.0, 61.0), (80.0, -1.0), turn, side=side, **more)
    parts, told = build_part(panel(rectangle(200, 60), folds=(one,)))
    return parts[0], [found.code for found in (*told, *fold_findings(parts[0]))]


def beyond(part: Part) -> Panel:
    (one,) = [p for p in fold_up(part).panels if p.outline.polygon.contains(shapely.Point(180.0, 30.0))]
    return one


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("turn", [90.0, 150.0, 179.0, 179.9])
def test_a_score_folds_back_until_its_papers_lie_on_each_other(side, turn):
    """Arithmetic: 100 mm from the fold the whole paper lies 100 sin(turn) off that of the other panel."""
    part, told = nose("score", turn, side)
    paper = 0.0 if side is Side.DOWN else -T
    x, _, z = beyond(part).pose.point(180.0, 20.0, paper)
    angle = math.radians(turn)
    assert x == pytest.approx(80.0 + 100.0 * math.cos(angle), abs=1e-9)
    assert abs(z - paper) == pytest.approx(100.0 * math.sin(angle), abs=1e-9)
    assert told == []


def test_a_score_does_not_fold_flat_upon_itself():
    """The folded shape would have no inside; the refusal says how far it goes."""
    with pytest.raises(Refused, match=r"folds\[0\].turn: a score .* above 0 and below 180 degrees"):
        nose("score", 180.0, Side.DOWN)


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("turn", [150.0, 165.0, 179.0, 180.0])
def test_a_roll_of_one_thickness_closes_and_is_told_to_be_tight(side, turn):
    """Arithmetic: at 180 degrees the outer papers are 2 R = 2 t apart; nothing passes through anything."""
    part, told = nose("roll", turn, side, radius_mm=T)
    assert told == ["roll-tight"]
    if turn == 180.0:
        paper = 0.0 if side is Side.DOWN else -T
        z = beyond(part).pose.point(180.0, 20.0, paper)[2]
        assert abs(z - paper) == pytest.approx(2 * T, abs=1e-9)


def test_a_roll_of_three_thicknesses_is_not_tight():
    """From memory (trade habit): below 3 t most boards crease."""
    assert nose("roll", 170.0, radius_mm=3 * T)[1] == []
