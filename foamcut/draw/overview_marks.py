"""What is drawn over the views: where the model shall balance, the range of it, and the mean chord.

mm on the page.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import shapely

from foamcut.airframe.values import Inputs
from foamcut.draw.balance_words import width_mm
from foamcut.draw.overview_lines import TEXT_MM
from foamcut.draw.overview_sizes import size_words
from foamcut.draw.overview_views import Box, Placed
from foamcut.draw.values import Align, Line, Shade, Stroke, Text, Title
from foamcut.draw.views import Vector
from foamcut.flat.outline import Point, straight
from foamcut.flight.figures import Report

#: of the round mark of the balance, and how far beside it the bar of its range lies
_RADIUS_MM, _RANGE_MM = 2.2, 3.6
_TICK_MM, _LEADER_MM = 1.2, 3.0
#: a leader grows by so much at a time, and so often at most
_STEP_MM, _MOST_STEPS = 1.0, 60
_CIRCLE = 32


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """Marks, and the boxes that they take up outside the views."""

    shades: tuple[Shade, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    texts: tuple[Text, ...] = ()
    boxes: tuple[Box, ...] = ()


def marks(
    views: Mapping[str, Placed],
    inputs: Inputs | None,
    report: Report | None,
    units: str,
    title: Title,
    lines: Sequence[Sequence[Point]] = (),
) -> Marks:
    """The marks of the balance on the views from above and from the side, and the mean chord.

    `lines` are those of sizes: no word is written over them.
    """
    if inputs is None or inputs.wing is None or report is None:
        return Marks()
    several = [*_balance(views, report), *_mean_chord(views["above"], report, units, title, lines)]
    return Marks(
        shades=tuple(shade for one in several for shade in one.shades),
        strokes=tuple(stroke for one in several for stroke in one.strokes),
        texts=tuple(text for one in several for text in one.texts),
        boxes=tuple(box for one in several for box in one.boxes),
    )


def _balance(views: Mapping[str, Placed], report: Report) -> Iterator[Marks]:
    if report.loaded is None or report.loaded.target_mm is None:
        return
    place = report.loaded.target_mm, 0.0, report.loaded.at[2]
    yield _round_mark(views["above"].at(place))
    yield _round_mark(views["side"].at(place))
    front, back = report.number("balance_front"), report.number("balance_back")
    if front is None or back is None or round(back.value - front.value, 1) <= 0:
        return
    ends = [views["above"].at((number.value, 0.0, 0.0)) for number in (front, back)]
    yield Marks(strokes=tuple(_bar(ends[0], ends[1])))


def _round_mark(middle: Point) -> Marks:
    """A circle with two of its quarters black."""
    x, y = middle
    ring = [_at(middle, _RADIUS_MM, 360 * i / _CIRCLE) for i in range(_CIRCLE + 1)]
    shades = [Shade(points=(*ring, ring[0]), grey=1.0)]
    for first in (0, 180):
        arc = [_at(middle, _RADIUS_MM, first + 90 * i / 8) for i in range(9)]
        shades.append(Shade(points=(middle, *arc), grey=0.0))
    cross = (
        [(x - _RADIUS_MM, y), (x + _RADIUS_MM, y)],
        [(x, y - _RADIUS_MM), (x, y + _RADIUS_MM)],
    )
    strokes = [Stroke(line=Line.CREASE, segments=straight(ring), closed=True)]
    strokes += [Stroke(line=Line.CREASE, segments=straight(run)) for run in cross]
    return Marks(shades=tuple(shades), strokes=tuple(strokes))


def _at(middle: Point, radius: float, deg: float) -> Point:
    turn = math.radians(deg)
    return middle[0] + radius * math.cos(turn), middle[1] + radius * math.sin(turn)


def _bar(first: Point, last: Point) -> Iterator[Stroke]:
    """A bar beside the line from first to last, with a tick at each end."""
    (ax, ay), (bx, by) = first, last
    length = math.dist(first, last)
    sx, sy = (by - ay) / length, (ax - bx) / length  # to the side
    ends = [(x + sx * _RANGE_MM, y + sy * _RANGE_MM) for x, y in (first, last)]
    yield Stroke(line=Line.EDGE, segments=straight(ends))
    for x, y in ends:
        tick = [(x - sx * _TICK_MM, y - sy * _TICK_MM), (x + sx * _TICK_MM, y + sy * _TICK_MM)]
        yield Stroke(line=Line.EDGE, segments=straight(tick))


def _mean_chord(
    above: Placed, report: Report, units: str, title: Title, lines: Sequence[Sequence[Point]]
) -> Iterator[Marks]:
    """Where it lies on the right wing, with its length behind the wing."""
    chord, leading, out = (report.number(n) for n in ("mean_chord", "mean_chord_leading", "mean_chord_out"))
    if chord is None or leading is None or out is None:
        return
    front: Vector = (leading.value, out.value, 0.0)
    rear: Vector = (leading.value + chord.value, out.value, 0.0)
    a, b = above.at(front), above.at(rear)
    length = math.dist(a, b) or 1.0
    dx, dy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    runs: list[Sequence[Point]] = [
        [(x - dy * _TICK_MM, y + dx * _TICK_MM), (x + dy * _TICK_MM, y - dx * _TICK_MM)] for x, y in (a, b)
    ]
    words = f"mean chord {size_words(chord.value, units, title)}"
    end, text, box = _beyond(b, (dx, dy), words, above, lines)
    strokes = [Stroke(line=Line.CENTRE, segments=straight([a, b]))]
    strokes += [Stroke(line=Line.CREASE, segments=straight(run)) for run in runs]
    strokes.append(Stroke(line=Line.DIMENSION, segments=straight([b, end])))
    yield Marks(strokes=tuple(strokes), texts=(text,), boxes=(box,))


def _beyond(
    start: Point, way: Point, words: str, above: Placed, sizes: Sequence[Sequence[Point]]
) -> tuple[Point, Text, Box]:
    """Words at the end of a leader, which is as long as it must be for them to meet no line."""
    own = [[above.on_page(point) for point in run] for _, run in above.view.runs]
    lines = shapely.MultiLineString([*own, *sizes])
    wide = width_mm(words, TEXT_MM)
    is_level = abs(way[0]) > abs(way[1])
    for step in range(_MOST_STEPS + 1):
        length = _LEADER_MM + step * _STEP_MM
        end = start[0] + way[0] * length, start[1] + way[1] * length
        if is_level:
            at, align = (end[0] + 1.0, end[1] - TEXT_MM / 2), Align.LEFT
            box = (at[0], at[1], at[0] + wide, at[1] + TEXT_MM)
        else:  # outwards of the end: sizes of the tail stand on the other side
            at, align = (end[0] + 0.8, end[1] + 0.8), Align.RIGHT
            box = (at[0] - wide, at[1], at[0], at[1] + TEXT_MM)
        if not lines.intersects(shapely.box(*box).buffer(0.6)):
            break
    return end, Text(line=Line.DIMENSION, at=at, text=words, height_mm=TEXT_MM, align=align), box
