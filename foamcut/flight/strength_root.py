"""Advice on what joins a wing across gaps: joiner and tape, and how far a joiner reaches."""

import math
from collections.abc import Iterator
from dataclasses import replace

from foamcut.airframe.planform import panel_at, panels
from foamcut.airframe.section_spar import spar_height, spar_of
from foamcut.airframe.skin_stock import thin_stock
from foamcut.airframe.spar_joiners import joiner_parts
from foamcut.airframe.values import Build, Inputs, Joiner, Surface
from foamcut.findings import Finding, Level
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.strength_advice import (
    MORE,
    WANTED,
    WANTED_SOURCE,
    Loading,
    factor_words,
    margin_text,
    value_text,
)
from foamcut.flight.strength_built import rebuilt
from foamcut.flight.strength_changed import changed, with_joiner
from foamcut.flight.strength_joiner import Reach, joiner_margin, joiner_stress_mpa, plates, reach_of
from foamcut.flight.strength_tape import LEAST_TAPE_MM, has_tape, tape_pull_n, tape_width_mm, tape_words
from foamcut.flight.strength_wing import Wing
from foamcut.units import decimal_text, mm_text

#: how far a joiner usually reaches to each side: so many depths of the wing over the spar, so much of the
#: half span; one school says one, one the other (common practice, no source)
DEPTHS, SHARE = 3.0, 0.15
#: one who reaches one of them and nearly the other is not told
_NEARLY = 0.8
_GRID_MM = 10.0
#: plywood that is usual for joiners
_PLIES = (1.5, 2.0, 2.5, 3.0, 4.0)


def usual_reach_mm(reach: Reach) -> tuple[float, float]:
    """The usual reach to each side by the depth of the wing, and by its half span."""
    return DEPTHS * reach.depth_mm, SHARE * reach.half_span_mm


def short_finding(wing: Wing) -> Finding | None:
    """What is said of a joiner that reaches less far than is usual."""
    surface, reach = wing.surface, reach_of(wing.surface)
    if reach is None or surface.joiner is None:
        return None
    by_depth, by_span = usual_reach_mm(reach)
    if min(reach.reach_mm / by_depth, reach.reach_mm / by_span) >= _NEARLY and reach.reach_mm >= min(
        by_depth, by_span
    ):
        return None
    both = reach.reach_mm < min(by_depth, by_span)
    room = panels(surface)[0].length_mm
    need = min(_GRID_MM * math.ceil(max(by_depth, by_span) / _GRID_MM - 1e-9), room)
    longer = 2 * need - surface.joiner.length_mm
    return Finding(
        code="joiner-short",
        level=Level.WARNING if both else Level.NOTE,
        where=f"{surface.joiner.key}.length",
        text=f"the joiner reaches {mm_text(reach.reach_mm)} into each half:"
        f" {decimal_text(reach.depths)} depths of the wing over the spar, {decimal_text(100 * reach.share)} %"
        " of the half span; what it carries goes into the spar over that length",
        value=mm_text(reach.reach_mm),
        range=f"{decimal_text(DEPTHS)} depths ({mm_text(by_depth)}) or {decimal_text(100 * SHARE)} % of the"
        f" half span ({mm_text(by_span)}) to each side, opinions differ",
        source="common practice, no source",
        mend=f"{mm_text(longer)} longer, {mm_text(2 * need)} in all"
        if longer > 0
        else "let the panel beside the root be longer, so that it can reach farther",
    )


def joiner_finding(wing: Wing, hardware: tuple[str, ...], loading: Loading) -> Finding | None:
    """What is said of a joiner that alone is too weak; a note where strapping tape is there to help it."""
    surface, joiner, moment = wing.surface, wing.surface.joiner, wing.load.moment_n_mm(0.0)
    margin = joiner_margin(surface, wing.stocks, moment)
    stress = joiner_stress_mpa(plates(surface), moment)
    if joiner is None or margin is None or stress is None or margin >= WANTED:
        return None
    tape = tape_width_mm(tape_pull_n(wing, 0.0), WANTED)
    chord = surface.stations[0].chord_mm
    taped = has_tape(hardware) or margin >= 1
    ways = [tape_words(tape) + _bought(hardware)] if tape <= chord else []
    ways += _better_joiners(wing)
    return Finding(
        code="joiner-stress",
        level=Level.NOTE if taped and tape <= chord / 2 else Level.WARNING,
        where=joiner.key,
        text=f"without tape the joiner between the halves bears"
        f" {factor_words(loading.factor * margin)} before it breaks; {decimal_text(WANTED)} x"
        f" {decimal_text(loading.factor)} is wanted, and at {decimal_text(loading.factor)} it has"
        f" {decimal_text(stress)} MPa",
        value=f"margin {value_text(margin)}",
        range=f"{decimal_text(WANTED)} or more",
        source=WANTED_SOURCE,
        mend=", or ".join(ways[:3]) or "a brace under the wing, or a lighter model",
    )


