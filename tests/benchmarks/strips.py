"""Open strip instances: the length of one sheet lowered as far as it goes in a given time.

    python -m tests.benchmarks.strips DIR [--seconds N] [--seed N] [NAME ...]

DIR holds the instances as JSON files.  Three columns: the program's own search, the optional solver alone (both
cores), and both together as `--squeeze` has them.  A density is the area of all pieces over length times height.
Every layout passes the verifier as one sheet of its length before its line is printed.
"""

import argparse
import json
import multiprocessing
import os
import time
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

from shapely import Polygon

from foamcut.flat.drawn import Turns
from foamcut.flat.joint import Piece
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.placement import Placement, rounded
from foamcut.nest import extra
from foamcut.nest.firstfit import Result
from foamcut.nest.rooms import NM_PER_MM, UNITS, sources
from foamcut.nest.trials import Search
from foamcut.nest.values import Bound, Kind, Layout, Placed, Sheet, Wanted
from foamcut.nest.verify import faults
from tests.nest.making import part, stock, want

#: height to which every strip is scaled, mm
HEIGHT_MM = 500.0
#: published best densities: Gardeyn, Vanden Berghe, Wauters, "An open-source heuristic to reboot 2D nesting
#: research", 2025, record solutions (published)
RECORDS = {"albano": 0.898, "fu": 0.924, "jakobs1": 0.892, "marques": 0.920, "shirts": 0.909, "swim": 0.798}
_TURNS = {1: Turns.NONE, 2: Turns.HALF, 4: Turns.QUARTER}
_DEGREES = {Turns.NONE: [0.0], Turns.HALF: [0.0, 180.0], Turns.QUARTER: [0.0, 90.0, 180.0, 270.0]}
_PATIENCE = 400


@dataclass(frozen=True, slots=True)
class Strip:
    """Parts for a strip of `HEIGHT_MM`."""

    name: str
    parts: tuple[Part, ...]

    @property
    def area(self) -> float:
        """Of all pieces, mm2."""
        return sum(one.outline.area * one.count for one in self.parts)

    def density(self, length_mm: float) -> float:
        """Share of a strip of this length that is covered."""
        return self.area / (length_mm * HEIGHT_MM)


@dataclass(frozen=True, slots=True)
class Found:
    """A layout: its length, and for each copy (part, copy) where it lies."""

    length_mm: float
    spots: dict[tuple[int, int], Placement]


def read(path: Path) -> Strip:
    """An instance of a file."""
    data = json.loads(path.read_text(encoding="utf-8"))
    scale = HEIGHT_MM / data["strip_height"]
    parts = []
    for item in data["items"]:
        turns = item.get("allowed_orientations") or [0.0]
        points = [(x * scale, y * scale) for x, y in item["shape"]["data"][:-1]]
        one = part(f"p{item['id']}", Outline.of_points(points), item["demand"])
        parts.append(replace(one, turns=_TURNS[len(turns)]))
    return Strip(data["name"], tuple(parts))


def ours(strip: Strip, seconds: float, seed: int) -> Found:
    """The shortest layout of the program's own search in so many seconds."""
    end = time.monotonic() + seconds
    length = max(1.3 * HEIGHT_MM, strip.area / HEIGHT_MM / 0.5)
    board = stock((length, HEIGHT_MM))
    wanted = want(board, *strip.parts)
    search = Search(wanted, board, sources(board))
    rng = Random(seed)
    starts = search.plans.starts(((0,),))
    best: Result | None = None
    current, plan, since, step = None, starts[0], 0, 0
    while time.monotonic() < end or best is None:
        if step < len(starts):
            trial = starts[step]
        elif since > _PATIENCE:
            trial, current, since = search.plans.fresh(rng, starts), None, 0
        else:
            trial = search.plans.changed(plan, current, rng)
        result = search.layout(trial)
        step, since = step + 1, since + 1
        if current is None or _worth(result) <= _worth(current):
            since = since if current is not None and _worth(result) == _worth(current) else 0
            current, plan = result, trial
        if best is None or _worth(result) < _worth(best):
            best, since = result, 0
    spots = {}
    for number, lie, x, y in best.boards[0].placed:
        item = search.items[number]
        spots[item.wanted, item.copy] = Placement(
            x_mm=x / NM_PER_MM, y_mm=y / NM_PER_MM, turn_deg=lie.turn_deg, flipped=lie.flipped
        )
    return _moved_to_corner(strip, spots)


def _worth(result: Result) -> tuple[int, int, int, int]:
    """Pieces beyond the sheet first, then how far the rightmost reaches, and how far all together."""
    reach = [x * UNITS + lie.bounds[2] for _, lie, x, _ in result.boards[0].placed]
    return len(result.left_over), len(result.boards), max(reach), sum(reach)


