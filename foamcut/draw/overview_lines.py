"""Dimension lines, by ISO 129-1: the value above the line, to be read from below or from the right.

mm on the page.  Where a value has no room between its arrows they point inwards from outside, and the value
stands beyond that one of them where it meets no other line.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from foamcut.draw.balance_words import width_mm
from foamcut.draw.overview_sizes import Size
from foamcut.draw.overview_views import Arrangement, Box, Placed, Side
from foamcut.draw.values import Align, Line, Stroke, Text, Title
from foamcut.flat.outline import Point, straight

#: height of values, and of all plain words
TEXT_MM = 2.5
#: from a view to the first dimension line, and from one to the next
FIRST_MM, PITCH_MM = 7.5, 6.0
#: from the point to its extension line, and how far that goes beyond the dimension line
_START_MM, _BEYOND_MM = 0.8, 1.5
_ARROW_MM, _HALF_MM = 2.4, 0.45
#: how long the line is outside an arrow that points inwards; white around a value
_TAIL_MM, _WHITE_MM = 3.4, 0.9
#: of so many values all ways to place them are tried; further ones stand after their arrows
_MOST_CHOICES = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """Strokes and texts, and the boxes that they take up."""

    strokes: tuple[Stroke, ...] = ()
    texts: tuple[Text, ...] = ()
    boxes: tuple[Box, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """A dimension line between `first` and `last`, both (along, across); `at` is where it lies across."""

    first: Point
    last: Point
    at: float
    is_level: bool
    words: str

    @property
    def wide_mm(self) -> float:
        """What its value takes up along the line."""
        return width_mm(self.words, TEXT_MM) + 2 * _WHITE_MM

    @property
    def is_tight(self) -> bool:
        """Whether the value has no room between the arrows."""
        return self.last[0] - self.first[0] < max(self.wide_mm, 4 * _ARROW_MM)

    def extensions(self) -> list[list[Point]]:
        """The lines from the points to beyond the dimension line."""
        lines = []
        for along, across in (self.first, self.last):
            way = 1.0 if self.at > across else -1.0
            lines.append([(along, across + way * _START_MM), (along, self.at + way * _BEYOND_MM)])
        return lines

    def value_span(self, after: bool) -> tuple[float, float]:
        """From where to where along the value reaches: between the arrows, or after or before them."""
        if not self.is_tight:
            middle = (self.first[0] + self.last[0]) / 2
            return middle - self.wide_mm / 2, middle + self.wide_mm / 2
        if after:
            return self.last[0] + _TAIL_MM, self.last[0] + _TAIL_MM + self.wide_mm
        return self.first[0] - _TAIL_MM - self.wide_mm, self.first[0] - _TAIL_MM

    def on_page(self, point: Point) -> Point:
        """From along and across to the page."""
        return point if self.is_level else (point[1], point[0])

    def box(self, span: tuple[float, float]) -> Box:
        """What a stretch of the line and the value above it take up."""
        if self.is_level:
            return span[0], self.at - _WHITE_MM, span[1], self.at + TEXT_MM + 1.4 * _WHITE_MM
        return self.at - TEXT_MM - 1.4 * _WHITE_MM, span[0], self.at + _WHITE_MM, span[1]


def reach_mm(count: int) -> float:
    """How far so many dimension lines reach from a view, their values included; 0 for none."""
    return FIRST_MM + (count - 1) * PITCH_MM + TEXT_MM + 2 * _WHITE_MM if count else 0.0


def counted(sizes: Sequence[Size], arrangement: Arrangement, view: str, side: Side) -> int:
    """How many sizes stand on a side of a view."""
    return sum(one.view == view and one.side(arrangement) is side for one in sizes)


def dimension_lines(
    sizes: Sequence[Size],
    views: Mapping[str, Placed],
    arrangement: Arrangement,
    units: str,
    title: Title,
    taken: Sequence[Box] = (),
) -> Drawn:
    """The dimension lines of all sizes, on each side of a view the shortest next to it.

    `taken` are boxes besides the views that values should not meet.
    """
    several = list(_runs(sizes, views, arrangement, units, title))
    fixed = [*(placed.box for placed in views.values()), *taken]
    strokes: list[Stroke] = []
    texts: list[Text] = []
    boxes: list[Box] = []
    for run, after in zip(several, _sides(several, fixed), strict=True):
        strokes += _strokes(run, after)
        texts.append(_value(run, after))
        boxes.append(run.box(_whole_span(run, after)))
    return Drawn(strokes=tuple(strokes), texts=tuple(texts), boxes=tuple(boxes))


def drawn_lines(
    sizes: Sequence[Size],
    views: Mapping[str, Placed],
    arrangement: Arrangement,
    units: str,
    title: Title,
) -> list[list[Point]]:
    """Dimension lines and their extension lines, whichever side their values stand on."""
    several = _runs(sizes, views, arrangement, units, title)
    runs = [(run, [(run.first[0], run.at), (run.last[0], run.at)]) for run in several]
    lines = [(run, line) for run, own in runs for line in (own, *run.extensions())]
    return [[run.on_page(point) for point in line] for run, line in lines]


def _sides(several: Sequence[_Run], taken: Sequence[Box]) -> list[bool]:
    """Whether each value stands after its arrows: so that values meet as little as can be.

    Of ways that are as good that which takes up least room, then the first.
    """
    tight = [run for run in several if run.is_tight]
    fixed = [*taken, *(run.box(run.value_span(True)) for run in several if not run.is_tight)]
    both = [[run.box(run.value_span(after)) for after in (True, False)] for run in tight]
    alone = []
    for run, boxes in zip(tight, both, strict=True):
        lines = [_thin(other, line) for other in several if other is not run for line in other.extensions()]
        alone.append([sum(_meet(box, other) for other in (*fixed, *lines)) for box in boxes])
    best: tuple[float, ...] = ()
    chosen: tuple[int, ...] = ()
    free = min(len(tight), _MOST_CHOICES)
    for way in product((0, 1), repeat=free):
        picked = [(*boxes,)[k] for boxes, k in zip(both, way, strict=False)]
        met = sum(one[k] for one, k in zip(alone, way, strict=False))
        met += sum(_meet(a, b) for a, b in combinations(picked, 2))
        x0, y0, x1, y1 = zip(*fixed, *picked, strict=True)
        score = met, round(max(x1) - min(x0) + max(y1) - min(y0), 1)
        if not chosen or score < best:
            best, chosen = score, way
        if not free:
            break
    sides = iter([k == 0 for k in chosen] + [True] * (len(tight) - free))
    return [next(sides) if run.is_tight else True for run in several]


def _runs(
    sizes: Sequence[Size], views: Mapping[str, Placed], arrangement: Arrangement, units: str, title: Title
) -> Iterator[_Run]:
    for name, placed in views.items():
        for side in Side:
            own = [one for one in sizes if one.view == name and one.side(arrangement) is side]
            own.sort(key=lambda one: (round(one.mm, 1), one.name))
            for level, one in enumerate(own):
                ends = sorted(_flat(placed.at(point), side) for point in (one.first, one.last))
                yield _Run(
                    first=ends[0],
                    last=ends[1],
                    at=_line_at(placed.box, side, FIRST_MM + level * PITCH_MM),
                    is_level=side.is_level,
                    words=one.words(units, title),
                )


def _line_at(box: Box, side: Side, away: float) -> float:
    x0, y0, x1, y1 = box
    return {Side.ABOVE: y1 + away, Side.BELOW: y0 - away, Side.LEFT: x0 - away, Side.RIGHT: x1 + away}[side]


def _flat(point: Point, side: Side) -> Point:
    """Along and across the dimension line."""
    return point if side.is_level else (point[1], point[0])


def _thin(run: _Run, line: Sequence[Point]) -> Box:
    (ax, ay), (bx, by) = (run.on_page(point) for point in line)
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _whole_span(run: _Run, after: bool) -> tuple[float, float]:
    a, b = run.first[0], run.last[0]
    if not run.is_tight:
        return a, b
    low, high = run.value_span(after)
    return min(a - _TAIL_MM, low), max(b + _TAIL_MM, high)


def _strokes(run: _Run, after: bool) -> Iterator[Stroke]:
    a, b = run.first[0], run.last[0]
    low, high = _whole_span(run, after)
    way = -1.0 if run.is_tight else 1.0
    lines = [*run.extensions(), [(low, run.at), (high, run.at)]]
    lines += [_arrow(a, run.at, way), _arrow(b, run.at, -way)]
    for line in lines:
        yield Stroke(line=Line.DIMENSION, segments=straight([run.on_page(point) for point in line]))


def _arrow(along: float, at: float, way: float) -> list[Point]:
    back = along + way * _ARROW_MM
    return [(back, at + _HALF_MM), (along, at), (back, at - _HALF_MM)]


def _value(run: _Run, after: bool) -> Text:
    low, high = run.value_span(after)
    middle = (low + high) / 2
    return Text(
        line=Line.DIMENSION,
        at=(middle, run.at + _WHITE_MM) if run.is_level else (run.at - _WHITE_MM, middle),
        text=run.words,
        height_mm=TEXT_MM,
        turn_deg=0.0 if run.is_level else 90.0,
        align=Align.MIDDLE,
    )
