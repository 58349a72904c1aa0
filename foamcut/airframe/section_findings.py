"""Advice on the sections of a folded surface: a bent skin off its spar, a section not as thick as its boards.

Degrees and mm.
"""

from collections.abc import Iterator

from foamcut.airframe.section import Section, section_at, section_places
from foamcut.airframe.section_spar import spar_of, strips_at
from foamcut.airframe.values import Build, Surface
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: a bent skin farther off the spar's top is not held by it, mm: common practice, no source
MOST_LIFT_MM = 1.0
#: what a section over the spar may be thicker than strips and skins: what glue fills, common practice
THICKER_MM = 0.5

_CREASE = 'crease it: over_spar = "creased"'


def skin_findings(surface: Surface) -> tuple[Finding, ...]:
    """What is said of a surface's sections, each kind where it is worst."""
    if surface.build is Build.FLAT:
        return ()
    worst: dict[str, tuple[float, Finding]] = {}
    for panel, s in section_places(surface):
        for kind, amount, finding in _said(surface, section_at(surface, panel, s)):
            if kind not in worst or amount > worst[kind][0] + 1e-6:
                worst[kind] = amount, finding
    return tuple(finding for _, finding in worst.values())


def section_findings(surface: Surface, section: Section) -> tuple[Finding, ...]:
    """What is said of one section."""
    return tuple(finding for _, _, finding in _said(surface, section))


def _said(surface: Surface, section: Section) -> Iterator[tuple[str, float, Finding]]:
    if surface.build is Build.FLAT:
        return
    yield from _lifted(surface, section)
    yield from _tight(surface, section)
    yield from _thick(surface, section)


def _words(section: Section) -> str:
    return "at the root" if section.s_mm == 0 else f"{decimal_text(section.s_mm)} mm out"


def _lifted(surface: Surface, section: Section) -> Iterator[tuple[str, float, Finding]]:
    lift = section.lift_mm
    if lift <= MOST_LIFT_MM:
        return
    finding = Finding(
        code="skin-bend",
        level=Level.WARNING,
        where=f"{surface.key}.over_spar",
        text=f"bent over the spar, the upper skin stands {decimal_text(lift, 2)} mm off its top between the"
        f" edges {_words(section)}",
        value=f"{decimal_text(lift, 2)} mm",
        range=f"up to {decimal_text(MOST_LIFT_MM)} mm",
        source="common practice, no source",
        mend=_CREASE,
    )
    yield "lift", lift, finding


def _tight(surface: Surface, section: Section) -> Iterator[tuple[str, float, Finding]]:
    radius, least = section.least_radius_mm, surface.closest_bend * section.thickness_mm
    if radius >= least:
        return
    finding = Finding(
        code="skin-bend",
        level=Level.WARNING,
        where=f"{surface.key}.over_spar",
        text=f"bent over the spar, the upper skin has an inner radius of {decimal_text(radius)} mm"
        f" {_words(section)}, under {decimal_text(surface.closest_bend)} thicknesses of its board, where"
        " board creases by itself",
        value=f"{decimal_text(radius)} mm",
        range=f"{decimal_text(least)} mm or more",
        source="from memory",
        mend=_CREASE,
    )
    yield "radius", least - radius, finding


def _thick(surface: Surface, section: Section) -> Iterator[tuple[str, float, Finding]]:
    """A skin that stands off the strips; one that lifts so much that it is not held has been told of."""
    t, spar = section.thickness_mm, spar_of(surface)
    strips = strips_at(surface, section.s_mm) * spar.material.thickness_mm
    gap = section.spar[2] - t - strips
    lift = section.lift_mm if section.lift_mm <= MOST_LIFT_MM else 0.0
    off = gap + lift
    if off <= THICKER_MM:
        return
    stepped = gap > THICKER_MM
    finding = Finding(
        code="skin-section",
        level=Level.NOTE,
        where=f"{spar.key}.tip_layers" if stepped else f"{surface.key}.over_spar",
        text=f"{_words(section)} the section over the spar is {decimal_text(strips + 2 * t + off, 2)} mm"
        f" thick, {decimal_text(off, 2)} mm more than its strips and two skins"
        + (": a strip ends there, and the skin runs straight to the next end" if stepped else ""),
        value=f"{decimal_text(off, 2)} mm",
        range=f"up to {decimal_text(THICKER_MM)} mm",
        source="common practice, no source",
        mend="fill the gap with a wedge of the strip, or leave it" if stepped else _CREASE,
    )
    yield "thick", off, finding
