"""Which batteries and speed controls feed which motors.

A thing's `feeds` names a motor (``motor.wing``), or a speed control or motor aboard by its name; one without
it feeds every motor that nothing else feeds, but for a battery called after the receiver.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.airframe.values import Motor
from foamcut.flight.values import Aboard, Carried, Packs, Setup


@dataclass(frozen=True, slots=True, kw_only=True)
class Engine:
    """A motor or a pair: `motor` None where it is only aboard and has no numbers."""

    key: str
    name: str
    count: int
    motor: Motor | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """Engines with the packs that feed them together, and the speed controls of each engine.

    `packs` holds a pack once for each that there is; `controls` goes with `engines`.
    """

    engines: tuple[Engine, ...]
    packs: tuple[Aboard, ...]
    controls: tuple[tuple[Aboard, ...], ...]
    apart: bool = False

    @property
    def cells(self) -> int | None:
        """Cells in series; None where no pack says it, or packs differ."""
        given = {pack.cells for pack in self.packs}
        return given.pop() if len(given) == 1 else None


def engines(motors: Sequence[Motor], setup: Setup) -> tuple[Engine, ...]:
    """All motors, those mounted before those that are only aboard."""
    mounted = [Engine(key=one.key, name=one.name, count=2 if one.on_wing else 1, motor=one) for one in motors]
    aboard = [Engine(key=one.key, name=one.name, count=one.count) for one in setup.of(Carried.MOTOR)]
    return (*mounted, *aboard)


def circuits(motors: Sequence[Motor], setup: Setup) -> tuple[Circuit, ...]:
    """Every engine in just one circuit, in their order; engines fed by the same packs share one."""
    every = engines(motors, setup)
    fed_by = _fed(every, _packs(setup), setup)
    held_by = _fed(every, setup.of(Carried.SPEED_CONTROL), setup)
    groups: dict[tuple[Aboard, ...], list[Engine]] = {}
    for engine in every:
        groups.setdefault(fed_by[engine.key], []).append(engine)
    return tuple(
        Circuit(
            engines=tuple(several),
            packs=tuple(pack for pack in packs for _ in range(pack.count)),
            controls=tuple(held_by[engine.key] for engine in several),
            apart=_apart(packs, setup),
        )
        for packs, several in groups.items()
    )


def _packs(setup: Setup) -> tuple[Aboard, ...]:
    """Batteries without that of the receiver, known by its name where it does not say what it feeds."""
    return tuple(
        one for one in setup.of(Carried.BATTERY) if one.feeds or "receiver" not in one.name.casefold()
    )


def _apart(packs: Sequence[Aboard], setup: Setup) -> bool:
    """Whether several packs are said to be apart, or each names a speed control of its own."""
    if sum(pack.count for pack in packs) < 2:
        return False
    if setup.wiring.packs is not None:
        return setup.wiring.packs is Packs.APART
    controls = {name for one in setup.of(Carried.SPEED_CONTROL) for name in (one.key, one.name)}
    named = {pack.feeds for pack in packs}
    return len(named) == len(packs) > 1 and named <= controls


def _fed(every: Sequence[Engine], things: Sequence[Aboard], setup: Setup) -> dict[str, tuple[Aboard, ...]]:
    """What of some things feeds each engine: those that name it, else those that name nothing."""
    named: dict[str, list[Aboard]] = {engine.key: [] for engine in every}
    free = []
    for one in things:
        reached = _reached(one.feeds, every, setup)
        if reached is None:
            free.append(one)
        for key in reached or ():
            named[key].append(one)
    return {key: tuple(several or free) for key, several in named.items()}


def _reached(feeds: str, every: Sequence[Engine], setup: Setup) -> tuple[str, ...] | None:
    """Keys of the engines that a name leads to, over at most one speed control; None: any engine."""
    for _ in range(2):
        if not feeds:
            return None
        direct = tuple(engine.key for engine in every if feeds in (engine.key, engine.name))
        if direct:
            return direct
        control = next((one for one in setup.of(Carried.SPEED_CONTROL) if feeds in (one.key, one.name)), None)
        if control is None:
            return ()
        feeds = control.feeds
    return ()


def share_of(control: Aboard, held: Circuit, engine: Engine) -> float:
    """How many motors one speed control drives: those that it holds over how many controls hold them."""
    count = sum(
        one.count for one, several in zip(held.engines, held.controls, strict=True) if control in several
    )
    several = held.controls[held.engines.index(engine)]
    return max(count / max(sum(one.count for one in several), 1), 1.0)
