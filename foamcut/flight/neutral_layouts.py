"""Advice on layouts other than a wing with a tail behind it: no stabiliser, or one before the wing."""

import math
from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.assumed import PRACTICE
from foamcut.flight.neutral_margin import LEAST, MOST, balance_range_m
from foamcut.flight.planform import Planform
from foamcut.flight.planform_lifting import Lifting
from foamcut.flight.planform_numbers import sweep_deg
from foamcut.units import decimal_text, mm_text

#: sweep of the quarter line from which twisted tips can hold the nose up, and what is usual (common practice)
_LEAST_SWEEP_DEG, _USUAL_SWEEP_DEG = 10.0, 20.0
#: margins at which wings without a tail are balanced, in mean chords; shares at which unswept ones are
_TAILLESS_LEAST, _TAILLESS_MOST = 0.05, 0.10
_PLANK_FROM, _PLANK_TO = 0.15, 0.20
#: by so much more than the wing a foreplane is set nose up, so that it stalls first
_FOREPLANE_MORE_DEG = 2.0


def layout_advice(plan: Planform, points_m: Sequence[float]) -> Iterator[Finding]:
    """What to know of a model without a stabiliser, or with one before its wing."""
    if plan.tail is None and not any(_apart(one, plan.wing) for one in plan.others):
        if round(sweep_deg(plan.wing), 2) < _LEAST_SWEEP_DEG:
            yield _plank(plan.wing, points_m)
        else:
            yield _swept(plan.wing, points_m)
    elif plan.tail is not None and plan.foreplane:
        yield _foreplane(plan, plan.tail, points_m)


def _apart(one: Lifting, wing: Lifting) -> bool:
    """Whether a second wing stands so far before or behind the first that it does what a stabiliser does."""
    return round(abs(one.quarter_m - wing.quarter_m) / wing.mean_chord_m, 3) > 1


def _plank(wing: Lifting, points_m: Sequence[float]) -> Finding:
    sweep = sweep_deg(wing)
    has_elevons = any(one.word in ("elevon", "elevator") for one in wing.surface.controls)
    first, last = _plank_range_m(wing, points_m)
    root, tip = wing.crosses[0], wing.crosses[-1]
    shade = math.cos(math.radians(root.angle_deg))
    quarter = tip.leading_m[1] * math.tan(math.radians(_USUAL_SWEEP_DEG))
    back = quarter + (root.chord_m - tip.chord_m) * shade / 4
    way = "back" if sweep >= 0 else "forward"
    return Finding(
        code="no-tail",
        level=Level.NOTE if has_elevons else Level.WARNING,
        where=wing.surface.key,
        text="there is no stabiliser, and the wing is hardly swept: with an ordinary section and the balance"
        " where it is stable nothing holds its nose up",
        value=f"quarter line {decimal_text(abs(sweep), 1)} deg {way}; neutral point"
        f" {_share(wing, points_m[0])} of the mean chord",
        range=f"{decimal_text(_LEAST_SWEEP_DEG, 0)} deg or more, or a trailing edge turned up",
        source=PRACTICE,
        mend=f"a stabiliser; or a section with its trailing edge turned up (elevons some degrees up) and the"
        f" balance between {_mm(first)} and {_mm(last)} along ({_share(wing, first)} to"
        f" {_share(wing, last)} of the mean chord); or tips"
        f" {_mm(back)} behind the root, twisted 2 to 4 deg nose down",
    )


def _plank_range_m(wing: Lifting, points_m: Sequence[float]) -> tuple[float, float]:
    """The usual shares, but none with less than the least margin."""
    start, chord = wing.leading_m, wing.mean_chord_m
    last = min(start + _PLANK_TO * chord, balance_range_m(wing, points_m)[1])
    return min(start + _PLANK_FROM * chord, last - (_PLANK_TO - _PLANK_FROM) * chord), last


def _swept(wing: Lifting, points_m: Sequence[float]) -> Finding:
    first, last = balance_range_m(wing, points_m, _TAILLESS_LEAST, _TAILLESS_MOST)
    share = (points_m[0] - wing.leading_m) / wing.mean_chord_m
    than = "ahead of" if share < 0.25 else "behind"
    return Finding(
        code="no-tail",
        level=Level.NOTE,
        where=wing.surface.key,
        text="there is no stabiliser: the neutral point is that of the wing alone,"
        f" {_mm(points_m[0])} along, {decimal_text(abs(share - 0.25) * 100, 1)} % of the mean chord {than}"
        " its quarter point; a body and a propeller before the balance move it farther forward",
        value=f"{_share(wing, points_m[0])} of the mean chord",
        range="margin 5 to 10 % of the mean chord",
        source=PRACTICE,
        mend=f"balance between {_mm(first)} and {_mm(last)} along; tips twisted 2 to 4 deg nose down, or"
        " elevons some degrees up",
    )


def _foreplane(plan: Planform, foreplane: Lifting, points_m: Sequence[float]) -> Finding:
    first, last = balance_range_m(plan.wing, points_m, LEAST, MOST)
    more = foreplane.surface.angle_deg - plan.wing.surface.angle_deg
    short = _FOREPLANE_MORE_DEG - more
    turn = f"; foreplane {decimal_text(short, 1)} deg more nose up" if round(short, 2) > 0 else ""
    return Finding(
        code="foreplane",
        level=Level.NOTE,
        where=f"{foreplane.surface.key}.angle",
        text="the stabiliser lies before the wing and has to stall before the wing does; the textbook formula"
        " does not hold for it, so the neutral point is the lattice's alone",
        value=f"set {decimal_text(abs(more), 1)} deg {'more' if more >= 0 else 'less'} nose up than the wing",
        range=f"{decimal_text(_FOREPLANE_MORE_DEG, 0)} deg or more above the wing's angle",
        source=PRACTICE,
        mend=f"balance between {_mm(first)} and {_mm(last)} along{turn}",
    )


def _mm(value_m: float) -> str:
    return mm_text(value_m * 1000, 0)


def _share(wing: Lifting, point_m: float) -> str:
    return f"{decimal_text((point_m - wing.leading_m) / wing.mean_chord_m * 100, 1)} %"
