"""Random lists for the search: it ends, nothing overlaps, and the second time comes out as the first."""

import pytest

from tests.fuzz.layouts import attempt_list

#: lists that a test run takes; the one left out takes as long as all others together
SEEDS = [seed for seed in range(24) if seed != 18]


@pytest.mark.parametrize("seed", SEEDS)
def test_random_lists_are_laid_without_a_fault(seed: int) -> None:
    """No overlap beyond 0.001 mm, by shapely alone (reference library) and by our own verifier."""
    assert attempt_list(seed).faults == ()
