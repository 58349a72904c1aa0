"""The rows of the shopping list."""

from collections.abc import Iterable, Iterator

from foamcut.design.design import Hardware
from foamcut.design.design import Plan as PlanFacts
from foamcut.nest.values import Kind, Layout
from foamcut.units import decimal_text, inch_text
from foamcut.write.table import ShoppingRow


def shopping_rows(
    layouts: Iterable[Layout], hardware: Iterable[Hardware], facts: PlanFacts
) -> Iterator[ShoppingRow]:
    """Sheets of every stock, then hardware."""
    for layout in layouts:
        yield from sheet_rows(layout, facts)
    for item in hardware:
        yield ShoppingRow(
            kind="hardware",
            name=item.name,
            size=item.size,
            needed=item.count,
            on_hand=item.on_hand,
            to_buy=max(0, item.count - item.on_hand),
            spare=0,
            sold_in=item.sold_in,
            price=item.price,
            currency=facts.currency if item.price is not None else "",
        )


def sheet_rows(layout: Layout, facts: PlanFacts) -> Iterator[ShoppingRow]:
    """A row for each size that is used, and for the usual size when spare boards are wanted."""
    stock = layout.stock
    for i, size in enumerate(stock.sheets):
        new = sum(s.source == size.key and s.kind is Kind.NEW for s in layout.sheets)
        shelf = sum(s.source == size.key and s.kind is Kind.ON_HAND for s in layout.sheets)
        spare = stock.spare if i == 0 else 0
        if new or shelf or spare:
            yield ShoppingRow(
                kind="sheet",
                name=stock.name,
                size=_size_words(size.width_mm, size.height_mm, facts.units),
                needed=new + shelf,
                on_hand=size.on_hand,
                to_buy=new,
                spare=spare,
                sold_in=size.sold_in,
                price=size.price,
                currency=facts.currency if size.price is not None else "",
            )


def _size_words(width_mm: float, height_mm: float, units: str) -> str:
    """A sheet's size on the ruler of the sketch, in mm where inches would not be exact."""
    inches = inch_text(width_mm), inch_text(height_mm)
    if units == "in" and not any(text.startswith("~") or "." in text for text in inches):
        return f"{inches[0]} x {inches[1]} in"
    return f"{decimal_text(width_mm, 3)} x {decimal_text(height_mm, 3)} mm"
