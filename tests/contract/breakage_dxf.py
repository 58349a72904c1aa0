"""DXF files taken apart entity by entity and put together again, for the breakages."""

import math
from collections.abc import Callable
from pathlib import Path

from breakage import NotApplicableError
from pack_dxf import read_pairs
from pack_view import bed_number, is_back

Pair = tuple[int, str]
Block = list[Pair]
Point = tuple[float, float]


def read_blocks(path: Path) -> tuple[Block, list[Block], Block]:
    """Split a DXF into what stands before the entities, the entities, and what stands after."""
    pairs = read_pairs(path.read_bytes())
    start = pairs.index((2, "ENTITIES")) + 1
    end = pairs.index((0, "ENDSEC"), start)
    blocks: list[Block] = []
    for pair in pairs[start:end]:
        if pair[0] == 0 and pair[1] not in ("VERTEX", "SEQEND"):
            blocks.append([])
        blocks[-1].append(pair)
    return pairs[:start], blocks, pairs[end:]


def write_pairs(path: Path, pairs: Block) -> None:
    """Write group codes and values as a DXF file."""
    path.write_bytes("".join(f"{code:3d}\n{value}\n" for code, value in pairs).encode("cp1252"))


def of_layer(blocks: list[Block], layer: str, kind: str = "") -> list[Block]:
    """Return the entities of a layer; NotApplicableError where there are none."""
    found = [block for block in blocks if (8, layer) in block and block[0][1].startswith(kind)]
    if not found:
        raise NotApplicableError(f"no {kind or 'entity'} on {layer}")
    return found


def put(block: Block, code: int, value: str) -> None:
    """Set the first value of a group code."""
    at = next(index for index, pair in enumerate(block) if pair[0] == code)
    block[at] = (code, value)


def kind_of(path: Path) -> str:
    """Return which view a file is named for: front, back or bed."""
    if is_back(path.name):
        return "back"
    return "front" if bed_number(path.name) is None else "bed"


def dxf_files(folder: Path, kind: str) -> list[Path]:
    """Return the DXF files of one view, of the usual release."""
    every = sorted((folder / "sheets").glob("*.dxf"))
    return [path for path in every if kind_of(path) == kind and not path.name.endswith("-mm.dxf")]


def change_layer(
    folder: Path, layer: str, change: Callable[[list[Block], list[Block]], None], kind: str = "front"
) -> None:
    """Change the first file of a view that has lines on a layer: `change(those of the layer, all)`."""
    for path in dxf_files(folder, kind):
        before, blocks, after = read_blocks(path)
        own = [block for block in blocks if (8, layer) in block]
        if own:
            change(own, blocks)
            write_pairs(path, before + [pair for block in blocks for pair in block] + after)
            return
    raise NotApplicableError(f"no {kind} file has {layer}")


def points_of(block: Block) -> list[Point]:
    """Return the vertices of a polyline or the centre of a circle."""
    along = [float(value) for code, value in block if code == 10]
    across = [float(value) for code, value in block if code == 20]
    return list(zip(along, across, strict=True))


def set_points(block: Block, points: list[Point]) -> None:
    """Put other vertices in the place of those that are there, as many."""
    flat = {10: [x for x, _ in points], 20: [y for _, y in points]}
    for at, (code, _) in enumerate(block):
        if code in flat:
            value = f"{flat[code].pop(0):.6f}".rstrip("0").rstrip(".")
            block[at] = (code, "0" if value == "-0" else value)


def moved(block: Block, dx: float, dy: float) -> None:
    """Move a block by a vector."""
    set_points(block, [(x + dx, y + dy) for x, y in points_of(block)])


def shifted(block: Block, by_mm: float) -> None:
    """Move a straight line square to itself, to its left."""
    (x0, y0), (x1, y1) = points_of(block)[:2]
    long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    moved(block, -(y1 - y0) / long * by_mm, (x1 - x0) / long * by_mm)


def stretched(block: Block, by_mm: float) -> None:
    """Draw a straight line on at its end, or short of it where negative."""
    (x0, y0), (x1, y1) = points_of(block)[:2]
    long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    share = 1 + by_mm / long
    set_points(block, [(x0, y0), (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)])


def _about(block: Block) -> tuple[Point, list[float]]:
    """Return the middle of a block's vertices and their distances from it."""
    points = points_of(block)
    x, y = (sum(values) / len(points) for values in zip(*points, strict=True))
    return (x, y), [math.hypot(px - x, py - y) for px, py in points]


def is_round(block: Block) -> bool:
    """Whether a block is a polyline of equal arcs that make a circle."""
    _, radii = _about(block)
    bulges = [float(value) for code, value in block if code == 42]
    return len(bulges) == len(radii) and min(bulges) > 0.1 and max(radii) - min(radii) < 1e-3


def widened(block: Block, by_mm: float) -> None:
    """Make the radius of a circle of arcs larger."""
    (x, y), radii = _about(block)
    share = 1 + by_mm / radii[0]
    set_points(block, [(x + (px - x) * share, y + (py - y) * share) for px, py in points_of(block)])
