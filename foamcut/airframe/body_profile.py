"""The side view of a body: heights and inside sizes along it, mm; x aft from the nose, z up."""

from dataclasses import dataclass

from foamcut.airframe.values import Body


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """What a body is like at a place along it."""

    body: Body

    def bottom(self, x_mm: float) -> float:
        """z of the lower edge, outside."""
        raise NotImplementedError

    def top(self, x_mm: float) -> float:
        """z of the upper edge, outside."""
        raise NotImplementedError

    def inside_width(self, x_mm: float) -> float:
        """Between the inside faces of the sides, a nose doubler counted."""
        raise NotImplementedError

    def inside_height(self, x_mm: float) -> tuple[float, float]:
        """z of the floor's inside face, and of the deck's or hatch's; where it is open, of the upper edge."""
        raise NotImplementedError
