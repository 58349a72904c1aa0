"""What of a wing's nose is opened so that a motor can stand in it.  mm."""

from foamcut.airframe.motor_seat import WingSeat
from foamcut.airframe.motor_widths import widths
from foamcut.flat.outline import Point

#: between the mark and the slot behind it, so that both lines can be told apart (common practice, no source)
_OFF_MM = 1.0


def opened(seat: WingSeat, slot_mm: float) -> tuple[Point, ...]:
    """(c, s) of three sides of a rectangle: open at the leading edge, closed before a slot.

    It lies between the innermost boards; `slot_mm` is c of the front edge of the slot.  The same places hold
    for both skins.
    """
    half, rear = widths(seat).free_mm / 2, slot_mm - _OFF_MM
    inner, outer = seat.s_mm - half, seat.s_mm + half
    lead = seat.panel.leading
    return (lead(inner), inner), (rear, inner), (rear, outer), (lead(outer), outer)
