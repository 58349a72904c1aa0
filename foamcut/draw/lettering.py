"""The words and arrows on a part, and where they find room.

The part's coordinates, mm.  What must be read is put down in the order of its weight: what goes into
each slot and what a mark is, the label (name, number, hand, count, face, sizes), the arrows.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.draw.metrics import DESCENT_PER_CAP, text_width_mm
from foamcut.draw.room import FreeRoom
from foamcut.draw.values import Align, Line, Stroke, Text, Title
from foamcut.draw.words import SIZES_GOVERN, count_words, overall_words, text_box
from foamcut.flat.drawn import Face, Grain
from foamcut.flat.marks import MarkText
from foamcut.flat.outline import Point, straight
from foamcut.flat.part import Part, Slot
from foamcut.units import decimal_text

#: heights of letters, mm: of the series of ISO 3098 (from memory), 2.5 the least on a template
NAME_MM = 5.0
WORDS_MM = 3.5
SMALL_MM = 2.5
#: from baseline to baseline, in heights of the lower line
_PITCH = 1.7
#: a direction is drawn when this much of it lies in the part's plane
_IN_PLANE = 0.5
_HEAD_MM = 3.0
_HEAD_DEG = 18.0
_SLOT_GAP_MM = 1.2
#: arrows keep this far from the label and from each other, mm
_APART_MM = 2.0


@dataclass(slots=True)
class Lettering:
    """Words and arrows found so far."""

    strokes: list[Stroke] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)


def lettering(
    part: Part,
    title: Title,
    number: int,
    obstacles: Sequence[BaseGeometry],
    thicknesses: Mapping[str, float],
) -> Lettering:
    """All words and arrows of a part that find room; `obstacles` are the lines already on it."""
    room = FreeRoom(part.outline.polygon, obstacles)
    found = Lettering()
    for mark in part.marks:
        for mark_text in mark.drawn().texts:
            text = _beside_mark(mark_text, room)
            if text:
                found.texts.append(text)
                room.take(text_box(text))
    homeless: list[str] = []
    for slot in part.slots:
        words = slot_words(slot, part, thicknesses)
        text = _beside(slot, words, room, part.outline.polygon)
        if text is None:
            homeless.append(words)
        else:
            found.texts.append(text)
            room.take(text_box(text))
    _label(part, title, number, tuple(dict.fromkeys(homeless)), room, found)
    if part.place:
        for word, direction in (("FRONT", part.place.fore()), ("UP", part.place.up())):
            if math.hypot(*direction) > _IN_PLANE:
                _arrow(word, math.degrees(math.atan2(direction[1], direction[0])) % 360, part, room, found)
    return found


def _beside_mark(words: MarkText, room: FreeRoom) -> Text | None:
    """The words where the mark wants them or near by, clear of all lines; on a line rather than off the part.

    None when they do not fit on the part at all: the mark itself is drawn.
    """
    angle = math.radians(words.turn_deg)
    up = -math.sin(angle), math.cos(angle)
    x, y = words.at[0] + SMALL_MM / 2 * up[0], words.at[1] + SMALL_MM / 2 * up[1]
    turn = _readable(words.turn_deg)
    for off in (0.0, *(side * 1.5 * step for step in range(1, 6) for side in (1, -1))):
        text = _centred(words.text, SMALL_MM, (x + off * up[0], y + off * up[1]), turn)
        if room.is_free(text_box(text), 0.2):
            return text
    for other in dict.fromkeys((turn, 0.0, 90.0)):
        centre = room.place(text_width_mm(words.text, SMALL_MM), SMALL_MM, other, (x, y))
        if centre:
            return _centred(words.text, SMALL_MM, centre, other)
    text = _centred(words.text, SMALL_MM, (x, y), turn)
    return text if room.holds(text_box(text)) else None


def slot_words(slot: Slot, part: Part, thicknesses: Mapping[str, float]) -> str:
    """What goes into a slot: the stock's name, and its measured thickness where it is known."""
    thickness = part.thickness_mm if slot.takes == part.stock else thicknesses.get(slot.takes)
    return slot.takes if thickness is None else f"{slot.takes} {decimal_text(thickness, 2)}"


