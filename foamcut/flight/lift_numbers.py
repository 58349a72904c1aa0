"""Loadings and speeds as numbers with their ranges."""

import math
from typing import NamedTuple

from foamcut.flight.air import Air
from foamcut.flight.figures import Group, Loaded, Number
from foamcut.flight.lift_values import Lift, cube_loading, reynolds
from foamcut.flight.planform import Planform

#: approach at so many times the stall speed (full-size practice, from memory)
APPROACH = 1.3
#: ordinary flight, and what it is held to be for models (common practice, no source)
FLIGHT, _FLIGHT_LOW, _FLIGHT_HIGH = 1.5, 1.3, 2.0
#: a level turn banked so far bears 1 / cos(bank) times the weight
_BANK_DEG = 60.0
_STALL = "stall speed sqrt(2 W / (rho S CL)), CL = 0.9 x section x cos(sweep): Raymer ch. 12, from memory"


class _Speed(NamedTuple):
    name: str
    title: str
    factors: tuple[float, float, float]  # of the stall speed: usual, low, high
    usual: str
    source: str


_SPEEDS = (
    _Speed("stall_speed", "stall speed", (1.0, 1.0, 1.0), "", _STALL),
    _Speed(
        "stall_speed_banked",
        "stall speed in a level turn banked 60 degrees",
        (1 / math.sqrt(math.cos(math.radians(_BANK_DEG))),) * 3,
        "1.41 times that of level flight: 2 times the weight is borne",
        "stall speed grows with the square root of the load factor, 1 / cos(bank): FAA flight training text",
    ),
    _Speed(
        "approach_speed",
        "approach speed, 1.3 x stall",
        (APPROACH,) * 3,
        "1.3 x stall (full-size practice, from memory)",
        "1.3 x stall speed (full-size practice, from memory)",
    ),
    _Speed(
        "flight_speed",
        "speed of ordinary flight, 1.5 x stall",
        (FLIGHT, _FLIGHT_LOW, _FLIGHT_HIGH),
        "1.3 to 2 x stall (common practice, no source)",
        "1.5 x stall speed (common practice, no source)",
    ),
)


def lift_numbers(plan: Planform, now: Loaded, air: Air, lift: Lift) -> tuple[Number, ...]:
    """Loadings, highest lift coefficient, Reynolds number, speeds."""
    return (*_loadings(now, lift), _cl_max(lift), *_speeds(lift), _reynolds(plan, air, lift))


def _loadings(now: Loaded, lift: Lift) -> tuple[Number, ...]:
    """Their ranges are those of the weight: the area is as drawn."""
    light, heavy = (mass / now.mass_g if now.mass_g > 0 else 1.0 for mass in (now.low_g, now.high_g))
    loading, cube = lift.loading_kg_m2 * 10, cube_loading(now.mass_g, lift)
    return (
        Number(
            name="wing_loading",
            title="wing loading",
            value=loading,
            low=loading * light,
            high=loading * heavy,
            unit="g/dm2",
            group=Group.SPEED,
            usual="29 at 0.7 m span, 36 at 1.0 m, 42 at 1.2 m, 46 at 1.5 m (from memory)",
            source="all-up weight over wing area",
        ),
        Number(
            name="cube_loading",
            title="weight over wing area^1.5",
            value=cube,
            low=cube * light,
            high=cube * heavy,
            unit="kg/m3",
            group=Group.SPEED,
            usual="3-5 floater, 5-7 trainer, 7-10 sport, 10-13 scale, over 13 racer; authors differ",
            source="in print since 1959; bands from memory",
        ),
    )


def _cl_max(lift: Lift) -> Number:
    usual, low, high = lift.cl_max
    return Number(
        name="cl_max",
        title="highest lift coefficient of the wing",
        value=usual,
        low=low,
        high=high,
        unit="",
        group=Group.SPEED,
        source="0.9 x highest of the section x cos(sweep of the quarter line): Raymer ch. 12, from memory",
        assumed=lift.assumed,
    )


def _speeds(lift: Lift) -> tuple[Number, ...]:
    usual, low, high = lift.stall_m_s
    return tuple(
        Number(
            name=one.name,
            title=one.title,
            value=usual * one.factors[0],
            low=low * one.factors[1],
            high=high * one.factors[2],
            unit="m/s",
            group=Group.SPEED,
            usual=one.usual,
            source=one.source,
            assumed=lift.assumed,
        )
        for one in _SPEEDS
    )


def _reynolds(plan: Planform, air: Air, lift: Lift) -> Number:
    usual, low, high = (reynolds(plan, air, speed) for speed in lift.stall_m_s)
    return Number(
        name="reynolds_stall",
        title="Reynolds number at stall on the mean chord",
        value=usual,
        low=low,
        high=high,
        unit="",
        group=Group.SPEED,
        usual="50 000 to 200 000: lift coefficients are for these",
        source="density x stall speed x mean chord / viscosity (Sutherland, US Standard Atmosphere, 1976)",
        assumed=lift.assumed,
    )
