"""What a wiring leaves out: a receiver, motors of a speed control, a second pack."""

from collections.abc import Iterator

from foamcut.findings import Finding, Level
from foamcut.flight.power_supply import circuits, engines
from foamcut.flight.values import Carried, Model, Packs, Setup
from foamcut.flight.wiring_packs import flight_packs, motors_count
from foamcut.flight.wiring_words import SOURCE


def missing_findings(model: Model, setup: Setup) -> Iterator[Finding]:
    """Servos without a receiver, speed controls without a motor, packs apart where there is one alone."""
    yield from _receiver(model, setup)
    yield from _controls(model, setup)
    yield from _packs(model, setup)


def _receiver(model: Model, setup: Setup) -> Iterator[Finding]:
    keys = [one.key for one in model.inputs.servos] + [one.key for one in setup.of(Carried.SERVO)]
    if not keys or setup.of(Carried.RECEIVER):
        return
    yield Finding(
        code="receiver-missing",
        level=Level.NOTE,
        where=keys[0],
        text="no receiver is given: its mass is not counted, and servo leads are not looked at",
        value="none",
        range="one",
        source=SOURCE,
        mend='an [[aboard]] with kind = "receiver" and its place',
    )


def _controls(model: Model, setup: Setup) -> Iterator[Finding]:
    every = engines(model.inputs.motors, setup)
    if not every:
        return
    held = {
        control.key
        for circuit in circuits(model.inputs.motors, setup)
        for several in circuit.controls
        for control in several
    }
    for one in setup.of(Carried.SPEED_CONTROL):
        if one.key in held:
            continue
        meant = " or ".join(f'feeds = "{each.key if each.motor else each.name}"' for each in every)
        yield Finding(
            code="feeds-nothing",
            level=Level.WARNING,
            where=f"{one.key}.feeds",
            text=f'"{one.name}" feeds no motor: every motor has another speed control'
            if not one.feeds
            else f'"{one.name}" feeds "{one.feeds}", which is no motor',
            source=SOURCE,
            mend=f"{meant}, or take it out: it counts for the weight alone",
        )


def _packs(model: Model, setup: Setup) -> Iterator[Finding]:
    packs = flight_packs(setup)
    if setup.wiring.packs is not Packs.APART or sum(one.count for one in packs) != 1:
        return
    if motors_count(model, setup) < 1:
        return
    several = motors_count(model, setup) > 1
    yield Finding(
        code="packs-alone",
        level=Level.WARNING,
        where=f"{setup.wiring.key}.packs",
        text=f'packs are said to be apart, and there is only "{packs[0].name}": it feeds every motor',
        value="1 pack",
        range="2 and more, one for each motor",
        source=SOURCE,
        mend='packs = "together"' + (", or a second battery of the same kind" if several else ""),
    )
