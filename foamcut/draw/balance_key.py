"""What the inks of the side view mean, in a line below it, and the words beside the sections of the wing.

mm on the picture.
"""

from collections.abc import Iterator, Sequence

from shapely import LineString, Polygon, STRtree
from shapely import box as room

from foamcut.draw.balance_frame import Sheet, box, dot
from foamcut.draw.balance_words import PITCH_MM, PLAIN_MM, width_mm, words_at
from foamcut.draw.metrics import DESCENT_PER_CAP
from foamcut.draw.picture import Ink, Shape
from foamcut.draw.values import Align, Text
from foamcut.flat.outline import Point

#: the inks that no row explains, in the order in which they are told
_MEANINGS = {
    Ink.LIFTING: "section at the root",
    Ink.TIP: "section at the tip",
    Ink.DISC: "propeller from its edge",
    Ink.THING: "what is carried",
    Ink.MOVED: "where it should lie",
    Ink.GUIDE: "down to its row",
}
#: those that are lines; all others are boxes
_LINES = (Ink.DISC, Ink.GUIDE)
_SWATCH_MM, _HIGH_MM, _GAP_MM, _NEXT_MM = 8.0, 2.2, 1.5, 5.0
#: words beside a section: capitals so high, so far from all else, so far from the section at most
_SMALL_MM, _CLEAR_MM, _FAR_MM = 2.0, 0.5, 5.0


def key(sheet: Sheet, inks: Sequence[Ink], *, dots: bool) -> None:
    """A sample of every ink that is used with its meaning, in as many lines as they need.

    `dots`: there are things with numbers, each with a dot at its middle.
    """
    x = sheet.left
    told = [(ink, words) for ink, words in _MEANINGS.items() if ink in inks]
    if dots:
        told.append((Ink.SOLID, "middle of what has a number"))
    for ink, words in told:
        wide = _SWATCH_MM + _GAP_MM + width_mm(words)
        if x > sheet.left and x + wide > sheet.right:
            x = sheet.left
            sheet.y -= PITCH_MM
        base = sheet.y - PLAIN_MM
        sheet.shapes.append(_swatch(ink, x, base))
        sheet.texts.append(words_at((x + _SWATCH_MM + _GAP_MM, base), words))
        x += wide + _NEXT_MM
    if told:
        sheet.y -= PITCH_MM


def _swatch(ink: Ink, x: float, base: float) -> Shape:
    middle = base + PLAIN_MM / 2
    if ink is Ink.SOLID:
        return dot((x + _SWATCH_MM / 2, middle))
    if ink in _LINES:
        return Shape(ink=ink, points=((x, middle), (x + _SWATCH_MM, middle)))
    return box(ink, x, middle - _HIGH_MM / 2, x + _SWATCH_MM, middle + _HIGH_MM / 2)


def section_words(sheet: Sheet, sections: Sequence[tuple[str, Shape]]) -> None:
    """A word beside each section as it stands on the picture, where it meets nothing; none where it would.

    Nor where it would stand as near to another section.  Called when all else is drawn.
    """
    things = [_area(shape) for shape in sheet.shapes]
    taken = [_room_of(text) for text in sheet.texts]
    lines = [_area(shape) for _, shape in sections]
    for (words, shape), own in zip(sections, lines, strict=True):
        tree = STRtree([*things, *taken])
        for text in _places(words, shape.points):
            place = _room_of(text).buffer(_CLEAR_MM)
            near = round(place.distance(own), 3)
            if any(round(place.distance(one), 3) < near + _CLEAR_MM for one in lines if one is not own):
                continue
            if not len(tree.query(place, predicate="intersects")):
                sheet.texts.append(text)
                taken.append(_room_of(text))
                break


def _area(shape: Shape) -> Polygon | LineString:
    closed = shape.closed and len(set(shape.points)) > 2
    return Polygon(shape.points) if closed else LineString(shape.points)


def _room_of(text: Text) -> Polygon:
    wide = width_mm(text.text, text.height_mm)
    left = text.at[0] - {Align.LEFT: 0.0, Align.MIDDLE: wide / 2, Align.RIGHT: wide}[text.align]
    low = text.at[1] - DESCENT_PER_CAP * text.height_mm
    return room(left, low, left + wide, text.at[1] + text.height_mm)


def _places(words: str, points: Sequence[Point]) -> Iterator[Text]:
    """Places beside a section, the nearest first: behind and before it, over and under it."""
    low_x, high_x = min(x for x, _ in points), max(x for x, _ in points)
    low_y, high_y = min(y for _, y in points), max(y for _, y in points)
    level = (low_y + high_y - _SMALL_MM) / 2
    off = 1.0
    while off <= _FAR_MM:
        yield words_at((high_x + off, level), words, _SMALL_MM)
        yield words_at((low_x - off, level), words, _SMALL_MM, Align.RIGHT)
        for share in (0.5, 0.3, 0.7, 0.1, 0.9):
            x = low_x + share * (high_x - low_x)
            yield words_at((x, high_y + off), words, _SMALL_MM, Align.MIDDLE)
            yield words_at((x, low_y - off - _SMALL_MM), words, _SMALL_MM, Align.MIDDLE)
        off += 0.5
