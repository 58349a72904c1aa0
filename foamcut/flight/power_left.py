"""What the numbers given do not tell about motors and batteries: one note of all of it."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from foamcut.airframe.values import Propeller
from foamcut.findings import Finding, Level
from foamcut.flight.power_currents import Load
from foamcut.flight.power_drives import FLATTEST, STEEPEST, Drive, coefficients
from foamcut.units import decimal_text


class _Left(NamedTuple):
    where: str
    what: str
    mend: str


def unknown_findings(loads: Sequence[Load]) -> Iterator[Finding]:
    """One note of all that was left out of the sums, or is known as the most alone."""
    left = [one for load in loads for one in (*_thrust_left(load), *_turns_left(load), *_battery_left(load))]
    if not left:
        return
    yield Finding(
        code="power-unknown",
        level=Level.NOTE,
        where=left[0].where,
        text="; ".join(dict.fromkeys(one.what for one in left)),
        value=f"{len(left)} left out or bounded",
        source="the numbers given",
        mend="; ".join(dict.fromkeys(one.mend for one in left)),
    )


def _thrust_left(load: Load) -> Iterator[_Left]:
    for one in load.drives:
        key, motor = one.engine.key, one.engine.motor
        if motor is None:
            yield _Left(
                key,
                f'the thrust of "{one.engine.name}" is not known, and so that of all motors',
                "give it a [motor.*] with its propeller and power",
            )
        elif one.thrust_n is None:
            yield _Left(
                key,
                f'the thrust of motor "{one.engine.name}" is not known, and so that of all motors',
                f'give {key} its power = "..W" at full throttle, or its speed_constant and a battery',
            )
        elif one.at_most:
            yield _Left(
                key,
                f'the power of motor "{one.engine.name}" is taken as its current limit times the'
                " battery's voltage, which is the most that it bears: thrust and currents are likely lower",
                f'give {key} its power = "..W" at full throttle',
            )


def _turns_left(load: Load) -> Iterator[_Left]:
    """Pitch speed, and thrust by turns beside that of the disc, where they are left out."""
    for one in load.drives:
        motor = one.engine.motor
        if motor is None:
            continue
        if one.turning is None or one.turning.pitch_m_s is None:
            yield _Left(
                one.engine.key,
                f'the pitch speed of motor "{one.engine.name}" is not known',
                _pitch_mend(one, motor.propeller),
            )
        why = _no_coefficients(motor.propeller)
        if why and one.thrust_n is not None:
            yield _Left(
                motor.propeller.key,
                f"no coefficients {why}: thrust by turns is left out",
                "measure thrust and power with the model held",
            )


def _pitch_mend(one: Drive, propeller: Propeller) -> str:
    """What is not given of what pitch speed follows from."""
    key, motor = one.engine.key, one.engine.motor
    wants = [] if propeller.pitch_mm is not None else [f"{propeller.key} its pitch"]
    if one.turning is None:
        if motor is not None and motor.speed_constant_rpm_v is None:
            wants.append(f'{key} its speed_constant = "..rpm/V"')
        if one.volts is None:
            wants.append("its battery the number of cells")
    return f"give {' and '.join(wants)}"


def _no_coefficients(propeller: Propeller) -> str:
    """Why a propeller with a pitch has no coefficients; empty when it has, or its pitch is not known."""
    if propeller.pitch_mm is None or coefficients(propeller) is not None:
        return ""
    if propeller.blades != 2:
        return f"for {propeller.blades} blade{'s' if propeller.blades > 1 else ''}"
    steep = decimal_text(propeller.pitch_mm / propeller.diameter_mm, 2)
    return f"at pitch/diameter {steep} (known from {FLATTEST} to {STEEPEST})"


def _battery_left(load: Load) -> Iterator[_Left]:
    packs, first = load.circuit.packs, load.drives[0].engine
    if not packs:
        yield _Left(
            first.key,
            f'nothing feeds motor "{first.name}": currents and flight time are not known',
            "give it an [[aboard]] battery with cells, capacity and current_limit",
        )
        return
    if load.circuit.cells is None:
        unlike = len({pack.cells for pack in packs}) > 1
        yield _Left(
            packs[0].key,
            "packs that feed the same motors have unlike numbers of cells"
            if unlike
            else f"the cells of {packs[0].name} are not known: no currents and no flight time",
            "give all the same number of cells" if unlike else f"give {packs[0].key} its cells",
        )
    for pack in dict.fromkeys(packs):
        if pack.capacity_mah is None:
            yield _Left(
                pack.key,
                f"the capacity of {pack.name} is not known: no flight time",
                f"give {pack.key} its capacity",
            )
