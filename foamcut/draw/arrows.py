"""The arrows FRONT and UP of a part, and where they find room.

The part's coordinates, mm.
"""

import math
from dataclasses import dataclass

from shapely import Polygon

from foamcut.draw.label import LEAST_MM, SMALL_MM, WORDS_MM, centred, readable_turn, rectangle
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.room import CLEARANCE_MM, WIDE_MM, FreeRoom
from foamcut.draw.values import Line, Stroke, Text
from foamcut.flat.outline import Point, straight
from foamcut.flat.part import Part

#: a direction is drawn when this much of it lies in the part's plane: on a panel that leans by less than 20
#: degrees from level, such as a floor that rises or a skin with dihedral, UP would mislead
_IN_PLANE = 0.34
_HEAD_MM = 3.0
_HEAD_DEG = 18.0
#: heights of words and lengths of arrows, the best first, mm
_SIZES = ((WORDS_MM, 18.0), (SMALL_MM, 12.0), (SMALL_MM, 7.0), (LEAST_MM, 7.0))
_WORD_GAP_MM = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrow:
    """An arrow with its word, and the rectangle that both take up."""

    strokes: tuple[Stroke, Stroke]
    text: Text
    box: Polygon


def directions(part: Part) -> tuple[tuple[str, float], ...]:
    """FRONT and UP as far as they lie in the part's plane, each with its direction in degrees."""
    if part.place is None:
        return ()
    ways = (("FRONT", part.place.fore()), ("UP", part.place.up()))
    return tuple(
        (word, math.degrees(math.atan2(way[1], way[0])) % 360)
        for word, way in ways
        if math.hypot(*way) >= _IN_PLANE
    )


def find_arrow(word: str, turn_deg: float, panel: Polygon, room: FreeRoom) -> Arrow | None:
    """The largest arrow that finds room, as near to the middle of a panel as can be; None without any.

    The word stands at the tail; on a narrow part beside the shaft.
    """
    for clearance in (WIDE_MM, CLEARANCE_MM):
        for height, shaft in _SIZES:
            found = _in_line(word, height, shaft, turn_deg, panel, room, clearance)
            if found:
                return found
        for height in (SMALL_MM, LEAST_MM):
            found = _side_by_side(word, height, turn_deg, panel, room, clearance)
            if found:
                return found
    return None


def _in_line(
    word: str,
    height_mm: float,
    shaft_mm: float,
    turn_deg: float,
    panel: Polygon,
    room: FreeRoom,
    clearance_mm: float,
) -> Arrow | None:
    """The word at the tail, both on one line."""
    width = text_width_mm(word, height_mm)
    length = width + _WORD_GAP_MM + shaft_mm
    across = max(2 * height_mm * 0.75, _head_width())
    frame = _place(length, across, turn_deg, panel, room, clearance_mm)
    if frame is None:
        return None
    tail, tip = frame.at(width + _WORD_GAP_MM - length / 2, 0), frame.at(length / 2, 0)
    text = centred(word, height_mm, frame.at(width / 2 - length / 2, 0), readable_turn(turn_deg))
    return Arrow(strokes=arrow(tail, tip), text=text, box=rectangle(frame.middle, turn_deg, length, across))


def _side_by_side(
    word: str, height_mm: float, turn_deg: float, panel: Polygon, room: FreeRoom, clearance_mm: float
) -> Arrow | None:
    """A short arrow with its word square to it, on its right."""
    shaft = _SIZES[-1][1]
    width, head = text_width_mm(word, height_mm), _head_width()
    across = head + _WORD_GAP_MM + width
    frame = _place(shaft, across, turn_deg, panel, room, clearance_mm)
    if frame is None:
        return None
    left = across / 2 - head / 2
    strokes = arrow(frame.at(-shaft / 2, left), frame.at(shaft / 2, left))
    text = centred(word, height_mm, frame.at(0, width / 2 - across / 2), readable_turn(turn_deg - 90))
    return Arrow(strokes=strokes, text=text, box=rectangle(frame.middle, turn_deg, shaft, across))


def _head_width() -> float:
    return 2 * _HEAD_MM * math.sin(math.radians(_HEAD_DEG))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    middle: Point
    turn_deg: float

    def at(self, along: float, left: float) -> Point:
        cos, sin = math.cos(math.radians(self.turn_deg)), math.sin(math.radians(self.turn_deg))
        return self.middle[0] + along * cos - left * sin, self.middle[1] + along * sin + left * cos


def _place(
    length_mm: float, across_mm: float, turn_deg: float, panel: Polygon, room: FreeRoom, clearance_mm: float
) -> _Frame | None:
    centroid = panel.centroid
    middle = room.place(length_mm, across_mm, turn_deg, (centroid.x, centroid.y), clearance_mm)
    return _Frame(middle=middle, turn_deg=turn_deg) if middle else None


def arrow(tail: Point, tip: Point, line: Line = Line.MARK) -> tuple[Stroke, Stroke]:
    """Shaft and head of an arrow."""
    back = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
    barbs = [back + side * math.radians(_HEAD_DEG) for side in (1, -1)]
    ends = [(tip[0] + _HEAD_MM * math.cos(a), tip[1] + _HEAD_MM * math.sin(a)) for a in barbs]
    shaft, head = straight([tail, tip]), straight([ends[0], tip, ends[1]])
    return Stroke(line=line, segments=shaft), Stroke(line=line, segments=head)
