"""How far apart folded panels are along edges that are meant to meet.

mm.  Which edges are meant to meet is guessed from where they come to lie, by what a builder draws:
straight free edges of two panels that no fold joins, nearly parallel, beside each other over most of the
shorter one, nearer than 2.5 thicknesses (the usual slips are one thickness, and two between two sides), and
one looking towards the other as at the corner of a box; where both panels lie in one plane, or stand beside
each other like the walls of a trough, each has to look at the other's end.  A slit that is just as wide
on the flat part was drawn so and is left alone, and so are curved edges.
"""

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from foamcut.flat.drawn import FoldKind
from foamcut.flat.folded_body import Body, Edge
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import (
    CLASH_MM,
    EDGES_LEAN_DEG,
    MEETS_MM,
    NEAR_THICKNESSES,
    PANELS_LEAN_DEG,
)

#: edges have to run beside each other over this share of the shorter one
_BESIDE = 0.6
#: an edge looks towards another when the way to it goes at least this much outwards (cosine)
_FACING = 0.3
#: places along the stretch where two edges run beside each other, at which they are held against each other
_STATIONS = (0.1, 0.5, 0.9)
#: pairs of edges that are looked at between two panels, the longest: no builder's box has as many
_MOST_PAIRS = 100


class Gap(NamedTuple):
    """How far two edges are apart at most, and the middle of each on the flat part.

    `line_only`: they touch along a line, and are so far apart on the other side of the board.
    """

    gap_mm: float
    one: Point
    other: Point
    line_only: bool = False


def widest_gap(a: Body, b: Body, others: Sequence[Body] = ()) -> Gap | None:
    """The widest gap between edges of two panels that should meet; None where there is none.

    `others` are the other panels of the part: a gap that one of them fills is none.
    """
    near = NEAR_THICKNESSES * a.part.thickness_mm
    if not a.boxes_within(b, near):
        return None
    fillers = [c for c in others if c is not a and c is not b and a.shared_folds(c) and b.shared_folds(c)]
    gaps = [gap for one, other in _beside_each_other(a, b, near) if (gap := _gap(one, other, near, fillers))]
    return max(gaps, key=lambda gap: (not gap.line_only, gap.gap_mm, gap.one, gap.other), default=None)


def _beside_each_other(a: Body, b: Body, near: float) -> list[tuple[Edge, Edge]]:
    """The pairs of edges that run beside each other and are not far apart, the longest first."""
    if not a.edges or not b.edges:
        return []
    ways = np.array([edge.along for edge in b.edges])
    middles = np.array([(edge.ends[0] + edge.ends[1]) / 2 for edge in b.edges])
    halves = np.array([edge.length / 2 for edge in b.edges])
    pairs = []
    for i, one in enumerate(a.edges):
        parallel = np.abs(ways @ one.along) >= math.cos(math.radians(EDGES_LEAN_DEG))
        off = np.linalg.norm(middles - (one.ends[0] + one.ends[1]) / 2, axis=1) - halves - one.length / 2
        for j in np.flatnonzero(parallel & (off <= near + 2 * a.part.thickness_mm)).tolist():
            stretch = _beside(one, b.edges[j])
            if stretch is not None and not _far_apart(one, b.edges[j], stretch, near):
                pairs.append((round(stretch[0] - stretch[1], 6), i, j))
    return [(a.edges[i], b.edges[j]) for _, i, j in sorted(pairs)[:_MOST_PAIRS]]


def _gap(one: Edge, other: Edge, near: float, fillers: Sequence[Body]) -> Gap | None:
    stretch = _beside(one, other)
    if stretch is None:
        return None
    found = [_at(one, other, stretch, share, near, fillers) for share in _STATIONS]
    measured = [station for station in found if station is not None]
    if not measured or not all(_look_at_each_other(one, other, station.way) for station in measured):
        return None
    gaps = [station.gap_mm for station in measured]
    if min(gaps) > near or _drawn_so(one, other, max(gaps)):
        return None
    middles = _rounded(one.place(0.5)), _rounded(other.place(0.5))
    if max(gaps) > MEETS_MM:
        return Gap(max(gaps), *middles)
    if _all_closed(one.body) and all(station.line_only for station in measured):
        return Gap(max(station.open_mm for station in measured), *middles, line_only=True)
    return None


def _rounded(point: Point) -> Point:
    return round(point[0], 2) + 0.0, round(point[1], 2) + 0.0


def _beside(one: Edge, other: Edge) -> tuple[float, float] | None:
    """From where to where, along the first, two edges run beside each other; None for too short."""
    first, last = _reach(one, one)
    low, high = _reach(one, other)
    first, last = max(first, low), min(last, high)
    return (first, last) if last - first >= _BESIDE * min(one.length, other.length) else None


def _reach(way: Edge, edge: Edge) -> tuple[float, float]:
    """From where to where an edge reaches along another."""
    a, b = (float(way.along @ end) for end in edge.ends)
    return (a, b) if a < b else (b, a)


