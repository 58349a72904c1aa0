"""Receiver and servos of a wiring picture.  mm, y down from 0 into the negative."""

from foamcut.draw.balance_words import broken
from foamcut.draw.wiring_picture_canvas import EDGE_MM, SERVO, SMALL_MM, WIDTH_MM, Box, Canvas, node_lines
from foamcut.draw.wiring_picture_parts import Node, Scheme

#: widest box, heights of boxes: battery, receiver, servo; a lane of servo leads, mm
_BOX_MM, _PACK_MM, _RECEIVER_MM, _SERVO_MM, _LANE_MM = 44.0, 14.0, 14.0, 16.0, 5.5
_MOST_SERVOS = 8
#: in narrower boxes all letters are small, mm
_NARROW_MM = 30.0
_MIDDLE = WIDTH_MM / 2


def radio(canvas: Canvas, scheme: Scheme, receiver: Node, top: float) -> float:
    """Receiver, its pack and the servos; the lowest y."""
    box = Box(_MIDDLE - 30.0, top, 60.0, _RECEIVER_MM)
    canvas.box(box, node_lines(receiver), given=receiver.given)
    if scheme.receiver_pack is not None:
        pack = Box(EDGE_MM + 2.0, box.top, 36.0, _PACK_MM)
        canvas.box(pack, node_lines(scheme.receiver_pack), count=scheme.receiver_pack.count)
        canvas.level_lead(pack, box, box.level, plug=True)
        if scheme.receiver_lead:
            canvas.words(f"lead {scheme.receiver_lead}", (pack.x, pack.top + 1.3), 48.0)
    low = box.foot
    if scheme.servos:
        low = _servos(canvas, scheme.servos, box)
    return low


def _servos(canvas: Canvas, servos: tuple[Node, ...], receiver: Box) -> float:
    """Servos side by side below the receiver, each with its lead; y of their feet."""
    shown, more = servos[:_MOST_SERVOS], len(servos) - _MOST_SERVOS
    count = len(shown)
    wide = min(_BOX_MM, (WIDTH_MM - 2 * EDGE_MM - 3.0 * (count - 1)) / count)
    start = _MIDDLE - (count * wide + 3.0 * (count - 1)) / 2
    pitch = min(7.0, (receiver.wide - 6.0) / count)
    depth = (count + 1) // 2
    top = receiver.foot - 4.0 - _LANE_MM * depth
    for i, servo in enumerate(shown):
        box = Box(start + i * (wide + 3.0), top, wide, _SERVO_MM)
        port = receiver.middle + (i - (count - 1) / 2) * pitch
        lane = receiver.foot - 2.0 - _LANE_MM * (min(i, count - 1 - i) + 0.5)
        path = [(port, receiver.foot), (port, lane), (box.middle, lane), (box.middle, top)]
        if abs(port - box.middle) < 0.5:
            path = [(box.middle, receiver.foot), (box.middle, top)]
        canvas.lead(path, SERVO)
        canvas.box(box, _servo_lines(servo, wide), count=servo.count, small=wide < _NARROW_MM)
    if more > 0:
        canvas.words(
            f"and {more} more servo{'s' if more > 1 else ''}", (EDGE_MM, top - _SERVO_MM - 3.4), 80.0
        )
        return top - _SERVO_MM - 4.0
    return top - _SERVO_MM


def _servo_lines(servo: Node, wide_mm: float) -> list[str]:
    """The name over as many as two lines, how many there are, the length of the lead."""
    name = list(broken(servo.name, wide_mm - 2.0, SMALL_MM))[:2]
    several = [f"{servo.count} of them"] if servo.count > 1 else []
    leads = [line for words in servo.more for line in broken(words, wide_mm - 2.0, SMALL_MM)][:2]
    return [*name, *several, *leads]
