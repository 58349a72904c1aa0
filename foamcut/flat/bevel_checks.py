"""Bevels of a part with all that is on it: they keep off tabs and off the cuts of folds.  mm."""

import math
from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely import LineString, Polygon

from foamcut.errors import Refusal
from foamcut.flat.bevel_lines import bevels_of
from foamcut.flat.bevels import Bevel
from foamcut.flat.clipping import Run, run_points
from foamcut.flat.folds import Fold
from foamcut.flat.frame import Frame, across
from foamcut.flat.outline import Segment
from foamcut.flat.part import Tab
from foamcut.flat.tolerances import ON_EDGE_MM, SAME_POINT_MM
from foamcut.flat.trace import Trace, place_text


def laid_bevels(
    trace: Trace, region: Polygon, thickness_mm: float, tabs: Sequence[Tab], folds: Sequence[Fold]
) -> tuple[tuple[Bevel, ...], list[Refusal]]:
    """The bevels of an outline, trimmed to a region (the part with its cuts), and what was refused.

    The bevels are only of use when nothing was refused.
    """
    if not trace.edges:
        return (), []
    bevels, refusals = bevels_of(trace.edges, thickness_mm, trace.outline.polygon)
    bevels = tuple(_up_to_folds(bevel, folds) for bevel in bevels)
    for bevel in bevels:
        refusals += [*_tabs_refused(bevel, tabs), *_folds_refused(bevel, folds)]
    wide = Bevel.edge_region(region)
    shapely.prepare(region)
    shapely.prepare(wide)
    trimmed = (bevel.trimmed(region, wide) for bevel in bevels)
    clear = (_off_edges(bevel, region) for bevel in trimmed if bevel is not None)
    return tuple(bevel for bevel in clear if bevel.runs), refusals


def _up_to_folds(bevel: Bevel, folds: Sequence[Fold]) -> Bevel:
    """The bevel with its line cut off at the folds that end where its edge does.

    At such a corner the outline turns inwards and two panels part; the mitre of their bevels would lie
    beyond the fold, in a third one.
    """
    start, end = bevel.edge[0][0].start, bevel.edge[-1][-1].end
    runs = bevel.runs
    for fold in folds:
        for run in fold.fold:
            turn = LineString(run_points(run))
            ends = (run[0].start, run[-1].end)
            if any(math.dist(at, start) <= ON_EDGE_MM for at in ends):
                runs = tuple(_cut_off(one, turn, after=True) for one in runs)
            if any(math.dist(at, end) <= ON_EDGE_MM for at in ends):
                runs = tuple(_cut_off(one, turn, after=False) for one in runs)
    return replace(bevel, runs=runs)


def _cut_off(run: Run, turn: LineString, *, after: bool) -> Run:
    """What of a straight run lies after, or before, it crosses a line."""
    if len(run) > 1 or run[0].bulge:
        return run
    met = shapely.get_coordinates(turn.intersection(LineString(run_points(run))))
    if len(met) != 1:
        return run
    at = (float(met[0][0]), float(met[0][1]))
    first, last = run[0].start, run[-1].end
    if min(math.dist(at, first), math.dist(at, last)) <= SAME_POINT_MM:
        return run
    return (Segment(at, last),) if after else (Segment(first, at),)


def _off_edges(bevel: Bevel, region: Polygon) -> Bevel:
    """The bevel without what of its straight lines lies on a cut of the part: that is cut already."""
    runs: list[Run] = []
    for run in bevel.runs:
        if len(run) > 1 or run[0].bulge:
            runs.append(run)
            continue
        frame = Frame(run[0].start, run[0].end)
        if shapely.contains_properly(region, LineString(run_points(run))):
            runs.append(run)
            continue
        for u0, u1 in across(frame, 0.0, region):
            low, high = max(u0, 0.0), min(u1, frame.length)
            if high - low > SAME_POINT_MM:
                runs.append((Segment(frame.at(low, 0.0), frame.at(high, 0.0)),))
    return replace(bevel, runs=tuple(runs))


def _tabs_refused(bevel: Bevel, tabs: Sequence[Tab]) -> list[Refusal]:
    edges = [LineString(run_points(run)) for run in bevel.edge]
    row = bevel.key.rsplit(".", 1)[-1]
    return [
        Refusal(
            key=f"{tab.key}.at",
            text=f"the tab stands at {place_text(tab.at)} on the edge that leaves {row}, which is bevelled; a"
            " tab needs a square edge: move it, or leave the bevel out",
        )
        for tab in tabs
        if any(edge.distance(shapely.Point(tab.at)) <= ON_EDGE_MM for edge in edges)
    ]


def _folds_refused(bevel: Bevel, folds: Sequence[Fold]) -> list[Refusal]:
    """A line along a fold, in what is cut for it on the same face; a line across a fold may be."""
    lines = [segment for run in bevel.runs for segment in run if not segment.bulge]
    refusals = []
    for fold in folds:
        if fold.cut_behind is not bevel.back:
            continue
        frame = Frame(fold.start, fold.end)
        runs = [frame.us(shapely.get_coordinates(LineString(run_points(run))))[0] for run in fold.fold]
        for segment in lines:
            u, s = frame.us(shapely.get_coordinates(LineString([segment.start, segment.end])))
            low, high = fold.band_mm[0] - SAME_POINT_MM, fold.band_mm[1] + SAME_POINT_MM
            beside = any(min(u.max(), r.max()) - max(u.min(), r.min()) > SAME_POINT_MM for r in runs)
            if beside and low <= s.min() and s.max() <= high:
                x, y = (segment.start[0] + segment.end[0]) / 2, (segment.start[1] + segment.end[1]) / 2
                text = (
                    f"the line of the bevel lies in what is cut for {fold.key.rsplit('.', 1)[-1]}, at"
                    f" {place_text((x, y))}; make the angle smaller, or move the fold"
                )
                refusals.append(Refusal(key=bevel.key, text=text))
                break
    return refusals
