"""Rings, polygons and distances, in mm, for checking a pack. Knows no file format."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LinearRing, LineString, Polygon

# A ring of layout.json has its vertices on the true arc and chords at most 0.005 mm off it.
CHORD_MM = 0.005
# What rounding to 6 decimals, bulges with 6 decimals and arcs read back in 0.1 degree steps may add.
READ_MM = 0.001
# Areas of the same shape out of two computations.
SAME_AREA_MM2 = 1e-3

Ring = Sequence[Sequence[float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """One drawn line: points (n, 2) in the sheet's or part's coordinates, and whether the file closes it."""

    points: np.ndarray
    closed: bool

    def line(self) -> LineString:
        """Return the line with its closing edge."""
        points = self.points
        if self.closed and len(points) > 2 and not np.array_equal(points[0], points[-1]):
            points = np.vstack([points, points[:1]])
        return LineString(points)

    def area(self) -> Polygon:
        """Return what the line encloses; an open line that returns to its start counts as drawn."""
        return Polygon(self.points)


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One piece of lettering and the point it is set by, in the coordinates of the file's sheet."""

    words: str
    at: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """What was read out of one file: lines by layer, and the lettering."""

    tracks: dict[str, list[Track]]
    texts: list[Text]


def signed_area(ring: Ring) -> float:
    """Return the area of a closed ring in mm2, positive when it runs counter-clockwise."""
    points = np.asarray(ring, dtype=float)
    points = points - points[0]
    x, y = points[:, 0], points[:, 1]
    return float(np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1])) / 2.0


def polygon(rings: Sequence[Ring]) -> Polygon:
    """Build the polygon of a list of rings, the outside first."""
    return Polygon(rings[0], rings[1:])


def ring_faults(ring: Ring, *, outside: bool) -> list[str]:
    """List what is wrong with one ring: closed, direction, where it starts, points said twice."""
    faults = []
    points = [tuple(point) for point in ring]
    if len(points) < 4:
        return [f"has {len(points)} points, a closed ring needs at least 4"]
    if points[0] != points[-1]:
        faults.append("is not closed: its last point is not its first")
    else:
        area = signed_area(points)
        if outside and area <= 0:
            faults.append("is the outside and does not run counter-clockwise")
        if not outside and area >= 0:
            faults.append("is a hole and does not run clockwise")
    if points[0] != min(points):
        faults.append(f"starts at {points[0]}, its lowest x then lowest y is {min(points)}")
    if any(first == second for first, second in itertools.pairwise(points)):
        faults.append("says a point twice running")
    return faults


def polygon_faults(rings: Sequence[Ring]) -> list[str]:
    """List what is wrong with a polygon as layout.json writes it."""
    if not rings:
        return ["has no ring"]
    faults = []
    for index, ring in enumerate(rings):
        faults += [f"ring {index} {text}" for text in ring_faults(ring, outside=index == 0)]
    if not faults:
        shape = polygon(rings)
        if not shape.is_valid:
            faults.append(f"is not a valid polygon: {shapely.is_valid_reason(shape)}")
        elif shape.area <= 0:
            faults.append("has no area")
    return faults


def moved(shape: Polygon, *, x: float, y: float, turn_deg: float, flipped: bool) -> Polygon:
    """Mirror (y -> -y) if flipped, turn counter-clockwise about (0, 0), then move."""
    return shapely.transform(shape, lambda points: move_points(points, x, y, turn_deg, flipped))


def move_points(points: np.ndarray, x: float, y: float, turn_deg: float, flipped: bool) -> np.ndarray:
    """Do to (n, 2) points what a placement does to its piece."""
    cos, sin = _cos_sin(turn_deg)
    across = -points[:, 1] if flipped else points[:, 1]
    along = points[:, 0]
    return np.column_stack([along * cos - across * sin + x, along * sin + across * cos + y])


