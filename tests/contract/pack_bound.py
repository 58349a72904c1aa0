"""Checks of what layout.json says of boards bought, the number that is due at least, and their cost."""

import math
from collections import Counter
from typing import Any

import shapely
from pack_design import Board, Design, Stock
from pack_layout import FILE, Layout
from pack_report import Report
from shapely import Polygon


def check_bound(report: Report, layout: Layout, design: Design | None) -> None:
    """The boards bought, the number below which no layout exists, costs and `proven` agree."""
    listed = Counter(entry["stock"] for entry in layout.raw["bound"])
    for name in {part["stock"]: None for part in layout.parts.values()}:
        report.expect(listed[name] == 1, FILE, f"bound: stock {name} stands there {listed[name]} times")
    for entry in layout.raw["bound"]:
        name, new, at_least = entry["stock"], entry["new"], entry["at_least"]
        where = f"bound of {name}"
        if not report.expect(name in layout.stocks, FILE, f"{where}: the stock is not listed"):
            continue
        sheets = [
            sheet for sheet in layout.raw["sheets"] if sheet["stock"] == name and sheet["kind"] == "new"
        ]
        report.expect(new == len(sheets), FILE, f"{where}: new is {new}, the sheets say {len(sheets)}")
        report.expect(at_least <= new, FILE, f"{where}: at_least {at_least} is over new {new}")
        cost, least = entry["cost"], entry["cost_at_least"]
        report.expect((cost is None) == (least is None), FILE, f"{where}: only one of the costs is there")
        report.expect(
            cost is None or least <= cost, FILE, f"{where}: cost_at_least {least} is over cost {cost}"
        )
        equal = new == at_least or (cost is not None and cost == least)
        report.expect(
            entry["proven"] == equal,
            FILE,
            f"{where}: proven is {entry['proven']}, new {new}, at_least {at_least}, costs {cost}, {least}",
        )
        stock = next((stock for stock in design.stocks if stock.name == name), None) if design else None
        if stock is not None:
            _check_cost(report, where, stock, sheets, cost)
            bound = area_bound(layout, stock)
            if bound is not None:
                report.expect(
                    new >= bound, FILE, f"{where}: {new} boards hold more than their area ({bound} needed)"
                )
                report.expect(
                    at_least >= bound, FILE, f"{where}: at_least {at_least}, the areas alone need {bound}"
                )


def _check_cost(
    report: Report, where: str, stock: Stock, sheets: list[dict[str, Any]], cost: float | None
) -> None:
    if not report.expect(
        (cost is not None) == stock.priced,
        FILE,
        f"{where}: a cost stands there exactly when all sizes are priced",
    ):
        return
    if cost is None:
        return
    total = 0.0
    for sheet in sheets:
        price = next(
            (
                board.price
                for board in stock.boards
                if not board.offcut
                and board.size_mm
                and max(abs(a - b) for a, b in zip(board.size_mm, sheet["size"], strict=True)) < 1e-3
            ),
            None,
        )
        if price is None:
            return
        total += float(price)
    report.expect(abs(total - cost) < 0.005, FILE, f"{where}: cost is {cost}, the boards come to {total:.2f}")


def area_bound(layout: Layout, stock: Stock) -> int | None:
    """Return how many new boards the areas alone need; None when a board's size is no plain number.

    Parts grow by half the gap; so does the usable area, the outline less the margin. Two grown parts do not
    overlap and lie in the grown area, so that their areas add up. Round buffers here are inscribed and the
    board's corners mitred: this number errs downwards only.
    """
    room = layout.stocks[stock.name]
    half, edge = room["gap"] / 2, room["margin"] - room["gap"] / 2
    if any(board.size_mm is None and board.outline_mm is None for board in stock.boards):
        return None

    def usable(board: Board) -> float:
        outline = Polygon(board.outline_mm) if board.outline_mm else shapely.box(0, 0, *board.size_mm)
        return outline.buffer(-edge, join_style="mitre").area

    need = 0.0
    for part in layout.parts.values():
        if part["stock"] == stock.name:
            need += part["count"] * layout.part_shape(part["name"]).buffer(half).area
    need -= sum(board.on_hand * usable(board) for board in stock.boards)
    best = max((usable(board) for board in stock.boards if not board.offcut), default=0.0)
    if need <= 0 or best <= 0:
        return 0
    return math.ceil(need / best - 1e-6)
