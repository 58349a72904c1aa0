"""Reads layout.json: its spelling, its schema, every polygon in it."""

from dataclasses import dataclass, field
from typing import Any

from pack_geometry import polygon, polygon_faults, signed_area
from pack_report import Report
from pack_schema import LAYOUT, read_json
from shapely import Polygon

FILE = "layout.json"


@dataclass(slots=True, kw_only=True)
class Layout:
    """layout.json once its schema holds: the raw document, and its polygons as shapely ones."""

    raw: dict[str, Any]
    parts: dict[str, dict[str, Any]] = field(default_factory=dict)
    pieces: dict[str, dict[str, Any]] = field(default_factory=dict)
    stocks: dict[str, dict[str, Any]] = field(default_factory=dict)
    shapes: dict[str, Polygon] = field(default_factory=dict)

    @property
    def is_partial(self) -> bool:
        """Tell whether it lays some parts alone."""
        return "only" in self.raw

    def part_shape(self, name: str) -> Polygon:
        """Return the polygon of a part."""
        return self.shapes[f"part {name}"]

    def piece_shape(self, name: str) -> Polygon:
        """Return the polygon of a piece."""
        return self.shapes[f"piece {name}"]

    def names_on_paper(self) -> list[str]:
        """Return what templates are made of: whole parts, sections and doublers, each name once."""
        return list(dict.fromkeys(paper_name(piece) for piece in self.raw["pieces"]))

    def paper_shape(self, name: str) -> Polygon:
        """Return the polygon of a whole part, a section or a doubler."""
        return self.piece_shape(self._first(name)["id"])

    def stock_on_paper(self, name: str) -> str:
        """Return the stock that the pieces of a name lie on."""
        piece = self._first(name)["id"]
        for sheet in self.raw["sheets"]:
            if any(entry["piece"] == piece for entry in sheet["placed"]):
                return str(sheet["stock"])
        raise ValueError(f"piece {piece} is not placed")

    def _first(self, name: str) -> dict[str, Any]:
        for piece in self.raw["pieces"]:
            if paper_name(piece) == name:
                return piece
        raise ValueError(f"no piece is named {name}")

    def outline(self, index: int) -> Polygon:
        """Return the outline of the sheet at this place in the list."""
        return self.shapes[f"sheets[{index}]"]

    def placed(self, index: int) -> list[Polygon]:
        """Return the placed polygons of the sheet at this place in the list."""
        return [
            self.shapes[f"sheets[{index}].placed[{at}]"]
            for at in range(len(self.raw["sheets"][index]["placed"]))
        ]


def paper_name(piece: dict[str, Any]) -> str:
    """Return the name that a piece has on paper: alike for all copies."""
    return str(piece.get("name", piece["part"]))


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
