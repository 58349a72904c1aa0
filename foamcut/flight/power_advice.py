"""Advice on thrust, pitch speed and propellers, and what had to be left out of the sums."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from foamcut.airframe.values import Propeller
from foamcut.findings import Finding, Level
from foamcut.flight.figures import Loaded
from foamcut.flight.lift_values import GRAVITY_M_S2, Lift
from foamcut.flight.power_currents import Load
from foamcut.flight.power_drives import Drive, Turning, coefficients
from foamcut.flight.power_numbers import pitch_ratio, total_thrust
from foamcut.units import decimal_text

#: thrust over weight: gentle models have 0.5; below 0.35 little is left to climb (from memory)
_GENTLE, _LEAST = 0.5, 0.35
#: pitch speed over stall speed: usual, and what leaves little to fly with (from memory)
_USUAL_PITCH, _LOW_PITCH = 2.5, 2.0
#: what is less than so much of the usual is another thing, or a slip, and is not mended by a share
_SENSIBLE = 0.1
_MEMORY = "from memory"


def power_findings(loads: Sequence[Load], now: Loaded | None, lift: Lift | None) -> tuple[Finding, ...]:
    """What is doubtful about thrust and propellers; what is not known."""
    drives = [one for load in loads for one in load.drives]
    return (*_thrust(drives, now), *_pitch(drives, lift), *_match(drives), *_unknown(loads))


def _thrust(drives: Sequence[Drive], now: Loaded | None) -> Iterator[Finding]:
    thrust = total_thrust(drives)
    if thrust is None or now is None or now.mass_g <= 0:
        return
    weight = now.mass_g / 1000 * GRAVITY_M_S2
    ratio = thrust.value / weight
    if round(ratio, 3) >= _GENTLE:
        return
    most = "at most " if any(one.at_most for one in drives) else ""
    lighter = now.mass_g * (1 - ratio / _GENTLE)
    mend = f"look whether power and propeller are as meant, or {decimal_text(lighter, 0)} g lighter"
    if ratio > _SENSIBLE * _GENTLE:
        more = (_GENTLE / ratio) ** 1.5 - 1
        more_power = f"{decimal_text(more * 100 + 0.5, 0)} % more power for the same propeller"
        mend = f"{more_power}, or {decimal_text(lighter, 0)} g lighter"
    yield Finding(
        code="thrust-weight",
        level=Level.WARNING if ratio < _LEAST else Level.NOTE,
        where=drives[0].engine.key,
        text=(
            f"static thrust of {most}{decimal_text(thrust.value, 1)} N is {decimal_text(ratio, 2)} of the"
            f" weight: it {'hardly climbs' if ratio < _LEAST else 'climbs slowly'} and has little in hand"
            " after a launch"
        ),
        value=decimal_text(ratio, 2),
        range="0.5 to 0.7 gentle, 1 and more aerobatic",
        source=_MEMORY,
        mend=mend,
    )


def _pitch(drives: Sequence[Drive], lift: Lift | None) -> Iterator[Finding]:
    found = pitch_ratio(drives, lift)
    if found is None or lift is None:
        return
    slowest, ratio = found
    motor, turning = slowest.engine.motor, slowest.turning
    if motor is None or turning is None or motor.propeller.pitch_mm is None or turning.pitch_m_s.value <= 0:
        return
    if round(ratio.value, 3) >= _USUAL_PITCH:
        return
    speed, stall = (f"{decimal_text(one, 1)} m/s" for one in (turning.pitch_m_s.value, lift.stall_m_s[0]))
    low = round(ratio.value, 3) < _LOW_PITCH
    yield Finding(
        code="pitch-speed",
        level=Level.WARNING if low else Level.NOTE,
        where=f"{motor.propeller.key}.pitch",
        text=(
            f"the pitch speed of {speed} is {decimal_text(ratio.value, 1)} times the stall speed of {stall}:"
            f" {'in flight' if low else 'at speed'} little thrust is left"
        ),
        value=decimal_text(ratio.value, 1),
        range="2.5 to 3 times the stall speed, or more",
        source=_MEMORY,
        mend=(
            f"{_more_pitch(motor.propeller, turning, ratio.value)}{_more_turns(ratio.value)} turns by a"
            " smaller propeller, a higher speed constant or more cells"
        ),
    )


def _more_turns(ratio: float) -> str:
    """How many more turns have the usual pitch speed, where that is still the same kind of propeller."""
    if ratio < _SENSIBLE * _USUAL_PITCH:
        return "many times more"
    return f"{decimal_text((_USUAL_PITCH / ratio - 1) * 100 + 0.5, 0)} % more"


def _more_pitch(propeller: Propeller, turning: Turning, ratio: float) -> str:
    """The pitch that has the usual pitch speed; nothing when no usual propeller of that diameter does.

    At given turns the speed goes with the pitch; at given power more pitch slows the turns.
    """
    now, has = coefficients(propeller), propeller.pitch_mm
    if now is None or has is None:
        return ""
    for pitch in range(math.ceil(has), math.floor(propeller.diameter_mm) + 1):
        steeper = coefficients(replace(propeller, pitch_mm=float(pitch)))
        if steeper is None:
            return ""
        slower = 1.0 if turning.by_constant else math.cbrt(now[0].power / steeper[0].power)
        if ratio * pitch / has * slower >= _USUAL_PITCH:
            was = f"{decimal_text(has, 0)} mm"
            return f"a pitch of {pitch} mm instead of {was} (it takes more current), or "
    return ""


def _match(drives: Sequence[Drive]) -> Iterator[Finding]:
    """A propeller that takes another power at its turns than the motor is given, whatever the ranges."""
    for one in drives:
        motor, turning = one.engine.motor, one.turning
        if motor is None or motor.power_w is None or turning is None or not turning.by_constant:
            continue
        given = one.shaft_w
        if given is None or turning.shaft_w.value <= 0:
            continue
        low, high = turning.shaft_w.low, turning.shaft_w.high
        if round(low - given.high, 3) <= 0 and round(given.low - high, 3) <= 0:
            continue
        size = motor.propeller.diameter_mm * (given.value / turning.shaft_w.value) ** 0.2
        large = turning.shaft_w.value > given.value
        yield Finding(
            code="propeller-match",
            level=Level.WARNING if large else Level.NOTE,
            where=motor.propeller.key,
            text=(
                f"at {decimal_text(turning.rpm.value, 0)} rpm the propeller takes"
                f" {decimal_text(turning.shaft_w.value, 0)} W ({decimal_text(low, 0)} to"
                f" {decimal_text(high, 0)}) at the shaft; {decimal_text(motor.power_w, 0)} W of power give"
                f" {decimal_text(given.value, 0)} W there: it is {'large' if large else 'small'} for that"
                " motor and battery, or one of the numbers is off"
            ),
            value=f"{decimal_text(turning.shaft_w.value, 0)} W",
            range=f"{decimal_text(given.low, 0)} to {decimal_text(given.high, 0)} W",
            source="coefficients of the UIUC propeller database",
            mend=f"a propeller of about {decimal_text(size, 0)} mm and the same shape, or measure the power",
        )


class _Left(NamedTuple):
    where: str
    what: str
    give: str


def _unknown(loads: Sequence[Load]) -> Iterator[Finding]:
    """One note of all that was left out of the sums, or is known as the most alone."""
    left = [one for load in loads for one in (*_thrust_left(load), *_battery_left(load))]
    if not left:
        return
    gives = list(dict.fromkeys(one.give for one in left))
    yield Finding(
        code="power-unknown",
        level=Level.NOTE,
        where=left[0].where,
        text="; ".join(dict.fromkeys(one.what for one in left)),
        value=f"{len(left)} left out or bounded",
        source="the numbers given",
        mend=f"give {', '.join(gives)}",
    )


def _thrust_left(load: Load) -> Iterator[_Left]:
    for one in load.drives:
        key, motor = one.engine.key, one.engine.motor
        if motor is None:
            yield _Left(
                key,
                f'the thrust of "{one.engine.name}" is not known, and so that of all motors',
                "it a [motor.*] with its propeller and power",
            )
        elif one.thrust_n is None:
            yield _Left(
                key,
                f'the thrust of motor "{one.engine.name}" is not known, and so that of all motors',
                f'{key} its power = "..W" at full throttle, or its speed_constant and a battery\'s cells',
            )
        elif one.at_most:
            yield _Left(
                key,
                f'the power of motor "{one.engine.name}" is taken as its current limit times the'
                " battery's voltage, which is the most that it bears: thrust and currents are likely lower",
                f'{key} its power = "..W" at full throttle',
            )


def _battery_left(load: Load) -> Iterator[_Left]:
    packs, first = load.circuit.packs, load.drives[0].engine
    if not packs:
        yield _Left(
            first.key,
            f'nothing feeds motor "{first.name}": currents and flight time are not known',
            "an [[aboard]] battery with cells, capacity and current_limit",
        )
        return
    if load.circuit.cells is None:
        unlike = len({pack.cells for pack in packs}) > 1
        yield _Left(
            packs[0].key,
            "packs that feed the same motors have unlike numbers of cells"
            if unlike
            else f"the cells of {packs[0].name} are not known: no currents and no flight time",
            "the same number of cells for all" if unlike else f"{packs[0].key} its cells",
        )
    for pack in dict.fromkeys(packs):
        if pack.capacity_mah is None:
            yield _Left(
                pack.key,
                f"the capacity of {pack.name} is not known: no flight time",
                f"{pack.key} its capacity",
            )
