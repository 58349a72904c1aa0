"""Whether the power that is given and the propeller at its turns go together.  W at the shaft."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.findings import Finding, Level
from foamcut.flight.power_drives import Drive, Span, row
from foamcut.flight.power_words import listed, same_shape_text
from foamcut.units import decimal_text

#: a battery of so many cells more is another aeroplane's
_MOST_CELLS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """Shaft power: what the propeller takes over the range of turns under load, and what the power gives."""

    takes_w: Span
    given_w: Span

    @property
    def fits(self) -> bool:
        """Whether the power given lies in that range."""
        return (
            round(self.takes_w.low - self.given_w.value, 3)
            <= 0
            <= round(self.takes_w.high - self.given_w.value, 3)
        )

    @property
    def is_large(self) -> bool:
        """Whether the propeller takes more."""
        return self.takes_w.value > self.given_w.value

    def times(self, factor: float) -> "Match":
        """The same where the propeller takes so many times as much."""
        return Match(takes_w=self.takes_w.times(factor), given_w=self.given_w)


def match_of(one: Drive) -> Match | None:
    """Both powers of a motor; None where one of them is not known by itself.

    Shaft power goes with the cube of turns, so that its range is that of the turns under load as a share of
    speed constant times voltage, 0.65 to 0.85 for 0.75.  Limits: usual coefficients and efficiency; blades
    of other shapes differ by a fifth besides.
    """
    motor, turning, given = one.engine.motor, one.turning, one.shaft_w
    if motor is None or motor.power_w is None or turning is None or not turning.by_constant:
        return None
    if given is None or turning.shaft_w is None or given.value <= 0 or turning.shaft_w.value <= 0:
        return None
    share = row("loaded_speed")
    low, high = ((each / share.value) ** 3 for each in (share.low, share.high))
    takes = turning.shaft_w.value
    return Match(takes_w=Span(takes, takes * low, takes * high), given_w=given)


def cells_of(one: Drive) -> int | None:
    """Cells that feed a motor; None where that is not known."""
    return None if one.volts is None else round(one.volts.value / row("cell_voltage").value)


def match_finding(one: Drive, match: Match, with_it: Sequence[tuple[str, Finding]]) -> Finding | None:
    """Said where they do not go together; `with_it` is what may come of it alone, and its words."""
    motor, turning = one.engine.motor, one.turning
    if motor is None or motor.power_w is None or turning is None:
        return None
    grave = match.is_large or any(each.level is not Level.NOTE for _, each in with_it)
    takes, given = match.takes_w, match.given_w
    words = (
        f"the power given, {decimal_text(motor.power_w, 0)} W ({decimal_text(given.value, 0)} W at the"
        f" shaft), and the propeller, which takes about {decimal_text(takes.value, 0)} W there"
        f" ({decimal_text(takes.low, 0)} to {decimal_text(takes.high, 0)}) at"
        f" {decimal_text(turning.rpm.value, 0)} rpm, do not go together"
    )
    if with_it:
        words += f"; with it go {', '.join(word for word, _ in with_it)}"
    return Finding(
        code="propeller-match",
        level=Level.WARNING if grave else Level.NOTE,
        where=motor.propeller.key,
        text=words,
        value=f"{decimal_text(takes.value, 0)} W",
        range=f"{decimal_text(given.low, 0)} to {decimal_text(given.high, 0)} W",
        source="coefficients of the UIUC propeller database",
        mend=listed([*_mends(one, match), "measure the power with this propeller and write that"]),
    )


def _mends(one: Drive, match: Match) -> list[str]:
    motor = one.engine.motor
    if motor is None:
        return []
    ratio = match.given_w.value / match.takes_w.value
    shape = same_shape_text(motor.propeller.diameter_mm, ratio**0.2)
    return [*_cells(one, match, ratio), *([shape] if shape else [])]


def _cells(one: Drive, match: Match, ratio: float) -> list[str]:
    """The cells whose turns take the power given, where another whole number of them does."""
    has = cells_of(one)
    if has is None:
        return []
    wanted = max(round(has * math.cbrt(min(ratio, 1e6))), 1)
    if wanted == has or wanted > _MOST_CELLS or not match.times((wanted / has) ** 3).fits:
        return []
    return [f"{wanted} cell{'s' if wanted > 1 else ''} instead of {has}"]
