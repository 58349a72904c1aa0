"""Gauges for what lies before the first cut: the thickness of a board, and the fit of slots.

mm.  Fit is what slots are wider than the stock that goes in; it is tried from 0.4 under to 0.6 over.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from foamcut.draw.flow import Block, frame
from foamcut.draw.gauges_cards import Card, fine, gauge, length_words, name_words, text, thin_words
from foamcut.draw.styles import STYLES
from foamcut.draw.values import Align, Line, Stroke, Text
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock
from foamcut.units import MM_PER_INCH, decimal_text

#: fits that are tried, tenths of a mm
FITS = tuple(range(-4, 7))
#: length of a slot of the gauge, and its least width, mm
SLOT_MM, _LEAST_MM = 20.0, 0.2
#: how far from the nominal thickness lines are drawn, tenths of a mm: of boards, of what is thinner than 3 mm
_AROUND, _AROUND_THIN, _THIN_MM = 10, 5, 3.0
_LINES_MM = 12.0
#: from slot to slot beside what the slot takes, from pair to pair likewise, and the left gutter, mm
_BETWEEN_MM, _PAIRS_MM, _GUTTER_MM = 9.0, 5.0, 19.0
_ROW_MM = 4.2
#: a fit that is no more off one of the gauge is boxed there, tenths
_NEAR = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A stock that goes into slots: of which stocks these are cut, and with which fits."""

    stock: Stock
    into: tuple[str, ...]
    fits_mm: tuple[float, ...]


def taken_stocks(parts: Sequence[Part], stocks: Sequence[Stock]) -> tuple[Taken, ...]:
    """Every stock that slots take, in the order of `stocks`."""
    found = []
    for stock in stocks:
        slots = [(part.stock, slot) for part in parts for slot in part.slots if slot.takes == stock.name]
        if slots:
            into = tuple(dict.fromkeys(name for name, _ in slots))
            fits = tuple(sorted({round(slot.fit_mm, 3) for _, slot in slots}))
            found.append(Taken(stock=stock, into=into, fits_mm=fits))
    return tuple(found)


def fit_gauges(
    parts: Sequence[Part], stocks: Sequence[Stock], tool: str, units: str, width_mm: float
) -> Iterator[Block]:
    """A fit gauge for every stock that goes into slots."""
    for one in taken_stocks(parts, stocks):
        named = name_words(one.stock.name)
        hosts = " and on one of ".join(name_words(name) for name in one.into)
        sentences = [
            f"For slots that take {named}, {thin_words(one.stock.thickness_mm, units)} thick by the design."
            f" Tape the drawing on a scrap of {hosts}, and cut every slot right through, along the middle of"
            f" its lines, just as you cut those of the plan. Push the square edge of another scrap of"
            f" {named}, some {length_words(SLOT_MM - 5, units)} wide, into one after another.",
            'Enter the one that holds the scrap without bending it: [cutting] fit = "0.2 mm" in the design'
            " file,"
            ' with its number; for one part alone [parts.NAME] cutting = { fit = "0.2 mm" }.'
            + _now(one.fits_mm, units),
        ]
        if tool != "knife":
            sentences.append(
                "A machine cuts otherwise than a knife: draw slots of the widths below in its own program,"
                " cut"
                " them with the kerf that it is set to, and try those."
            )
        yield gauge(f"Fit gauge, {named}", sentences, _fit_card(one, units, width_mm), width_mm)


def _now(fits: Sequence[float], units: str) -> str:
    """What the plan is cut with."""
    several = " and ".join(thin_words(fit, units) for fit in fits)
    boxed = " (in a box)" if any(_tenths(fit) is not None for fit in fits) else ""
    return f" The plan is cut with {several} now{boxed}."


def _tenths(fit_mm: float) -> int | None:
    """The nearest fit of the gauge, tenths; None for one that is farther off than a rounding."""
    tenths = round(fit_mm * 10)
    return tenths if tenths in FITS and abs(fit_mm * 10 - tenths) < _NEAR else None


def _fit_card(one: Taken, units: str, width_mm: float) -> Card:
    t = one.stock.thickness_mm
    fits = [tenths for tenths in FITS if t + tenths / 10 > _LEAST_MM]
    now = {_tenths(fit) for fit in one.fits_mm}
    pitch = max(14.0, t + _BETWEEN_MM)
    cells = []
    for tenths in fits:
        wide = t + tenths / 10
        rows = [f"{tenths / 10:.1f}", *_sizes(wide, units)]
        cells.append(([_slot(wide)], rows, tenths in now))
    return _cells(cells, ("fit, mm", *_units("slot", units)), pitch, SLOT_MM, width_mm)


