"""Tabs: put on a straight edge of an outline, standing out square by the thickness of what they go into.

mm.  A tab is let into the outline's ring between the ends of its edge, so that its root lies on the
edge to the nanometre and nothing has to be joined.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import LinearRing
from shapely import Point as ShapelyPoint

from foamcut.errors import Refusal
from foamcut.flat.drawn import DrawnTab
from foamcut.flat.outline import Outline, Point
from foamcut.flat.part import Tab
from foamcut.flat.placement import rounded
from foamcut.flat.tolerances import FARTHEST_MM, ON_EDGE_MM, ROUNDING_MM
from foamcut.flat.trace import Trace, length_text, place_text, sizes_refused
from foamcut.units import decimal_text


@dataclass(frozen=True, slots=True)
class _Root:
    """Where a tab stands: its edge by index in the outer ring, from and to along it."""

    edge: int
    start: float
    end: float
    tab: DrawnTab


def with_tabs(trace: Trace, tabs: Sequence[DrawnTab]) -> tuple[Outline, tuple[Tab, ...], list[Refusal]]:
    """The outline with the tabs on it, the tabs as cut in the order drawn, and what was refused."""
    ring = trace.outline.rings()[0][:-1]
    known = {frozenset(edge) for edge in trace.straight}
    edges = [*pairwise(ring), (ring[-1], ring[0])]
    straight = [frozenset(edge) in known for edge in edges]
    roots: list[_Root] = []
    refusals: list[Refusal] = []
    for tab in tabs:
        found = _size_refused(tab) or _root(tab, edges, straight, trace.outline)
        if isinstance(found, _Root):
            roots.append(found)
        else:
            refusals.extend(found)
    refusals.extend(_overlaps(roots))
    if refusals or not roots:
        return trace.outline, (), refusals
    built = {id(root): _built(root, edges[root.edge]) for root in roots}
    points: list[Point] = []
    for i, (start, _) in enumerate(edges):
        points.append(start)
        for root in sorted((r for r in roots if r.edge == i), key=lambda r: r.start):
            points.extend(built[id(root)][1])
    outline = Outline.of_points(points, trace.outline.circles)
    if fault := outline.fault():
        where = roots[0].tab.key.rsplit("[", 1)[0]
        text = f"with its tabs the outline cannot be cut: {fault}; move or shorten the tab there"
        return trace.outline, (), [Refusal(key=where, text=text)]
    return outline, tuple(built[id(root)][0] for root in roots), []


def _size_refused(tab: DrawnTab) -> list[Refusal]:
    refusals = sizes_refused(f"{tab.key}.length", {"length": tab.length_mm})
    refusals += sizes_refused(f"{tab.key}.into", {f'thickness of "{tab.into}"': tab.into_thickness_mm})
    if not all(abs(number) <= FARTHEST_MM for number in tab.at):
        text = f"the point is no number, or lies beyond {decimal_text(FARTHEST_MM)} mm; mend it"
        refusals.append(Refusal(key=f"{tab.key}.at", text=text))
    return refusals


def _root(
    tab: DrawnTab, edges: Sequence[tuple[Point, Point]], straight: Sequence[bool], outline: Outline
) -> _Root | list[Refusal]:
    """The edge that carries the whole root of a tab; refusals when none does."""
    near: list[tuple[float, _Root]] = []
    curved = False
    for i, (start, end) in enumerate(edges):
        along, off, length = _along_and_off(tab.at, start, end)
        if abs(off) > ON_EDGE_MM or not -ON_EDGE_MM <= along <= length + ON_EDGE_MM:
            continue
        if not straight[i]:
            curved = True
            continue
        root = _Root(i, along - tab.length_mm / 2, along + tab.length_mm / 2, tab)
        past = max(-root.start, root.end - length)
        if past <= ROUNDING_MM:
            return root
        near.append((past, root))
    if near:
        past, root = min(near, key=lambda pair: pair[0])
        start, end = edges[root.edge]
        text = (
            f"the tab is {length_text(tab.length_mm)} long and runs {length_text(past)} past the end of its"
            f" straight edge, which goes from {place_text(start)} to {place_text(end)}; move it along the"
            " edge or make it shorter"
        )
        return [Refusal(key=f"{tab.key}.length", text=text)]
    if curved:
        text = "the tab stands on an arc or a smooth edge; a tab needs a straight edge for its whole root"
        return [Refusal(key=f"{tab.key}.at", text=text)]
    return [Refusal(key=f"{tab.key}.at", text=_off_outline(tab, outline))]


def _off_outline(tab: DrawnTab, outline: Outline) -> str:
    ring = LinearRing(outline.rings()[0])
    nearest = ring.interpolate(ring.project(ShapelyPoint(tab.at)))
    off = math.dist(tab.at, (nearest.x, nearest.y))
    return (
        f"the middle of the tab is {length_text(off)} off the outline; it has to lie on it, nearest at"
        f" {place_text((nearest.x, nearest.y))}"
    )


def _along_and_off(point: Point, start: Point, end: Point) -> tuple[float, float, float]:
    """How far along an edge a point lies, how far to its left, and the edge's length."""
    length = math.dist(start, end)
    dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    x, y = point[0] - start[0], point[1] - start[1]
    return x * dx + y * dy, dx * y - dy * x, length


def _overlaps(roots: Sequence[_Root]) -> list[Refusal]:
    refusals = []
    order = sorted(range(len(roots)), key=lambda i: (roots[i].edge, roots[i].start, i))
    for a, b in pairwise(roots[i] for i in order):
        if a.edge == b.edge and b.start <= a.end + ROUNDING_MM:
            text = (
                f"the tab meets the one of {a.tab.key.rsplit('.', 1)[-1]}; move one, or make one tab of both"
            )
            refusals.append(Refusal(key=f"{b.tab.key}.at", text=text))
    return refusals


def _built(root: _Root, edge: tuple[Point, Point]) -> tuple[Tab, tuple[Point, ...]]:
    """A tab, and the points that replace the stretch of a counter-clockwise edge under it."""
    (x0, y0), (x1, y1) = edge
    length = math.dist(*edge)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    depth = root.tab.into_thickness_mm

    def at(along: float, out: float) -> Point:
        return rounded(x0 + along * dx + out * dy), rounded(y0 + along * dy - out * dx)

    corners = (at(root.start, 0.0), at(root.start, depth), at(root.end, depth), at(root.end, 0.0))
    tab = Tab(
        key=root.tab.key,
        at=at((root.start + root.end) / 2, 0.0),
        length_mm=root.tab.length_mm,
        depth_mm=depth,
        into=root.tab.into,
        outline=Outline.of_points(corners),
    )
    return tab, corners
