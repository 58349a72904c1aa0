"""From readings to an outline: halves mirrored, arcs, smooth runs, rounded corners.

mm.  Refusals are collected in three looks: the readings one by one, the edges between them, the
closed line as a whole.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from foamcut.errors import Refusal
from foamcut.flat.corners import Fillet, fillet, largest_radius, turn_at
from foamcut.flat.drawn import Grain, Reading, Readings
from foamcut.flat.edges import Arc, Curve, Edge, Line, arc_through
from foamcut.flat.outline import Outline, Point
from foamcut.flat.placement import rounded
from foamcut.flat.ring import Ring
from foamcut.flat.slopes import Slope, drawn_slopes, slopes_refused, traced_edges
from foamcut.flat.spline import spline
from foamcut.flat.tolerances import ROUNDING_MM, SAME_POINT_MM
from foamcut.flat.trace import (
    Trace,
    length_text,
    numbers_refused,
    place_text,
    refuse,
    row_text,
    sizes_refused,
    too_many_refused,
    too_small_refused,
)


def traced(shape: Readings, mirrored: Grain, smallest_mm2: float) -> Trace:
    """The trace of readings; `mirrored` names the axis when they are one half.

    Raises
    ------
    Refused
        With every reason that the first look with any found.
    """
    points = shape.points
    refuse([*_each_reading(points), *_enough(shape, mirrored), *too_many_refused(shape.key, len(points))])
    refuse([*_repeated(points, closed=mirrored is Grain.ANY), *_off_axis(points, mirrored)])
    rows = points if mirrored is Grain.ANY else _both_halves(points, mirrored)
    edges, refusals = _edges(rows)
    slopes = drawn_slopes(points, mirrored)
    last = None if mirrored is Grain.ANY else Slope(row=points[-1])
    refuse([*refusals, *slopes_refused(rows, edges, slopes, last)])
    fillets, refusals = _fillets(rows, edges)
    refuse(refusals)
    count = sum(edge.count() for edge in edges) + sum(f.arc.count() for f in fillets if f)
    refuse(too_many_refused(shape.key, count))
    ring = Ring(rows, edges, fillets)
    refuse(ring.faults(shape.key))
    outline = Outline.of_points(ring.points, ring.circles)
    refuse(too_small_refused(shape.key, outline, smallest_mm2))
    named = tuple((p.name, (rounded(p.at[0]), rounded(p.at[1]))) for p in points if p.name is not None)
    sloped = traced_edges(ring.edges, slopes) if any(slope.said for slope in slopes) else ()
    return Trace(outline=outline, straight=ring.straight(), named=named, edges=sloped)


def _each_reading(points: Sequence[Reading]) -> list[Refusal]:
    refusals: list[Refusal] = []
    names: dict[str, Reading] = {}
    for p in points:
        refusals += numbers_refused(p.key, "point", p.at)
        if p.through is not None:
            refusals += numbers_refused(p.key, "point after through", p.through)
        if p.round_mm is not None:
            refusals += sizes_refused(p.key, {"radius after round": p.round_mm})
            if p.smooth:
                refusals.append(Refusal(key=p.key, text="a point is either rounded or smooth; leave one out"))
        if p.name is not None and names.setdefault(p.name, p) is not p:
            text = f'the name "{p.name}" stands at {row_text(names[p.name])} too; a name is for one point'
            refusals.append(Refusal(key=p.key, text=text))
    return refusals


def _enough(shape: Readings, mirrored: Grain) -> list[Refusal]:
    """An outline needs three points, or two and an arc."""
    points = shape.points
    if mirrored is not Grain.ANY and points and points[-1].through is not None:
        text = "no edge leaves the last point of a half: the mirror image goes on; leave out through"
        return [Refusal(key=points[-1].key, text=text)]
    if len(points) >= 3 or (len(points) == 2 and any(p.through is not None for p in points)):
        return []
    few = {0: "no point", 1: "one point"}.get(len(points), "two points and no arc")
    return [Refusal(key=shape.key, text=f"{few} bound nothing; give at least three points")]


def _repeated(points: Sequence[Reading], *, closed: bool) -> list[Refusal]:
    refusals = []
    for before, after in pairwise(points):
        if math.dist(before.at, after.at) <= SAME_POINT_MM:
            text = f"{row_text(after)} is the same point as {row_text(before)} ({place_text(after.at)})"
            text += "; take one out"
            refusals.append(Refusal(key=after.key, text=text))
    if closed and len(points) > 2 and math.dist(points[-1].at, points[0].at) <= SAME_POINT_MM:
        text = (
            f"{row_text(points[-1])} is the first point again; an outline closes by itself: take this row out"
        )
        refusals.append(Refusal(key=points[-1].key, text=text))
    return refusals


def _off_axis(points: Sequence[Reading], mirrored: Grain) -> list[Refusal]:
    """A half starts and ends on the mirror axis, and stays on one side between."""
    if mirrored is Grain.ANY:
        return []
    across = 1 if mirrored is Grain.X else 0
    refusals = [
        Refusal(
            key=p.key,
            text=f"the half has to {verb} on the {mirrored.value} axis; this point is"
            f" {length_text(abs(p.at[across]))} off it: make its {'xy'[across]} 0",
        )
        for p, verb in ((points[0], "start"), (points[-1], "end"))
        if abs(p.at[across]) > SAME_POINT_MM
    ]
    inner = [p for p in points[1:-1]]
    side = next((p.at[across] for p in inner if abs(p.at[across]) > SAME_POINT_MM), 1.0)
    for p in inner:
        if abs(p.at[across]) <= SAME_POINT_MM:
            text = (
                f"only the ends of a half lie on the {mirrored.value} axis; here the part would hang"
                " together by a point: move this point off the axis"
            )
            refusals.append(Refusal(key=p.key, text=text))
        elif (p.at[across] > 0) != (side > 0):
            text = f"the half crosses the {mirrored.value} axis before this point; draw one side of it only"
            refusals.append(Refusal(key=p.key, text=text))
    return refusals


def _both_halves(points: Sequence[Reading], mirrored: Grain) -> tuple[Reading, ...]:
    """The readings of the whole: the half, then its mirror image backwards, the ends once."""

    def image(at: Point | None) -> Point | None:
        if at is None:
            return None
        return (at[0], -at[1]) if mirrored is Grain.X else (-at[0], at[1])

    def on_axis(at: Point) -> Point:
        return (at[0], 0.0) if mirrored is Grain.X else (0.0, at[1])

    first, last = points[0], points[-1]
    back = [
        replace(p, at=image(p.at) or p.at, through=image(before.through))
        for before, p in zip(points[-2::-1], points[:0:-1], strict=True)
    ]
    turn = replace(back[0], at=on_axis(last.at))
    return (replace(first, at=on_axis(first.at)), *points[1:-1], turn, *back[1:])


def _edges(rows: Sequence[Reading]) -> tuple[tuple[Edge, ...], list[Refusal]]:
    """The edge that leaves each row."""
    count = len(rows)
    refusals: list[Refusal] = []
    smooth = [rows[i].smooth or rows[(i + 1) % count].smooth for i in range(count)]
    curves = _smooth_edges(rows)
    edges: list[Edge] = []
    for i, (row, after) in enumerate(zip(rows, [*rows[1:], rows[0]], strict=True)):
        if row.through is not None and smooth[i]:
            text = (
                f"the edge from {row_text(row)} to {row_text(after)} has a smooth end and cannot be an arc"
                " too; leave out through, or smooth"
            )
            refusals.append(Refusal(key=row.key, text=text))
        if row.round_mm is not None and (smooth[i] or smooth[i - 1]):
            text = (
                "round stands beside a smooth edge; it rounds corners between straight lines and arcs:"
                " leave it out, or make its neighbour a corner"
            )
            refusals.append(Refusal(key=row.key, text=text))
        edge = curves.get(i) or _straight_or_arc(row, after)
        if edge is None:
            text = (
                f"no arc runs from {row_text(row)} through {place_text(row.through or row.at)} to"
                f" {row_text(after)}: the three lie on one line or two are the same; move the middle one,"
                " or leave out through"
            )
            refusals.append(Refusal(key=row.key, text=text))
        else:
            edges.append(edge)
    return tuple(edges), refusals


def _straight_or_arc(row: Reading, after: Reading) -> Line | Arc | None:
    if row.through is None:
        return Line(row.at, after.at)
    return arc_through(row.at, row.through, after.at)


def _smooth_edges(rows: Sequence[Reading]) -> dict[int, Curve]:
    """The smooth edges by the index of the row they leave."""
    count = len(rows)
    corners = [i for i, row in enumerate(rows) if not row.smooth]
    if not corners and count < 3:
        return {}
    if not corners:
        spans = spline([row.at for row in rows], closed=True)
        return {i: Curve(span) for i, span in enumerate(spans)}
    curves: dict[int, Curve] = {}
    for corner, following in zip(corners, [*corners[1:], corners[0] + count], strict=True):
        if following - corner > 1:
            spans = spline([rows[i % count].at for i in range(corner, following + 1)])
            curves.update(((corner + i) % count, Curve(span)) for i, span in enumerate(spans))
    return curves


def _fillets(
    rows: Sequence[Reading], edges: Sequence[Edge]
) -> tuple[tuple[Fillet | None, ...], list[Refusal]]:
    """The rounding of each row's corner, None for a sharp one."""
    refusals: list[Refusal] = []
    fillets: list[Fillet | None] = []
    for i, row in enumerate(rows):
        arriving, leaving = edges[i - 1], edges[i]
        if row.round_mm is None or isinstance(arriving, Curve) or isinstance(leaving, Curve):
            fillets.append(None)
            continue
        fillets.append(fillet(arriving, leaving, row.round_mm))
        if fillets[-1] is None:
            text = _why_not_round(row.round_mm, arriving, leaving)
            refusals.append(Refusal(key=row.key, text=text))
    if not refusals:
        refusals = _shared_edges(rows, edges, fillets)
    return tuple(fillets), refusals


