"""Ways to cut a part from a stock, best first: whole, or in sections with doublers.

This version knows one way, whole.  What chooses among ways asks here and nowhere else.
"""

from dataclasses import dataclass
from enum import Enum

from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.stock import Stock


class Role(Enum):
    """What a piece is of its part."""

    WHOLE = "whole"
    SECTION = "section"
    DOUBLER = "doubler"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One thing to cut, in the part's own coordinates.

    `suffix` tells apart the pieces of one copy of a part (empty for a whole).
    """

    part: Part
    role: Role
    outline: Outline
    suffix: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A complete way to cut one copy of a part."""

    pieces: tuple[Piece, ...]


def ways(part: Part, stock: Stock) -> tuple[Way, ...]:
    """The ways to cut one copy of `part` from sheets of `stock`, best first."""
    if part.stock != stock.name:
        raise ValueError(f"part {part.name!r} is cut from {part.stock!r}, not from {stock.name!r}")
    return (Way(pieces=(Piece(part=part, role=Role.WHOLE, outline=part.outline),)),)
