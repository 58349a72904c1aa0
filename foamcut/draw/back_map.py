"""A small picture of a turned-over sheet for its notes: where each piece lies, and where it is worked.

Nothing but the cuts of that face may stand on the sheet itself there, so that outlines stand beside it.
mm; the picture's lower left corner is at (0, 0).
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import shapely
from shapely import Polygon

from foamcut.draw.columns import Picture
from foamcut.draw.label import centred
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.values import Line, Stroke, Text
from foamcut.draw.words import text_box
from foamcut.flat.clipping import Run
from foamcut.flat.outline import Point, Segment

#: scales of the picture (ISO 5455), and how large it is at most, mm
_SCALES = (2, 5, 10, 20, 50, 100)
_WIDEST_MM, _HIGHEST_MM = 150.0, 110.0
#: a longer line is drawn in two, so that none is taken for the bar to measure, mm
_LONGEST_MM = 70.0
_NUMBER_MM, _LEAST_MM = 2.5, 1.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Mapped:
    """A piece as it lies on the turned-over sheet: its number, its area, its lines."""

    number: int
    area: Polygon
    runs: tuple[Run, ...]


def map_scale(width_mm: float, height_mm: float) -> int:
    """How many times a sheet of these sizes is reduced."""
    fit = (s for s in _SCALES if width_mm / s <= _WIDEST_MM and height_mm / s <= _HIGHEST_MM)
    return next(fit, _SCALES[-1])


def back_map(width_mm: float, height_mm: float, edges: Iterable[Run], pieces: Iterable[Mapped]) -> Picture:
    """The sheet's edges, and every piece with its lines and its number, reduced by `map_scale`."""
    scale = map_scale(width_mm, height_mm)
    pieces = tuple(pieces)
    runs = [*edges, *(run for piece in pieces for run in piece.runs)]
    strokes = tuple(Stroke(line=Line.NOTES, segments=tuple(_reduced(run, scale))) for run in runs)
    return Picture(
        width_mm=width_mm / scale,
        height_mm=height_mm / scale,
        strokes=strokes,
        texts=tuple(_number(piece, scale) for piece in pieces),
    )


def _reduced(run: Run, scale: int) -> Iterator[Segment]:
    for segment in run:
        (x0, y0), (x1, y1) = ((x / scale, y / scale) for x, y in (segment.start, segment.end))
        if not segment.bulge and max(abs(x1 - x0), abs(y1 - y0)) > _LONGEST_MM:
            middle = (x0 + x1) / 2, (y0 + y1) / 2
            yield from (Segment((x0, y0), middle), Segment(middle, (x1, y1)))
        else:
            yield Segment((x0, y0), (x1, y1), segment.bulge)


def _number(piece: Mapped, scale: int) -> Text:
    """The number in the middle of a piece, or where it is widest when that is a hole or an edge."""
    words = str(piece.number)
    area = shapely.transform(piece.area, lambda points: points / scale)
    widest = shapely.maximum_inscribed_circle(area).coords[0]
    places: tuple[Point, ...] = ((area.centroid.x, area.centroid.y), (widest[0], widest[1]))
    tries = [_written(words, height, at) for height in (_NUMBER_MM, _LEAST_MM) for at in places]
    return next((text for text in tries if area.contains(text_box(text))), tries[-1])


def _written(words: str, height_mm: float, middle: Point) -> Text:
    """As a note, which is written from its left end."""
    _, y = centred(words, height_mm, middle, 0.0).at
    at = middle[0] - text_width_mm(words, height_mm) / 2, y
    return Text(line=Line.NOTES, at=at, text=words, height_mm=height_mm)
