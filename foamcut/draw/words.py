"""Lengths and names in the words of a page: mm, inch and sketch measure side by side."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from shapely import Polygon

from foamcut.draw.foldwords import bevel_words, fold_words
from foamcut.draw.metrics import DESCENT_PER_CAP, text_width_mm
from foamcut.draw.values import Align, Text, Title
from foamcut.flat.drawn import Face, Grain, Hand
from foamcut.flat.part import Part, Slot
from foamcut.units import MM_PER, decimal_text, inch_text

#: what every template says of its numbers
SIZES_GOVERN = "written sizes govern"
#: parts of an inch on the sketch finer than this are written as decimals
_FINEST_TICK = 64


def mm_and_inch(mm: float) -> str:
    """A true length in mm and in inches to a thirty-second.

    >>> mm_and_inch(508.0)
    '508 mm (20 in)'
    """
    return f"{decimal_text(mm)} mm ({inch_text(mm)} in)"


def sketch_measure(mm: float, title: Title) -> str:
    """What the sketch's ruler reads for a true length.

    Inches as a fraction when they are whole sixty-fourths, as decimals otherwise.
    """
    ruler = Fraction(mm) / Fraction(title.sketch_scale)
    if title.sketch_unit != "in":
        return f"{decimal_text(float(ruler), 2)} mm"
    inches = ruler / MM_PER["in"]
    ticks = inches * _FINEST_TICK
    if abs(ticks - round(ticks)) < Fraction(1, 1000):
        return f"{inch_text(float(ruler))} in"
    return f"{decimal_text(float(inches), 3)} in"


def overall_words(part: Part, title: Title, *, sketch: bool = True) -> tuple[str, str]:
    """Length and width over all, the longer first, each in mm, inches and sketch measure.

    `sketch` is false for sections and doublers: nobody measured those on the sketch.
    """
    length, width = max(part.length_mm, part.width_mm), min(part.length_mm, part.width_mm)
    if not sketch:
        return f"length {mm_and_inch(length)}", f"width {mm_and_inch(width)}"
    return (
        f"length {mm_and_inch(length)}, sketch {sketch_measure(length, title)}",
        f"width {mm_and_inch(width)}, sketch {sketch_measure(width, title)}",
    )


def sizes_words(part: Part, title: Title, *, sketch: bool = True) -> str:
    """Length and width over all in one line, the longer first, each in mm, inches and sketch measure.

    Sizes of the sketch that have one unit name it once; `sketch` as in `overall_words`.
    """
    sizes = max(part.length_mm, part.width_mm), min(part.length_mm, part.width_mm)
    mm = " x ".join(map(decimal_text, sizes))
    inches = " x ".join(map(inch_text, sizes))
    full = f"{mm} mm ({inches} in)"
    if not sketch:
        return full
    unit = "in" if title.sketch_unit == "in" else "mm"
    measures = " x ".join(sketch_measure(size, title).removesuffix(f" {unit}") for size in sizes)
    return f"{full}, sketch {measures} {unit}"


def count_words(part: Part) -> str:
    """How many to cut, and of which hand.

    A pair is two parts, so each says its own hand and count.
    """
    cut = f"cut {part.count}"
    return cut if part.hand is Hand.NONE else f"{part.hand.value} hand, {cut}"


def face_words(part: Part) -> str:
    """Which face lies up, that is, is drawn."""
    return "either face up" if part.face is Face.EITHER else f"{part.face.value} face up"


def grain_words(part: Part) -> str:
    """How the grain runs, seen along the longer side; empty when it does not matter."""
    if part.grain is Grain.ANY:
        return ""
    along = (part.grain is Grain.X) == (part.length_mm >= part.width_mm)
    return f"grain {'along' if along else 'across'} its length"


def facts_words(
    part: Part, title: Title, number: int, left_out: Sequence[str] | None = None, *, role: str = ""
) -> tuple[str, ...]:
    """Everything that must be read of a part, in short lines: what it is, how long, how wide, the grain.

    `left_out` is what found no room on the part itself; when it is not known, what the marks are, what goes
    into the slots and how folds and edges are worked is told in any case.  `role` as in `part_lines`.
    """
    if left_out is None:
        marks = dict.fromkeys(text.text for mark in part.marks for text in mark.drawn().texts if text.text)
        slots = dict.fromkeys(slot.takes for slot in part.slots)
        worked = dict.fromkeys((*map(fold_words, part.folds), *map(bevel_words, part.bevels)))
        left_out = [
            *(f"mark: {words}" for words in marks),
            *(f"slot takes {words}" for words in slots),
            *worked,
        ]
    sizes = overall_words(part, title, sketch=not role)
    lines = [f"{number}  {part.name}, {count_words(part)}, {face_words(part)}", *sizes]
    if role:
        lines.insert(1, role)
    if grain := grain_words(part):
        lines.append(grain)
    if left_out:
        lines.append("; ".join(left_out))
    return tuple(lines)


def slot_words(slot: Slot, part: Part, thicknesses: Mapping[str, float]) -> str:
    """What goes into a slot: the stock's name, and its measured thickness where it is known."""
    thickness = part.thickness_mm if slot.takes == part.stock else thicknesses.get(slot.takes)
    return slot.takes if thickness is None else f"{slot.takes} {decimal_text(thickness, 2)}"


