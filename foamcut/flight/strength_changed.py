"""A wing with another spar, joiner or board as it would be built: whether it can be, and what it weighs more.

mm, g.  What is added is carried as well: the load grows as the model does.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from foamcut.airframe.folded_surface import folded_surface_parts
from foamcut.airframe.made import Shell
from foamcut.airframe.model import assembled
from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.section import section_at
from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.section_spar import spar_steps, strip_width
from foamcut.airframe.skin_holes import well_refusals
from foamcut.airframe.values import Build, Inputs, Material, Surface
from foamcut.errors import Refused
from foamcut.flat.build import build_part
from foamcut.flat.outline import Point
from foamcut.flat.part import Part
from foamcut.flight.strength_joiner import plates
from foamcut.flight.strength_places import joints_of
from foamcut.flight.strength_wing import Wing
from foamcut.flight.values import Model
from foamcut.flight.weights_stock import areal

#: beads of glue along every strip: its foot, both edges (as glue is weighed: half a bead for each face there)
_BEADS = 2.0


def rebuilt(wing: Wing, surface: Surface, *, joints: bool = True) -> Wing | None:
    """The wing as its parts are cut with another surface, and the load of the heavier model; None: refused.

    A higher spar may make a skin larger than its board: then there is a joint, with what is glued over it.
    Without `joints` they are not looked for, which takes its time.  Where the inputs do not hold the wing, as
    `changed` says.
    """
    now, then = (_cut(one, _inputs_with(wing, one)) for one in (wing.surface, surface))
    if now is None or not any(one == wing.surface for one in wing.inputs.surfaces):
        return changed(wing, surface)
    if then is None or changed(wing, surface) is None:
        return None
    inputs = _inputs_with(wing, surface)
    made = replace(wing, surface=surface, inputs=inputs)
    if joints:
        standing = assembled(then.parts, then.shells)
        model = Model(inputs=inputs, cuts=(), standing=standing, stocks=wing.stocks)
        made = replace(made, joints=joints_of(model, surface))
    return heavier(made, _cut_g(wing, surface, then) - _cut_g(wing, wing.surface, now))


@dataclass(frozen=True, eq=False)
class _Cut:
    """The parts of a wing, and how they fold."""

    parts: tuple[Part, ...]
    shells: tuple[Shell, ...]


def _inputs_with(wing: Wing, surface: Surface) -> Inputs:
    several = tuple(surface if one == wing.surface else one for one in wing.inputs.surfaces)
    return replace(wing.inputs, surfaces=several)


@lru_cache(maxsize=16)
def _cut(surface: Surface, inputs: Inputs) -> _Cut | None:
    """Kept, because every change is weighed against the wing as it is."""
    made = folded_surface_parts(surface, inputs)
    if made.refusals:
        return None
    try:
        parts = tuple(part for drawn in made.parts for part in build_part(drawn)[0])
    except Refused:
        return None
    return _Cut(parts=parts, shells=made.shells)


def _cut_g(wing: Wing, surface: Surface, cut: _Cut) -> float:
    """Boards, and the glue of strips and patches."""
    found = _glue_g(wing, surface)
    for part in cut.parts:
        each = _areal(
            wing, Material(name=part.stock, thickness_mm=part.thickness_mm, boards_mm=(), fit_mm=0.0)
        )
        found += part.count * part.outline.area * each
        if part.name.startswith(f"{surface.name}-patch"):
            ring = part.outline.rings()[0]
            found += wing.glue_g_mm * part.count * _length((*ring, ring[0]))
    return found


def changed(wing: Wing, surface: Surface) -> Wing | None:
    """The wing with another surface and the load of the heavier model; None: it cannot be built so.

    Quick: joints stay where they are.  Counted are strips with their glue, skins and joiner plates.  Looked
    at are the section and the openings of servos beside the spar.
    """
    if section_refusals(surface) or next(well_refusals(surface, wing.inputs), None) is not None:
        return None
    return heavier(replace(wing, surface=surface), _mass_g(wing, surface) - _mass_g(wing, wing.surface))


def heavier(wing: Wing, more_g: float) -> Wing:
    """The wing when the model weighs so much more; as it is where no mass is known."""
    if wing.mass_g <= 0:
        return wing
    lift = wing.load.lift_n * (wing.mass_g + more_g) / wing.mass_g
    return replace(wing, load=replace(wing.load, lift_n=lift))


def boards_g(wing: Wing, count: int) -> float:
    """What boards of the whole wing weigh, with a bead of glue round each half."""
    chords = sum(one.chord_mm for one in (wing.surface.stations[0], wing.surface.stations[-1]))
    edges = 2 * (2 * wing.surface.half_span_mm + chords)
    return count * (_areal(wing, wing.surface.material) * wing.load.area_mm2 + edges * wing.glue_g_mm)


def _mass_g(wing: Wing, surface: Surface) -> float:
    return _strips_g(wing, surface) + _skins_g(wing, surface) + _plates_g(wing, surface)


def _areal(wing: Wing, material: Material) -> float:
    """g/mm2 of a sheet; 0 where it is not known."""
    stock = wing.stocks.get(material.name)
    found = areal(stock) if stock is not None else None
    if found is None or stock is None:
        return 0.0
    return found.g_mm2 * material.thickness_mm / stock.thickness_mm


def _strips_g(wing: Wing, surface: Surface) -> float:
    spar = surface.spar
    if spar is None or surface.build is Build.FLAT:
        return 0.0
    each = _areal(wing, spar.material)
    area = sum(
        (strip_width(surface, 0.0) + strip_width(surface, end)) * end for end, _ in spar_steps(surface)
    )
    return each * area + _glue_g(wing, surface)


def _glue_g(wing: Wing, surface: Surface) -> float:
    """Of the strips of both halves."""
    return _BEADS * wing.glue_g_mm * 2 * sum(end for end, _ in spar_steps(surface))


def _skins_g(wing: Wing, surface: Surface) -> float:
    """By the length round the section at both ends of every panel."""
    if surface.build is Build.FLAT:
        return 0.0
    area = 0.0
    for panel in panels(surface):
        first, last = panel.first.out_mm, panel.last.out_mm
        area += (_round_mm(surface, panel, first) + _round_mm(surface, panel, last)) * (last - first)
    return _areal(wing, surface.material) * area


def _round_mm(surface: Surface, panel: Panel, s_mm: float) -> float:
    section = section_at(surface, panel, s_mm)
    low, high = section.lower_mm
    return _length(section.upper_outer) + high - low


def _length(line: tuple[Point, ...]) -> float:
    return sum(((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5 for a, b in pairwise(line))


def _plates_g(wing: Wing, surface: Surface) -> float:
    joiner = surface.joiner
    if joiner is None:
        return 0.0
    return _areal(wing, joiner.material) * joiner.length_mm * sum(one.height_mm for one in plates(surface))
