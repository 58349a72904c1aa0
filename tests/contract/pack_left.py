"""Checks of the rectangle that a new board keeps in one piece: free, no larger one around it, on the right board."""

from collections.abc import Sequence
from typing import Any

import shapely
from pack_layout import FILE, Layout
from pack_report import Report
from pack_view import REGISTER_MM, bed_box
from shapely import Polygon

ROOM_MM = 0.001
# Sizes are rounded down to whole mm or sixteenths of an inch; 2 mm more must be too much at every side.
MORE_MM = 2.0


def check_left(report: Report, layout: Layout) -> None:
    """What is left lies on the sheet, off everything by the gap; it stands on the new board with the least on it."""
    for stock in layout.stocks:
        areas = {
            index: sum(shape.area for shape in layout.placed(index))
            for index, sheet in enumerate(layout.raw["sheets"])
            if sheet["stock"] == stock and sheet["kind"] == "new"
        }
        for index, sheet in enumerate(layout.raw["sheets"]):
            if sheet["stock"] != stock or "left" not in sheet:
                continue
            where = f"sheet {stock}-{sheet['number']}"
            due = index in areas and areas[index] <= min(areas.values()) + 1e-3
            text = f"{where}: what is left is told of a board that is not the new one with the least on it"
            report.expect(due, FILE, text)
            _check_free(report, layout, index, where)


def _check_free(report: Report, layout: Layout, index: int, where: str) -> None:
    sheet, outline = layout.raw["sheets"][index], layout.outline(index)
    gap = layout.stocks[sheet["stock"]]["gap"]
    things = _things(layout, index)
    left = bed_box(sheet["left"])
    report.expect(_is_on(outline, left), FILE, f"{where}: the rectangle left is not on the sheet")
    for what, thing in things:
        text = f"{where}: the rectangle left does not keep the gap of {gap} mm from {what}"
        report.expect(_is_off(thing, left, gap), FILE, text)
    for side, grown in _grown(left):
        free = _is_on(outline, grown) and all(_is_off(thing, grown, gap) for _, thing in things)
        report.expect(not free, FILE, f"{where}: the rectangle left could be larger: there is room {side}")


def _things(layout: Layout, index: int) -> list[tuple[str, Polygon]]:
    """All that the gap is kept off; the holes of pieces are no room."""
    sheet: dict[str, Any] = layout.raw["sheets"][index]
    pieces = zip(sheet["placed"], layout.placed(index), strict=True)
    things = [(f"piece {entry['piece']}", Polygon(shape.exterior)) for entry, shape in pieces]
    things += [(f"bed {bed['number']}", bed_box(bed)) for bed in sheet.get("bed", [])]
    holes = (shapely.Point(at).buffer(REGISTER_MM / 2, quad_segs=256) for at in sheet.get("register", []))
    return things + [("a register hole", hole) for hole in holes]


def _is_on(outline: Polygon, rectangle: Polygon) -> bool:
    return bool(outline.covers(rectangle.buffer(-ROOM_MM, join_style="mitre")))


def _is_off(thing: Polygon, rectangle: Polygon, gap_mm: float) -> bool:
    core = rectangle.buffer(-ROOM_MM, join_style="mitre")
    return bool(not thing.intersects(core) and thing.distance(rectangle) >= gap_mm - ROOM_MM)


def _grown(rectangle: Polygon) -> Sequence[tuple[str, Polygon]]:
    x0, y0, x1, y1 = rectangle.bounds
    return (
        ("to its left", shapely.box(x0 - MORE_MM, y0, x1, y1)),
        ("below it", shapely.box(x0, y0 - MORE_MM, x1, y1)),
        ("to its right", shapely.box(x0, y0, x1 + MORE_MM, y1)),
        ("above it", shapely.box(x0, y0, x1, y1 + MORE_MM)),
    )
