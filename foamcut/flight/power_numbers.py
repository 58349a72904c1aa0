"""Thrust, turns, power and currents as numbers."""

from collections.abc import Iterable, Sequence

from foamcut.flight.controls_shape import slug
from foamcut.flight.figures import Group, Loaded, Number
from foamcut.flight.lift_values import GRAVITY_M_S2, Lift
from foamcut.flight.power_drives import Drive, Known, Span

_DISC = "actuator disc, T = (FM^2 2 rho A P^2)^(1/3)"
_TURNS = "T = CT rho n^2 D^4, coefficients of the UIUC propeller database"
#: thrust over weight that is usual, and the least for pitch speed over stall speed (from memory)
USUAL_THRUST = "0.5 to 0.7 gentle, 1 and more aerobatic (from memory)"
USUAL_PITCH = "2.5 to 3 or more (from memory)"


def number(
    name: str,
    title: str,
    span: Span,
    unit: str,
    source: str,
    *,
    usual: str = "",
    assumed: Iterable[str] = (),
    at_most: bool = False,
) -> Number:
    """A number of this group; its range only where it has one, no lower bound of what is the most."""
    wide = span.low != span.high
    return Number(
        name=name,
        title=f"{title}, at most" if at_most else title,
        value=span.value,
        low=None if at_most or not wide else span.low,
        high=span.high if wide else None,
        unit=unit,
        group=Group.POWER,
        usual=usual,
        source=source,
        assumed=tuple(dict.fromkeys(assumed)),
    )


def names(drives: Sequence[Drive]) -> tuple[str, ...]:
    """A word for each engine that may stand in the name of a number, unlike each other."""
    made: list[str] = []
    for one in drives:
        word, count = slug(one.engine.name), 2
        while word in made:
            word, count = f"{slug(one.engine.name)}_{count}", count + 1
        made.append(word)
    return tuple(made)


def typed_words(drives: Iterable[Drive]) -> str:
    """Said after what follows from a power that is given, and stays whatever propeller is put on."""
    return ", of the power as typed" if any(one.known is Known.GIVEN for one in drives) else ""


def engine_numbers(one: Drive, word: str) -> tuple[Number, ...]:
    """Of each motor of an engine: static thrust in both ways, turns, pitch speed, power, current."""
    each = f'{"each " if one.engine.count > 1 else ""}motor "{one.engine.name}"'
    return (*_thrusts(one, word, each), *_turns(one, word, each), *_powers(one, word, each))


def _thrusts(one: Drive, word: str, each: str) -> list[Number]:
    made = []
    if one.thrust_n is not None:
        source = _TURNS if one.disc_n is None else f"{_DISC}; from {one.known.value if one.known else ''}"
        made.append(
            number(
                f"static_thrust_{word}",
                f"static thrust of {each}",
                one.thrust_n,
                "N",
                source,
                assumed=one.thrust_assumed,
                at_most=one.at_most,
            )
        )
    if one.disc_n is not None and one.turning is not None and one.turning.thrust_n is not None:
        turns = "the speed constant" if one.turning.by_constant else "the power given"
        made.append(
            number(
                f"static_thrust_turns_{word}",
                f"static thrust by turns and coefficients, {each}",
                one.turning.thrust_n,
                "N",
                f"{_TURNS}; turns from {turns}",
                assumed=one.turning.assumed,
            )
        )
    return made


def _turns(one: Drive, word: str, each: str) -> list[Number]:
    turning = one.turning
    if turning is None:
        return []
    how = (
        "speed constant x voltage x share under load"
        if turning.by_constant
        else "turns at which the propeller takes the shaft power, P = CP rho n^3 D^5"
    )
    made = [
        number(
            f"rpm_{word}",
            f"turns of {each}, standing",
            turning.rpm,
            "rpm",
            how,
            assumed=turning.turns_assumed,
        )
    ]
    if turning.pitch_m_s is not None:
        made.append(
            number(
                f"pitch_speed_{word}",
                f"pitch speed of {each}",
                turning.pitch_m_s,
                "m/s",
                f"turns x pitch; {how}",
                assumed=turning.turns_assumed,
            )
        )
    if turning.by_constant and turning.shaft_w is not None:
        made.append(
            number(
                f"shaft_power_{word}",
                f"shaft power that the propeller of {each} takes",
                turning.shaft_w,
                "W",
                "P = CP rho n^3 D^5, coefficients of the UIUC propeller database",
                assumed=turning.shaft_assumed,
            )
        )
    return made


