"""Damaged designs: a pack or refusals, never a traceback, never a file outside the folder."""

import random
from functools import partial
from pathlib import Path

import pytest

from tests.fuzz.attempts import Attempt, attempt
from tests.fuzz.crew import attempts
from tests.fuzz.mutate import MUTATIONS, mutated
from tests.fuzz.sources import sources
from tests.thorough import EVERY

COUNT = 150 if EVERY else 60
#: of those that pass `check`, one in so many is cut and read back as well
CUT_ONE_IN = 40


@pytest.fixture(scope="module")
def originals(tmp_path_factory):
    return sources(tmp_path_factory.mktemp("starters"))


def test_the_same_seed_gives_the_same_damage(originals):
    again = [mutated(originals[0], seed) for seed in range(50)]
    assert again == [mutated(originals[0], seed) for seed in range(50)]
    assert len(set(again)) > 40


@pytest.mark.parametrize("mutation", dict.fromkeys(MUTATIONS), ids=lambda m: m.__name__)
def test_every_mutation_changes_something(originals, mutation):
    """A mutation that leaves every design as it was would test nothing."""
    assert any(mutation(random.Random(seed), originals[0]) != originals[0] for seed in range(20))


def damaged(originals: list[bytes], seed: int, place: Path) -> Attempt:
    """Look a damaged design over, and cut some of those that have nothing wrong with them."""
    data = mutated(originals[seed % len(originals)], seed)
    answer = attempt(data, place, command="check")
    # a seed's last digit names its original, so the one before it is asked
    if not answer.refused and seed // len(originals) % CUT_ONE_IN == 0:
        answer = attempt(data, place, contract=True)
    return answer


def test_damaged_designs(originals):
    answers = list(attempts(partial(damaged, originals), range(COUNT)))
    faults = [f"seed {seed}: {fault}" for seed, answer in answers for fault in answer.faults]
    assert not faults, "\n".join(faults)
    refused = sum(answer.refused for _, answer in answers)
    assert COUNT // 5 < refused < COUNT * 4 // 5, "mutations that do no harm, or nothing but harm, test little"
