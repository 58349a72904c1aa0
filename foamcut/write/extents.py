"""Boxes of what is drawn: x0, y0, x1, y1 in mm, y up."""

import math
from collections.abc import Iterable

from foamcut.draw.metrics import DESCENT_PER_CAP, text_width_mm
from foamcut.draw.values import Align, Drawing, Stroke, Text
from foamcut.flat.outline import Segment
from foamcut.write.paths import path

Box = tuple[float, float, float, float]

#: share of a text's width that lies before its place
SHARE_BEFORE = {Align.LEFT: 0.0, Align.MIDDLE: 0.5, Align.RIGHT: 1.0}


def segment_box(segment: Segment) -> Box:
    """Box of a line or arc."""
    (x0, y0), (x1, y1) = segment.start, segment.end
    if not segment.bulge:
        return (
            (x0 if x0 < x1 else x1),
            (y0 if y0 < y1 else y1),
            (x1 if x0 < x1 else x0),
            (y1 if y0 < y1 else y0),
        )
    xs, ys = [x0, x1], [y0, y1]
    cx, cy = segment.centre
    radius = segment.radius
    start = math.atan2(y0 - cy, x0 - cx)
    swept = math.radians(segment.included_deg)
    for quarter in range(4):
        turned = (quarter * math.pi / 2 - start) * math.copysign(1.0, swept) % math.tau
        if turned < abs(swept):
            xs.append(cx + radius * (1, 0, -1, 0)[quarter])
            ys.append(cy + radius * (0, 1, 0, -1)[quarter])
    return min(xs), min(ys), max(xs), max(ys)


def text_box(text: Text) -> Box:
    """Box of a line of text, from its descenders to its capitals."""
    width = text_width_mm(text.text, text.height_mm)
    left = -width * SHARE_BEFORE[text.align]
    low, high = -DESCENT_PER_CAP * text.height_mm, text.height_mm
    if not text.turn_deg:
        x, y = text.at
        return x + left, y + low, x + left + width, y + high
    turn = math.radians(text.turn_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    x, y = text.at
    corners = [(a, b) for a in (left, left + width) for b in (low, high)]
    xs = [x + a * cos - b * sin for a, b in corners]
    ys = [y + a * sin + b * cos for a, b in corners]
    return min(xs), min(ys), max(xs), max(ys)


def union(boxes: Iterable[Box]) -> Box:
    """The box around boxes; at least one."""
    lefts, lows, rights, highs = zip(*boxes, strict=True)
    return min(lefts), min(lows), max(rights), max(highs)


def meet(a: Box, b: Box) -> bool:
    """Whether two boxes share a point."""
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def drawing_box(drawing: Drawing) -> Box:
    """Box of the drawing's field, lines and texts."""
    return union((field_box(drawing), *map(stroke_box, drawing.strokes), *map(text_box, drawing.texts)))


def field_box(drawing: Drawing) -> Box:
    """Box of the drawing's field."""
    return 0.0, 0.0, drawing.width_mm, drawing.height_mm


def stroke_box(stroke: Stroke) -> Box:
    """Box of a line as it is written."""
    return union(map(segment_box, path(stroke).segments()))
