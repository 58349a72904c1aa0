"""Where a piece lies on a sheet: mirrored or not, turned, moved."""

import math
from dataclasses import dataclass

from foamcut.flat.tolerances import PLACES

_QUARTER = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


def rounded(value: float) -> float:
    """A coordinate to the nanometre, never -0."""
    return round(value, PLACES) + 0.0


def cos_sin(turn_deg: float) -> tuple[float, float]:
    """Cosine and sine of a turn in [0, 360), exact for quarter turns."""
    exact = _QUARTER.get(turn_deg)
    if exact:
        return exact
    angle = math.radians(turn_deg)
    return math.cos(angle), math.sin(angle)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Mirror (y -> -y) if `flipped`, then turn counter-clockwise about (0, 0), then move; mm and degrees."""

    x_mm: float = 0.0
    y_mm: float = 0.0
    turn_deg: float = 0.0
    flipped: bool = False

    def __post_init__(self) -> None:
        if not 0 <= self.turn_deg < 360:
            raise ValueError(f"turn {self.turn_deg} is not in [0, 360)")

    def point(self, x: float, y: float) -> tuple[float, float]:
        """Where a point of the piece comes to lie, to the nanometre."""
        cos, sin = cos_sin(self.turn_deg)
        if self.flipped:
            y = -y
        return rounded(cos * x - sin * y + self.x_mm), rounded(sin * x + cos * y + self.y_mm)

    def direction_deg(self, angle_deg: float) -> float:
        """Where a direction of the piece points afterwards, degrees in [0, 360)."""
        angle = -angle_deg if self.flipped else angle_deg
        return rounded((angle + self.turn_deg) % 360) % 360
