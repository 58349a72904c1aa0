"""What gauges are drawn with: cards of true size, and the sentences beside them.

mm.  A card's origin is its lower left corner, y up; a block's its upper left one, as in `flow`.  What is cut
of a card is drawn in wide lines, what is only read in narrow ones.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from foamcut.draw.balance_words import shortened
from foamcut.draw.flow import Block, below, beside, moved, paragraph
from foamcut.draw.marking_rule import RULES
from foamcut.draw.metrics import text_width_mm
from foamcut.draw.values import Align, Line, Stroke, Text
from foamcut.draw.words import wrapped
from foamcut.flat.outline import Point, straight
from foamcut.units import decimal_text, inch_text

#: height of letters, and what a name takes of a line at most, mm
WORDS_MM, NAME_MM = 2.5, 60.0
#: a card as wide as this share of the page has its words above it, else beside it
_BESIDE = 0.6
_GAP_MM = 6.0
#: a line so near to an edge is not drawn, mm
_APART_MM = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """Lines and words of true size."""

    width_mm: float
    height_mm: float
    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...] = ()

    def block(self) -> Block:
        """The card as a block."""
        made = Block(height_mm=0.0, strokes=self.strokes, texts=self.texts).moved(0.0, -self.height_mm)
        return Block(height_mm=self.height_mm, strokes=made.strokes, texts=made.texts)


def in_a_row(cards: Sequence[Card], gap_mm: float = _GAP_MM) -> Card:
    """Cards side by side on one base line."""
    strokes: list[Stroke] = []
    texts: list[Text] = []
    x = 0.0
    for card in cards:
        block = Block(height_mm=0.0, strokes=card.strokes, texts=card.texts).moved(x, 0.0)
        strokes += block.strokes
        texts += block.texts
        x += card.width_mm + gap_mm
    high = max((card.height_mm for card in cards), default=0.0)
    return Card(width_mm=x - gap_mm, height_mm=high, strokes=tuple(strokes), texts=tuple(texts))


def gauge(heading: str, sentences: Iterable[str], card: Card, width_mm: float) -> Block:
    """A card with its heading and what it is for and how to hold it: beside it, or above a wide one."""
    room = width_mm - card.width_mm - _GAP_MM
    if card.width_mm > _BESIDE * width_mm:
        words = _words(heading, sentences, width_mm)
        return below(words, card.block(), gap_mm=3.0)
    return beside((0.0, card.block()), (card.width_mm + _GAP_MM, _words(heading, sentences, room)))


def _words(heading: str, sentences: Iterable[str], width_mm: float) -> Block:
    """A heading in as many lines as it needs, then sentences."""
    heads = [
        Text(line=Line.FRAME, at=(0.0, -3.5 - 5.2 * i), text=line, height_mm=3.5)
        for i, line in enumerate(wrapped(heading, 3.5, width_mm))
    ]
    head = Block(height_mm=5.2 * len(heads) - 1.0, texts=tuple(heads))
    lines = [line for one in sentences for line in wrapped(one, WORDS_MM, width_mm)]
    return below(head, paragraph(lines, WORDS_MM, pitch=1.7), gap_mm=1.8)


def name_words(name: str) -> str:
    """A name in quotes, shortened where it is long."""
    return f'"{shortened(name, NAME_MM, WORDS_MM)}"'


def length_words(mm: float, units: str) -> str:
    """A length to be measured, by the sketch's units: mm, or the nearest 1/32 in with the mm beside it.

    >>> length_words(62.72, "mm"), length_words(62.72, "in")
    ('62.7 mm', '2 15/32 in (62.7 mm)')
    """
    if units != "in":
        return f"{decimal_text(mm)} mm"
    return f"{RULES['in'].read(mm).text} in ({decimal_text(mm)} mm)"


def thin_words(mm: float, units: str) -> str:
    """A thickness or a fit, to hundredths of a mm; for a design in inches in inches with those beside it.

    >>> thin_words(4.7625, "mm"), thin_words(4.7625, "in"), thin_words(0.2, "in")
    ('4.76 mm', '3/16 in (4.76 mm)', '0.008 in (0.2 mm)')
    """
    metric = f"{decimal_text(mm, 2)} mm"
    return f"{inch_text(mm)} in ({metric})" if units == "in" else metric


def angle_words(deg: float) -> str:
    """An angle, its sign left out."""
    return f"{decimal_text(abs(deg), 2)} deg"


def cut_edge(points: Sequence[Point]) -> Stroke:
    """A closed line that is cut."""
    return Stroke(line=Line.EDGE, segments=straight([*points, points[0]]), closed=True)


def fine(*points: Point, line: Line = Line.FRAME) -> Stroke:
    """A narrow line."""
    return Stroke(line=line, segments=straight(points))


def text(
    words: str, at: Point, *, height_mm: float = WORDS_MM, align: Align = Align.LEFT, turn_deg: float = 0.0
) -> Text:
    """Words on a card."""
    return Text(line=Line.FRAME, at=at, text=words, height_mm=height_mm, align=align, turn_deg=turn_deg)


def lean_card(rows: Sequence[str], lean_deg: float, width_mm: float, height_mm: float) -> Card:
    """A card whose right edge leans from square, to the right for positive angles; words along its foot.

    The foot is level; the right edge rises from its end at `lean_deg` from square to it.
    """
    reach = height_mm * math.tan(math.radians(lean_deg))
    corners = [(0.0, 0.0), (width_mm, 0.0), (width_mm + reach, height_mm), (0.0, height_mm)]
    room = width_mm + min(reach, 0.0) - 6.0
    texts = [text(shortened(row, room), (3.0, height_mm - 6.0 - 4.2 * i)) for i, row in enumerate(rows)]
    square = fine((width_mm, 0.0), (width_mm, height_mm), line=Line.CENTRE)
    shown = (square,) if abs(reach) > _APART_MM else ()
    return Card(
        width_mm=width_mm + max(reach, 0.0),
        height_mm=height_mm,
        strokes=(cut_edge(corners), *shown),
        texts=tuple(texts),
    )


def slope_card(rows: Sequence[str], slope_deg: float, length_mm: float, least_mm: float) -> Card:
    """A card with a level foot whose upper edge falls to the right by an angle (rises, if negative).

    Its thin end is `least_mm` high.
    """
    fall = length_mm * math.tan(math.radians(slope_deg))
    left, right = least_mm + max(fall, 0.0), least_mm + max(-fall, 0.0)
    corners = [(0.0, 0.0), (length_mm, 0.0), (length_mm, right), (0.0, left)]
    texts = [
        text(shortened(row, length_mm - 6.0), (3.0, least_mm - 4.5 - 4.2 * i)) for i, row in enumerate(rows)
    ]
    return Card(
        width_mm=length_mm, height_mm=max(left, right), strokes=(cut_edge(corners),), texts=tuple(texts)
    )


def strip_width(words: str) -> float:
    """Width of a line of words on a card."""
    return text_width_mm(words, WORDS_MM)


def shifted(strokes: Iterable[Stroke], x: float, y: float) -> tuple[Stroke, ...]:
    """Strokes moved."""
    return tuple(moved(stroke, x, y) for stroke in strokes)
