"""Where the centre of gravity shall lie, and shares of the mean chord.  mm."""

from foamcut.flight.planform import Planform
from foamcut.flight.values import Setup
from foamcut.units import MM_PER_M, decimal_text


def mean_chord_mm(plan: Planform) -> tuple[float, float]:
    """x of the leading edge of the wing's mean chord, and its length."""
    return plan.wing.leading_m * MM_PER_M, plan.wing.mean_chord_m * MM_PER_M


def share_at(plan: Planform | None, along_mm: float) -> float | None:
    """A place along as a share of the wing's mean chord; None without a wing or a chord."""
    if plan is None:
        return None
    leading, chord = mean_chord_mm(plan)
    return (along_mm - leading) / chord if chord > 0 else None


def target_along(setup: Setup, plan: Planform | None) -> float | None:
    """Where along the centre of gravity shall lie: the design's target, else the wing's balance mark.

    None without a wing, where the target is not a place along.
    """
    target = setup.wishes.target
    if target is not None and target.along_mm is not None:
        return target.along_mm
    if plan is None:
        return None
    share = target.mean_chord_share if target is not None else None
    leading, chord = mean_chord_mm(plan)
    return leading + chord * (plan.wing.surface.balance if share is None else share)


def percent_text(share: float | None) -> str:
    """A share in percent; empty where there is none."""
    return "" if share is None else f"{decimal_text(100 * share, 1)} %"
