"""Pictures inside a page: SVG that shares the page's styles and ids.

One unit is a hundredth of a mm, so that all numbers are short and whole; y is turned from up to down here.
Pens are classes, which `ink_styles` gives once for all pictures of a page; ids begin with the name that is
given.  The same picture and name give the same text.
"""

from collections.abc import Iterable, Iterator
from html import escape
from itertools import groupby
from typing import NamedTuple

from foamcut.draw.metrics import EM_PER_CAP, FONTS
from foamcut.draw.picture import PENS, Ink, Picture, Shape
from foamcut.draw.styles import RGB
from foamcut.draw.values import Align, Text
from foamcut.flat.outline import Point
from foamcut.write.book_words import readable
from foamcut.write.numbers import plain

#: units in a mm; a hundredth is finer than any screen
_PER_MM = 100
_ANCHOR = {Align.LEFT: "", Align.MIDDLE: ' text-anchor="middle"', Align.RIGHT: ' text-anchor="end"'}


class _Pen(NamedTuple):
    """An ink, and whether what it draws is filled: groups of shapes drawn in one go."""

    ink: Ink
    filled: bool


def inline(picture: Picture, name: str) -> str:
    """The picture as an element of a page; `name` begins its ids.

    Raises
    ------
    ValueError
        A number is not finite: a bug in the caller.
    """
    width, height = _whole(picture.width_mm), _whole(picture.height_mm)
    heading = escape(readable(picture.heading) or readable(picture.name) or "Picture")
    told = escape(readable(picture.told))
    ids = f"{name}_title {name}_told" if told else f"{name}_title"
    return "".join(
        (
            f'<svg class="picture" role="img" aria-labelledby="{ids}"',
            f' width="{plain(picture.width_mm, 2)}mm" height="{plain(picture.height_mm, 2)}mm"',
            f' viewBox="0 0 {width} {height}">',
            f'<title id="{name}_title">{heading}</title>',
            f'<desc id="{name}_told">{told}</desc>' if told else "",
            *_paths(picture.shapes, height),
            *_words(picture.texts, height),
            "</svg>",
        )
    )


def ink_styles() -> str:
    """Style rules for every ink, in the units of the pictures."""
    return "\n".join(
        (
            ".picture path{fill:none;stroke-linejoin:round}",
            *(f"{_rule(ink)}" for ink in Ink),
            f".picture text{{font-family:{FONTS};fill:#000;stroke:none}}",
        )
    )


def _rule(ink: Ink) -> str:
    pen = PENS[ink]
    said = [f"stroke:{_hexadecimal(pen.colour)}", f"stroke-width:{_whole(pen.width_mm)}px"]
    if pen.dashes_mm:
        said.append("stroke-dasharray:" + ",".join(f"{_whole(one)}px" for one in pen.dashes_mm))
    rule = f".picture .{_class(ink)}{{{';'.join(said)}}}"
    if pen.fill is not None:
        rule += f"\n.picture .{_class(ink)}.filled{{fill:{_hexadecimal(pen.fill)}}}"
    return rule


def _class(ink: Ink) -> str:
    return "ink-" + ink.value.replace(" ", "-")


def _hexadecimal(colour: RGB) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)


def _paths(shapes: Iterable[Shape], height: int) -> Iterator[str]:
    """A path for each run of lines of an ink, and one for each filled shape: those cover one another."""
    for pen, run in groupby(shapes, lambda shape: _Pen(shape.ink, shape.closed and _fills(shape.ink))):
        drawn = [commands for shape in run if (commands := _commands(shape, height))]
        if pen.filled:
            yield from (f'<path class="{_class(pen.ink)} filled" d="{each}"/>' for each in drawn)
        elif drawn:
            yield f'<path class="{_class(pen.ink)}" d="{"".join(drawn)}"/>'


def _fills(ink: Ink) -> bool:
    return PENS[ink].fill is not None


def _commands(shape: Shape, height: int) -> str:
    """Moves to the first point and, from each, to the next; nothing when all are one on the screen."""
    places = _places(shape.points, height)
    steps: list[str] = []
    (x0, y0), *others = places or [(0, 0)]
    x, y = x0, y0
    for a, b in others:
        if a != x or b != y:
            steps.append(f"{a - x} {b - y}")
            x, y = a, b
    if not steps:
        return ""
    return f"M{x0} {y0}l{' '.join(steps)}{'z' if shape.closed else ''}".replace(" -", "-")


def _places(points: Iterable[Point], height: int) -> list[Point]:
    try:
        return [(round(x * _PER_MM), height - round(y * _PER_MM)) for x, y in points]
    except OverflowError as error:
        raise ValueError("not a number that can be drawn") from error


def _whole(mm: float) -> int:
    return _places([(mm, 0.0)], 0)[0][0]  # type: ignore[return-value]


def _words(texts: Iterable[Text], height: int) -> Iterator[str]:
    for text in texts:
        if words := readable(text.text):
            (x, y) = _places([text.at], height)[0]
            turned = f' transform="rotate({plain(-text.turn_deg, 2)} {x} {y})"' if text.turn_deg else ""
            size = _whole(text.height_mm * EM_PER_CAP)
            anchor = _ANCHOR[text.align]
            yield f'<text x="{x}" y="{y}" font-size="{size}"{anchor}{turned}>{escape(words)}</text>'
