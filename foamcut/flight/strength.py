"""Bending of the wing at the load factor: spar, paper skins, joiner.  SI, stresses MPa."""

from foamcut.flight.figures import Figures, Loaded
from foamcut.flight.planform import Planform
from foamcut.flight.values import Model, Setup


def strength_figures(model: Model, setup: Setup, plan: Planform, now: Loaded) -> Figures:
    """Root moment, stresses with their margin, joiner length and height, and advice."""
    raise NotImplementedError
