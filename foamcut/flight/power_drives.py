"""What each motor does by itself: electric power, turns, static thrust in two ways, current.  SI, rpm.

First way: the actuator disc with a figure of merit, from power.  Second way: measured coefficients of
propellers, at turns that follow from the speed constant, or from power.  Everything has a range.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from foamcut.airframe.values import Motor, Propeller
from foamcut.flight.assumed import ASSUMED
from foamcut.flight.power_formulas import disc_thrust, pitch_speed, rpm_for_power, turned_power, turned_thrust
from foamcut.flight.power_supply import Circuit, Engine

#: pitch over diameter of the two rows of coefficients, and where a straight line through them is trusted
_FLAT, _STEEP = 0.45, 0.75
FLATTEST, STEEPEST = 0.35, 0.85
_THRUST_ROWS, _POWER_ROWS = (
    tuple(f"{one}_coefficient_{which}" for which in ("flat", "steep")) for one in ("thrust", "power")
)


class Span(NamedTuple):
    """A value with its bounds."""

    value: float
    low: float
    high: float

    def over(self, other: "Span") -> "Span":
        """The quotient of two positive values that vary without regard to each other."""
        return Span(self.value / other.value, self.low / other.high, self.high / other.low)

    def times(self, factor: float) -> "Span":
        """All of it so many times."""
        return Span(self.value * factor, self.low * factor, self.high * factor)


class Known(Enum):
    """How the electric power of a motor is known."""

    GIVEN = "the power given"
    TURNS = "the turns and the power coefficient"
    LIMIT = "the current limit times the battery's voltage, which is the most"


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning:
    """A propeller at its turns while standing still; `by_constant`: turns follow from the speed constant.

    `thrust_n` and `shaft_w` are not known of a propeller without coefficients, `pitch_m_s` not of one without
    a pitch.  `turns_assumed` are the rows that went into turns and pitch speed, `assumed` those of the
    thrust, `shaft_assumed` those of the shaft power.
    """

    rpm: Span
    thrust_n: Span | None
    shaft_w: Span | None
    pitch_m_s: Span | None
    by_constant: bool
    turns_assumed: tuple[str, ...]
    assumed: tuple[str, ...]
    shaft_assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """One engine: every number is that of each of its motors.

    `disc_n` is the thrust of the actuator disc, not given where its power would follow from `turning`.
    """

    engine: Engine
    volts: Span | None = None
    electric_w: Span | None = None
    known: Known | None = None
    disc_n: Span | None = None
    turning: Turning | None = None

    @property
    def at_most(self) -> bool:
        """Whether power, thrust and current are the most that there can be."""
        return self.known is Known.LIMIT

    @property
    def thrust_n(self) -> Span | None:
        """Static thrust of each: of the disc where its power is known, else by the turns."""
        return self.disc_n or (self.turning.thrust_n if self.turning else None)

    @property
    def current_a(self) -> Span | None:
        """Current of each at full throttle, at the nominal voltage; its range that of power and voltage."""
        if self.electric_w is None or self.volts is None:
            return None
        return self.electric_w.over(self.volts)

    @property
    def shaft_w(self) -> Span | None:
        """Shaft power of each, from its electric power."""
        if self.electric_w is None:
            return None
        share = row("motor_efficiency")
        return Span(*(e * s for e, s in zip(self.electric_w, share, strict=True)))

    @property
    def thrust_assumed(self) -> tuple[str, ...]:
        """Rows that went into the thrust."""
        if self.disc_n is None:
            return self.turning.assumed if self.turning else ()
        voltage = ("cell_voltage",) if self.at_most else ()
        return ("figure_of_merit", "motor_efficiency", *voltage)

    @property
    def power_assumed(self) -> tuple[str, ...]:
        """Rows that went into the electric power."""
        match self.known:
            case Known.TURNS:
                return (*(self.turning.shaft_assumed if self.turning else ()), "motor_efficiency")
            case Known.LIMIT:
                return ("cell_voltage",)
            case _:
                return ()


def row(name: str) -> Span:
    """A row of usual values as a span."""
    found = ASSUMED[name]
    return Span(found.value, found.low, found.high)


def drive(engine: Engine, circuit: Circuit, density_kg_m3: float) -> Drive:
    """What one engine does on its circuit; nothing is known of one without a [motor.*]."""
    volts = row("cell_voltage").times(circuit.cells) if circuit.cells else None
    motor = engine.motor
    if motor is None:
        return Drive(engine=engine, volts=volts)
    turning = _turning(motor, volts, density_kg_m3)
    known, electric = _electric(motor, volts, turning)
    disc = None
    if electric is not None and known is not Known.TURNS:
        disc = _disc(motor, electric, density_kg_m3)
    return Drive(engine=engine, volts=volts, electric_w=electric, known=known, disc_n=disc, turning=turning)


def _electric(motor: Motor, volts: Span | None, turning: Turning | None) -> tuple[Known | None, Span | None]:
    if motor.power_w is not None:
        return Known.GIVEN, Span(motor.power_w, motor.power_w, motor.power_w)
    if turning is not None and turning.shaft_w is not None:
        return Known.TURNS, turning.shaft_w.over(row("motor_efficiency"))
    if motor.current_limit_a is not None and volts is not None:
        return Known.LIMIT, volts.times(motor.current_limit_a)
    return None, None


def _disc(motor: Motor, electric: Span, density: float) -> Span:
    merit, share = row("figure_of_merit"), row("motor_efficiency")
    diameter = motor.propeller.diameter_mm / 1000
    value, low, high = (
        disc_thrust(e * s, diameter, density, m) for e, s, m in zip(electric, share, merit, strict=True)
    )
    return Span(value, low, high)


class Coefficients(NamedTuple):
    """Thrust and power coefficient of a propeller that stands still."""

    thrust: float
    power: float


def coefficients(propeller: Propeller) -> tuple[Coefficients, Coefficients, Coefficients] | None:
    """Usual, low and high coefficients by pitch over diameter; None beyond what was measured.

    Straight between measured propellers of two blades at pitch/diameter 0.45 and 0.75, up to 0.1 beyond.
    Narrow blades have both coefficients low, wide ones both high.  Source: UIUC propeller database (see the
    rows).
    """
    if propeller.pitch_mm is None or propeller.blades != 2:
        return None
    steep = propeller.pitch_mm / propeller.diameter_mm
    if not FLATTEST <= steep <= STEEPEST:
        return None
    share = (steep - _FLAT) / (_STEEP - _FLAT)
    thrust, power = (
        [a + (b - a) * share for a, b in zip(row(f"{one}_flat"), row(f"{one}_steep"), strict=True)]
        for one in ("thrust_coefficient", "power_coefficient")
    )
    usual, low, high = (Coefficients(t, p) for t, p in zip(thrust, power, strict=True))
    return usual, low, high


def _turning(motor: Motor, volts: Span | None, density: float) -> Turning | None:
    """By the speed constant and the voltage, else by the power; None where neither is known.

    The speed constant tells turns of any propeller, thrust and power of those alone that have coefficients.
    """
    found = coefficients(motor.propeller)
    diameter = motor.propeller.diameter_mm / 1000
    if motor.speed_constant_rpm_v is not None and volts is not None:
        turns = row("loaded_speed").times(motor.speed_constant_rpm_v * volts.value)
        how: tuple[str, ...] = ("cell_voltage", "loaded_speed")
        if found is None:
            return _turned(motor, turns, (None, None), (how, how, how), by_constant=True)

        def taken(rpm: float, one: Coefficients) -> float:
            return turned_power(one.power, rpm, diameter, density)

        def pulled(rpm: float, one: Coefficients) -> float:
            return turned_thrust(one.thrust, rpm, diameter, density)

        thrust, shaft = _bounds(pulled, turns, found), _bounds(taken, turns, found)
        rows = (how, (*how, *_THRUST_ROWS), (*how, *_POWER_ROWS))
        return _turned(motor, turns, (thrust, shaft), rows, by_constant=True)
    if found is None or motor.power_w is None:
        return None
    given = row("motor_efficiency").times(motor.power_w)

    def speed(shaft_w: float, one: Coefficients) -> float:
        return rpm_for_power(one.power, shaft_w, diameter, density)

    def pull(shaft_w: float, one: Coefficients) -> float:
        return turned_thrust(one.thrust, speed(shaft_w, one), diameter, density)

    turns, thrust = _bounds(speed, given, found), _bounds(pull, given, found)
    given_by: tuple[str, ...] = ("motor_efficiency",)
    how = (*given_by, *_POWER_ROWS)
    rows = (how, (*how, *_THRUST_ROWS), given_by)
    return _turned(motor, turns, (thrust, given), rows, by_constant=False)


def _turned(
    motor: Motor,
    turns: Span,
    made: tuple[Span | None, Span | None],
    rows: tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]],
    *,
    by_constant: bool,
) -> Turning:
    """From thrust and shaft power, and the rows of turns, thrust and shaft power."""
    pitch, (thrust, shaft) = motor.propeller.pitch_mm, made
    return Turning(
        rpm=turns,
        thrust_n=thrust,
        shaft_w=shaft,
        pitch_m_s=None if pitch is None else Span(*(pitch_speed(one, pitch / 1000) for one in turns)),
        by_constant=by_constant,
        turns_assumed=rows[0],
        assumed=rows[1],
        shaft_assumed=rows[2],
    )


def _bounds(
    of: Callable[[float, Coefficients], float], inputs: Span, several: Iterable[Coefficients]
) -> Span:
    """A result at the usual values, and its least and greatest over the ranges."""
    kept = list(several)
    every = [of(given, one) for given in inputs for one in kept]
    return Span(of(inputs.value, kept[0]), min(every), max(every))
