"""Checks of layout.json: its schema, parts, pieces, sheets, placements and bound."""

import itertools
import math
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

import shapely
from pack_design import Board, Design, DesignPart, Stock
from pack_geometry import (
    SAME_AREA_MM2,
    edge_distance_mm,
    mirrored,
    moved,
    polygon,
    polygon_faults,
    signed_area,
)
from pack_report import Report
from pack_schema import LAYOUT, read_json
from shapely import Polygon

FILE = "layout.json"
# Section "placed": margin and gap are kept within this.
ROOM_MM = 0.001
# A placed polygon follows from its piece within this: 6 decimals, and a turn written with 6 decimals.
PLACED_MM = 1e-5
KINDS = ("offcut", "on_hand", "new")


@dataclass(slots=True, kw_only=True)
class Layout:
    """layout.json once its schema holds: the raw document, and its polygons as shapely ones."""

    raw: dict[str, Any]
    parts: dict[str, dict[str, Any]] = field(default_factory=dict)
    pieces: dict[str, dict[str, Any]] = field(default_factory=dict)
    stocks: dict[str, dict[str, Any]] = field(default_factory=dict)
    shapes: dict[str, Polygon] = field(default_factory=dict)

    def part_shape(self, name: str) -> Polygon:
        """Return the polygon of a part."""
        return self.shapes[f"part {name}"]

    def piece_shape(self, name: str) -> Polygon:
        """Return the polygon of a piece."""
        return self.shapes[f"piece {name}"]

    def outline(self, index: int) -> Polygon:
        """Return the outline of the sheet at this place in the list."""
        return self.shapes[f"sheets[{index}]"]

    def placed(self, index: int) -> list[Polygon]:
        """Return the placed polygons of the sheet at this place in the list."""
        return [
            self.shapes[f"sheets[{index}].placed[{at}]"]
            for at in range(len(self.raw["sheets"][index]["placed"]))
        ]


def read_layout(report: Report, data: bytes) -> Layout | None:
    """Check spelling and schema and every polygon; None when what is there cannot be gone on with."""
    raw, spelling = read_json(data)
    report.expect(not spelling, FILE, "; ".join(spelling[:5]))
    wrong: list[str] = []
    LAYOUT(raw, "", wrong.append)
    for text in wrong:
        report.expect(False, FILE, text)
    report.checks += 1
    if wrong:
        return None
    layout = Layout(raw=raw)
    ok = True
    for what, rings in _all_polygons(raw):
        texts = polygon_faults(rings)
        report.expect(not texts, FILE, f"{what} {'; '.join(texts)}")
        if not texts or _usable(rings):
            layout.shapes[what] = polygon(rings)
        else:
            ok = False
    for names, table, what in (
        (layout.parts, raw["parts"], "part"),
        (layout.stocks, raw["stocks"], "stock"),
    ):
        for entry in table:
            report.expect(entry["name"] not in names, FILE, f"{what} {entry['name']!r} is listed twice")
            names[entry["name"]] = entry
    for entry in raw["pieces"]:
        report.expect(entry["id"] not in layout.pieces, FILE, f"piece {entry['id']!r} is listed twice")
        layout.pieces[entry["id"]] = entry
    return layout if ok else None


def _all_polygons(raw: dict[str, Any]) -> list[tuple[str, list[list[list[float]]]]]:
    named = [(f"part {part['name']}", part["polygon"]) for part in raw["parts"]]
    named += [(f"piece {piece['id']}", piece["polygon"]) for piece in raw["pieces"]]
    for index, sheet in enumerate(raw["sheets"]):
        named.append((f"sheets[{index}]", sheet["outline"]))
        named += [
            (f"sheets[{index}].placed[{at}]", entry["polygon"]) for at, entry in enumerate(sheet["placed"])
        ]
    return named


def _usable(rings: list[list[list[float]]]) -> bool:
    """A ring written backwards or from another point can still be compared with the other files."""
    if not rings or any(len(ring) < 4 for ring in rings):
        return False
    shape = polygon(rings)
    return bool(shape.is_valid and abs(signed_area([*rings[0], rings[0][0]])) > 0)


def check_layout(report: Report, layout: Layout, design: Design | None) -> None:
    """Check everything in layout.json that stands in no other output file."""
    with report.section(FILE, "parts"):
        check_parts(report, layout, design)
    with report.section(FILE, "pieces"):
        check_pieces(report, layout)
    with report.section(FILE, "sheets"):
        check_sheets(report, layout, design)
    with report.section(FILE, "placed pieces"):
        check_placed(report, layout)
    with report.section(FILE, "room between pieces"):
        check_room(report, layout)
    with report.section(FILE, "bound"):
        check_bound(report, layout, design)


