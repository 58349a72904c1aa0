"""Checks of the parts of layout.json against each other and against the design."""

from typing import Any

from pack_design import Design, DesignPart, Stock
from pack_geometry import SAME_AREA_MM2, mirrored
from pack_layout import FILE, Layout
from pack_report import Report


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
        stem, found, more = part["name"].rpartition(ending)
        glued_on = part["name"] in layout.raw.get("added", [])  # to the part of that hand: the name goes on
        named = bool(found) and (glued_on or not more)
        if not report.expect(named, FILE, f"part {part['name']}: name lacks {ending!r}"):
            continue
        other_name = f"{stem}-{other_hand}{more}"
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
        there = name in layout.parts or layout.is_partial
        report.expect(there, FILE, f"part {name} of the design is missing")
    for name, part in layout.parts.items():
        if name in layout.raw.get("added", []):
            continue  # to a part of an older version
        if name not in wanted and design.makes(name):
            report.expect(
                part["count"] == 1, FILE, f"part {name}: made by the program, and not one (or a pair)"
            )
            report.expect(part["pose"] is not None, FILE, f"part {name}: made by the program without a pose")
        elif report.expect(name in wanted, FILE, f"part {name} is not in the design"):
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
        if layout.is_partial and part.name not in layout.parts:
            continue
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
