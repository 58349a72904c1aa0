"""Paint that weighs so much, or lies so far off, that a builder should know.  g and mm."""

from collections.abc import Iterator, Sequence

from foamcut.findings import Finding, Level
from foamcut.flight.figures import Item, Loaded
from foamcut.flight.loading_sums import centre_of, mass_of
from foamcut.flight.loading_target import mean_chord_mm
from foamcut.flight.planform import Planform
from foamcut.flight.values import Carried, Setup
from foamcut.units import decimal_text, mm_text

#: more than this share of the weight, or of the mean chord by which it moves the balance, is worth a note
_HEAVY, _MOVES = 0.05, 0.01
#: a balance that moves by less stays, mm
_TOLD_MM = 0.05


def paint_findings(
    items: Sequence[Item], now: Loaded, setup: Setup, plan: Planform | None
) -> Iterator[Finding]:
    """What the paint weighs and does to the balance, of a whole coat and of paint that is carried alike."""
    keys = [f"{setup.wishes.key}.paint", *(one.key for one in setup.of(Carried.PAINT))]
    paint = [one for one in items if one.key in keys]
    mass = mass_of(paint)
    if not mass > 0 or not now.mass_g > 0:
        return
    without = centre_of([one for one in items if one.key not in keys])
    shift = 0.0 if without is None else now.at[0] - without[0]
    chord = mean_chord_mm(plan)[1] if plan is not None else 0.0
    share, moves = mass / now.mass_g, abs(shift) / chord if chord > 0 else 0.0
    if round(share, 6) <= _HEAVY and round(moves, 6) <= _MOVES:
        return
    grams, percent = decimal_text(mass, 0), decimal_text(100 * share, 1)
    way = f"moves the balance by {mm_text(abs(shift))} {'back' if shift > 0 else 'forward'}"
    way = way if abs(shift) >= _TOLD_MM else "leaves the balance where it is"
    yield Finding(
        code="paint-weight",
        level=Level.NOTE,
        where=max(paint, key=lambda one: round(one.mass_g, 3)).key,
        text=f"paint weighs {grams} g, {percent} % of the model, and {way}",
        value=f"{grams} g",
        range="at most 5 % of the weight and 1 % of the mean chord",
        source="common practice, no source",
        mend=f"half as much paint takes {decimal_text(mass / 2, 0)} g off",
    )
