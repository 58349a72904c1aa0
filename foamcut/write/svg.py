"""SVG writer: the drawing of a sheet in, the bytes of a file out.

One unit is 1 mm: width and height are stated in mm and the viewBox says the same numbers.  y is turned
from up to down here and nowhere else: y = height of the sheet - y.  The notes to the right widen the
drawing; what lies below the sheet makes it higher.  Each layer is a top-level group with the layer's
name as its id.  No styles, no transforms but the turn of a text, nothing that could run or load.
"""

import re
from xml.etree import ElementTree

import svgwrite
from svgwrite.container import Group

from foamcut.draw.metrics import EM_PER_CAP, FONTS
from foamcut.draw.styles import RGB, STYLES
from foamcut.draw.values import Align, Drawing, Line, Text
from foamcut.flat.outline import Point, Segment
from foamcut.flat.tolerances import ON_CIRCLE_MM
from foamcut.write.extents import Box, field_box, stroke_box, text_box, union
from foamcut.write.layers import layers
from foamcut.write.numbers import plain, rounded
from foamcut.write.paths import Path

#: how far an outline may lie left of the sheet or above it, mm: half of the widest kerf, 3 mm, eight times
#: that at a sharp corner, round a piece without a margin.  A viewer may not show it there, a reader has it.
_OUTSIDE_MM = 12.0
#: right of the notes, mm: the letters of the viewer's font may be wider than those that were counted with
_MARGIN_MM = 10.0
_ANCHOR = {Align.LEFT: "start", Align.MIDDLE: "middle", Align.RIGHT: "end"}

#: what XML 1.0 does not allow in a text
_NO_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def render(drawing: Drawing, *, title: str, description: str) -> bytes:
    """The drawing as an SVG file of the same size.

    Raises
    ------
    ValueError
        The drawing holds what cannot be drawn or cut (see `layers.layers`), or something but the kerf of
        an outline lies left of the sheet or above it, where the picture does not reach.
    """
    width_mm, height_mm = _canvas(drawing)
    width, height = plain(width_mm), plain(height_mm)
    svg = svgwrite.Drawing(
        size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False, profile="full"
    )
    svg.elements.remove(svg.defs)  # empty, and only groups of lines are to stand here
    svg.set_desc(_words(title), _words(description))
    for layer in layers(drawing):
        group = svg.add(_group(svg, layer.line))
        for path in layer.paths:
            group.add(svg.path(d=_commands(path, drawing.height_mm)))
        for text in layer.texts:
            group.add(_text(svg, text, drawing.height_mm))
    root = svg.get_xml()
    for unused in ("xmlns:ev", "xmlns:xlink", "baseProfile"):
        root.attrib.pop(unused)
    ElementTree.indent(root, space="")
    body = ElementTree.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{body}\n'.encode()


def _canvas(drawing: Drawing) -> tuple[float, float]:
    """Width and height of the picture, mm."""
    outlines: list[Box] = []
    others = [field_box(drawing), *map(text_box, drawing.texts)]
    for stroke in drawing.strokes:
        (outlines if stroke.line is Line.THROUGH else others).append(stroke_box(stroke))
    inner_left, _, _, inner_high = union(others)
    left, low, right, high = union([*outlines, *others])
    # an arc may bulge past the edge that its chords touch
    out = max(-inner_left, inner_high - drawing.height_mm) > ON_CIRCLE_MM
    if out or max(-left, high - drawing.height_mm) > _OUTSIDE_MM:
        raise ValueError(f"{drawing.name}: something lies left of the sheet or above it: {left}, {high}")
    if right > drawing.width_mm:
        right += _MARGIN_MM
    return rounded(max(right, drawing.width_mm)), rounded(drawing.height_mm - min(low, 0.0))


def _group(svg: svgwrite.Drawing, line: Line) -> Group:
    style = STYLES[line]
    attributes = {"stroke_dasharray": " ".join(map(plain, style.dashes_mm))} if style.dashes_mm else {}
    return svg.g(
        id=line.value,
        fill="none",
        stroke=_hexadecimal(style.colour),
        stroke_width=plain(style.width_mm),
        stroke_linejoin="round",
        **attributes,
    )


def _hexadecimal(colour: RGB) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)


def _commands(path: Path, height_mm: float) -> str:
    """Path data in absolute commands, y turned."""
    parts = ["M" + _place(path.points[0], height_mm)]
    segments = path.segments()
    if path.closed and not segments[-1].bulge:
        segments = segments[:-1]  # Z draws it
    parts += [_command(segment, height_mm) for segment in segments]
    return " ".join([*parts, "Z"] if path.closed else parts)


def _command(segment: Segment, height_mm: float) -> str:
    """A line, or an arc of at most half a turn; what turns left with y up has sweep 0 with y down."""
    end = _place(segment.end, height_mm)
    if not segment.bulge:
        return f"L{end}"
    radius = plain(segment.radius)
    return f"A{radius} {radius} 0 0 {0 if segment.bulge > 0 else 1} {end}"


def _place(point: Point, height_mm: float) -> str:
    return f"{plain(point[0])} {plain(height_mm - point[1])}"


def _text(svg: svgwrite.Drawing, text: Text, height_mm: float) -> svgwrite.text.Text:
    x, y = _place(text.at, height_mm).split()
    turn = plain(-text.turn_deg)
    turned = {} if turn == "0" else {"transform": f"rotate({turn} {x} {y})"}
    return svg.text(
        _words(text.text),
        insert=(x, y),
        font_family=FONTS,
        font_size=plain(text.height_mm * EM_PER_CAP),
        text_anchor=_ANCHOR[text.align],
        fill=_hexadecimal(STYLES[text.line].colour),
        stroke="none",
        **turned,
    )


def _words(text: str) -> str:
    """The text in letters that XML allows, white space as blanks."""
    if text.isprintable() and text.isascii():
        return text
    blanks = "".join(" " if letter.isspace() else letter for letter in text)
    return _NO_XML.sub("?", blanks)
