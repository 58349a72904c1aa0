"""What a plain flap does to a section, by thin-aerofoil theory.

Source: H. Glauert, 1927 (from memory); E. L. Houghton, P. W. Carpenter, Aerodynamics for Engineering
Students, p. 183, eq. 4.52 (excerpt read): cl = 2 pi a + 2 (pi - p + sin p) d with cos p = 2 E - 1, E the
flap's share of the chord.  Limits: thin section, small angles, no gap, no separation.  At full throw less is
had: see `flap_effect` of `foamcut.flight.assumed`.
"""

import math

from foamcut.flight.controls_shape import Hung


def flap_effectiveness(share: float) -> float:
    """By how much of its own angle a flap turns the whole section, 0 to 1, for its share of the chord.

    >>> round(flap_effectiveness(0.25), 4)
    0.609
    """
    p = _angle(share)
    return (math.pi - p + math.sin(p)) / math.pi


def flap_moment(share: float) -> float:
    """Moment coefficient about the quarter point per radian of flap down; negative is nose down.

    >>> round(flap_moment(0.5), 4)
    -0.5
    """
    p = _angle(share)
    return -0.5 * math.sin(p) * (1 - math.cos(p))


def _angle(share: float) -> float:
    return math.acos(2 * min(max(share, 0.0), 1.0) - 1)


def lift_share(several: tuple[Hung, ...], area_mm2: float) -> float:
    """By how much of their angle the controls turn a whole surface of an area; strips side by side.

    Method: flap effectiveness of each strip weighted by its area.
    """
    if area_mm2 <= 0:
        return 0.0
    turned = sum(
        one.count * strip.width_mm * strip.chord_mm * flap_effectiveness(strip.share)
        for one in several
        for strip in one.strips()
    )
    return turned / area_mm2
