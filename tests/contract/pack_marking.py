"""Checks of marking-out.csv: every corner of every piece is there, where it lies, within half a fraction.

Distances are held against the placed polygons of layout.json with fractions read here, in exact arithmetic.
"""

import itertools
import math
import re
from collections.abc import Iterator
from typing import Any

import numpy as np
import shapely
from pack_design import Design
from pack_geometry import Track
from pack_layout import Layout
from pack_marking_rows import ERROR_MM, MARKING_ROWS, ROOM_MM, Row, read_rows
from pack_report import Report

# Chords lie 0.005 mm off their arc: a chord's length times the turn to the next is 0.04 mm at most.
_CORNER_MM = 0.06
_CORNER_RAD = math.radians(2)
# What may be off of a curve that is drawn through its points, as a share of the tick; radii have one decimal.
_CURVE_SHARE = 0.2
_RADIUS_MM = 0.06
_ARC = re.compile(r"arc ([0-9]+) to ([0-9]+), radius .*, turning (left|right)")
_BACKS = ("from the back",)


def corners_of(ring: np.ndarray) -> np.ndarray:
    """Return the corners of a ring (closed), without vertices of its curves and those where it hardly turns."""
    points = ring[:-1]
    before, after = points - np.roll(points, 1, axis=0), np.roll(points, -1, axis=0) - points
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turn = np.abs(np.arctan2(cross, (before * after).sum(axis=1)))
    short = np.minimum(np.hypot(*before.T), np.hypot(*after.T))
    return points[(turn * short > _CORNER_MM) & (turn > _CORNER_RAD)]


def check_marking(
    report: Report,
    data: bytes,
    layout: Layout,
    design: Design | None,
    drawn: dict[int, dict[str, list[Track]]],
) -> list[Row]:
    """Check the whole table; `drawn`: the lines of marks of each sheet's DXF by layer. Returns its rows."""
    rows = read_rows(report, data, design)
    by_piece: dict[tuple[str, int, str], list[Row]] = {}
    for row in rows:
        by_piece.setdefault(row.piece, []).append(row)
    order = list(by_piece)
    report.expect(
        [row.piece for row in rows] == [piece for piece in order for _ in by_piece[piece]],
        MARKING_ROWS,
        "the rows of a piece do not stand together",
    )
    placed: dict[tuple[str, int, str], tuple[int, Any]] = {}
    for index, sheet in enumerate(layout.raw["sheets"]):
        for entry in sheet["placed"]:
            placed[sheet["stock"], sheet["number"], entry["piece"]] = index, entry
    for piece in order:
        named = f"{piece[2]} on {piece[0]}-{piece[1]}"
        report.expect(
            piece in placed, MARKING_ROWS, f"line {by_piece[piece][0].line}: no piece {named} is placed"
        )
    for piece, (index, entry) in placed.items():
        own = by_piece.get(piece, [])
        if report.expect(bool(own), MARKING_ROWS, f"piece {piece[2]}: no row on {piece[0]}-{piece[1]}"):
            _check_piece(report, own, [np.array(ring, dtype=float) for ring in entry["polygon"]])
            _check_drawn(report, own, layout.raw["sheets"][index]["size"], drawn.get(index, {}))
    return rows


def _check_piece(report: Report, rows: list[Row], rings: list[np.ndarray]) -> None:
    """Corners of the piece have rows, rows of its rings lie on it, one number is one place."""
    piece = rows[0].piece[2]
    places: dict[str, Row] = {}
    for row in rows:
        first = places.setdefault(row.name, row)
        report.expect(
            first.at_mm == row.at_mm, MARKING_ROWS, f"line {row.line}: {row.name} of {piece} is two places"
        )
    outlined = [row for row in rows if row.of.split()[0] in ("outline", "opening", "slot")]
    numbered = [row for row in outlined if not row.name.startswith("c")]
    read = np.array([row.xy for row in numbered]).reshape(-1, 2)
    half = rows[0].half_mm
    corners = np.vstack([np.empty((0, 2)), *map(corners_of, rings)])
    for ring in rings:
        for x, y in _left_out(ring, read, half, float(rows[0].tick_mm) * _CURVE_SHARE):
            report.expect(False, MARKING_ROWS, f"piece {piece}: no row for its corner at ({x:.3f}, {y:.3f})")
    report.checks += len(corners)
    vertices = np.vstack([ring[:-1] for ring in rings])
    lines = shapely.MultiLineString([shapely.LineString(ring) for ring in rings])
    _check_rebuilt(report, outlined, vertices)
    for row in numbered:
        _check_on_ring(report, row, vertices, corners, lines)
    for row in outlined:
        if row.name.startswith("c"):
            _check_centre(report, row, rings, places)


def _left_out(ring: np.ndarray, read: np.ndarray, half_mm: float, off_mm: float) -> np.ndarray:
    """Return the corners that have no row, but for those that a curve through the others hardly leaves out."""
    points = ring[:-1]
    has_row = np.zeros(len(points), dtype=bool)
    for start in range(0, len(points), 1000):
        off = np.abs(points[start : start + 1000, None, :] - read[None, :, :]).max(axis=2)
        has_row[start : start + 1000] = (off <= half_mm).any(axis=1)
    kept, corners = points[has_row], corners_of(ring)
    known = (corners[:, None, :] == kept[None, :, :]).all(axis=2).any(axis=1)
    lost = corners[~known]
    if len(kept) < 2 or not len(lost):
        return lost
    line = shapely.LineString([*kept, kept[0]])
    return lost[shapely.distance(shapely.points(lost), line) > off_mm + ROOM_MM]


