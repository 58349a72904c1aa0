"""What is drawn of a part: its lines, and on it everything that the builder must read.

The part's coordinates, mm.  Sheets place what stands here; templates print it as it is.
"""

import math
from collections.abc import Mapping
from functools import lru_cache

from shapely import LineString
from shapely.geometry.base import BaseGeometry

from foamcut.draw.lettering import lettering
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line, Stroke, Text, Title
from foamcut.flat.drawn import Face
from foamcut.flat.marks import Mark
from foamcut.flat.outline import Segment
from foamcut.flat.part import Part

#: radius of the small circles at which a mark of the far face is pricked through, mm: two dashes go round
PRICK_RADIUS_MM = sum(STYLES[Line.MARK_BACK].dashes_mm) / math.pi

Drawn = tuple[tuple[Stroke, ...], tuple[Text, ...]]


def part_lines(
    part: Part,
    title: Title,
    *,
    number: int,
    template: bool,
    thicknesses: Mapping[str, float] | None = None,
) -> Drawn:
    """Strokes and texts of a part, in its own coordinates.

    Words touch no line where the part is large enough; a small part carries fewer of them, the
    smallest its number only.

    Parameters
    ----------
    number
        The part's number in the plan's list of parts.
    template
        A mark of the far face is drawn as small circles to prick through; otherwise by its lines.
    thicknesses
        Of each stock by name, mm, to be written beside the slots that take it.
    """
    known = tuple(sorted((thicknesses or {}).items()))
    return _part_lines(part, title, number, template, known)


@lru_cache(maxsize=2048)  # the copies of a part are alike
def _part_lines(
    part: Part,
    title: Title,
    number: int,
    template: bool,
    thicknesses: tuple[tuple[str, float], ...],
) -> Drawn:
    strokes: list[Stroke] = []
    # words and arrows stand at the same place on sheets and on templates: both drawings are in their way
    in_the_way: list[BaseGeometry] = []
    for mark in part.marks:
        for pricked in (False, True):
            mark_strokes = _mark(mark, part, pricked)
            in_the_way += map(stroke_shape, mark_strokes)
            if pricked == template:
                strokes += mark_strokes
    words = lettering(part, title, number, in_the_way, dict(thicknesses))
    outer, *holes = part.outline.lines()
    strokes += words.strokes
    strokes += [Stroke(line=Line.OPENING, segments=ring, closed=True) for ring in holes]
    strokes.append(Stroke(line=Line.THROUGH, segments=outer, closed=True))
    return tuple(strokes), tuple(words.texts)


def is_far(mark: Mark, part: Part) -> bool:
    """Whether a mark belongs on the face that lies down."""
    return Face.EITHER not in (mark.face, part.face) and mark.face is not part.face


def _mark(mark: Mark, part: Part, template: bool) -> list[Stroke]:
    drawn = mark.drawn()
    far = is_far(mark, part)
    line = Line.MARK_BACK if far else Line.MARK
    if far and template:
        return [circle_stroke(line, *point, PRICK_RADIUS_MM) for point in drawn.prick_points]
    return [Stroke(line=line, segments=run) for run in drawn.runs]


def circle_stroke(line: Line, x: float, y: float, radius: float) -> Stroke:
    """A full circle as two arcs of half a turn."""
    right, left = (x + radius, y), (x - radius, y)
    return Stroke(line=line, segments=(Segment(right, left, 1.0), Segment(left, right, 1.0)), closed=True)


def stroke_shape(stroke: Stroke) -> BaseGeometry:
    """A stroke as a line string, arcs as chords."""
    if not stroke.segments:
        return LineString()
    points = [stroke.segments[0].start]
    for segment in stroke.segments:
        points.extend(segment.points())
    return LineString(points)
