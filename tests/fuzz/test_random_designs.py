"""Random designs: cut, and read back by the contract checker, which knows nothing of the program."""

import tomllib

import pytest

from tests.fuzz.attempts import attempt
from tests.fuzz.random_designs import random_design

COUNT = 200
BATCHES = 10
#: kinds of parts in a design: few, so that many designs can be tried
MOST_PARTS = 2


def test_the_same_seed_gives_the_same_design():
    assert [random_design(seed) for seed in range(20)] == [random_design(seed) for seed in range(20)]


def test_random_designs_use_the_keys_of_parts_and_stock():
    """What never turns up in a random design is not tried by it."""
    parts = [part for seed in range(COUNT) for part in tomllib.loads(random_design(seed, MOST_PARTS))["parts"].values()]
    used = {key for part in parts for key in part}
    assert used >= {
        "stock", "count", "pair", "face", "grain", "turns", "outline", "rectangle", "circle", "trapezoid", "mirrored",
        "cutouts", "slots", "tabs", "marks", "label", "place", "cutting",
    }  # fmt: skip
    kinds = {key for part in parts for mark in part.get("marks", []) for key in mark}
    assert kinds >= {"line", "balance", "circle", "tape", "face", "text"}
    words = " ".join(part["outline"] for part in parts if isinstance(part.get("outline"), str))
    assert all(word in words for word in ("round", "through", "smooth", "name"))


@pytest.mark.parametrize("batch", range(BATCHES))
def test_random_designs_keep_the_contract(tmp_path, batch):
    faults, refused = [], []
    for seed in range(batch * COUNT // BATCHES, (batch + 1) * COUNT // BATCHES):
        answer = attempt(random_design(seed, MOST_PARTS).encode(), tmp_path / "place", contract=True)
        faults += [f"seed {seed}: {fault}" for fault in answer.faults]
        if answer.refused:
            refused.append(seed)
    assert not faults, "\n".join(faults)
    assert len(refused) <= 1, f"meant to be buildable, yet refused: seeds {refused}"
