"""The words and arrows on a part, and where they find room.

The part's coordinates, mm.  What must be read is put down in the order of its weight: what goes into
each slot and what a mark is, the label (name, number, hand, count, face, sizes) with the arrows, the
letters of the kinds of line.  What finds no room is kept, to be told elsewhere.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.draw.arrows import Arrow, arrow, directions, find_arrow
from foamcut.draw.label import (
    LEAST_MM,
    SMALL_MM,
    Spot,
    block,
    block_size,
    centred,
    last_spot,
    readable_turn,
    rectangle,
    short_spots,
    spots,
)
from foamcut.draw.metrics import DESCENT_PER_CAP, text_width_mm
from foamcut.draw.room import CLEARANCE_MM, WIDE_MM, FreeRoom
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Line, Stroke, Text, Title
from foamcut.draw.words import text_box
from foamcut.flat.drawn import Face
from foamcut.flat.marks import Mark, MarkText
from foamcut.flat.outline import Point
from foamcut.flat.part import Part, Slot
from foamcut.units import decimal_text

__all__ = ["PRICK_RADIUS_MM", "Lettering", "arrow", "is_far", "lettering", "slot_words"]

#: radius of the small circles at which a mark of the far face is pricked through, mm: two dashes go round
PRICK_RADIUS_MM = sum(STYLES[Line.MARK_BACK].dashes_mm) / math.pi
#: from words to the nearest line in turn, mm; the last where nothing else is left
_CLEARANCES = (WIDE_MM, CLEARANCE_MM, 0.3)
#: the words of a mark stand no farther than this from where they belong, mm
_FAR_MM = 25.0
#: the letter of a line stands no farther than this from its first corner, mm
_LETTER_FAR_MM = 8.0
_LETTER_CLEARANCE_MM = 0.5
#: so many labels are tried for the sake of the arrows
_TRIALS = 8
#: kept between the label and the arrows beyond the clearance of both, mm
_APART_MM = 1.0


@dataclass(slots=True)
class Lettering:
    """Words and arrows found so far, and what found no room: words, and directions in degrees."""

    strokes: list[Stroke] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    homeless: list[str] = field(default_factory=list)
    lost_arrows: list[tuple[str, float]] = field(default_factory=list)

    def add(self, text: Text, room: FreeRoom) -> None:
        """Put a text down."""
        self.texts.append(text)
        room.take(text_box(text))


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
            beside = _beside_mark(mark_text, mark, part, room)
            if beside:
                found.add(beside, room)
            elif mark_text.text:
                found.homeless.append(f"mark: {mark_text.text}")
    slots_without: list[str] = []
    for slot in part.slots:
        words = slot_words(slot, part, thicknesses)
        beside = _beside(slot, words, room, part.outline.polygon)
        if beside:
            found.add(beside, room)
        else:
            slots_without.append(words)
    slots_without = list(dict.fromkeys(slots_without))
    _label_and_arrows(part, title, number, slots_without, room, found)
    _letters(part, room, found)
    # the label tells what goes into the slots, where it says everything
    said = {text.text for text in found.texts}
    found.homeless += [f"slot takes {w}" for w in slots_without if f"slot takes {w}" not in said]
    return found


def is_far(mark: Mark, part: Part) -> bool:
    """Whether a mark belongs on the face that lies down."""
    return Face.EITHER not in (mark.face, part.face) and mark.face is not part.face


def _beside_mark(words: MarkText, mark: Mark, part: Part, room: FreeRoom) -> Text | None:
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
        for clearance in _CLEARANCES:
            for centre in centres:
                text = centred(words.text, height, centre, turn)
                if room.is_free(text_box(text), clearance):
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


def slot_words(slot: Slot, part: Part, thicknesses: Mapping[str, float]) -> str:
    """What goes into a slot: the stock's name, and its measured thickness where it is known."""
    thickness = part.thickness_mm if slot.takes == part.stock else thicknesses.get(slot.takes)
    return slot.takes if thickness is None else f"{slot.takes} {decimal_text(thickness, 2)}"


