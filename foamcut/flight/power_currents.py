"""Current of motors that are fed together; energy of their batteries and flight time, as numbers."""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.flight.figures import Number
from foamcut.flight.power_drives import Drive, Span, row
from foamcut.flight.power_numbers import number, typed_words
from foamcut.flight.power_supply import Circuit
from foamcut.flight.values import Aboard

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
            f"current of all motors at full throttle{_typed(loads)}",
            Span(*(sum(each) for each in zip(*known, strict=True))),
            "A",
            f"sum over the motors{_typed(loads)}",
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Lasting:
    """Minutes that packs which empty together last."""

    branch: Branch
    span: Span


def shortest(loads: Sequence[Load]) -> Lasting | None:
    """Of the packs that are empty first; None where one of them is not known."""
    found = []
    usable, share = row("usable_charge"), row("cruise_throttle")
    for one in (branch for load in loads for branch in load.branches):
        if one.capacity_ah is None or one.current_a.low <= 0:
            return None
        span = Span(
            flight_min(one.capacity_ah, usable.value, share.value * one.current_a.value),
            flight_min(one.capacity_ah, usable.low, share.high * one.current_a.high),
            flight_min(one.capacity_ah, usable.high, share.low * one.current_a.low),
        )
        found.append(Lasting(branch=one, span=span))
    if not found or not all(load.branches for load in loads):
        return None
    return min(found, key=lambda one: round(one.span.value, 6))


def _time(loads: Sequence[Load]) -> list[Number]:
    first = shortest(loads)
    if first is None:
        return []
    return [
        number(
            "flight_time",
            f"flight time{_typed(loads)}",
            first.span,
            "min",
            f"capacity x usable share / (current at full throttle x mean share of power){_typed(loads)}",
            usual="land with a fifth of the charge left",
            assumed=("usable_charge", "cruise_throttle", *_rows(loads)),
        )
    ]


def _rows(loads: Sequence[Load]) -> list[str]:
    return [name for load in loads for one in load.drives for name in (*one.power_assumed, "cell_voltage")]


def _typed(loads: Sequence[Load]) -> str:
    return typed_words([one for load in loads for one in load.drives])


def _at_most(loads: Sequence[Load]) -> bool:
    return any(one.at_most for load in loads for one in load.drives)
