"""Where the boards beside a wing motor stand across the span, and what each of them stands against.  mm.

Without a nacelle cheeks stand against the side edges of the firewall.  With one its sides are as far apart
as asked, and what stands against the firewall follows from that: its sides along the edges with cheeks
inside; cheeks glued to the sides; the sides alone; or cheeks with a gap to the sides.
"""

from dataclasses import dataclass

from foamcut.airframe.motor_seat import WingSeat
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.tolerances import ROUNDING_MM
from foamcut.units import mm_text as _mm

#: a gap that glue fills; a board bears on the plate with at least this share of its thickness (common
#: practice, no source)
GLUED_MM, _BEARS = 0.5, 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Two boards, one on each side: between their inner faces, and c of their rear ends."""

    apart_mm: float
    rear_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Widths:
    """Cheeks and sides of a mount, each where it has them; `gap_mm` is left between a cheek and a side."""

    cheeks: Stand | None
    sides: Stand | None = None
    gap_mm: float = 0.0

    @property
    def free_mm(self) -> float:
        """Between the innermost boards."""
        return min(one.apart_mm for one in (self.cheeks, self.sides) if one is not None)


def widths(seat: WingSeat) -> Widths:
    """What stands where; a rear end on the firewall's front face bears on it."""
    nacelle, t = seat.motor.nacelle, seat.surface.material.thickness_mm
    wide = seat.motor.firewall.width_mm
    if nacelle is None:
        return Widths(cheeks=Stand(apart_mm=wide, rear_mm=seat.rear_mm))
    inside = nacelle.width_mm - 2 * t
    off = (inside - wide) / 2  # from the plate's edge out to the side; below 0 the side stands before it
    flush = Stand(apart_mm=wide - 2 * t, rear_mm=seat.front_mm)
    beside = Stand(apart_mm=inside - 2 * t, rear_mm=seat.front_mm)
    if off < -ROUNDING_MM:
        before = Stand(apart_mm=inside, rear_mm=seat.front_mm)
        return Widths(cheeks=None if off <= ROUNDING_MM - _BEARS * t else beside, sides=before)
    along = Stand(apart_mm=inside, rear_mm=seat.rear_mm)
    if off <= GLUED_MM + ROUNDING_MM:
        return Widths(cheeks=flush, sides=along)
    if off <= (1 - _BEARS) * t + ROUNDING_MM:
        return Widths(cheeks=beside, sides=along)
    return Widths(cheeks=flush, sides=along, gap_mm=off)


def width_refusals(seat: WingSeat) -> tuple[Refusal, ...]:
    """A nacelle so narrow that its firewall would stand out of it by more than a board on each side."""
    nacelle, t = seat.motor.nacelle, seat.surface.material.thickness_mm
    wide = seat.motor.firewall.width_mm
    if nacelle is None or nacelle.width_mm >= wide - 2 * t - ROUNDING_MM:
        return ()
    text = (
        f"the nacelle is {_mm(nacelle.width_mm)} wide outside and the firewall {_mm(wide)}: it would stand"
        f" out {_mm((wide - nacelle.width_mm) / 2)} on each side, more than a board of {_mm(t)}; make the"
        f" nacelle {_mm(wide - 2 * t)} or wider, or the firewall {_mm(nacelle.width_mm + 2 * t)} or narrower"
    )
    return (Refusal(key=f"{nacelle.key}.width", text=text),)


def gap_findings(seat: WingSeat) -> tuple[Finding, ...]:
    """Sides that stand off the cheeks, so that nothing but the wing holds them."""
    nacelle, gap = seat.motor.nacelle, widths(seat).gap_mm
    if nacelle is None or not gap:
        return ()
    t = seat.surface.material.thickness_mm
    return (
        Finding(
            code="motor-mount",
            level=Level.NOTE,
            where=f"{nacelle.key}.width",
            text=(
                f"the sides of the nacelle, {_mm(nacelle.width_mm)} apart outside, stand {_mm(gap)} off the"
                " cheeks, which stand before the edges of a firewall"
                f" {_mm(seat.motor.firewall.width_mm)} wide"
            ),
            value=_mm(gap),
            range=f"up to {_mm(GLUED_MM)}",
            source="the sizes given",
            mend=(
                f"glue strips {_mm(gap)} thick between cheeks and sides, or make the firewall"
                f" {_mm(nacelle.width_mm - 2 * t)} wide"
            ),
        ),
    )