def _beside(slot: Slot, words: str, room: FreeRoom, sheet: Polygon) -> Text | None:
    """The words in the first free place along the slot, else across it, else in the waste within."""
    for height in (SMALL_MM, LEAST_MM):
        for clearance in _CLEARANCES:
            for centre, turn in _places_beside(slot, text_width_mm(words, height), height, clearance):
                text = centred(words, height, centre, turn)
                if room.is_free(text_box(text), clearance):
                    return text
        text = centred(words, height, slot.at, readable_turn(slot.turn_deg))
        inside = slot.outline.polygon.buffer(-0.3).contains(text_box(text))
        if inside and not sheet.intersects(text_box(text)):
            return text
    return None


def _places_beside(
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


def _label_and_arrows(
    part: Part, title: Title, number: int, slots_without: Sequence[str], room: FreeRoom, found: Lettering
) -> None:
    """The largest full label that leaves room for the arrows; the largest of all, when none does."""
    wanted = directions(part)
    best: tuple[Spot, list[Arrow | None]] | None = None
    for labels in (spots(part, title, number, slots_without, room), short_spots(part, number, room)):
        for spot in islice(labels, _TRIALS if wanted else 1):
            arrows = _arrows(spot, part, room)
            if best is None or _count(arrows) > _count(best[1]):
                best = spot, arrows
            if _count(arrows) == len(wanted):
                break
        if best:
            break
    if best is None:
        spot = last_spot(part, number, room)
        best = spot, _arrows(spot, part, room)
    spot, arrows = best
    found.texts += block(*spot)
    room.take(_taken(spot))
    for (word, turn), each in zip(wanted, arrows, strict=True):
        if each is None:
            found.lost_arrows.append((word, turn))
        else:
            found.strokes += each.strokes
            found.texts.append(each.text)
            room.take(each.box)


def _count(arrows: Sequence[Arrow | None]) -> int:
    return sum(each is not None for each in arrows)


def _taken(spot: Spot) -> Polygon:
    lines, centre, turn = spot
    return rectangle(centre, turn, *block_size(lines)).buffer(_APART_MM, join_style="mitre")


def _arrows(spot: Spot, part: Part, room: FreeRoom) -> list[Arrow | None]:
    """The arrows that find room when the label lies where it is to be."""
    wanted = directions(part)
    if not wanted:
        return []
    trial = room.copy()
    trial.take(_taken(spot))
    arrows: list[Arrow | None] = []
    for word, turn in wanted:
        each = find_arrow(word, turn, part, trial)
        arrows.append(each)
        if each:
            trial.take(each.box.buffer(_APART_MM, join_style="mitre"))
    return arrows


def _letters(part: Part, room: FreeRoom, found: Lettering) -> None:
    """The letters of openings, in the waste where there is room, and of marks of the far face."""
    for ring in part.outline.polygon.interiors:
        corner = ring.coords[0]
        boxes = [box for box in map(text_box, found.texts) if box.intersects(Polygon(ring))]
        waste = FreeRoom(Polygon(ring), boxes)
        for there in (waste, room):
            if _letter(Line.OPENING, (corner[0], corner[1]), there, found):
                break
    for mark in part.marks:
        pricks = mark.drawn().prick_points
        if pricks and is_far(mark, part):
            _letter(Line.MARK_BACK, pricks[0], room, found)


def _letter(line: Line, corner: Point, room: FreeRoom, found: Lettering) -> bool:
    letter = STYLES[line].letter
    size = text_width_mm(letter, LEAST_MM), LEAST_MM
    centre = room.place(*size, 0.0, corner, _LETTER_CLEARANCE_MM)
    if centre is None or math.dist(centre, corner) > _LETTER_FAR_MM:
        return False
    found.add(centred(letter, LEAST_MM, centre, 0.0), room)
    return True
