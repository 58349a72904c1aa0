"""Checks of the sheets of layout.json: boards, placements, the room between pieces."""

import math
from collections import Counter
from typing import Any

import shapely
from pack_design import Design
from pack_geometry import SAME_AREA_MM2, edge_distance_mm, moved
from pack_layout import FILE, Layout
from pack_report import Report
from shapely import Polygon

# Section "placed": margin and gap are kept within this.
ROOM_MM = 0.001
# A placed polygon follows from its piece within this: 6 decimals, and a turn written with 6 decimals.
PLACED_MM = 1e-5
KINDS = ("offcut", "on_hand", "new")


def check_sheets(report: Report, layout: Layout, design: Design | None) -> None:
    """Sheets count from 1 in each stock: offcuts, on hand, new; their sizes are those of the design."""
    numbers: dict[str, int] = {}
    kinds: dict[str, int] = {}
    used: Counter[tuple[str, str, tuple[float, float]]] = Counter()
    seen: list[str] = []
    for index, sheet in enumerate(layout.raw["sheets"]):
        stock, where = sheet["stock"], f"sheet {sheet['stock']}-{sheet['number']}"
        report.expect(stock in layout.stocks, FILE, f"{where}: its stock is not listed")
        numbers[stock] = numbers.get(stock, 0) + 1
        report.expect(
            sheet["number"] == numbers[stock],
            FILE,
            f"{where}: sheets of a stock must count from 1 (due: {numbers[stock]})",
        )
        rank = KINDS.index(sheet["kind"])
        report.expect(
            rank >= kinds.get(stock, 0),
            FILE,
            f"{where}: {sheet['kind']} stands after {KINDS[kinds.get(stock, 0)]}",
        )
        kinds[stock] = max(rank, kinds.get(stock, 0))
        if not seen or seen[-1] != stock:
            report.expect(stock not in seen, FILE, f"{where}: the sheets of one stock do not stand together")
            seen.append(stock)
        report.expect(bool(sheet["placed"]), FILE, f"{where}: nothing is placed on it")
        _check_outline(report, where, sheet, layout.outline(index))
        used[stock, sheet["kind"], tuple(sheet["size"])] += 1
    if design is not None:
        _check_boards(report, used, design)


def _check_outline(report: Report, where: str, sheet: dict[str, Any], outline: Polygon) -> None:
    width, height = sheet["size"]
    off = max(abs(a - b) for a, b in zip(outline.bounds, (0, 0, width, height), strict=True))
    report.expect(
        off <= 1e-6, FILE, f"{where}: its outline does not fill the box of its size ({off:.6f} mm off)"
    )
    if sheet["kind"] != "offcut":
        report.expect(
            abs(outline.area - width * height) <= SAME_AREA_MM2,
            FILE,
            f"{where}: a bought board is not its full size",
        )


def _check_boards(
    report: Report, used: Counter[tuple[str, str, tuple[float, float]]], design: Design
) -> None:
    for (name, kind, size), count in used.items():
        stock = next((stock for stock in design.stocks if stock.name == name), None)
        if stock is None:
            continue
        boards = [board for board in stock.boards if board.offcut == (kind == "offcut")]
        if any(board.size_mm is None and board.outline_mm is None for board in boards):
            continue
        alike = [
            board
            for board in boards
            if max(abs(a - b) for a, b in zip(board.box_mm, size, strict=True)) < 1e-3
        ]
        text = f"stock {name}: a {kind} board of {size[0]} x {size[1]} mm is not in the design"
        if report.expect(bool(alike), FILE, text) and kind != "new":
            there = sum(board.on_hand for board in alike)
            report.expect(
                count <= there,
                FILE,
                f"stock {name}: {count} {kind} boards of {size[0]} x {size[1]} mm used, {there} are there",
            )


