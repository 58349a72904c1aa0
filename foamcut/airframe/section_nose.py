"""How the sheet turns at the leading edge: where the upper skin begins, and the bend of a round nose.

mm, in the plane of a section: c aft, n up.  The four noses:

- stripped: a band of foam is lifted off the outer paper, which turns twice; the upper skin's outer paper
  begins at the nose's height above the leading edge, its end is cut square.
- opened: cut from outside down to the inner paper, which is the hinge: the sheet is folded back on itself.
- scored: round, outer radius half the nose's height, scored over half a turn of outer paper.
- two skins: lies as opened does; the skins are parts of their own, their front faces are taped.
"""

import math
from dataclasses import dataclass

from foamcut.airframe.values import Nose, Surface
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import CHORD_MM

#: what a stripped band is wider than the nose is high, mm: room for the paper to turn (common practice, no
#: source)
BAND_LONGER_MM = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Anchor:
    """What the first flat of an upper skin starts from.

    Its inner paper runs `above_mm` below `at` and starts square below it; negative: above it.
    """

    at: Point
    below_mm: float


def nose_height(surface: Surface) -> float:
    """The height asked for, or that of two boards."""
    given = surface.nose_height_mm
    return 2 * surface.material.thickness_mm if given is None else given


def nose_band(surface: Surface) -> float:
    """Width on the inner face of what is stripped or scored; 0 for an opened nose and two skins.

    Stripped: the nose's height and 0.5 mm.  Scored: half a turn of outer paper, pi R.
    """
    if surface.nose not in (Nose.STRIPPED, Nose.SCORED):
        return 0.0
    if surface.nose_band_mm is not None:
        return surface.nose_band_mm
    if surface.nose is Nose.SCORED:
        return math.pi * nose_height(surface) / 2
    return nose_height(surface) + BAND_LONGER_MM


def anchor(nose: Nose, leading: float, height: float, thickness: float) -> Anchor:
    """Where the first flat starts; of an opened nose and of two skins the height follows from it."""
    if nose is Nose.STRIPPED:
        return Anchor(at=(leading, height), below_mm=thickness)
    if nose is Nose.SCORED:
        return Anchor(at=(leading + height / 2, height / 2), below_mm=thickness - height / 2)
    return Anchor(at=(leading, thickness), below_mm=0.0)


def lower_front(nose: Nose, leading: float, height: float) -> float:
    """c where the flat of the lower skin begins."""
    return leading + height / 2 if nose is Nose.SCORED else leading


def bend(
    nose: Nose, leading: float, height: float, thickness: float, slope: float
) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """Outer and inner paper of a round nose from the lower to the upper skin, as many points each.

    Chords are at most `CHORD_MM` off; how many there are hangs on the height alone.  Empty for other noses.
    """
    if nose is not Nose.SCORED:
        return (), ()
    radius = height / 2
    c, n = leading + radius, radius
    count = math.ceil(math.pi / (2 * math.acos(1 - min(1.0, CHORD_MM / radius))))
    ways = [-math.pi / 2 - (math.pi - slope) * i / count for i in range(count + 1)]
    outer, inner = (
        tuple((c + r * math.cos(way), n + r * math.sin(way)) for way in ways)
        for r in (radius, radius - thickness)
    )
    return outer, inner


def nose_turns(nose: Nose, slope_deg: float) -> tuple[float, float]:
    """The turns at the lower and at the upper fold, degrees; one fold or one bend counts as the lower."""
    if nose is Nose.STRIPPED:
        return 90.0, 90.0 - slope_deg
    if nose is Nose.TWO_SKINS:
        return 0.0, 0.0
    return 180.0 - slope_deg, 0.0
