"""Control surfaces cut out of the lower skin of a folded surface, on a hinge of its outer paper.

mm, degrees.  c and s are those of the panel (`foamcut.airframe.planform`).
"""

import math
from collections.abc import Iterator
from itertools import pairwise

from foamcut.airframe.folded_piece import Piece
from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.section import section_at
from foamcut.airframe.values import Control, Surface, TrailingEdge
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.units import decimal_text

#: at each end of a control, between it and the skin beside it (common practice, no source)
GAP_MM = 2.0
#: a hinge's bevel is the throw and so much more, within limits (common practice, no source)
_MORE_DEG, _LEAST_DEG, _MOST_DEG = 10.0, 30.0, 60.0
#: between the spar and a hinge line, and what is left of a control behind its bevel
_KEEP_MM, _LEFT_MM = 3.0, 8.0
#: usual shares of the chord (common practice, no source)
_USUAL = (0.12, 0.4)


def bevel_deg(control: Control) -> float:
    """The bevel of the control's edge: its throw and 10 degrees, between 30 and 60."""
    return min(max(control.throw_deg + _MORE_DEG, _LEAST_DEG), _MOST_DEG)


def bevel_mm(control: Control, thickness_mm: float) -> float:
    """How wide that bevel is on the inner face: t tan(angle)."""
    return thickness_mm * math.tan(math.radians(bevel_deg(control)))


def hinge_c(panel: Panel, control: Control, s_mm: float) -> float:
    """c of the hinge line."""
    return panel.trailing(s_mm) - control.chord_mm


def controls_on(piece: Piece) -> tuple[Control, ...]:
    """The controls of a skin, from the root out."""
    found = [one for one in piece.surface.controls if piece.holds((one.from_mm + one.to_mm) / 2)]
    return tuple(sorted(found, key=lambda one: one.from_mm))


def panel_of(surface: Surface, control: Control) -> Panel | None:
    """The panel that holds a control whole."""
    for panel in panels(surface):
        if panel.first.out_mm <= control.from_mm and control.to_mm <= panel.last.out_mm:
            return panel
    return None


def control_refusals(surface: Surface) -> tuple[Refusal, ...]:
    """Controls that lie off their panel, ahead of the spar's rear, or over each other."""
    found: list[Refusal] = []
    for control in surface.controls:
        found += _span_refused(surface, control)
    if found:
        return tuple(found)
    for control in surface.controls:
        found += _chord_refused(surface, control)
    several = sorted(surface.controls, key=lambda one: one.from_mm)
    for first, second in pairwise(several):
        if first.to_mm + 2 * GAP_MM > second.from_mm:
            text = (
                f"the {first.word} ends {decimal_text(first.to_mm)} mm out and the {second.word} begins at"
                f" {decimal_text(second.from_mm)} mm: leave {decimal_text(2 * GAP_MM)} mm between them"
            )
            found.append(Refusal(key=f"{second.key}.from", text=text))
    if surface.trailing_edge is TrailingEdge.SINGLE:
        chords = {one.chord_mm for one in several}
        if len(chords) > 1:
            text = "controls on a single trailing edge share one hinge line: give all of them the same chord"
            found.append(Refusal(key=several[-1].key, text=text))
    return tuple(found)


def _span_refused(surface: Surface, control: Control) -> Iterator[Refusal]:
    half = surface.half_span_mm
    where = f"from {decimal_text(control.from_mm)} to {decimal_text(control.to_mm)} mm out"
    if not 0 <= control.from_mm < control.to_mm <= half:
        text = (
            f"the {control.word} goes {where}, and the panel from 0 to {decimal_text(half)} mm: give from"
            " below to, both on it"
        )
        yield Refusal(key=control.key, text=text)
    elif panel_of(surface, control) is None:
        stations = " and ".join(f"{decimal_text(one.out_mm)} mm" for one in surface.stations[1:-1])
        text = (
            f"the {control.word} goes {where}, across a station ({stations}), where its hinge line would"
            " break: end it there, and give the rest a control of its own"
        )
        yield Refusal(key=control.key, text=text)


def _chord_refused(surface: Surface, control: Control) -> Iterator[Refusal]:
    panel = panel_of(surface, control)
    assert panel is not None
    t = surface.material.thickness_mm
    least = bevel_mm(control, t) + _LEFT_MM
    if control.chord_mm < least:
        text = (
            f"the {control.word} has a chord of {decimal_text(control.chord_mm)} mm, of which its bevel takes"
            f" {decimal_text(bevel_mm(control, t))} mm: give {decimal_text(math.ceil(least))} mm or more"
        )
        yield Refusal(key=f"{control.key}.chord", text=text)
        return
    short = [
        (section_at(surface, panel, s).spar[1] + _KEEP_MM - hinge_c(panel, control, s), s)
        for s in (control.from_mm, control.to_mm)
    ]
    worst, s = max(short)
    if worst > 0:
        most = control.chord_mm - worst
        text = (
            f"{decimal_text(s)} mm out the hinge line of the {control.word} lies ahead of the spar's rear"
            f" face and {decimal_text(_KEEP_MM)} mm: give a chord of {decimal_text(math.floor(most))} mm or"
            " less"
        )
        yield Refusal(key=f"{control.key}.chord", text=text)


def control_findings(surface: Surface) -> Iterator[Finding]:
    """Controls whose share of the chord is out of the ordinary."""
    for control in surface.controls:
        panel = panel_of(surface, control)
        if panel is None:
            continue
        shares = [control.chord_mm / panel.chord(s) for s in (control.from_mm, control.to_mm)]
        if _USUAL[0] <= min(shares) and max(shares) <= _USUAL[1]:
            continue
        low, high = (f"{decimal_text(100 * one, 0)} %" for one in (min(shares), max(shares)))
        value = low if low == high else f"{low} to {high}"
        yield Finding(
            code="control-place",
            level=Level.NOTE,
            where=f"{control.key}.chord",
            text=f"the {control.word} takes {value} of the chord",
            value=value,
            range=f"{decimal_text(100 * _USUAL[0], 0)} to {decimal_text(100 * _USUAL[1], 0)} %",
            source="common practice, no source",
            mend="look at its chord again, or leave it",
        )