def revision_words(title: Title) -> str:
    """The plan's name, with its revision where it has one."""
    return f"{title.name}, revision {title.revision}" if title.revision else title.name


#: the ways on a page, counter-clockwise from the right, an eighth of a turn apart
_WAYS = ("right", "up and right", "up", "up and left", "left", "down and left", "down", "down and right")


def way_words(direction_deg: float) -> str:
    """The nearest of eight ways on a page: right for 0 degrees, up for 90."""
    return _WAYS[math.floor(direction_deg % 360 / 45 + 0.5) % 8]


def fitted(text: str, height_mm: float, width_mm: float, least_mm: float = 2.5) -> tuple[str, float]:
    """The text and a height, not below `least_mm`, at which it is no wider than `width_mm`.

    What does not fit at the least height is cut off and ends in three dots.
    """
    width = text_width_mm(text, height_mm)
    if width <= width_mm:
        return text, height_mm
    if height_mm * width_mm / width >= least_mm:
        return text, height_mm * width_mm / width
    while text and text_width_mm(f"{text}...", least_mm) > width_mm:
        text = text[:-1]
    return f"{text.rstrip()}...", least_mm


@lru_cache(maxsize=4096)  # pages that count themselves are set several times
def wrapped(text: str, height_mm: float, width_mm: float) -> tuple[str, ...]:
    """The text in lines no wider than `width_mm`, parted at blanks, a longer word anywhere."""
    lines: list[str] = []
    for word in _broken(text.split(), height_mm, width_mm):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_mm(longer, height_mm) <= width_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def _broken(words: Iterable[str], height_mm: float, width_mm: float) -> Iterator[str]:
    for word in words:
        rest = word
        while text_width_mm(rest, height_mm) > width_mm and len(rest) > 1:
            most = max(1, sum(text_width_mm(rest[:i], height_mm) <= width_mm for i in range(1, len(rest))))
            yield rest[:most]
            rest = rest[most:]
        yield rest


def text_box(text: Text) -> Polygon:
    """The rectangle that a text takes up, descenders included, mm."""
    width, descent = text_width_mm(text.text, text.height_mm), DESCENT_PER_CAP * text.height_mm
    start = {Align.LEFT: 0.0, Align.MIDDLE: -width / 2, Align.RIGHT: -width}[text.align]
    cos, sin = math.cos(math.radians(text.turn_deg)), math.sin(math.radians(text.turn_deg))
    (x, y), end, top = text.at, start + width, text.height_mm
    corners = ((start, -descent), (end, -descent), (end, top), (start, top))
    return Polygon([(x + a * cos - b * sin, y + a * sin + b * cos) for a, b in corners])


def right_way_up(text: Text, page_turn_deg: float = 0.0) -> Text:
    """The text in the same box, turned by 180 degrees if it would stand on its head on the page.

    Lines with a pivot change places, so that the first stays the first to be read.  `page_turn_deg` is how
    the drawing lies on the page.  A text that reads from below upwards stays.
    """
    if not 90 < (text.turn_deg + page_turn_deg) % 360 <= 270:
        return text
    if text.pivot:
        at = 2 * text.pivot[0] - text.at[0], 2 * text.pivot[1] - text.at[1]
        return replace(text, at=at, turn_deg=(text.turn_deg + 180) % 360)
    angle = math.radians(text.turn_deg)
    x, y = text.at
    at = x - text.height_mm * math.sin(angle), y + text.height_mm * math.cos(angle)
    other = {Align.LEFT: Align.RIGHT, Align.RIGHT: Align.LEFT, Align.MIDDLE: Align.MIDDLE}
    return replace(text, at=at, turn_deg=(text.turn_deg + 180) % 360, align=other[text.align])
