"""The title block of a drawing, the symbol of its projection, and a bar in its scale.

mm; a block's origin is its upper left corner.  Fields of the title block: ISO 7200 (owner, identification
number, date of issue, sheet number, title, approver, creator, document type; a table of EN ISO 7200 was read,
not the standard).  What the design does not tell stands as a stroke.
"""

import math
from dataclasses import dataclass

from foamcut.draw.balance_words import shortened, width_mm
from foamcut.draw.flow import Block, frame
from foamcut.draw.values import Align, Line, Stroke, Text, Title
from foamcut.flat.outline import Point, straight
from foamcut.units import MM_PER_INCH, decimal_text

#: size of the title block
TITLE_MM = (180.0, 26.0)
_LABEL_MM, _VALUE_MM, _LARGE_MM = 1.8, 2.5, 3.5
_PAD_MM = 1.2
_NONE = "-"
#: bars are at most so long on the page, mm, and are divided into so many steps at most
_BAR_MM, _BAR_HIGH_MM = 62.0, 1.6
_CIRCLE = 36


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """A field of the title block: its corner at the upper left, its size, name and value."""

    x: float
    y: float
    wide: float
    high: float
    name: str
    value: str
    height_mm: float = _VALUE_MM


def title_block(
    title: Title, scale: str, sheet: str, date: str, document_type: str, *, projected: bool = True
) -> Block:
    """The title block; `projected`: there are views, whose projection it names."""
    wide, high = TITLE_MM
    number = f"{title.name} {title.revision}".strip()
    rows = (8.0, 10.0, 8.0)
    first = ((62.0, "legal owner", title.maker), (36.0, "created by", ""), (36.0, "approved by", ""))
    fields = _row(0.0, rows[0], (*first, (46.0, "document type", document_type)))
    names = ((134.0, "title", title.title or title.name), (46.0, "identification number", number))
    fields += _row(-rows[0], rows[1], names)
    last = (
        (62.0, "projection", "third angle" if projected else ""),
        (36.0, "scale", scale),
        (36.0, "date of issue", date),
        (23.0, "language", "en"),
        (23.0, "sheet", sheet),
    )
    fields += _row(-rows[0] - rows[1], rows[2], last)
    strokes = [frame(0.0, -high, wide, 0.0)]
    texts: list[Text] = []
    for field in fields:
        x0, y1 = field.x, field.y
        strokes.append(frame(x0, y1 - field.high, x0 + field.wide, y1))
        texts.append(_text(field.name, (x0 + _PAD_MM, y1 - _PAD_MM - _LABEL_MM), _LABEL_MM))
        value = shortened(field.value, field.wide - 2 * _PAD_MM, field.height_mm) or _NONE
        texts.append(_text(value, (x0 + _PAD_MM, y1 - field.high + 1.6), field.height_mm))
    if projected:
        strokes += _symbol((62.0 - 13.0, -rows[0] - rows[1] - rows[2] / 2))
    return Block(height_mm=high, strokes=tuple(strokes), texts=tuple(texts))


def _row(y: float, high: float, cells: tuple[tuple[float, str, str], ...]) -> list[Field]:
    fields = []
    x = 0.0
    for wide, name, value in cells:
        height = (
            _LARGE_MM if name == "title" and width_mm(value, _LARGE_MM) <= wide - 2 * _PAD_MM else _VALUE_MM
        )
        fields.append(Field(x=x, y=y, wide=wide, high=high, name=name, value=value, height_mm=height))
        x += wide
    return fields


def _symbol(middle: Point) -> list[Stroke]:
    """The sign of third-angle projection: a cut cone seen from the side, its smaller end at the left, and at
    the left of it what is seen from there (ISO 5456-2; its proportions from memory)."""
    x, y = middle
    small, large, long = 1.5, 3.0, 6.0
    left, right = x - 6.5, x + 2.0
    cone = [
        (right, y - small),
        (right + long, y - large),
        (right + long, y + large),
        (right, y + small),
        (right, y - small),
    ]
    strokes = [Stroke(line=Line.EDGE, segments=straight(cone), closed=True)]
    for radius in (small, large):
        turns = [2 * math.pi * i / _CIRCLE for i in range(_CIRCLE)]
        ring = [(left + radius * math.cos(t), y + radius * math.sin(t)) for t in turns]
        strokes.append(Stroke(line=Line.EDGE, segments=straight([*ring, ring[0]]), closed=True))
    axes = (
        [(left - large - 1.0, y), (left + large + 1.0, y)],
        [(left, y - large - 1.0), (left, y + large + 1.0)],
        [(right - 1.0, y), (right + long + 1.0, y)],
    )
    return strokes + [Stroke(line=Line.CENTRE, segments=straight(axis)) for axis in axes]


def scale_bar(scale: float, units: str) -> tuple[float, Block]:
    """A bar in the scale of the drawing, and how wide its block is."""
    one = MM_PER_INCH if units == "in" else 1.0
    whole = _BAR_MM * scale / one
    step = _round_step(whole / 4)
    count = max(1, math.floor(whole / step + 1e-9))
    step_mm = step * one / scale
    left = width_mm("0", _VALUE_MM) / 2
    strokes = [frame(left, -8.0, left + count * step_mm, -8.0 + _BAR_HIGH_MM, Line.CREASE)]
    texts = []
    for i in range(count + 1):
        x = left + i * step_mm
        if i < count and i % 2 == 0:
            middle = -8.0 + _BAR_HIGH_MM / 2
            strokes.append(Stroke(line=Line.EDGE, segments=straight([(x, middle), (x + step_mm, middle)])))
        if 0 < i < count:
            strokes.append(Stroke(line=Line.CREASE, segments=straight([(x, -8.0), (x, -8.0 + _BAR_HIGH_MM)])))
        texts.append(_text(decimal_text(i * step, 4), (x, -5.4), _VALUE_MM, Align.MIDDLE))
    last = texts[-1]
    after = last.at[0] + width_mm(last.text, _VALUE_MM) / 2 + _PAD_MM
    texts.append(_text(units, (after, last.at[1]), _VALUE_MM))
    texts.append(_text("Measured at full size. Written sizes govern.", (0.0, -12.0), _VALUE_MM))
    wide = max(after + width_mm(units, _VALUE_MM), width_mm(texts[-1].text, _VALUE_MM))
    return wide, Block(height_mm=13.0, strokes=tuple(strokes), texts=tuple(texts))


def _round_step(most: float) -> float:
    """The largest of 1, 2, 5 times a power of ten that is no more."""
    power = 1.0
    while power > most:
        power /= 10
    while power * 10 <= most:
        power *= 10
    return next(power * factor for factor in (5, 2, 1) if power * factor <= most or factor == 1)


def _text(words: str, at: Point, height_mm: float, align: Align = Align.LEFT) -> Text:
    return Text(line=Line.FRAME, at=at, text=words, height_mm=height_mm, align=align)
