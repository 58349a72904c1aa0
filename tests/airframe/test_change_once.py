"""One number changed changes all that hangs on it: every length of every sample that a board is cut by, 3 % up or down.

All fit checks of the model hold then, or the design is refused with the reason.  A test run takes few of
them, one up, the next down; with FOAMCUT_EVERY=1, as in `.ci/run`, every length goes both ways.
"""

import pytest

from foamcut.design.design import read_design
from foamcut.findings import Level
from foamcut.plan.building import built
from tests.airframe.changing import ROOT, Told, changed, sizes_of, told
from tests.thorough import EVERY

SAMPLES = [
    path
    for path in sorted((ROOT / "sample_designs").glob("*.toml"))
    if read_design(path.read_bytes(), path.name).airframe
]
UP, DOWN = 1.03, 0.97
#: one try in so many; odd, so that ups and downs take turns
ONE_IN = 1 if EVERY else 7
#: lengths that no board is cut by: they are told, or count in the balance
NOT_CUT = ("pitch", "lead", "proud")
#: tables of what is carried and weighed, of which no board is cut
CARRIED = ("aboard[", "site.", "balance.")


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_fits_with_every_length_changed(path):
    data = path.read_bytes()
    rows = [row for row in sizes_of(read_design(data, path.name)) if not row.key.startswith(CARRIED)]
    assert len(rows) > 40
    before = told(data, path.name)
    assert not misfits(before)
    refused = 0
    tries = [(row, factor) for row in rows for factor in (UP, DOWN)]
    for row, factor in tries[::ONE_IN]:
        after = told(changed(data, row, factor), path.name)
        assert not misfits(after), (row.key, misfits(after))
        assert all(len(text) > 30 for text in after.refusals)
        refused += bool(after.refusals)
        if not row.key.endswith(NOT_CUT) and row.key != "cutting.kerf":
            same = (after.parts, after.findings) == (before.parts, before.findings)
            assert not same, f"{row.key} changes nothing"
    # a sample whose numbers leave no room to move would hide what is stale
    assert refused < len(tries) / ONE_IN / 5


def test_a_design_written_out_again_is_the_same():
    """The way in which numbers are changed changes nothing else."""
    path = SAMPLES[0]
    data = path.read_bytes()
    design = read_design(data, path.name)
    row = next(iter(sizes_of(design)))
    same = read_design(changed(data, row, 1.0), path.name)
    assert same.airframe == design.airframe
    assert built(same).findings == built(design).findings


def misfits(found: Told) -> list[str]:
    """What does not fit, and what is warned of."""
    return [
        f"{one.code}: {one.text}"
        for one in found.findings
        if one.code.startswith("fit-") or one.level is not Level.NOTE
    ]
