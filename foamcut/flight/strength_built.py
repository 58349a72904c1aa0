"""A wing built anew with another spar: its strips, patches and plates as they are cut, and its joints.

mm, g.  Skins are laid flat for where they are joined alone; they are not cut or folded, which takes longest.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

from foamcut.airframe.folded_checks import development_refusals, surface_refusals
from foamcut.airframe.model import assembled
from foamcut.airframe.skin_joints import joint_made
from foamcut.airframe.skin_spans import laid_out
from foamcut.airframe.spar_joiners import joiner_parts
from foamcut.airframe.spar_strips import strip_parts
from foamcut.airframe.values import Inputs, Material, OverSpar, Surface
from foamcut.errors import Refused
from foamcut.flat.build import build_part
from foamcut.flat.develop import RulingsCross
from foamcut.flat.part import Part
from foamcut.flight.strength_changed import areal_g_mm2, changed, glue_g, heavier, length_mm, skins_g
from foamcut.flight.strength_places import joints_of
from foamcut.flight.strength_wing import Wing
from foamcut.flight.values import Model


def rebuilt(wing: Wing, surface: Surface, *, roughly: bool = False) -> Wing | None:
    """The wing as its parts are cut with another surface, and the load of the heavier model; None: refused.

    A higher spar may make a skin larger than its board: then there is a joint, with what is glued over it.
    `roughly` looks for the joints of bent skins as if they were creased, in a tenth of the time.  Where the
    inputs do not hold the wing, as `changed` says.
    """
    now = _built(wing.surface, wing.inputs, OverSpar.CREASED)
    if now is None or wing.surface not in wing.inputs.surfaces:
        return changed(wing, surface)
    inputs = _inputs_with(wing.inputs, wing.surface, surface)
    then = _built(surface, inputs, OverSpar.CREASED if roughly else surface.over_spar)
    if then is None:
        return None
    standing = assembled(then.parts, ())
    model = Model(inputs=inputs, cuts=(), standing=standing, stocks=wing.stocks)
    joints = joints_of(model, surface, ends=then.ends)
    made = replace(wing, surface=surface, inputs=inputs, joints=joints)
    return heavier(made, _built_g(wing, surface, then) - _built_g(wing, wing.surface, now))


@dataclass(frozen=True, eq=False)
class _Built:
    """Strips, patches and plates, and s of the joints between skins."""

    parts: tuple[Part, ...]
    ends: tuple[float, ...]


def _inputs_with(inputs: Inputs, old: Surface, new: Surface) -> Inputs:
    return replace(inputs, surfaces=tuple(new if one == old else one for one in inputs.surfaces))


@lru_cache(maxsize=16)
def _built(surface: Surface, inputs: Inputs, shape: OverSpar) -> _Built | None:
    """Kept, because every change is weighed against the wing as it is; `shape` of the skins laid flat."""
    if surface_refusals(surface, inputs):
        return None
    laid = replace(surface, over_spar=shape)
    try:
        layout = laid_out(laid, _inputs_with(inputs, surface, laid))
    except RulingsCross:
        return None
    several = [
        strip_parts(surface, layout.joints),
        joiner_parts(surface),
        joint_made(surface, inputs, layout),
    ]
    refused = [*layout.refusals, *(one for made in several for one in made.refusals)]
    if refused or development_refusals(laid, layout.skins):
        return None
    try:
        parts = tuple(part for made in several for drawn in made.parts for part in build_part(drawn)[0])
    except Refused:
        return None
    return _Built(parts=parts, ends=layout.joints)


def _built_g(wing: Wing, surface: Surface, built: _Built) -> float:
    """Boards, and the glue of strips and patches."""
    found = glue_g(wing, surface) + skins_g(wing, surface)
    for part in built.parts:
        sheet = Material(name=part.stock, thickness_mm=part.thickness_mm, boards_mm=(), fit_mm=0.0)
        found += part.count * part.outline.area * areal_g_mm2(wing, sheet)
        if part.name.startswith(f"{surface.name}-patch"):
            ring = part.outline.rings()[0]
            found += wing.glue_g_mm * part.count * length_mm((*ring, ring[0]))
    return found
