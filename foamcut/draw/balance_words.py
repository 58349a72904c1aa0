"""Words of the pictures of the balance: numbers in the units of the sketch, names shortened, widths."""

import unicodedata
from collections.abc import Iterable, Iterator

from foamcut.draw.metrics import EM_PER_CAP, missing_letters, text_width_mm
from foamcut.draw.values import Align, Line, Text
from foamcut.flat.outline import Point
from foamcut.units import GRAM_PER, MM_PER, MM_PER_INCH, decimal_text

#: height of capitals, mm: headings, all else
HEADING_MM, PLAIN_MM = 4.0, 2.5
#: from one line of words to the next, mm
PITCH_MM = 4.2
_DOTS = "..."
#: marks that may stand over one letter; more of them would reach into the line above
_MOST_MARKS = 2
_MILE_M = 5280 * float(MM_PER["ft"]) / 1000


def clean(text: str) -> str:
    """The text in one line: white space as single blanks, nothing that turns the letters about it round."""
    kept: list[str] = []
    marks = 0
    for letter in unicodedata.normalize("NFC", " ".join(text.split())):
        kind = unicodedata.category(letter)
        if kind in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"):
            continue
        marks = marks + 1 if kind in ("Mn", "Me") else 0
        if marks <= _MOST_MARKS:
            kept.append(letter)
    return "".join(kept)


def width_mm(text: str, height_mm: float = PLAIN_MM) -> float:
    """Width of a line of words, mm; a letter that the font lacks counts as an em, as most are at most."""
    known = "".join(letter for letter in text if not missing_letters(letter))
    lacking = sum(letter not in known for letter in text)
    return text_width_mm(known, height_mm) + lacking * EM_PER_CAP * height_mm


def shortened(text: str, room_mm: float, height_mm: float = PLAIN_MM) -> str:
    """The text, cut off and ended with three dots where it is wider than the room."""
    text = clean(text)
    if width_mm(text, height_mm) <= room_mm:
        return text
    room_mm -= text_width_mm(_DOTS, height_mm)
    end, used = 0, 0.0
    for letter in text:
        used += width_mm(letter, height_mm)
        if used > room_mm:
            break
        end += 1
    return text[:end].rstrip() + _DOTS


def broken(text: str, room_mm: float, height_mm: float = PLAIN_MM) -> tuple[str, ...]:
    """The text in lines no wider than the room, parted at blanks; a longer word is cut off."""
    lines: list[str] = []
    for word in clean(text).split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, height_mm) <= room_mm:
            lines[-1] = longer
        else:
            lines.append(shortened(word, room_mm, height_mm))
    return tuple(lines)


def words_at(at: Point, words: str, height_mm: float = PLAIN_MM, align: Align = Align.LEFT) -> Text:
    """A line of words."""
    return Text(line=Line.NOTES, at=at, text=words, height_mm=height_mm, align=align)


def column(lines: Iterable[str], x: float, top: float, height_mm: float = PLAIN_MM) -> Iterator[Text]:
    """Lines of words below one another, the first right below `top`."""
    for i, line in enumerate(lines):
        yield words_at((x, top - height_mm - i * PITCH_MM * height_mm / PLAIN_MM), line, height_mm)


def length_words(mm: float, units: str) -> str:
    """A length along the model, in mm or inches."""
    return f"{decimal_text(mm / MM_PER_INCH, 2)} in" if units == "in" else f"{decimal_text(mm)} mm"


def from_to_words(low: float | None, high: float | None, units: str) -> str:
    """A range of places along; empty where it is not known or has no width."""
    if low is None or high is None or round(high - low, 1) == 0:
        return ""
    if units == "in":
        return f"{decimal_text(low / MM_PER_INCH, 2)} to {decimal_text(high / MM_PER_INCH, 2)} in"
    return f"{decimal_text(low)} to {decimal_text(high)} mm"


def mass_words(grams: float, units: str) -> str:
    """A mass, in g or ounces."""
    if units == "in":
        return f"{decimal_text(grams / float(GRAM_PER['oz']), 2)} oz"
    return f"{decimal_text(grams, 0 if abs(grams) >= 9.95 else 1)} g"


def masses_words(low: float, high: float, units: str) -> str:
    """A range of masses."""
    return f"{mass_words(low, units).partition(' ')[0]} to {mass_words(high, units)}"


def speeds_words(low: float, high: float, units: str) -> str:
    """A range of speeds, as `speed_words` says one."""
    several = zip(speed_words(low, units).split(", "), speed_words(high, units).split(", "), strict=True)
    return ", ".join(f"{first.partition(' ')[0]} to {last}" for first, last in several)


def speed_words(m_s: float, units: str) -> str:
    """A speed in m/s, and in km/h or miles an hour."""
    other = f"{decimal_text(mph(m_s))} mph" if units == "in" else f"{decimal_text(m_s * 3.6, 0)} km/h"
    return f"{decimal_text(m_s)} m/s, {other}"


def mph(m_s: float) -> float:
    """A speed in miles an hour."""
    return m_s * 3600 / _MILE_M


def share_words(share: float | None) -> str:
    """A place as a share of the mean chord."""
    return "" if share is None else f"{decimal_text(100 * share)} % of the mean chord"
