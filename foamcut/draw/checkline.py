"""The long check line: a line across the joined tiles whose whole length is written on it.

A bar of 100 mm shows a wrong scale; only a long line shows tiles joined askew or paper that has grown.
The drawing's coordinates, mm.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import shapely
from shapely import LineString, MultiLineString

from foamcut.draw.metrics import DESCENT_PER_CAP, text_width_mm
from foamcut.draw.tiles import Box, Content, Room, Tiling, best_tiling
from foamcut.draw.values import Align, Line, Stroke, Text
from foamcut.draw.words import mm_and_inch, right_way_up, text_box
from foamcut.flat.outline import Point, straight

#: from the part to a check line beside it, mm: room for its words between
BESIDE_MM = 6.0
_HEIGHT_MM = 2.5
_ABOVE_MM = 0.8
_TICK_MM = 2.0
_STEP_MM = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckLine:
    """From start to end; words stand on its left side as one goes along it."""

    start: Point
    end: Point

    @property
    def length_mm(self) -> float:
        """Distance between the two ends."""
        return math.dist(self.start, self.end)

    def shape(self) -> LineString:
        """As geometry."""
        return LineString([self.start, self.end])

    def strokes(self) -> tuple[Stroke, ...]:
        """The line and a tick across each end."""
        along_x, along_y = self._along()
        off_x, off_y = -along_y * _TICK_MM, along_x * _TICK_MM
        ticks = [[(x - off_x, y - off_y), (x + off_x, y + off_y)] for x, y in (self.start, self.end)]
        runs = ([self.start, self.end], *ticks)
        return tuple(Stroke(line=Line.RULER, segments=straight(run)) for run in runs)

    def texts(self, tiling: Tiling, lines: MultiLineString, words: Sequence[Box]) -> tuple[Text, ...]:
        """The words once on every tile that the line crosses, inside the trim lines, clear of other lines."""
        taken = shapely.union_all([lines, *(shapely.box(*box) for box in words)])
        shapely.prepare(taken)
        found = (self._text_on(cell.core, tiling, taken) for cell in tiling.cells)
        return tuple(text for text in found if text)

    def _text_on(self, core: Box, tiling: Tiling, taken: shapely.Geometry) -> Text | None:
        cell = shapely.box(*core)
        shown = self.shape().intersection(cell)
        if shown.is_empty or shown.length < 2 * _STEP_MM:
            return None
        along = self._along()
        turn = math.degrees(math.atan2(along[1], along[0]))
        centre = self.shape().project(shapely.Point(shown.centroid))
        fallback = None
        for words in (f"check line, {mm_and_inch(self.length_mm)} in all", mm_and_inch(self.length_mm)):
            half = text_width_mm(words, _HEIGHT_MM) / 2
            steps = math.ceil(shown.length / 2 / _STEP_MM)
            for shift in sorted(range(-steps, steps + 1), key=abs):
                reach = centre + shift * _STEP_MM
                at = (
                    self.start[0] + along[0] * reach - along[1] * _ABOVE_MM,
                    self.start[1] + along[1] * reach + along[0] * _ABOVE_MM,
                )
                text = Text(
                    line=Line.RULER,
                    at=at,
                    text=words,
                    height_mm=_HEIGHT_MM,
                    turn_deg=turn % 360,
                    align=Align.MIDDLE,
                )
                text = right_way_up(text, 90.0 if tiling.turned else 0.0)
                box = text_box(text)
                if half * 2 > shown.length or not cell.contains(box):
                    continue
                fallback = fallback or text
                if not taken.intersects(box):
                    return text
        return fallback

    def _along(self) -> tuple[float, float]:
        length = self.length_mm
        return (self.end[0] - self.start[0]) / length, (self.end[1] - self.start[1]) / length


def tiled_with_check_line(
    content: Content, rooms: Sequence[Room], around: Box
) -> tuple[Tiling, CheckLine | None]:
    """The best tiling, and a check line that costs no page; none when there is one tile only.

    The line runs beside the box `around` (everything that is drawn), else beside what must be shown, along
    its longer side or else the shorter one, else between the two points that are farthest apart.
    """
    plain = best_tiling(content, rooms)
    if len(plain.cells) == 1:
        return plain, None
    for line in (line for box in dict.fromkeys((around, content.bounds())) for line in _beside(box)):
        longer = replace(content, lines=MultiLineString([*content.lines.geoms, line.shape()]))
        tiling = best_tiling(longer, rooms)
        if len(tiling.cells) == len(plain.cells):
            return tiling, line
    return plain, _farthest(content)


def _beside(box: Box) -> Iterator[CheckLine]:
    """Beside a box, with room between the two for the words of the line."""
    x0, y0, x1, y1 = box
    off = BESIDE_MM + DESCENT_PER_CAP * _HEIGHT_MM
    # drawn so that the words, on the left of the line, lie between it and the drawing
    level = [
        CheckLine(start=(x0, y0 - off), end=(x1, y0 - off)),
        CheckLine(start=(x1, y1 + off), end=(x0, y1 + off)),
    ]
    upright = [
        CheckLine(start=(x0 - off, y1), end=(x0 - off, y0)),
        CheckLine(start=(x1 + off, y0), end=(x1 + off, y1)),
    ]
    yield from (*level, *upright) if x1 - x0 >= y1 - y0 else (*upright, *level)


def _farthest(content: Content) -> CheckLine:
    hull = shapely.union_all([content.area, content.lines]).convex_hull
    points = [(float(x), float(y)) for x, y in shapely.get_coordinates(hull)]
    start, end = max(combinations(points, 2), key=lambda pair: round(math.dist(*pair) * 1e6))
    if end < start:
        start, end = end, start
    return CheckLine(start=start, end=end)
