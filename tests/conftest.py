"""Settings for all tests: property tests repeat exactly, unless `make fuzz` asks for chance."""

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "repeatable",
    derandomize=True,
    deadline=None,
    max_examples=50,
    suppress_health_check=list(HealthCheck),
)
settings.register_profile(
    "fuzz",
    deadline=None,
    max_examples=2000,
    suppress_health_check=list(HealthCheck),
)
settings.load_profile(os.environ.get("FOAMCUT_HYPOTHESIS", "repeatable"))