def _why_not_round(radius: float, arriving: Line | Arc, leaving: Line | Arc) -> str:
    if not turn_at(arriving, leaving):
        return "there is no corner here to round; leave out round"
    largest = largest_radius(arriving, leaving, radius, room=(arriving.length, leaving.length))
    return f"round {length_text(radius)} does not fit into this corner; " + _advice(largest)


def _advice(largest: float) -> str:
    if largest <= 0:
        return "none does: leave it out, or make its edges longer"
    return f"the largest that fits is {length_text(largest)}"


def _shared_edges(
    rows: Sequence[Reading], edges: Sequence[Edge], fillets: Sequence[Fillet | None]
) -> list[Refusal]:
    """Refusals where two roundings need more than the edge between them."""
    refusals = []
    count = len(rows)
    for i, edge in enumerate(edges):
        here, there = fillets[i], fillets[(i + 1) % count]
        if here is None or there is None or isinstance(edge, Curve):
            continue
        needed = here.off_leaving + there.off_arriving
        if needed <= edge.length + 2 * ROUNDING_MM:
            continue
        row, after, leaving = rows[i], rows[(i + 1) % count], edges[(i + 1) % count]
        room = edge.length - here.off_leaving, leaving.length if not isinstance(leaving, Curve) else 0.0
        largest = 0.0
        if not isinstance(leaving, Curve) and after.round_mm is not None:
            largest = largest_radius(edge, leaving, after.round_mm, room=room)
        text = (
            f"the roundings of {row_text(row)} and {row_text(after)} need {length_text(needed)} of the edge"
            f" between them, which is {length_text(edge.length)} long; beside {row_text(row)} as it is: "
            + _advice(largest)
        )
        refusals.append(Refusal(key=after.key, text=text))
    return refusals
