"""How long `foamcut balance` takes: `python -m tests.benchmarks.balance`, a Markdown table.

Of each sample and starter with surfaces: the whole command in a process of its own, the best of five, in
seconds; within one process the best of seven of reading, making and weighing together, and of the questions
of `foamcut.flight` alone; and the peak of memory of the command.
"""

import resource
import subprocess
import sys
import time
from pathlib import Path

from foamcut.design.design import read_design
from foamcut.flight.report import report
from foamcut.plan.balancing import balance
from tests.benchmarks.airframe import best

ROOT = Path(__file__).resolve().parents[2]
DESIGNS = (*sorted((ROOT / "sample_designs").glob("*.toml")), ROOT / "foamcut/design/starters/twin-mm.toml")
STARTS = 5


def command_s(path: Path) -> float:
    """The shortest of some runs of the command, s, from nothing."""
    seconds = []
    for _ in range(STARTS):
        begun = time.perf_counter()
        words = [sys.executable, "-m", "foamcut", "balance", str(path)]
        subprocess.run(words, capture_output=True, check=True)
        seconds.append(time.perf_counter() - begun)
    return min(seconds)


def main() -> None:
    """Print the table."""
    print("| design | command, s | reading, making, weighing, s | weighing alone, s | MiB |")
    print("|---|---|---|---|---|")
    for path in DESIGNS:
        data = path.read_bytes()
        design = read_design(data, path.name)
        if not design.airframe.surfaces:
            continue
        whole, found = best(lambda data=data, path=path: balance(data, path.name))
        alone, _ = best(lambda found=found, design=design: report(found.model, design.setup))
        command = command_s(path)
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        print(f"| {path.stem} | {command:.2f} | {whole:.3f} | {alone:.3f} | {peak:.0f} |")


if __name__ == "__main__":
    main()
