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
    """Area of the largest upright rectangle inside a room that shares no inside with any obstacle.

    Exact.  Its left side lies on the room's or on an obstacle's right side; from each such side the sweep
    goes right, and every obstacle on the way cuts what is still open up and down, or splits it.
    """
    x0, y0, x1, y1 = room
    boxes = sorted(b for b in obstacles if max(x0, b[0]) < min(x1, b[2]) and max(y0, b[1]) < min(y1, b[3]))
    best = 0
    for left in sorted({x0, *(box[2] for box in boxes if box[2] < x1)}):
        most = x1 - left
        if most * (y1 - y0) <= best:
            break
        spans = [(y0, y1)]
        for near, low, far, high in boxes:
            if far <= left:
                continue
            still = []
            for below, above in spans:
                if low >= above or high <= below:
                    still.append((below, above))
                    continue
                best = max(best, (near - left) * (above - below))
                still += [s for s in ((below, low), (high, above)) if (s[1] - s[0]) * most > best]
            spans = still
            if not spans:
                break
        best = max([best, *(most * (above - below) for below, above in spans)])
    return best
