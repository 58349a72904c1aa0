"""Many attempts at once, one process a core: what a test run has left over while it waits for this."""

import multiprocessing
import os
import tempfile
import warnings
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from tests.fuzz.attempts import Attempt

#: one job: its seed and a folder of its own in, what became of it out
Job = Callable[[int, Path], Attempt]

#: processes at most: more would only take memory
MOST = 4
CHUNK = 10


def _ready() -> None:
    warnings.simplefilter("error")  # as in the tests themselves


def _do(job: Job, seed: int) -> Attempt:
    with tempfile.TemporaryDirectory() as name:
        return job(seed, Path(name) / "place")


def attempts(job: Job, seeds: Iterable[int]) -> Iterator[tuple[int, Attempt]]:
    """Each seed with what became of it, in order; the same whatever the number of processes."""
    seeds = list(seeds)
    workers = max(1, min(MOST, os.cpu_count() or 1))
    spawn = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(workers, mp_context=spawn, initializer=_ready) as crew:
        yield from zip(seeds, crew.map(_do, [job] * len(seeds), seeds, chunksize=CHUNK), strict=True)