def _beside(slot: Slot, words: str, room: FreeRoom, sheet: Polygon) -> Text | None:
    """The words in the first free place along the slot, else across it, else in the waste within."""
    for centre, turn in _places_beside(slot, text_width_mm(words, SMALL_MM)):
        text = _centred(words, SMALL_MM, centre, turn)
        if room.is_free(text_box(text), 0.4):
            return text
    text = _centred(words, SMALL_MM, slot.at, _readable(slot.turn_deg))
    inside = slot.outline.polygon.buffer(-0.3).contains(text_box(text))
    return text if inside and not sheet.intersects(text_box(text)) else None


def _places_beside(slot: Slot, width_mm: float) -> Iterator[tuple[Point, float]]:
    angle = math.radians(slot.turn_deg)
    along, square = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    (x, y), turn = slot.at, slot.turn_deg

    def at(a: float, s: float) -> Point:
        return x + a * along[0] + s * square[0], y + a * along[1] + s * square[1]

    half_length, half_width = slot.length_mm / 2, slot.width_mm / 2
    off = half_width + _SLOT_GAP_MM + SMALL_MM / 2
    for share in (0.0, 0.25, -0.25, 0.5, -0.5):
        for side in (1, -1):
            yield at(share * slot.length_mm, side * off), _readable(turn)
    for side in (1, -1):
        yield at(side * (half_length + _SLOT_GAP_MM + width_mm / 2), 0), _readable(turn)
    for side in (1, -1):
        yield at(0, side * (half_width + _SLOT_GAP_MM + width_mm / 2)), _readable(turn + 90)
    for side in (1, -1):
        yield at(side * (half_length + _SLOT_GAP_MM + SMALL_MM / 2), 0), _readable(turn + 90)


def _readable(turn_deg: float) -> float:
    """The direction or its opposite, whichever reads from the left or from below; in [-90, 90]."""
    turn = turn_deg % 360
    return turn if turn <= 90 else turn - 180 if turn <= 270 else turn - 360


def _centred(words: str, height_mm: float, centre: Point, turn_deg: float) -> Text:
    """A text whose capitals have their middle at a point."""
    angle = math.radians(turn_deg)
    at = centre[0] + height_mm / 2 * math.sin(angle), centre[1] - height_mm / 2 * math.cos(angle)
    return Text(
        line=Line.LETTERING, at=at, text=words, height_mm=height_mm, turn_deg=turn_deg, align=Align.MIDDLE
    )


Lines = tuple[tuple[str, float], ...]


def _label_sizes(part: Part, title: Title, number: int, homeless: tuple[str, ...]) -> Iterator[Lines]:
    """What the label says, from the fullest to the number alone: lines with their heights."""
    name = f"{number}  {part.name}"
    face = () if part.face is Face.EITHER else (f"{part.face.value} face up",)
    facts = ", ".join((count_words(part), *face))
    more = [*overall_words(part, title), SIZES_GOVERN]
    if part.grain is not Grain.ANY:
        along = (part.grain is Grain.X) == (part.length_mm >= part.width_mm)
        more.append(f"grain {'along' if along else 'across'} its length")
    more += [f"slot takes {words}" for words in homeless]
    for big, small in ((NAME_MM, WORDS_MM), (WORDS_MM, SMALL_MM)):
        yield ((name, big), (facts, small), *((line, small) for line in more))
    halves = [half for words in (facts, *more) for half in words.split(", ")]
    yield ((name, WORDS_MM), *((line, SMALL_MM) for line in halves))
    yield ((name, WORDS_MM), (facts, SMALL_MM), *((line, SMALL_MM) for line in more[3:]))
    yield ((name, SMALL_MM), *((line, SMALL_MM) for line in facts.split(", ")))
    yield ((name, SMALL_MM),)
    yield ((str(number), SMALL_MM),)


def _label(
    part: Part,
    title: Title,
    number: int,
    homeless: tuple[str, ...],
    room: FreeRoom,
    found: Lettering,
) -> None:
    """The fullest label that fits; where the builder put it, when a place is given."""
    for lines in _label_sizes(part, title, number, homeless):
        spot = _builders_spot(part, lines, room) if part.label else _free_spot(part, lines, room)
        if spot:
            break
    else:
        # no room even for the number: it stands on the part all the same, so that the part is known
        inside = part.outline.polygon.representative_point()
        spot = (inside.x, inside.y), _turns(part)[0]
        if part.label:
            spot = part.label.at, _readable(part.label.turn_deg)
    centre, turn = spot
    found.texts += _block(lines, centre, turn)
    room.take(_rectangle(centre, turn, *_block_size(lines)).buffer(_APART_MM, join_style="mitre"))


