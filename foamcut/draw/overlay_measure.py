"""The largest difference of two versions of a part, with a dimension on the picture.

mm on the picture, the upper left corner of the view at (0, 0), y up.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from foamcut.draw.balance_words import PLAIN_MM, broken, length_words, width_mm, words_at
from foamcut.draw.overlay_view import Versions, View
from foamcut.draw.picture import Ink, Shape
from foamcut.draw.values import Align, Text
from foamcut.flat.outline import Point
from foamcut.units import inch_text

#: less is not shown, mm of the part
_LEAST_MM = 0.05
#: an end that differs by this share of the largest difference is what is shown: ends are plain to measure
_END_SHARE = 0.7
#: from the view to a dimension line, how far extension lines reach beyond it, half the length of a tick
_OFF_MM, _BEYOND_MM, _TICK_MM = 5.0, 1.5, 1.2
#: room that a dimension takes below and to the right of the view
BELOW_MM, BESIDE_MM = 12.0, 38.0
_STEP_MM = 4.0
_CIRCLE = 24


@dataclass(frozen=True, slots=True)
class Difference:
    """From a place on one version to the nearest on the other; `axis` 0 or 1 for ends, None: elsewhere."""

    start: Point
    end: Point
    axis: int | None

    @property
    def mm(self) -> float:
        """How far they lie apart."""
        return float(np.hypot(self.end[0] - self.start[0], self.end[1] - self.start[1]))


def largest(old: Polygon, new: Polygon) -> Difference | None:
    """Where two versions differ most; None where they hardly do."""
    across = max((_farthest(new, old), _farthest(old, new)), key=lambda one: round(one.mm, 3))
    ends = [_end(old, new, axis, side) for axis in (0, 1) for side in (2, 0)]
    end = max(ends, key=lambda one: round(one.mm, 3))
    if max(across.mm, end.mm) < _LEAST_MM:
        return None
    return end if end.mm >= _END_SHARE * across.mm else across


def _farthest(one: Polygon, other: Polygon) -> Difference:
    points = shapely.get_coordinates(shapely.segmentize(one.boundary, _STEP_MM))
    apart = np.round(shapely.distance(shapely.points(points), other.boundary), 3)
    at = points[int(np.argmax(apart))]
    to = shapely.get_coordinates(shapely.shortest_line(shapely.Point(at), other.boundary))[-1]
    return Difference((float(at[0]), float(at[1])), (float(to[0]), float(to[1])), None)


def _end(old: Polygon, new: Polygon, axis: int, side: int) -> Difference:
    """How far one end of both lies apart, at the corners nearest to where the dimension stands."""
    found = []
    for shape in (old, new):
        at = shape.bounds[axis + side]
        there = [one for one in shape.exterior.coords if abs(one[axis] - at) < _LEAST_MM]
        along = min(one[1] for one in there) if axis == 0 else max(one[0] for one in there)
        found.append((at, along) if axis == 0 else (along, at))
    (ax, ay), (bx, by) = found
    level = min(ay, by) if axis == 0 else max(ax, bx)
    return (
        Difference((ax, level), (bx, level), axis)
        if axis == 0
        else Difference((level, ay), (level, by), axis)
    )


def dimension(one: Difference, view: View, units: str) -> tuple[list[Shape], list[Text]]:
    """The dimension: of an end below or beside the view, elsewhere a circle and a line to its words."""
    words = measured(one.mm, units)
    a, b = view.at(one.start), view.at(one.end)
    if one.axis is None:
        return _beside(a, b, view, words)
    level = (one.axis == 0) != view.turned
    return _below(a, b, view, words) if level else _right(a, b, view, words)


def measured(mm: float, units: str) -> str:
    """A length in mm; in inches as a ruler reads it, with the mm beside it."""
    return f"{inch_text(mm)} in ({length_words(mm, 'mm')})" if units == "in" else length_words(mm, units)


def _below(a: Point, b: Point, view: View, words: str) -> tuple[list[Shape], list[Text]]:
    y = -view.high_mm - _OFF_MM
    runs = [((x, from_y - 0.6), (x, y - _BEYOND_MM)) for x, from_y in (a, b)]
    runs += [((a[0], y), (b[0], y)), *_ticks([(a[0], y), (b[0], y)])]
    half = width_mm(words) / 2
    middle = min(max((a[0] + b[0]) / 2, half), max(view.wide_mm + BESIDE_MM - half, half))
    return [_line(run) for run in runs], [words_at((middle, y - 1.6 - PLAIN_MM), words, align=Align.MIDDLE)]


def _right(a: Point, b: Point, view: View, words: str) -> tuple[list[Shape], list[Text]]:
    x = view.wide_mm + _OFF_MM
    runs = [((from_x + 0.6, y), (x + _BEYOND_MM, y)) for from_x, y in (a, b)]
    runs += [((x, a[1]), (x, b[1])), *_ticks([(x, a[1]), (x, b[1])])]
    at = x + _BEYOND_MM + 1.0, (a[1] + b[1]) / 2 - PLAIN_MM / 2
    return [_line(run) for run in runs], [words_at(at, words)]


def _beside(a: Point, b: Point, view: View, words: str) -> tuple[list[Shape], list[Text]]:
    """A circle about the place, and words at the right of the view."""
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    radius = max(2.0, float(np.hypot(a[0] - b[0], a[1] - b[1])) / 2 + 1.0)
    turns = [2 * np.pi * i / _CIRCLE for i in range(_CIRCLE)]
    ring = tuple(
        (round(float(middle[0] + radius * np.cos(t)), 4), round(float(middle[1] + radius * np.sin(t)), 4))
        for t in turns
    )
    x = view.wide_mm + _OFF_MM
    run = ((middle[0] + radius, middle[1]), (x, middle[1]))
    lines = broken(f"{words} here", BESIDE_MM - _OFF_MM - 1.0)
    texts = [
        words_at((x + 1.0, middle[1] - PLAIN_MM / 2 - i * 1.6 * PLAIN_MM), line)
        for i, line in enumerate(lines)
    ]
    return [Shape(ink=Ink.MEASURE, points=ring, closed=True), _line(run)], texts


def _ticks(points: list[Point]) -> Iterator[tuple[Point, Point]]:
    for x, y in points:
        yield (x - _TICK_MM, y - _TICK_MM), (x + _TICK_MM, y + _TICK_MM)


def _line(run: tuple[Point, ...]) -> Shape:
    return Shape(ink=Ink.MEASURE, points=run)


def both(versions: Versions) -> Difference | None:
    """The largest difference of a part that has both versions."""
    if versions.old is None or versions.new is None:
        return None
    return largest(versions.old, versions.new)
