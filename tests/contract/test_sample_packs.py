"""Packs of the samples keep the outside contract, and the checks find every damage done to one."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from check_pack import check_pack
from pack_breakages import run_breakages

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = sorted((ROOT / "sample_designs").glob("*.toml"))


def _cut(design: Path, out: Path, *options: str) -> Path:
    """Run the program as a builder does, and give back the pack's folder."""
    done = subprocess.run(
        [sys.executable, "-m", "foamcut", "cut", str(design), "--out", str(out), *options],
        cwd=ROOT,
        capture_output=True,
        text=True,
        env=os.environ | {"NO_COLOR": "1"},
    )
    assert done.returncode == 0, done.stderr
    return out


def test_there_are_samples() -> None:
    assert SAMPLES


@pytest.mark.parametrize(
    "options", [("--paper", "all"), ("--templates", "sheet", "--dxf", "r12")], ids=" ".join
)
@pytest.mark.parametrize("design", SAMPLES, ids=lambda path: path.stem)
def test_a_samples_pack_has_no_fault(design: Path, options: tuple[str, ...], tmp_path: Path) -> None:
    report = check_pack(_cut(design, tmp_path / "pack", *options))
    assert [str(fault) for fault in report.faults] == []
    assert report.checks > 1000


@pytest.mark.parametrize("design", SAMPLES, ids=lambda path: path.stem)
def test_with_every_part_nothing_is_left_to_be_ruled(design: Path, tmp_path: Path) -> None:
    pack = _cut(design, tmp_path / "pack", "--every-part")
    assert [str(fault) for fault in check_pack(pack, every_part=True).faults] == []


def test_every_damage_to_a_good_pack_is_found(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """At least 20 ways apply, and none is missed."""
    pack = _cut(ROOT / "sample_designs" / "jar-tray.toml", tmp_path / "pack")
    verdict = run_breakages(pack)
    assert verdict == 0, capsys.readouterr().out
