"""Dimension lines, by ISO 129-1: the value above the line, to be read from below or from the right.

mm on the page.  Where a value has no room between its arrows they point inwards from outside, and the value
stands beyond one of them.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.draw.balance_words import width_mm
from foamcut.draw.overview_sizes import Size
from foamcut.draw.overview_views import Arrangement, Box, Placed, Side
from foamcut.draw.values import Align, Line, Stroke, Text, Title
from foamcut.flat.outline import Point, straight

#: height of values, and of all plain words
TEXT_MM = 2.5
#: from a view to the first dimension line, and from one to the next
FIRST_MM, PITCH_MM = 8.0, 6.5
#: from the point to its extension line, and how far that goes beyond the dimension line
_START_MM, _BEYOND_MM = 0.8, 1.5
_ARROW_MM, _HALF_MM = 2.4, 0.45
#: how long the line is outside an arrow that points inwards; white around a value
_TAIL_MM, _WHITE_MM = 5.0, 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Strokes and texts, and the boxes that they take up."""

    strokes: tuple[Stroke, ...] = ()
    texts: tuple[Text, ...] = ()
    boxes: tuple[Box, ...] = ()


def reach_mm(count: int) -> float:
    """How far so many dimension lines reach from a view, their values included; 0 for none."""
    return FIRST_MM + (count - 1) * PITCH_MM + TEXT_MM + 2 * _WHITE_MM if count else 0.0


def counted(sizes: Sequence[Size], arrangement: Arrangement, view: str, side: Side) -> int:
    """How many sizes stand on a side of a view."""
    return sum(one.view == view and one.side(arrangement) is side for one in sizes)


def dimension_lines(
    sizes: Sequence[Size], views: dict[str, Placed], arrangement: Arrangement, units: str, title: Title
) -> Drawn:
    """The dimension lines of all sizes, on each side of a view the shortest next to it."""
    strokes: list[Stroke] = []
    texts: list[Text] = []
    boxes: list[Box] = []
    for name, placed in views.items():
        for side in Side:
            own = [one for one in sizes if one.view == name and one.side(arrangement) is side]
            own.sort(key=lambda one: (round(one.mm, 1), one.name))
            for level, one in enumerate(own):
                line = _line_at(placed.box, side, FIRST_MM + level * PITCH_MM)
                ends = sorted(_flat(placed.at(point), side) for point in (one.first, one.last))
                drawn = _dimension(ends[0], ends[1], line, side, one.words(units, title))
                strokes += drawn.strokes
                texts += drawn.texts
                boxes += drawn.boxes
    return Drawn(strokes=tuple(strokes), texts=tuple(texts), boxes=tuple(boxes))


def _line_at(box: Box, side: Side, away: float) -> float:
    x0, y0, x1, y1 = box
    return {Side.ABOVE: y1 + away, Side.BELOW: y0 - away, Side.LEFT: x0 - away, Side.RIGHT: x1 + away}[side]


def _flat(point: Point, side: Side) -> Point:
    """Along and across the dimension line: upright ones are worked out as if they lay level."""
    return point if side.is_level else (point[1], point[0])


def _dimension(first: Point, last: Point, at: float, side: Side, words: str) -> Drawn:
    """One dimension line; `first` and `last` are (along, across), `at` is where it lies across."""
    a, b = first[0], last[0]
    wide = width_mm(words, TEXT_MM) + 2 * _WHITE_MM
    is_tight = b - a < max(wide, 4 * _ARROW_MM)
    runs: list[list[Point]] = []
    for along, across in (first, last):
        way = 1.0 if at > across else -1.0
        runs.append([(along, across + way * _START_MM), (along, at + way * _BEYOND_MM)])
    if is_tight:
        end = b + _TAIL_MM + wide
        runs += [[(a - _TAIL_MM, at), (end, at)]]
        runs += [_arrow(a, at, -1.0), _arrow(b, at, 1.0)]
        middle = b + _TAIL_MM + wide / 2
        span = a - _TAIL_MM, end
    else:
        runs += [[(a, at), (b, at)], _arrow(a, at, 1.0), _arrow(b, at, -1.0)]
        middle, span = (a + b) / 2, (a, b)
    level = side.is_level
    strokes = tuple(
        Stroke(line=Line.DIMENSION, segments=straight([_on_page(point, level) for point in run]))
        for run in runs
    )
    where = (middle, at + _WHITE_MM) if level else (at - _WHITE_MM, middle)
    text = Text(
        line=Line.DIMENSION,
        at=where,
        text=words,
        height_mm=TEXT_MM,
        turn_deg=0.0 if level else 90.0,
        align=Align.MIDDLE,
    )
    low, high = (at - _BEYOND_MM, at + TEXT_MM + 2 * _WHITE_MM)
    box = (
        (span[0], low, span[1], high)
        if level
        else (at - TEXT_MM - 2 * _WHITE_MM, span[0], at + _BEYOND_MM, span[1])
    )
    return Drawn(strokes=strokes, texts=(text,), boxes=(box,))


def _on_page(point: Point, level: bool) -> Point:
    return point if level else (point[1], point[0])


def _arrow(along: float, at: float, way: float) -> list[Point]:
    back = along + way * _ARROW_MM
    return [(back, at + _HALF_MM), (along, at), (back, at - _HALF_MM)]
