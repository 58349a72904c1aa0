"""The sheets with the pieces on them, small, each with its number.  mm on the picture."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import Point as Point2
from shapely import Polygon

from foamcut.draw.balance_words import PLAIN_MM, shortened, width_mm, words_at
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Align, Text
from foamcut.flat.outline import Point
from foamcut.nest.values import Sheet

_MARGIN_MM, _GAP_MM, _NAME_MM = 3.0, 6.0, 5.0
#: rows of sheets are tried up to so many
_MOST_ROWS = 8
#: no sheet is drawn narrower than this share of the widest
_SMALL = 0.55
#: numbers are written this high, or not at all on smaller pieces
_NUMBER_MM, _LEAST_MM = PLAIN_MM, 1.8
#: the tallest that it gets, mm
_TALL_MM = 150.0


def sheets_picture(
    name: str,
    heading: str,
    told: str,
    sheets: Sequence[Sheet],
    numbers: dict[str, int],
    wide_mm: float = 170.0,
) -> Picture:
    """All sheets in as many rows as make them largest; one that is small beside the others drawn larger."""
    wide = wide_mm - 2 * _MARGIN_MM
    least = _SMALL * max((sheet.width_mm for sheet in sheets), default=1.0)
    several = [_Sized(sheet=sheet, times=max(1.0, least / sheet.width_mm)) for sheet in sheets]
    best = max(
        (_fit(several, count, wide) for count in range(1, min(_MOST_ROWS, len(sheets)) + 1)),
        key=lambda one: (round(one[0], 6), -len(one[1])),
    )
    scale, rows = best
    high = sum(max(one.high for one in row) * scale + _NAME_MM for row in rows)
    total = high + _GAP_MM * (len(rows) - 1) + 2 * _MARGIN_MM
    shapes: list[Shape] = []
    texts: list[Text] = []
    top = total - _MARGIN_MM
    for row in rows:
        tall = max(one.high for one in row) * scale
        used = sum(one.wide * scale for one in row) + _GAP_MM * (len(row) - 1)
        x = (wide_mm - used) / 2
        for one in row:
            sheet, at = one.sheet, (x, top - tall)
            shapes += _sheet(sheet, at, scale * one.times)
            texts += _numbers(sheet, at, scale * one.times, numbers)
            larger = ", drawn larger" if one.times > 1 else ""
            label = shortened(f"{sheet.stock} {sheet.number}{larger}", max(one.wide * scale, 12.0))
            place = (x + one.wide * scale / 2, top - tall - PLAIN_MM - 1.0)
            texts.append(words_at(place, label, align=Align.MIDDLE))
            x += one.wide * scale + _GAP_MM
        top -= tall + _NAME_MM + _GAP_MM
    return Picture(
        name=name, heading=heading, told=told, width_mm=wide_mm, height_mm=total,
        shapes=tuple(shapes), texts=tuple(texts),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sized:
    """A sheet, and how many times the common scale it is drawn at."""

    sheet: Sheet
    times: float

    @property
    def wide(self) -> float:
        return self.sheet.width_mm * self.times

    @property
    def high(self) -> float:
        return self.sheet.height_mm * self.times


def _fit(sheets: Sequence[_Sized], count: int, wide: float) -> tuple[float, list[list[_Sized]]]:
    """The scale at which so many rows of sheets fit, in their order."""
    each = -(-len(sheets) // count)
    rows = [list(sheets[i : i + each]) for i in range(0, len(sheets), each)]
    scale = min((wide - _GAP_MM * (len(row) - 1)) / max(sum(one.wide for one in row), 1.0) for row in rows)
    room = _TALL_MM - 2 * _MARGIN_MM - len(rows) * (_NAME_MM + _GAP_MM)
    scale = min(scale, room / max(sum(max(one.high for one in row) for row in rows), 1.0), 1.0)
    return max(scale, 0.001), rows


def _sheet(sheet: Sheet, at: Point, scale: float) -> Iterator[Shape]:
    def on(ring: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((x * scale + at[0], y * scale + at[1]) for x, y in ring[:-1])

    for i, ring in enumerate(sheet.outline.rings()):
        yield Shape(ink=Ink.MODEL if not i else Ink.BOARD, points=on(ring), closed=True)
    for placed in sheet.placed:
        for ring in placed.outline.rings():
            yield Shape(ink=Ink.BOARD, points=on(ring), closed=True)


def _numbers(sheet: Sheet, at: Point, scale: float, numbers: dict[str, int]) -> Iterator[Text]:
    for placed in sheet.placed:
        number = numbers.get(placed.piece.flat.name)
        polygon: Polygon = placed.outline.polygon
        if number is None:
            continue
        point, room = _roomy(polygon)
        _, y0, _, y1 = polygon.bounds
        for height in (_NUMBER_MM, _LEAST_MM):
            if (y1 - y0) * scale > height * 1.2 and room * scale > width_mm(str(number), height):
                where = point.x * scale + at[0], point.y * scale + at[1] - height / 2
                yield words_at(where, str(number), height, Align.MIDDLE)
                break


def _roomy(polygon: Polygon) -> tuple[Point2, float]:
    """A point well inside, off holes where that can be, and the width of the board there."""
    x0, y0, x1, y1 = polygon.bounds
    for share in (0.4, 0.3, 0.2, 0.1):
        off = share * min(x1 - x0, y1 - y0)
        inner = polygon.buffer(-off, quad_segs=1)
        if not inner.is_empty:
            best = max(shapely.get_parts(inner), key=lambda one: round(one.area, 3))
            return best.representative_point(), best.bounds[2] - best.bounds[0] + 2 * off
    return polygon.representative_point(), x1 - x0


def measured_picture(name: str, heading: str) -> Picture:
    """A board with the places at which its thickness is measured."""
    wide, high, off, half = 90.0, 55.0, 8.0, 1.6
    x, y = 40.0, _NAME_MM + _MARGIN_MM
    shapes = [
        Shape(ink=Ink.BOARD, points=((x, y), (x + wide, y), (x + wide, y + high), (x, y + high)), closed=True)
    ]
    texts = []
    places = [
        (x + off, y + off),
        (x + wide - off, y + off),
        (x + wide - off, y + high - off),
        (x + off, y + high - off),
    ]
    for i, (a, b) in enumerate(places, 1):
        square = ((a - half, b - half), (a + half, b - half), (a + half, b + half), (a - half, b + half))
        shapes.append(Shape(ink=Ink.ADDED, points=square, closed=True))
        texts.append(words_at((a, b + 2 * half), str(i), align=Align.MIDDLE))
    texts.append(
        words_at(
            (x + wide / 2, y - PLAIN_MM - 1.0),
            "thickness at 1 to 4, then the mean; the whole sheet on the scales",
            align=Align.MIDDLE,
        )
    )
    told = (
        "A sheet seen from above, with a place near each of its corners at which its thickness is measured."
    )
    return Picture(
        name=name, heading=heading, told=told, width_mm=170.0, height_mm=y + high + _MARGIN_MM,
        shapes=tuple(shapes), texts=tuple(texts),
    )  # fmt: skip