def _powers(one: Drive, word: str, each: str) -> list[Number]:
    made = []
    if one.electric_w is not None and one.known is not None:
        made.append(
            number(
                f"motor_power_{word}",
                f"electric power of {each}",
                one.electric_w,
                "W",
                one.known.value,
                assumed=one.power_assumed,
                at_most=one.at_most,
            )
        )
    if one.current_a is not None:
        made.append(
            number(
                f"motor_current_{word}",
                f"current of {each} at full throttle{typed_words((one,))}",
                one.current_a,
                "A",
                f"electric power over the battery's voltage; power: {one.known.value if one.known else ''}",
                assumed=(*one.power_assumed, "cell_voltage"),
                at_most=one.at_most,
            )
        )
    return made


def total(several: Iterable[tuple[Drive, Span | None]]) -> Span | None:
    """The sum over all motors; None when it is not known of one of them, or there is none."""
    kept = list(several)
    if not kept:
        return None
    value = low = high = 0.0
    for one, span in kept:
        if span is None:
            return None
        count = one.engine.count
        value, low, high = value + count * span.value, low + count * span.low, high + count * span.high
    return Span(value, low, high)


def total_numbers(drives: Sequence[Drive], now: Loaded | None, lift: Lift | None) -> tuple[Number, ...]:
    """Thrust and power of all motors, over the weight; pitch speed over stall speed."""
    made = []
    at_most = any(one.at_most for one in drives)
    mass = Span(now.mass_g, now.low_g, now.high_g).times(0.001) if now and now.low_g > 0 else None
    thrust, power = total_thrust(drives), total((one, one.electric_w) for one in drives)
    rows = [name for one in drives for name in one.thrust_assumed]
    if thrust is not None:
        how = "sum over the motors"
        made.append(
            number("thrust_total", "static thrust in all", thrust, "N", how, assumed=rows, at_most=at_most)
        )
        if mass is not None:
            ratio = thrust.over(mass.times(GRAVITY_M_S2))
            how = "static thrust over weight"
            made.append(
                number(
                    "thrust_to_weight",
                    "static thrust over weight",
                    ratio,
                    "",
                    how,
                    usual=USUAL_THRUST,
                    assumed=rows,
                    at_most=at_most,
                )
            )
    if power is not None:
        made += _power_numbers(drives, power, mass, at_most=at_most)
    return (*made, *_pitch_ratio(drives, lift))


def total_thrust(drives: Sequence[Drive]) -> Span | None:
    """Static thrust of all motors together; None when it is not known of one of them."""
    return total((one, one.thrust_n) for one in drives)


def _power_numbers(drives: Sequence[Drive], power: Span, mass: Span | None, *, at_most: bool) -> list[Number]:
    rows = [name for one in drives for name in one.power_assumed]
    made = [
        number(
            "power_total",
            "electric power in all",
            power,
            "W",
            "sum over the motors",
            assumed=rows,
            at_most=at_most,
        )
    ]
    if mass is not None:
        made.append(
            number(
                "power_per_mass",
                "electric power over weight",
                power.over(mass),
                "W/kg",
                "sum over the motors, over the all-up weight",
                usual="110 to 175 gentle, 220 and more aerobatic (50 to 80, 100 W/lb; from memory)",
                assumed=rows,
                at_most=at_most,
            )
        )
    return made


def pitch_ratio(drives: Sequence[Drive], lift: Lift | None) -> tuple[Drive, Span] | None:
    """The slowest propeller's pitch speed over the stall speed; None where one of the two is not known."""
    turning = [
        (one.turning.pitch_m_s, one)
        for one in drives
        if one.turning is not None and one.turning.pitch_m_s is not None
    ]
    if not turning or lift is None or lift.stall_m_s[1] <= 0:
        return None
    speed, slowest = min(turning, key=lambda pair: round(pair[0].value, 6))
    return slowest, speed.over(Span(*lift.stall_m_s))


def _pitch_ratio(drives: Sequence[Drive], lift: Lift | None) -> tuple[Number, ...]:
    found = pitch_ratio(drives, lift)
    if found is None or lift is None:
        return ()
    slowest, ratio = found
    rows = slowest.turning.turns_assumed if slowest.turning else ()
    return (
        number(
            "pitch_speed_ratio",
            "pitch speed over stall speed",
            ratio,
            "",
            "turns x pitch over stall speed",
            usual=USUAL_PITCH,
            assumed=(*rows, *lift.assumed),
        ),
    )