def _turns(part: Part) -> tuple[float, float]:
    """A wide part is read along x, an upright one along y."""
    return (0.0, 90.0) if part.length_mm >= part.width_mm else (90.0, 0.0)


def _free_spot(part: Part, lines: Lines, room: FreeRoom) -> tuple[Point, float] | None:
    """The free place for a block of words that is nearest to the part's middle."""
    middle = part.outline.polygon.centroid
    for turn in _turns(part):
        centre = room.place(*_block_size(lines), turn, (middle.x, middle.y))
        if centre:
            return centre, turn
    return None


def _builders_spot(part: Part, lines: Lines, room: FreeRoom) -> tuple[Point, float] | None:
    """Where the builder put the label, if the block fits there."""
    if part.label is None:
        return None
    turn = _readable(part.label.turn_deg)
    box = _rectangle(part.label.at, turn, *_block_size(lines))
    return (part.label.at, turn) if room.is_free(box, 0.4) else None


def _rectangle(centre: Point, turn_deg: float, width_mm: float, height_mm: float) -> Polygon:
    angle = math.radians(turn_deg)
    off = width_mm / 2 * math.cos(angle), width_mm / 2 * math.sin(angle)
    ends = (centre[0] - off[0], centre[1] - off[1]), (centre[0] + off[0], centre[1] + off[1])
    return LineString(ends).buffer(height_mm / 2, cap_style="flat")


def _block_size(lines: Lines) -> tuple[float, float]:
    width = max(text_width_mm(words, height) for words, height in lines)
    below = DESCENT_PER_CAP * lines[-1][1]
    return width, lines[0][1] + sum(_PITCH * height for _, height in lines[1:]) + below


def _block(lines: Lines, centre: Point, turn_deg: float) -> list[Text]:
    """Lines of words around a middle, top line first; they keep their order when they are turned over."""
    total = lines[0][1] + sum(_PITCH * height for _, height in lines[1:])
    angle = math.radians(turn_deg)
    texts, level = [], total / 2
    for i, (words, height) in enumerate(lines):
        level -= height if i == 0 else _PITCH * height
        middle = level + height / 2
        at = centre[0] - middle * math.sin(angle), centre[1] + middle * math.cos(angle)
        texts.append(replace(_centred(words, height, at, turn_deg), pivot=centre))
    return texts


def _arrow(word: str, turn_deg: float, part: Part, room: FreeRoom, found: Lettering) -> None:
    """An arrow with its word at the tail, as near to the middle of the part as there is room."""
    centroid = part.outline.polygon.centroid
    for height, shaft in ((WORDS_MM, 18.0), (SMALL_MM, 12.0), (SMALL_MM, 7.0)):
        width = text_width_mm(word, height)
        length = width + 1.5 + shaft
        middle = room.place(length, height, turn_deg, (centroid.x, centroid.y))
        if middle is None:
            continue
        angle = math.radians(turn_deg)
        along = math.cos(angle), math.sin(angle)
        start, word_end, tip = (
            (middle[0] + a * along[0], middle[1] + a * along[1])
            for a in (-length / 2, width - length / 2, length / 2)
        )
        tail = word_end[0] + 1.5 * along[0], word_end[1] + 1.5 * along[1]
        found.strokes += arrow(tail, tip)
        middle_of_word = (start[0] + word_end[0]) / 2, (start[1] + word_end[1]) / 2
        found.texts.append(_centred(word, height, middle_of_word, _readable(turn_deg)))
        taken = LineString([start, tip])
        room.take(taken.buffer(height / 2 + _APART_MM / 2, cap_style="square"))
        return


def arrow(tail: Point, tip: Point, line: Line = Line.MARK) -> tuple[Stroke, Stroke]:
    """Shaft and head of an arrow."""
    back = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
    barbs = [back + side * math.radians(_HEAD_DEG) for side in (1, -1)]
    ends = [(tip[0] + _HEAD_MM * math.cos(a), tip[1] + _HEAD_MM * math.sin(a)) for a in barbs]
    shaft, head = straight([tail, tip]), straight([ends[0], tip, ends[1]])
    return Stroke(line=line, segments=shaft), Stroke(line=line, segments=head)
