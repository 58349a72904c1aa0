"""A way to cut a part: its pieces, and where they are joined again.

The part's coordinates, mm.
"""

from dataclasses import dataclass
from enum import Enum

from foamcut.findings import Finding
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part


class Role(Enum):
    """What a piece is of its part."""

    WHOLE = "whole"
    SECTION = "section"
    DOUBLER = "doubler"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One thing to cut of `part`.

    `flat` is the piece as a part of its own: its outline, marks, folds, stock and name, in the coordinates
    of `part`; of a whole it is `part` itself.  `suffix` tells apart the pieces of one copy (``section-1``,
    ``doubler-a``; empty for a whole), and ``flat.name`` is the part's name with it.
    """

    part: Part
    role: Role
    flat: Part
    suffix: str = ""

    @property
    def outline(self) -> Outline:
        """What falls out when the piece is cut, in the part's coordinates."""
        return self.flat.outline

    @classmethod
    def whole(cls, part: Part) -> "Piece":
        """The part in one piece."""
        return cls(part=part, role=Role.WHOLE, flat=part)


def piece_id(piece: Piece, copy: int) -> str:
    """What a piece of one copy is called, ``side-right-1-section-2``."""
    return f"{piece.part.name}-{copy}" + (f"-{piece.suffix}" if piece.suffix else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A line at which a part is cut in two: at one x or one y, mm, and what is glued over it.

    `letters` are those of its doublers; `length_mm` is that of the whole part across the line, to lay a
    rule along when it is glued; `placed_by` is the key of the builder's line, empty for the program's.
    `mirror_image`: the part is of the hand that is not drawn, and `y_mm` minus the y of the drawing.
    """

    x_mm: float | None = None
    y_mm: float | None = None
    letters: tuple[str, ...] = ()
    length_mm: float
    placed_by: str = ""
    mirror_image: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A complete way to cut one copy of a part; doublers of another stock are among its pieces."""

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...] = ()
    findings: tuple[Finding, ...] = ()
