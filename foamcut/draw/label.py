"""What the label of a part says, from the fullest wording to its number alone, and the block it makes.

The part's coordinates, mm.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from shapely import LineString, Polygon

from foamcut.draw.metrics import DESCENT_PER_CAP, text_width_mm
from foamcut.draw.room import CLEARANCE_MM, WIDE_MM, FreeRoom
from foamcut.draw.values import Align, Line, Text, Title
from foamcut.draw.words import (
    SIZES_GOVERN,
    count_words,
    face_words,
    grain_words,
    overall_words,
    wrapped,
)
from foamcut.flat.drawn import Label
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.units import decimal_text

#: heights of letters, mm: of the series of ISO 3098 (from memory); the last only where nothing larger fits
NAME_MM = 5.0
WORDS_MM = 3.5
SMALL_MM = 2.5
LEAST_MM = 1.8
#: from baseline to baseline, in heights of the lower line
_PITCH = 1.7
#: a builder's place for the label may be as near as this to a line, mm
_TIGHT_MM = 0.4
#: a long name is parted into so many lines at most
_NAME_LINES = 2
#: number and name are never cut off before this many letters
_NAME_LETTERS = 14

Lines = tuple[tuple[str, float], ...]
#: near which point a label should lie, and in which turns
_Ways = tuple[Point, tuple[float, ...]]
#: what a label says, its middle, its turn
Spot = tuple[Lines, Point, float]

_READABLE = ((NAME_MM, WORDS_MM), (WORDS_MM, SMALL_MM), (SMALL_MM, SMALL_MM))


def spots(
    part: Part, title: Title, number: int, homeless: Sequence[str], room: FreeRoom, *, role: str = ""
) -> Iterator[Spot]:
    """Where a label that says everything fits, the best first; it may be asked for any number of them.

    `role` says what a piece is of its part, empty for a whole one.
    """
    ways = _ways(part)
    for labels in _full(part, title, number, homeless, role):
        if part.label:
            for clearance in (WIDE_MM, _TIGHT_MM):
                yield from _at_builders_place(labels, part.label, room, clearance)
        for clearance in (WIDE_MM, CLEARANCE_MM):
            yield from _where_free(labels, ways, room, clearance)


def short_spots(part: Part, number: int, room: FreeRoom) -> Iterator[Spot]:
    """Where a label that leaves something out fits, the fullest first; hand and count are never left out."""
    ways = _ways(part)
    for lines in _short(part, number):
        yield from _anywhere(lines, part, ways, room)


def last_spot(part: Part, number: int, room: FreeRoom) -> Spot:
    """The label of a part that has no room for hand and count: name and number, the number at least."""
    name, ways = f"{number}  {part.name}", _ways(part)
    for words, height in ((name, LEAST_MM), (str(number), SMALL_MM), (str(number), LEAST_MM)):
        for spot in _anywhere(((words, height),), part, ways, room):
            return spot
    # no room even for the number: it stands on the part all the same, so that the part is known
    inside = part.outline.polygon.representative_point()
    number_alone = ((str(number), LEAST_MM),)
    if part.label:
        return number_alone, part.label.at, readable_turn(part.label.turn_deg)
    return number_alone, (inside.x, inside.y), _turns(part)[0]


def _anywhere(lines: Lines, part: Part, ways: _Ways, room: FreeRoom) -> Iterator[Spot]:
    if part.label:
        yield from _at_builders_place((lines,), part.label, room, _TIGHT_MM)
    yield from _where_free((lines,), ways, room, CLEARANCE_MM)


def _full(
    part: Part, title: Title, number: int, homeless: Sequence[str], role: str
) -> tuple[tuple[Lines, ...], tuple[Lines, ...]]:
    """Labels that say everything, the largest first: of letters that are read with ease, of the least."""
    name = f"{number}  {part.name}"
    sizes = overall_words(part, title, sketch=not role)
    rows = [f"{count_words(part)}, {face_words(part)}", *sizes, SIZES_GOVERN]
    if role:
        rows.insert(1, role)
    if grain := grain_words(part):
        rows.append(grain)
    rows += [f"slot takes {words}" for words in homeless]
    halves = [half for row in rows for half in row.split(", ")]
    # a strip takes few long lines
    facts, *sizes_rows = rows
    two = ", ".join((name, facts)), "; ".join(sizes_rows)

    def labels(sizes: Sequence[tuple[float, float]]) -> tuple[Lines, ...]:
        found = [_label(((name, big),), rows, small) for big, small in sizes]
        found += [_label(_narrow(name, big, rows, small), rows, small) for big, small in sizes]
        found += [_label((), two, small) for _, small in sizes[-2:]]
        found += [_label((), ("; ".join(two),), small) for _, small in sizes[-2:]]
        found += [_label(_narrow(name, big, halves, small), halves, small) for big, small in sizes[-2:]]
        return tuple(dict.fromkeys(found))

    return labels(_READABLE), labels(((LEAST_MM, LEAST_MM),))


def _short(part: Part, number: int) -> Iterator[Lines]:
    """Labels that leave something out, the fullest first: hand and count go last."""
    name, count, face = f"{number}  {part.name}", count_words(part), face_words(part)
    length, width = max(part.length_mm, part.width_mm), min(part.length_mm, part.width_mm)
    sizes = f"{decimal_text(length)} x {decimal_text(width)} mm"
    split = count.split(", ")
    for height in (SMALL_MM, LEAST_MM):
        yield ((f"{name}, {count}, {face}, {sizes}", height),)
    for rows in ([f"{count}, {face}", sizes], [*split, face, sizes], [count, sizes], [*split, sizes], split):
        for height in (SMALL_MM, LEAST_MM):
            yield _label(((name, height),), rows, height)
            yield _label(_narrow(name, height, rows, height), rows, height)
    for height in (SMALL_MM, LEAST_MM):
        yield ((f"{number}  {count}", height),)
        yield _label(((str(number), height),), split, height)


def _label(name: Lines, rows: Sequence[str], height_mm: float) -> Lines:
    return (*name, *((row, height_mm) for row in rows))


def _narrow(name: str, name_mm: float, rows: Sequence[str], rows_mm: float) -> Lines:
    """A name no wider than the rows below it: in a few lines, or cut off with dots."""
    width = max(text_width_mm(row, rows_mm) for row in rows)
    width = max(width, text_width_mm(name[:_NAME_LETTERS], name_mm))
    if text_width_mm(name, name_mm) <= width:
        return ((name, name_mm),)
    lines = wrapped(name, name_mm, width)
    if lines[0].isdigit():  # the number alone, before one long word
        lines = (name,)
    elif len(lines) > _NAME_LINES:
        lines = (*lines[: _NAME_LINES - 1], " ".join(lines[_NAME_LINES - 1 :]))
    return tuple((_cut_short(line, name_mm, width), name_mm) for line in lines)


def _cut_short(line: str, height_mm: float, width_mm: float) -> str:
    """A line no wider than that: letters go before its end, which tells hands and numbers apart."""
    if text_width_mm(line, height_mm) <= width_mm:
        return line
    number, _, rest = line.partition("  ") if line[:1].isdigit() else ("", "", line)
    head = f"{number}  ..." if number else "..."
    while rest and text_width_mm(head + rest, height_mm) > width_mm:
        rest = rest[1:].lstrip("- ")
    return head + rest


def _at_builders_place(
    labels: Sequence[Lines], place: Label, room: FreeRoom, clearance_mm: float
) -> Iterator[Spot]:
    """Those labels that fit where the builder wants them."""
    turn = readable_turn(place.turn_deg)
    for lines in labels:
        if room.is_free(rectangle(place.at, turn, *block_size(lines)), clearance_mm):
            yield lines, place.at, turn


def _where_free(labels: Sequence[Lines], ways: _Ways, room: FreeRoom, clearance_mm: float) -> Iterator[Spot]:
    """Those labels that fit anywhere, as near as can be to a point, in the first turn that does."""
    near, turns = ways
    for lines in labels:
        size = block_size(lines)
        for turn in turns:
            centre = room.place(*size, turn, near, clearance_mm)
            if centre:
                yield lines, centre, turn
                break


def _ways(part: Part) -> _Ways:
    """The builder's place or the part's middle, and the turns to be tried."""
    turns = _turns(part)
    if part.label:
        turns = readable_turn(part.label.turn_deg), *turns
        return part.label.at, tuple(dict.fromkeys(turns))
    middle = part.outline.polygon.centroid
    return (middle.x, middle.y), tuple(dict.fromkeys(turns))


def _turns(part: Part) -> tuple[float, ...]:
    """A wide part is read along x, an upright one along y; either along its longest edge, too."""
    first, second = (0.0, 90.0) if part.length_mm >= part.width_mm else (90.0, 0.0)
    longest = max(
        (segment for ring in part.outline.lines() for segment in ring),
        key=lambda segment: round(math.dist(segment.start, segment.end) * 1e6),
    )
    (x0, y0), (x1, y1) = longest.start, longest.end
    edge = readable_turn(math.degrees(math.atan2(y1 - y0, x1 - x0)))
    return (first, second) if longest.bulge or edge in (-90.0, 0.0, 90.0) else (first, second, edge)


def readable_turn(turn_deg: float) -> float:
    """The direction or its opposite, whichever reads from the left or from below; in [-90, 90]."""
    turn = turn_deg % 360
    return turn if turn <= 90 else turn - 180 if turn <= 270 else turn - 360


def rectangle(centre: Point, turn_deg: float, width_mm: float, height_mm: float) -> Polygon:
    """A rectangle by its middle, the direction of its width, and its sizes."""
    angle = math.radians(turn_deg)
    off = width_mm / 2 * math.cos(angle), width_mm / 2 * math.sin(angle)
    ends = (centre[0] - off[0], centre[1] - off[1]), (centre[0] + off[0], centre[1] + off[1])
    return LineString(ends).buffer(height_mm / 2, cap_style="flat")


def block_size(lines: Lines) -> tuple[float, float]:
    """Width and height of a block of lines, descenders included."""
    width = max(text_width_mm(words, height) for words, height in lines)
    # as much room above as the descenders take below: the block is set about its middle
    return width, _tall(lines) + 2 * DESCENT_PER_CAP * lines[-1][1]


def _tall(lines: Lines) -> float:
    return lines[0][1] + sum(_PITCH * height for _, height in lines[1:])


def block(lines: Lines, centre: Point, turn_deg: float) -> list[Text]:
    """Lines of words around a middle, top line first; they keep their order when they are turned over."""
    angle = math.radians(turn_deg)
    texts, level = [], _tall(lines) / 2
    for i, (words, height) in enumerate(lines):
        level -= height if i == 0 else _PITCH * height
        middle = level + height / 2
        at = centre[0] - middle * math.sin(angle), centre[1] + middle * math.cos(angle)
        texts.append(replace(centred(words, height, at, turn_deg), pivot=centre))
    return texts


def centred(words: str, height_mm: float, centre: Point, turn_deg: float) -> Text:
    """A text whose capitals have their middle at a point."""
    angle = math.radians(turn_deg)
    at = centre[0] + height_mm / 2 * math.sin(angle), centre[1] - height_mm / 2 * math.cos(angle)
    return Text(
        line=Line.LETTERING, at=at, text=words, height_mm=height_mm, turn_deg=turn_deg, align=Align.MIDDLE
    )
