"""The designs that mutations begin with: samples, starters, test designs, and small ones that cut quickly."""

from functools import cache
from pathlib import Path

from tests.fuzz.random_designs import random_design
from tests.hostile.airframes import AIRFRAME
from tests.hostile.program import run

TESTS = Path(__file__).parent.parent
SAMPLES = TESTS.parent / "sample_designs"
#: samples of many parts take long to lay out, and hold no key that the test designs lack
LARGE = (
    "cordgrass-2.toml", "glasswort-1.toml", "sea-blite-3.toml", "thrift-1.toml", "cordgrass-2-drawn.toml",
    "glasswort-1-drawn.toml",
)  # fmt: skip
#: seeds of random designs with few parts and many kinds of keys
SMALL_SEEDS = (3, 14, 15, 92, 65, 35)


@cache
def carrying() -> tuple[bytes, ...]:
    """The samples and starters that carry something, always in the same order."""
    starters = TESTS.parent / "foamcut" / "design" / "starters"
    paths = (path for folder in (SAMPLES, starters) for path in sorted(folder.glob("*.toml")))
    return tuple(data for data in (path.read_bytes() for path in paths) if b"[[aboard]]" in data)


def sources(folder: Path) -> list[bytes]:
    """Designs to be damaged, always in the same order; `folder` takes the starters."""
    folders = (SAMPLES, TESTS / "design")
    found = [
        path.read_bytes()
        for folder in folders
        for path in sorted(folder.glob("*.toml"))
        if path.name not in LARGE
    ]
    for starter in ("trainer", "box"):
        path = folder / f"{starter}.toml"
        answer = run("new", path, "--starter", starter)
        if answer.code:
            raise RuntimeError(answer.err)
        found.append(path.read_bytes())
    found.append((TESTS / "contract" / "marsh-punt.toml").read_bytes())
    found.append(AIRFRAME.encode())
    return found + [random_design(seed, most_parts=2).encode() for seed in SMALL_SEEDS]
