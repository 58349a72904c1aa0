"""A thousand damaged designs: a pack or refusals, never a traceback, never a file outside the folder."""

import pytest

from tests.fuzz.attempts import attempt
from tests.fuzz.mutate import MUTATIONS, mutated
from tests.fuzz.sources import sources

COUNT = 1000
BATCHES = 10
#: of those that pass `check`, one in so many is cut as well
CUT_ONE_IN = 10


@pytest.fixture(scope="module")
def originals(tmp_path_factory):
    return sources(tmp_path_factory.mktemp("starters"))


def test_the_same_seed_gives_the_same_damage(originals):
    again = [mutated(originals[0], seed) for seed in range(50)]
    assert again == [mutated(originals[0], seed) for seed in range(50)]
    assert len(set(again)) > 40


def test_every_mutation_changes_something(originals):
    """A mutation that leaves every design as it was would test nothing."""
    import random

    for mutation in MUTATIONS:
        changed = [mutation(random.Random(seed), originals[0]) != originals[0] for seed in range(20)]
        assert any(changed), mutation.__name__


@pytest.mark.parametrize("batch", range(BATCHES))
def test_damaged_designs(originals, tmp_path, batch):
    refused = passed = 0
    faults = []
    for seed in range(batch * COUNT // BATCHES, (batch + 1) * COUNT // BATCHES):
        data = mutated(originals[seed % len(originals)], seed)
        answer = attempt(data, tmp_path / "place", command="check")
        refused += answer.refused
        if not answer.refused:
            passed += 1
            if passed % CUT_ONE_IN == 0:
                answer = attempt(data, tmp_path / "place", contract=True)
        faults += [f"seed {seed}: {fault}" for fault in answer.faults]
    assert not faults, "\n".join(faults)
    assert refused > 20, "mutations that do no harm test little"
    assert passed > 5, "mutations that destroy everything test little"
