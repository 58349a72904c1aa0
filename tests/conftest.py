"""Settings for all tests, and the sample packs that several of them read.

Property tests repeat exactly, unless `make fuzz` asks for chance.
"""

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "repeatable",
    derandomize=True,
    deadline=None,
    database=None,
    max_examples=50,
    suppress_health_check=list(HealthCheck),
)
settings.register_profile("fuzz", deadline=None, max_examples=2000, suppress_health_check=list(HealthCheck))
settings.load_profile(os.environ.get("FOAMCUT_HYPOTHESIS", "repeatable"))

# the programs that tests start would else compile every module anew
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

ROOT = Path(__file__).parent.parent
SAMPLES = sorted((ROOT / "sample_designs").glob("*.toml"))


@pytest.fixture(scope="session")
def sample_packs(tmp_path_factory) -> dict[str, Path]:
    """A pack of every sample design, by name, made in this process."""
    from foamcut import files, plan

    folder = tmp_path_factory.mktemp("packs")
    packs = {}
    for path in SAMPLES:
        pack = plan.cut(path.read_bytes(), path.name, plan.Options())
        files.save_pack(folder / path.stem, pack.files)
        packs[path.stem] = folder / path.stem
    return packs
