"""A part drawn small, to be ruled on the board: its lines, distances from one corner, and arrows.

mm on the page; a block's origin is its upper left corner.  How distances are written stands in
`dimensions`.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely import LineString, Polygon

from foamcut.draw.arrows import arrow
from foamcut.draw.dimensions import (
    NUMBER_MM,
    TEXT_MM,
    Distance,
    distances,
    level_numbers,
    number_words,
    upright_numbers,
)
from foamcut.draw.flow import Block, moved
from foamcut.draw.foldwords import bevel_words, fold_words
from foamcut.draw.label import centred
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.part import circle_stroke, is_far, stroke_shape
from foamcut.draw.room import FreeRoom
from foamcut.draw.values import Align, Line, Stroke, Text
from foamcut.draw.words import text_box
from foamcut.draw.worked import fold_lines
from foamcut.flat.clipping import Run
from foamcut.flat.doublers import letters
from foamcut.flat.folds import Fold
from foamcut.flat.joint_mark import JointMark
from foamcut.flat.marks import Mark
from foamcut.flat.outline import Point, Segment
from foamcut.flat.part import Part
from foamcut.flat.tolerances import SAME_POINT_MM
from foamcut.units import decimal_text

#: room at the left for level numbers, at least
_GUTTER_MM = 30.0
#: of the arrows, which stand below the numbers of the gutter: length of a shaft, and room around each, mm
_SHAFT_MM, _ARROW_GAP_MM = 9.0, 3.0
#: from the letter of a fold to the nearest line, mm
_TAG_CLEARANCE_MM = 0.4
#: a direction is drawn when this much of it lies in the part's plane
_IN_PLANE = 0.5


def gutter_mm(part: Part) -> float:
    """Room at the left for the longest of the level numbers."""
    datum = _datum(part)[1]
    heights = [y for _, y in (*cut_points(part), *mark_points(part))]
    numbers = [number_words(Distance(abs(y - datum), 0.0, 0.0)) for y in heights]
    return max(_GUTTER_MM, NUMBER_MM + max(text_width_mm(words, TEXT_MM) for words in numbers))


def drawn_small(part: Part, points: Sequence[Point], scale: int, left_mm: float) -> Block:
    """The part reduced `scale` times, with the distances of points; `left_mm`: room for level numbers."""
    x0, y0, _, y1 = part.outline.bounds
    datum = _datum(part)

    def on_page(x: float, y: float) -> Point:
        return (x - x0) / scale, (y - y0) / scale

    across = distances([(p[0], p[1]) for p in points], datum[0], x0, y0, scale)
    upwards = distances([(p[1], p[0]) for p in points], datum[1], y0, x0, scale)
    below_strokes, below_texts, below_mm = level_numbers(across)
    left_strokes, left_texts = upright_numbers(upwards)
    lines = _lines(part, scale)
    strokes = [*lines, *below_strokes, *left_strokes]
    strokes.append(circle_stroke(Line.DIMENSION, *on_page(*datum), 1.5))
    arrows, words, arrows_mm = _directions(part, -left_mm)
    strokes += arrows
    texts = [*below_texts, *left_texts, *words, *_tag_texts(part, lines, scale)]
    highest = max([(y1 - y0) / scale + 1.5, *(t.at[1] + TEXT_MM + 0.5 for t in left_texts)])
    below_mm = max(below_mm, arrows_mm)
    block = Block(height_mm=highest + below_mm, strokes=tuple(strokes), texts=tuple(texts))
    return block.moved(left_mm, -highest)


def _corners(part: Part) -> list[Point]:
    return [point for ring in part.outline.rings() for point in ring[:-1]]


def cut_points(part: Part) -> list[Point]:
    """Corners, and the ends of the lines of folds and bevels."""
    return [*_corners(part), *(p for run in _worked(part) for s in run for p in (s.start, s.end))]


def _worked(part: Part) -> list[Run]:
    """Lines of folds, the one where the paper turns included, and of bevels."""
    folds = [run for fold in part.folds for run in (*fold.cut_runs(), *fold.fold)]
    return [*folds, *(run for bevel in part.bevels for run in bevel.runs)]


def work_tags(part: Part) -> dict[str, str]:
    """A small letter for every way in which folds and edges of the part are worked."""
    ways = dict.fromkeys((*map(fold_words, part.folds), *map(bevel_words, part.bevels)))
    return dict(zip(ways, _small_letters(len(ways)), strict=True))


def mark_tags(part: Part) -> dict[str, str]:
    """The marks of the part by their words, with small letters that go on behind those of `work_tags`.

    A doubler's outline has its own letter.
    """
    worked = len(work_tags(part))
    glued = {mark_words(mark, part): mark.letter for mark in part.marks if isinstance(mark, JointMark)}
    others = [words for mark in part.marks if (words := mark_words(mark, part)) and words not in glued]
    others = list(dict.fromkeys(others))
    tags = _small_letters(worked + len(others))[worked:]
    return dict(zip(others, tags, strict=True)) | glued


def mark_words(mark: Mark, part: Part) -> str:
    """What a mark is, in words; empty for one that has none."""
    if isinstance(mark, JointMark):
        return f"where doubler {mark.letter} is glued, with its ticks"
    named = ", ".join(dict.fromkeys(text.text for text in mark.drawn().texts if text.text))
    return f"{named} on the far face" if named and is_far(mark, part) else named


def _small_letters(count: int) -> list[str]:
    return [letter.lower() for letter in letters(count)]


def turning_places(fold: Fold, part: Part) -> tuple[str, ...]:
    """The distances from the datum corner of the lines where the paper turns that run along an edge."""
    datum = _datum(part)
    places = [
        f"{decimal_text(abs(run[0].start[axis] - datum[axis]))} mm"
        for run in fold.fold
        for axis in (0, 1)
        if abs(run[0].start[axis] - run[-1].end[axis]) < SAME_POINT_MM
    ]
    return tuple(dict.fromkeys(places))


def mark_points(part: Part) -> list[Point]:
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


def _lines(part: Part, scale: int) -> list[Stroke]:
    """Outline, holes and marks, reduced, lower left corner of the box at (0, 0)."""
    x0, y0, _, _ = part.outline.bounds
    outer, *holes = part.outline.lines()
    strokes = [Stroke(line=Line.OPENING, segments=ring, closed=True) for ring in holes]
    for mark in part.marks:
        line = Line.MARK_BACK if is_far(mark, part) else Line.MARK
        strokes += [Stroke(line=line, segments=run) for run in mark.drawn().runs]
    strokes += fold_lines(part)
    strokes.append(Stroke(line=Line.THROUGH, segments=outer, closed=True))
    return [_reduced(moved(stroke, -x0, -y0), scale) for stroke in strokes]


def _tag_texts(part: Part, lines: Sequence[Stroke], scale: int) -> list[Text]:
    """The letter of each fold, bevel and mark near its middle, clear of lines where there is room."""
    tags = work_tags(part) | mark_tags(part)
    wanted = [(tags[fold_words(fold)], (*fold.cut_runs(), *fold.fold)) for fold in part.folds]
    wanted += [(tags[bevel_words(bevel)], bevel.runs) for bevel in part.bevels]
    named = [(mark_words(mark, part), mark.drawn().runs) for mark in part.marks]
    wanted += [(tags[words], runs) for words, runs in named if words]
    if not wanted:
        return []
    x0, y0, _, _ = part.outline.bounds
    room = FreeRoom(_reduced_area(part, scale), [stroke_shape(line) for line in lines])
    texts = []
    for tag, runs in wanted:
        if not runs:
            continue
        longest = max(runs, key=lambda run: round(math.dist(run[0].start, run[-1].end) * 1e6))
        (ax, ay), (bx, by) = longest[0].start, longest[-1].end
        middle = ((ax + bx) / 2 - x0) / scale, ((ay + by) / 2 - y0) / scale
        at = room.place(text_width_mm(tag, TEXT_MM), TEXT_MM, 0.0, middle, _TAG_CLEARANCE_MM) or middle
        text = replace(centred(tag, TEXT_MM, at, 0.0), line=Line.DIMENSION)
        room.take(text_box(text))
        texts.append(text)
    return texts


def _reduced_area(part: Part, scale: int) -> Polygon:
    x0, y0, _, _ = part.outline.bounds
    return shapely.transform(part.outline.polygon, lambda points: (points - (x0, y0)) / scale)


def _reduced(stroke: Stroke, scale: int) -> Stroke:
    def point(at: Point) -> Point:
        return at[0] / scale, at[1] / scale

    segments = tuple(Segment(point(s.start), point(s.end), s.bulge) for s in stroke.segments)
    return Stroke(line=stroke.line, segments=segments, closed=stroke.closed)


def _directions(part: Part, left_mm: float) -> tuple[list[Stroke], list[Text], float]:
    """FRONT and UP below one another from `left_mm` on, and how far down from the part they reach."""
    strokes: list[Stroke] = []
    texts: list[Text] = []
    level = -NUMBER_MM
    directions = [("FRONT", part.place.fore()), ("UP", part.place.up())] if part.place else []
    for word, (dx, dy) in directions:
        length = math.hypot(dx, dy)
        if length <= _IN_PLANE:
            continue
        tip = _SHAFT_MM * dx / length, _SHAFT_MM * dy / length
        off = 1.5 + (abs(dx) * text_width_mm(word, TEXT_MM) + abs(dy) * TEXT_MM) / length / 2
        at = tip[0] + off * dx / length, tip[1] + off * dy / length - TEXT_MM / 2
        text = Text(line=Line.DIMENSION, at=at, text=word, height_mm=TEXT_MM, align=Align.MIDDLE)
        x0, y0, _, y1 = text_box(text).union(LineString([(0, 0), tip]).buffer(1.0)).bounds
        shift = left_mm - x0, level - _ARROW_GAP_MM - y1
        strokes += [moved(stroke, *shift) for stroke in arrow((0.0, 0.0), tip, Line.DIMENSION)]
        texts.append(replace(text, at=(at[0] + shift[0], at[1] + shift[1])))
        level = y0 + shift[1]
    return strokes, texts, -level
