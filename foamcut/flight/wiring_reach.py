"""What cannot be plugged in with the wing on: it lies under the wing, and not under the hatch.  mm."""

import math
from collections.abc import Iterator
from itertools import pairwise

from foamcut.airframe.planform import panels
from foamcut.airframe.section import section_at
from foamcut.airframe.section_refusals import section_refusals
from foamcut.airframe.values import Body, Role, Surface
from foamcut.findings import Finding, Level
from foamcut.flight.loading_leads import feeds
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.flight.wiring_leads import ends_of, way_mm
from foamcut.flight.wiring_words import SOURCE
from foamcut.units import mm_text

#: so much of a thing in the open is enough to reach its plug
_REACH_MM = 20.0
_GRID_MM = 5.0
#: how far a wing is held off the body while leads are plugged in (common practice, no source)
_HELD_MM = 100.0

Span = tuple[float, float]


def reach_findings(model: Model, setup: Setup) -> Iterator[Finding]:
    """Plugs in a body that are not reached with the wing on it or through it: those that have to be.

    A battery is plugged in last of all; a receiver or speed control takes leads out of the wing when servos
    or motors sit in it.  Others are plugged in once, with the wing off, and are left out.
    """
    wings = [one for one in model.inputs.surfaces if one.role is Role.WING and not section_refusals(one)]
    powered = bool(model.inputs.motors) or bool(setup.of(Carried.MOTOR))
    for thing in setup.of(Carried.BATTERY, Carried.RECEIVER, Carried.SPEED_CONTROL):
        for body in model.inputs.bodies:
            over = next((one for one in wings if _lies_under(thing, one, body)), None)
            if over is None or not _is_plugged(thing, over, model) or _is_open(thing, over, body):
                continue
            if not _lead_comes_out(thing, wings, body, setup):
                yield from _hidden(thing, over, body, armed=powered and thing.kind is Carried.BATTERY)


def _is_plugged(thing: Aboard, wing: Surface, model: Model) -> bool:
    """Whether something is plugged into it each time that the wing goes on."""
    if thing.kind is Carried.RECEIVER:
        return any(one.on[0] == wing.name for one in model.inputs.servos)
    if thing.kind is Carried.SPEED_CONTROL:
        return any(
            motor.on_wing and motor.on == wing.name and thing.feeds in ("", motor.key, motor.name)
            for motor in model.inputs.motors
        )
    return True


def _lies_under(thing: Aboard, wing: Surface, body: Body) -> bool:
    """Whether its middle lies in the body, under the root chord of a wing or inside it."""
    if abs(thing.out_mm) > body.width_mm / 2:
        return False
    if not body.side[0].along_mm <= thing.at[0] <= body.side[-1].along_mm:
        return False
    low, high = root_span(wing)
    panel = panels(wing)[0]
    share = (thing.at[0] - low) / (high - low) if high > low else 0.0
    c = wing.stations[0].back_mm + share * wing.stations[0].chord_mm
    top = max(n for _, n in section_at(wing, panel, 0.0).outline)
    return low <= thing.at[0] <= high and thing.at[1] <= panel.point(c, 0.0, top)[2]


def root_span(wing: Surface) -> Span:
    """From where to where along the model the root chord of a wing goes."""
    panel, root = panels(wing)[0], wing.stations[0]
    low = panel.point(root.back_mm, 0.0, 0.0)[0]
    return low, panel.point(root.back_mm + root.chord_mm, 0.0, 0.0)[0]


def _in_open(extent: Span, wing: Surface, body: Body) -> float:
    """How much of a stretch can be reached with the wing on: under the hatch, or under no cover at all."""
    hatch = _overlap(extent, body.hatch_mm)
    closed = [span for span in (root_span(wing), body.deck_mm, body.hatch_mm) if span is not None]
    edges = sorted({*extent, *(min(max(x, extent[0]), extent[1]) for span in closed for x in span)})
    free = sum(
        b - a for a, b in pairwise(edges) if not any(low <= (a + b) / 2 <= high for low, high in closed)
    )
    return hatch + free


def _overlap(one: Span, other: Span | None) -> float:
    return 0.0 if other is None else max(0.0, min(one[1], other[1]) - max(one[0], other[0]))


