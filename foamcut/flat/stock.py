"""Stock: a kind of sheet, the sizes it is sold in, what lies on the shelf."""

from dataclasses import dataclass
from decimal import Decimal

from foamcut.flat.drawn import Grain
from foamcut.flat.outline import Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """A size that can be bought; mass of one sheet in grams, None when it was not weighed."""

    key: str
    width_mm: float
    height_mm: float
    mass_g: float | None = None
    price: Decimal | None = None
    sold_in: int = 1
    on_hand: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A scrap on the shelf: its outline, moved so that its box starts at (0, 0); holes are voids."""

    key: str
    outline: Outline
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A kind of sheet.  `margin_mm` is kept free along every edge, `gap_mm` between pieces."""

    key: str
    name: str
    material: str
    thickness_mm: float
    margin_mm: float
    gap_mm: float
    grain: Grain = Grain.ANY
    sheets: tuple[SheetSize, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    spare: int = 0

    @property
    def has_prices(self) -> bool:
        """Whether every size has a price, so that cost is what is made least."""
        return bool(self.sheets) and all(size.price is not None for size in self.sheets)
