"""Who is wired to whom: motors with their speed controls and packs, what feeds the receiver, the servos.

A pair has its left one first.  What the design does not give and the wiring needs is there all the same, and
says so: `given` is False.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from foamcut.draw.marking_rule import RULES
from foamcut.flight.power_supply import Circuit, Engine, circuits
from foamcut.flight.values import Aboard, Carried, Model, Packs, Setup
from foamcut.flight.wiring_list import Lead, Strands, leads
from foamcut.units import decimal_text

#: which way each of a pair turns, seen from behind: left, right (common practice)
_TURNS = {
    "inwards": ("turns right", "turns left"),
    "outwards": ("turns left", "turns right"),
    "right": ("turns right", "turns right"),
    "left": ("turns left", "turns left"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A thing that wires end at: its name, more lines about it, whether the design has it."""

    name: str
    more: tuple[str, ...] = ()
    given: bool = True
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A motor, its speed control, and how long the leads to the motor and to the receiver are, in words.

    `side` is left, right, or empty where there is one alone.  `feeds_receiver`: its supply is kept; what of
    several is not has its red wire parted.
    """

    side: str
    motor: Node
    control: Node
    motor_lead: str = ""
    signal_lead: str = ""
    feeds_receiver: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Scheme:
    """All that one picture shows: at most two motors.

    `packs` feed them: one for each column where they are `apart`, else one node for all.  `receiver_pack`
    feeds the receiver alone.  `joined`: the design lets the supplies of the speed controls meet.
    """

    columns: tuple[Column, ...]
    packs: tuple[Node, ...]
    pack_lead: str
    apart: bool
    joined: bool
    receiver: Node | None
    receiver_pack: Node | None
    receiver_lead: str
    servos: tuple[Node, ...]


def schemes(model: Model, setup: Setup, units: str) -> tuple[Scheme, ...]:
    """One scheme for up to two motors; for more one for every motor or pair, the servos on the first."""
    found = leads(model, setup)
    held = circuits(model.inputs.motors, setup)
    every = [(circuit, i) for circuit in held for i in range(len(circuit.engines))]
    total = sum(circuit.engines[i].count for circuit, i in every)
    groups = [every] if total <= 2 else [[one] for one in every]
    base = _radio(model, setup, found, units)
    if not total:
        alone = base.servos or base.receiver_pack
        return (base,) if alone and (base.receiver is not None or base.servos) else ()
    made = []
    for group in groups:
        columns = [column for circuit, i in group for column in _columns(circuit, i, setup, found, units)]
        columns = sorted(columns, key=lambda one: one.side != "left") if len(columns) > 1 else columns
        scheme = replace(base, columns=_supplied(columns, base, setup), joined=bool(setup.wiring.joined))
        made.append(_powered(scheme, group[0][0], found, units))
    return (made[0], *(replace(one, servos=()) for one in made[1:]))


def _radio(model: Model, setup: Setup, found: Sequence[Lead], units: str) -> Scheme:
    """What there is without motors."""
    servos = tuple(_servos(model, setup, found, units))
    receivers = setup.of(Carried.RECEIVER)
    receiver = Node(name=receivers[0].name) if receivers else None
    if receiver is None and (servos or setup.of(Carried.SPEED_CONTROL) or model.inputs.motors):
        receiver = Node(name="receiver", given=False)
    driven = bool(circuits(model.inputs.motors, setup))
    own = [one for one in setup.of(Carried.BATTERY) if _feeds_receiver(one, receivers, driven=driven)]
    lead = next((one for one in found if own and one.start == own[0].name), None)
    return Scheme(
        columns=(),
        packs=(),
        pack_lead="",
        apart=False,
        joined=False,
        receiver=receiver,
        receiver_pack=_pack(own) if own else None,
        receiver_lead=_length(lead, units, None if not own else own[0].lead_mm),
        servos=servos,
    )


def _feeds_receiver(battery: Aboard, receivers: Sequence[Aboard], *, driven: bool) -> bool:
    named = any(battery.feeds in (one.key, one.name) for one in receivers)
    called = not battery.feeds and "receiver" in battery.name.casefold()
    return named or called or not (driven or battery.feeds)


def _servos(model: Model, setup: Setup, found: Sequence[Lead], units: str) -> Iterator[Node]:
    """Every servo with its lead, those aboard before those in panels."""
    wanted = [(one.name, one.count, one.lead_mm) for one in setup.of(Carried.SERVO)]
    wanted += [(f"servo for the {one.drives}", 1, one.lead_mm) for one in model.inputs.servos]
    left = [one for one in found if one.strands is Strands.SIGNAL]
    for name, count, given_mm in wanted:
        lead = next((one for one in left if one.start == name), None)
        if lead is not None:
            left.remove(lead)
        words = _length(lead, units, given_mm)
        more = (f"lead {words}",) if words else ()
        yield Node(name=name, more=more, count=lead.count if lead is not None else count)


def _columns(
    circuit: Circuit, index: int, setup: Setup, found: Sequence[Lead], units: str
) -> Iterator[Column]:
    engine, controls = circuit.engines[index], circuit.controls[index]
    motor_name = f'motor "{engine.name}"' if engine.motor is not None else engine.name
    for i in range(engine.count):
        side = _side(engine, i, setup)
        control = _control(controls, side)
        turns = _TURNS.get(engine.motor.propeller.turns, ("", "")) if engine.motor is not None else ("", "")
        turned = turns[side == "right"] if engine.count > 1 or not side else ""
        node = Node(name="speed control", given=False)
        motor_lead = signal = ""
        if control is not None:
            limit = (f"{decimal_text(control.current_limit_a)} A",) if control.current_limit_a else ()
            node = Node(name=control.name, more=limit)
            name = control.name
            motor_lead = _length(
                next((one for one in found if (one.start, one.end) == (name, motor_name)), None),
                units,
                control.lead_mm,
            )
            signal = _length(
                next((one for one in found if one.start == name and one.strands is Strands.SIGNAL), None),
                units,
                None,
            )
        yield Column(
            side=side,
            motor=Node(name=motor_name, more=(turned,) if turned else ()),
            control=node,
            motor_lead=motor_lead,
            signal_lead=signal,
        )


def _side(engine: Engine, i: int, setup: Setup) -> str:
    if engine.count > 1:
        return ("left", "right")[i]
    drawn = next((one for one in setup.of(Carried.MOTOR) if one.key == engine.key), None)
    if drawn is None or abs(drawn.out_mm) < 1.0:
        return ""
    return "right" if drawn.out_mm > 0 else "left"


def _control(controls: Sequence[Aboard], side: str) -> Aboard | None:
    """The speed control of a motor: of several that are no pair the one on its side."""
    if len(controls) > 1 and side:
        sign = 1 if side == "right" else -1
        return max(controls, key=lambda one: sign * round(one.out_mm, 3) if not one.mirrored else 0.0)
    return controls[0] if controls else None


def _supplied(columns: Sequence[Column], base: Scheme, setup: Setup) -> tuple[Column, ...]:
    """Which supplies are kept: none beside a receiver pack, all where they may meet, else one.

    Of two it is the right one, unless the left one's pack is the larger of two that are apart.
    """
    if base.receiver_pack is not None:
        return tuple(replace(one, feeds_receiver=False) for one in columns)
    if len(columns) < 2 or setup.wiring.joined:
        return tuple(columns)
    kept = "left" if _larger_side(setup) == "left" else "right"
    sides = [one.side for one in columns]
    index = sides.index(kept) if kept in sides else len(columns) - 1
    return tuple(replace(one, feeds_receiver=i == index) for i, one in enumerate(columns))


def _larger_side(setup: Setup) -> str:
    if setup.wiring.packs is not Packs.APART:
        return ""
    packs = [one for one in setup.of(Carried.BATTERY) if one.capacity_mah and one.out_mm]
    if len(packs) < 2:
        return ""
    first, second = sorted(packs, key=lambda one: -(one.capacity_mah or 0.0))[:2]
    if first.capacity_mah == second.capacity_mah:
        return ""
    return "left" if first.out_mm < 0 else "right"


def _powered(scheme: Scheme, circuit: Circuit, found: Sequence[Lead], units: str) -> Scheme:
    """The scheme with its packs."""
    packs = list(circuit.packs)
    apart = circuit.apart and len(packs) == len(scheme.columns) > 1
    first = packs[0] if packs else None
    lead = next((one for one in found if first is not None and one.start == first.name), None)
    if not packs:
        nodes: tuple[Node, ...] = (Node(name="battery", given=False),)
    elif apart:
        ordered = sorted(packs, key=lambda one: round(one.out_mm, 3))
        nodes = tuple(_pack([one]) for one in ordered)
    else:
        nodes = (_pack(packs),)
    words = _length(lead, units, None if first is None else first.lead_mm)
    return replace(scheme, packs=nodes, pack_lead=words, apart=apart)


def _pack(packs: Sequence[Aboard]) -> Node:
    """A battery, or several that work together."""
    names = list(dict.fromkeys(one.name for one in packs))
    first = packs[0]
    cells = f"{first.cells} cell{'s' if first.cells != 1 else ''}" if first.cells else ""
    size = f"{decimal_text(first.capacity_mah, 0)} mAh" if first.capacity_mah else ""
    more = tuple(chain(names[1:], (words for words in (", ".join(filter(None, (cells, size))),) if words)))
    return Node(name=names[0], more=more, count=len(packs))


def _length(lead: Lead | None, units: str, given_mm: float | None) -> str:
    """How long a lead is by the design, else how long it has to be at least; empty: not known."""
    given = lead.given_mm if lead is not None and lead.given_mm is not None else given_mm
    if given is not None:
        return length_words(given, units)
    return f"{length_words(lead.needed_mm, units)} or more" if lead is not None else ""


def length_words(mm: float, units: str) -> str:
    """A length of wire: whole mm, or the nearest 1/32 in with the mm beside it."""
    if units != "in":
        return f"{decimal_text(mm, 0)} mm"
    return f"{RULES['in'].read(mm).text} in ({decimal_text(mm, 0)} mm)"
