"""A small picture of a part for a list of parts: its outline, openings, folds, hand, and the way to the nose.

mm on the picture.  The part lies as it lies on the sheet, its drawn face up.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import shapely

from foamcut.draw.arrows import directions
from foamcut.draw.balance_words import words_at
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.room import FreeRoom
from foamcut.draw.values import Align, Text
from foamcut.flat.drawn import Face, Hand
from foamcut.flat.outline import Point
from foamcut.flat.part import Part

#: heights of the number on the part, the best first, and of the words under it, mm
_NUMBER_MM, _WORD_MM = (3.5, 2.5, 1.8), 1.8
#: white at the edges of the picture, and the strip for words under the part, mm
_EDGE_MM, _STRIP_MM = 0.6, 5.6
#: of an arrow: its length, its head, the gap to its word and to the next arrow, mm
_ARROW_MM, _HEAD_MM, _GAP_MM, _NEXT_MM = 4.4, 1.5, 0.8, 2.0
_HEAD_DEG = 24.0
#: nothing is drawn larger than this many times its size
_LARGEST = 1.0
#: how far lines may lie off on the picture, mm
_OFF_MM = 0.03
#: from the number to the nearest line on the part, and beside it, mm
_CLEAR_MM, _BESIDE_MM = 0.4, (0.8, 0.25)


@dataclass(frozen=True, slots=True)
class _Fit:
    scale: float
    x: float
    y: float

    def on(self, points: Iterable[Point]) -> tuple[Point, ...]:
        return tuple(
            (round(x * self.scale + self.x, 3), round(y * self.scale + self.y, 3)) for x, y in points
        )


def part_picture(part: Part, number: int, box_mm: tuple[float, float]) -> Picture:
    """The part as large as a box lets it be, in the middle; under it its hand and arrows FRONT and UP.

    The arrows stand for the directions of nose and up in the plane of the part, as on the sheet.  `number`
    stands on the part where there is room, else beside it.  The picture is as wide and high as the box.
    """
    wide, high = box_mm
    fit = _fitted(part, box_mm, _STRIP_MM if _has_strip(part) else 0.0)
    shapes = [*_rings(part, fit), *_folds(part, fit)]
    texts = list(_number(part, number, fit, box_mm))
    arrows, words = _strip(part, wide)
    return Picture(
        name=f"part-{number}",
        heading=f"{number}  {part.name}",
        told=_told(part, number),
        width_mm=wide,
        height_mm=high,
        shapes=(*shapes, *arrows),
        texts=(*texts, *words),
    )


def _has_strip(part: Part) -> bool:
    return part.hand is not Hand.NONE or bool(directions(part))


def _fitted(part: Part, box_mm: tuple[float, float], below_mm: float) -> _Fit:
    x0, y0, x1, y1 = part.outline.bounds
    wide = max(box_mm[0] - 2 * _EDGE_MM, 1.0)
    high = max(box_mm[1] - 2 * _EDGE_MM - below_mm, 1.0)
    scale = min(_LARGEST, wide / (x1 - x0), high / (y1 - y0))
    middle = below_mm + _EDGE_MM + high / 2
    return _Fit(scale, box_mm[0] / 2 - (x0 + x1) / 2 * scale, middle - (y0 + y1) / 2 * scale)


def _rings(part: Part, fit: _Fit) -> Iterator[Shape]:
    """The outline filled, and openings over it in white."""
    for i, ring in enumerate(part.outline.rings()):
        line = shapely.LineString(fit.on(ring))
        thinned = shapely.get_coordinates(shapely.simplify(line, _OFF_MM)).tolist()
        points = tuple((x, y) for x, y in thinned[:-1])
        yield Shape(ink=Ink.BOARD if i else Ink.MODEL, points=points, closed=True)


def _folds(part: Part, fit: _Fit) -> Iterator[Shape]:
    """Where the paper turns: dashed where it folds towards the reader, dots and dashes where away."""
    for fold in part.folds:
        for run in fold.fold:
            points = [run[0].start, *(point for segment in run for point in segment.points())]
            yield Shape(ink=Ink.HIDDEN if fold.rises else Ink.CENTRE, points=fit.on(points))


def _number(part: Part, number: int, fit: _Fit, box_mm: tuple[float, float]) -> Iterator[Text]:
    """The number where it has room on the part, nearest to its middle; else where it has room beside it."""
    region = shapely.transform(part.outline.polygon, lambda xy: xy * fit.scale + (fit.x, fit.y))
    region = shapely.simplify(region, _OFF_MM)
    on_part = isinstance(region, shapely.Polygon) and region.is_valid and not region.is_empty
    lines = [shapely.LineString(shape.points) for shape in _folds(part, fit)]
    below = _STRIP_MM if _has_strip(part) else 0.0
    field = shapely.box(_EDGE_MM, below + _EDGE_MM, box_mm[0] - _EDGE_MM, box_mm[1] - _EDGE_MM)
    rooms = ((region, lines, _CLEAR_MM),) if on_part else ()
    words = str(number)
    beside = [(field, [region.envelope], clear) for clear in _BESIDE_MM]
    for area, taken, clear in (*rooms, *beside):
        room = FreeRoom(area, taken)
        for height in _NUMBER_MM:
            wide = text_width_mm(words, height)
            at = room.place(wide, height, 0.0, (region.centroid.x, region.centroid.y), clear)
            if at is not None:
                yield words_at((at[0], at[1] - height / 2), words, height, Align.MIDDLE)
                return


def _strip(part: Part, wide_mm: float) -> tuple[list[Shape], list[Text]]:
    """The hand, and each direction as an arrow with its word, in a row; what has no room is left out."""
    shapes: list[Shape] = []
    texts: list[Text] = []
    level = _EDGE_MM + _ARROW_MM / 2
    baseline = level - _WORD_MM / 2
    x = _EDGE_MM
    for word, turn_deg in directions(part):
        reach = _ARROW_MM + _GAP_MM + text_width_mm(word, _WORD_MM)
        if x + reach > wide_mm - _EDGE_MM:
            return shapes, texts
        shapes += _arrow((x + _ARROW_MM / 2, level), turn_deg)
        texts.append(words_at((x + _ARROW_MM + _GAP_MM, baseline), word, _WORD_MM))
        x += reach + _NEXT_MM
    hand = _hand_words(part)
    if hand and x + text_width_mm(hand, _WORD_MM) <= wide_mm - _EDGE_MM:
        texts.append(words_at((wide_mm - _EDGE_MM, baseline), hand, _WORD_MM, Align.RIGHT))
    return shapes, texts


def _hand_words(part: Part) -> str:
    return "" if part.hand is Hand.NONE else part.hand.value.upper()


def _arrow(middle: Point, turn_deg: float) -> Iterator[Shape]:
    a = math.radians(turn_deg)
    dx, dy = math.cos(a) * _ARROW_MM / 2, math.sin(a) * _ARROW_MM / 2
    tail, tip = (middle[0] - dx, middle[1] - dy), (middle[0] + dx, middle[1] + dy)
    yield Shape(ink=Ink.AXIS, points=_rounded((tail, tip)))
    barbs = [a + math.pi + side * math.radians(_HEAD_DEG) for side in (1, -1)]
    head = (tip, *((tip[0] + _HEAD_MM * math.cos(b), tip[1] + _HEAD_MM * math.sin(b)) for b in barbs))
    yield Shape(ink=Ink.SOLID, points=_rounded(head), closed=True)


def _rounded(points: Iterable[Point]) -> tuple[Point, ...]:
    return tuple((round(x, 3), round(y, 3)) for x, y in points)


def _told(part: Part, number: int) -> str:
    """What the picture shows, for who cannot see it."""
    told = f"Part {number}, {part.name}"
    if part.hand is not Hand.NONE:
        told += f", the {part.hand.value} one"
    seen = "as it lies on the board" if part.face is Face.EITHER else f"{part.face.value} face up"
    words = [f"{told}, {seen}."]
    holes = len(part.outline.polygon.interiors)
    if holes:
        words.append(f"It has {holes} opening{'s' if holes > 1 else ''}.")
    if part.folds:
        words.append(f"It is folded along {len(part.folds)} line{'s' if len(part.folds) > 1 else ''}.")
    for word, turn_deg in directions(part):
        words.append(f"{word} is to the {_way(turn_deg)}.")
    return " ".join(words)


def _way(turn_deg: float) -> str:
    """A direction on the picture in words."""
    names = ("right", "upper right", "top", "upper left", "left", "lower left", "bottom", "lower right")
    return names[round(turn_deg / 45) % 8]
