"""Parts of a surface folded from one sheet over a spar."""

from foamcut.airframe.made import Made
from foamcut.airframe.values import Inputs, Surface


def folded_surface_parts(surface: Surface, inputs: Inputs) -> Made:
    """Every part of a folded surface: skins, spar strips, joiners, patches."""
    return Made()
