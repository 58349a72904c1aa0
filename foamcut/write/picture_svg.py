"""SVG writer of pictures that are looked at and not cut.

One unit is 1 mm, y is turned from up to down here.  Runs of shapes of one ink stand in a group whose class is
the ink's name; all words come after them.  No styles, no scripts, nothing that loads.  The same picture gives
the same bytes.
"""

from xml.etree import ElementTree

from foamcut.draw.metrics import EM_PER_CAP, FONTS
from foamcut.draw.picture import PENS, Ink, Picture, Shape
from foamcut.draw.styles import RGB
from foamcut.draw.values import Align, Text
from foamcut.write.numbers import plain

#: decimals of a mm in a picture: a thousandth, finer than any screen or printer
_PLACES = 3
_ANCHOR = {Align.LEFT: "start", Align.MIDDLE: "middle", Align.RIGHT: "end"}
_WHITE = "#ffffff"


def render(picture: Picture) -> bytes:
    """The picture as an SVG file of its size in mm.

    Raises
    ------
    ValueError
        A number is not finite: a bug in the caller.
    """
    width, height = (plain(one, _PLACES) for one in (picture.width_mm, picture.height_mm))
    root = ElementTree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{width}mm",
            "height": f"{height}mm",
            "viewBox": f"0 0 {width} {height}",
            "role": "img",
        },
    )
    ElementTree.SubElement(root, "title").text = picture.heading
    ElementTree.SubElement(root, "desc").text = picture.told
    ElementTree.SubElement(root, "rect", {"width": width, "height": height, "fill": _WHITE})
    _shapes(root, picture)
    _words(root, picture)
    ElementTree.indent(root, space="")
    body = ElementTree.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{body}\n'.encode()


def _shapes(root: ElementTree.Element, picture: Picture) -> None:
    group: ElementTree.Element | None = None
    last: Ink | None = None
    for shape in picture.shapes:
        if group is None or shape.ink is not last:
            group, last = ElementTree.SubElement(root, "g", _pen(shape.ink)), shape.ink
        ElementTree.SubElement(group, "path", {"d": _commands(shape, picture.height_mm)})


def _pen(ink: Ink) -> dict[str, str]:
    pen = PENS[ink]
    attributes = {
        "class": ink.value.replace(" ", "-"),
        "stroke": _hexadecimal(pen.colour),
        "stroke-width": plain(pen.width_mm, _PLACES),
        "stroke-linejoin": "round",
        "fill": "none" if pen.fill is None else _hexadecimal(pen.fill),
    }
    if pen.dashes_mm:
        attributes["stroke-dasharray"] = " ".join(plain(one, _PLACES) for one in pen.dashes_mm)
    return attributes


def _hexadecimal(colour: RGB) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)


def _commands(shape: Shape, height_mm: float) -> str:
    places = [f"{plain(x, _PLACES)} {plain(height_mm - y, _PLACES)}" for x, y in shape.points]
    return f"M{' L'.join(places)}{' Z' if shape.closed else ''}"


def _words(root: ElementTree.Element, picture: Picture) -> None:
    if not picture.texts:
        return
    attributes = {"class": "words", "font-family": FONTS, "fill": "#000000", "stroke": "none"}
    group = ElementTree.SubElement(root, "g", attributes)
    for text in picture.texts:
        ElementTree.SubElement(group, "text", _placed(text, picture.height_mm)).text = text.text


def _placed(text: Text, height_mm: float) -> dict[str, str]:
    return {
        "x": plain(text.at[0], _PLACES),
        "y": plain(height_mm - text.at[1], _PLACES),
        "font-size": plain(text.height_mm * EM_PER_CAP, _PLACES),
        "text-anchor": _ANCHOR[text.align],
    }
