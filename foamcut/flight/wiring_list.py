"""Every lead between things aboard, how far it has to reach, and how long it is.  mm.

A lead runs along, across and up, from end to end of things whose size is given, and has some to spare
(`lead_slack` of the usual values).  Each taker is joined to the giver nearest to it, each servo and speed
control to the receiver nearest to it.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from foamcut.flight.assumed import ASSUMED
from foamcut.flight.loading_leads import feeds, motor_spots
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.flight.weights_servos import servo_places
from foamcut.flight.wiring_leads import End, ends_of, way_mm

#: distances are compared to this many decimals
_PLACES = 3


class Strands(Enum):
    """What a lead is made of."""

    POWER = "2 wires, plus and minus"
    MOTOR = "3 wires, in any order"
    SIGNAL = "servo lead: signal, plus and minus"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead:
    """A lead from one thing to another, and its likes on the other side.

    `way_mm` is the longest way of them, `given_mm` how long each is by the design; None: not said.
    """

    start: str
    end: str
    strands: Strands
    count: int
    way_mm: float
    given_mm: float | None = None

    @property
    def needed_mm(self) -> float:
        """How long it has to be, with what is usual to spare."""
        return self.way_mm + ASSUMED["lead_slack"].value


@dataclass(frozen=True, slots=True)
class _Thing:
    name: str
    ends: tuple[End, ...]


def leads(model: Model, setup: Setup) -> tuple[Lead, ...]:
    """All leads whose two ends have a place: batteries, speed controls, motors, servos, receivers."""
    return (*_from_batteries(model, setup), *_to_motors(model, setup), *_signals(model, setup))


def _from_batteries(model: Model, setup: Setup) -> Iterator[Lead]:
    controls = setup.of(Carried.SPEED_CONTROL)
    for one in setup.of(Carried.BATTERY):
        fed = [control for control in controls if feeds(one, control)]
        takers = [_thing(control) for control in fed]
        if not controls:
            takers = _motors(one.feeds, model, setup)
        for taker in takers or _receivers_fed(one, model, setup):
            yield from _lead(_thing(one), taker, Strands.POWER, one.lead_mm)


def _receivers_fed(battery: Aboard, model: Model, setup: Setup) -> list[_Thing]:
    """The receivers that a battery feeds itself: those that it names, all where nothing drives the model."""
    driven = model.inputs.motors or setup.of(Carried.MOTOR, Carried.SPEED_CONTROL)
    return [
        _thing(one)
        for one in setup.of(Carried.RECEIVER)
        if battery.feeds in (one.key, one.name) or not (battery.feeds or driven)
    ]


def _to_motors(model: Model, setup: Setup) -> Iterator[Lead]:
    for one in setup.of(Carried.SPEED_CONTROL):
        for motor in _motors(one.feeds, model, setup):
            yield from _lead(_thing(one), motor, Strands.MOTOR, one.lead_mm)


def _motors(named: str, model: Model, setup: Setup) -> list[_Thing]:
    """The motors of a name, all when nothing is named."""
    generated = [
        _Thing(f'motor "{motor.name}"', tuple(End(spot) for spot in motor_spots(motor, model)))
        for motor in model.inputs.motors
        if named in ("", motor.key, motor.name)
    ]
    drawn = [_thing(one) for one in setup.of(Carried.MOTOR) if named in ("", one.key, one.name)]
    return [one for one in (*generated, *drawn) if one.ends]


def _signals(model: Model, setup: Setup) -> Iterator[Lead]:
    """From speed controls and servos to the receiver."""
    receivers = [_thing(one) for one in setup.of(Carried.RECEIVER)]
    if not receivers:
        return
    givers: list[tuple[_Thing, float | None]] = [
        (_thing(one), one.lead_mm if one.kind is Carried.SERVO else None)
        for one in setup.of(Carried.SPEED_CONTROL, Carried.SERVO)
    ]
    for servo in model.inputs.servos:
        half = servo.size_mm[0] / 2
        ends = tuple(End(spot, half) for spot in servo_places(servo, model) if spot is not None)
        givers.append((_Thing(f"servo for the {servo.drives}", ends), servo.lead_mm))
    for giver, given in givers:
        if giver.ends:
            nearest = min(receivers, key=_distance(giver.ends))
            yield from _lead(giver, nearest, Strands.SIGNAL, given)


def _lead(start: _Thing, end: _Thing, strands: Strands, given_mm: float | None) -> Iterator[Lead]:
    """The leads of one kind: from each end of the thing that has more of them to the nearest of the other."""
    several, few = (start, end) if len(start.ends) > len(end.ends) else (end, start)
    ways = [min(way_mm(one, other) for other in few.ends) for one in several.ends if few.ends]
    if ways:
        yield Lead(
            start=start.name,
            end=end.name,
            strands=strands,
            count=len(ways),
            way_mm=max(ways),
            given_mm=given_mm,
        )


def _distance(ends: Sequence[End]) -> Callable[[_Thing], float]:
    return lambda thing: round(min(way_mm(a, b) for a in ends for b in thing.ends), _PLACES)


def _thing(one: Aboard) -> _Thing:
    return _Thing(one.name, tuple(ends_of(one)))
