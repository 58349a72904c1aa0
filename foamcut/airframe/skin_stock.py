"""A thin stock that a design has, for what is missing of it.  mm."""

from foamcut.airframe.values import Inputs, Material, Surface


def thin_stock(surface: Surface, inputs: Inputs) -> Material | None:
    """The stock of joiners, patches and horns: the surface's own first, then those of others; None: none."""
    several = [surface, *(one for one in inputs.surfaces if one.key != surface.key)]
    for one in several:
        joiner = one.joiner.material if one.joiner is not None else None
        found = (one.patches, joiner, *(control.horn for control in one.controls))
        for material in found:
            if material is not None and material.thickness_mm < surface.material.thickness_mm:
                return material
    return None