def check_parts(report: Report, layout: Layout, design: Design | None) -> None:
    """Parts are those of the design; hands come in mirror images of equal count."""
    for part in layout.parts.values():
        report.expect(
            part["stock"] in layout.stocks,
            FILE,
            f"part {part['name']}: stock {part['stock']!r} is not listed",
        )
        if part["hand"] == "none":
            continue
        other_hand = "left" if part["hand"] == "right" else "right"
        ending = f"-{part['hand']}"
        if not report.expect(
            part["name"].endswith(ending), FILE, f"part {part['name']}: name lacks {ending!r}"
        ):
            continue
        other_name = part["name"].removesuffix(ending) + f"-{other_hand}"
        other = layout.parts.get(other_name)
        if not report.expect(
            other is not None and other["hand"] == other_hand,
            FILE,
            f"part {part['name']}: no {other_name} beside it",
        ):
            continue
        report.expect(
            other["count"] == part["count"], FILE, f"part {part['name']}: the hands differ in count"
        )
        same = all(other[key] == part[key] for key in ("stock", "face", "grain", "turns"))
        report.expect(same, FILE, f"part {part['name']}: the hands differ in stock, face, grain or turns")
        off = (
            layout.part_shape(other_name).symmetric_difference(mirrored(layout.part_shape(part["name"]))).area
        )
        report.expect(
            off < SAME_AREA_MM2,
            FILE,
            f"part {part['name']}: {other_name} is not its mirror image ({off:.6f} mm2 off)",
        )
    if design is not None:
        _check_against_design(report, layout, design)


def _check_against_design(report: Report, layout: Layout, design: Design) -> None:
    wanted = {part.name: part for part in design.parts}
    for name in wanted:
        report.expect(name in layout.parts, FILE, f"part {name} of the design is missing")
    for name, part in layout.parts.items():
        if report.expect(name in wanted, FILE, f"part {name} is not in the design"):
            for key in DesignPart.__dataclass_fields__:
                report.expect(
                    part[key] == getattr(wanted[name], key),
                    FILE,
                    f"part {name}: {key} is {part[key]!r}, the design says {getattr(wanted[name], key)!r}",
                )
    stocks = {stock.name: stock for stock in design.stocks}
    for name, stock in layout.stocks.items():
        if report.expect(name in stocks, FILE, f"stock {name} is not in the design"):
            _check_stock(report, stock, stocks[name])
    for part in design.parts:
        report.expect(part.stock in layout.stocks, FILE, f"stock {part.stock} of the design is missing")


def _check_stock(report: Report, stock: dict[str, Any], wanted: Stock) -> None:
    report.expect(stock["grain"] == wanted.grain, FILE, f"stock {wanted.name}: grain differs from the design")
    for key, length in (
        ("thickness", wanted.thickness_mm),
        ("margin", wanted.margin_mm),
        ("gap", wanted.gap_mm),
    ):
        report.expect(
            length is None or abs(stock[key] - length) <= 1e-6,
            FILE,
            f"stock {wanted.name}: {key} is {stock[key]} mm, the design says {length} mm",
        )


def check_pieces(report: Report, layout: Layout) -> None:
    """A part of count n has n wholes with copies 1 to n, each exactly the part."""
    copies: dict[str, list[int]] = {name: [] for name in layout.parts}
    for piece in layout.pieces.values():
        part = layout.parts.get(piece["part"])
        if not report.expect(
            part is not None, FILE, f"piece {piece['id']}: part {piece['part']!r} is not listed"
        ):
            continue
        copies[piece["part"]].append(piece["copy"])
        shape, whole = layout.piece_shape(piece["id"]), layout.part_shape(piece["part"])
        report.expect(
            abs(shape.area - whole.area) <= 1e-6 * whole.area,
            FILE,
            f"piece {piece['id']}: area {shape.area:.6f} mm2 is not its part's {whole.area:.6f}",
        )
        off = shape.symmetric_difference(whole).area
        report.expect(off < SAME_AREA_MM2, FILE, f"piece {piece['id']} is not its part ({off:.6f} mm2 off)")
    for name, found in copies.items():
        count = layout.parts[name]["count"]
        report.expect(
            sorted(found) == list(range(1, count + 1)),
            FILE,
            f"part {name}: copies are {sorted(found)}, its count is {count}",
        )
    placed = Counter(entry["piece"] for sheet in layout.raw["sheets"] for entry in sheet["placed"])
    for name in layout.pieces:
        report.expect(placed[name] > 0, FILE, f"piece {name} is not placed")
        report.expect(placed[name] < 2, FILE, f"piece {name} is placed {placed[name]} times")
    for name in placed:
        report.expect(name in layout.pieces, FILE, f"placed piece {name!r} is not listed")


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
            _check_one_placed(report, layout, sheet, entry, part, shape)


def _check_one_placed(
    report: Report,
    layout: Layout,
    sheet: dict[str, Any],
    entry: dict[str, Any],
    part: dict[str, Any],
    shape: Polygon,
) -> None:
    where = f"sheet {sheet['stock']}-{sheet['number']}: piece {entry['piece']}"
    report.expect(
        part["stock"] == sheet["stock"], FILE, f"{where}: lies on another stock than {part['stock']}"
    )
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


def placed_outlines(layout: Layout, index: int) -> tuple[list[shapely.LinearRing], list[shapely.LinearRing]]:
    """Return the outsides and the holes of all that lies on one sheet."""
    shapes = layout.placed(index)
    return [shape.exterior for shape in shapes], list(
        itertools.chain.from_iterable(s.interiors for s in shapes)
    )
