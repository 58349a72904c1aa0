"""Control surfaces cut out of the lower skin of a folded surface, on a hinge of its outer paper.

mm, degrees.  c and s are those of the panel (`foamcut.airframe.planform`).
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from foamcut.airframe.flat_controls import GAP_MM, RELIEF_MM, Hinged
from foamcut.airframe.folded_piece import Piece
from foamcut.airframe.planform import Panel, panels
from foamcut.airframe.section import section_at
from foamcut.airframe.values import Control, Surface, TrailingEdge
from foamcut.errors import Refusal
from foamcut.findings import Finding, Level
from foamcut.flat.tolerances import ROUNDING_MM
from foamcut.units import decimal_text

#: between the spar and a hinge line, and what is left of a control behind its bevel
_KEEP_MM, _LEFT_MM = 3.0, 8.0
#: strips of skin narrower than so many thicknesses break off (common practice, no source)
_STRIP = 2.0
#: usual shares of the chord (common practice, no source)
_USUAL = (0.12, 0.4)
#: of the stations in its way so many are told
_TOLD = 3


def hinged(panel: Panel, control: Control) -> Hinged:
    """A control with its hinge line."""
    ends = (control.from_mm, control.to_mm)
    first, last = (panel.trailing(s) - control.chord_mm for s in ends)
    return Hinged(control=control, from_mm=ends[0], to_mm=ends[1], hinge_mm=(first, last))


def controls_on(piece: Piece) -> tuple[Hinged, ...]:
    """The controls of a skin from the root out, or what of them lies on it.

    At the root they keep half a gap off those of the other half.
    """
    made = []
    for control in piece.surface.controls:
        first, last = (max(control.from_mm, piece.first_mm), min(control.to_mm, piece.last_mm))
        if control.from_mm > piece.first_mm - GAP_MM:  # it begins here, its gap on this skin
            first = max(first, piece.first_mm + (GAP_MM if piece.first_mm else GAP_MM / 2))
        if piece.last_mm < piece.surface.half_span_mm and control.to_mm < piece.last_mm + GAP_MM:
            last = min(last, piece.last_mm - GAP_MM)
        if last - first <= GAP_MM:
            continue
        one = hinged(piece.panel, control)
        ends = (one.hinge(first), one.hinge(last))
        made.append(replace(one, from_mm=first, to_mm=last, hinge_mm=ends))
    return tuple(sorted(made, key=lambda one: one.from_mm))


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """What is cut out of the lower skin beside a control: s from and to, c of its ends; it is open aft."""

    from_mm: float
    to_mm: float
    front_mm: tuple[float, float]


def notches(piece: Piece) -> tuple[Notch, ...]:
    """The gaps at the ends of controls, from the root out; strips that would break off are cut out too."""
    low, high = piece.lower_end(0), piece.lower_end(1)
    least = GAP_MM + _STRIP * piece.thickness_mm
    several = controls_on(piece)
    if not several:
        return ()
    made = []
    first, last = several[0], several[-1]
    if first.from_mm - low > ROUNDING_MM:
        made.append(_notch(first, max(low, first.from_mm - GAP_MM) if first.from_mm - low > least else low,
                           first.from_mm))  # fmt: skip
    for one, other in pairwise(several):
        if other.from_mm - one.to_mm <= least + GAP_MM:
            ends = (one.hinge(one.to_mm) - RELIEF_MM, other.hinge(other.from_mm) - RELIEF_MM)
            made.append(Notch(from_mm=one.to_mm, to_mm=other.from_mm, front_mm=ends))
        else:
            made.append(_notch(one, one.to_mm, one.to_mm + GAP_MM))
            made.append(_notch(other, other.from_mm - GAP_MM, other.from_mm))
    if high - last.to_mm > ROUNDING_MM:
        made.append(_notch(last, last.to_mm, last.to_mm + GAP_MM if high - last.to_mm > least else high))
    return tuple(made)


def _notch(one: Hinged, low: float, high: float) -> Notch:
    return Notch(from_mm=low, to_mm=high, front_mm=(one.hinge(low) - RELIEF_MM, one.hinge(high) - RELIEF_MM))


def open_spans(piece: Piece) -> tuple[tuple[float, float, Hinged], ...]:
    """Over which stretches the upper skin ends at a hinge line: the controls and the gaps beside them."""
    low, high = piece.lower_end(0), piece.lower_end(1)
    least = GAP_MM + _STRIP * piece.thickness_mm
    return tuple(
        (
            one.from_mm - GAP_MM if one.from_mm - low > least else -math.inf,
            one.to_mm + GAP_MM if high - one.to_mm > least else math.inf,
            one,
        )
        for one in controls_on(piece)
    )


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
        if first.to_mm + GAP_MM > second.from_mm:
            text = (
                f"the {first.word} ends {decimal_text(first.to_mm)} mm out and the {second.word} begins at"
                f" {decimal_text(second.from_mm)} mm: leave {decimal_text(GAP_MM)} mm between them"
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
        over = [one.out_mm for one in surface.stations if control.from_mm < one.out_mm < control.to_mm]
        stations = " and ".join(f"{decimal_text(mm)} mm" for mm in over[:_TOLD])
        text = (
            f"the {control.word} goes {where}, across a station ({stations}), where its hinge line would"
            " break: end it there, and give the rest a control of its own"
        )
        yield Refusal(key=control.key, text=text)


def _chord_refused(surface: Surface, control: Control) -> Iterator[Refusal]:
    panel = panel_of(surface, control)
    assert panel is not None
    t = surface.material.thickness_mm
    one = hinged(panel, control)
    least = one.bevel_mm(t) + _LEFT_MM
    if control.chord_mm < least:
        text = (
            f"the {control.word} has a chord of {decimal_text(control.chord_mm)} mm, of which its bevel takes"
            f" {decimal_text(one.bevel_mm(t))} mm: give {decimal_text(math.ceil(least))} mm or more"
        )
        yield Refusal(key=f"{control.key}.chord", text=text)
        return
    short = [
        (section_at(surface, panel, s).spar[1] + _KEEP_MM - one.hinge(s), s)
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
