"""The textbook formula for the neutral point of a wing with a tail behind it; a tail's size by it.  SI."""

from foamcut.flight.planform_lifting import Lifting


def slope_ratio(wing_ratio: float, tail_ratio: float) -> float:
    """Lift slope of the tail in the wing's downwash over that of the wing, from both aspect ratios.

    M. Drela, Basic Aircraft Design Rules, MIT, 2006: (1 + 2/A) / (1 + 2/Ah) x (1 - 4/(A + 2)).
    """
    return (1 + 2 / wing_ratio) / (1 + 2 / tail_ratio) * (1 - 4 / (wing_ratio + 2))


def simple_share(wing: Lifting, tail: Lifting) -> float:
    """The formula as printed: 1/4 + k Vh, as a share of the mean chord behind its leading edge.

    With a tail arm from the wing's quarter point it overstates; see `share_by_formula`.
    """
    return 0.25 + slope_ratio(wing.aspect_ratio, tail.aspect_ratio) * _area(wing, tail) * _arm(wing, tail)


def share_by_formula(wing: Lifting, tail: Lifting) -> float:
    """Neutral point as a share of the mean chord behind its leading edge: 1/4 + k Vh / (1 + k Sh/S).

    The tail arm runs from quarter point to quarter point, so the moments balance with the lift of wing and
    tail together (arithmetic).  Limits: as `slope_ratio`; aspect ratios above 2 or so, a tail well behind
    the wing, no body.  Below an aspect ratio of 2 the wing's downwash takes all lift off the tail, by the
    formula: k is then no less than 0.
    """
    weight = max(slope_ratio(wing.aspect_ratio, tail.aspect_ratio), 0.0) * _area(wing, tail)
    return 0.25 + weight * _arm(wing, tail) / (1 + weight)


def tail_factor(wing: Lifting, tail: Lifting, more: float) -> float | None:
    """By what its area has to grow so that the point moves aft by `more` mean chords; None: no area does.

    At the same place, with the same aspect ratio.
    """
    weight = max(slope_ratio(wing.aspect_ratio, tail.aspect_ratio), 0.0) * _area(wing, tail)
    arm = _arm(wing, tail)
    wanted = weight * arm / (1 + weight) + more
    if weight <= 0 or wanted >= arm:
        return None
    return wanted / (arm - wanted) / weight


def _area(wing: Lifting, tail: Lifting) -> float:
    return tail.area_m2 / wing.area_m2


def _arm(wing: Lifting, tail: Lifting) -> float:
    """From quarter point to quarter point, in mean chords of the wing."""
    return (tail.quarter_m - wing.quarter_m) / wing.mean_chord_m
