"""Motors, speed controls and packs of a wiring picture, and the leads down to the receiver.

mm, y down from 0 into the negative.
"""

from foamcut.draw.balance_words import broken
from foamcut.draw.picture import Ink, Shape
from foamcut.draw.values import Align
from foamcut.draw.wiring_picture_canvas import (
    APART_MM,
    EDGE_MM,
    MOTOR,
    PITCH_MM,
    POWER,
    SERVO,
    SMALL_MM,
    WIDTH_MM,
    Box,
    Canvas,
    node_lines,
)
from foamcut.draw.wiring_picture_parts import Column, Scheme

#: width of a box, heights of boxes: motor, speed control, battery, junction, mm
_BOX_MM, _MOTOR_MM, _CONTROL_MM, _PACK_MM, _JOIN_MM = 44.0, 13.0, 20.0, 14.0, 11.0
#: lengths of wires between rows, mm: motor wires, to the receiver
_WIRES_MM, _DOWN_MM = 16.0, 18.0
#: where motor wires run, off the middle of the box, mm
_MOTOR_WIRES_MM = (-15.0, -8.0, -1.0)
#: room for words over the level stretch of a lead to the receiver, mm
_SIGNAL_ROOM_MM = 36.0
#: how wide the gap of a parted wire is, mm
_GAP_MM = 7.0
_MIDDLE = WIDTH_MM / 2


def drive(canvas: Canvas, scheme: Scheme) -> float:
    """Motors, speed controls and packs; y where the leads to the receiver end."""
    two = len(scheme.columns) > 1
    xs = (EDGE_MM + 2.0, WIDTH_MM - EDGE_MM - 2.0 - _BOX_MM) if two else (_MIDDLE - _BOX_MM / 2,)
    controls = []
    for x, column in zip(xs, scheme.columns, strict=True):
        controls.append(_column(canvas, x, column))
    if two and scheme.apart:
        _packs_apart(canvas, scheme, controls)
    elif two:
        _packs_together(canvas, scheme, controls)
    else:
        _pack_beside(canvas, scheme, controls[0])
    return _to_receiver(canvas, scheme, controls)


def _column(canvas: Canvas, x: float, column: Column) -> Box:
    """A motor above its speed control, three wires between."""
    motor = Box(x, -EDGE_MM - 1.5, _BOX_MM, _MOTOR_MM)
    control = Box(x, motor.foot - _WIRES_MM, _BOX_MM, _CONTROL_MM)
    canvas.box(motor, node_lines(column.motor, column.side), given=column.motor.given)
    for off in _MOTOR_WIRES_MM:
        canvas.lead([(motor.middle + off, motor.foot), (motor.middle + off, control.top)], MOTOR[:1])
    left = motor.middle + _MOTOR_WIRES_MM[-1] + 2.0
    room = motor.right - left
    rows = [*(broken(column.motor_lead, room, SMALL_MM) if column.motor_lead else ()), "any order"]
    level = motor.foot - _WIRES_MM / 2 + (len(rows) - 1) * PITCH_MM / 2 - SMALL_MM / 2
    for i, words in enumerate(rows):
        canvas.words(words, (left, level - i * PITCH_MM), room)
    return canvas.box(control, node_lines(column.control, column.side), given=column.control.given)


def _packs_apart(canvas: Canvas, scheme: Scheme, controls: list[Box]) -> None:
    """One pack for each speed control, in the middle above each other: the upper one feeds the left."""
    left, right = controls
    high = _CONTROL_MM / 2 - 0.5
    for i, (pack, top) in enumerate(zip(scheme.packs, (left.top, left.top - high - 1.0), strict=True)):
        box = canvas.box(Box(_MIDDLE - 18.0, top, 36.0, high), node_lines(pack, ("left", "right")[i]))
        if i == 0:
            canvas.level_lead(left, box, box.level, plug=True)
        else:
            canvas.level_lead(box, right, box.level, plug=True)
    if scheme.pack_lead:
        canvas.words(f"each lead {scheme.pack_lead}", (_MIDDLE, left.top + 2.0), 50.0, Align.MIDDLE)


def _packs_together(canvas: Canvas, scheme: Scheme, controls: list[Box]) -> None:
    """The pack at the nose, below it where its lead parts to both speed controls."""
    left, right = controls
    (pack,) = scheme.packs
    box = Box(_MIDDLE - 22.0, -EDGE_MM - 1.5, 44.0, _PACK_MM)
    canvas.box(box, node_lines(pack), given=pack.given, count=pack.count)
    join = Box(_MIDDLE - 15.0, left.level + _JOIN_MM / 2, 30.0, _JOIN_MM)
    canvas.lead([(box.middle, box.foot), (box.middle, join.top)], POWER)
    canvas.words("\u2212", (box.middle - APART_MM / 2 - 1.6, box.foot - 3.4), 5.0, Align.MIDDLE, 2.5)
    canvas.words("+", (box.middle + APART_MM / 2 + 2.0, box.foot - 3.4), 5.0, Align.MIDDLE, 2.5)
    if scheme.pack_lead:
        canvas.words(_pack_words(scheme), (box.middle + 4.0, box.foot - 7.5), 28.0)
    canvas.plug((box.middle, box.foot - 12.0), level=False)
    canvas.box(join, ("power Y lead", "+ to +, \u2212 to \u2212"))
    canvas.level_lead(left, join, join.level)
    canvas.level_lead(join, right, join.level)


