"""How large control surfaces are: the share of the area of what carries them."""

import math

from foamcut.findings import Finding, Level
from foamcut.flight.controls_shape import board_mm2, hung, slug, words_on
from foamcut.flight.figures import Figures, Group, Number
from foamcut.flight.planform import Lifting, Planform
from foamcut.units import decimal_text, mm_text

_SADRAEY = "M. Sadraey, Aircraft Design: A Systems Engineering Approach, table 12.3, from memory"
#: usual shares of the area of the surface: of textbooks, low and high, and their words
_USUAL = {
    "aileron": ((0.03, 0.12), "5 to 10 %, 3 to 12 % at the outside", _SADRAEY),
    "elevator": ((0.15, 0.50), "15 to 40 %, up to 50 % on models", f"{_SADRAEY}; models: common practice"),
    "rudder": ((0.15, 0.50), "15 to 35 %, up to 50 % on models", f"{_SADRAEY}; models: common practice"),
}


def size_figures(plan: Planform) -> Figures:
    """The share of every kind of control on every surface, with advice where it is out of the usual.

    Chords are looked at where the controls are made; this is about areas alone.  Elevons have no usual share.
    """
    several = [one for one in (plan.wing, plan.tail, *plan.fins, *plan.others) if one is not None]
    made = [_sized(one, word) for one in several for word in words_on((one.surface,))]
    numbers: dict[str, Number] = {}
    for number, _ in made:
        if number.name not in numbers:
            numbers[number.name] = number
    return Figures(
        numbers=tuple(numbers.values()), findings=tuple(finding for _, finding in made if finding is not None)
    )


def _sized(lifting: Lifting, word: str) -> tuple[Number, Finding | None]:
    surface = lifting.surface
    board = board_mm2(surface)
    several = hung(surface, word)
    share = sum(one.area_mm2 for one in several) / board if board > 0 else 0.0
    limits, words, source = _USUAL.get(word, (None, "", ""))
    number = Number(
        name=f"share_{slug(surface.name)}_{slug(word)}",
        title=f"{word} of {surface.name}, share of its area",
        value=100 * share,
        unit="%",
        group=Group.PLANFORM,
        usual=f"{words} (M. Sadraey, from memory)" if words else "",
        source="geometry: board behind the hinge line over the board of the surface",
    )
    if limits is None or limits[0] <= round(share, 3) <= limits[1]:
        return number, None
    aim = limits[0] if share < limits[0] else limits[1]
    value = f"{decimal_text(100 * share)} %"
    chord = max(one.control.chord_mm for one in several)
    mend = f"give the {word} a chord and a length"
    if share > 0:
        exact = round(chord * aim / share, 3)  # rounded to the side where it mends
        mm = math.ceil(exact) if share < aim else math.floor(exact)
        longer = "longer" if share < aim else "shorter"
        mend = f"{mm} mm of chord instead of {mm_text(chord)}, or {longer} by as much"
    return number, Finding(
        code="control-size",
        level=Level.NOTE,
        where=several[0].control.key,
        text=f'the {word} is {value} of the area of "{surface.name}"',
        value=value,
        range=words,
        source=source,
        mend=mend,
    )
