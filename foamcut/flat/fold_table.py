"""At which distances from its drawn line the lines of a fold lie, kind by kind.

s is the distance to the left of the drawn line, t the thickness of the board; mm, degrees.
"""

import math
from dataclasses import dataclass

from foamcut.flat.drawn import DrawnFold, FoldAt, FoldKind
from foamcut.flat.tolerances import ROUNDING_MM, SAME_POINT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Where the lines of a fold lie, as s, by layer; `axis` is where the whole paper turns.

    At a strip it turns at `far_axis` too.
    """

    band: tuple[float, float]
    axis: float
    far_axis: float | None = None
    half: tuple[float, ...] = ()
    groove: tuple[float, ...] = ()
    lift: tuple[float, ...] = ()
    bevel: tuple[float, ...] = ()

    @property
    def axes(self) -> tuple[float, ...]:
        """Every s at which the whole paper turns."""
        return (self.axis,) if self.far_axis is None else (self.axis, self.far_axis)


def table(drawn: DrawnFold, thickness_mm: float) -> Table:
    """At which s the lines of a fold lie.

    Source: plane geometry of a board whose far paper keeps its length; the mouth of a groove is
    2 t tan(angle / 2), the outer paper of a roll is R times its turn in radians long.
    """
    t = thickness_mm
    if drawn.kind is FoldKind.GROOVE:
        side = t * math.tan(math.radians(drawn.turn_deg + drawn.groove_extra_deg) / 2)
        return Table(band=(-side, side), axis=0.0, groove=(-side, side))
    if drawn.kind is FoldKind.WRAP:
        w = t if drawn.lands_thickness_mm is None else drawn.lands_thickness_mm
        return Table(band=(0.0, w), axis=w if drawn.fold_at is FoldAt.FAR else 0.0, lift=(0.0, w))
    if drawn.kind is FoldKind.STRIP:
        b = drawn.band_mm or 0.0
        return Table(band=(0.0, b), axis=0.0, far_axis=b, lift=(0.0, b))
    if drawn.kind is FoldKind.ROLL:
        b = (drawn.radius_mm or 0.0) * math.radians(drawn.turn_deg)
        count = roll_gaps(b, drawn.every_mm or t)
        return Table(band=(0.0, b), axis=0.0, half=tuple(b * i / count for i in range(count + 1)))
    if drawn.kind is FoldKind.HINGE:
        off = t * math.tan(math.radians(drawn.bevel_deg))
        return Table(band=(0.0, off), axis=0.0, half=(0.0,), bevel=(off,) if off > SAME_POINT_MM else ())
    return Table(band=(0.0, 0.0), axis=0.0, half=(0.0,))


def roll_gaps(length_mm: float, every_mm: float) -> int:
    """How many equal gaps between the lines of a roll keep within `every_mm`."""
    return max(1, math.ceil(length_mm / every_mm - ROUNDING_MM))
