"""Currents against the limits of motors, speed controls and batteries; energy and flight time."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Number
from foamcut.flight.power_drives import Drive, Span, row
from foamcut.flight.power_numbers import number
from foamcut.flight.power_supply import Circuit, share_of
from foamcut.flight.values import Aboard
from foamcut.units import decimal_text

#: a limit is held with this much over the current (common practice, no source: 20 to 30 %)
_MARGIN = 1.2
_WISHED = 1.25
_PRACTICE = "common practice, no source"
_MIN_PER_H = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """Packs that empty together: their current at full throttle, capacity and limit; None: not given."""

    packs: tuple[Aboard, ...]
    current_a: Span
    capacity_ah: float | None
    limit_a: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A circuit with what its engines do."""

    circuit: Circuit
    drives: tuple[Drive, ...]

    @property
    def current_a(self) -> Span | None:
        """Of all its motors; None when it is not known of one."""
        value = low = high = 0.0
        for one in self.drives:
            if one.current_a is None:
                return None
            count = one.engine.count
            value += count * one.current_a.value
            low += count * one.current_a.low
            high += count * one.current_a.high
        return Span(value, low, high)

    @property
    def branches(self) -> tuple[Branch, ...]:
        """Packs together share the current as one; apart each gives an even share of it."""
        current, packs = self.current_a, self.circuit.packs
        if current is None or not packs:
            return ()
        if self.circuit.apart:
            return tuple(_branch((pack,), current.times(1 / len(packs))) for pack in packs)
        return (_branch(packs, current),)


def _branch(packs: tuple[Aboard, ...], current: Span) -> Branch:
    return Branch(
        packs=packs,
        current_a=current,
        capacity_ah=_sum([None if one.capacity_mah is None else one.capacity_mah / 1000 for one in packs]),
        limit_a=_sum([one.current_limit_a for one in packs]),
    )


def _sum(several: list[float | None]) -> float | None:
    known = [one for one in several if one is not None]
    return sum(known) if len(known) == len(several) else None


def current_numbers(loads: Sequence[Load]) -> tuple[Number, ...]:
    """Current in all at full throttle, energy of the packs, flight time."""
    return (*_total(loads), *_energy(loads), *_time(loads))


def _total(loads: Sequence[Load]) -> list[Number]:
    currents = [load.current_a for load in loads]
    known = [one for one in currents if one is not None]
    if not known or len(known) < len(currents):
        return []
    return [
        number(
            "current_total",
            "current of all motors at full throttle",
            Span(*(sum(each) for each in zip(*known, strict=True))),
            "A",
            "sum over the motors",
            assumed=_rows(loads),
            at_most=_at_most(loads),
        )
    ]


def _energy(loads: Sequence[Load]) -> list[Number]:
    """Nominal voltage times capacity, of every pack that feeds a motor."""
    total = Span(0.0, 0.0, 0.0)
    packs = list({pack.key: pack for load in loads for pack in load.circuit.packs}.values())
    if not packs:
        return []
    for pack in packs:
        if pack.cells is None or pack.capacity_mah is None:
            return []
        each = row("cell_voltage").times(pack.cells * pack.capacity_mah / 1000 * pack.count)
        total = Span(*(a + b for a, b in zip(total, each, strict=True)))
    return [
        number(
            "battery_energy",
            "energy of the batteries that feed motors",
            total,
            "Wh",
            "cells x voltage x capacity",
            assumed=("cell_voltage",),
        )
    ]


def flight_min(capacity_ah: float, usable: float, mean_a: float) -> float:
    """Minutes until the usable share of a capacity is gone at a mean current.

    >>> round(flight_min(1.3, 0.8, 15.0), 2)
    4.16
    """
    return capacity_ah * usable / mean_a * _MIN_PER_H if mean_a > 0 else 0.0


def _time(loads: Sequence[Load]) -> list[Number]:
    """Of the packs that are empty first; none where one of them is not known."""
    branches = [branch for load in loads for branch in load.branches]
    fed = all(load.branches for load in loads)
    times = []
    for one in branches:
        if one.capacity_ah is None or one.current_a.low <= 0:
            return []
        usable, share = row("usable_charge"), row("cruise_throttle")
        times.append(
            Span(
                flight_min(one.capacity_ah, usable.value, share.value * one.current_a.value),
                flight_min(one.capacity_ah, usable.low, share.high * one.current_a.high),
                flight_min(one.capacity_ah, usable.high, share.low * one.current_a.low),
            )
        )
    if not fed or not times:
        return []
    first = min(times, key=lambda span: round(span.value, 6))
    return [
        number(
            "flight_time",
            "flight time",
            first,
            "min",
            "capacity x usable share / (current at full throttle x mean share of power)",
            usual="land with a fifth of the charge left",
            assumed=("usable_charge", "cruise_throttle", *_rows(loads)),
        )
    ]


