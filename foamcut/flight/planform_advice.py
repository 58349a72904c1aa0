"""What is out of the ordinary about the shapes of wing and stabiliser, and what would mend it."""

import math
from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.planform_lifting import Lifting
from foamcut.flight.planform_numbers import RULES, chord_out, taper
from foamcut.units import decimal_text, mm_text

_COURSE = "a university's course text on wing and tail design"
#: tip over root below which the tip tends to stall first (the course text)
_LEAST_TAPER = 0.4
#: aspect ratios: of models with a tail, and of any (rules of thumb, and from memory)
_LEAST_RATIO, _MOST_RATIO = 4.0, 14.0


def wing_advice(wing: Lifting, *, has_tail: bool) -> Iterator[Finding]:
    """A wing that is short and wide, or long and thin, or much narrower at the tip."""
    ratio = round(wing.aspect_ratio, 2)
    if has_tail and ratio < _LEAST_RATIO:
        span = _LEAST_RATIO * wing.area_m2 / wing.span_m
        yield _ratio(wing, f"span {mm_text((span - wing.span_m) * 1000, 0)} longer with the same chords")
    elif ratio > _MOST_RATIO:
        chord = wing.span_m / _MOST_RATIO - wing.area_m2 / wing.span_m
        yield _ratio(wing, f"chords {mm_text(chord * 1000, 0)} longer, or a look at the bending of the spar")
    if ratio >= _LEAST_RATIO and round(taper(wing), 3) < _LEAST_TAPER:
        yield _tapered(wing)


def _ratio(wing: Lifting, mend: str) -> Finding:
    text = decimal_text(wing.aspect_ratio, 1)
    return Finding(
        code="planform",
        level=Level.NOTE,
        where=wing.surface.key,
        text=f"the wing's span is {text} times its middle chord",
        value=f"aspect ratio {text}",
        range="5 to 6, in all 4 to 7; gliders 8 and more",
        source=RULES,
        mend=mend,
    )


def _tapered(wing: Lifting) -> Finding:
    stations = wing.surface.stations
    least = (1 - 0.8 * (1 - _LEAST_TAPER)) * wing.crosses[0].chord_m * 1000
    if len(stations) == 2:
        chord = f"tip chord {mm_text(_LEAST_TAPER * stations[0].chord_mm, 0)} or more"
    else:
        place = mm_text(0.8 * wing.crosses[-1].leading_m[1] * 1000, 0)
        now = mm_text(chord_out(wing, 0.8) * 1000, 0)
        chord = f"chord {mm_text(least, 0)} or more at {place} out, where it is {now}"
    return Finding(
        code="planform",
        level=Level.NOTE,
        where=stations[-1].key,
        text="the wing is much narrower at its tips than at its root: a tip may stall first and drop",
        value=f"taper {decimal_text(taper(wing), 2)}",
        range="0.4 or more",
        source=_COURSE,
        mend=f"{chord}, or the tips twisted 2 to 5 deg nose down",
    )


def tail_advice(tail: Lifting, wing: Lifting) -> Iterator[Finding]:
    """A stabiliser behind the wing whose aspect ratio is above the wing's: it may stall before the wing."""
    if round(tail.aspect_ratio, 2) <= round(wing.aspect_ratio, 2):
        return
    span = math.sqrt(wing.aspect_ratio * tail.area_m2)
    chord = tail.area_m2 / span
    yield Finding(
        code="planform",
        level=Level.NOTE,
        where=tail.surface.key,
        text="the stabiliser is more slender than the wing: it may stall before the wing does",
        value=f"aspect ratio {decimal_text(tail.aspect_ratio, 1)}",
        range=f"below the wing's {decimal_text(wing.aspect_ratio, 1)}",
        source=_COURSE,
        mend=f"the same area with a span of {mm_text(span * 1000, 0)} or less and a middle chord of"
        f" {mm_text(chord * 1000, 0)} or more",
    )


def counted_advice(others: Sequence[Lifting], wing: Lifting) -> Iterator[Finding]:
    """Surfaces besides the first wing and the first stabiliser: where they count and where they do not."""
    for one in others:
        yield Finding(
            code="planform",
            level=Level.NOTE,
            where=one.surface.key,
            text=f'"{one.surface.name}" counts for the weight, the lift and the neutral point; the mean chord'
            f' and all shares of it are those of "{wing.surface.name}" alone',
            value=f"{decimal_text(one.area_m2 * 100, 1)} dm2",
            source="the method",
            mend="take shares of the mean chord with care; places in mm along the model hold",
        )
