"""The opening in the lower skin through which a wing motor's wires go into the wing.  mm."""

from foamcut.airframe.meets import SkinOpening
from foamcut.airframe.motor_checks import KEEP_MM, band_end
from foamcut.airframe.motor_seat import WingSeat
from foamcut.airframe.motor_widths import widths
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: along the chord and along the span: three wires with their plugs (common practice, no source)
WIRES_MM = (12.0, 20.0)


def wire_opening(seat: WingSeat) -> SkinOpening | None:
    """Before the firewall, between the innermost boards; None where there is no room."""
    low, high = _room(seat)
    if high - low < WIRES_MM[0] or widths(seat).free_mm - 2 * KEEP_MM < WIRES_MM[1]:
        return None
    return SkinOpening(
        key=f"{seat.motor.key}.wires",
        c_mm=(low + high) / 2,
        s_mm=seat.s_mm,
        size_mm=WIRES_MM,
        upper=False,
        text="motor wires, before closing",
    )


def _room(seat: WingSeat) -> tuple[float, float]:
    """c from where to where the lower skin is free."""
    slot = seat.front_mm - seat.motor.firewall.material.fit_mm / 2
    return band_end(seat) + KEEP_MM, slot - KEEP_MM


def wire_findings(seat: WingSeat) -> tuple[Finding, ...]:
    """Said where there is no room for the opening."""
    if wire_opening(seat) is not None:
        return ()
    low, high = _room(seat)
    found = (
        f"{decimal_text(max(high - low, 0.0), 1)} x {decimal_text(widths(seat).free_mm - 2 * KEEP_MM, 1)} mm"
    )
    return (
        Finding(
            code="motor-mount",
            level=Level.NOTE,
            where=seat.motor.key,
            text="the lower skin has no room for the motor's wires between the nose and the firewall",
            value=found,
            range=f"{decimal_text(WIRES_MM[0])} x {decimal_text(WIRES_MM[1])} mm",
            source="common practice, no source",
            mend="cut an opening behind the spar, make the mount wider, or set the spar farther back",
        ),
    )
