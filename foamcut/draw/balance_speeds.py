"""The speeds of a balance on one scale: stall, 1.3 times that, pitch speed, each with its range.

mm on the picture.
"""

from collections.abc import Sequence

from foamcut.draw.balance_frame import Scale, Sheet, axis, box, closed, headed, steps, ticks, whisker
from foamcut.draw.balance_words import (
    PITCH_MM,
    PLAIN_MM,
    broken,
    column,
    mph,
    speed_words,
    speeds_words,
    words_at,
)
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Title
from foamcut.flight.figures import Number, Report
from foamcut.units import decimal_text

NAME = "balance-speeds"
_WIDTH_MM = 220.0
_WORDS_MM, _GAP_MM, _END_MM = 72.0, 6.0, 8.0
_BAR_MM, _ROW_GAP_MM, _AXIS_MM = 1.8, 3.0, 7.5


def speed_picture(report: Report, title: Title) -> Picture | None:
    """All speeds of the report, the slowest first; None without any."""
    several = [one for one in report.numbers if one.unit == "m/s" and one.value > 0]
    if not several:
        return None
    # equal ones stay in the order of the report
    several = sorted(several, key=lambda one: round(one.value, 6))
    units = title.sketch_unit
    sheet = headed(_WIDTH_MM, title, "speeds, each with its range")
    left, right = sheet.left + _WORDS_MM + _GAP_MM, sheet.right - _END_MM
    scale = Scale(low=0.0, high=1.04 * max(map(_highest, several)), left=left, right=right)
    _scale(sheet, scale, units, below=False)
    for one in several:
        _row(sheet, one, scale, units)
    _scale(sheet, scale, units, below=True)
    closed(sheet)
    return sheet.finished(NAME, "Speeds", "Bars from 0 to each speed; a line with ends shows its range.")


def _highest(one: Number) -> float:
    return max(one.value, one.high or 0.0)


def _scale(sheet: Sheet, scale: Scale, units: str, *, below: bool) -> None:
    """m/s below the bars, km/h or miles an hour above them."""
    word, per = ("m/s", 1.0) if below else ("mph", mph(1.0)) if units == "in" else ("km/h", 3.6)
    most = scale.high * per
    marks = [(value / per, decimal_text(value, 3)) for value in ticks(0.0, most, steps(most, 8))]
    y = sheet.y if below else sheet.y - _AXIS_MM + 1.5
    shapes, texts = axis(scale, y, marks, below=below)
    sheet.shapes += shapes
    sheet.texts += texts
    level = y - 2.4 - PLAIN_MM if below else y + 2.4
    sheet.texts.append(words_at((sheet.left, level), word))
    sheet.y -= _AXIS_MM


def _row(sheet: Sheet, one: Number, scale: Scale, units: str) -> None:
    words = [one.title, speed_words(one.value, units)]
    if _has_range(one):
        words.append(speeds_words(one.low or 0.0, one.high or 0.0, units))
    lines: Sequence[str] = [line for each in words for line in broken(each, _WORDS_MM)]
    sheet.texts += column(lines, sheet.left, sheet.y)
    high = len(lines) * PITCH_MM
    y = sheet.y - high / 2
    end = scale.at(one.value)
    sheet.shapes.append(box(Ink.BAR, scale.left, y - _BAR_MM, end, y + _BAR_MM))
    if _has_range(one):
        sheet.shapes += whisker(scale.at(one.low or 0.0), scale.at(one.high or 0.0), y)
    sheet.shapes.append(
        Shape(ink=Ink.AXIS, points=((scale.left, sheet.y + 1.5), (scale.left, sheet.y - high)))
    )
    sheet.y -= high + _ROW_GAP_MM


def _has_range(one: Number) -> bool:
    return one.low is not None and one.high is not None and round(one.high - one.low, 3) > 0