def allowed_turn(turn_deg: float, *, turns: str, part_grain: str, stock_grain: str) -> bool:
    """Tell whether a part may lie turned like this: its own `turns`, and its axis along the stock's grain."""
    step = {"none": 360, "half": 180, "quarter": 90}.get(turns)
    if step is not None and turn_deg % step != 0:
        return False
    if stock_grain == "none" or part_grain == "any":
        return True
    return turn_deg % 180 == (0 if part_grain == stock_grain else 90)


def check_placed(report: Report, layout: Layout) -> None:
    """Each placed polygon is its piece mirrored, turned, moved; faces, turns, grain and stock are kept."""
    for index, sheet in enumerate(layout.raw["sheets"]):
        for entry, shape in zip(sheet["placed"], layout.placed(index), strict=True):
            piece = layout.pieces.get(entry["piece"])
            part = layout.parts.get(piece["part"]) if piece else None
            if part is None:
                continue
            _check_one_placed(report, layout, sheet, entry, _freed(part, piece, sheet), shape)


def _freed(part: dict[str, Any], piece: dict[str, Any], sheet: dict[str, Any]) -> dict[str, Any]:
    """A doubler of another stock has no grain of its part's to keep."""
    other = piece["role"] == "doubler" and part["stock"] != sheet["stock"]
    return part | {"grain": "any"} if other else part


def _check_one_placed(
    report: Report,
    layout: Layout,
    sheet: dict[str, Any],
    entry: dict[str, Any],
    part: dict[str, Any],
    shape: Polygon,
) -> None:
    where = f"sheet {sheet['stock']}-{sheet['number']}: piece {entry['piece']}"
    turn = entry["turn_deg"]
    report.expect(0 <= turn < 360, FILE, f"{where}: turn {turn} is not in [0, 360)")
    report.expect(
        allowed_turn(
            turn,
            turns=part["turns"],
            part_grain=part["grain"],
            stock_grain=layout.stocks[sheet["stock"]]["grain"],
        ),
        FILE,
        f"{where}: a turn of {turn} degrees is not allowed by turns {part['turns']} and the grains",
    )
    report.expect(
        not entry["flipped"] or part["face"] == "either",
        FILE,
        f"{where}: turned over, its face is {part['face']}",
    )
    due = moved(
        layout.piece_shape(entry["piece"]),
        x=entry["x"],
        y=entry["y"],
        turn_deg=turn,
        flipped=entry["flipped"],
    )
    off = edge_distance_mm(due, shape)
    report.expect(
        off <= PLACED_MM,
        FILE,
        f"{where}: polygon does not follow from x, y, turn, flipped ({off:.6f} mm off)",
    )


def check_room(report: Report, layout: Layout) -> None:
    """Placed polygons stay `margin` inside the outline and `gap` apart, holes included."""
    for index, sheet in enumerate(layout.raw["sheets"]):
        where = f"sheet {sheet['stock']}-{sheet['number']}"
        stock, outline = layout.stocks[sheet["stock"]], layout.outline(index)
        gap = stock["gap"]
        shapes = layout.placed(index)
        names = [entry["piece"] for entry in sheet["placed"]]
        shrunk = [shape.buffer(-ROOM_MM) for shape in shapes]
        for name, shape, core in zip(names, shapes, shrunk, strict=True):
            room = outline.boundary.distance(shape) if outline.covers(core) else -math.inf
            report.expect(
                room >= stock["margin"] - ROOM_MM,
                FILE,
                f"{where}: piece {name} does not keep the margin of {stock['margin']} mm ({room:.4f})",
            )
        pairs = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=gap + ROOM_MM)
        near = sorted({(min(a, b), max(a, b)) for a, b in pairs.T.tolist() if a != b})
        for first, second in near:
            apart = shapes[first].distance(shapes[second])
            report.expect(
                apart >= gap - ROOM_MM,
                FILE,
                f"{where}: pieces {names[first]} and {names[second]} are {apart:.4f} mm apart, gap {gap}",
            )
            report.expect(
                not shrunk[first].intersects(shrunk[second]),
                FILE,
                f"{where}: pieces {names[first]} and {names[second]} overlap",
            )
