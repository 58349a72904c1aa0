"""Checks what a layout says of itself: the rectangle a board keeps in one piece, counts and costs.

Part of `foamcut.nest.verify`; shares no code with the search.  mm.
"""

from collections.abc import Iterator
from decimal import Decimal

import shapely
from shapely import Polygon

from foamcut.flat.stock import Stock
from foamcut.flat.tolerances import PLACED_MM
from foamcut.nest.values import Kind, Layout, Sheet

#: across a register hole, as the contract has it
REGISTER_MM = 3.0


def left_faults(sheet: Sheet, stock: Stock) -> Iterator[str]:
    """What is kept in one piece lies on a new board, a gap off all that lies there.

    It may lie in the margin, and not in the holes of a piece.
    """
    left = sheet.left
    if left is None:
        return
    if sheet.kind is not Kind.NEW:
        yield f"something is kept of a sheet that is not new but {sheet.kind.value}"
    if min(left.width_mm, left.height_mm) <= 0:
        yield f"it keeps {left.width_mm} x {left.height_mm} mm"
        return
    x, y = left.corner
    box = shapely.box(x, y, x + left.width_mm, y + left.height_mm)
    core = box.buffer(-PLACED_MM, join_style="mitre")
    if not sheet.outline.polygon.covers(core):
        yield "what it keeps leaves the sheet"
    for name, thing in _things(sheet):
        if core.intersects(thing) or box.distance(thing) < stock.gap_mm - PLACED_MM:
            yield f"what it keeps is not {stock.gap_mm} mm off {name}"


def _things(sheet: Sheet) -> Iterator[tuple[str, Polygon]]:
    for one in sheet.placed:
        yield one.id, Polygon(one.outline.polygon.exterior)
    for bed in sheet.beds:
        x, y = bed.corner
        yield f"bed rectangle {bed.number}", shapely.box(x, y, x + bed.width_mm, y + bed.height_mm)
    for i, at in enumerate(sheet.register, 1):
        yield f"register hole {i}", shapely.Point(at).buffer(REGISTER_MM / 2, quad_segs=64)


def one_left(layout: Layout) -> Iterator[str]:
    """At most one board of a stock keeps something, and none has less on it."""
    new = [sheet for sheet in layout.sheets if sheet.kind is Kind.NEW]
    keeping = [sheet for sheet in new if sheet.left]
    if len(keeping) > 1:
        yield f"{layout.stock.name}: {len(keeping)} boards keep something, one should"
    least = min((_filled(sheet) for sheet in new), default=0.0)
    for sheet in keeping:
        if _filled(sheet) > least + PLACED_MM:
            yield f"{layout.stock.name}: sheet {sheet.number} keeps something, and another has less on it"


def _filled(sheet: Sheet) -> float:
    return float(sum(one.outline.polygon.area for one in sheet.placed))


def bound_faults(layout: Layout) -> Iterator[str]:
    """The bound counts the new boards and what they cost, and is not above either."""
    bound, name = layout.bound, layout.stock.name
    new = [sheet for sheet in layout.sheets if sheet.kind is Kind.NEW]
    if bound.stock != name:
        yield f"{name}: the bound is one of {bound.stock}"
    if bound.new != len(new):
        yield f"{name}: the bound counts {bound.new} new boards, there are {len(new)}"
    if bound.at_least > len(new):
        yield f"{name}: {len(new)} new boards are fewer than the bound's {bound.at_least}"
    prices = {size.key: size.price for size in layout.stock.sheets}
    if not prices or None in prices.values():
        if bound.cost is not None or bound.cost_at_least is not None:
            yield f"{name}: there is a cost of {bound.cost}, and a size without a price"
        return
    cost = sum((prices.get(sheet.source) or Decimal(0) for sheet in new), Decimal(0))
    if bound.cost != cost:
        yield f"{name}: the new boards cost {cost}, the bound says {bound.cost}"
    if bound.cost_at_least is None or bound.cost_at_least > cost:
        yield f"{name}: a cost of {cost} is below the bound's {bound.cost_at_least}"
