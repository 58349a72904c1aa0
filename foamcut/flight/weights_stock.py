"""What a square millimetre of each stock weighs: from weighed sheets, else from the table of usual values."""

import re
from dataclasses import dataclass

from foamcut.findings import Finding, Level
from foamcut.flat.stock import SheetSize, Stock
from foamcut.flight.assumed import ASSUMED
from foamcut.units import decimal_text, mm_text

#: rows of usual values by words of a material, the first that fits; what is none of them has no row
_ROWS = (
    ("light_plywood", r"(poplar|light|lite).*\bply(wood)?\b|\bply(wood)?\b.*poplar"),
    ("plywood", r"\bply(wood)?\b"),
    ("foam_board", r"\bfoam.?(board|core)|\bpaper.*(foam|polystyrene|[ex]ps\b)"),
    ("eps", r"\beps\b|\bexpanded polystyrene"),
    ("xps", r"\bxps\b|\bextruded polystyrene"),
    ("balsa", r"\bbalsa"),
    ("card", r"\b(card|cardboard|cardstock)\b"),
)
#: what such words may not mean: board with hollows, or foam that has no paper
_NONE_OF_THEM = r"corrugated|twin.?wall|honeycomb|without paper|no paper"


@dataclass(frozen=True, slots=True, kw_only=True)
class Areal:
    """Mass by area, g/mm2, with its range; `assumed` are the rows that it was taken from."""

    g_mm2: float
    low: float
    high: float
    source: str
    assumed: tuple[str, ...] = ()


def areal(stock: Stock) -> Areal | None:
    """Mass by area of a stock; None where no sheet was weighed and the table has no row for its material.

    Of several sizes that were weighed the mean by area is taken, and the least and the most are the range.
    An offcut counts as the sheet that it was cut from.
    """
    weighed = [size for size in stock.sheets if _area(size) > 0 and size.mass_g is not None]
    if weighed:
        each = [(size.mass_g or 0.0) / _area(size) for size in weighed]
        mean = sum(size.mass_g or 0.0 for size in weighed) / sum(_area(size) for size in weighed)
        text = f'weighed sheets of "{stock.name}", {_g_m2(mean)}'
        return Areal(g_mm2=mean, low=min(each), high=max(each), source=text)
    row = row_of(stock.material)
    if row is None:
        return None
    usual, per_mm2 = ASSUMED[row], stock.thickness_mm / 1e6  # kg/m3 x mm is g/m2
    return Areal(
        g_mm2=usual.value * per_mm2,
        low=usual.low * per_mm2,
        high=usual.high * per_mm2,
        source=f'"{stock.name}" not weighed: {_g_m2(usual.value * per_mm2)} of {usual.source}',
        assumed=(row,),
    )


def row_of(material: str) -> str | None:
    """The row of usual values for a material by its words; None where none fits."""
    words = material.casefold()
    if re.search(_NONE_OF_THEM, words):
        return None
    return next((row for row, pattern in _ROWS if re.search(pattern, words)), None)


def assumed_finding(stock: Stock, found: Areal) -> Finding:
    """No sheet of a stock was weighed."""
    usual = ASSUMED[found.assumed[0]]
    size = next((one for one in stock.sheets if _area(one) > 0), None)
    mend = "weigh a sheet and write its mass beside its size"
    if size is not None:
        long, wide = decimal_text(size.width_mm), decimal_text(size.height_mm)
        low, high = (decimal_text(g * _area(size), 0) for g in (found.low, found.high))
        mend = f"weigh a sheet of {long} x {wide} mm, {low} to {high} g, and write its mass beside its size"
    return Finding(
        code="mass-assumed",
        level=Level.NOTE,
        where=f"{size.key}.mass" if size else f"{stock.key}.sheets",
        text=(
            f'no sheet of "{stock.name}" was weighed: {_g_m2(found.g_mm2)} is taken'
            f" ({usual.what}, {mm_text(stock.thickness_mm, 2)} thick)"
        ),
        value=_g_m2(found.g_mm2),
        range=f"{decimal_text(found.low * 1e6, 0)} to {_g_m2(found.high)}",
        source=usual.source,
        mend=mend,
    )


def missing_finding(stock: Stock, area_mm2: float) -> Finding:
    """A stock that nothing is known of: its pieces weigh nothing in the sums."""
    area = f"{decimal_text(area_mm2 / 1e4, 1)} dm2"
    return Finding(
        code="mass-missing",
        level=Level.WARNING,
        where=f"{stock.key}.sheets",
        text=(
            f'no sheet of "{stock.name}" was weighed and no usual value is known for "{stock.material}":'
            f" {area} of pieces are left out of weight and balance"
        ),
        value=area,
        mend="weigh a sheet and write its mass beside its size",
    )


def _area(size: SheetSize) -> float:
    return size.width_mm * size.height_mm


def _g_m2(g_mm2: float) -> str:
    return f"{decimal_text(g_mm2 * 1e6, 0)} g/m2"
