"""Pictures on a page of a PDF, as lines that a viewer can enlarge.

Coordinates are whole hundredths of a mm within the picture; one matrix at its head turns them into mm, in
which the page is drawn.  Letters go through the library, which remembers what to embed.
"""

import math
from collections.abc import Iterator

from reportlab.pdfgen.canvas import Canvas

from foamcut.draw.metrics import EM_PER_CAP, drawable, text_width_mm
from foamcut.draw.picture import PENS, Ink, Picture, Shape
from foamcut.draw.styles import RGB
from foamcut.draw.values import Text
from foamcut.flat.outline import Point
from foamcut.write.book_words import readable
from foamcut.write.extents import SHARE_BEFORE
from foamcut.write.numbers import plain

#: units in a mm; a hundredth is finer than any printer
_PER_MM = 100


def draw(canvas: Canvas, picture: Picture, at: Point, scale: float, font: str) -> None:
    """The picture with its lower left corner at a point, mm, `scale` times its size; the canvas is in mm.

    Raises
    ------
    ValueError
        A number is not finite: a bug in the caller.
    """
    share = plain(scale / _PER_MM, 8)
    canvas._code.append(f"q {share} 0 0 {share} {plain(at[0], 3)} {plain(at[1], 3)} cm 1 j 0 J")
    width, height = (plain(side * _PER_MM, 0) for side in (picture.width_mm, picture.height_mm))
    canvas._code.append(f"0 0 {width} {height} re W n")  # as a page for a browser does
    canvas._code.extend(_operators(picture))
    canvas._code.append("0 g 0 G [] 0 d")
    for text in picture.texts:
        _draw_text(canvas, text, font)
    canvas._code.append("Q")


def _operators(picture: Picture) -> Iterator[str]:
    """A pen where the ink changes, then each shape; lines of an ink are drawn in one go."""
    last: Ink | None = None
    open_path = False
    for shape in picture.shapes:
        drawn = _path(shape)
        if not drawn:
            continue
        filled = shape.closed and PENS[shape.ink].fill is not None
        if open_path and (filled or shape.ink is not last):
            yield "S"
            open_path = False
        if shape.ink is not last:
            yield _pen(shape.ink)
            last = shape.ink
        yield drawn
        if filled:
            yield "b"
        else:
            open_path = True
    if open_path:
        yield "S"


def _pen(ink: Ink) -> str:
    pen = PENS[ink]
    dashes = " ".join(plain(one * _PER_MM, 1) for one in pen.dashes_mm)
    fill = f"{_parts(pen.fill)} rg " if pen.fill is not None else ""
    return f"{_parts(pen.colour)} RG {fill}{plain(pen.width_mm * _PER_MM, 1)} w [{dashes}] 0 d"


def _parts(colour: RGB) -> str:
    return " ".join(plain(part / 255, 3) for part in colour)


def _path(shape: Shape) -> str:
    """Operators of the path; nothing when all its points are one."""
    try:
        places = [(round(x * _PER_MM), round(y * _PER_MM)) for x, y in shape.points]
    except OverflowError as error:
        raise ValueError("not a number that can be drawn") from error
    kept = [place for i, place in enumerate(places) if i == 0 or place != places[i - 1]]
    if len(kept) < 2:
        return ""
    first, *others = kept
    steps = " ".join(f"{x} {y} l" for x, y in others)
    return f"{first[0]} {first[1]} m {steps}{' h' if shape.closed else ''}"


def _draw_text(canvas: Canvas, text: Text, font: str) -> None:
    words = drawable(readable(text.text))
    if not words.strip():
        return
    before = text_width_mm(words, text.height_mm) * SHARE_BEFORE[text.align]
    turn = math.radians(text.turn_deg)
    cos, sin = round(math.cos(turn), 9), round(math.sin(turn), 9)
    letters = canvas.beginText()
    letters.setFont(font, text.height_mm * EM_PER_CAP * _PER_MM)
    x, y = text.at[0] - before * cos, text.at[1] - before * sin
    letters.setTextTransform(cos, sin, -sin, cos, x * _PER_MM, y * _PER_MM)
    letters.textOut(words)
    canvas.drawText(letters)
