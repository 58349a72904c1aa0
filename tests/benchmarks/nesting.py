"""Nesting by numbers: boards, bound and time, on lists of our own and on lists given as files.

    python -m tests.benchmarks.nesting [LISTS.json] [--data DIR] [--steps N] [--seed N] [--bed WIDTH HEIGHT]
                                       [--cut-up N]

LISTS.json holds {"lists": [{"name", "units": "in" | "mm", "sheet": [usable width, usable height], "gap",
"parts": [{"outline": [[x, y], ...], "count"}], "reference_sheets"}]}; with it alone its table is printed.
DIR holds aircraft-lists.json of that kind and open strip instances; what is not there is left out.  Prints
tables in Markdown; every layout passes the verifier before its line is printed.
"""

import argparse
import json
import math
import multiprocessing
import resource
import time
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from random import Random

from shapely import LineString, Polygon, affinity, box
from shapely.ops import split

from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.nest import STEPS
from foamcut.nest.search import lay
from foamcut.nest.values import Pace
from foamcut.nest.verify import faults
from foamcut.units import MM_PER
from tests.benchmarks import strips
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
    """Model aeroplanes; the same every time."""
    for number in range(6):
        board = stock((762, 508), margin=6.35, gap=2)
        yield Task(name=f"aeroplane-{number}", stock=board, parts=list(_aeroplane(Random(number))))


def many() -> Iterator[Task]:
    """From 10 to 1,000 pieces of up to 60 shapes."""
    for count, shapes, largest in (
        (10, 8, 250.0), (30, 20, 250.0), (60, 40, 250.0), (100, 60, 150.0), (300, 60, 100.0), (1000, 60, 60.0)
    ):
        rng = Random(count)
        counts = [count // shapes + (i < count % shapes) for i in range(shapes)]
        several = [part(f"p{i}", _shape(rng, largest), n) for i, n in enumerate(counts)]
        yield Task(name=f"pieces-{count}", stock=stock((700, 500), margin=3, gap=2), parts=several)


def cut_up(count: int) -> Iterator[Task]:
    """Boards cut up at random, by turns into upright rectangles and along slanted lines, into 8 to 15 pieces."""
    for number in range(count):
        rng = Random(1000 + number)
        pieces = 8 + number % 8
        if number % 2:
            outlines = slanted(rng, 400, 300, pieces)
        else:
            outlines = [rectangle(*size) for size in dissection(rng, 400, 300, pieces)]
        parts = [part(f"p{i}", outline) for i, outline in enumerate(outlines)]
        kind = "slanted" if number % 2 else "upright"
        yield Task(name=f"{kind}-{number}-{len(parts)}", stock=stock((400, 300)), parts=parts, reference=1)


def slanted(rng: Random, width: float, height: float, pieces: int) -> list[Outline]:
    """What straight cuts at any angle make of a rectangle, each turned by quarter turns, by chance."""
    found = [box(0, 0, width, height)]
    while len(found) < pieces:
        found.sort(key=lambda polygon: polygon.area)
        largest = found.pop()
        x, y = largest.centroid.coords[0]
        angle = rng.uniform(0, math.pi)
        dx, dy = 2000 * math.cos(angle), 2000 * math.sin(angle)
        halves = split(largest, LineString([(x - dx, y - dy), (x + dx, y + dy)])).geoms
        found += [half for half in halves if isinstance(half, Polygon)]
    turned = [affinity.rotate(polygon, 90 * rng.randrange(4), origin=(0, 0)) for polygon in found]
    return [Outline.of_points(list(polygon.exterior.coords)[:-1]) for polygon in turned]


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


HEAD = (
    "| list | pieces | boards | at least | proven | reference | steps | seconds | MiB |",
    "|---|---|---|---|---|---|---|---|---|",
)


def line(task: Task, seed: int, pace: Pace, bed_mm: tuple[float, float] | None = None) -> tuple[str, float, int]:
    """A line of the table, the seconds, and the boards; memory is the most that this process ever held."""
    wanted = want(task.stock, *task.parts)
    heard: list[int] = []
    start = time.perf_counter()
    layout = lay(
        wanted, task.stock, seed=seed, pace=pace, bed_mm=bed_mm,
        listener=lambda p: heard.append(p.step) if p.doing == "laying pieces" else None,
    )  # fmt: skip
    seconds = time.perf_counter() - start
    if found := faults([layout], wanted, bed_mm=bed_mm):
        raise SystemExit(f"{task.name}: {found}")
    bound = layout.bound
    pieces = sum(one.count for one in task.parts)
    reference = "-" if task.reference is None else task.reference
    mib = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    proven = "yes" if bound.proven else "no"
    words = (
        f"| {task.name} | {pieces} | {bound.new} | {bound.at_least} | {proven} | {reference} "
        f"| {max(heard, default=0)} | {seconds:.2f} | {mib} |"
    )
    return words, seconds, bound.new


def table(tasks: Iterable[Task], seed: int, pace: Pace, bed_mm: tuple[float, float] | None = None) -> Iterator[str]:
    """The lines of a table, each list in a process of its own."""
    yield from HEAD
    total = 0.0
    for task in tasks:
        with ProcessPoolExecutor(1, multiprocessing.get_context("spawn")) as child:
            words, seconds, _ = child.submit(line, task, seed, pace, bed_mm).result()
        total += seconds
        yield words
    yield f"\n{total:.1f} s in all\n"


def put_back(count: int, seconds: float, seed: int) -> Iterator[str]:
    """How many boards cut up at random go back into one board."""
    yield from HEAD
    whole = 0
    for task in cut_up(count):
        words, _, boards = line(task, seed, Pace(squeeze_s=seconds, clock=time.monotonic))
        whole += boards == 1
        yield words
    yield f"\n{whole} of {count} went back into one board\n"


def main() -> None:
    """Print the tables."""
    words = argparse.ArgumentParser(description="Boards, bound and time of nesting.")
    words.add_argument("lists", nargs="?", type=Path, help="a JSON file of lists, and nothing else")
    words.add_argument("--data", type=Path, help="a folder of lists and strips")
    words.add_argument("--steps", type=int, default=STEPS)
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--bed", type=float, nargs=2, help="lay pieces on rectangles of a bed of so many mm")
    words.add_argument("--cut-up", type=int, default=4, help="boards cut up at random, 10 s each at most")
    options = words.parse_args()
    bed_mm = (options.bed[0], options.bed[1]) if options.bed else None
    pace = Pace(steps=options.steps)
    given_lists = options.lists or (options.data and options.data / "aircraft-lists.json")
    if given_lists and given_lists.exists():
        _show(table(given(given_lists), options.seed, pace, bed_mm))
    if options.lists:
        return
    _show(table(own(), options.seed, pace, bed_mm))
    _show(table(many(), options.seed, pace, bed_mm))
    _show(put_back(options.cut_up, 10.0, options.seed))
    if options.data:
        names = [name for name in strips.RECORDS if (options.data / f"{name}.json").exists()]
        _show(strips.table(options.data, names, 10, options.seed))


def _show(lines: Iterable[str]) -> None:
    for words in lines:
        print(words, flush=True)


if __name__ == "__main__":
    main()
