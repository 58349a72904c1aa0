"""Words beside what they tell of: where a mark, a slot, a fold or a bevelled edge has room for them.

The part's coordinates, mm.  Each is tried in the usual height and a smaller one, farther from all lines
and nearer to them; None when nothing is free near by.
"""

import math
from collections.abc import Iterator, Sequence

from shapely import Polygon

from foamcut.draw.label import LEAST_MM, SMALL_MM, centred, readable_turn
from foamcut.draw.metrics import DESCENT_PER_CAP, text_width_mm
from foamcut.draw.pricks import PRICK_RADIUS_MM, is_far
from foamcut.draw.room import CLEARANCE_MM, WIDE_MM, FreeRoom
from foamcut.draw.values import Text
from foamcut.draw.words import text_box
from foamcut.flat.clipping import Run
from foamcut.flat.marks import Mark, MarkText
from foamcut.flat.outline import Point
from foamcut.flat.part import Part, Slot

#: from words to the nearest line in turn, mm; the last where nothing else is left
_CLEARANCES = (WIDE_MM, CLEARANCE_MM, 0.3)
#: the words of a mark stand no farther than this from where they belong, mm
_FAR_MM = 25.0
#: a letter stands so far off its line, and so far from the line's end, the nearest that is free, mm
_LETTER_OFF_MM = 0.4
_LETTER_ALONG_MM = (2.0, 4.0, 6.0, 9.0, 12.0)
#: where along a line its words may stand: shares of its length from its middle
_SHARES = (0.0, 0.15, -0.15, 0.3, -0.3, 0.4, -0.4)


def beside_mark(words: MarkText, mark: Mark, part: Part, room: FreeRoom) -> Text | None:
    """The words where the mark wants them or near by, clear of all lines, smaller if they must be.

    The words of a mark of the far face stand beside a place where it is pricked through.
    """
    if not words.text:
        return None
    turn = readable_turn(words.turn_deg)
    for height in (SMALL_MM, LEAST_MM):
        width = text_width_mm(words.text, height)
        centres = list(_centres(words, height))
        if is_far(mark, part):
            pricks = mark.drawn().prick_points
            centres = [c for p in pricks for c in _round_about(p, turn, width, height)] + centres
        tried = [(centre, turn, clearance) for clearance in _CLEARANCES for centre in centres]
        if text := _first_free(words.text, height, tried, room):
            return text
        for clearance in (WIDE_MM, CLEARANCE_MM):
            for other in dict.fromkeys((turn, 0.0, 90.0)):
                near = room.place(width, _tall(height), other, centres[0], clearance)
                if near and math.dist(near, centres[0]) <= _FAR_MM:
                    return centred(words.text, height, near, other)
    return None


def _centres(words: MarkText, height_mm: float) -> Iterator[Point]:
    """Middles of the words: where the mark wants them, then in steps to both sides."""
    angle = math.radians(words.turn_deg)
    up = -math.sin(angle), math.cos(angle)
    x, y = words.at[0] + height_mm / 2 * up[0], words.at[1] + height_mm / 2 * up[1]
    for off in (0.0, *(side * 1.0 * step for step in range(1, 9) for side in (1, -1))):
        yield x + off * up[0], y + off * up[1]