def _slot(wide_mm: float) -> Stroke:
    return frame(-wide_mm / 2, 0.0, wide_mm / 2, SLOT_MM)


def thickness_gauges(stocks: Sequence[Stock], units: str, width_mm: float) -> Iterator[Block]:
    """Pairs of lines to read the thickness of each stock."""
    for stock in stocks:
        named = name_words(stock.name)
        sentence = (
            f"For the true thickness of {named}, by the design {thin_words(stock.thickness_mm, units)}. Cut a"
            " fresh square edge, stand it on the pairs of lines one after another, and find the pair whose"
            " white it just fills (in a box: the nearest to the design). Do so near four corners of the"
            f" sheet, and enter the mean as [stock.{_key(stock.name)}]"
            f' thickness = "{_typed(stock.thickness_mm, units)}". A caliper reads it better.'
        )
        yield gauge(f"Thickness of {named}", [sentence], _pairs_card(stock, units, width_mm), width_mm)


def _typed(mm: float, units: str) -> str:
    """A thickness as it is typed into the design, to what a pair of lines reads."""
    return f"{mm / MM_PER_INCH:.3f} in" if units == "in" else f"{decimal_text(mm, 2)} mm"


def _key(name: str) -> str:
    return name if len(name) <= 24 else "NAME"


def _pairs_card(stock: Stock, units: str, width_mm: float) -> Card:
    """Pairs of narrow lines, the white between them as wide as the number below."""
    middle = round(stock.thickness_mm * 10)
    around = _AROUND if stock.thickness_mm >= _THIN_MM else _AROUND_THIN
    values = [tenths / 10 for tenths in range(middle - around, middle + around + 1) if tenths > 2]
    pen = STYLES[Line.FRAME].width_mm
    pitch = max(11.0 if units == "in" else 8.4, stock.thickness_mm + around / 10 + _PAIRS_MM)
    cells = []
    for value in values:
        half = (value + pen) / 2
        lines = [fine((x, 0.0), (x, _LINES_MM)) for x in (-half, half)]
        lines.append(fine((-half, 0.0), (half, 0.0)))  # which two belong together
        cells.append((lines, list(_sizes(value, units)), round(value * 10) == middle))
    return _cells(cells, _units("white", units), pitch, _LINES_MM, width_mm)


def _sizes(mm: float, units: str) -> tuple[str, ...]:
    """A width in mm, and in thousandths of an inch for a design in inches."""
    places = 2 if round(mm * 100) % 10 else 1
    own = f"{round(mm, 6):.{places}f}"
    return (own, f"{mm / MM_PER_INCH:.3f}") if units == "in" else (own,)


def _units(word: str, units: str) -> tuple[str, ...]:
    return (f"{word}, mm", f"{word}, in") if units == "in" else (f"{word}, mm",)


_Cell = tuple[list[Stroke], list[str], bool]


def _cells(
    cells: Sequence[_Cell], captions: Sequence[str], pitch_mm: float, high_mm: float, width_mm: float
) -> Card:
    """Drawings above their numbers, in rows as wide as the page; those marked have a box about the first."""
    most = max(1, int((width_mm - _GUTTER_MM) // pitch_mm))
    each = math.ceil(len(cells) / math.ceil(len(cells) / most))
    below_mm = _ROW_MM * len(captions) + 1.0
    rows = [cells[i : i + each] for i in range(0, len(cells), each)]
    height = len(rows) * (high_mm + below_mm) + (len(rows) - 1) * 3.0
    strokes: list[Stroke] = []
    texts: list[Text] = []
    for r, row in enumerate(rows):
        foot = height - (r + 1) * (high_mm + below_mm) - r * 3.0 + below_mm
        texts += [text(words, (0.0, foot - _ROW_MM * (k + 1))) for k, words in enumerate(captions)]
        for i, (drawn, numbers, marked) in enumerate(row):
            x = _GUTTER_MM + pitch_mm * (i + 0.5)
            strokes += [_moved(stroke, x, foot) for stroke in drawn]
            for k, words in enumerate(numbers):
                texts.append(text(words, (x, foot - _ROW_MM * (k + 1)), align=Align.MIDDLE))
            if marked:
                low = foot - _ROW_MM - 0.8
                strokes.append(frame(x - 3.8, low, x + 3.8, low + 4.1))
    return Card(width_mm=width_mm, height_mm=height, strokes=tuple(strokes), texts=tuple(texts))


def _moved(stroke: Stroke, x: float, y: float) -> Stroke:
    return Block(height_mm=0.0, strokes=(stroke,)).moved(x, y).strokes[0]
