"""Tables as CSV (RFC 4180: CRLF, quotes doubled), with cells that a spreadsheet would run made harmless."""

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

SHOPPING_COLUMNS = (
    "kind",
    "name",
    "size",
    "needed",
    "on_hand",
    "to_buy",
    "spare",
    "packs",
    "sold_in",
    "price",
    "cost",
    "currency",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingRow:
    """One thing to have: sheets of one size, or hardware.

    `needed` are used, `on_hand` of them lie on the shelf, `to_buy` and `spare` are bought in `packs`
    of `sold_in`; price of one, cost of all packs, None where no price is given.
    """

    kind: str
    name: str
    size: str
    needed: int
    on_hand: int
    to_buy: int
    spare: int
    sold_in: int
    price: Decimal | None
    currency: str

    @property
    def packs(self) -> int:
        """Whole packs to buy."""
        return -(-(self.to_buy + self.spare) // self.sold_in)

    @property
    def cost(self) -> Decimal | None:
        """What the packs cost together."""
        return None if self.price is None else self.packs * self.sold_in * self.price

    def cells(self) -> tuple[str, ...]:
        """The row's cells in the order of `SHOPPING_COLUMNS`."""
        money = ("" if m is None else f"{m:.2f}" for m in (self.price, self.cost))
        counts = (self.needed, self.on_hand, self.to_buy, self.spare, self.packs, self.sold_in)
        return (self.kind, self.name, self.size, *map(str, counts), *money, self.currency)


def shopping(rows: Sequence[ShoppingRow]) -> bytes:
    """The shopping list as CSV, UTF-8."""
    return render([SHOPPING_COLUMNS, *(row.cells() for row in rows)])


def render(rows: Sequence[Sequence[str]]) -> bytes:
    """Rows of cells as CSV, UTF-8."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerows([_harmless(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8", "replace")


def _harmless(cell: str) -> str:
    """A cell that starts like a formula gets an apostrophe in front, which spreadsheets take for text."""
    return f"'{cell}" if cell[:1] in "=+-@\t\r\n" and cell else cell
