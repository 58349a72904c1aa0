"""Parts that are ruled straight on the board: drawn small, with every corner's distances.

mm on the page; a block's origin is its upper left corner.  All distances along one edge are measured
from one corner, never from the point before, so that errors do not add up (running dimensioning, ISO
129-1, from memory).
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from shapely import LineString

from foamcut.draw.arrows import arrow
from foamcut.draw.flow import Block, below, beside, moved, paragraph
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import circle_stroke, is_far
from foamcut.draw.values import Align, Line, Stroke, Text, Title
from foamcut.draw.words import (
    SIZES_GOVERN,
    count_words,
    face_words,
    grain_words,
    overall_words,
    slot_words,
    text_box,
    wrapped,
)
from foamcut.flat.outline import Point, Segment, straight
from foamcut.flat.part import Part
from foamcut.units import decimal_text, inch_text

#: scales that drawings are reduced by (ISO 5455: 1:2, 1:5, 1:10 and so on)
SCALES = (1, 2, 5, 10, 20, 50, 100)
_NAME_MM = 3.5
_TEXT_MM = 2.5
_PITCH_MM = 4.0
#: of a drawing over the whole width and of one in half of it
_LARGEST_HEIGHT_MM, _HALF_HEIGHT_MM = 80.0, 50.0
_GUTTER_MM = 30.0
#: of the arrows, which stand below the numbers of the gutter: length of a shaft, and room around each, mm
_SHAFT_MM, _ARROW_GAP_MM = 9.0, 3.0
#: from the part to where extension lines bend, end, and their numbers begin
_BEND_MM, _END_MM, _NUMBER_MM = 3.0, 7.0, 8.0
_SAME_MM = 0.01
#: the longest row or column of numbers, mm: what a page has room for
_MOST_NUMBERS_MM = 150.0
#: between two columns, and the longer side of a drawing that is not to be smaller, mm
_COLUMN_GAP_MM = 8.0
_LEAST_DRAWN_MM = 25.0
#: a drawing that half the width would reduce more than this gets all of it
_MOST_REDUCED = 10
#: a direction is drawn when this much of it lies in the part's plane
_IN_PLANE = 0.5


@dataclass(frozen=True, slots=True)
class _Distance:
    """A distance from the datum corner along one axis: where its extension line starts, on the page."""

    mm: float
    at: float  # along the axis
    start: float  # across it


def ruled_rows(
    parts: Sequence[tuple[Part, Part | None]],
    title: Title,
    *,
    numbers: Mapping[str, int],
    thicknesses: Mapping[str, float],
    width_mm: float,
) -> list[tuple[tuple[Part, ...], Block]]:
    """Rows of drawings, two of small parts beside each other, with the parts of each row.

    Each part comes with the one that is its mirror image and left out, if there is such.
    """
    column_mm = (width_mm - _COLUMN_GAP_MM) / 2
    rows: list[tuple[tuple[Part, ...], Block]] = []
    waiting: int | None = None  # the row whose right half is free
    for part, other in parts:
        half = _fits_half(part, numbers[part.name], column_mm)
        block = ruled_block(
            part,
            title,
            numbers=numbers,
            other=other,
            thicknesses=thicknesses,
            width_mm=column_mm if half else width_mm,
            highest_mm=_HALF_HEIGHT_MM if half else _LARGEST_HEIGHT_MM,
        )
        if half and waiting is not None:
            there, left = rows[waiting]
            rows[waiting] = (*there, part), beside((0.0, left), (column_mm + _COLUMN_GAP_MM, block))
            waiting = None
            continue
        waiting = len(rows) if half else waiting
        rows.append(((part,), block))
    return rows


def _fits_half(part: Part, number: int, column_mm: float) -> bool:
    """Whether half the width of a page shows a part large enough, and its name in one line."""
    if text_width_mm(f"{number} {part.name}", _NAME_MM) > column_mm:
        return False
    if _numbers_mm(_corners(part) + _mark_points(part)) > column_mm - _gutter_mm(part):
        return False
    longer = max(part.length_mm, part.width_mm)
    scale = _scale(part, column_mm - _gutter_mm(part) - 4.0, _HALF_HEIGHT_MM)
    return scale <= _MOST_REDUCED and longer / scale >= min(longer, _LEAST_DRAWN_MM)


def ruled_block(
    part: Part,
    title: Title,
    *,
    numbers: Mapping[str, int],
    other: Part | None,
    thicknesses: Mapping[str, float],
    width_mm: float,
    highest_mm: float = _LARGEST_HEIGHT_MM,
) -> Block:
    """Name, facts, and the part drawn small with its dimensions in mm and inches.

    `other` is the part that is its mirror image, none when it is not left out; `thicknesses` as in
    `part_lines`.
    """
    gutter = _gutter_mm(part)
    scale = _scale(part, width_mm - gutter - 4.0, highest_mm)
    heading = wrapped(f"{numbers[part.name]}  {part.name}", _NAME_MM, width_mm)
    facts = _facts(part, title, scale, thicknesses)
    points = _corners(part) + _mark_points(part)
    if _numbers_mm(points) > min(width_mm - gutter, _MOST_NUMBERS_MM):
        points = _corners(part)
        facts.append("its marks have too many points to rule here: print them with --every-part")
    if other:
        facts.insert(1, f"mirror image for {numbers[other.name]} {other.name}, {count_words(other)}")
    words = paragraph([line for fact in facts for line in wrapped(fact, _TEXT_MM, width_mm)])
    return below(paragraph(heading, _NAME_MM), words, _drawing(part, points, scale, gutter), gap_mm=2.0)


def _scale(part: Part, room_mm: float, highest_mm: float) -> int:
    for scale in SCALES:
        if part.length_mm / scale <= room_mm and part.width_mm / scale <= highest_mm:
            return scale
    return SCALES[-1]


def _gutter_mm(part: Part) -> float:
    """Room at the left for the longest of the level numbers."""
    datum = _datum(part)[1]
    heights = [y for _, y in (*_corners(part), *_mark_points(part))]
    numbers = [_number(_Distance(abs(y - datum), 0.0, 0.0)) for y in heights]
    return max(_GUTTER_MM, _NUMBER_MM + max(text_width_mm(words, _TEXT_MM) for words in numbers))


def _facts(part: Part, title: Title, scale: int, thicknesses: Mapping[str, float]) -> list[str]:
    board = f"{part.stock} {decimal_text(part.thickness_mm, 2)} mm"
    facts = [
        f"{count_words(part)}, {face_words(part)}, {board}, drawn 1:{scale}",
        "; ".join(overall_words(part, title)),
    ]
    taken = dict.fromkeys(slot_words(slot, part, thicknesses) for slot in part.slots)
    more = [f"slot takes {words}" for words in taken]
    if grain := grain_words(part):
        more.append(grain)
    for mark in part.marks:
        named = ", ".join(text.text for text in mark.drawn().texts)
        if named:
            more.append(f"mark {named}{' on the far face' if is_far(mark, part) else ''}")
    more.append(f"mm (inches) from the corner with the circle; {SIZES_GOVERN}")
    return [*facts, "; ".join(more)]


def _drawing(part: Part, points: Sequence[Point], scale: int, gutter_mm: float) -> Block:
    x0, y0, _, y1 = part.outline.bounds
    datum = _datum(part)

    def on_page(x: float, y: float) -> Point:
        return (x - x0) / scale, (y - y0) / scale

    across = _distances([(p[0], p[1]) for p in points], datum[0], x0, y0, scale)
    upwards = _distances([(p[1], p[0]) for p in points], datum[1], y0, x0, scale)
    below_strokes, below_texts, below_mm = _level_numbers(across)
    left_strokes, left_texts = _upright_numbers(upwards)
    strokes = [*_lines(part, scale), *below_strokes, *left_strokes]
    strokes.append(circle_stroke(Line.DIMENSION, *on_page(*datum), 1.5))
    arrows, words, arrows_mm = _directions(part, -gutter_mm)
    strokes += arrows
    texts = [*below_texts, *left_texts, *words]
    highest = max([(y1 - y0) / scale + 1.5, *(t.at[1] + _TEXT_MM + 0.5 for t in left_texts)])
    below_mm = max(below_mm, arrows_mm)
    block = Block(height_mm=highest + below_mm, strokes=tuple(strokes), texts=tuple(texts))
    return block.moved(gutter_mm, -highest)


def _corners(part: Part) -> list[Point]:
    return [point for ring in part.outline.rings() for point in ring[:-1]]


def _numbers_mm(points: Sequence[Point]) -> float:
    """How long the row or column of numbers is that these points have."""
    return _PITCH_MM * max(len({round(p[axis], 2) for p in points}) for axis in (0, 1))


def _mark_points(part: Part) -> list[Point]:
    """The points that a mark is ruled from: those to prick through, or the ends of its lines."""
    points: list[Point] = []
    for mark in part.marks:
        drawn = mark.drawn()
        ends = [p for run in drawn.runs for s in run for p in (s.centre if s.bulge else s.start, s.end)]
        straight_only = not any(s.bulge for run in drawn.runs for s in run)
        centres = [s.centre for run in drawn.runs for s in run if s.bulge]
        points += drawn.prick_points or (ends if straight_only else centres)
    return points


def _datum(part: Part) -> Point:
    """A corner of the part: one that is a corner of its box if there is one, else the lowest and leftmost."""
    x0, y0, x1, y1 = part.outline.bounds
    corners = _corners(part)
    boxed = [(x0, y0), (x1, y0), (x0, y1), (x1, y1)]
    nearest = min(corners, key=lambda p: (round((p[0] - x0 + p[1] - y0) * 1e6), p))
    return next((corner for corner in boxed if corner in corners), nearest)


def _distances(
    points: Sequence[tuple[float, float]], datum: float, origin: float, other: float, scale: int
) -> list[_Distance]:
    """Each distance once, in order along the axis, from the point nearest to the numbers."""
    found: list[_Distance] = []
    for along, across in sorted(points):
        at, start = (along - origin) / scale, (across - other) / scale
        mm = abs(along - datum)
        if found and abs(found[-1].at - at) * scale < _SAME_MM:
            continue
        found.append(_Distance(mm, at, start))
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


def _number(distance: _Distance) -> str:
    if distance.mm < _SAME_MM:
        return "0"
    return f"{decimal_text(distance.mm)} ({inch_text(distance.mm)})"


def _level_numbers(distances: Sequence[_Distance]) -> tuple[list[Stroke], list[Text], float]:
    """Extension lines downwards with upright numbers, and how far down they reach."""
    strokes, texts = [], []
    for distance, place in zip(distances, _spread([d.at for d in distances], _PITCH_MM), strict=True):
        run = [(distance.at, distance.start - 0.6), (distance.at, -_BEND_MM), (place, -_END_MM)]
        strokes.append(Stroke(line=Line.DIMENSION, segments=straight(run)))
        at = place + _TEXT_MM / 2, -_NUMBER_MM
        texts.append(_text(_number(distance), at, 90.0))
    longest = max(text_width_mm(text.text, _TEXT_MM) for text in texts)
    return strokes, texts, _NUMBER_MM + longest


def _upright_numbers(distances: Sequence[_Distance]) -> tuple[list[Stroke], list[Text]]:
    """Extension lines to the left with level numbers."""
    strokes, texts = [], []
    for distance, place in zip(distances, _spread([d.at for d in distances], _PITCH_MM), strict=True):
        run = [(distance.start - 0.6, distance.at), (-_BEND_MM, distance.at), (-_END_MM, place)]
        strokes.append(Stroke(line=Line.DIMENSION, segments=straight(run)))
        texts.append(_text(_number(distance), (-_NUMBER_MM, place - _TEXT_MM / 2), 0.0))
    return strokes, texts


def _text(words: str, at: Point, turn_deg: float) -> Text:
    return Text(
        line=Line.DIMENSION, at=at, text=words, height_mm=_TEXT_MM, turn_deg=turn_deg, align=Align.RIGHT
    )


def _lines(part: Part, scale: int) -> list[Stroke]:
    """Outline, holes and marks, reduced, lower left corner of the box at (0, 0)."""
    x0, y0, _, _ = part.outline.bounds
    outer, *holes = part.outline.lines()
    strokes = [Stroke(line=Line.OPENING, segments=ring, closed=True) for ring in holes]
    for mark in part.marks:
        line = Line.MARK_BACK if is_far(mark, part) else Line.MARK
        strokes += [Stroke(line=line, segments=run) for run in mark.drawn().runs]
    strokes.append(Stroke(line=Line.THROUGH, segments=outer, closed=True))
    return [_reduced(moved(stroke, -x0, -y0), scale) for stroke in strokes]


def _reduced(stroke: Stroke, scale: int) -> Stroke:
    def point(at: Point) -> Point:
        return at[0] / scale, at[1] / scale

    segments = tuple(Segment(point(s.start), point(s.end), s.bulge) for s in stroke.segments)
    return Stroke(line=stroke.line, segments=segments, closed=stroke.closed)


def _directions(part: Part, left_mm: float) -> tuple[list[Stroke], list[Text], float]:
    """FRONT and UP below one another from `left_mm` on, and how far down from the part they reach."""
    strokes: list[Stroke] = []
    texts: list[Text] = []
    level = -_NUMBER_MM
    directions = [("FRONT", part.place.fore()), ("UP", part.place.up())] if part.place else []
    for word, (dx, dy) in directions:
        length = math.hypot(dx, dy)
        if length <= _IN_PLANE:
            continue
        tip = _SHAFT_MM * dx / length, _SHAFT_MM * dy / length
        off = 1.5 + (abs(dx) * text_width_mm(word, _TEXT_MM) + abs(dy) * _TEXT_MM) / length / 2
        at = tip[0] + off * dx / length, tip[1] + off * dy / length - _TEXT_MM / 2
        text = Text(line=Line.DIMENSION, at=at, text=word, height_mm=_TEXT_MM, align=Align.MIDDLE)
        x0, y0, _, y1 = text_box(text).union(LineString([(0, 0), tip]).buffer(1.0)).bounds
        shift = left_mm - x0, level - _ARROW_GAP_MM - y1
        strokes += [moved(stroke, *shift) for stroke in arrow((0.0, 0.0), tip, Line.DIMENSION)]
        texts.append(replace(text, at=(at[0] + shift[0], at[1] + shift[1])))
        level = y0 + shift[1]
    return strokes, texts, -level
