"""Every thing that counts for the weight, with its mass and its place on the model.  g and mm."""

from foamcut.flight.figures import Weighing
from foamcut.flight.values import Model, Setup


def weighed(model: Model, setup: Setup) -> Weighing:
    """Pieces, glue, tape, paint, motors, propellers, servos, dowels, all that is carried, in drawn places."""
    raise NotImplementedError