def unmove_points(points: np.ndarray, x: float, y: float, turn_deg: float, flipped: bool) -> np.ndarray:
    """Take (n, 2) points of the sheet back to the piece's own coordinates."""
    cos, sin = _cos_sin(turn_deg)
    along, across = points[:, 0] - x, points[:, 1] - y
    back_x, back_y = along * cos + across * sin, -along * sin + across * cos
    return np.column_stack([back_x, -back_y if flipped else back_y])


def _cos_sin(turn_deg: float) -> tuple[float, float]:
    """Quarter turns exactly, so that no rounding hides a wrong coordinate."""
    quarters, rest = divmod(turn_deg, 90)
    if rest == 0:
        return [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)][int(quarters) % 4]
    return math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))


def mirrored(shape: Polygon) -> Polygon:
    """Return the mirror image, y -> -y."""
    return shapely.transform(shape, lambda points: points * (1, -1))


def farthest_mm(points: np.ndarray, lines: shapely.Geometry) -> float:
    """Return how far the farthest of (n, 2) points lies from the lines; infinite when there are no lines."""
    if len(points) == 0:
        return 0.0
    if lines.is_empty:
        return math.inf
    shapely.prepare(lines)
    return float(shapely.distance(shapely.points(points), lines).max())


def all_within(points: np.ndarray, lines: shapely.Geometry, limit_mm: float) -> bool:
    """Tell whether every one of (n, 2) points lies within a distance of the lines."""
    shapely.prepare(lines)
    return bool(shapely.dwithin(lines, shapely.points(points), limit_mm).all())


def vertices(shape: shapely.Geometry) -> np.ndarray:
    """Return all vertices (n, 2)."""
    return shapely.get_coordinates(shape)


def edge_distance_mm(first: Polygon, second: Polygon) -> float:
    """Return the farthest that a vertex of either outline (holes too) lies from the other outline."""
    return max(
        farthest_mm(vertices(first), second.boundary),
        farthest_mm(vertices(second), first.boundary),
    )


def is_circle(ring: LinearRing) -> bool:
    """Tell whether all vertices of a ring lie on one circle about the middle of its box, to 6 decimals."""
    left, bottom, right, top = ring.bounds
    radii = np.hypot(*(vertices(ring) - ((left + right) / 2, (bottom + top) / 2)).T)
    return len(radii) > 12 and float(np.ptp(radii)) <= 1e-5


def ring_matches(wanted: LinearRing, found: Polygon, *, on_mm: float, off_mm: float) -> bool:
    """Tell whether a drawn ring is the wanted one.

    on_mm: how far a vertex of `wanted` may be from the drawn line where it is straight or a full circle.
    off_mm: how far a drawn vertex may be from `wanted`, whose chords cut across arcs.
    """
    if max(abs(a - b) for a, b in zip(wanted.bounds, found.bounds, strict=True)) > max(on_mm, off_mm):
        return False
    edge = found.exterior
    if not (len(edge.coords) == len(wanted.coords) or is_circle(wanted)):
        # where two arcs were cut by each other, the corner lies on a chord, up to 0.005 mm inside its circle,
        # and the arc that is drawn through it passes the other vertices as closely
        on_mm = max(on_mm, off_mm)
    if not all_within(vertices(wanted), edge, on_mm) or not all_within(vertices(edge), wanted, off_mm):
        return False
    return Polygon(wanted).symmetric_difference(found.buffer(0)).area <= off_mm * wanted.length + 1e-9


def match_rings(
    wanted: Sequence[LinearRing], found: Sequence[Polygon], *, on_mm: float, off_mm: float
) -> tuple[list[int], list[int]]:
    """Pair wanted and drawn rings one to one; return the indices that find no partner, wanted and drawn."""
    free = list(range(len(found)))
    missing = []
    for index, ring in enumerate(wanted):
        partner = next((at for at in free if ring_matches(ring, found[at], on_mm=on_mm, off_mm=off_mm)), None)
        if partner is None:
            missing.append(index)
        else:
            free.remove(partner)
    return missing, free
