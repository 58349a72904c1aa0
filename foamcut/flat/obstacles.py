"""What joint lines and doublers of a part keep off: slots, cutouts, folds, tabs, ranges to keep clear, marks.

The part's coordinates, mm.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import shapely
from shapely import LinearRing, LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from foamcut.flat.clipping import Run, run_points
from foamcut.flat.drawn import KeepClear
from foamcut.flat.folds import Fold
from foamcut.flat.marks import Mark, TapeMark
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.flat.tolerances import CHORD_MM, NARROW_WEB_MM, ON_EDGE_MM, SAME_POINT_MM
from foamcut.units import decimal_text

#: a fold at this angle to a joint line or more crosses it, and cannot be kept off it, degrees
CROSSES_DEG = 30.0

#: chords of marks are this much closer to their arcs than those of parts
_FINER = 4

Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """Something that joint lines keep one overlap away from: its key, a word for it, its box.

    `bars` says for lines at one x and at one y whether it is in their way at all.
    """

    key: str
    word: str
    bounds: Box
    bars: tuple[bool, bool] = (True, True)

    def reach(self, axis: int) -> tuple[float, float]:
        """Lowest and highest x (axis 0) or y (axis 1)."""
        return self.bounds[axis], self.bounds[axis + 2]

    def text(self, axis: int) -> str:
        """What it is called in a refusal, with where it lies."""
        low, high = (decimal_text(v) for v in self.reach(axis))
        return f"{self.word} ({'xy'[axis]} {low} to {high})"


def obstacles(part: Part) -> tuple[Obstacle, ...]:
    """All that the joint lines of a part keep off.

    A fold that runs across a line, at 30 degrees to it or more (the long folds of a trough), cannot be
    kept off and is allowed; only folds that lie along the line keep the distance.
    """
    bounds = part.outline.bounds
    found = [_obstacle(slot.key, slot.outline.bounds) for slot in part.slots]
    found += [_obstacle(part.key, hole.bounds, _hole_word(hole)) for hole in _cutouts(part)]
    found += [_fold(fold) for fold in part.folds]
    found += [_obstacle(tab.key, tab.outline.bounds) for tab in part.tabs]
    kept = ((keep, keep_box(keep, bounds)) for keep in part.keep_clear)
    found += [_obstacle(keep.key, bounds) for keep, bounds in kept if bounds is not None]
    return tuple(found)


def keep_box(keep: KeepClear, bounds: Box) -> Box | None:
    """The box kept clear, cut off at the part's own box where it is open; None: it misses the part."""
    x0, x1 = keep.x_mm or (bounds[0], bounds[2])
    y0, y1 = keep.y_mm or (bounds[1], bounds[3])
    if x0 > bounds[2] or x1 < bounds[0] or y0 > bounds[3] or y1 < bounds[1]:
        return None
    return x0, y0, x1, y1


def barred(part: Part, inset_mm: float) -> BaseGeometry:
    """Where no doubler lies, beside the part's edges: near folds and clear marks, in ranges kept clear.

    Cuts of the part are its edges, and kept off with them.  What has no width of its own is given a
    little, so that doublers never cross it.
    """
    off = max(inset_mm, NARROW_WEB_MM)
    shapes: list[BaseGeometry] = []
    for fold in part.folds:
        # mitred corners stay the full distance away, chords of round ones would not
        shapes.append(_band(fold, off).buffer(off, join_style="mitre", cap_style="square"))
    shapes += [shape for _, shape in clear_marks(part, inset_mm)]
    for keep in part.keep_clear:
        kept = keep_box(keep, part.outline.bounds)
        if kept is not None:
            shapes.append(box(*kept))
    return shapely.union_all(shapes)


def clear_marks(part: Part, inset_mm: float) -> list[tuple[str, BaseGeometry]]:
    """The marks that doublers keep off: the key of each, and what it bars for doublers."""
    # chords lie inside their arcs by up to a sag
    beyond = max(inset_mm, NARROW_WEB_MM) + CHORD_MM / _FINER
    return [
        (mark.key, _mark_shape(mark).buffer(beyond, join_style="mitre", cap_style="square"))
        for mark in part.marks
        if mark.clear
    ]


def _obstacle(key: str, bounds: Box, word: str = "") -> Obstacle:
    return Obstacle(key=key, word=word or key.rsplit(".", 1)[-1], bounds=bounds)


def _cutouts(part: Part) -> list[Polygon]:
    """Holes of the part that are not slots alone."""
    slots = shapely.union_all([slot.outline.polygon for slot in part.slots]).buffer(ON_EDGE_MM)
    holes = [Polygon(ring) for ring in part.outline.polygon.interiors]
    return [hole for hole in holes if not slots.covers(hole)]


def _hole_word(hole: Polygon) -> str:
    x0, y0, x1, y1 = hole.bounds
    return f"the cutout at {decimal_text((x0 + x1) / 2)}, {decimal_text((y0 + y1) / 2)}"


def _fold(fold: Fold) -> Obstacle:
    (x0, y0), (x1, y1) = fold.start, fold.end
    from_upright = math.degrees(math.atan2(abs(x1 - x0), abs(y1 - y0)))
    bars = from_upright < CROSSES_DEG, 90 - from_upright < CROSSES_DEG
    xs, ys = zip(*_fold_points(fold), strict=True)
    bounds = min(xs), min(ys), max(xs), max(ys)
    return Obstacle(key=fold.key, word=fold.key.rsplit(".", 1)[-1], bounds=bounds, bars=bars)


def _fold_points(fold: Fold) -> list[Point]:
    runs = (*fold.cut_runs(), *fold.fold)
    return [point for run in runs for point in run_points(run)] or [fold.start, fold.end]


def _band(fold: Fold, beyond_mm: float) -> BaseGeometry:
    """The worked band of a fold, a little longer, so that a slanting edge leaves no corner."""
    (x0, y0), (x1, y1) = fold.start, fold.end
    length = math.dist(fold.start, fold.end)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    along = [(x - x0) * dx + (y - y0) * dy for x, y in _fold_points(fold)]
    low, high = (sorted((0.0, *fold.band_mm))[i] for i in (0, -1))
    more = beyond_mm + high - low
    first, last = min(along) - more, max(along) + more

    def at(a: float, s: float) -> Point:
        return x0 + a * dx - s * dy, y0 + a * dy + s * dx

    if high - low <= SAME_POINT_MM:
        return LineString([at(first, 0.0), at(last, 0.0)])
    return Polygon([at(first, low), at(last, low), at(last, high), at(first, high)])


def _mark_shape(mark: Mark) -> BaseGeometry:
    """What a mark stands for: the strip of a tape, the inside of a closed line, else the lines."""
    shapes = list(_line_shapes(_fine_points(run) for run in mark.drawn().runs))
    if isinstance(mark, TapeMark):
        lines = (LineString(run_points(run)) for run in mark.middle)
        half = mark.width_mm / 2
        shapes += [line.buffer(half, cap_style="flat", join_style="mitre") for line in lines]
    return shapely.union_all(shapes)


def _fine_points(run: Run) -> tuple[Point, ...]:
    """Points along a run, close enough that the chords stay chords of a circle that is moved outwards."""
    return (run[0].start, *(p for segment in run for p in segment.points(CHORD_MM / _FINER)))


def _line_shapes(lines: Iterable[tuple[Point, ...]]) -> Iterable[BaseGeometry]:
    for points in lines:
        if len(points) > 3 and points[0] == points[-1] and LinearRing(points).is_simple:
            yield Polygon(points)
        else:
            yield LineString(points)
