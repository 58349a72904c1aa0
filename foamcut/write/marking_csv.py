"""The distances of the marking-out sheet as CSV (RFC 4180)."""

from collections.abc import Sequence

from foamcut.draw.marking import MarkingRow
from foamcut.units import decimal_text
from foamcut.write import table

COLUMNS = (
    "stock",
    "sheet",
    "piece",
    "point",
    "from_left",
    "from_bottom",
    "unit",
    "written",
    "rounding_error_mm",
)
#: decimals of a rounding error, mm
_PLACES = 4


def render(rows: Sequence[MarkingRow]) -> bytes:
    """The rows with a header, UTF-8."""
    return table.render([COLUMNS, *(_cells(row) for row in rows)])


def _cells(row: MarkingRow) -> tuple[str, ...]:
    return (
        row.stock,
        str(row.sheet),
        row.piece,
        row.point,
        row.from_left,
        row.from_bottom,
        row.unit,
        row.written,
        decimal_text(row.rounding_error_mm, _PLACES),
    )
