"""Advice on pitch speed: too little of it leaves no thrust at the speed of flight."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from foamcut.airframe.values import Motor
from foamcut.findings import Finding, Level
from foamcut.flight.lift_values import Lift
from foamcut.flight.power_drives import Drive, Turning, coefficients
from foamcut.flight.power_match import match_of
from foamcut.flight.power_numbers import pitch_ratio
from foamcut.flight.power_words import SENSIBLE, Symptom, listed, size_text
from foamcut.units import decimal_text

#: pitch speed over stall speed: usual, and what leaves little to fly with (from memory)
_USUAL, _LOW = 2.5, 2.0


def pitch_symptoms(drives: Sequence[Drive], lift: Lift | None) -> Iterator[Symptom]:
    """Of the slowest propeller, where its pitch speed is little for the stall speed."""
    found = pitch_ratio(drives, lift)
    if found is None or lift is None:
        return
    slowest, ratio = found
    motor, turning = slowest.engine.motor, slowest.turning
    if motor is None or turning is None or turning.pitch_m_s is None or turning.pitch_m_s.value <= 0:
        return
    if round(ratio.value, 3) >= _USUAL:
        return
    speed, stall = (f"{decimal_text(one, 1)} m/s" for one in (turning.pitch_m_s.value, lift.stall_m_s[0]))
    low = round(ratio.value, 3) < _LOW
    times = decimal_text(ratio.value, 2)
    finding = Finding(
        code="pitch-speed",
        level=Level.WARNING if low else Level.NOTE,
        where=f"{motor.propeller.key}.pitch",
        text=(
            f"the pitch speed of {speed} is {times} times the stall speed of {stall}:"
            f" {'in flight' if low else 'at speed'} little thrust is left"
        ),
        value=times,
        range="2.5 to 3 times the stall speed, or more",
        source="from memory",
        mend=listed([*_more_pitch(slowest, motor, turning, ratio.value), _more_turns(turning, ratio.value)]),
    )
    yield Symptom(slowest.engine.key, f"a pitch speed of {times} x the stall speed", finding)


def _more_turns(turning: Turning, ratio: float) -> str:
    """How many more turns have the usual pitch speed, where that is still the same kind of propeller.

    The power that one propeller takes goes with the cube of its turns.
    """
    share, taken = "many times more", "far more power"
    if ratio >= SENSIBLE * _USUAL:
        factor = _USUAL / ratio
        share = f"{decimal_text((factor - 1) * 100 + 0.5, 0)} % more"
        taken = f"{decimal_text((factor**3 - 1) * 100 + 0.5, 0)} % more power"
    if not turning.by_constant:
        return f"{share} turns, by {taken} for the same propeller"
    return f"{share} turns by a higher speed constant or more cells (they take {taken})"


def _more_pitch(one: Drive, motor: Motor, turning: Turning, ratio: float) -> list[str]:
    """The pitch that has the usual pitch speed; none when no usual propeller of that diameter does.

    At given turns the speed goes with the pitch, and power with its coefficient; at given power more pitch
    slows the turns.  None either where a motor would then be over its limit, or the power given too little.
    """
    propeller = motor.propeller
    now, has = coefficients(propeller), propeller.pitch_mm
    if has is None:
        return []
    for pitch in range(math.ceil(has), math.floor(propeller.diameter_mm) + 1):
        steeper = coefficients(replace(propeller, pitch_mm=float(pitch)))
        takes = steeper[0].power / now[0].power if now is not None and steeper is not None else None
        if takes is None and not turning.by_constant:
            return []
        slower = 1.0 if turning.by_constant or takes is None else 1 / math.cbrt(takes)
        if ratio * pitch / has * slower < _USUAL:
            continue
        if takes is not None and turning.by_constant and not _bears(one, motor, takes):
            return []
        return [f"a pitch of {size_text(pitch)} instead of {size_text(has)}, which takes more current"]
    return []


def _bears(one: Drive, motor: Motor, factor: float) -> bool:
    """Whether so many times the power of the propeller is still in hand."""
    match = match_of(one)
    if match is not None:
        return match.times(factor).fits
    limit, current = motor.current_limit_a, one.current_a
    return limit is None or current is None or round(current.value * factor - limit, 2) <= 0
