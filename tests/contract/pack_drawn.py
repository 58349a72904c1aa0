"""What a part of design.toml says that shows in its lines: folds, bevels, slots, tabs, joints, doubler, kerf."""

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from pack_built import built_table
from pack_outline import Edge, Point, edges_of, flipped
from pack_sums import Measures, measures_of
from shapely import LineString, Polygon

FIT = {"knife": "0.2 mm", "plotter": "0 mm", "laser": "0 mm"}
_FAR_MM = 1e5


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnFold:
    """A fold as drawn; `hand` is -1 on the mirrored hand, where the left of the line is its right."""

    kind: str
    start: Point
    end: Point
    turn_deg: float
    down: bool
    extra_deg: float
    lands_mm: float
    near: bool
    radius_mm: float
    every_mm: float
    bevel_deg: float
    band_mm: float = math.nan
    hand: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubling:
    """Where doublers may lie; lengths in mm."""

    stock: str
    overlap_mm: float
    inset_mm: float
    taper_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPart:
    """One hand of a part in its own coordinates. `joints`: None for the program's choice, () for none at all."""

    name: str
    thickness_mm: float
    kerf_mm: float
    folds: tuple[DrawnFold, ...]
    edges: tuple[Edge, ...]
    slots: tuple[Polygon, ...]
    tabs: tuple[LineString, ...]
    clear: tuple[shapely.Geometry, ...]
    keep_clear: tuple[Polygon, ...]
    joints: tuple[tuple[str, float], ...] | None
    may_join: bool
    doubling: Doubling
    made: bool = False  # by the program: the design has no words for its outline, folds and slots


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """All parts of a design by their names on paper; the machine's bed."""

    parts: dict[str, DrawnPart]
    bed_mm: tuple[float, float] | None
    tool: str
    kerf_mm: float = 0.0  # of every part that says nothing else
    bodies: tuple[DrawnPart, ...] = ()  # what is known of every part of a body, its name the body's

    def with_made(self, stocks: dict[str, str]) -> "Drawn":
        """Return the same with the parts that the program made for bodies; `stocks`: of all parts by name."""
        made = {
            name: replace(body, name=name)
            for name, stock in stocks.items()
            for body in self.bodies
            if name not in self.parts and name.startswith(f"{body.name}-") and stock == body.doubling.stock
        }
        return replace(self, parts=self.parts | made)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reader:
    measures: Measures
    table: dict[str, Any]

    def thickness(self, stock: str) -> float:
        return self.measures.length_mm(self.table["stock"][stock]["thickness"])

    def cutting(self, part: dict[str, Any], key: str, default: str) -> float:
        common = self.table.get("cutting", {}).get(key, default)
        return self.measures.length_mm(part.get("cutting", {}).get(key, common))

    def fold(self, entry: dict[str, Any], board_mm: float) -> DrawnFold:
        length, angle = self.measures.length_mm, self.measures.angle_deg
        turn = entry.get("turn", {"wrap": 90, "hinge": 0}.get(entry["kind"]))
        return DrawnFold(
            kind=entry["kind"],
            start=self.measures.point_mm(entry["from"]),
            end=self.measures.point_mm(entry["to"]),
            turn_deg=angle(turn),
            down=entry.get("side", "up") == "down",
            extra_deg=angle(entry.get("groove_extra", 0)),
            lands_mm=self.thickness(entry["lands"]) if "lands" in entry else board_mm,
            near=entry.get("fold_at", "far") == "near",
            radius_mm=length(entry["radius"]) if "radius" in entry else math.nan,
            every_mm=length(entry["every"]) if "every" in entry else board_mm,
            bevel_deg=angle(entry.get("bevel", 0)),
            band_mm=length(entry["band"]) if "band" in entry else math.nan,
        )

    def slot(self, part: dict[str, Any], entry: dict[str, Any]) -> Polygon:
        tool = self.table.get("cutting", {}).get("tool", "knife")
        fit = self.cutting(part, "fit", FIT[tool])
        long = self.measures.length_mm(entry["length"]) + fit
        wide = self.thickness(entry["takes"]) + fit
        turn = math.radians(self.measures.angle_deg(entry.get("turn", 0)))
        x, y = self.measures.point_mm(entry["at"])
        corners = np.array([(-long, -wide), (long, -wide), (long, wide), (-long, wide)]) / 2
        spin = np.array([(math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))])
        return Polygon(corners @ spin + (x, y))

    def clear_mark(self, entry: dict[str, Any]) -> shapely.Geometry:
        """Return what a mark with `clear = true` covers: a line, the disc of a circle, the whole of a tape."""
        points = self.measures.point_mm
        if "circle" in entry:
            return shapely.Point(points(entry["at"])).buffer(
                self.measures.length_mm(entry["circle"]) / 2, quad_segs=2000
            )
        if "tape" in entry:
            line = LineString([points(point) for point in entry["tape"]])
            return line.buffer(self.measures.length_mm(entry["width"]) / 2, cap_style="flat")
        if "line" in entry:
            return LineString([points(point) for point in entry["line"]])
        return LineString([points(entry["from"]), points(entry["to"])])

    def keep_clear(self, entry: dict[str, Any]) -> Polygon:
        ends = {
            axis: sorted(self.measures.point_mm(entry[axis])) if axis in entry else [-_FAR_MM, _FAR_MM]
            for axis in ("x", "y")
        }
        return shapely.box(ends["x"][0], ends["y"][0], ends["x"][1], ends["y"][1])

    def doubling(self, part: dict[str, Any], board_mm: float) -> Doubling:
        entry, length = part.get("doubler", {}), self.measures.length_mm
        overlap = length(entry["overlap"]) if "overlap" in entry else 10 * board_mm
        return Doubling(
            stock=entry.get("stock", part["stock"]),
            overlap_mm=overlap,
            inset_mm=length(entry["inset"]) if "inset" in entry else board_mm,
            taper_mm=length(entry["taper"]) if "taper" in entry else overlap / 2,
        )

    def tab(self, entry: dict[str, Any], edges: tuple[Edge, ...]) -> LineString:
        """Return where a tab stands, roughly: its length about its middle along the nearest edge."""
        x, y = self.measures.point_mm(entry["at"])
        half = self.measures.length_mm(entry["length"]) / 2
        near = [e for e in edges if LineString([e.start, e.end]).distance(shapely.Point(x, y)) < 0.02]
        if not near:
            return LineString([(x, y), (x, y)])
        (ax, ay), (bx, by) = near[0].start, near[0].end
        size = math.hypot(bx - ax, by - ay)
        dx, dy = (bx - ax) / size * half, (by - ay) / size * half
        return LineString([(x - dx, y - dy), (x + dx, y + dy)])

    def joints(self, part: dict[str, Any], hand: str) -> tuple[tuple[str, float], ...] | None:
        entries = part.get("joints")
        if entries is None or entries == "none":
            return None if entries is None else ()
        own = [entry for entry in entries if entry.get("hand", hand) == hand]
        if not own:
            return None
        return tuple(
            (axis, self.measures.length_mm(entry[axis]))
            for entry in own
            for axis in ("x", "y")
            if axis in entry
        )

    def part(self, name: str, part: dict[str, Any], hand: str) -> DrawnPart:
        """Read one hand as it is drawn; the caller mirrors it."""
        board_mm = self.thickness(part["stock"])
        edges = edges_of(part, self.measures)
        return DrawnPart(
            name=name,
            thickness_mm=board_mm,
            kerf_mm=self.cutting(part, "kerf", "0 mm"),
            folds=tuple(self.fold(entry, board_mm) for entry in part.get("folds", [])),
            edges=edges,
            slots=tuple(self.slot(part, entry) for entry in part.get("slots", [])),
            tabs=tuple(self.tab(entry, edges) for entry in part.get("tabs", [])),
            clear=tuple(self.clear_mark(entry) for entry in part.get("marks", []) if entry.get("clear")),
            keep_clear=tuple(self.keep_clear(entry) for entry in part.get("keep_clear", [])),
            joints=self.joints(part, hand),
            may_join=bool(part.get("may_join", False)),
            doubling=self.doubling(part, board_mm),
        )


