"""Control surfaces of flat board as they are cut: where their hinge lines run, what is cut away beside them.

mm, degrees; c and s of `foamcut.airframe.planform`, of the right half.  A hinge is cut and bevelled on the
face that lies down (of a fin: on the right), its paper on the other face stays whole.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import Polygon

from foamcut.airframe.flat_sheet import Sheet
from foamcut.airframe.values import Control
from foamcut.flat.drawn import DrawnFold, FoldKind, KeepClear, Side
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import ROUNDING_MM

#: between the end of a control and what is fixed beside it (1.5 to 2 mm is usual: from memory)
GAP_MM = 2.0
#: what a bevel has over the throw, and its range, degrees (30 to 45 is common practice, no source)
MARGIN_DEG, BEVEL_DEG = 10.0, (30.0, 60.0)
#: strips narrower than so many thicknesses break off (common practice, no source)
_STRIP = 2.0
#: how far an end gap goes past the hinge line, so that the line runs out into it (common practice, no source)
RELIEF_MM = 1.0
#: past an end that leans
_PAST_MM = 1.0
#: how far below its root a fin is drawn before it is trimmed to what carries it
BELOW_MM = 60.0
#: beyond any surface
_FAR_MM = 1.0e5


@dataclass(frozen=True, slots=True, kw_only=True)
class Hinged:
    """A control as it is cut: from where to where along the span, and c of its hinge line at both ends."""

    control: Control
    from_mm: float
    to_mm: float
    hinge_mm: tuple[float, float]

    @property
    def bevel_deg(self) -> float:
        """From square: the throw and a margin."""
        low, high = BEVEL_DEG
        return min(max(self.control.throw_deg + MARGIN_DEG, low), high)

    def hinge(self, s_mm: float) -> float:
        """c of the hinge line at a place along the span."""
        first, last = self.hinge_mm
        return first + (last - first) * (s_mm - self.from_mm) / (self.to_mm - self.from_mm)

    def bevel_mm(self, thickness_mm: float) -> float:
        """How much of the board the bevel takes, along the chord: t tan(bevel), across the hinge line."""
        slant = math.atan2(self.hinge_mm[1] - self.hinge_mm[0], self.to_mm - self.from_mm)
        return thickness_mm * math.tan(math.radians(self.bevel_deg)) / math.cos(slant)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """What is cut away between two places along the span, behind a line: up to a control, or to an end.

    `strip`: it is wider than an end gap, because what would be left of it breaks off.
    """

    key: str
    from_mm: float
    to_mm: float
    behind_mm: tuple[float, float]
    strip: bool = False

    @property
    def shape(self) -> Polygon:
        """The region, in c and s."""
        (a, b), (first, last) = (self.from_mm, self.to_mm), self.behind_mm
        return Polygon([(first, a), (_FAR_MM, a), (_FAR_MM, b), (last, b)])


def gaps(sheet: Sheet, controls: Sequence[Hinged], low_mm: float) -> tuple[Gap, ...]:
    """What is cut away of the right half of a sheet beside its controls, from its inner end out.

    `controls` are those of the sheet from the inner end out; `low_mm` is the s of its inner end.
    """
    least = GAP_MM + _STRIP * sheet.thickness_mm
    found: list[Gap] = []
    if controls:
        found += _inner(sheet, controls[0], low_mm, least)
        for one, other in pairwise(controls):
            if other.from_mm - one.to_mm <= least + GAP_MM:
                found.append(_between(one, other))
            else:
                found.append(_gap(one, one.to_mm, one.to_mm + GAP_MM))
                found.append(_gap(other, other.from_mm - GAP_MM, other.from_mm))
        found += _outer(sheet, controls[-1], least)
    return tuple(found)


def _inner(sheet: Sheet, one: Hinged, low: float, least: float) -> list[Gap]:
    if sheet.across:  # the strip on the centre line is twice as wide as its right half
        width = 2 * (one.from_mm - GAP_MM)
        if width + GAP_MM > least:
            return [_gap(one, one.from_mm - GAP_MM, one.from_mm)]
        return [_gap(one, 0.0, one.from_mm, strip=width > ROUNDING_MM)]
    width = one.from_mm - low
    if width > least:
        return [_gap(one, one.from_mm - GAP_MM, one.from_mm)]
    below = low - (BELOW_MM if sheet.fin else _PAST_MM)
    return [_gap(one, below, one.from_mm, strip=width > GAP_MM + ROUNDING_MM)] if width > ROUNDING_MM else []


def _outer(sheet: Sheet, one: Hinged, least: float) -> list[Gap]:
    high = sheet.ends_mm[1]
    width = high - one.to_mm
    if width > least:
        return [_gap(one, one.to_mm, one.to_mm + GAP_MM)]
    return (
        [_gap(one, one.to_mm, high + _PAST_MM, strip=width > GAP_MM + ROUNDING_MM)]
        if width > ROUNDING_MM
        else []
    )


def _between(one: Hinged, other: Hinged) -> Gap:
    return Gap(
        key=other.control.key,
        from_mm=one.to_mm,
        to_mm=other.from_mm,
        behind_mm=(one.hinge_mm[1] - RELIEF_MM, other.hinge_mm[0] - RELIEF_MM),
        strip=other.from_mm - one.to_mm > GAP_MM + ROUNDING_MM,
    )


def _gap(one: Hinged, first: float, last: float, *, strip: bool = False) -> Gap:
    """A gap along the hinge line of a control, gone on with past its end."""
    behind = (one.hinge(first) - RELIEF_MM, one.hinge(last) - RELIEF_MM)
    return Gap(key=one.control.key, from_mm=first, to_mm=last, behind_mm=behind, strip=strip)


def hinge_lines(sheet: Sheet, one: Hinged) -> tuple[tuple[Point, Point], ...]:
    """The hinge line as drawn, what moves on its left; of a sheet across the centre plane right and left."""
    (c0, c1), (s0, s1) = one.hinge_mm, (one.from_mm, one.to_mm)
    right = (sheet.drawn(c1, s1), sheet.drawn(c0, s0))
    if not sheet.across:
        return (right,)
    return right, (sheet.drawn(c0, -s0), sheet.drawn(c1, -s1))


def hinges(sheet: Sheet, one: Hinged) -> tuple[DrawnFold, ...]:
    """The folds of a control."""
    return tuple(
        DrawnFold(
            key=f"{one.control.key}.hinge[{i}]",
            kind=FoldKind.HINGE,
            start=start,
            end=end,
            turn_deg=0.0,
            side=Side.DOWN,
            bevel_deg=one.bevel_deg,
        )
        for i, (start, end) in enumerate(hinge_lines(sheet, one))
    )


def kept_clear(sheet: Sheet, one: Hinged) -> tuple[KeepClear, ...]:
    """Where no joint line or doubler lies: the control and its end gaps."""
    x0 = sheet.drawn(min(one.hinge_mm) - 1.0, 0.0)[0]
    x1 = sheet.drawn(max(sheet.trailing(s) for s in (one.from_mm, one.to_mm)) + 1.0, 0.0)[0]
    y0, y1 = (sheet.drawn(0.0, s)[1] for s in (one.from_mm - GAP_MM, one.to_mm + GAP_MM))
    spans = [(y0, y1), (-y1, -y0)] if sheet.across else [(y0, y1)]
    return tuple(
        KeepClear(key=f"{one.control.key}.clear[{i}]", x_mm=(x0, x1), y_mm=span)
        for i, span in enumerate(spans)
    )
