"""Nesting by numbers: boards, bound and time, on lists of our own and on lists given as a file.

    python -m tests.benchmarks.nesting [LISTS.json] [--steps N] [--seed N] [--bed WIDTH HEIGHT]

The file holds {"lists": [{"name", "units": "in" | "mm", "sheet": [usable width, usable height], "gap",
"parts": [{"outline": [[x, y], ...], "count"}], "reference_sheets"}]}.  Prints one table; every layout passes
the verifier before its line is printed.
"""

import argparse
import json
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random

from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest import STEPS
from foamcut.nest.search import lay
from foamcut.nest.values import Pace
from foamcut.nest.verify import faults
from foamcut.units import MM_PER
from tests.nest.making import dissection, part, rectangle, stock, want


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A list of parts to lay out; `reference` is the boards of another solver, or the known optimum."""

    name: str
    stock: Stock
    parts: Sequence[Part]
    reference: int | None = None


def given(path: Path) -> Iterator[Task]:
    """The lists of a file."""
    for one in json.loads(path.read_text(encoding="utf-8"))["lists"]:
        scale = float(MM_PER[one["units"]])
        width, height = (v * scale for v in one["sheet"])
        parts = [
            part(f"p{i}", Outline.of_points([(x * scale, y * scale) for x, y in p["outline"]]), p["count"])
            for i, p in enumerate(one["parts"])
        ]
        board = stock((width + 12.7, height + 12.7), margin=6.35, gap=one["gap"] * scale)
        yield Task(name=one["name"], stock=board, parts=parts, reference=one.get("reference_sheets"))


def own() -> Iterator[Task]:
    """Model aeroplanes, dissected boards, and many pieces; the same every time."""
    for number in range(6):
        board = stock((762, 508), margin=6.35, gap=2)
        yield Task(name=f"aeroplane-{number}", stock=board, parts=list(_aeroplane(Random(number))))
    for number in range(4):
        sizes = dissection(Random(number), 400, 300, 8 + 2 * number)
        pieces = [part(f"p{i}", rectangle(*size)) for i, size in enumerate(sizes)]
        yield Task(name=f"dissected-{len(sizes)}", stock=stock((400, 300)), parts=pieces, reference=1)
    for count, shapes, largest in ((10, 8, 250.0), (30, 20, 250.0), (60, 40, 250.0), (200, 60, 120.0), (1000, 60, 60.0)):
        rng = Random(count)
        counts = [count // shapes + (i < count % shapes) for i in range(shapes)]
        many = [part(f"p{i}", _shape(rng, largest), n) for i, n in enumerate(counts)]
        yield Task(name=f"pieces-{count}", stock=stock((700, 500), margin=3, gap=2), parts=many)


def _aeroplane(rng: Random) -> Iterator[Part]:
    """Wing panels, body sides, top and bottom, tail, fins, formers with holes, spars."""
    chord, span, length = rng.uniform(180, 260), rng.uniform(400, 560), rng.uniform(500, 720)
    wing = Outline.of_points([(0, 0), (span, rng.uniform(0, 30)), (span, chord * 0.8), (0, chord)])
    yield part("wing", wing, 2)
    yield part("spar", rectangle(span, 25), 4)
    deep = rng.uniform(60, 85)
    side = [(0, 20), (length * 0.3, 0), (length, deep * 0.5), (length, deep * 0.8), (length * 0.5, deep), (0, deep)]
    yield part("side", Outline.of_points(side), 2)
    yield part("top", rectangle(length * 0.6, 70))
    yield part("bottom", rectangle(length * 0.55, 70))
    for i in range(5):
        (former,) = rectangle(60, rng.uniform(40, 70)).minus(Outline.circle(30, 20, 11))
        yield part(f"former-{i}", former)
    tail = rng.uniform(280, 380)
    yield part("tail", Outline.of_points([(0, 0), (tail, 0), (tail * 0.9, 110), (tail * 0.1, 110)]))
    yield part("fin", Outline.of_points([(0, 0), (140, 0), (130, 120), (70, 130)]), 2)
    yield part("doubler", rectangle(120, 40), 2)


def _shape(rng: Random, largest: float) -> Outline:
    width, height = rng.uniform(0.2, 1) * largest, rng.uniform(0.1, 0.5) * largest
    kind = rng.randrange(5)
    if kind == 0:
        return rectangle(width, height)
    if kind == 1:
        return Outline.of_points([(0, 0), (width, 0), (width * 0.8, height), (width * 0.1, height * 0.9)])
    if kind == 2:
        (ell,) = rectangle(width, height).minus(Outline.rectangle(width * 0.3, height * 0.4, width, height))
        return ell
    if kind == 3:
        return Outline.circle(0, 0, height / 2)
    slots = [Outline.rectangle(width * x, height * 0.1, width * (x + 0.05), height * 0.4) for x in (0.15, 0.35, 0.55)]
    points = [(0, 0), (1, 0), (1, 0.4), (0.7, 0.5), (0.6, 1), (0.2, 1), (0, 0.6)]
    (panel,) = Outline.of_points([(x * width, y * height) for x, y in points]).minus(*slots)
    (tabbed,) = panel.plus(Outline.rectangle(width * 0.3, -5, width * 0.5, 0.1))
    return tabbed


def _line(task: Task, seed: int, steps: int, bed_mm: tuple[float, float] | None) -> tuple[str, float]:
    wanted = want(task.stock, *task.parts)
    heard = [0]
    start = time.perf_counter()
    layout = lay(wanted, task.stock, seed=seed, pace=Pace(steps=steps), listener=lambda p: heard.append(p.step), bed_mm=bed_mm)
    seconds = time.perf_counter() - start
    if found := faults([layout], wanted, bed_mm=bed_mm):
        raise SystemExit(f"{task.name}: {found}")
    bound = layout.bound
    pieces = sum(one.count for one in task.parts)
    reference = "-" if task.reference is None else task.reference
    return (
        f"{task.name:16} {pieces:6} {bound.new:6} {bound.at_least:9} {'yes' if bound.proven else 'no':6} "
        f"{reference:>9} {heard[-1]:5} {seconds:8.2f}",
        seconds,
    )


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description="Boards, bound and time of nesting.")
    words.add_argument("lists", nargs="?", type=Path, help="a JSON file of lists; our own otherwise")
    words.add_argument("--steps", type=int, default=STEPS)
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--bed", type=float, nargs=2, help="lay pieces on rectangles of a bed of so many mm")
    options = words.parse_args()
    tasks = given(options.lists) if options.lists else own()
    print("list             pieces boards at_least proven reference steps  seconds")
    total = 0.0
    for task in tasks:
        line, seconds = _line(task, options.seed, options.steps, tuple(options.bed) if options.bed else None)
        total += seconds
        print(line, flush=True)
    print(f"{total:.1f} s in all")


if __name__ == "__main__":
    main()
