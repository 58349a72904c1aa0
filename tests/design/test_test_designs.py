"""The designs beside these tests are in order: a pack of each is read back by the contract checker."""

from pathlib import Path

import pytest

from foamcut.design.design import read_design
from tests.fuzz.attempts import attempt

#: what is drawn by hand to be held against what is made from numbers holds no key that the rest lack
DESIGNS = [path for path in sorted(Path(__file__).parent.glob("*.toml")) if "drawn" not in path.stem]
#: these pack checks take long, and the samples made from numbers are checked as well
LONG = ("airframe",)


@pytest.mark.parametrize("path", [p for p in DESIGNS if p.stem not in LONG], ids=lambda path: path.stem)
def test_a_test_design_is_cut_and_keeps_the_contract(path: Path, tmp_path: Path):
    """Nothing is refused, nothing is lost, and another reader finds in the pack what is due."""
    answer = attempt(path.read_bytes(), tmp_path / "place", contract=True)
    assert not answer.refused
    assert not answer.faults


def test_each_kind_of_fold_is_in_some_test_design():
    """So are bevels of both faces, both ways of placing joints, and doublers of another stock."""
    parts = [part for path in DESIGNS for part in read_design(path.read_bytes(), path.name).parts]
    folds = [fold for part in parts for fold in part.folds]
    assert {fold.kind.value for fold in folds} == {"score", "groove", "wrap", "roll", "hinge", "strip"}
    assert {fold.side.value for fold in folds} == {"up", "down"}
    joined = [part for part in parts if part.joint_lines]
    assert {line.hand.value for part in joined for line in part.joint_lines} == {"left", "right", "none"}
    assert any(part.doubling and part.doubling.stock != part.stock for part in joined)
    assert not all(part.may_be_joined for part in parts)
