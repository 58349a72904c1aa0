"""Leads that do not reach from where things are, and battery leads that are long.  mm.

A lead runs along, across and up, not straight, and has some to spare.  Along it goes from end to end of
things whose size is given, their plugs turned towards each other, else from middle to middle.
"""

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from foamcut.findings import Finding, Level
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Vector
from foamcut.flight.loading_leads import feeds, motor_spots, spots_of
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.flight.weights_servos import servo_places
from foamcut.flight.wiring_words import SOURCE
from foamcut.units import mm_text

#: from a battery to the capacitors of a speed control, mm: what makers are quoted to allow
BATTERY_MM = 300.0
#: what a lead lacks by less is slack
_NEAR_MM = 1.0
_GRID_MM = 10.0


class End(NamedTuple):
    """One end of a lead: the middle of a thing, and half its length along."""

    at: Vector
    half_mm: float = 0.0


def lead_findings(model: Model, setup: Setup) -> Iterator[Finding]:
    """Every lead that is too short for where things are, and long ones of batteries."""
    for one in setup.of(Carried.BATTERY):
        way = _battery_mm(one, setup)
        yield from _short(one, way, "a speed control")
        yield from _long(one, way)
    for one in setup.of(Carried.SPEED_CONTROL):
        yield from _short(one, _control_mm(one, model, setup), "its motor")
    receivers = [end for one in setup.of(Carried.RECEIVER) for end in ends_of(one)]
    for one in setup.of(Carried.SERVO):
        yield from _short(one, _farthest(ends_of(one), receivers), "the receiver")
    for servo in model.inputs.servos:
        half = servo.size_mm[0] / 2
        ends = [End(spot, half) for spot in servo_places(servo, model) if spot is not None]
        way = _farthest(ends, receivers)
        yield from _too_short(servo.key, f"servo for the {servo.drives}", servo.lead_mm, way, "the receiver")


def ends_of(thing: Aboard) -> list[End]:
    """Where its leads begin: two places of a mirrored thing."""
    half = thing.size_mm[0] / 2 if thing.size_mm is not None else 0.0
    return [End(spot, half) for spot in spots_of(thing, {})]


def way_mm(one: End, other: End) -> float:
    """Along between the ends that face each other, across and up between the middles."""
    along = max(abs(one.at[0] - other.at[0]) - one.half_mm - other.half_mm, 0.0)
    return along + abs(one.at[1] - other.at[1]) + abs(one.at[2] - other.at[2])


def _battery_mm(battery: Aboard, setup: Setup) -> float | None:
    """The way from a battery to the speed controls that it feeds: one alone reaches all of them."""
    fed = [one for one in setup.of(Carried.SPEED_CONTROL) if feeds(battery, one)]
    controls = [end for one in fed for end in ends_of(one)]
    own = ends_of(battery)
    fellows = [one for one in setup.of(Carried.BATTERY) if one.feeds == battery.feeds]
    if sum(one.count for one in fellows) > 1:
        return _farthest(own, controls)
    return max((way_mm(own[0], end) for end in controls), default=None)


def _control_mm(control: Aboard, model: Model, setup: Setup) -> float | None:
    """The way from a speed control, of a pair from each, to the motor nearest to it that it feeds."""
    named = control.feeds
    motors = [
        End(spot)
        for motor in model.inputs.motors
        if named in ("", motor.key, motor.name)
        for spot in motor_spots(motor, model)
    ]
    for one in setup.of(Carried.MOTOR):
        if named in ("", one.key, one.name):
            motors += ends_of(one)
    return _farthest(ends_of(control), motors)


def _farthest(givers: Sequence[End], takers: Sequence[End]) -> float | None:
    """The longest of the ways from each giver to the taker nearest to it; None without either."""
    if not givers or not takers:
        return None
    return max(min(way_mm(one, other) for other in takers) for one in givers)


def _short(thing: Aboard, way: float | None, what: str) -> Iterator[Finding]:
    yield from _too_short(thing.key, thing.name, thing.lead_mm, way, what)


def _too_short(key: str, name: str, lead: float | None, way: float | None, what: str) -> Iterator[Finding]:
    if lead is None or way is None or way + ASSUMED["lead_slack"].low - lead <= _NEAR_MM:
        return
    slack = ASSUMED["lead_slack"].value
    longer = _GRID_MM * math.ceil((way + slack - lead) / _GRID_MM - 1e-9)
    yield Finding(
        code="lead-short",
        level=Level.WARNING if way > lead else Level.NOTE,
        where=f"{key}.lead",
        text=f'the lead of "{name}" is {mm_text(lead)} long; along, across and up it is {mm_text(way)} to'
        f" {what}, and {mm_text(slack)} to spare are usual",
        value=mm_text(lead),
        range=f"{mm_text(way + slack, 0)} or more",
        source=SOURCE,
        mend=f"{mm_text(longer)} longer, or the two so much nearer to each other",
    )


def _long(battery: Aboard, way: float | None) -> Iterator[Finding]:
    """A battery lead longer than makers of speed controls are quoted to allow."""
    given = battery.lead_mm
    length = given if given is not None else way
    if length is None or length <= BATTERY_MM:
        return
    over = _GRID_MM * math.ceil((length - BATTERY_MM) / _GRID_MM - 1e-9)
    what = "is" if given is not None else "has to be about"
    yield Finding(
        code="lead-long",
        level=Level.NOTE,
        where=f"{battery.key}.lead",
        text=f'the lead of "{battery.name}" to the speed control {what} {mm_text(length, 0)} long: current'
        " that starts and stops in long battery leads strains the speed control's capacitors",
        value=mm_text(length, 0),
        range=f"up to about {mm_text(BATTERY_MM)} from battery to capacitors",
        source="makers' limit as quoted on forums, opinions differ; the maker's word comes first",
        mend=f"{mm_text(over)} shorter: the speed control so much nearer to the battery and the leads to its"
        " motor so much longer, or capacitors added as its maker says",
    )
