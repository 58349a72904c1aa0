"""Random and damaged designs by the thousand, with a new seed each time: `python -m tests.fuzz.run --count 2000`.

What goes wrong is kept under `output/fuzz/`, named by its seed, and can be tried again with `--seed N --count 1`.
"""

import argparse
import random
import sys
import tempfile
import time
from pathlib import Path

from tests.fuzz.attempt_airframe import attempt_airframe
from tests.fuzz.attempt_balance import attempt_balance
from tests.fuzz.attempt_packs import attempt_pack
from tests.fuzz.attempts import Attempt, attempt
from tests.fuzz.balance_alike import RELATIONS, in_inches, related, what_if_as_typed
from tests.fuzz.damaged_packs import attempt_verify
from tests.fuzz.layouts import attempt_list
from tests.fuzz.mutate import mutated
from tests.fuzz.random_airframes import random_airframe
from tests.fuzz.random_designs import random_design
from tests.fuzz.random_lists import random_list
from tests.fuzz.random_loads import random_loads
from tests.fuzz.random_packs import random_pack
from tests.fuzz.random_pairs import attempt_pair, random_pair
from tests.fuzz.sources import carrying, sources
from tests.fuzz.written import text_of

#: what takes as long as several designs is tried so many times less
LESS = 4
SLOW = ("lists", "packs", "pairs")
KINDS = ("random", "damaged", "lists", "aeroplanes", "balances", "packs", "pairs", "damaged-packs")
#: between the two versions of a pair
BETWEEN = b"\n# ---- the other version ----\n"
KEPT = Path(__file__).parent.parent.parent / "output" / "fuzz"


def load_bytes(seed: int) -> bytes:
    """The design that `attempt_load` takes: of three seeds the last damages a sample."""
    if seed % 3 < 2:
        return text_of(random_loads(seed)).encode()
    originals = carrying()
    return mutated(originals[seed // 3 % len(originals)], seed)


def attempt_load(seed: int) -> Attempt:
    """Of three seeds the first balances a random design, the second two that differ in one thing."""
    if seed % 3 != 1:
        answer = attempt_balance(load_bytes(seed))
        return Attempt(refused=answer.refused, faults=answer.faults)
    which = seed // 3 % (len(RELATIONS) + 2)
    if which < len(RELATIONS):
        found = related(RELATIONS[which], random_loads(seed))
    else:
        found = (in_inches, what_if_as_typed)[which - len(RELATIONS)](random_loads(seed))
    return Attempt(refused=not found.tried, faults=found.faults)


class Tally:
    """Counts attempts of one kind and keeps what went wrong."""

    def __init__(self, kind: str) -> None:
        self.kind = kind
        self.count = self.refused = self.faulty = 0
        self.began = time.monotonic()
        self.slowest = (0.0, 0)

    def note(self, seed: int, data: bytes, answer: Attempt, seconds: float) -> None:
        self.count += 1
        self.refused += answer.refused
        self.slowest = max(self.slowest, (seconds, seed))
        if answer.faults:
            self.faulty += 1
            KEPT.mkdir(parents=True, exist_ok=True)
            path = KEPT / f"{self.kind}-{seed}.toml"
            path.write_bytes(data)
            print(f"{path}: " + "; ".join(answer.faults[:5]), flush=True)

    def line(self) -> str:
        seconds = time.monotonic() - self.began
        each = seconds / max(self.count, 1)
        return (
            f"{self.kind}: {self.count} tried, {self.refused} refused, {self.faulty} with faults, "
            f"{seconds:.0f} s ({each:.2f} s each, slowest {self.slowest[0]:.1f} s with seed {self.slowest[1]})"
        )


def main(arguments: list[str] | None = None) -> int:
    """Run from the command line and return the exit code: 1 when anything went wrong."""
    parser = argparse.ArgumentParser(description="try the program on random and damaged designs")
    parser.add_argument("--count", type=int, default=2000, help="of each kind")
    parser.add_argument("--seed", type=int, help="first seed; a new one each time when left out")
    parser.add_argument("--only", choices=KINDS, help="one kind alone")
    options = parser.parse_args(arguments)
    first = options.seed if options.seed is not None else random.SystemRandom().randrange(10**9)
    print(f"first seed {first}", flush=True)
    tallies = []
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        originals = sources(place)
        for kind in KINDS if not options.only else (options.only,):
            tally = Tally(kind)
            tallies.append(tally)
            count = options.count if kind not in SLOW else -(-options.count // LESS)
            for seed in range(first, first + count):
                if kind == "lists":
                    began = time.monotonic()
                    answer = attempt_list(seed)
                    tally.note(seed, repr(random_list(seed)).encode(), answer, time.monotonic() - began)
                    continue
                if kind == "aeroplanes":
                    began = time.monotonic()
                    made = attempt_airframe(seed)
                    answer = Attempt(refused=bool(made.refusals), faults=made.faults)
                    tally.note(
                        seed, repr(random_airframe(seed)[0]).encode(), answer, time.monotonic() - began
                    )
                    continue
                if kind == "balances":
                    began = time.monotonic()
                    answer = attempt_load(seed)
                    tally.note(seed, load_bytes(seed), answer, time.monotonic() - began)
                    continue
                if kind == "damaged-packs":
                    began = time.monotonic()
                    seen = attempt_verify(seed)
                    answer = Attempt(refused=seen.refused, faults=seen.faults)
                    tally.note(seed, b"", answer, time.monotonic() - began)
                    continue
                if kind in ("packs", "pairs"):
                    began = time.monotonic()
                    told = attempt_pack(random_pack(seed)) if kind == "packs" else attempt_pair(seed)
                    data = random_pack(seed) if kind == "packs" else BETWEEN.join(random_pair(seed))
                    answer = Attempt(refused=told.refused, faults=told.faults)
                    tally.note(seed, data, answer, time.monotonic() - began)
                    continue
                if kind == "random":
                    data = random_design(seed).encode()
                else:
                    data = mutated(originals[seed % len(originals)], seed)
                began = time.monotonic()
                answer = attempt(data, place / "place", contract=True)
                tally.note(seed, data, answer, time.monotonic() - began)
            print(tally.line(), flush=True)
    return 1 if any(tally.faulty for tally in tallies) else 0


if __name__ == "__main__":
    sys.exit(main())
