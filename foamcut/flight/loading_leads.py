"""How much wire the leads between things aboard need for where these stand.  mm, g.

A lead runs along, across and up, |dx| + |dy| + |dz| from middle to middle, since wire laid along board does
not go straight, and has some to spare (`lead_slack` of the usual values).  Every taker of current is joined
to the giver nearest to it, and a giver that is left over to the taker nearest to it.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from foamcut.airframe.motor_seat import nose_seat, wing_seat
from foamcut.airframe.values import Motor
from foamcut.flat.outline import Point
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.figures import Item, Vector
from foamcut.flight.values import Aboard, Carried, Model, Setup
from foamcut.units import MM_PER_M

#: wires in a lead: from a battery two, from a speed control to its motor three
_FROM_BATTERY, _TO_MOTOR = 2, 3
#: distances are compared to this many decimals
_PLACES = 3

Spots = Mapping[str, Point]


class Leads(NamedTuple):
    """The length of all leads, mm, and what their wire weighs, g."""

    length_mm: float
    wire_g: float


class _Lead(NamedTuple):
    way_mm: float
    row: str  # of the table of usual values
    wires: int

    @property
    def length_mm(self) -> float:
        return self.way_mm + ASSUMED["lead_slack"].value

    @property
    def wire_g(self) -> float:
        return self.length_mm / MM_PER_M * ASSUMED[self.row].value * self.wires


def leads_of(items: Sequence[Item], model: Model, setup: Setup, spots: Spots) -> Leads | None:
    """The leads that things need at their `spots` (key to along, up; the others where they are drawn).

    Those from batteries to speed controls, from speed controls to motors, or straight from batteries to
    motors where there is no speed control, and to the receiver where there is no motor either; from servos to
    the receiver.  None when none is known.
    """
    found = [*_power(model, setup, spots), *_signal(items, model, setup, spots)]
    if not found:
        return None
    return Leads(sum(one.length_mm for one in found), sum(one.wire_g for one in found))


def path_mm(one: Vector, other: Vector) -> float:
    """Along, across and up from one place to another."""
    return sum(abs(a - b) for a, b in zip(one, other, strict=True))


def joined(givers: Sequence[Vector], takers: Sequence[Vector]) -> list[float]:
    """The lengths of leads between givers and takers: each taker from its nearest giver, none left over."""
    if not givers or not takers:
        return []
    nearest = [min(range(len(givers)), key=lambda i: _far(givers[i], one)) for one in takers]
    lengths = [path_mm(givers[i], one) for i, one in zip(nearest, takers, strict=True)]
    spare = [one for i, one in enumerate(givers) if i not in nearest]
    return lengths + [min(path_mm(one, other) for other in takers) for one in spare]


def _far(one: Vector, other: Vector) -> float:
    return round(path_mm(one, other), _PLACES)


def spots_of(thing: Aboard, spots: Spots) -> list[Vector]:
    """Where a thing aboard stands, x, y, z: two places of a mirrored one."""
    along, up = spots.get(thing.key, thing.at)
    sides = (thing.out_mm, 0.0 - thing.out_mm) if thing.mirrored else (thing.out_mm,)
    return [(along, out, up) for out in sides]


def motor_spots(motor: Motor, model: Model) -> list[Vector]:
    """The middles of the front faces of a motor's firewalls; none where it has no seat."""
    if not motor.on_wing:
        nose = nose_seat(motor, model.inputs)
        return [] if nose is None else [(nose.front_mm, 0.0, nose.axis_mm)]
    seat = wing_seat(motor, model.inputs)
    if seat is None:
        return []
    x, y, z = seat.panel.point(seat.front_mm, seat.s_mm, seat.axis_mm)
    return [(x, y, z), (x, 0.0 - y, z)]


def feeds(giver: Aboard, taker: Aboard) -> bool:
    """Whether one gives current to another, by their names or by what both feed; unnamed: to all."""
    return not giver.feeds or giver.feeds in (taker.key, taker.name) or taker.feeds in ("", giver.feeds)


def _power(model: Model, setup: Setup, spots: Spots) -> Iterator[_Lead]:
    batteries, controls = setup.of(Carried.BATTERY), setup.of(Carried.SPEED_CONTROL)
    for named in _named([*batteries, *controls]):
        given = _all([one for one in batteries if one.feeds == named], spots)
        receivers = _fed_receivers(named, model, setup)
        if receivers:
            yield from (_Lead(way, "servo_wire", 1) for way in joined(given, _all(receivers, spots)))
        else:
            to = _controls(named, setup, spots) if controls else _motors(named, model, setup, spots)
            yield from (_Lead(way, "wire", _FROM_BATTERY) for way in joined(given, to))
        given = _all([one for one in controls if one.feeds == named], spots)
        to = _motors(named, model, setup, spots)
        yield from (_Lead(way, "wire", _TO_MOTOR) for way in joined(given, to))


def _fed_receivers(named: str, model: Model, setup: Setup) -> list[Aboard]:
    """The receivers that a battery feeds itself: those that it names, all where nothing drives the model."""
    receivers = setup.of(Carried.RECEIVER)
    driven = model.inputs.motors or setup.of(Carried.MOTOR, Carried.SPEED_CONTROL)
    return [one for one in receivers if named in (one.key, one.name) or not (named or driven)]


def _controls(named: str, setup: Setup, spots: Spots) -> list[Vector]:
    """The speed controls that batteries feed which feed what is named."""
    packs = [one for one in setup.of(Carried.BATTERY) if one.feeds == named]
    fed = [one for one in setup.of(Carried.SPEED_CONTROL) if any(feeds(pack, one) for pack in packs)]
    return _all(fed, spots)


def _named(things: Iterable[Aboard]) -> list[str]:
    """What is fed, each once, in the order of the file."""
    return list(dict.fromkeys(one.feeds for one in things))


def _all(things: Iterable[Aboard], spots: Spots) -> list[Vector]:
    return [spot for one in things for spot in spots_of(one, spots)]


def _motors(named: str, model: Model, setup: Setup, spots: Spots) -> list[Vector]:
    """The motors of a name, all when nothing is named."""
    generated = [one for one in model.inputs.motors if named in ("", one.key, one.name)]
    drawn = [one for one in setup.of(Carried.MOTOR) if named in ("", one.key, one.name)]
    return [spot for one in generated for spot in motor_spots(one, model)] + _all(drawn, spots)


def _signal(items: Sequence[Item], model: Model, setup: Setup, spots: Spots) -> Iterator[_Lead]:
    """From every servo, those in panels too, to the receiver nearest to it."""
    receivers = _all(setup.of(Carried.RECEIVER), spots)
    if not receivers:
        return
    generated = {one.key for one in model.inputs.servos}
    in_panels = [one.at for one in items if one.at is not None and one.key in generated]
    for spot in (*_all(setup.of(Carried.SERVO), spots), *in_panels):
        yield _Lead(min(path_mm(spot, one) for one in receivers), "servo_wire", 1)
