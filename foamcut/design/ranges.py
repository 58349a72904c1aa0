"""Which numbers a key takes, and what is said of those that it does not."""

from foamcut.design.key_kinds import Range
from foamcut.units import decimal_text

#: beyond it a slope runs out too thin to hold its paper (common practice, no source)
STEEPEST_DEG = 80.0
#: ground that is flown from, with the lowest shore of the dry land at -430 m
ALTITUDE_M = (-500, 9000)
WEATHER_DEGC = (-60, 60)
LOAD_FACTORS = (1, 20)
_LEAST_MM = 1e-6  # above 0 is a nanometre or more: coordinates are rounded to it


def out_of_range(value: float, range_: Range, unit: str = "") -> str | None:
    """Why a number may not stand here; None when it may, and for nan."""
    if range_ is Range.ANY or value != value:
        return None
    if range_ is Range.ALTITUDE:
        low, high = ALTITUDE_M
        shown = f"{decimal_text(value / 1000, 1)} m"
        fits = low <= value / 1000 <= high
        return None if fits else f"{shown} is not from {low} m to {high:,} m above the sea; check the number"
    shown = f"{decimal_text(value, 6)}{unit}"
    if range_ is Range.ABOVE_0 and value < _LEAST_MM:
        return f"{shown} is not above 0; write a larger number"
    if range_ is Range.FROM_0 and value < 0:
        return f"{shown} is less than 0; write 0 or more"
    if range_ is Range.FIT and not -1 <= value <= 3:
        return f"{shown} is not from -1 mm to 3 mm; a slot is that much wider than what it takes"
    if range_ is Range.SHARE and (value < 0 or value > 1):
        return f'{shown} is not from 0 to 1; write a share such as "25 %"'
    if range_ is Range.KERF and not 0 <= value <= 3:
        return f"{shown} is not from 0 to 3 mm; kerf is the full width of what the tool removes"
    if range_ is Range.SLOPE and not 0 <= value <= STEEPEST_DEG:
        return f"{shown} is not from 0 to {STEEPEST_DEG:g} degrees; it is measured from square"
    if range_ is Range.THROW and not 0 < value <= STEEPEST_DEG:
        return (
            f"{shown} is not above 0 and up to {STEEPEST_DEG:g} degrees; write how far it moves to each side"
        )
    if range_ is Range.LEAN and not -45 <= value <= 45:
        return f"{shown} is not from -45 to 45 degrees; write it in degrees"
    if range_ is Range.WEATHER and not WEATHER_DEGC[0] <= value <= WEATHER_DEGC[1]:
        return f"{shown} degC is not from {WEATHER_DEGC[0]} to {WEATHER_DEGC[1]} degC; write that of the air"
    if range_ is Range.LOAD_FACTOR and not LOAD_FACTORS[0] <= value <= LOAD_FACTORS[1]:
        return (
            f"{shown} is not from {LOAD_FACTORS[0]} to {LOAD_FACTORS[1]}; 1 is level flight, 4 a tight turn"
        )
    if range_ is Range.SLOPE_ABOVE_0 and not 0 < value <= STEEPEST_DEG:
        return f"{shown} is not above 0 and up to {STEEPEST_DEG:g} degrees; it is measured from square"
    return None
