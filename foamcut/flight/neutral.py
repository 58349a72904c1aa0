"""The neutral point, by the lattice and by the textbook formula.  SI; x aft from the nose of the model."""

from dataclasses import dataclass

from foamcut.flight.figures import Figures, Loaded
from foamcut.flight.planform import Planform


@dataclass(frozen=True, slots=True, kw_only=True)
class Neutral:
    """The neutral point by the lattice, by the formula (None without a tail behind the wing), lift slopes.

    `lift_slope` of the whole over the wing's area, `wing_slope` of the wing alone, per radian.
    """

    lattice_m: float
    formula_m: float | None
    lift_slope: float
    wing_slope: float


def neutral_of(plan: Planform) -> Neutral:
    """The neutral point of wing, tail and what else is level."""
    raise NotImplementedError


def neutral_figures(plan: Planform, neutral: Neutral, now: Loaded | None) -> Figures:
    """Neutral point, static margin as a range, advice on both, layouts without a tail."""
    raise NotImplementedError
