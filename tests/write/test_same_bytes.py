"""The same drawing gives the same bytes whatever the hash seed, folder, time zone and language."""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
PROGRAM = """
import hashlib
from foamcut.write import dxf, pdf, svg
from tests.write.sheet_drawings import pages, sheet
for data in (
    dxf.render(sheet(), version="R2000", comment_lines=("cordgrass",)),
    dxf.render(sheet(), version="R12"),
    svg.render(sheet(), title="a", description="b"),
    pdf.render(pages()),
):
    print(hashlib.sha256(data).hexdigest())
"""


def hashes(folder: Path, **variables: str) -> str:
    environment = {**os.environ, **variables, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM], cwd=folder, env=environment, capture_output=True, text=True, check=True
    )
    assert not done.stderr
    return done.stdout


def test_same_bytes_everywhere(tmp_path):
    one = hashes(ROOT, PYTHONHASHSEED="0", TZ="UTC", LANG="C")
    other = hashes(tmp_path, PYTHONHASHSEED="4242", TZ="Pacific/Auckland", LANG="de_DE.UTF-8", LC_ALL="C.UTF-8")
    assert one == other
    assert len(set(one.split())) == 4
    assert hashlib.sha256(b"").hexdigest() not in one
