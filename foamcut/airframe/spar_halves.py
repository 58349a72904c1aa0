"""What is said of a surface of two halves whose spars end at the root.  mm."""

import math
from dataclasses import replace

from foamcut.airframe.made import Made
from foamcut.airframe.planform import panels
from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.section_spar import spar_of, spar_slope
from foamcut.airframe.skin_stock import thin_stock
from foamcut.airframe.spar_joiners import joiner_parts
from foamcut.airframe.values import Inputs, Joiner, Material, Role, Run, Surface
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: usual reach of a joiner into each half, in widths of the spar (from memory: 60 to 150 mm), in full cm
_WIDTHS, _REACH_MM, _GRID_MM = 4.0, (60.0, 150.0), 10.0
#: where a design has no thin stock a joiner of usual plywood is tried (from memory: 1.5 to 3 mm)
_PLY = Material(name="ply", thickness_mm=2.0, boards_mm=(), fit_mm=0.0)


def halves_made(surface: Surface, inputs: Inputs) -> Made:
    """A note on halves without a joiner, with the joiner that would fit or what to do instead."""
    if surface.joiner is not None or surface.role is Role.FIN:
        return Made()
    stock = thin_stock(surface, inputs)
    tried = _joiner(surface, stock or _PLY)
    name, length = tried.material.name, decimal_text(tried.length_mm)
    key = f'joiner = {{ stock = "{name}", length = "{length} mm" }}'
    if stock is None:
        key += f' with a stock "{name}", {decimal_text(_PLY.thickness_mm)} mm thick'
    why = ""
    if _fits(surface, tried):
        straight = not panels(surface)[0].first_tilt_deg and not spar_slope(surface, panels(surface)[0])
        mend = f"add {key}" + (", or carry the spar across in one piece" if straight else "")
    else:
        mend = "glue a plate cut to the angle of the spars across both before closing"
        if spar_slope(surface, panels(surface)[0]):
            why = ", and are swept, so that no straight joiner lies against them"
        square = replace(surface, spar=replace(spar_of(surface), run=Run.SQUARE))
        if square != surface and not section_refusals(square) and _fits(square, tried):
            mend += f', or let the spar run = "square" and add {key}'
    return Made(
        findings=(
            Finding(
                code="halves-apart",
                level=Level.NOTE,
                where=surface.key,
                text=f'nothing joins the halves of "{surface.name}" but tape: their spars end at the root'
                f"{why}",
                mend=mend,
            ),
        )
    )


def _joiner(surface: Surface, stock: Material) -> Joiner:
    low, high = _REACH_MM
    reach = min(max(_WIDTHS * spar_of(surface).width_mm, low), high, panels(surface)[0].length_mm)
    length = max(_GRID_MM * math.floor(2 * reach / _GRID_MM), _GRID_MM)
    return Joiner(key=f"{surface.key}.joiner", material=stock, count=2, length_mm=length)


def _fits(surface: Surface, joiner: Joiner) -> bool:
    """Whether a joiner can be made and lies against the spar."""
    made = joiner_parts(replace(surface, joiner=joiner))
    return not made.refusals and not made.findings
