"""Thrust, currents, flight time, one failed motor of two, propeller clearances, launching.  SI."""

from foamcut.flight.air import Air
from foamcut.flight.figures import Figures, Loaded
from foamcut.flight.lift import Lift
from foamcut.flight.planform import Planform
from foamcut.flight.values import Model, Setup


def power_figures(
    model: Model, setup: Setup, air: Air, plan: Planform | None, now: Loaded | None, lift: Lift | None
) -> Figures:
    """What motors, propellers, speed controls and batteries can do together, and advice."""
    raise NotImplementedError