def _pack_words(scheme: Scheme) -> str:
    return f"{'each lead' if scheme.packs[0].count > 1 else 'lead'} {scheme.pack_lead}"


def _pack_beside(canvas: Canvas, scheme: Scheme, control: Box) -> None:
    """The pack on the left of the one speed control."""
    (pack,) = scheme.packs
    box = Box(EDGE_MM + 2.0, control.level + _PACK_MM / 2, 40.0, _PACK_MM)
    canvas.box(box, node_lines(pack), given=pack.given, count=pack.count)
    canvas.level_lead(box, control, box.level, plug=True)
    if scheme.pack_lead:
        canvas.words(_pack_words(scheme), (box.x, box.foot - 3.6), 60.0)


def _to_receiver(canvas: Canvas, scheme: Scheme, controls: list[Box]) -> float:
    """The leads from speed controls towards the receiver; y where it begins."""
    if len(controls) == 1:
        (control,), (column,) = controls, scheme.columns
        end = control.foot - _DOWN_MM
        wires = canvas.lead([(control.middle, control.foot), (control.middle, end)], SERVO)
        if not column.feeds_receiver:
            _part_upright(canvas, wires[1], control.foot - _DOWN_MM / 2)
        canvas.words(_signal_words(column), (control.middle + 4.0, control.foot - _DOWN_MM / 2 - 1.0), 60.0)
        return end
    left, right = controls
    level = left.foot - _DOWN_MM * 0.65
    join = Box(_MIDDLE - 15.0, level + _JOIN_MM / 2, 30.0, _JOIN_MM)
    ways = (
        ([(left.middle, left.foot), (left.middle, level), (join.x, level)], join.x, -1),
        ([(right.middle, right.foot), (right.middle, level), (join.right, level)], join.right, 1),
    )
    for (path, end, sign), column in zip(ways, scheme.columns, strict=True):
        wires = canvas.lead(path, SERVO)
        if not column.feeds_receiver:
            _part_level(canvas, wires[1], end + sign * 10.0)
        align = Align.RIGHT if sign < 0 else Align.LEFT
        several = broken(_signal_words(column), _SIGNAL_ROOM_MM, SMALL_MM)[::-1]
        for i, words in enumerate(several):
            canvas.words(words, (end + sign * 2.0, level + 3.6 + i * PITCH_MM), _SIGNAL_ROOM_MM, align)
        if not column.feeds_receiver:
            canvas.words("red wire parted, insulated", (end + sign * 2.0, level - 5.6), 40.0, align)
    canvas.box(join, ("servo Y lead", "to the throttle"))
    end = join.foot - 6.0
    canvas.lead([(join.middle, join.foot), (join.middle, end)], SERVO)
    return end


def _signal_words(column: Column) -> str:
    return f"lead {column.signal_lead}" if column.signal_lead else ""


def _part_level(canvas: Canvas, wire: tuple[tuple[float, float], ...], x: float) -> None:
    """A gap in the level stretch of a wire, both ends capped."""
    _part(canvas, wire, (x, wire[-1][1]), level=True)


def _part_upright(canvas: Canvas, wire: tuple[tuple[float, float], ...], y: float) -> None:
    _part(canvas, wire, (wire[-1][0], y), level=False)


def _part(
    canvas: Canvas, wire: tuple[tuple[float, float], ...], at: tuple[float, float], *, level: bool
) -> None:
    """The wire drawn anew without a gap about a place, a cap over each of its ends."""
    index = next(i for i, shape in enumerate(canvas.shapes) if shape.points == wire)
    half = _GAP_MM / 2
    (x, y), (ax, ay), (bx, by) = at, wire[-2], wire[-1]
    first, second = ((x - half, y), (x + half, y)) if level else ((x, y + half), (x, y - half))
    if (bx < ax) if level else (by > ay):
        first, second = second, first
    canvas.shapes[index : index + 1] = [
        Shape(ink=Ink.PLUS, points=(*wire[:-1], first)),
        Shape(ink=Ink.PLUS, points=(second, wire[-1])),
    ]
    for end, other in ((first, second), (second, first)):
        canvas.shapes.append(_cap(end, other))


def _cap(end: tuple[float, float], towards: tuple[float, float]) -> Shape:
    """A black sleeve over the end of a wire, 1.8 mm along it."""
    dx = (towards[0] > end[0]) - (towards[0] < end[0])
    dy = (towards[1] > end[1]) - (towards[1] < end[1])
    (x0, x1), (y0, y1) = (
        sorted((c - 0.9 * d - 0.6 * (not d), c + 0.9 * d + 0.6 * (not d)))
        for c, d in zip(end, (dx, dy), strict=True)
    )
    return Shape(ink=Ink.SOLID, points=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)