def _better_joiners(wing: Wing) -> list[str]:
    """Two plates, thicker ones, a higher spar: what reaches the margin, tried again with its own plates."""
    surface, joiner = wing.surface, wing.surface.joiner
    if joiner is None:
        return []
    found = []
    gives = _margin_of(with_joiner(wing, replace(surface, joiner=replace(joiner, count=2))))
    if joiner.count == 1 and gives >= WANTED:
        found.append(f"two plates, count = 2, which have margin {margin_text(gives)}")
    for thick in (one for one in _PLIES if one > joiner.material.thickness_mm):
        material = replace(joiner.material, thickness_mm=thick)
        thicker = replace(surface, joiner=replace(joiner, material=material, count=2))
        gives = _margin_of(with_joiner(wing, thicker))
        if gives >= WANTED:
            words = "plates" if joiner.count == 2 else "two plates"
            found.append(f"{words} of {mm_text(thick)}, which have margin {margin_text(gives)}")
            break
    for more in MORE[:2]:
        higher = replace(surface, spar=replace(spar_of(surface), layers=spar_of(surface).layers + more))
        tried = changed(wing, higher)
        if tried is None:
            break
        made = rebuilt(wing, higher, roughly=True) if _margin_of(tried) >= WANTED else None
        gives = _margin_of(made)
        if gives >= WANTED:
            words = "one layer" if more == 1 else f"{more} layers"
            found.append(f"a spar {words} higher, whose joiner has margin {margin_text(gives)}")
            break
    return found


def _margin_of(wing: Wing | None) -> float:
    """The margin of its joiner; 0 where it cannot be built."""
    if wing is None:
        return 0.0
    return joiner_margin(wing.surface, wing.stocks, wing.load.moment_n_mm(0.0)) or 0.0


def tape_findings(
    wing: Wing, inputs: Inputs, hardware: tuple[str, ...], loading: Loading
) -> Iterator[Finding]:
    """Gaps over which nothing but tape goes: the root without a joiner, panels at an angle."""
    surface = wing.surface
    for s in gaps(wing):
        pull = tape_pull_n(wing, s)
        if WANTED * pull / ASSUMED["strapping_tape"].low < LEAST_TAPE_MM / 2:  # any tape holds it
            continue
        panel = panel_at(surface, s)
        tape, chord = tape_width_mm(pull, WANTED), panel.chord(s)
        laid = tape_words(tape) + _bought(hardware)
        mend = laid if tape <= chord else "tape is not enough: a plate or brace has to carry it"
        place = "the halves" if s == 0 else f"the panels {mm_text(s)} out"
        yield Finding(
            code="joiner-stress",
            level=Level.WARNING if tape > chord / 2 or not has_tape(hardware) else Level.NOTE,
            where=f"{surface.key}.joiner" if s == 0 and surface.build is Build.FOLDED else surface.key,
            text=f"no joiner goes across the gap between {place}: at load factor"
            f" {decimal_text(loading.factor)} tape on the underside pulls with about"
            f" {decimal_text(pull, 0)} N",
            value=f"{decimal_text(pull, 0)} N",
            range=f"about {decimal_text(ASSUMED['strapping_tape'].value)} N for each mm of its width",
            source="strapping tape, from memory",
            mend=mend + _with_plates(wing, inputs, s),
        )


def _bought(hardware: tuple[str, ...]) -> str:
    return "" if has_tape(hardware) else " (put it under [[hardware]])"


def gaps(wing: Wing) -> tuple[float, ...]:
    """s of the gaps that no joiner bridges."""
    return ((0.0,) if _root_gap(wing.surface) else ()) + wing.joints.breaks


def _root_gap(surface: Surface) -> bool:
    """Whether the halves of a wing end at the root and nothing joins them."""
    if surface.build is Build.FLAT:
        return surface.stations[0].dihedral_deg != 0
    return not plates(surface)


def _with_plates(wing: Wing, inputs: Inputs, s: float) -> str:
    """A joiner that would fit, with the margin that it gives; empty where there is none."""
    surface = wing.surface
    stock = thin_stock(surface, inputs)
    if s != 0 or surface.build is Build.FLAT or stock is None:
        return ""
    depth = spar_height(surface, 0.0) + 2 * surface.material.thickness_mm
    reach = min(
        _GRID_MM * math.ceil(max(DEPTHS * depth, SHARE * surface.half_span_mm) / _GRID_MM),
        panels(surface)[0].length_mm,
    )
    joiner = Joiner(key=f"{surface.key}.joiner", material=stock, count=2, length_mm=2 * reach)
    tried = replace(surface, joiner=joiner)
    made = joiner_parts(tried)
    margin = joiner_margin(tried, wing.stocks, wing.load.moment_n_mm(0.0))
    if made.refusals or made.findings or margin is None:
        return ""
    return (
        f'; or joiner = {{ stock = "{stock.name}", count = 2, length = "{mm_text(2 * reach, 0)}" }},'
        f" which alone has margin {margin_text(margin)}"
    )
