"""A wing with another spar, joiner or board: whether its section can be built, and what it weighs more.

mm, g.  What is added is carried as well: the load grows as the model does.
"""

from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.section import section_at
from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.section_spar import spar_steps, strip_width
from foamcut.airframe.skin_holes import well_refusals
from foamcut.airframe.values import Build, Inputs, Material, Surface
from foamcut.flat.outline import Point
from foamcut.flight.strength_joiner import plates
from foamcut.flight.strength_wing import Wing
from foamcut.flight.weights_stock import areal

#: beads of glue along every strip: its foot, both edges (as glue is weighed: half a bead for each face there)
_BEADS = 2.0


def changed(wing: Wing, surface: Surface) -> Wing | None:
    """The wing with another surface and the load of the heavier model; None: it cannot be built so.

    Quick: joints stay where they are.  Counted are strips with their glue, skins and joiner plates.  Looked
    at are the section and the openings of servos beside the spar.
    """
    if _refused(surface, wing.inputs):
        return None
    return heavier(replace(wing, surface=surface), _mass_g(wing, surface) - _mass_g(wing, wing.surface))


@lru_cache(maxsize=16)
def _refused(surface: Surface, inputs: Inputs) -> bool:
    return bool(section_refusals(surface)) or next(well_refusals(surface, inputs), None) is not None


def with_joiner(wing: Wing, surface: Surface) -> Wing:
    """The wing with another joiner alone: its section stays what it is."""
    return heavier(replace(wing, surface=surface), _plates_g(wing, surface) - _plates_g(wing, wing.surface))


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
    return count * (areal_g_mm2(wing, wing.surface.material) * wing.load.area_mm2 + edges * wing.glue_g_mm)


def _mass_g(wing: Wing, surface: Surface) -> float:
    return _strips_g(wing, surface) + skins_g(wing, surface) + _plates_g(wing, surface)


def areal_g_mm2(wing: Wing, material: Material) -> float:
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
    each = areal_g_mm2(wing, spar.material)
    area = sum(
        (strip_width(surface, 0.0) + strip_width(surface, end)) * end for end, _ in spar_steps(surface)
    )
    return each * area + glue_g(wing, surface)


def glue_g(wing: Wing, surface: Surface) -> float:
    """Of the strips of both halves."""
    return _BEADS * wing.glue_g_mm * 2 * sum(end for end, _ in spar_steps(surface))


def skins_g(wing: Wing, surface: Surface) -> float:
    """Of both halves, by the length round the section at both ends of every panel."""
    if surface.build is Build.FLAT:
        return 0.0
    return areal_g_mm2(wing, surface.material) * _skins_mm2(surface)


@lru_cache(maxsize=16)
def _skins_mm2(surface: Surface) -> float:
    """Kept, because every change is weighed against the wing as it is, and bent sections take their time."""
    area = 0.0
    for panel in panels(surface):
        first, last = panel.first.out_mm, panel.last.out_mm
        area += (_round_mm(surface, panel, first) + _round_mm(surface, panel, last)) * (last - first)
    return area


def _round_mm(surface: Surface, panel: Panel, s_mm: float) -> float:
    section = section_at(surface, panel, s_mm)
    low, high = section.lower_mm
    return length_mm(section.upper_outer) + high - low


def length_mm(line: tuple[Point, ...]) -> float:
    """Of a line from point to point."""
    return sum(((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5 for a, b in pairwise(line))


def _plates_g(wing: Wing, surface: Surface) -> float:
    joiner = surface.joiner
    if joiner is None:
        return 0.0
    return (
        areal_g_mm2(wing, joiner.material) * joiner.length_mm * sum(one.height_mm for one in plates(surface))
    )
