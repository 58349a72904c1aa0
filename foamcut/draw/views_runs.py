"""Pieces of edges joined into long runs, with few points."""

from collections.abc import Sequence

import numpy as np
import shapely

from foamcut.flat.outline import Point

#: ends of pieces this near are one, decimals of a mm
_PLACES = 3
#: points that lie this near to a run without them are left out, mm
_SIMPLE_MM = 0.08
#: what is seen of an edge that is hidden elsewhere is not drawn where it is shorter than this, mm
SPECK_MM = 0.8
#: nor is a run shorter than this
_LEAST_MM = 0.4
#: the same for a run that is joined to no other
_LONE_MM = 1.5


def runs(pieces: np.ndarray) -> tuple[tuple[Point, ...], ...]:
    """Runs of points along pieces (n, 2, 2), each piece once; a run ends where other than two pieces meet."""
    if not len(pieces):
        return ()
    lines = _without_specks(_chained(np.round(pieces, _PLACES) + 0.0))
    if not lines:
        return ()
    simple = shapely.simplify([shapely.LineString(line) for line in lines], _SIMPLE_MM)
    return tuple(tuple((float(x), float(y)) for x, y in line.coords) for line in simple)


def _without_specks(lines: Sequence[list[Point]]) -> list[list[Point]]:
    """The lines without those that are too short to see, or short and joined to no other."""
    ends: dict[Point, int] = {}
    for line in lines:
        for end in (line[0], line[-1]):
            ends[end] = ends.get(end, 0) + 1
    kept = []
    for line in lines:
        size = _size(line)
        is_joined = line[0] == line[-1] or ends[line[0]] + ends[line[-1]] > 2
        if size >= (_LEAST_MM if is_joined else _LONE_MM):
            kept.append(line)
    return kept


def _size(line: Sequence[Point]) -> float:
    xs, ys = [x for x, _ in line], [y for _, y in line]
    return round(max(max(xs) - min(xs), max(ys) - min(ys)), _PLACES)


def _chained(pieces: np.ndarray) -> list[list[Point]]:
    ends: dict[Point, list[int]] = {}
    pairs: list[tuple[Point, Point]] = []
    known: set[tuple[Point, Point]] = set()
    for (ax, ay), (bx, by) in pieces.tolist():
        a, b = (ax, ay), (bx, by)
        key = (a, b) if a < b else (b, a)
        if a == b or key in known:
            continue
        known.add(key)
        for end in (a, b):
            ends.setdefault(end, []).append(len(pairs))
        pairs.append((a, b))
    used = [False] * len(pairs)
    lines = []
    forks = [end for end, several in ends.items() if len(several) != 2]
    for start in (*forks, *(pair[0] for pair in pairs)):
        for first in ends[start]:
            if not used[first]:
                lines.append(_followed(start, first, pairs, ends, used))
    return lines


def _followed(
    start: Point,
    first: int,
    pairs: Sequence[tuple[Point, Point]],
    ends: dict[Point, list[int]],
    used: list[bool],
) -> list[Point]:
    line, at, piece = [start], start, first
    while True:
        used[piece] = True
        a, b = pairs[piece]
        at = b if at == a else a
        line.append(at)
        several = ends[at]
        if len(several) != 2:
            return line
        piece = several[0] if several[1] == piece else several[1]
        if used[piece]:
            return line