def _round_about(point: Point, turn_deg: float, width_mm: float, height_mm: float) -> Iterator[Point]:
    """Middles of words right of, left of, above and below a prick circle."""
    angle = math.radians(turn_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    for gap in (WIDE_MM + 0.1, CLEARANCE_MM + 0.1):
        along = PRICK_RADIUS_MM + gap + width_mm / 2
        across = PRICK_RADIUS_MM + gap + height_mm * (0.5 + DESCENT_PER_CAP)
        for a, b in ((along, 0.0), (-along, 0.0), (0.0, across), (0.0, -across)):
            yield point[0] + a * cos - b * sin, point[1] + a * sin + b * cos


def _tall(height_mm: float) -> float:
    """Height of the box about the middle of a line of capitals, descenders included."""
    return height_mm * (1 + 2 * DESCENT_PER_CAP)


def _first_free(
    words: str, height_mm: float, tried: Sequence[tuple[Point, float, float]], room: FreeRoom
) -> Text | None:
    """The words in the first place that is free; a place is their middle, their turn and the clearance."""
    # the box of a text is not about the middle of its capitals: below them there is room for descenders
    low = height_mm * DESCENT_PER_CAP / 2
    boxes = [(_lower(centre, turn, low), turn) for centre, turn, _ in tried]
    size = text_width_mm(words, height_mm), height_mm * (1 + DESCENT_PER_CAP)
    for i in room.likely(boxes, size, [clearance for _, _, clearance in tried]):
        centre, turn, clearance = tried[i]
        text = centred(words, height_mm, centre, turn)
        if room.is_free(text_box(text), clearance):
            return text
    return None


def _lower(point: Point, turn_deg: float, by_mm: float) -> Point:
    """The point below another as words of a turn are read."""
    angle = math.radians(turn_deg)
    return point[0] + by_mm * math.sin(angle), point[1] - by_mm * math.cos(angle)


def beside_slot(slot: Slot, words: str, room: FreeRoom, sheet: Polygon) -> Text | None:
    """The words in the first free place along the slot, else across it, else in the waste within."""
    for height in (SMALL_MM, LEAST_MM):
        wide = text_width_mm(words, height)
        tried = [
            (centre, turn, clearance)
            for clearance in _CLEARANCES
            for centre, turn in _places_at_slot(slot, wide, height, clearance)
        ]
        if found := _first_free(words, height, tried, room):
            return found
        text = centred(words, height, slot.at, readable_turn(slot.turn_deg))
        inside = slot.outline.polygon.buffer(-0.3).contains(text_box(text))
        if inside and not sheet.intersects(text_box(text)):
            return text
    return None


def _places_at_slot(
    slot: Slot, width_mm: float, height_mm: float, clearance_mm: float
) -> Iterator[tuple[Point, float]]:
    angle = math.radians(slot.turn_deg)
    along, square = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    (x, y), turn = slot.at, slot.turn_deg

    def at(a: float, s: float) -> Point:
        return x + a * along[0] + s * square[0], y + a * along[1] + s * square[1]

    half_length, half_width = slot.length_mm / 2, slot.width_mm / 2
    gap = clearance_mm + 0.1
    high = gap + height_mm * (0.5 + DESCENT_PER_CAP)
    wide = gap + width_mm / 2
    for share in (0.0, 0.25, -0.25, 0.5, -0.5):
        for side in (1, -1):
            yield at(share * slot.length_mm, side * (half_width + high)), readable_turn(turn)
    for side in (1, -1):
        yield at(side * (half_length + wide), 0), readable_turn(turn)
    for side in (1, -1):
        yield at(0, side * (half_width + wide)), readable_turn(turn + 90)
    for side in (1, -1):
        yield at(side * (half_length + high), 0), readable_turn(turn + 90)


def beside_line(words: str, run: Run, off_mm: tuple[float, float], room: FreeRoom) -> Text | None:
    """The words along a line, just beyond what is worked there, else square to it.

    `off_mm` is how far that reaches to the right (negative) and to the left of the longest stretch of the
    run; the left side, where the panel is that a fold turns, comes first.
    """
    longest = max(run, key=lambda s: round(math.dist(s.start, s.end) * 1e6))
    length = sum(math.dist(s.start, s.end) for s in run)
    for height in (SMALL_MM, LEAST_MM):
        wide = text_width_mm(words, height)
        # words longer than the line would stand beside something else, too
        ways = (False, True) if wide <= length else (True,)
        ends, size = (longest.start, longest.end), (wide, height)
        tried = [
            (centre, turn, clearance)
            for clearance in _CLEARANCES
            for square in ways
            for centre, turn in _places_at_line(ends, off_mm, size, clearance, square)
        ]
        if found := _first_free(words, height, tried, room):
            return found
    return None


def _places_at_line(
    ends: tuple[Point, Point],
    off_mm: tuple[float, float],
    size_mm: tuple[float, float],
    clearance_mm: float,
    square: bool,
) -> Iterator[tuple[Point, float]]:
    """Middles and turns of words along a line or square to it, its left first."""
    (x0, y0), (x1, y1) = ends
    angle = math.atan2(y1 - y0, x1 - x0)
    turn = readable_turn(math.degrees(angle) + (90 if square else 0))
    width, height = size_mm
    half = width / 2 if square else height * (0.5 + DESCENT_PER_CAP)
    right, left = off_mm
    for share in _SHARES:
        x, y = (x0 + x1) / 2 + share * (x1 - x0), (y0 + y1) / 2 + share * (y1 - y0)
        for s in (left + clearance_mm + 0.1 + half, right - clearance_mm - 0.1 - half):
            yield (x - s * math.sin(angle), y + s * math.cos(angle)), turn


def letter_at_end(letter: str, run: Run, side: int, room: FreeRoom) -> Text | None:
    """A letter at one end of a straight line, to its left (1) or right (-1), close to it."""
    (x0, y0), (x1, y1) = run[0].start, run[-1].end
    angle, length = math.atan2(y1 - y0, x1 - x0), math.dist((x0, y0), (x1, y1))
    half = text_width_mm(letter, LEAST_MM) / 2, LEAST_MM * (0.5 + DESCENT_PER_CAP)
    s = side * (half[1] + _LETTER_OFF_MM + 0.1)
    turn = readable_turn(math.degrees(angle))
    tried = []
    for off in _LETTER_ALONG_MM:
        for u in (half[0] + off, length - half[0] - off):
            centre = (
                x0 + u * math.cos(angle) - s * math.sin(angle),
                y0 + u * math.sin(angle) + s * math.cos(angle),
            )
            tried.append((centre, turn, _LETTER_OFF_MM))
    return _first_free(letter, LEAST_MM, tried, room)