def _rows(loads: Sequence[Load]) -> list[str]:
    return [name for load in loads for one in load.drives for name in (*one.power_assumed, "cell_voltage")]


def _at_most(loads: Sequence[Load]) -> bool:
    return any(one.at_most for load in loads for one in load.drives)


class _Limit(NamedTuple):
    """A limit that a current is held against."""

    where: str
    what: str
    limit_a: float
    current_a: float
    mend: str
    at_most: bool
    risk: str = "it may overheat"


def current_findings(loads: Sequence[Load]) -> tuple[Finding, ...]:
    """Currents over a limit, or so near that nothing is in hand."""
    limits = [limit for load in loads for limit in (*_motors(load), *_controls(load), *_batteries(load))]
    found = (_over(one) for one in limits)
    return tuple(one for one in found if one is not None)


def _motors(load: Load) -> list[_Limit]:
    """A motor bears its own limit, so that nothing in hand is asked of it."""
    made = []
    for one in load.drives:
        motor, current = one.engine.motor, one.current_a
        if motor is None or motor.current_limit_a is None or current is None or one.at_most:
            continue
        if round(current.value, 2) <= motor.current_limit_a:
            continue
        share = motor.current_limit_a / current.value
        smaller = motor.propeller.diameter_mm * share**0.2
        made.append(
            _Limit(
                f"{motor.key}.current_limit",
                f'motor "{one.engine.name}"',
                motor.current_limit_a,
                current.value,
                f"a propeller of about {decimal_text(smaller, 0)} mm of the same shape, or one cell less",
                False,
            )
        )
    return made


def _controls(load: Load) -> list[_Limit]:
    made: dict[str, _Limit] = {}
    for one, controls in zip(load.drives, load.circuit.controls, strict=True):
        for control in controls:
            if control.current_limit_a is None or one.current_a is None:
                continue
            current = one.current_a.value * share_of(control, load.circuit, one.engine)
            if control.key in made and made[control.key].current_a >= current:
                continue
            made[control.key] = _Limit(
                control.key,
                _named("speed control", control.name),
                control.current_limit_a,
                current,
                f"take one of {_up(current)} or more",
                one.at_most,
            )
    return list(made.values())


def _batteries(load: Load) -> list[_Limit]:
    made: dict[str, _Limit] = {}
    at_most = any(one.at_most for one in load.drives)
    for branch in load.branches:
        pack = branch.packs[0]
        if branch.limit_a is None or pack.key in made:
            continue
        several = (
            f"{len(branch.packs)} packs together" if len(branch.packs) > 1 else _named("battery", pack.name)
        )
        made[pack.key] = _Limit(
            pack.key,
            several,
            branch.limit_a,
            branch.current_a.value,
            f"take what gives {_up(branch.current_a.value)} or more; labels are often too good",
            at_most,
            "it heats, may swell, and does not last",
        )
    return list(made.values())


def _named(kind: str, name: str) -> str:
    return f"the {kind}" if name == kind else f'{kind} "{name}"'


def _up(current: float) -> str:
    """What a limit should be for a current, in whole amperes."""
    return f"{decimal_text(current * _WISHED + 0.499, 0)} A"


def _over(one: _Limit) -> Finding | None:
    least = one.current_a * _MARGIN
    over = round(one.current_a - one.limit_a, 2) > 0
    if not over and round(least - one.limit_a, 2) <= 0:
        return None
    up_to = "up to " if one.at_most else ""
    words = "more than" if over else "close to"
    return Finding(
        code="current-limit",
        level=Level.WARNING if over else Level.NOTE,
        where=one.where,
        text=(
            f"{one.what} carries {up_to}{decimal_text(one.current_a, 1)} A at full throttle, {words} its"
            f" {decimal_text(one.limit_a, 1)} A: {one.risk}"
        ),
        value=f"{decimal_text(one.current_a, 1)} A",
        range=f"up to {decimal_text(one.limit_a / _MARGIN, 1)} A: 20 to 30 % in hand",
        source=_PRACTICE,
        mend=f"{one.mend}; measure the current with the model held before flying",
    )
