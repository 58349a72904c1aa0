"""What the pictures of the balance have in common: heading, closing words, scales, symbols, ranges.

mm on the picture, y up; pictures are built from y = 0 downwards and moved up when they are finished.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from foamcut.draw.balance_words import (
    HEADING_MM,
    PITCH_MM,
    PLAIN_MM,
    broken,
    column,
    shortened,
    width_mm,
    words_at,
)
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Align, Text, Title
from foamcut.flat.outline import Point

#: white around a picture, mm
EDGE_MM = 8.0
#: said below every picture
CLOSING = (
    "Estimates from the numbers given. Have someone experienced look the model over, and follow the rules of"
    " your place."
)
#: so much of a revision's name is shown
_REVISION_MM = 40.0
_TICK_MM = 1.6
#: the ends of a range reach beyond the sign that stands on it
_END_MM = 3.0
_DOT_MM = 0.6


@dataclass(slots=True)
class Sheet:
    """A picture that is being drawn from the top down; `y` is where the next thing begins."""

    width_mm: float
    shapes: list[Shape]
    texts: list[Text]
    y: float = -EDGE_MM

    @property
    def left(self) -> float:
        """Where words begin."""
        return EDGE_MM

    @property
    def right(self) -> float:
        """Where everything ends."""
        return self.width_mm - EDGE_MM

    def lines(self, words: str, height_mm: float = PLAIN_MM) -> None:
        """Words in as many lines as they need."""
        several = broken(words, self.right - self.left, height_mm)
        self.texts += column(several, self.left, self.y, height_mm)
        self.y -= len(several) * PITCH_MM * height_mm / PLAIN_MM

    def line(self, words: str, height_mm: float = PLAIN_MM) -> None:
        """Words in one line, cut off where they are longer."""
        self.texts += column(
            [shortened(words, self.right - self.left, height_mm)], self.left, self.y, height_mm
        )
        self.y -= PITCH_MM * height_mm / PLAIN_MM

    def finished(self, name: str, heading: str, told: str) -> Picture:
        """The picture, moved so that its lower left corner is (0, 0)."""
        up = EDGE_MM - self.y
        return Picture(
            name=name,
            heading=heading,
            told=told,
            width_mm=self.width_mm,
            height_mm=round(up, 3),
            shapes=tuple(shape.moved(0.0, up) for shape in self.shapes),
            texts=tuple(replace(text, at=(text.at[0], text.at[1] + up)) for text in self.texts),
        )


def headed(wide_mm: float, title: Title, words: str) -> Sheet:
    """A picture with its heading: the plan, its revision, what is shown."""
    sheet = Sheet(wide_mm, [], [])
    sheet.line(title.title or title.name, HEADING_MM)
    revision = shortened(title.revision, _REVISION_MM)
    rest = f"{f', revision {revision}' if revision else ''}: {words}"
    room = sheet.right - sheet.left - width_mm(rest)
    sheet.line(shortened(title.name, room) + rest)
    sheet.y -= 3.0
    return sheet


def closed(sheet: Sheet) -> None:
    """The closing words."""
    sheet.y -= 2.0
    sheet.lines(CLOSING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Numbers from `low` to `high` laid along x from `left` to `right`, mm on the picture."""

    low: float
    high: float
    left: float
    right: float

    @property
    def mm_per(self) -> float:
        """mm on the picture for one."""
        return (self.right - self.left) / (self.high - self.low)

    def at(self, value: float) -> float:
        """x of a number, not beyond the ends."""
        return self.left + (min(max(value, self.low), self.high) - self.low) * self.mm_per


def steps(span: float, most: int) -> float:
    """The smallest of 1, 2, 5 times a power of ten that parts a span in at most so many steps."""
    power = 10.0 ** math.floor(math.log10(max(span, 1e-9) / most) + 1e-9)
    return next(power * one for one in (1, 2, 5, 10, 20) if span / (power * one) <= most + 1e-9)


def ticks(low: float, high: float, step: float) -> list[float]:
    """The multiples of a step from `low` to `high`."""
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [i * step for i in range(first, last + 1)]


