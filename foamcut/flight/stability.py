"""Tail volumes, spiral parameter, roll authority, elevator power at stall.  SI and degrees."""

from foamcut.flight.figures import Figures, Loaded
from foamcut.flight.lift import Lift
from foamcut.flight.neutral import Neutral
from foamcut.flight.planform import Planform


def stability_figures(plan: Planform, now: Loaded | None, neutral: Neutral, lift: Lift | None) -> Figures:
    """Numbers and advice on the sizes of tail, fin and dihedral, and on what the controls can do."""
    raise NotImplementedError
