"""Checks of register holes and of rectangles for a machine's bed in layout.json."""

from itertools import combinations
from typing import Any

import numpy as np
import shapely
from pack_drawn import Drawn
from pack_layout import FILE, Layout
from pack_report import Report
from pack_view import REGISTER_MM, bed_box, bed_number, is_back, view_of
from pack_worked import Expected, has_back_cuts

ROOM_MM = 0.001


def check_back_files(report: Report, layout: Layout, drawn: Drawn, expected: Expected) -> None:
    """A sheet has files of its turned-over face exactly when that face has cuts, and register holes with them."""
    for index, sheet in enumerate(layout.raw["sheets"]):
        where = f"sheet {sheet['stock']}-{sheet['number']}"
        view = view_of(layout, index, sheet["files"][0], drawn)
        due = has_back_cuts(view, expected)
        made = any(shown.made for shown in view.shown)  # by the program: it may be cut behind
        backs = [name for name in sheet["files"] if is_back(name)]
        report.expect(not due or bool(backs), FILE, f"{where}: its turned-over face has cuts and no file")
        report.expect(due or made or not backs, FILE, f"{where}: its turned-over face has a file and no cuts")
        report.expect(
            due or (made and bool(backs)) or "register" not in sheet,
            FILE,
            f"{where}: register holes for a face that has no cuts",
        )


def check_register(report: Report, layout: Layout) -> None:
    """Register holes lie on the sheet and off every piece and bed rectangle by the gap."""
    for index, sheet in enumerate(layout.raw["sheets"]):
        if "register" not in sheet:
            continue
        where = f"sheet {sheet['stock']}-{sheet['number']}"
        gap = layout.stocks[sheet["stock"]]["gap"]
        holes = [shapely.Point(spot).buffer(REGISTER_MM / 2, quad_segs=256) for spot in sheet["register"]]
        for hole, (x, y) in zip(holes, sheet["register"], strict=True):
            what = f"{where}: register hole at ({x:.3f}, {y:.3f})"
            report.expect(layout.outline(index).covers(hole), FILE, f"{what}: is not on the sheet")
            near = [
                (entry["piece"], shape.distance(hole))
                for entry, shape in zip(sheet["placed"], layout.placed(index), strict=True)
            ]
            for name, apart in near:
                report.expect(
                    apart >= gap - ROOM_MM, FILE, f"{what}: {apart:.4f} mm from piece {name}, gap {gap}"
                )
        apart = float(np.hypot(*np.subtract(*sheet["register"])))
        report.expect(
            apart >= REGISTER_MM + gap, FILE, f"{where}: its register holes are {apart:.3f} mm apart"
        )


def check_beds(report: Report, layout: Layout, drawn: Drawn | None) -> None:
    """Bed rectangles are no larger than the bed, inside the margin, a gap apart; their pieces lie in them."""
    for index, sheet in enumerate(layout.raw["sheets"]):
        where = f"sheet {sheet['stock']}-{sheet['number']}"
        beds = sheet.get("bed", [])
        _check_bed_files(report, where, sheet, beds)
        if not beds:
            continue
        if drawn is not None:
            report.expect(drawn.bed_mm is not None, FILE, f"{where}: bed rectangles, the design has no bed")
            report.expect(drawn.tool != "knife", FILE, f"{where}: bed rectangles for a knife")
        numbers = [bed["number"] for bed in beds]
        report.expect(numbers == list(range(1, len(beds) + 1)), FILE, f"{where}: beds are numbered {numbers}")
        for bed in beds:
            _check_bed(report, layout, index, bed, drawn)
        gap = layout.stocks[sheet["stock"]]["gap"]
        for first, second in combinations(beds, 2):
            apart = bed_box(first).distance(bed_box(second))
            report.expect(
                apart >= gap - ROOM_MM,
                FILE,
                f"{where}: beds {first['number']} and {second['number']} are {apart:.4f} mm apart, gap {gap}",
            )
        _check_owners(report, layout, index, beds)


def _check_bed_files(report: Report, where: str, sheet: dict[str, Any], beds: list[dict[str, Any]]) -> None:
    filed = {number for name in sheet["files"] if (number := bed_number(name)) is not None}
    listed = {bed["number"] for bed in beds}
    report.expect(
        filed == listed, FILE, f"{where}: beds {sorted(listed)} are listed, {sorted(filed)} have files"
    )


def _check_bed(report: Report, layout: Layout, index: int, bed: dict[str, Any], drawn: Drawn | None) -> None:
    sheet = layout.raw["sheets"][index]
    where = f"sheet {sheet['stock']}-{sheet['number']}: bed {bed['number']}"
    if drawn is not None and drawn.bed_mm is not None:
        pairs = zip(bed["size"], drawn.bed_mm, strict=True)
        report.expect(
            all(own <= most + 1e-6 for own, most in pairs),
            FILE,
            f"{where}: {bed['size']} mm is larger than the bed of {drawn.bed_mm} mm",
        )
    margin = layout.stocks[sheet["stock"]]["margin"]
    outline, box = layout.outline(index), bed_box(bed)
    room = outline.boundary.distance(box) if outline.covers(box.buffer(-ROOM_MM)) else -1.0
    report.expect(
        room >= margin - ROOM_MM, FILE, f"{where}: does not keep the margin of {margin} mm ({room:.4f})"
    )
    report.expect(bool(bed["pieces"]), FILE, f"{where}: holds no piece")
    placed = {entry["piece"] for entry in sheet["placed"]}
    for name in bed["pieces"]:
        report.expect(name in placed, FILE, f"{where}: piece {name} is not on the sheet")


def _check_owners(report: Report, layout: Layout, index: int, beds: list[dict[str, Any]]) -> None:
    """A piece lies wholly in the rectangle that names it, and in no other."""
    sheet = layout.raw["sheets"][index]
    for entry, shape in zip(sheet["placed"], layout.placed(index), strict=True):
        for bed in beds:
            where = f"sheet {sheet['stock']}-{sheet['number']}: bed {bed['number']}"
            core = shape.buffer(-ROOM_MM)
            if entry["piece"] in bed["pieces"]:
                inside = bed_box(bed).covers(core)
                report.expect(inside, FILE, f"{where}: piece {entry['piece']} does not lie in it")
            else:
                apart = not bed_box(bed).intersects(core)
                report.expect(
                    apart, FILE, f"{where}: piece {entry['piece']} lies in it and is not named there"
                )