def extra_alone(strip: Strip, seconds: int, seed: int) -> Found | None:
    """The layout of the optional solver in so many seconds with all cores; None: it is not installed."""
    with ProcessPoolExecutor(1, multiprocessing.get_context("spawn")) as child:
        return child.submit(_solve, strip, seconds, seed).result() if extra.is_there() else None


def together(strip: Strip, seconds: int, seed: int) -> Found:
    """The better of both, at work at the same time for so many seconds; ours takes what the other leaves."""
    with ProcessPoolExecutor(2, multiprocessing.get_context("spawn")) as children:
        works = [_solve, _behind] if extra.is_there() else [_behind]
        found = [one.result() for one in [children.submit(work, strip, seconds, seed) for work in works]]
    return min(found, key=lambda one: one.length_mm)


def _behind(strip: Strip, seconds: int, seed: int) -> Found:
    os.nice(19)
    return ours(strip, seconds, seed)


def _solve(strip: Strip, seconds: int, seed: int) -> Found:
    """In a child process, since a bad item ends the process that asks."""
    import spyrrow

    # single precision: a hair larger, so that what it finds holds exactly
    hair = 0.002
    items = [
        spyrrow.Item(
            str(i),
            list(one.outline.polygon.buffer(hair / 2, join_style="mitre").exterior.coords),
            one.count,
            _DEGREES[one.turns],
        )
        for i, one in enumerate(strip.parts)
    ]
    instance = spyrrow.StripPackingInstance(strip.name, HEIGHT_MM + hair, items)
    config = spyrrow.StripPackingConfig(
        early_termination=False, total_computation_time=seconds, num_workers=2, seed=seed
    )
    solution = instance.solve(config)
    spots: dict[tuple[int, int], Placement] = {}
    for one in solution.placed_items:
        index = int(one.id)
        copy = 1 + sum(key[0] == index for key in spots)
        x, y = (rounded(v - hair / 2) for v in one.translation)
        spots[index, copy] = Placement(x_mm=x, y_mm=y, turn_deg=one.rotation % 360)
    return _moved_to_corner(strip, spots)


def _moved_to_corner(strip: Strip, spots: dict[tuple[int, int], Placement]) -> Found:
    boxes = [_placed(strip, key, spot).bounds for key, spot in spots.items()]
    left, right = min(box[0] for box in boxes), max(box[2] for box in boxes)
    moved = {key: replace(spot, x_mm=rounded(spot.x_mm - left)) for key, spot in spots.items()}
    return Found(rounded(right - left + 1e-6), moved)


def _placed(strip: Strip, key: tuple[int, int], spot: Placement) -> Polygon:
    return strip.parts[key[0]].outline.placed(spot).polygon


def checked(strip: Strip, found: Found) -> float:
    """The density, once the verifier has nothing against the layout as one sheet of its length."""
    board = stock((found.length_mm, HEIGHT_MM))
    wanted: list[Wanted] = want(board, *strip.parts)
    placed = []
    for (index, copy), spot in found.spots.items():
        piece = Piece.whole(strip.parts[index])
        name = f"{piece.part.name}-{copy}"
        placed.append(Placed(id=name, copy=copy, piece=piece, placement=spot, outline=piece.outline.placed(spot)))
    sheet = Sheet(
        stock="board", number=1, kind=Kind.NEW, source=board.sheets[0].key, width_mm=found.length_mm,
        height_mm=HEIGHT_MM, outline=Outline.rectangle(0, 0, found.length_mm, HEIGHT_MM), placed=tuple(placed),
    )  # fmt: skip
    bound = Bound(stock="board", new=1, at_least=0, cost=None, cost_at_least=None, proven=False, reason="")
    if wrong := faults([Layout(stock=board, sheets=(sheet,), bound=bound)], wanted):
        raise SystemExit(f"{strip.name}: {wrong[:3]}")
    return strip.density(found.length_mm)


def table(folder: Path, names: Iterable[str], seconds: int, seed: int) -> Iterator[str]:
    """A line for each instance of a folder: densities, and ours over the optional solver's."""
    yield f"| strip | ours, {seconds} s | extra alone | ours / extra | both | record |"
    yield "|---|---|---|---|---|---|"
    for name in names:
        strip = read(folder / f"{name}.json")
        own = checked(strip, ours(strip, seconds, seed))
        alone = extra_alone(strip, seconds, seed)
        other = checked(strip, alone) if alone else None
        both = checked(strip, together(strip, seconds, seed))
        share = f"{other:.3f} | {own / other:.3f}" if other else "- | -"
        yield f"| {name} | {own:.3f} | {share} | {both:.3f} | {RECORDS.get(name, 0):.3f} |"


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description="Densities of strips.")
    words.add_argument("folder", type=Path)
    words.add_argument("names", nargs="*", default=list(RECORDS))
    words.add_argument("--seconds", type=int, default=10)
    words.add_argument("--seed", type=int, default=1)
    options = words.parse_args()
    for line in table(options.folder, options.names, options.seconds, options.seed):
        print(line, flush=True)


if __name__ == "__main__":
    main()
