"""The plates that join the spars of both halves: they stand on edge against the spar's faces, bent to a V.

mm; plates lie across the centre plane, drawn x to the right, y up, their rear face up.
"""

import math

from foamcut.airframe.made import Made
from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.section import section_at, spar_in
from foamcut.airframe.skin_inner import inner_height
from foamcut.airframe.values import Joiner, Role, Surface
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.drawn import DrawnPart, Face, Place, Reading, Readings
from foamcut.flat.outline import Point
from foamcut.flat.placement import rounded
from foamcut.units import decimal_text

#: a plate farther off its spar is told: what glue fills
OFF_MM = 0.5
#: the least height of a plate that is worth cutting (common practice, no source)
_LEAST_MM = 4.0
#: usual stock for a joiner (common practice, no source)
_THICK_MM = 4.0
_WORDS = ("front", "rear")


def joiner_parts(surface: Surface) -> Made:
    """The joiners of a surface, what is said of them, and why they cannot be made."""
    joiner = surface.joiner
    if joiner is None or surface.role is Role.FIN:
        return Made()
    panel = panels(surface)[0]
    if joiner.count not in (1, 2):
        text = f"{joiner.count} joiners: there is room for one before the spar and one behind it; give 1 or 2"
        return Made(refusals=(Refusal(key=f"{joiner.key}.count", text=text),))
    half = joiner.length_mm / 2
    if not 0 < half <= panel.length_mm:
        text = (
            f"a joiner of {decimal_text(joiner.length_mm)} mm reaches beyond the panels beside the root,"
            f" {decimal_text(panel.length_mm)} mm each: make it shorter"
        )
        return Made(refusals=(Refusal(key=f"{joiner.key}.length", text=text),))
    return Made.of(_plate(surface, joiner, panel, which) for which in range(joiner.count))


def _plate(surface: Surface, joiner: Joiner, panel: Panel, which: int) -> Made:
    half, ply = joiner.length_mm / 2, joiner.material.thickness_mm
    sections = [section_at(surface, panel, s) for s in (0.0, half)]
    faces = [one.spar[which] for one in sections]
    # drawn on its rear face: that of the front plate lies at the spar, that of the rear one a plate behind it
    rear = min(faces) if which == 0 else max(faces) + ply
    gap = max(faces) - min(faces)
    t = surface.material.thickness_mm
    tops = [min(one.spar[2], *(inner_height(one, c) for c in (rear - ply, rear))) for one in sections]
    if min(tops) - t < _LEAST_MM:
        text = (
            f"between the skins there are {decimal_text(max(min(tops) - t, 0.0))} mm for the {_WORDS[which]}"
            f" joiner, less than {decimal_text(_LEAST_MM)} mm"
            + (
                f": over it the spar moves {decimal_text(gap)} mm off a straight plate; make it"
                ' shorter, let the spar run = "square" or leave the joiner out'
                if gap > OFF_MM
                else ": leave it out, or take thinner stock"
            )
        )
        return Made(refusals=(Refusal(key=joiner.key, text=text),))
    key = f"{joiner.key}[{which}]"
    a = panel.aft
    up = (-a[2], 0.0, a[0])
    corners = _outline(panel, half, (t, tops[0], tops[1]))
    origin = panel.point(rear, 0.0, 0.0)
    part = DrawnPart(
        key=key,
        name=f"{surface.name}-joiner-{_WORDS[which]}",
        stock=joiner.material.name,
        thickness_mm=ply,
        shape=Readings(
            key=f"{key}.outline",
            points=tuple(Reading(key=f"{key}.outline[{i}]", at=at) for i, at in enumerate(corners)),
        ),
        face=Face.EITHER,
        place=Place(key=joiner.key, at=origin, x=(0.0, 1.0, 0.0), y=up),
        kerf_mm=joiner.material.kerf_mm,
    )
    return Made(parts=(part,), findings=_off(joiner, which, gap))


def _outline(panel: Panel, half: float, heights: tuple[float, float, float]) -> list[Point]:
    """The V from its right lower end round by the top; its ends are square to the panels."""
    g = math.radians(panel.first_tilt_deg)
    foot, middle, end = heights

    def at(s: float, n: float) -> Point:
        return rounded(s * math.cos(g) - n * math.sin(g)), rounded(s * math.sin(g) + n * math.cos(g))

    # at the centre plane s = n tan(g), so that n stands n / cos(g) high
    rise = (end - middle) / half
    top = middle / (1 - rise * math.tan(g))
    low, high = (0.0, rounded(foot / math.cos(g))), (0.0, rounded(top / math.cos(g)))
    right = [at(half, foot), at(half, end)]
    left = [(0.0 - x, z) for x, z in right]
    straight = not g and not rise
    return [*right, *([] if straight else [high]), left[1], left[0], *([] if not g else [low])]


def _off(joiner: Joiner, which: int, gap: float) -> tuple[Finding, ...]:
    if gap <= OFF_MM:
        return ()
    value = f"{decimal_text(gap, 2)} mm"
    return (
        Finding(
            code="joiner-off",
            level=Level.WARNING,
            where=joiner.key,
            text=f"the {_WORDS[which]} joiner is straight and the spar is not: over its length"
            f" they part by {value}",
            value=value,
            range=f"up to {decimal_text(OFF_MM)} mm",
            source="the sizes given",
            mend='glue a wedge between them, make the joiner shorter, or let the spar run = "square"',
        ),
    )


def joiner_places(surface: Surface) -> tuple[tuple[float, float], ...]:
    """c of the front and rear face of every joiner at the root."""
    joiner = surface.joiner
    if joiner is None or surface.role is Role.FIN:
        return ()
    front, rear, _ = spar_in(surface, panels(surface)[0], 0.0)
    ply = joiner.material.thickness_mm
    return ((front - ply, front), (rear, rear + ply))[: joiner.count]
