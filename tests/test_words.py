"""Words that must not be in what ships, and marks of a machine that do not belong in a project."""

import re
import subprocess
from pathlib import Path

ROOT = Path(__file__).parent.parent
#: put together here, so that this file does not hold the word itself
CLEARANCE = re.compile("sa" + "fe|sa" + "fety", re.IGNORECASE)
TEXT = {".py", ".md", ".toml", ".txt", ".json", ".svg", ".csv", "", ".cfg", ".html", ".css", ".js"}


def shipped() -> list[Path]:
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout.splitlines()  # fmt: skip
    return [ROOT / name for name in listed if Path(name).suffix in TEXT and (ROOT / name).is_file()]


def test_nothing_shipped_gives_clearance():
    """Advice is worded as caution: no form of the word that promises there is no danger."""
    # a font's licence and hostile input are not our words
    ours = [p for p in shipped() if "fonts" not in p.parts and "hostile" not in p.parts]
    assert len(ours) > 50
    found = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()[:80]}"
        for path in ours
        for number, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), 1)
        if CLEARANCE.search(line)
    ]
    assert not found, "\n".join(found)
