"""Runs of lines and arcs cut off at a region's edge: what lies within stays, arcs stay arcs."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

import shapely
from shapely import LineString, Polygon

from foamcut.flat.outline import Circle, Point, Segment, arcs
from foamcut.flat.tolerances import SAME_POINT_MM

Run = tuple[Segment, ...]
_Chord = tuple[Point, Point, Circle | None]


def clipped(runs: Iterable[Run], region: Polygon) -> tuple[Run, ...]:
    """The stretches of the runs that lie in a region, in order; bits shorter than a point are dropped."""
    found: list[Run] = []
    for run in runs:
        if region.covers(LineString(run_points(run))):
            found.append(run)
        else:
            found.extend(_rejoined(chords) for chords in _inside(_chords(run), region))
    return tuple(run for run in found if run)


def mirrored(runs: Iterable[Run]) -> tuple[Run, ...]:
    """The runs with y -> -y."""
    return tuple(tuple(Segment(flip(s.start), flip(s.end), -s.bulge + 0.0) for s in run) for run in runs)


def run_points(run: Run) -> tuple[Point, ...]:
    """Points along a run, arcs as chords."""
    return (run[0].start, *(point for segment in run for point in segment.points()))


def flip(point: Point) -> Point:
    """A point with y -> -y."""
    return point[0], -point[1] + 0.0


def _chords(run: Run) -> list[_Chord]:
    chords: list[_Chord] = []
    for segment in run:
        circle = Circle(*segment.centre, segment.radius) if segment.bulge else None
        points = (segment.start, *segment.points())
        chords.extend((a, b, circle) for a, b in pairwise(points))
    return chords


def _inside(chords: Sequence[_Chord], region: Polygon) -> list[list[_Chord]]:
    """Chains of the chords' parts in the region; a chain ends where the run leaves it."""
    chains: list[list[_Chord]] = []
    for start, end, circle in chords:
        for a, b in _stretches(start, end, region):
            if chains and chains[-1][-1][1] == a:
                chains[-1].append((a, b, circle))
            else:
                chains.append([(a, b, circle)])
    return [chain for chain in chains if sum(math.dist(a, b) for a, b, _ in chain) > SAME_POINT_MM]


def _stretches(start: Point, end: Point, region: Polygon) -> list[tuple[Point, Point]]:
    """The parts of one chord in the region, in its direction."""
    line = LineString([start, end])
    if not line.length:
        return []
    found = []
    for part in shapely.get_parts(line.intersection(region)):
        if isinstance(part, LineString) and part.length:
            (ax, ay), (bx, by) = part.coords[0], part.coords[-1]
            ends = (ax, ay), (bx, by)
            found.append(ends if _along(ends[0], start, end) <= _along(ends[1], start, end) else ends[::-1])
    found.sort(key=lambda ends: _along(ends[0], start, end))
    return [(a, b) for a, b in found]


def _along(point: Point, start: Point, end: Point) -> float:
    return (point[0] - start[0]) * (end[0] - start[0]) + (point[1] - start[1]) * (end[1] - start[1])


def _rejoined(chain: Sequence[_Chord]) -> Run:
    """A chain of chords as segments, those of one circle as arcs."""
    segments: list[Segment] = []
    held: list[tuple[Point, Point]] = []
    for i, (a, b, circle) in enumerate(chain):
        held.append((a, b))
        if i + 1 == len(chain) or chain[i + 1][2] != circle:
            segments.extend(arcs(held, circle) if circle else [Segment(*ends) for ends in held])
            held = []
    return tuple(segments)
