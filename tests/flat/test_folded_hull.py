"""The check of folded parts on an airboat's hull: edges that meet at one end and part towards the other.

A floor 330 x 160 mm, sides and stern 50 high at right angles, and a bow plate that rises by 35 degrees; the
sides' bow edges rise as steeply when they go forward by 50 / tan(35 degrees) = 71.41 mm.  All mitred.
"""

import math

import pytest

from foamcut.flat.drawn import Side
from foamcut.flat.folded_check import fold_findings
from foamcut.flat.part import Part
from tests.flat.folded_hulls import PLATE, RAKE, RISE, hull
from tests.flat.folded_parts import built, tray
from tests.strategies import fold, readings


def told(part: Part) -> list[tuple[str, float]]:
    return [(f.code, float(f.value.removesuffix(" mm"))) for f in fold_findings(part)]


@pytest.mark.parametrize("side", list(Side))
class TestHull:
    def test_a_right_one_is_nothing(self, side):
        assert told(hull(side=side)) == []

    @pytest.mark.parametrize("turn", [29.0, 33.0])
    def test_a_bow_turned_too_little_parts_towards_its_end(self, side, turn):
        """Both bow edges begin at one point; at the plate's end they are sin(difference) of it apart."""
        found = told(hull(turn=turn, side=side))
        assert [code for code, _ in found] == ["panels-apart"] * 2
        wide = PLATE * math.sin(math.radians(RISE - turn))
        assert all(0.6 * wide < mm <= wide for _, mm in found)  # square to the mitre it is less

    def test_a_bow_turned_too_far_goes_into_the_sides(self, side):
        assert [code for code, _ in told(hull(turn=40.0, side=side))] == ["panels-clash"] * 2

    def test_sides_that_do_not_go_forward_enough(self, side):
        """Ten millimetres at the rim are 10 sin(35 degrees) square to the bow, less square to the mitre."""
        found = told(hull(rake=RAKE - 10.0, side=side))
        assert [code for code, _ in found] == ["panels-apart"] * 2
        assert all(2.0 < mm < 10.0 * math.sin(math.radians(RISE)) for _, mm in found)


@pytest.mark.parametrize("turn", [25.0, 45.0, 55.0])
def test_walls_that_spread_on_purpose_are_left_alone(turn):
    """Square flaps of a flower pot part by far more than a slip."""
    assert [code for code, _ in told(tray(turn=turn, bevel=45)) if code == "panels-apart"] == []


@pytest.mark.parametrize("turn", [0.0, 3.0, 6.0, 20.0])
def test_a_surface_turned_a_little_in_its_bay_is_left_alone(turn):
    """An aileron between two fixed ends, 2 mm of air at either, turned on its hinge."""
    bay = readings(
        (0, 0), (200, 0), (200, 80), (150, 80), (150, 50), (148, 50), (148, 80), (52, 80), (52, 50), (50, 50),
        (50, 80), (0, 80),
    )  # fmt: skip
    assert told(built(bay, fold(0, "hinge", (52, 51), (148, 51), turn, bevel_deg=40.0))) == []


@pytest.mark.parametrize("other", [0.0, 6.0, -20.0])
def test_two_surfaces_beside_each_other_are_left_alone(other):
    """Two elevators on one hinge line, 2 mm apart, one of them turned."""
    tail = readings((0, 0), (100, 0), (100, 60), (51, 60), (51, 30), (49, 30), (49, 60), (0, 60))
    folds = [fold(0, "hinge", (0, 31), (49, 31), 0.0, bevel_deg=40.0)]
    folds += [fold(1, "hinge", (51, 31), (100, 31), other, bevel_deg=40.0)]
    assert told(built(tail, *folds)) == []
