"""How far apart folded panels are along edges that are meant to meet.

mm.  Which edges are meant to meet is guessed from where they come to lie, by what a builder draws:
straight free edges of two panels that no fold joins, nearly parallel, beside each other over most of the
shorter one, nearer than 2.5 thicknesses (the usual slips are one thickness, and two between two sides), and
one looking towards the other as at the corner of a box; where both panels lie in one plane, or stand beside
each other like the walls of a trough, each has to look at the other's end.  Edges that start at one corner
of the flat part are held against each other however wide they gape (`foamcut.flat.folded_corner`).  A slit
that is just as wide on the flat part was drawn so and is left alone, and so are curved edges.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from foamcut.flat.folded_body import Body, Edge
from foamcut.flat.folded_corner import CLOSED, Corner, corner
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
#: so far from its ends a gap that widens is measured too: at the first at which the slanting rims leave board
_FROM_ENDS = (0.002, 0.01, 0.02, 0.03, 0.04, 0.06, 0.08)
#: pairs of edges that are looked at between two panels, the longest: no builder's box has as many
_MOST_PAIRS = 100


class Gap(NamedTuple):
    """How far two edges are apart at most, and where on the flat part; all along: at the middle of each.

    `line_only`: they touch along a line, and are so far apart on the other side of the board.  `gapes`: they
    part from one end to the other; `closing` is the corner that they start at, where they do.
    """

    gap_mm: float
    one: Point
    other: Point
    line_only: bool = False
    gapes: bool = False
    closing: Corner | None = None


def widest_gap(a: Body, b: Body, others: Sequence[Body] = ()) -> Gap | None:
    """The widest gap between edges of two panels that should meet; None where there is none.

    `others` are the other panels of the part: a gap that one of them fills is none.
    """
    near = NEAR_THICKNESSES * a.part.thickness_mm
    fillers = [c for c in others if c is not a and c is not b and a.shared_folds(c) and b.shared_folds(c)]
    close = a.boxes_within(b, near)
    if not close and not fillers:
        return None
    pairs = _beside_each_other(a, b, near, fillers)
    gaps = [gap for one, other, at in pairs if (close or at) and (gap := _gap(one, other, at, near, fillers))]
    return max(gaps, key=lambda gap: (not gap.line_only, gap.gap_mm, gap.one, gap.other), default=None)


def _beside_each_other(
    a: Body, b: Body, near: float, between: Sequence[Body]
) -> list[tuple[Edge, Edge, Corner | None]]:
    """The pairs of edges that run beside each other and are not far apart, the longest first.

    Those that start at one corner come with it, far apart or not.
    """
    if not a.edges or not b.edges:
        return []
    ways = np.array([edge.along for edge in b.edges])
    middles = np.array([(edge.ends[0] + edge.ends[1]) / 2 for edge in b.edges])
    halves = np.array([edge.length / 2 for edge in b.edges])
    pairs = []
    for i, one in enumerate(a.edges):
        parallel = np.abs(ways @ one.along) >= math.cos(math.radians(EDGES_LEAN_DEG))
        off = np.linalg.norm(middles - (one.ends[0] + one.ends[1]) / 2, axis=1) - halves - one.length / 2
        close = parallel & (off <= near + 2 * a.part.thickness_mm)
        for j in range(len(b.edges)) if between else np.flatnonzero(close).tolist():
            at = corner(one, b.edges[j], between)
            stretch = _beside(one, b.edges[j]) if at or close[j] else None
            if stretch is not None and (at or not _far_apart(one, b.edges[j], stretch, near)):
                pairs.append((round(stretch[0] - stretch[1], 6), i, j, at))
    return [(a.edges[i], b.edges[j], at) for _, i, j, at in sorted(pairs)[:_MOST_PAIRS]]


def _gap(one: Edge, other: Edge, at: Corner | None, near: float, fillers: Sequence[Body]) -> Gap | None:
    stretch = _beside(one, other)
    if stretch is None:
        return None
    found = {share: _at(one, other, stretch, share, near, fillers) for share in _STATIONS}
    measured = {share: station for share, station in found.items() if station is not None}
    if not measured or not all(_look_at_each_other(one, other, s.way) for s in measured.values()):
        return None
    gaps = [station.gap_mm for station in measured.values()]
    if (at is None and min(gaps) > near) or _drawn_so(one, other, max(gaps)):
        return None
    middles = _rounded(one.place(0.5)), _rounded(other.place(0.5))
    if max(gaps) > MEETS_MM and max(gaps) - min(gaps) <= MEETS_MM:
        return Gap(max(gaps), *middles)
    if max(gaps) > MEETS_MM:
        return _gaping(one, other, stretch, measured, at, near, fillers)
    measured_all = list(measured.values())
    if _all_closed(one.body) and all(station.line_only for station in measured_all):
        return Gap(max(station.open_mm for station in measured_all), *middles, line_only=True)
    return None


def _gaping(
    one: Edge,
    other: Edge,
    stretch: tuple[float, float],
    measured: Mapping[float, "_Station"],
    at: Corner | None,
    near: float,
    fillers: Sequence[Body],
) -> Gap:
    """The gap of two edges that part from one end to the other, where it is widest."""
    gaps = {share: station.gap_mm for share, station in measured.items()}
    low = min(gaps, key=lambda share: gaps[share])
    for inset in _FROM_ENDS:
        share = inset if low > 0.5 else 1 - inset
        station = _at(one, other, stretch, share, near, fillers)
        if station is not None:
            gaps[share] = station.gap_mm
            break
    widest = max(gaps, key=lambda share: (gaps[share], share))
    distance = stretch[0] + widest * (stretch[1] - stretch[0])
    first, second = (_rounded(edge.place(_share(edge, one, distance))) for edge in (one, other))
    return Gap(gaps[widest], first, second, gapes=True, closing=at)


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
    place: np.ndarray = start + (end - start) * _share(edge, way, distance)
    return place


def _share(edge: Edge, way: Edge, distance: float) -> float:
    """At which share of an edge it is so far along `way`."""
    first, last = (float(way.along @ end) for end in edge.ends)
    return (distance - first) / (last - first)


def _drawn_so(one: Edge, other: Edge, gap_mm: float) -> bool:
    """Whether the edges are no farther apart on the flat part."""
    line = shapely.LineString([other.start, other.end])
    flat = max(line.distance(shapely.Point(one.place(share))) for share in _STATIONS)
    return flat <= gap_mm + MEETS_MM


def _all_closed(body: Body) -> bool:
    """Whether the part's folds leave no corner open: beside scores, open edges are what the builder draws."""
    return all(fold.kind in CLOSED for fold in body.part.folds)


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