def _is_open(thing: Aboard, wing: Surface, body: Body) -> bool:
    """Whether its middle lies under the hatch, or enough of it in the open."""
    low, high = _extent(thing)
    hatch = body.hatch_mm
    if hatch is not None and hatch[0] <= thing.at[0] <= hatch[1]:
        return True
    return high > low and _in_open((low, high), wing, body) >= min(_REACH_MM, (high - low) / 2)


def _extent(thing: Aboard) -> Span:
    half = thing.size_mm[0] / 2 if thing.size_mm is not None else 0.0
    return thing.at[0] - half, thing.at[0] + half


def _lead_comes_out(thing: Aboard, wings: list[Surface], body: Body, setup: Setup) -> bool:
    """Whether a battery's lead reaches a speed control that is reached itself: its plug is there."""
    if thing.kind is not Carried.BATTERY or thing.lead_mm is None:
        return False
    lead = thing.lead_mm
    for control in setup.of(Carried.SPEED_CONTROL):
        inside = body.side[0].along_mm <= control.at[0] <= body.side[-1].along_mm
        if not feeds(thing, control) or not inside or abs(control.out_mm) > body.width_mm / 2:
            continue
        if any(_lies_under(control, one, body) and not _is_open(control, one, body) for one in wings):
            continue
        if min(way_mm(a, b) for a in ends_of(thing) for b in ends_of(control)) <= lead:
            return True
    return False


def _hidden(thing: Aboard, wing: Surface, body: Body, *, armed: bool) -> Iterator[Finding]:
    at, hatch = thing.at[0], body.hatch_mm
    text = f'"{thing.name}" lies under "{wing.name}" and under no hatch: with the wing on its plug is not'
    text += " reached"
    if armed:
        text += ", so that the wing goes on over motors that may start"
    elif thing.kind is not Carried.BATTERY:
        text += ", and leads out of the wing are plugged in while it goes on"
    yield Finding(
        code="connector-hidden",
        level=Level.WARNING if armed else Level.NOTE,
        where=f"{thing.key}.at",
        text=text,
        value=f"{mm_text(at)} along",
        range=_open_words(wing, hatch),
        source=SOURCE,
        mend=_mend(thing, wing, body),
    )


def _open_words(wing: Surface, hatch: Span | None) -> str:
    low, high = (mm_text(x) for x in root_span(wing))
    words = f"before {low} or behind {high} along"
    return (
        words if hatch is None else f"{words}, or under the hatch, {mm_text(hatch[0])} to {mm_text(hatch[1])}"
    )


def _mend(thing: Aboard, wing: Surface, body: Body) -> str:
    """Leads that come out into the open, or the shortest move that brings enough of it there."""
    moved = _moved(_extent(thing), wing, body)
    nearer = "a hatch that reaches over it" if moved is None else f"{moved}, and the balance with it"
    if thing.kind is Carried.BATTERY:
        far = "" if moved is None else f", about {moved}"
        return f"a lead that brings its plug out where it is reached{far}, or {nearer}"
    return (
        f"leads out of the wing {mm_text(_HELD_MM)} longer, to be plugged in while it is held over the body,"
        f" or {nearer}"
    )


def _moved(extent: Span, wing: Surface, body: Body) -> str | None:
    """How far a stretch has to be moved along to be reached; None: nowhere in the body."""
    length = root_span(wing)[1] - root_span(wing)[0] + extent[1] - extent[0]
    enough = min(_REACH_MM, (extent[1] - extent[0]) / 2) or _GRID_MM
    low, high = body.side[0].along_mm, body.side[-1].along_mm
    for i in range(1, math.ceil(length / _GRID_MM) + 1):
        for sign, way in ((-1, "forward"), (1, "back")):
            by = i * _GRID_MM
            moved = (extent[0] + sign * by, extent[1] + sign * by)
            if moved[0] < low or moved[1] > high:
                continue
            wide = moved if moved[1] > moved[0] else (moved[0] - enough, moved[0] + enough)
            if _in_open(wide, wing, body) >= enough:
                return f"{mm_text(by)} {way}"
    return None
