"""How long the parts of an aeroplane take: `python -m tests.benchmarks.airframe`, a Markdown table.

Of each design with surfaces and bodies the best of seven, in seconds: reading the file, making all parts (the
generators, then every part built), putting the model together; and the peak of memory.
"""

import resource
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from foamcut.airframe.airframe import airframe_parts
from foamcut.airframe.assembly import fit_findings
from foamcut.airframe.made import Made
from foamcut.airframe.values import Inputs
from foamcut.design.design import read_design
from foamcut.flat.build import build_part
from foamcut.flat.part import Part

SAMPLES = Path(__file__).resolve().parents[2] / "sample_designs"
RUNS = 7
_Made = TypeVar("_Made")


def best(run: Callable[[], _Made]) -> tuple[float, _Made]:
    """The shortest of some runs, s, and what it gave."""
    seconds, made = [], run()
    for _ in range(RUNS):
        begun = time.perf_counter()
        made = run()
        seconds.append(time.perf_counter() - begun)
    return min(seconds), made


def parts_of(inputs: Inputs) -> tuple[Made, list[Part]]:
    """Every part, made and built."""
    made = airframe_parts(inputs)
    return made, [part for drawn in made.parts for part in build_part(drawn)[0]]


def main() -> None:
    """Print the table."""
    print("| design | parts | read | make all parts | put together | MiB |")
    print("|---|---|---|---|---|---|")
    for path in sorted(SAMPLES.glob("*.toml")):
        data = path.read_bytes()
        reading, design = best(lambda data=data: read_design(data, "design.toml"))
        if not design.airframe:
            continue
        making, (made, parts) = best(lambda design=design: parts_of(design.airframe))
        fitting, _ = best(
            lambda design=design, made=made, parts=parts: fit_findings(parts, made.shells, design.airframe)
        )
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        times = f"{reading:.3f} | {making:.3f} | {fitting:.3f}"
        print(f"| {path.stem} | {len(parts)} | {times} | {peak:.0f} |")


if __name__ == "__main__":
    main()
