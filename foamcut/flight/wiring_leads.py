"""Leads that do not reach from where things are, and battery leads that are long.  mm.

A lead runs along, across and up from middle to middle, and some to spare: that comes out a little long,
since leads begin at an end.
"""

import math
from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Vector
from foamcut.flight.loading_leads import feeds, motor_spots, path_mm, spots_of
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.flight.weights_servos import servo_places
from foamcut.flight.wiring_words import SOURCE
from foamcut.units import mm_text

#: from a battery to the capacitors of a speed control, mm: what makers are quoted to allow
BATTERY_MM = 300.0
#: what a lead lacks by less is slack
_NEAR_MM = 1.0
_GRID_MM = 10.0


def lead_findings(model: Model, setup: Setup) -> Iterator[Finding]:
    """Every lead that is too short for where things are, and long ones of batteries."""
    for one in setup.of(Carried.BATTERY):
        need = _battery_mm(one, setup)
        yield from _short(one, need, "a speed control")
        yield from _long(one, need)
    for one in setup.of(Carried.SPEED_CONTROL):
        yield from _short(one, _control_mm(one, model, setup), "its motor")
    receivers = [spot for one in setup.of(Carried.RECEIVER) for spot in spots_of(one, {})]
    for one in setup.of(Carried.SERVO):
        yield from _short(one, _farthest(spots_of(one, {}), receivers), "the receiver")
    for servo in model.inputs.servos:
        spots = [spot for spot in servo_places(servo, model) if spot is not None]
        way = _farthest(spots, receivers)
        yield from _too_short(servo.key, f"servo for the {servo.drives}", servo.lead_mm, way, "the receiver")


def _battery_mm(battery: Aboard, setup: Setup) -> float | None:
    """The way from a battery to the speed controls that it feeds: one alone reaches all of them."""
    controls = [
        spot for one in setup.of(Carried.SPEED_CONTROL) if feeds(battery, one) for spot in spots_of(one, {})
    ]
    own = spots_of(battery, {})
    fellows = [one for one in setup.of(Carried.BATTERY) if one.feeds == battery.feeds]
    if sum(one.count for one in fellows) > 1:
        return _farthest(own, controls)
    return max((path_mm(own[0], spot) for spot in controls), default=None)


def _control_mm(control: Aboard, model: Model, setup: Setup) -> float | None:
    """The way from a speed control, of a pair from each, to the motor nearest to it that it feeds."""
    named = control.feeds
    motors = [
        spot
        for motor in model.inputs.motors
        if named in ("", motor.key, motor.name)
        for spot in motor_spots(motor, model)
    ]
    for one in setup.of(Carried.MOTOR):
        if named in ("", one.key, one.name):
            motors += spots_of(one, {})
    return _farthest(spots_of(control, {}), motors)


def _farthest(givers: Sequence[Vector], takers: Sequence[Vector]) -> float | None:
    """The longest of the ways from each giver to the taker nearest to it; None without either."""
    if not givers or not takers:
        return None
    return max(min(path_mm(one, other) for other in takers) for one in givers)


def _short(thing: Aboard, way: float | None, what: str) -> Iterator[Finding]:
    yield from _too_short(thing.key, thing.name, thing.lead_mm, way, what)


def _too_short(key: str, name: str, lead: float | None, way: float | None, what: str) -> Iterator[Finding]:
    slack = ASSUMED["lead_slack"].value
    if lead is None or way is None or way + slack - lead <= _NEAR_MM:
        return
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
