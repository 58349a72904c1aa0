"""The numbers that a builder sets a finished aeroplane up by: weight, balance, throws."""

from collections.abc import Iterator

from foamcut.flight.amounts import amount, unit_word
from foamcut.flight.figures import Report
from foamcut.flight.values import Model


def set_up_words(report: Report, model: Model, units: str) -> Iterator[str]:
    """Weight, balance and throws, a line each, for people whose ruler reads `units` (mm or in)."""

    def said(value: float, unit: str) -> str:
        return f"{amount(value, unit, units)} {unit_word(unit, units)}"

    now = report.loaded
    if now is not None:
        bounds = f"{amount(now.low_g, 'g', units)} to {said(now.high_g, 'g')}"
        yield f"set up: weighs about {said(now.mass_g, 'g')} ready to fly ({bounds})"
        wing = model.inputs.wing
        edge, place = (wing.at[0], "the wing's leading edge at the root") if wing else (0.0, "the nose")
        line = f"set up: balances {said(now.at[0] - edge, 'mm')} behind {place} as drawn"
        if now.target_mm is not None:
            line += f", and shall at {said(now.target_mm - edge, 'mm')}"
        yield line
    if report.throws:
        several = [
            f"{one.surface} {one.word} {said(one.mm, 'mm')} ({one.deg:g} deg)" for one in report.throws
        ]
        yield f"set up: throws, each way at the trailing edge: {', '.join(several)}"
