"""The weights of a balance as bars: by kind with the heaviest things of each, their ranges, and the sum.

mm on the picture.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.draw.balance_frame import Scale, Sheet, axis, box, closed, headed, steps, ticks, whisker
from foamcut.draw.balance_model import without_hand
from foamcut.draw.balance_words import (
    PITCH_MM,
    PLAIN_MM,
    mass_words,
    masses_words,
    shortened,
    width_mm,
    words_at,
)
from foamcut.draw.picture import Ink, Picture
from foamcut.draw.values import Align, Title
from foamcut.flight.figures import Item, Report, Sort
from foamcut.units import GRAM_PER, decimal_text

NAME = "balance-weights"
_WIDTH_MM = 240.0
_WORDS_MM, _GAP_MM, _END_MM, _INDENT_MM = 116.0, 4.0, 8.0, 5.0
_NAMED = 4
_BAR_MM, _PART_MM, _WHISKER_MM = 1.7, 1.1, 1.2
_ROW_GAP_MM, _SORT_GAP_MM, _AXIS_MM = 0.9, 2.2, 7.5


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sum:
    """Some things together; `low` and `high` bound the mass."""

    name: str
    mass_g: float
    low_g: float
    high_g: float

    @classmethod
    def of(cls, name: str, items: Sequence[Item]) -> "_Sum":
        lows, highs = (
            (min(one.low_g, one.mass_g) for one in items),
            (max(one.high_g, one.mass_g) for one in items),
        )
        return cls(name=name, mass_g=sum(one.mass_g for one in items), low_g=sum(lows), high_g=sum(highs))


def weight_picture(report: Report, title: Title) -> Picture | None:
    """Bars of all weights; None where nothing weighs anything."""
    whole = _Sum.of("sum of all", report.items)
    if whole.mass_g <= 0:
        return None
    units = title.sketch_unit
    sheet = headed(_WIDTH_MM, title, "weights, each with its range")
    left, right = sheet.left + _WORDS_MM + _GAP_MM, sheet.right - _END_MM
    scale = Scale(low=0.0, high=1.02 * max(whole.high_g, whole.mass_g), left=left, right=right)
    for sort in Sort:
        items = [one for one in report.items if one.sort is sort and round(one.mass_g, 3)]
        if items:
            _row(sheet, _Sum.of(sort.value, items), whole, scale, units)
            for one in _heaviest(items):
                _row(sheet, one, None, scale, units)
            sheet.y -= _SORT_GAP_MM
    _row(sheet, whole, whole, scale, units, ink=Ink.SOLID)
    sheet.y -= _SORT_GAP_MM
    _axis(sheet, scale, units)
    if lost := sum(one.at is None and one.mass_g > 0 for one in report.items):
        mass = mass_words(sum(one.mass_g for one in report.items if one.at is None), units)
        things = "thing has" if lost == 1 else "things have"
        sheet.lines(f"{lost} {things} no place on the model: {mass} that count for the weight alone")
    closed(sheet)
    told = (
        f"Bars of the weights by kind, {mass_words(whole.mass_g, units)} in all; lines with ends show ranges."
    )
    return sheet.finished(NAME, "Weights", told)


def _heaviest(items: Sequence[Item]) -> list[_Sum]:
    """The heaviest things of a kind, pairs together, and all others as one."""
    named: dict[tuple[str, str], list[Item]] = {}
    for one in items:
        named.setdefault((one.key, without_hand(one.name)), []).append(one)
    sums = [
        _Sum.of(those[0].name if len(those) == 1 else f"{len(those)} x {name}", those)
        for (_, name), those in named.items()
    ]
    order = sorted(range(len(sums)), key=lambda i: (-round(sums[i].mass_g, 3), i))
    # one more is as short as saying that there is one more
    most = _NAMED if len(sums) > _NAMED + 1 else len(sums)
    shown, rest = [sums[i] for i in order[:most]], [sums[i] for i in order[most:]]
    if rest:
        shown.append(
            _Sum(
                name=f"{len(rest)} others",
                mass_g=sum(one.mass_g for one in rest),
                low_g=sum(one.low_g for one in rest),
                high_g=sum(one.high_g for one in rest),
            )
        )
    return shown


def _row(
    sheet: Sheet, one: _Sum, whole: _Sum | None, scale: Scale, units: str, *, ink: Ink = Ink.BAR
) -> None:
    """A bar with its name, mass, share and range; of a single thing (`whole` None) thinner and set in."""
    set_in = 0.0 if whole else _INDENT_MM
    said = mass_words(one.mass_g, units)
    if round(one.high_g - one.low_g, 2) > 0:
        said += f" ({masses_words(one.low_g, one.high_g, units)})"
    if whole and one is not whole:
        said += f", {decimal_text(100 * one.mass_g / whole.mass_g, 0)} %"
    base = sheet.y - PLAIN_MM
    end = sheet.left + _WORDS_MM
    sheet.texts.append(words_at((end, base), said, align=Align.RIGHT))
    room = _WORDS_MM - set_in - width_mm(said) - 3.0
    sheet.texts.append(words_at((sheet.left + set_in, base), shortened(one.name, room)))
    y, half = base + PLAIN_MM / 2, _BAR_MM if whole else _PART_MM
    bar = ink if whole else Ink.PART_BAR
    sheet.shapes.append(box(bar, scale.left, y - half, scale.at(one.mass_g), y + half))
    if round(one.high_g - one.low_g, 2) > 0:
        sheet.shapes += whisker(scale.at(one.low_g), scale.at(one.high_g), y, _WHISKER_MM)
    sheet.y -= PITCH_MM + _ROW_GAP_MM


def _axis(sheet: Sheet, scale: Scale, units: str) -> None:
    word, per = ("oz", 1 / float(GRAM_PER["oz"])) if units == "in" else ("g", 1.0)
    most = scale.high * per
    marks = [(value / per, decimal_text(value, 3)) for value in ticks(0.0, most, steps(most, 6))]
    shapes, texts = axis(scale, sheet.y, marks)
    sheet.shapes += shapes
    sheet.texts += texts
    at = sheet.left + _WORDS_MM, sheet.y - 2.4 - PLAIN_MM
    sheet.texts.append(words_at(at, word, align=Align.RIGHT))
    sheet.y -= _AXIS_MM