def _check_rebuilt(report: Report, rows: list[Row], vertices: np.ndarray) -> None:
    """Rules from point to point, and compasses, draw every line of the piece again."""
    drawn: list[shapely.Geometry] = []
    for _, group in itertools.groupby(rows, key=lambda row: row.of):
        points = []
        for row in group:
            size = re.search(r"([0-9.]+) mm", row.words)
            if not row.name.startswith("c"):
                points.append(row.xy)
            elif size:
                radius = float(size[1]) / (2 if row.words.startswith("circle") else 1)
                drawn.append(shapely.Point(row.xy).buffer(radius, quad_segs=64).exterior)
        if len(points) > 1:
            drawn.append(shapely.LineString([*points, points[0]]))
    off = shapely.distance(shapely.points(vertices), shapely.union_all(drawn))
    most = rows[0].half_mm * math.sqrt(2) + float(rows[0].tick_mm) * _CURVE_SHARE + _RADIUS_MM
    worst = int(off.argmax())
    x, y = vertices[worst]
    text = f"piece {rows[0].piece[2]}: the points draw its line {off[worst]:.2f} mm off at ({x:.2f}, {y:.2f})"
    report.expect(bool(off[worst] <= most), MARKING_ROWS, text)


def _check_on_ring(
    report: Report, row: Row, vertices: np.ndarray, corners: np.ndarray, lines: shapely.Geometry
) -> None:
    """A numbered point lies at a corner, off by the error that is told; on a curve, on its line."""
    what = f"line {row.line}: {row.name} of {row.of}, piece {row.piece[2]},"
    box = shapely.box(*(row.xy - row.half_mm), *(row.xy + row.half_mm))
    if not report.expect(bool(lines.intersects(box)), MARKING_ROWS, f"{what} lies off the piece's line"):
        return
    off = np.abs(vertices - row.xy).max(axis=1)
    near = off <= row.half_mm
    at_corner = len(corners) and bool((np.abs(corners - row.xy).max(axis=1) <= row.half_mm).any())
    if at_corner:
        told = bool((np.abs(off[near] - row.error_mm) <= ERROR_MM + ROOM_MM).any())
        text = f"{what} is told {row.error_mm} mm off and is {off[near].min():.4f} mm off its corner"
        report.expect(told, MARKING_ROWS, text)


def _check_centre(report: Report, row: Row, rings: list[np.ndarray], places: dict[str, Row]) -> None:
    """A place for the compass is the middle of a circle or of the arc between two numbered corners."""
    what = f"line {row.line}: {row.name} of {row.of}, piece {row.piece[2]},"
    middles = list(_middles(row, rings, places))
    off = min((float(np.abs(middle - row.xy).max()) for middle in middles), default=math.inf)
    if report.expect(off <= row.half_mm + 0.01, MARKING_ROWS, f"{what} is no middle of what it strikes"):
        told = any(abs(np.abs(middle - row.xy).max() - row.error_mm) <= 0.01 for middle in middles)
        report.expect(told, MARKING_ROWS, f"{what} is told {row.error_mm} mm off and is {off:.4f} mm off")


def _middles(row: Row, rings: list[np.ndarray], places: dict[str, Row]) -> Iterator[np.ndarray]:
    match = _ARC.match(row.words)
    if match is None:
        for ring in rings:
            shape = shapely.Polygon(ring)
            yield np.array(shape.centroid.coords[0])
        return
    if match[1] not in places or match[2] not in places:
        return
    start, end = places[match[1]].xy, places[match[2]].xy
    for ring in rings:
        points = ring[:-1]
        first, last = (int(np.abs(points - at).max(axis=1).argmin()) for at in (start, end))
        for way in (1, -1):
            count = (last - first) * way % len(points) or len(points)
            run = points[[(first + way * step) % len(points) for step in range(count + 1)]]
            if len(run) >= 3:
                yield _circle_middle(run)


def _circle_middle(points: np.ndarray) -> np.ndarray:
    """Return the middle of the circle through points, by least squares (x2 + y2 = 2ax + 2by + c)."""
    middle = points.mean(axis=0)
    near = points - middle
    matrix = np.column_stack([2 * near, np.ones(len(near))])
    found, *_ = np.linalg.lstsq(matrix, (near**2).sum(axis=1), rcond=None)
    return found[:2] + middle


def _check_drawn(report: Report, rows: list[Row], size: list[float], tracks: dict[str, list[Track]]) -> None:
    """What is marked on a piece lies on a line of the sheet's DXF; that of the other face is left to its file."""
    lines = [track.line() for track in itertools.chain.from_iterable(tracks.values())]
    drawn = (
        shapely.MultiLineString([line for line in lines if line.geom_type == "LineString"]) if lines else None
    )
    for row in rows:
        what = f"line {row.line}: {row.name} of {row.of}, piece {row.piece[2]},"
        inside = all(-row.half_mm <= x <= most + row.half_mm for x, most in zip(row.xy, size, strict=True))
        centre = row.name.startswith("c")
        report.expect(inside or centre, MARKING_ROWS, f"{what} is not on the sheet")
        if drawn is None or centre or row.of.split()[0] not in ("fold", "mark") or _BACKS[0] in row.words:
            continue
        box = shapely.box(*(row.xy - row.half_mm), *(row.xy + row.half_mm))
        report.expect(
            bool(drawn.intersects(box)), MARKING_ROWS, f"{what} lies on no line of the sheet's file"
        )
