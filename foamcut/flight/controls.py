"""How far control surfaces move, in mm at the trailing edge and degrees, and how large they are."""

from foamcut.flight.figures import Figures, Throw
from foamcut.flight.planform import Planform


def throws(plan: Planform) -> tuple[Throw, ...]:
    """The throw of every control surface of wing, tail and fins."""
    raise NotImplementedError


def control_figures(plan: Planform, several: tuple[Throw, ...]) -> Figures:
    """The throws as numbers, and advice on those and on the sizes of control surfaces."""
    raise NotImplementedError
