"""Random designs: cut, and read back by the contract checker, which knows nothing of the program."""

import tomllib
from pathlib import Path

from tests.fuzz.attempts import Attempt, attempt
from tests.fuzz.crew import attempts
from tests.fuzz.random_designs import random_design
from tests.thorough import EVERY

COUNT = 40 if EVERY else 20
#: kinds of parts in a design: few, so that many designs can be tried
MOST_PARTS = 2


def test_the_same_seed_gives_the_same_design():
    assert [random_design(seed) for seed in range(20)] == [random_design(seed) for seed in range(20)]


def test_random_designs_use_the_keys_of_parts_and_stock():
    """What never turns up in a random design is not tried by it."""
    designs = [tomllib.loads(random_design(seed, MOST_PARTS)) for seed in range(80)]
    parts = [part for design in designs for part in design["parts"].values()]
    used = {key for part in parts for key in part}
    assert used >= {
        "stock", "count", "pair", "face", "grain", "turns", "outline", "rectangle", "circle", "trapezoid", "mirrored",
        "cutouts", "slots", "tabs", "marks", "label", "place", "cutting", "folds", "joints", "keep_clear", "doubler",
    }  # fmt: skip
    kinds = {key for part in parts for mark in part.get("marks", []) for key in mark}
    assert kinds >= {"line", "balance", "circle", "tape", "face", "text"}
    folds = {fold["kind"] for part in parts for fold in part.get("folds", [])}
    assert folds == {"score", "groove", "wrap", "roll", "hinge", "strip"}
    cutting = {key for design in designs for key in design.get("cutting", {})}
    assert cutting == {"tool", "fit", "kerf", "bed"}
    words = " ".join(part["outline"] for part in parts if isinstance(part.get("outline"), str))
    assert all(word in words for word in ("round", "through", "smooth", "name", "bevel"))
    stocks = {key for design in designs for stock in design["stock"].values() for key in stock}
    assert stocks >= {"material", "thickness", "margin", "gap", "grain", "sheets", "offcuts", "spare"}


def cut(seed: int, place: Path) -> Attempt:
    return attempt(random_design(seed, MOST_PARTS).encode(), place, contract=True)


def test_random_designs_keep_the_contract():
    answers = list(attempts(cut, range(COUNT)))
    faults = [f"seed {seed}: {fault}" for seed, answer in answers for fault in answer.faults]
    assert not faults, "\n".join(faults)
    refused = [seed for seed, answer in answers if answer.refused]
    assert len(refused) <= COUNT // 50, f"meant to be buildable, yet refused: seeds {refused}"
