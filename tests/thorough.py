"""Whether a test run tries everything: with FOAMCUT_EVERY=1, as `.ci/run` does once, it does."""

import os

EVERY = bool(os.environ.get("FOAMCUT_EVERY"))
