"""The numbers of wing, tail and fins that people read: areas, spans, shares, the mean chord.  From SI."""

import math
from collections.abc import Sequence

from foamcut.flight.figures import Group, Number
from foamcut.flight.planform_lifting import Lifting

_SHADOW = "outline of the design as the model stands, lit from above"
_SIDE = "outline of the design, lit from the side"
_MEAN = "integral of the chord squared over the area, exact for straight edges: the mean aerodynamic chord"
#: whose ranges
RULES = "a hobby page of rules of thumb, and from memory"


def wing_numbers(wing: Lifting) -> tuple[Number, ...]:
    """Area, span, aspect ratio, taper, sweep and mean chord of the wing."""
    return (
        _number("wing_area", "wing area", wing.area_m2 * 100, "dm2", _SHADOW),
        _number("wing_span", "wing span", wing.span_m * 1000, "mm", _SHADOW),
        _number(
            "wing_aspect_ratio",
            "aspect ratio of the wing",
            wing.aspect_ratio,
            "",
            "span squared over area",
            usual=f"5 to 6, in all 4 to 7, gliders 8 and more ({RULES})",
        ),
        _number(
            "wing_taper",
            "taper of the wing",
            taper(wing),
            "",
            "chord at 80 % of the half span against the root's, as of a straight taper",
            usual="0.4 to 1 (a university's course text on wing and tail design)",
        ),
        _number(
            "wing_sweep",
            "sweep of the wing's quarter line",
            sweep_deg(wing),
            "deg",
            "from the root's quarter point to that of the mean chord",
        ),
        _number("mean_chord", "mean chord of the wing", wing.mean_chord_m * 1000, "mm", _MEAN),
        _number(
            "mean_chord_leading",
            "leading edge of the mean chord, behind the nose",
            wing.leading_m * 1000,
            "mm",
            _MEAN,
        ),
        _number("mean_chord_out", "mean chord, out from the centre plane", wing.out_m * 1000, "mm", _MEAN),
    )


def tail_numbers(tail: Lifting, wing: Lifting) -> tuple[Number, ...]:
    """Area, span, aspect ratio and mean chord of the stabiliser, and its share of the wing."""
    return (
        _number("tail_area", "area of the stabiliser", tail.area_m2 * 100, "dm2", _SHADOW),
        _number("tail_span", "span of the stabiliser", tail.span_m * 1000, "mm", _SHADOW),
        _number(
            "tail_aspect_ratio",
            "aspect ratio of the stabiliser",
            tail.aspect_ratio,
            "",
            "span squared over area",
            usual="less than the wing's (a university's course text on wing and tail design)",
        ),
        _number("tail_mean_chord", "mean chord of the stabiliser", tail.mean_chord_m * 1000, "mm", _MEAN),
        _number(
            "tail_area_share",
            "stabiliser, share of the wing's area",
            tail.area_m2 / wing.area_m2 * 100,
            "%",
            _SHADOW,
            usual=f"20 to 25 % ({RULES})",
        ),
    )


def fin_numbers(fins: Sequence[Lifting], wing: Lifting) -> tuple[Number, ...]:
    """Area of all fins together and their share of the wing; height and aspect ratio of the first."""
    area = sum(one.area_m2 for one in fins)
    several = "" if len(fins) == 1 else f" of {len(fins)} fins"
    return (
        _number("fin_area", f"area{several or ' of the fin'}", area * 100, "dm2", _SIDE),
        _number(
            "fin_height",
            f"height of the{' first' if several else ''} fin",
            fins[0].span_m * 1000,
            "mm",
            _SIDE,
        ),
        _number(
            "fin_aspect_ratio",
            f"aspect ratio of the{' first' if several else ''} fin",
            fins[0].aspect_ratio,
            "",
            "height squared over area",
        ),
        _number(
            "fin_area_share",
            "fin with rudder, share of the wing's area",
            area / wing.area_m2 * 100,
            "%",
            _SIDE,
            usual="7 to 12 % (from memory)",
        ),
    )


def _number(name: str, title: str, value: float, unit: str, source: str, usual: str = "") -> Number:
    return Number(
        name=name, title=title, value=value, unit=unit, group=Group.PLANFORM, source=source, usual=usual
    )


def chord_out(one: Lifting, share: float) -> float:
    """The chord at a share of the half span, m."""
    y = share * one.crosses[-1].leading_m[1]
    for first, last in zip(one.crosses, one.crosses[1:], strict=False):
        y0, y1 = first.leading_m[1], last.leading_m[1]
        if y <= y1 and y1 > y0:
            return first.chord_m + (last.chord_m - first.chord_m) * (y - y0) / (y1 - y0)
    return one.crosses[-1].chord_m


def taper(wing: Lifting) -> float:
    """Tip over root chord of the straight taper with the same chord at 80 % of the half span.

    So a rounded tip does not count as a pointed wing; below 0 for one that is narrower still.
    """
    root = wing.crosses[0].chord_m
    return 1 - (1 - chord_out(wing, 0.8) / root) / 0.8 if root > 0 else 1.0


def sweep_deg(wing: Lifting) -> float:
    """Sweep of the quarter line, aft +, between the root and the mean chord."""
    root = wing.crosses[0]
    shade = math.cos(math.radians(root.angle_deg))
    back = wing.quarter_m - root.leading_m[0] - root.chord_m * shade / 4
    return math.degrees(math.atan2(back, wing.out_m)) if wing.out_m > 0 else 0.0
