"""Whether an outline lies on a sheet of a stock, inside its margin, in the turns that its part may take.

Rooms are those of upright sheets and offcuts; lengths here are whole nanometres unless a name says mm.
"""

from collections.abc import Callable
from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.placement import rounded
from foamcut.flat.stock import Stock
from foamcut.flat.turning import grain_limits, may_lie_askew, roomiest_turn, upright_turns
from foamcut.units import decimal_text

NM_PER_MM = 1_000_000

Room = tuple[int, int]


def nanometres(mm: float) -> int:
    """A length in whole nanometres."""
    return round(mm * NM_PER_MM)


def millimetres(nm: int) -> float:
    """A length of whole nanometres in mm, rounded as coordinates are."""
    return rounded(nm / NM_PER_MM)


def size_text(width_mm: float, height_mm: float) -> str:
    """Two sizes in words."""
    return f"{decimal_text(width_mm)} x {decimal_text(height_mm)} mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """The rooms that a part's pieces may lie in.

    `rooms` are width and height inside the margin, of sizes that can be bought; of offcuts only when
    nothing can.  `upright` are the same with width and height as the part sees them, one for each way
    that its quarter turns leave; `askew`: every angle is allowed.
    """

    stock: Stock
    rooms: tuple[Room, ...]
    upright: tuple[Room, ...]
    askew: bool

    @classmethod
    def of(cls, part: Part, stock: Stock) -> "Fitting":
        """The rooms of a stock for pieces that turn as `part` does."""
        margin = 2 * nanometres(stock.margin_mm)
        sizes = [(size.width_mm, size.height_mm) for size in stock.sheets]
        if not sizes:
            sizes = [o.outline.bounds[2:] for o in stock.offcuts if is_upright(o.outline)]
        return cls._of(part, stock, [(nanometres(w) - margin, nanometres(h) - margin) for w, h in sizes])

    @classmethod
    def _of(cls, part: Part, stock: Stock, rooms: list[Room]) -> "Fitting":
        rooms = [room for room in dict.fromkeys(rooms) if min(room) > 0]
        turns = upright_turns(part, stock)
        upright = [(w, h) if turn % 180 == 0 else (h, w) for w, h in rooms for turn in turns]
        askew = may_lie_askew(part, stock)
        return cls(
            stock=stock, rooms=tuple(rooms), upright=tuple(sorted(set(upright), reverse=True)), askew=askew
        )

    @property
    def largest_text(self) -> str:
        """The room of most area in words."""
        room = max(self.rooms, key=lambda r: (r[0] * r[1], r))
        return size_text(*(millimetres(v) for v in room))

    def box(self, width: int, height: int) -> bool:
        """Whether an upright box lies in a room without a turn between the quarters."""
        return any(width <= w and height <= h for w, h in self.upright)

    def holds(self, shape: BaseGeometry) -> bool:
        """Whether a shape lies in a room in the turns that are allowed."""
        x0, y0, x1, y1 = (nanometres(v) for v in shape.bounds)
        if self.box(x1 - x0, y1 - y0):
            return True
        return self.askew and self.free_turn(Outline(shape.convex_hull)) is not None

    def free_turn(self, outline: Outline) -> float | None:
        """The turn at which an outline would lie in a room if it might be turned freely; quarters first."""
        x0, y0, x1, y1 = (nanometres(v) for v in outline.bounds)
        for w, h in self.rooms:
            if x1 - x0 <= w and y1 - y0 <= h:
                return 0.0
            if y1 - y0 <= w and x1 - x0 <= h:
                return 90.0
            turn = roomiest_turn(outline, millimetres(w), millimetres(h))
            if turn is not None:
                return turn
        return None


def is_upright(outline: Outline) -> bool:
    """Whether an outline is an upright rectangle."""
    x0, y0, x1, y1 = outline.bounds
    rings = outline.rings()
    corners = {(x0, y0), (x1, y0), (x1, y1), (x0, y1)}
    return len(rings) == 1 and len(rings[0]) == 5 and set(rings[0]) == corners


def lies_whole(part: Part, stock: Stock, takes_whole: Callable[[Part], bool] | None) -> bool:
    """Whether a part lies on one sheet of the stock, or on offcuts enough for all its copies.

    `takes_whole` is asked when there are offcuts that are no upright rectangles.
    """
    if Fitting.of(part, stock).holds(part.outline.polygon):
        return True
    if any(not is_upright(offcut.outline) for offcut in stock.offcuts) and takes_whole and takes_whole(part):
        return True
    margin = 2 * nanometres(stock.margin_mm)
    held = 0
    for offcut in stock.offcuts:
        w, h = (nanometres(v) - margin for v in offcut.outline.bounds[2:])
        if is_upright(offcut.outline) and Fitting._of(part, stock, [(w, h)]).holds(part.outline.polygon):
            held += offcut.count
    return held >= part.count


def what_holds_it(part: Part, stock: Stock) -> str:
    """What to change so that a part may be turned freely."""
    if grain_limits(part, stock):
        return "its grain does not allow that, so change the grain"
    return 'give it turns = "any"'
