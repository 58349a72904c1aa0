"""What nesting takes and gives: wanted parts with their ways, sheets with placed pieces, the bound.

Words: a *piece* is what is cut, a *sheet* is one board, a *layout* is all sheets of one stock.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from foamcut.flat.joint import Piece, Way
from foamcut.flat.outline import Outline, Point
from foamcut.flat.part import Part
from foamcut.flat.placement import Placement
from foamcut.flat.stock import Stock
from foamcut.nest import STEPS


class Kind(Enum):
    """Where a sheet comes from; sheets of a stock are counted in this order."""

    OFFCUT = "offcut"
    ON_HAND = "on_hand"
    NEW = "new"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A part to be cut `part.count` times, and the ways to cut one copy, best first.

    Every copy is cut the same way.  `is_open`: there are further ways that are not among `ways`, so that a
    bound may count on no more than the part's own area.
    """

    part: Part
    ways: tuple[Way, ...]
    is_open: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A piece on a sheet.  `outline` is the piece's outline after the placement, on the sheet."""

    id: str
    copy: int
    piece: Piece
    placement: Placement
    outline: Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """A rectangle of a sheet to be knifed off first and laid on the machine's bed; `pieces` are ids."""

    number: int
    corner: Point
    width_mm: float
    height_mm: float
    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """The largest upright rectangle that a sheet keeps in one piece; `corner` is the lower left one."""

    corner: Point
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One board: `outline` is the usable stuff before the margin, from (0, 0); voids are holes.

    `source` is the key of the size or offcut it comes from (``stock.board.sheets[0]``).  `register` are
    the middles of two holes to turn the sheet over by, where its other face is cut and there is room.
    `left` is given of the new board with the least on it.
    """

    stock: str
    number: int
    kind: Kind
    source: str
    width_mm: float
    height_mm: float
    outline: Outline
    placed: tuple[Placed, ...]
    register: tuple[Point, ...] = ()
    beds: tuple[Bed, ...] = ()
    left: Left | None = None

    @property
    def worked_behind(self) -> bool:
        """Whether something is cut, not only drawn, on the face that lies down."""
        return any(placed.piece.flat.worked_behind for placed in self.placed)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """How few new boards there can be; costs are None unless every size of the stock has a price.

    `reason` is a sentence for the builder.
    """

    stock: str
    new: int
    at_least: int
    cost: Decimal | None
    cost_at_least: Decimal | None
    proven: bool
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NearMiss:
    """The best layout with fewer new boards: how many, and the names of the pieces without a place."""

    boards: int
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """All sheets of one stock that carry pieces, in order, and the bound."""

    stock: Stock
    sheets: tuple[Sheet, ...]
    bound: Bound


@dataclass(frozen=True, slots=True, kw_only=True)
class Saving:
    """What cutting parts in two saved that would have lain whole, against the best layout of the wholes."""

    stock: str
    parts: tuple[str, ...]
    boards: int
    cost: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Layouts of several stocks, the wanted parts, the index of the way taken for each, what joints saved.

    `is_cut_short`: somebody asked for an end before the search had its steps.
    """

    layouts: tuple[Layout, ...]
    wanted: tuple[Wanted, ...]
    ways: tuple[int, ...]
    savings: tuple[Saving, ...] = ()
    is_cut_short: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """What a search tells its listener: boards of the best layout so far (None: none yet), their bound."""

    stock: str
    step: int
    steps: int
    boards: int | None
    at_least: int = 0
    doing: str


Listener = Callable[[Progress], None]


def tell_nobody(_: Progress) -> None:
    """A listener that does not listen."""


def _never() -> bool:
    return False


def _no_clock() -> float:
    return 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """How long a search goes on: `steps` whole layouts, then by the clock.

    `squeeze_s` seconds are spent after the steps, by `clock` (seconds, any origin).  When `is_stopped` says
    so, the best layout so far is kept; a search that has none yet makes its first.  `with_extra`: the
    optional solver in a child process helps with the squeezing, where it is installed.
    """

    steps: int = STEPS
    squeeze_s: float = 0.0
    clock: Callable[[], float] = _no_clock
    is_stopped: Callable[[], bool] = _never
    with_extra: bool = False


#: by steps alone, the usual number
BY_STEPS = Pace()
