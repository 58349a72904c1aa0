"""Parts of a surface of flat board: stabiliser, fin, flat wing."""

from foamcut.airframe.made import Made
from foamcut.airframe.meets import TabInto
from foamcut.airframe.values import Inputs, Surface


def flat_surface_parts(surface: Surface, inputs: Inputs) -> Made:
    """Every part of a flat surface."""
    return Made()


def root_tabs(surface: Surface, inputs: Inputs) -> tuple[TabInto, ...]:
    """The tabs with which a fin stands in the deck of a body; none where no deck lies under it."""
    return ()
