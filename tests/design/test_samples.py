"""Samples: they are in order, and what is glued together has sizes that go together."""

import itertools
import math
import subprocess
import sys
from pathlib import Path

import pytest

from foamcut.design.design import Design, read_design
from foamcut.design.json_schema import SCHEMA_FILE, schema_text
from foamcut.flat.build import build_part
from foamcut.flat.drawn import Face
from foamcut.flat.part import Part
from foamcut.plan.building import built

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = sorted((ROOT / "sample_designs").glob("*.toml"))


def load(name: str) -> tuple[Design, dict[str, Part]]:
    """A design drawn by hand and its parts by name."""
    folder = ROOT / ("sample_designs" if name == "jar-tray" else "tests/design")
    design = read_design((folder / f"{name}.toml").read_bytes(), f"{name}.toml")
    return design, {part.name: part for drawn in design.parts for part in build_part(drawn)[0]}


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_is_in_order(path: Path):
    """Every part can be built and, where it has a place, fits on the model; nothing is more than a note."""
    design = read_design(path.read_bytes(), path.name)
    model = built(design)
    assert not [finding for finding in model.findings if finding.level.value != "note"]
    assert not [f for f in model.findings if f.code.startswith("fit-") or f.code == "tab-without-slot"]
    assert design.plan.name == path.stem


def test_the_schema_beside_the_samples_is_that_of_the_program():
    """Editors that open a sample see today's keys; the file is written by ``foamcut schema``."""
    assert (ROOT / "sample_designs" / SCHEMA_FILE).read_text(encoding="utf-8") == schema_text()


def test_every_key_is_used_by_some_design():
    """The command that lists keys without an example finds none."""
    tool = ROOT / "tests" / "contract" / "list_unused_keys.py"
    run = subprocess.run([sys.executable, tool], capture_output=True, text=True, cwd=ROOT, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
    one = ROOT / "sample_designs" / "jar-tray.toml"
    run = subprocess.run([sys.executable, tool, one], capture_output=True, text=True, cwd=ROOT, check=False)
    assert run.returncode == 1
    assert "unused: parts.*.place\n" in run.stdout
    assert "unused: parts.*.outline smooth\n" in run.stdout
    assert "unused: stock.*.sheets[].size\n" not in run.stdout


def test_the_trainer_goes_together():
    """What stands between the sides is as wide as the fuselage less two boards; slots face their tabs."""
    design, parts = load("glasswort-1-drawn")
    rows = {row.key: row.mm for row in design.sizes_table}
    t, width = rows["sizes.t"], rows["sizes.width"]
    for name in ("floor-front", "floor-rear", "deck", "hatch", "windscreen", "tail-seat"):
        assert parts[name].width_mm == pytest.approx(width - 2 * t), name
    for name in ("firewall", "former-1", "former-2"):
        # with its tabs it reaches through both sides
        assert parts[name].length_mm == pytest.approx(width), name
    assert parts["former-3"].length_mm == pytest.approx(width - 2 * t)
    side = parts["side-right"]
    for name in ("firewall", "former-1", "former-2"):
        part = parts[name]
        assert part.place is not None
        for tab in part.tabs:
            up = part.place.at[2] + tab.at[1]
            assert any(
                math.isclose(up, slot.at[1], abs_tol=0.01) and slot.takes == part.stock for slot in side.slots
            )
    for hand in ("left", "right"):
        wing = parts[f"wing-{hand}"]
        assert wing.width_mm == pytest.approx(rows["sizes.half_span"], abs=0.5)
        assert wing.width_mm < 29 * 25.4
    # the elevator is as wide as the stabiliser that it hangs on
    assert parts["elevator"].width_mm == pytest.approx(parts["stabiliser"].width_mm, abs=0.5)
    # the joiner is as high as the two layers that it stands in, and shorter than their slots
    joiner, slot = parts["joiner"], parts["wing-right"].slots[0]
    assert slot.at[1] + slot.length_mm / 2 > joiner.length_mm / 2


def test_the_trainer_stands_as_an_aeroplane():
    """Places are such that the hands mirror each other, faces look as named, and the tail is behind the wing."""
    _, parts = load("glasswort-1-drawn")
    right, left = parts["side-right"].place, parts["side-left"].place
    assert right is not None and left is not None
    assert right.at[1] == pytest.approx(-left.at[1]) and right.at[1] > 0

    def out_of_face(name: str) -> tuple[float, float, float]:
        place = parts[name].place
        assert place is not None
        (a, b, c), (d, e, f) = place.x, place.y
        return b * f - c * e, c * d - a * f, a * e - b * d

    assert out_of_face("side-right")[1] == pytest.approx(-1)  # its inner face looks to the left
    assert out_of_face("side-left")[1] == pytest.approx(1)
    assert parts["floor-front"].face is Face.INNER and out_of_face("floor-front")[2] == pytest.approx(1)
    assert parts["deck"].face is Face.INNER and out_of_face("deck")[2] < -0.9
    assert out_of_face("wing-right")[2] > 0.9 and out_of_face("wing-left")[2] > 0.9
    wing, tail = parts["wing-right"].place, parts["stabiliser"].place
    assert wing is not None and tail is not None
    assert tail.at[0] > wing.at[0] + parts["wing-right"].length_mm


def test_the_tray_goes_together():
    """Dividers are as long as the inside, cross where they have slots, and cells are as wide as asked."""
    design, parts = load("jar-tray")
    rows = {row.key: row.mm for row in design.sizes_table}
    t, cell = rows["sizes.t"], rows["sizes.cell"]
    across, along = parts["divider-across"], parts["divider-along"]
    assert across.length_mm == pytest.approx(3 * cell + 2 * t + 2 * t)
    assert along.length_mm == pytest.approx(4 * cell + 3 * t + 2 * t)
    for part, cells in ((across, 3), (along, 4)):
        middles = [slot.at[0] for slot in part.slots]
        walls = [-t / 2, *middles, cells * cell + (cells - 1) * t + t / 2]
        gaps = [b - a - t for a, b in itertools.pairwise(walls)]
        assert gaps == pytest.approx([cell] * cells)
    # the two halves of a crossing are deep enough for the boards to meet
    assert len(across.slots) * across.count == len(along.slots) * along.count
    depth = [rows["sizes.divider"] / 2 + design.plan.fit_mm / 2] * 2
    assert sum(depth) >= rows["sizes.divider"]
