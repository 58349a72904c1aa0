"""What one generator asks of another: values only, so that both sides cut from the same numbers.

mm, degrees; model axes: x aft, y right, z up.
"""

from dataclasses import dataclass

from foamcut.airframe.planform import Vector
from foamcut.airframe.values import Material


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinSlot:
    """A plate that stands through both skins of a folded surface, square to its span: its middle in the slot.

    `c_mm` and `s_mm` are those of the panel at that place; `length_mm` runs along the span.  A plate of
    thickness p, square to the chord, through a skin that rises by u needs p / cos u + t tan u along that
    skin: `extra_mm` is how much that is over p, for the upper skin alone.  The middle of that slot lies
    where the plate's middle crosses the middle of the board, not where it crosses the outer paper.
    """

    key: str
    c_mm: float
    s_mm: float
    length_mm: float
    takes: Material
    extra_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinOpening:
    """A rectangle cut through one skin of a folded surface, (c, s) of its middle, sizes along c and along s.

    `upper` says which skin; `closed_first` that it has to be cut before the skin is closed.
    """

    key: str
    c_mm: float
    s_mm: float
    size_mm: tuple[float, float]
    upper: bool
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TabInto:
    """A tab of a surface that goes into a body: where along the model its middle is, and its length."""

    key: str
    along_mm: float
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """What a propeller sweeps: the middle of the disc, the way its shaft points (forwards), its diameter."""

    key: str
    name: str
    middle: Vector
    forwards: Vector
    diameter_mm: float
    clearance_mm: float | None = None  # what was asked for; None: the usual