def axis(
    scale: Scale, y: float, marks: Iterable[tuple[float, str]], *, below: bool = True
) -> tuple[list[Shape], list[Text]]:
    """A level line with ticks and their words below or above it; words that would meet are left out."""
    way = -1 if below else 1
    shapes = [Shape(ink=Ink.AXIS, points=((scale.left, y), (scale.right, y)))]
    texts: list[Text] = []
    free = -math.inf
    for value, words in marks:
        x = scale.at(value)
        shapes.append(Shape(ink=Ink.AXIS, points=((x, y), (x, y + way * _TICK_MM))))
        half = width_mm(words) / 2
        if x - half > free:
            level = y - _TICK_MM - 0.8 - PLAIN_MM if below else y + _TICK_MM + 0.8
            texts.append(words_at((x, level), words, align=Align.MIDDLE))
            free = x + half + 2.0
    return shapes, texts


def whisker(x0: float, x1: float, y: float, half_mm: float = _END_MM) -> list[Shape]:
    """A range from x0 to x1 as a level line with upright ends."""
    ends = [((x, y - half_mm), (x, y + half_mm)) for x in (x0, x1)]
    level = [((x0, y), (x1, y))] if abs(x1 - x0) > 1e-6 else []
    return [Shape(ink=Ink.RANGE, points=points) for points in (*level, *ends)]


def box(ink: Ink, x0: float, y0: float, x1: float, y1: float) -> Shape:
    """A rectangle."""
    return Shape(ink=ink, points=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)


def balance_symbol(at: Point, radius_mm: float = 2.2) -> list[Shape]:
    """The usual sign of a centre of gravity: a circle in quarters, two of them black."""
    round_ = [_on_circle(at, radius_mm, i * 7.5) for i in range(48)]
    quarters = [(at, *(_on_circle(at, radius_mm, start + i * 7.5) for i in range(13))) for start in (0, 180)]
    return [
        Shape(ink=Ink.SYMBOL, points=tuple(round_), closed=True),
        *(Shape(ink=Ink.SOLID, points=points, closed=True) for points in quarters),
    ]


def _on_circle(at: Point, radius: float, deg: float) -> Point:
    angle = math.radians(deg)
    return at[0] + radius * math.cos(angle), at[1] + radius * math.sin(angle)


def triangle_symbol(at: Point, *, solid: bool = True) -> list[Shape]:
    """A triangle that stands with its point on a place: a neutral point."""
    x, y = at
    points = ((x, y - 1.8), (x + 2.0, y + 1.6), (x - 2.0, y + 1.6))
    return [Shape(ink=Ink.SOLID if solid else Ink.SYMBOL, points=points, closed=True)]


def diamond_symbol(at: Point) -> list[Shape]:
    """A diamond: the target."""
    x, y = at
    points = ((x, y - 2.2), (x + 1.6, y), (x, y + 2.2), (x - 1.6, y))
    return [Shape(ink=Ink.SYMBOL, points=points, closed=True)]


def dot(at: Point) -> Shape:
    """A small black diamond: the middle of something."""
    x, y = at
    points = ((x - _DOT_MM, y), (x, y - _DOT_MM), (x + _DOT_MM, y), (x, y + _DOT_MM))
    return Shape(ink=Ink.SOLID, points=points, closed=True)


def square_symbol(at: Point, ink: Ink, half_mm: float = 1.4) -> list[Shape]:
    """A small square: a place of something."""
    x, y = at
    return [box(ink, x - half_mm, y - half_mm, x + half_mm, y + half_mm)]


def spread(places: Sequence[float], pitch: float, low: float, high: float) -> list[float]:
    """Places in rising order at least `pitch` apart, inside low to high, each as near to its own as may be.

    Neighbours that are too close are put together about their common middle (pooling of neighbours, as in
    isotonic regression by least squares).  They must find room: `pitch` times their gaps within high - low.
    """
    pools: list[tuple[float, int]] = []
    for i, place in enumerate(places):
        pools.append((place - i * pitch, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, m), (b, n) = pools[-2:]
            pools[-2:] = [((a * m + b * n) / (m + n), m + n)]
    level = [value for value, count in pools for _ in range(count)]
    top = high - (len(level) - 1) * pitch
    return [min(max(value, low), top) + i * pitch for i, value in enumerate(level)]
