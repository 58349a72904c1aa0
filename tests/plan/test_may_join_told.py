"""A design in which cutting a part that would lie whole saves a board, through to what is said of it.

The numbers are those of `tests/plan/test_may_join.py`, by arithmetic: three boards with every part whole, two with
one of them cut.
"""

from pathlib import Path

from foamcut.plan.chain import cut
from foamcut.plan.values import Options

DESIGN = Path(__file__).parents[1] / "design" / "may-join.toml"


def test_a_design_says_what_is_saved():
    """From the file to the words of the screen and the findings."""
    pack = cut(DESIGN.read_bytes(), DESIGN.name, Options())
    assert sum(len(layout.sheets) for layout in pack.layouts) == 2
    assert list(pack.joints) == ["middle"]
    assert "middle: cut in 2 although it lies whole: saves 1 board of board" in pack.summary
    notes = [finding for finding in pack.findings if finding.code == "joint-saves"]
    assert [(note.where, note.value) for note in notes] == [("parts.middle", "1 board of board")]