def _far_apart(one: Edge, other: Edge, stretch: tuple[float, float], near: float) -> bool:
    """Whether two edges are so far apart that their sections need not be looked at."""
    middle = (stretch[0] + stretch[1]) / 2
    way = _on(other, one, middle) - _on(one, one, middle)
    return float(np.linalg.norm(way)) > near + 2 * one.body.part.thickness_mm


def _look_at_each_other(one: Edge, other: Edge, way: np.ndarray | None) -> bool:
    """Whether the ends of two boards make a corner, or stand end to end.

    `way` is the direction of the shortest line from the one to the other, None where they touch.
    """
    if way is None:
        return True
    looks = float(way @ one.outwards), -float(way @ other.outwards)
    lean = one.body.lean_deg(other.body)
    side_by_side = min(lean, 180.0 - lean) <= PANELS_LEAN_DEG
    return (min(looks) if side_by_side else max(looks)) >= _FACING


def _on(edge: Edge, way: Edge, distance: float) -> np.ndarray:
    """The place on an edge's line so far along `way`."""
    start, end = edge.ends
    first, last = float(way.along @ start), float(way.along @ end)
    place: np.ndarray = start + (end - start) * ((distance - first) / (last - first))
    return place


def _drawn_so(one: Edge, other: Edge, gap_mm: float) -> bool:
    """Whether the edges are no farther apart on the flat part."""
    line = shapely.LineString([other.start, other.end])
    flat = max(line.distance(shapely.Point(one.place(share))) for share in _STATIONS)
    return flat <= gap_mm + MEETS_MM


def _all_closed(body: Body) -> bool:
    """Whether the part's folds leave no corner open: beside scores, open edges are what the builder draws."""
    return all(fold.kind in (FoldKind.GROOVE, FoldKind.WRAP) for fold in body.part.folds)


class _Station(NamedTuple):
    """Two edges at one place: how far apart, which way, and what the farther side of the board is off."""

    gap_mm: float
    way: np.ndarray | None  # unit vector; None where they touch
    line_only: bool
    open_mm: float


def _at(
    one: Edge, other: Edge, stretch: tuple[float, float], share: float, near: float, fillers: Sequence[Body]
) -> _Station | None:
    """Two edges where a plane square to the first cuts them; None where it misses one of the bodies."""
    distance = stretch[0] + share * (stretch[1] - stretch[0])
    middles = [_on(edge, one, distance) for edge in (one, other)]
    frame = np.array([one.outwards, np.cross(one.along, one.outwards), one.along])
    sections = []
    for edge, middle in zip((one, other), middles, strict=True):
        here = shapely.Point(*(frame @ (middle - middles[0]))[:2].tolist())
        reach = here.buffer(2 * near)  # what lies farther off belongs to no gap of these edges
        sections.append(_section(edge.body, frame, middles[0]).intersection(reach))
    a, b = sections
    if a.is_empty or b.is_empty:
        return None
    shortest = shapely.shortest_line(a, b)
    (x0, y0), (x1, y1) = shapely.get_coordinates(shortest).tolist()
    way = None
    if shortest.length > MEETS_MM:
        way = ((x1 - x0) * frame[0] + (y1 - y0) * frame[1]) / shortest.length
        shortest = shortest.difference(
            shapely.union_all([_section(c, frame, middles[0]).buffer(CLASH_MM) for c in fillers])
        )
    touching = a.boundary.intersection(b.buffer(a.distance(b) + CLASH_MM)).length
    ends = [
        max(_off(corner, frame, middles[0], against) for corner in _corners(edge, one, distance))
        for edge, against in ((one, b), (other, a))
    ]
    return _Station(round(float(shortest.length), 6), way, touching <= MEETS_MM, round(min(ends), 6))


def _corners(edge: Edge, way: Edge, distance: float) -> Iterator[np.ndarray]:
    """Where a board's end meets its two faces, so far along `way`."""
    half = edge.body.matrix[:3, 2] * edge.body.part.thickness_mm / 2
    place = _on(edge, way, distance)
    yield from (place + half, place - half)


def _off(place: np.ndarray, frame: np.ndarray, origin: np.ndarray, section: BaseGeometry) -> float:
    """How far a place is off a section."""
    return float(section.distance(shapely.Point(*(frame @ (place - origin))[:2].tolist())))


def _section(body: Body, frame: np.ndarray, origin: np.ndarray) -> BaseGeometry:
    """What a plane through a place cuts of a body; its normal is the last row of the frame."""
    placed = body.solid.transform(np.column_stack([frame, -(frame @ origin)]))
    rings = [shapely.Polygon(ring) for ring in placed.slice(0.0).to_polygons() if len(ring) >= 3]
    return shapely.union_all([ring.buffer(0.0) for ring in rings])
