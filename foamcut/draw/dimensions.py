"""Distances from one corner, as numbers with extension lines below and at the left of a reduced drawing.

mm on the page, the lower left corner of the drawing's box at (0, 0).  All distances along one edge are
measured from one corner, never from the point before, so that errors do not add up (running dimensioning,
ISO 129-1, from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.draw.metrics import text_width_mm
from foamcut.draw.values import Align, Line, Stroke, Text
from foamcut.flat.outline import Point, straight
from foamcut.units import decimal_text, inch_text

#: height of a number, and from one to the next, mm
TEXT_MM = 2.5
PITCH_MM = 4.0
#: from the part to where extension lines bend, end, and their numbers begin
_BEND_MM, _END_MM, NUMBER_MM = 3.0, 7.0, 8.0
_SAME_MM = 0.01


@dataclass(frozen=True, slots=True)
class Distance:
    """A distance from the datum corner along one axis: where its extension line starts, on the page."""

    mm: float
    at: float  # along the axis
    start: float  # across it


def distances(
    points: Sequence[tuple[float, float]], datum: float, origin: float, other: float, scale: int
) -> list[Distance]:
    """Each distance once, in order along the axis, from the point nearest to the numbers."""
    found: list[Distance] = []
    for along, across in sorted(points):
        at, start = (along - origin) / scale, (across - other) / scale
        mm = abs(along - datum)
        if found and abs(found[-1].at - at) * scale < _SAME_MM:
            continue
        found.append(Distance(mm, at, start))
    return found


def _spread(places: Sequence[float], pitch: float) -> list[float]:
    """Places at least `pitch` apart and none below the first, each as near to its own as that leaves it.

    Neighbours that are too close are put together around their common middle (pooling of neighbours, as
    in isotonic regression by least squares).
    """
    pools: list[tuple[float, int]] = []
    for i, place in enumerate(places):
        pools.append((place - i * pitch, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (a, m), (b, n) = pools[-2:]
            pools[-2:] = [((a * m + b * n) / (m + n), m + n)]
    level = [value for value, count in pools for _ in range(count)]
    return [max(value, places[0]) + i * pitch for i, value in enumerate(level)]


def number_words(distance: Distance) -> str:
    """A distance in mm and inches."""
    if distance.mm < _SAME_MM:
        return "0"
    return f"{decimal_text(distance.mm)} ({inch_text(distance.mm)})"


def level_numbers(distances: Sequence[Distance]) -> tuple[list[Stroke], list[Text], float]:
    """Extension lines downwards with upright numbers, and how far down they reach."""
    strokes, texts = [], []
    for distance, place in zip(distances, _spread([d.at for d in distances], PITCH_MM), strict=True):
        run = [(distance.at, distance.start - 0.6), (distance.at, -_BEND_MM), (place, -_END_MM)]
        strokes.append(Stroke(line=Line.DIMENSION, segments=straight(run)))
        at = place + TEXT_MM / 2, -NUMBER_MM
        texts.append(_text(number_words(distance), at, 90.0))
    longest = max(text_width_mm(text.text, TEXT_MM) for text in texts)
    return strokes, texts, NUMBER_MM + longest


def upright_numbers(distances: Sequence[Distance]) -> tuple[list[Stroke], list[Text]]:
    """Extension lines to the left with level numbers."""
    strokes, texts = [], []
    for distance, place in zip(distances, _spread([d.at for d in distances], PITCH_MM), strict=True):
        run = [(distance.start - 0.6, distance.at), (-_BEND_MM, distance.at), (-_END_MM, place)]
        strokes.append(Stroke(line=Line.DIMENSION, segments=straight(run)))
        texts.append(_text(number_words(distance), (-NUMBER_MM, place - TEXT_MM / 2), 0.0))
    return strokes, texts


def _text(words: str, at: Point, turn_deg: float) -> Text:
    return Text(
        line=Line.DIMENSION, at=at, text=words, height_mm=TEXT_MM, turn_deg=turn_deg, align=Align.RIGHT
    )
