"""Checks of the pieces of layout.json: roles and counts, sections that rebuild their part."""

from collections import Counter
from typing import Any

import shapely
from pack_drawn import Drawn
from pack_geometry import SAME_AREA_MM2
from pack_layout import FILE, Layout
from pack_report import Report

ROLES = ("whole", "section", "doubler")


def check_pieces(report: Report, layout: Layout, drawn: Drawn | None) -> None:
    """A part of count n has n wholes or n sets of sections and doublers; every piece is placed once."""
    sets: dict[tuple[str, int], list[dict[str, Any]]] = {}
    for piece in layout.pieces.values():
        if report.expect(
            piece["part"] in layout.parts, FILE, f"piece {piece['id']}: part {piece['part']!r} is not listed"
        ):
            sets.setdefault((piece["part"], piece["copy"]), []).append(piece)
    for name, part in layout.parts.items():
        found = sorted(copy for owner, copy in sets if owner == name)
        report.expect(
            found == list(range(1, part["count"] + 1)),
            FILE,
            f"part {name}: copies are {found}, its count is {part['count']}",
        )
        _check_alike(report, name, [sets[name, copy] for copy in found])
        for copy in found:
            _check_set(report, layout, name, copy, sets[name, copy])
    if drawn is not None:
        _check_stocks(report, layout, drawn)
    placed = Counter(entry["piece"] for sheet in layout.raw["sheets"] for entry in sheet["placed"])
    for name in layout.pieces:
        report.expect(placed[name] > 0, FILE, f"piece {name} is not placed")
        report.expect(placed[name] < 2, FILE, f"piece {name} is placed {placed[name]} times")
    for name in placed:
        report.expect(name in layout.pieces, FILE, f"placed piece {name!r} is not listed")


def _check_alike(report: Report, name: str, sets: list[list[dict[str, Any]]]) -> None:
    """All copies of a part are cut in the same way."""
    ways = {tuple(sorted((piece["role"], piece.get("name", "")) for piece in pieces)) for pieces in sets}
    report.expect(len(ways) < 2, FILE, f"part {name}: its copies are not cut in the same way")


def _check_set(report: Report, layout: Layout, name: str, copy: int, pieces: list[dict[str, Any]]) -> None:
    """One copy: a single whole, or two sections or more, with doublers, that rebuild the part."""
    where = f"part {name}, copy {copy}"
    count = Counter(piece["role"] for piece in pieces)
    if count["whole"]:
        report.expect(
            dict(count) == {"whole": 1}, FILE, f"{where}: a whole part has {dict(count)} as its pieces"
        )
    else:
        report.expect(count["section"] >= 2, FILE, f"{where}: {count['section']} sections make no part")
        report.expect(count["doubler"] >= 1, FILE, f"{where}: no doubler holds its sections together")
        joined = any(joint["part"] == name for joint in layout.raw.get("joints", []))
        report.expect(joined, FILE, f"{where}: cut in sections, and no joint is listed")
    body = [piece for piece in pieces if piece["role"] != "doubler"]
    shapes, part = [layout.piece_shape(piece["id"]) for piece in body], layout.part_shape(name)
    if not shapes:
        return
    area, built = sum(shape.area for shape in shapes), shapely.union_all(shapes)
    names = ", ".join(piece["id"] for piece in body)
    report.expect(
        abs(area - part.area) <= 1e-6 * part.area,
        FILE,
        f"{where}: the area of {names} is {area:.6f} mm2, not its part's {part.area:.6f}",
    )
    off = built.symmetric_difference(part).area
    report.expect(off < SAME_AREA_MM2, FILE, f"{where}: {names} do not rebuild the part ({off:.6f} mm2 off)")


def _check_stocks(report: Report, layout: Layout, drawn: Drawn) -> None:
    """Every piece lies on the stock of its part, a doubler on that of the design's `doubler`."""
    for sheet in layout.raw["sheets"]:
        for entry in sheet["placed"]:
            piece = layout.pieces.get(entry["piece"])
            part = layout.parts.get(piece["part"]) if piece else None
            doubler = piece is not None and piece["role"] == "doubler"
            if piece is None or part is None or (doubler and piece["part"] not in drawn.parts):
                continue
            stock = drawn.parts[piece["part"]].doubling.stock if doubler else part["stock"]
            report.expect(
                sheet["stock"] == stock,
                FILE,
                f"sheet {sheet['stock']}-{sheet['number']}: piece {piece['id']}: lies on another stock than {stock}",
            )