def _other_hand(part: DrawnPart) -> DrawnPart:
    """Return the mirror image, y -> -y."""

    def over(point: Point) -> Point:
        return point[0], -point[1]

    def turned(shape: Any) -> Any:
        return shapely.transform(shape, lambda points: points * (1, -1))

    return replace(
        part,
        folds=tuple(
            replace(fold, start=over(fold.start), end=over(fold.end), hand=-1) for fold in part.folds
        ),
        edges=tuple(flipped(edge) for edge in reversed(part.edges)),
        slots=tuple(map(turned, part.slots)),
        tabs=tuple(map(turned, part.tabs)),
        clear=tuple(map(turned, part.clear)),
        keep_clear=tuple(map(turned, part.keep_clear)),
        joints=None
        if part.joints is None
        else tuple((axis, -at if axis == "y" else at) for axis, at in part.joints),
    )


def _body(reader: _Reader, name: str, entry: dict[str, Any]) -> DrawnPart:
    """Return what is known of the parts of a body that are cut from its board: how they are joined."""
    board_mm = reader.thickness(entry["stock"])
    return DrawnPart(
        name=name,
        thickness_mm=board_mm,
        kerf_mm=reader.cutting({}, "kerf", "0 mm"),
        folds=(),
        edges=(),
        slots=(),
        tabs=(),
        clear=(),
        keep_clear=(),
        joints=None,
        may_join=False,
        doubling=reader.doubling(entry, board_mm),
        made=True,
    )


def read_drawn(data: bytes) -> Drawn:
    """Read what the lines of a pack follow from; raises KeyError or ValueError on what makes no pack."""
    table = built_table(data.decode("utf-8-sig"))
    reader = _Reader(measures=measures_of(table), table=table)
    parts: dict[str, DrawnPart] = {}
    for name, entry in table.get("parts", {}).items():
        pair = entry.get("pair")
        for hand in ("right", "left") if pair else ("none",):
            own = name if hand == "none" else f"{name}-{hand}"
            part = reader.part(own, entry, hand)
            parts[own] = _other_hand(part) if pair and hand != pair else part
    cutting = table.get("cutting", {})
    bed = cutting.get("bed")
    return Drawn(
        parts=parts,
        bed_mm=None if bed is None else _size_mm(bed, reader.measures),
        tool=cutting.get("tool", "knife"),
        kerf_mm=reader.cutting({}, "kerf", "0 mm"),
        bodies=tuple(_body(reader, name, entry) for name, entry in table.get("body", {}).items()),
    )


def _size_mm(text: str, measures: Measures) -> tuple[float, float]:
    first, _, second = text.partition(" x ")
    unit = second.split()[-1]
    first = first if first.strip()[-1].isalpha() else f"{first} {unit}"
    return measures.length_mm(first), measures.length_mm(second)
