"""Free room on a page among rectangles that are taken.

mm on the page.  A block goes into a corner made by the page's edges and what is there already: candidates are
where its sides would touch one of them.
"""

from typing import NamedTuple


class Rectangle(NamedTuple):
    """From its lower left to its upper right corner."""

    x0: float
    y0: float
    x1: float
    y1: float


class Room:
    """A page, and what is taken on it."""

    def __init__(self, page: tuple[float, float, float, float], gap_mm: float) -> None:
        self._page = Rectangle(*page)
        self._gap = gap_mm
        self._taken: list[Rectangle] = []

    def take(self, rectangle: Rectangle) -> None:
        """Nothing else may lie there, nor nearer than the gap."""
        gap = self._gap - 1e-6
        x0, y0, x1, y1 = rectangle
        self._taken.append(Rectangle(x0 - gap, y0 - gap, x1 + gap, y1 + gap))

    def place(self, wide: float, high: float, *, from_top: bool) -> tuple[float, float] | None:
        """The upper left corner of free room of a size, which is taken then; None when there is none.

        `from_top`: as far right as can be, then as far up; else as far down, then as far left.
        """
        page = self._page
        lefts = [page.x0, page.x1 - wide]
        bottoms = [page.y0, page.y1 - high]
        for one in self._taken:
            lefts += [one.x1, one.x0 - wide]
            bottoms += [one.y1, one.y0 - high]
        lefts = sorted({round(x, 3) for x in lefts if page.x0 - 1e-3 <= x <= page.x1 - wide + 1e-3})
        bottoms = sorted({round(y, 3) for y in bottoms if page.y0 - 1e-3 <= y <= page.y1 - high + 1e-3})
        corners = [(x, y) for y in bottoms for x in lefts]
        if from_top:
            corners = [(x, y) for x in lefts[::-1] for y in bottoms[::-1]]
        for x, y in corners:
            one = Rectangle(x, y, x + wide, y + high)
            if self._is_free(one):
                self.take(one)
                return x, y + high
        return None

    def _is_free(self, one: Rectangle) -> bool:
        return not any(
            one.x0 < other.x1 - 1e-3
            and other.x0 < one.x1 - 1e-3
            and one.y0 < other.y1 - 1e-3
            and other.y0 < one.y1 - 1e-3
            for other in self._taken
        )
