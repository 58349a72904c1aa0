"""Same in, same out: the whole pack, byte for byte, whatever the surroundings."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.thorough import EVERY

HERE = Path(__file__).parent
#: a design drawn by hand, folds, an aeroplane, a machine's bed; larger ones only take longer
SAMPLES = [
    *(HERE.parent / "sample_designs" / f"{name}.toml" for name in ("jar-tray", "sea-blite-3")),
    *([HERE.parent / "sample_designs" / "samphire-1.toml", HERE / "design" / "plotter-bed.toml"] * EVERY),
]
ELSEWHERE = [
    {"PYTHONHASHSEED": "0", "TZ": "UTC", "LANG": "C", "LC_ALL": "C"},
    {"PYTHONHASHSEED": "4711", "TZ": "Pacific/Auckland", "LANG": "de_DE.UTF-8", "LC_ALL": "", "COLUMNS": "40"},
]


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda p: p.stem)
def test_the_same_design_gives_the_same_bytes(sample, tmp_path):
    packs = []
    for i, environment in enumerate(ELSEWHERE):
        folder = tmp_path / f"place-{i}"
        folder.mkdir()
        (folder / sample.name).write_bytes(sample.read_bytes())
        subprocess.run(
            [sys.executable, "-m", "foamcut", "cut", sample.name, "--out", "out"],
            cwd=folder, env={**os.environ, **environment}, check=True, capture_output=True,
        )  # fmt: skip
        out = folder / "out"
        packs.append({str(p.relative_to(out)): p.read_bytes() for p in sorted(out.rglob("*")) if p.is_file()})
    assert packs[0] == packs[1]
    assert len(packs[0]) > 6
