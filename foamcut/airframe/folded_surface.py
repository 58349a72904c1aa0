"""Parts of a surface folded from one sheet over a spar: skins, strips, joiners, patches, horns.

mm, degrees; see `foamcut.airframe.planform` for a panel's coordinates and `foamcut.airframe.section` for
what the skins look like from the side.
"""

from dataclasses import replace

from foamcut.airframe.folded_checks import (
    development_findings,
    development_refusals,
    surface_findings,
    surface_refusals,
    twisted,
)
from foamcut.airframe.folded_horns import horns_made
from foamcut.airframe.made import Made
from foamcut.airframe.skin_boards import shapes, turns_on
from foamcut.airframe.skin_joints import joint_made
from foamcut.airframe.skin_parts import Skin, folded_sheet, two_skins
from foamcut.airframe.skin_spans import Layout, laid_out
from foamcut.airframe.spar_halves import halves_made
from foamcut.airframe.spar_joiners import joiner_parts
from foamcut.airframe.spar_strips import strip_parts
from foamcut.airframe.values import Inputs, Role, Surface
from foamcut.flat.develop import RulingsCross


def folded_surface_parts(surface: Surface, inputs: Inputs) -> Made:
    """Every part of a folded surface: skins, spar strips, joiners, patches."""
    if refusals := surface_refusals(surface, inputs):
        return Made(refusals=refusals)
    try:
        layout = laid_out(surface, inputs)
    except RulingsCross:
        return Made(refusals=(twisted(surface),))
    skins = _skins(surface, inputs, layout)
    said = Made(
        findings=(
            *surface_findings(surface, inputs),
            *layout.findings,
            *development_findings(surface, layout.skins),
        ),
        refusals=(*layout.refusals, *development_refusals(surface, layout.skins)),
    )
    made = Made(parts=tuple(one.part for one in skins), shells=tuple(one.shell for one in skins))
    return Made.of(
        (
            said,
            made,
            strip_parts(surface, layout.joints),
            joiner_parts(surface),
            halves_made(surface, inputs),
            joint_made(surface, inputs, layout),
            *(horns_made(flat) for flat in layout.skins),
        )
    )


def _skins(surface: Surface, inputs: Inputs, layout: Layout) -> list[Skin]:
    """The skins as parts, numbered from the root out where there are several."""
    made: list[Skin] = []
    boards = surface.material.boards_mm
    name, many = f"{surface.name}-skin", len(layout.skins) > 1
    for i, flat in enumerate(layout.skins):
        key = f"{surface.key}.skin[{i}]" if many else surface.key
        number = f"-{i + 1}" if many else ""
        joined = (i > 0 or surface.role is not Role.FIN, i + 1 < len(layout.skins))
        several: tuple[Skin, ...]
        if layout.two:
            several = two_skins(flat, inputs, name, number, key, joined)
        else:
            several = (folded_sheet(flat, inputs, name + number, key, joined),)
        for skin, shape in zip(several, shapes(flat, two=layout.two), strict=True):
            turns = turns_on(shape, boards) or skin.part.turns
            made.append(replace(skin, part=replace(skin.part, turns=turns)))
    return made
