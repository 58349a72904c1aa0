"""Strips that find the balance on the wing: how far behind the leading edge it lies, along the span.

mm.  The end of a strip is laid flush with the leading edge.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from foamcut.airframe.flat_marks import balance_out
from foamcut.airframe.planform import mean_chord, panel_at
from foamcut.airframe.values import Inputs, Surface
from foamcut.draw.balance_words import shortened
from foamcut.draw.flow import Block
from foamcut.draw.gauges_cards import (
    Card,
    cut_edge,
    fine,
    gauge,
    length_words,
    name_words,
    strip_width,
    text,
)
from foamcut.draw.values import Stroke, Text
from foamcut.flight.figures import Report

#: height of a strip, and past the last of its lines, mm
STRIP_MM, _PAST_MM = 14.0, 12.0
_LEAST_MM = 3.0
#: of the V: how far it opens below its tip, mm
_V_MM = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Behind:
    """A place along the span, and how far behind its leading edge the balance lies, along the chord.

    `range_mm` is from where to where it may lie; None where that is not known.
    """

    where: str
    out_mm: float
    behind_mm: float
    range_mm: tuple[float, float] | None = None


def balance_places(inputs: Inputs, report: Report | None) -> tuple[Behind, ...]:
    """The balance at the root, where fingers find it, and at a third of the half span; none without a wing.

    It is the target of the report, else the share of the mean chord that the wing is marked for.
    """
    wing = inputs.wing
    if wing is None:
        return ()
    target = report.loaded.target_mm if report is not None and report.loaded is not None else None
    along = _mark_along(wing) if target is None else target
    ends = [report.number(name) for name in ("balance_front", "balance_back")] if report is not None else []
    span = [one.value for one in ends if one is not None]
    s_mark = balance_out(wing, inputs)
    places = [("root", 0.0), ("where the V is", s_mark), ("a third out", wing.half_span_mm / 3)]
    found: list[Behind] = []
    for where, s in places:
        if any(abs(s - one.out_mm) < 5.0 for one in found):
            continue
        spread = (behind(wing, s, span[0]), behind(wing, s, span[1])) if len(span) == 2 else None
        found.append(Behind(where=where, out_mm=s, behind_mm=behind(wing, s, along), range_mm=spread))
    return tuple(found)


def behind(wing: Surface, s_mm: float, along_mm: float) -> float:
    """How far behind the leading edge at s a place along the model lies, measured along the chord."""
    panel = panel_at(wing, s_mm)
    return (along_mm - panel.point(panel.leading(s_mm), s_mm, 0.0)[0]) / panel.aft[0]


def _mark_along(wing: Surface) -> float:
    mean = mean_chord(wing)
    panel = panel_at(wing, mean.out_mm)
    return panel.point(mean.leading_mm + wing.balance * mean.chord_mm, mean.out_mm, 0.0)[0]


def balance_gauges(inputs: Inputs, report: Report | None, units: str, width_mm: float) -> Iterator[Block]:
    """The strips of a wing on one card."""
    places = balance_places(inputs, report)
    wing = inputs.wing
    if wing is None or not places:
        return
    told = [
        f"{one.where}"
        + (f" ({length_words(one.out_mm, units)} out)" if one.out_mm else "")
        + (
            f" {length_words(one.behind_mm, units)}"
            if one.behind_mm >= 0
            else f" {length_words(-one.behind_mm, units)} before it"
        )
        for one in places
    ]
    drawn = [one for one in places if _LEAST_MM < one.behind_mm <= width_mm - 2 * _PAST_MM]
    sentences = [
        f"For where the model shall balance: behind the leading edge of {name_words(wing.name)}, along the"
        " chord,"
        f" {'; '.join(told)}.",
    ]
    if drawn:
        sentences.append(
            "Lay the left end of a strip flush with the leading edge at its place, straight fore and aft on"
            " the"
            " underside: the tip of the V is where the fingers lift."
        )
    if any(one.range_mm for one in drawn):
        sentences.append(
            "The bar is where it may lie by the usual static margin; begin at the V, or before it."
        )
    if len(drawn) < len(places):
        sentences.append("What has no strip is longer than the page, or off the wing: measure it.")
    card = _card(wing, drawn, units, width_mm)
    yield gauge(f"Balance, {name_words(wing.name)}", sentences, card, width_mm)


def _card(wing: Surface, drawn: list[Behind], units: str, width_mm: float) -> Card:
    strokes: list[Stroke] = []
    texts: list[Text] = []
    wide = 0.0
    for i, one in enumerate(drawn):
        foot = (len(drawn) - 1 - i) * STRIP_MM
        made, said, length = _strip(wing, one, foot, units, width_mm)
        strokes += made
        texts += said
        wide = max(wide, length)
    return Card(width_mm=wide, height_mm=len(drawn) * STRIP_MM, strokes=tuple(strokes), texts=tuple(texts))


def _strip(
    wing: Surface, one: Behind, foot: float, units: str, width_mm: float
) -> tuple[list[Stroke], list[Text], float]:
    top, at = foot + STRIP_MM, one.behind_mm
    words = f"{wing.name}, {one.where}, {length_words(at, units).partition(' (')[0]}"
    least = min(width_mm, 6.0 + strip_width(shortened(words, 70.0)))
    span = None
    if one.range_mm is not None:
        low, high = (min(max(x, 0.0), width_mm - 1.0) for x in one.range_mm)
        span = (low, high) if high - low > 0.05 else None
    length = min(width_mm, max(least, max(at, span[1] if span else 0.0) + _PAST_MM))
    strokes = [
        cut_edge([(0.0, foot), (length, foot), (length, top), (0.0, top)]),
        fine((at, top - 7.5), (at, top)),
        fine((at - _V_MM * 0.6, top - _V_MM), (at, top), (at + _V_MM * 0.6, top - _V_MM)),
    ]
    if span is not None:
        level = top - 6.5
        strokes += [
            fine((span[0], level), (span[1], level)),
            *(fine((x, level - 1.0), (x, level + 1.0)) for x in span),
            *_hatch(span, level),
        ]
    texts = [text(shortened(words, length - 6.0), (3.0, foot + 1.8))]
    return strokes, texts, length


def _hatch(span: tuple[float, float], level: float) -> Iterator[Stroke]:
    """Short strokes along a bar, so that it is seen for one."""
    for i in range(1, math.floor((span[1] - span[0]) / 2.0)):
        x = span[0] + 2.0 * i
        yield fine((x - 0.6, level - 0.6), (x + 0.6, level + 0.6))
