"""Advice on thrust, and of several signs of one motor the one that is their cause."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from foamcut.findings import Finding, Level
from foamcut.flight.assumed import MEMORY
from foamcut.flight.figures import Loaded
from foamcut.flight.lift_values import GRAVITY_M_S2, Lift
from foamcut.flight.power_currents import Load
from foamcut.flight.power_drives import Drive, Known
from foamcut.flight.power_left import unknown_findings
from foamcut.flight.power_limits import limit_findings, motor_limits, over
from foamcut.flight.power_match import match_finding, match_of
from foamcut.flight.power_numbers import total_thrust
from foamcut.flight.power_pitch import pitch_symptoms
from foamcut.flight.power_time import time_findings
from foamcut.flight.power_words import SENSIBLE, Symptom, least
from foamcut.units import decimal_text

#: thrust over weight: gentle models have 0.5; below 0.35 little is left to climb (from memory)
_GENTLE, _LEAST = 0.5, 0.35


def power_findings(loads: Sequence[Load], now: Loaded | None, lift: Lift | None) -> tuple[Finding, ...]:
    """What is doubtful about thrust, propellers, currents and flight time; what is not known.

    Of one motor the main cause alone is told, with what may come of it in its words: first a propeller that
    does not go with its power, then a current by turns that the motor does not bear.
    """
    drives = [one for load in loads for one in load.drives]
    pitch = list(pitch_symptoms(drives, lift))
    limits = [one for load in loads for one in motor_limits(load, [each.engine for each in pitch])]
    over_limit = [
        Symptom(
            one.engine,
            f"{decimal_text(one.current_a, 1)} A in a motor that bears {decimal_text(one.limit_a, 1)} A",
            found,
        )
        for one in limits
        if (found := over(one)) is not None
    ]
    left = [*_thrust(drives, now), *pitch, *over_limit]
    causes: list[Finding] = []
    for one in drives:
        match = match_of(one)
        if match is None or match.fits:
            continue
        mine = [each for each in left if each.engine in ("", one.engine.key)]
        found = match_finding(one, match, [(each.words, each.finding) for each in mine])
        if found is not None:
            causes.append(found)
            left = [each for each in left if each not in mine]
    for limit in over_limit:
        slow = [each for each in left if each in pitch and each.engine == limit.engine]
        if limit in left and slow and not _is_typed(drives, limit.engine):
            words = f"{limit.finding.text}; with it goes {slow[0].words}"
            left = [
                limit._replace(finding=replace(limit.finding, text=words)) if each is limit else each
                for each in left
                if each not in slow
            ]
    return (
        *causes,
        *(each.finding for each in left),
        *limit_findings(loads),
        *time_findings(loads),
        *unknown_findings(loads),
    )


def _is_typed(drives: Sequence[Drive], key: str) -> bool:
    return any(one.engine.key == key and one.known is Known.GIVEN for one in drives)


def _thrust(drives: Sequence[Drive], now: Loaded | None) -> Iterator[Symptom]:
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
    if ratio > SENSIBLE * _GENTLE:
        more = (_GENTLE / ratio) ** 1.5 - 1
        more_power = f"{decimal_text(more * 100 + 0.5, 0)} % more power for the same propeller"
        mend = f"{more_power}{_borne(drives, 1 + more)}, or {decimal_text(lighter, 0)} g lighter"
    words = f"static thrust of {most}{decimal_text(ratio, 2)} of the weight"
    found = Finding(
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
        source=MEMORY,
        mend=mend,
    )
    yield Symptom("", words, found)


def _borne(drives: Sequence[Drive], factor: float) -> str:
    """What motors have to bear for so many times the power, where that is more than they do."""
    asked = [
        least(one.current_a.value * factor)
        for one in drives
        if one.current_a is not None
        and one.engine.motor is not None
        and one.engine.motor.current_limit_a is not None
        and round(one.current_a.value * factor - one.engine.motor.current_limit_a, 2) > 0
    ]
    return f" with a motor that bears {max(asked)} A" if asked else ""
