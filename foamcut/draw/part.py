"""What is drawn of a part: its lines, and on it everything that the builder must read.

The part's coordinates, mm.  Sheets place what stands here; templates print it as it is.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from shapely import LineString
from shapely.geometry.base import BaseGeometry

from foamcut.draw.lettering import Lettering, lettering
from foamcut.draw.pricks import PRICK_RADIUS_MM, is_far, prick_points
from foamcut.draw.values import Line, Stroke, Text, Title
from foamcut.draw.words import way_words
from foamcut.draw.worked import cut_behind, fold_lines
from foamcut.flat.marks import BalanceMark, Mark
from foamcut.flat.outline import Point, Segment, straight
from foamcut.flat.part import Part

__all__ = [
    "PRICK_RADIUS_MM",
    "Drawn",
    "LeftOut",
    "circle_stroke",
    "is_far",
    "left_out",
    "part_lines",
    "stroke_shape",
]

Drawn = tuple[tuple[Stroke, ...], tuple[Text, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """What found no room on a part: words, and arrows with their directions in the part's plane."""

    words: tuple[str, ...]
    arrows: tuple[tuple[str, float], ...]

    def told(self, turn_deg: float = 0.0, *, flipped: bool = False) -> tuple[str, ...]:
        """All of it in words, for a part that lies turned by `turn_deg` after it was mirrored (y -> -y)."""
        return (*self.words, *self.ways(turn_deg, flipped=flipped))

    def ways(self, turn_deg: float = 0.0, *, flipped: bool = False) -> tuple[str, ...]:
        """The arrows alone in words."""
        side = -1 if flipped else 1
        return tuple(f"{word}: {way_words(side * way + turn_deg)}" for word, way in self.arrows)


def part_lines(
    part: Part,
    title: Title,
    *,
    number: int,
    template: bool,
    thicknesses: Mapping[str, float] | None = None,
    role: str = "",
) -> Drawn:
    """Strokes and texts of a part, in its own coordinates.

    What is cut on the face that lies down is drawn as it is seen through the board.  Words touch no line
    where the part is large enough; a small part carries fewer of them, the smallest its number only (see
    `left_out`).

    Parameters
    ----------
    number
        The part's number in the plan's list of parts.
    template
        A mark of the far face is drawn as small circles to prick through, otherwise by its lines; a line
        that is cut there keeps its style and has such circles near its ends and at its corners.
    thicknesses
        Of each stock by name, mm, to be written beside the slots that take it.
    role
        What a piece is of its part (see `pieces.piece_roles`), empty for a whole one.
    """
    known = tuple(sorted((thicknesses or {}).items()))
    strokes, texts, _ = _part_lines(part, title, number, template, known, role)
    return strokes, texts


def left_out(
    part: Part,
    title: Title,
    *,
    number: int,
    thicknesses: Mapping[str, float] | None = None,
    role: str = "",
) -> LeftOut:
    """Words and arrows that found no room on the part; arguments as for `part_lines`."""
    known = tuple(sorted((thicknesses or {}).items()))
    return _part_lines(part, title, number, False, known, role)[2]


@lru_cache(maxsize=2048)  # the copies of a part are alike
def _part_lines(
    part: Part,
    title: Title,
    number: int,
    template: bool,
    thicknesses: tuple[tuple[str, float], ...],
    role: str,
) -> tuple[tuple[Stroke, ...], tuple[Text, ...], LeftOut]:
    front, pricked, words = _known(Asked(part, title, number, thicknesses, role))
    strokes = [*(pricked if template else front)]
    outer, *holes = part.outline.lines()
    strokes += words.strokes
    strokes += [Stroke(line=Line.OPENING, segments=ring, closed=True) for ring in holes]
    strokes.append(Stroke(line=Line.THROUGH, segments=outer, closed=True))
    missing = LeftOut(words=tuple(dict.fromkeys(words.homeless)), arrows=tuple(words.lost_arrows))
    return tuple(strokes), tuple(words.texts), missing


class Asked(NamedTuple):
    """What the words of a part hang on; `thicknesses` by the name of the stock, sorted."""

    part: Part
    title: Title
    number: int
    thicknesses: tuple[tuple[str, float], ...]
    role: str


#: lines as on a sheet, lines as on a template, words and arrows: these stand at the same place on both
Lettered = tuple[tuple[Stroke, ...], tuple[Stroke, ...], Lettering]

_MOST_KNOWN = 2048
_KNOWN: dict[Asked, Lettered] = {}


def remember(asked: Sequence[Asked], found: Sequence[Lettered]) -> None:
    """Keep what `lettered` gave in another process, so that it is not worked out again."""
    _KNOWN.update(zip(asked, found, strict=True))


def _known(asked: Asked) -> Lettered:
    if asked not in _KNOWN:
        if len(_KNOWN) >= _MOST_KNOWN:
            _KNOWN.clear()
        _KNOWN[asked] = lettered(asked)
    return _KNOWN[asked]


def lettered(asked: Asked) -> Lettered:
    """Lines of the marks and folds as on a sheet and as on a template, and the words clear of both."""
    part, title, number, thicknesses, role = asked
    front: list[Stroke] = []
    template: list[Stroke] = []
    for mark in part.marks:
        front += _mark(mark, part, False)
        template += _mark(mark, part, True)
    worked = fold_lines(part)
    points = prick_points(cut_behind(part), part.outline.polygon.boundary)
    pricks = [circle_stroke(Line.MARK_BACK, *at, PRICK_RADIUS_MM) for at in points]
    # a mark that both show in the same way is in the way once
    in_the_way = [stroke_shape(stroke) for stroke in dict.fromkeys((*front, *template, *worked, *pricks))]
    words = lettering(part, title, number, in_the_way, dict(thicknesses), role)
    return (*front, *worked), (*template, *worked, *pricks), words


def _mark(mark: Mark, part: Part, template: bool) -> list[Stroke]:
    drawn = mark.drawn()
    far = is_far(mark, part)
    line = Line.MARK_BACK if far else Line.MARK
    if far and template:
        circles = [circle_stroke(line, *point, PRICK_RADIUS_MM) for point in drawn.prick_points]
        # the place itself is told from the end of the line across it
        return [*circles, *_cross(line, mark.tip)] if isinstance(mark, BalanceMark) else circles
    return [Stroke(line=line, segments=run) for run in drawn.runs]


def _cross(line: Line, at: Point) -> list[Stroke]:
    """A cross that fits into a prick circle."""
    x, y = at
    arm = PRICK_RADIUS_MM * 0.9
    ends = (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm)))
    return [Stroke(line=line, segments=straight(pair)) for pair in ends]


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
        if segment.bulge:
            points.extend(segment.points())
        else:
            points.append(segment.end)
    return LineString(points)
