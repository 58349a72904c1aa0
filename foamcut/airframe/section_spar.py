"""The spar of a folded surface along its span: height, width, place, where each strip ends.

mm; s out along the span from the root, c aft from the root's leading edge.  Strips and sections both take
their numbers from here.
"""

import math

from foamcut.airframe.planform import Panel
from foamcut.airframe.values import Run, Spar, Surface


def spar_of(surface: Surface) -> Spar:
    """The spar of a folded surface.

    Raises
    ------
    ValueError
        There is none: `section_refusals` says so before.
    """
    if surface.spar is None:
        raise ValueError(f"{surface.key}: a folded surface has a spar")
    return surface.spar


def spar_steps(surface: Surface) -> tuple[tuple[float, int], ...]:
    """Where each strip ends, (s, layer), layer 1 the lowest; from the lowest up.

    Strips that the tip has no longer end at equal divisions of the half span, the top one first.
    """
    spar, tip = spar_of(surface), surface.half_span_mm
    drops = _drops(spar)
    ends = [tip] * (spar.layers - drops) + [tip * j / (drops + 1) for j in range(drops, 0, -1)]
    return tuple((end, layer + 1) for layer, end in enumerate(ends))


def _drops(spar: Spar) -> int:
    return max(0, spar.layers - spar.tip_layers) if spar.tip_layers is not None else 0


def step_mm(surface: Surface) -> float | None:
    """s where the first strip ends before the tip: there the skin's height begins to fall; None: nowhere."""
    steps = [s for s, _ in spar_steps(surface) if s < surface.half_span_mm]
    return min(steps) if steps else None


def spar_height(surface: Surface, s_mm: float) -> float:
    """Height of the skin's inner paper over the spar, from the spar's foot.

    As high as the strips up to where the first of them ends; then straight to the top of the tip.  The
    strips' ends lie on that line: it is the upper hull of their steps.  Between the ends they are lower.
    """
    spar = spar_of(surface)
    each, drops = spar.material.thickness_mm, _drops(spar)
    first, tip = step_mm(surface), surface.half_span_mm
    if first is None or s_mm <= first:
        return spar.layers * each
    return spar.layers * each - drops * each * (s_mm - first) / (tip - first)


def strips_at(surface: Surface, s_mm: float) -> int:
    """How many strips lie on each other at a place; where one ends, those that run on."""
    tip = surface.half_span_mm
    return sum(1 for end, _ in spar_steps(surface) if s_mm < end or end >= tip)


def spar_width(surface: Surface, panel: Panel, s_mm: float) -> float:
    """Width along the chord: that of the strips is square to their run, which a swept one crosses aslant."""
    return strip_width(surface, s_mm) * math.hypot(1.0, spar_slope(surface, panel))


def strip_width(surface: Surface, s_mm: float) -> float:
    """Width of the strips square to their run, straight from the root's to the tip's."""
    spar = spar_of(surface)
    if spar.tip_width_mm is None:
        return spar.width_mm
    share = s_mm / surface.half_span_mm
    return spar.width_mm + (spar.tip_width_mm - spar.width_mm) * share


def spar_slope(surface: Surface, panel: Panel) -> float:
    """How far the front face runs aft for each mm out: tangent of the angle of its run in plan."""
    if spar_of(surface).run is Run.SQUARE:
        return 0.0
    return (panel.last.back_mm - panel.first.back_mm) / panel.length_mm


def spar_front(surface: Surface, panel: Panel, s_mm: float) -> float:
    """c of the front face: the same all along (square), or as far behind the leading edge (follow)."""
    spar = spar_of(surface)
    leading = panel.leading(s_mm) if spar.run is Run.FOLLOW else surface.stations[0].back_mm
    return leading + spar.behind_mm
