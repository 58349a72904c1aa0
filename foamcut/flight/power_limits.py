"""Currents against the limits of motors, speed controls and batteries."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from foamcut.findings import Finding, Level
from foamcut.flight.assumed import PRACTICE
from foamcut.flight.power_currents import Load
from foamcut.flight.power_drives import Drive, Known, row
from foamcut.flight.power_match import cells_of, match_of
from foamcut.flight.power_supply import share_of
from foamcut.flight.power_words import least, listed, most, same_shape_text
from foamcut.units import decimal_text

#: a limit is held with this much over the current (common practice, no source: 20 to 30 %)
_MARGIN = 1.2
_WISHED = 1.25
#: so many more cells than there are may be had for the same power
_MORE_CELLS = 2
#: current over capacity, 1/h, that batteries without a label are trusted with (from memory)
_RATE = 30.0
#: capacities are told in such steps
STEP_MAH = 50.0


class Limit(NamedTuple):
    """A limit that a current is held against; `engine` is the key of the motor whose own limit it is."""

    where: str
    what: str
    limit_a: float
    current_a: float
    mend: str
    at_most: bool = False
    typed: bool = False
    risk: str = "it may overheat"
    engine: str = ""


def limit_findings(loads: Sequence[Load]) -> Iterator[Finding]:
    """Currents over a limit of speed controls and batteries, or so near that nothing is in hand."""
    for load in loads:
        for limit in (*_controls(load), *_batteries(load)):
            found = over(limit)
            if found is not None:
                yield found
        yield from _rates(load)


def motor_limits(load: Load, slow: Sequence[str]) -> Iterator[Limit]:
    """Motors over their own limit, which they bear, so that nothing in hand is asked of it.

    `slow` are the keys of engines whose pitch speed is low: they are not told to turn slower.
    """
    for one in load.drives:
        motor, current = one.engine.motor, one.current_a
        if motor is None or motor.current_limit_a is None or current is None or one.at_most:
            continue
        if round(current.value, 2) <= motor.current_limit_a:
            continue
        yield Limit(
            f"{motor.key}.current_limit",
            f'motor "{one.engine.name}"',
            motor.current_limit_a,
            current.value,
            listed(
                [
                    f"a motor that bears {least(current.value)} A and more",
                    *_less(one, motor.current_limit_a, slow=one.engine.key in slow),
                ]
            ),
            typed=one.known is Known.GIVEN,
            engine=one.engine.key,
        )


def _less(one: Drive, limit: float, *, slow: bool) -> list[str]:
    """What brings the current of a motor down to its limit."""
    motor, volts, current, cells = one.engine.motor, one.volts, one.current_a, cells_of(one)
    if motor is None or volts is None or current is None or cells is None:
        return []
    if one.known is Known.GIVEN:
        return [*_more_cells(one, limit, cells), *_lower(limit * volts.value)]
    if slow:
        return []
    share = limit / current.value
    fewer = most(cells * share**0.5)
    shape = same_shape_text(motor.propeller.diameter_mm, share**0.2)
    ways = [shape] if shape else []
    return ways + ([f"{fewer} cell{'s' if fewer > 1 else ''} instead of {cells}"] if fewer >= 1 else [])


def _lower(power_w: float) -> list[str]:
    """A power that a limit bears: typed power stays whatever propeller is put on."""
    if most(power_w) < 1:
        return []
    return [f"{most(power_w)} W and less: less throttle, or another propeller and its power measured again"]


def _more_cells(one: Drive, limit: float, cells: int) -> list[str]:
    """The fewest more cells that carry the same power, as long as the propeller takes no more then."""
    if one.electric_w is None:
        return []
    each, match = row("cell_voltage").value, match_of(one)
    for wanted in range(cells + 1, cells + _MORE_CELLS + 1):
        if one.electric_w.value / (wanted * each) > limit:
            continue
        if match is not None and not match.times((wanted / cells) ** 3).fits:
            return []
        return [
            f"{wanted} cells for the same power, where motor and speed control bear"
            f" {decimal_text(wanted * row('cell_voltage').high, 1)} V"
        ]
    return []


def _controls(load: Load) -> list[Limit]:
    made: dict[str, Limit] = {}
    for one, controls in zip(load.drives, load.circuit.controls, strict=True):
        for control in controls:
            if control.current_limit_a is None or one.current_a is None:
                continue
            share = share_of(control, load.circuit, one.engine)
            current = one.current_a.value * share
            if control.key in made and made[control.key].current_a >= current:
                continue
            typed = one.known is Known.GIVEN and one.volts is not None
            watts = control.current_limit_a / _MARGIN / share * (one.volts.value if one.volts else 0.0)
            made[control.key] = Limit(
                control.key,
                named("speed control", control.name),
                control.current_limit_a,
                current,
                listed([f"a speed control of {_up(current)} and more", *(_lower(watts) if typed else [])]),
                at_most=one.at_most,
                typed=typed,
            )
    return list(made.values())


def _batteries(load: Load) -> list[Limit]:
    made: dict[str, Limit] = {}
    at_most = any(one.at_most for one in load.drives)
    typed = all(one.known is Known.GIVEN for one in load.drives)
    for branch in load.branches:
        pack = branch.packs[0]
        if branch.limit_a is None or pack.key in made:
            continue
        together = len(branch.packs) > 1
        several = f"{len(branch.packs)} packs together" if together else named("battery", pack.name)
        current = branch.current_a.value
        gives = (
            f"{'packs that give together' if together else 'a battery that gives'} {_up(current)} and more"
        )
        share = most(branch.limit_a / _MARGIN / current * 100) if current > 0 else 0
        made[pack.key] = Limit(
            pack.key,
            several,
            branch.limit_a,
            current,
            listed(
                [
                    f"{gives} (labels are often too good)",
                    *([f"{share} % of the power and less"] if typed and share else []),
                ]
            ),
            at_most=at_most,
            typed=typed,
            risk="it heats, may swell, and does not last",
        )
    return list(made.values())


def _rates(load: Load) -> Iterator[Finding]:
    """A battery without a limit that is asked for more than its capacity lets expect."""
    told: set[str] = set()
    for branch in load.branches:
        bare = next((one for one in branch.packs if one.current_limit_a is None), None)
        if bare is None or not branch.capacity_ah or bare.key in told:
            continue
        current = branch.current_a.value
        rate = current / branch.capacity_ah
        if round(rate, 1) <= _RATE or any(one.at_most for one in load.drives):
            continue
        told.add(bare.key)
        enough = least(current / _RATE * 1000 / STEP_MAH) * STEP_MAH
        yield Finding(
            code="current-limit",
            level=Level.NOTE,
            where=f"{bare.key}.current_limit",
            text=(
                f"{named('battery', bare.name)} has no current_limit, and {decimal_text(current, 1)} A at"
                f" full throttle are {decimal_text(rate, 0)} times its capacity (C)"
            ),
            value=f"{decimal_text(rate, 0)} C",
            range=f"up to {decimal_text(_RATE, 0)} C without a word of its maker",
            source="from memory; labels are often too good",
            mend=(
                f"write its current_limit by the label, {_up(current)} and more are asked for; or"
                f" {decimal_text(enough, 0)} mAh{' in all' if len(branch.packs) > 1 else ''}"
            ),
        )


def named(kind: str, name: str) -> str:
    """How a thing is called: by its name where that says more than what it is."""
    return f"the {kind}" if name == kind else f'{kind} "{name}"'


def _up(current: float) -> str:
    """What a limit should be for a current, in whole amperes."""
    return f"{least(current * _WISHED)} A"


def over(one: Limit) -> Finding | None:
    """Said of a current over its limit, or close to it."""
    asked = one.current_a * _MARGIN
    above = round(one.current_a - one.limit_a, 2) > 0
    if not above and round(asked - one.limit_a, 2) <= 0:
        return None
    up_to = "up to " if one.at_most else ""
    return Finding(
        code="current-limit",
        level=Level.WARNING if above else Level.NOTE,
        where=one.where,
        text=(
            f"{one.what} carries {up_to}{decimal_text(one.current_a, 1)} A at full throttle"
            f"{' by the power as typed' if one.typed else ''}, {'more than' if above else 'close to'} its"
            f" {decimal_text(one.limit_a, 1)} A: {one.risk}"
        ),
        value=f"{decimal_text(one.current_a, 1)} A",
        range=f"up to {decimal_text(one.limit_a / _MARGIN, 1)} A: 20 to 30 % in hand",
        source=PRACTICE,
        mend=f"{one.mend}; measure the current with the model held before flying",
    )
