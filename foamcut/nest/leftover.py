"""The largest rectangle that a sheet keeps in one piece."""

from collections.abc import Sequence

from foamcut.flat.stock import Stock
from foamcut.nest.values import Left, Sheet

#: x0, y0, x1, y1, whole numbers
Box = tuple[int, int, int, int]


def largest_left(sheet: Sheet, stock: Stock, step_mm: float = 1.0) -> Left | None:
    """The largest upright rectangle of the sheet that keeps the gap off everything on it.

    None: there is none.  Width and height are rounded down to whole steps.
    """
    return None


def free_area(room: Box, obstacles: Sequence[Box]) -> int:
    """Area of the largest upright rectangle inside a room that shares no inside with any obstacle."""
    return 0
