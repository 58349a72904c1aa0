"""Doublers: the shape of the patch that is glued over a joint, on the drawn face.

The part's coordinates, mm.  In this file u is the distance from the joint line, positive to higher x
(or y), and v runs along it.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from foamcut.flat.drawn import Doubling
from foamcut.flat.fitting import Fitting, nanometres
from foamcut.flat.obstacles import barred
from foamcut.flat.outline import Circle, Outline, Point
from foamcut.flat.part import Part
from foamcut.flat.placement import rounded
from foamcut.flat.tolerances import CHORD_MM, ROUNDING_MM, SAME_POINT_MM

#: a patch is left out where it covers less of the line than this, mm, and than this share of the part there
_LEAST_MM, _LEAST_SHARE = 10.0, 1 / 4
#: a long doubler is divided in no more pieces than this
_MOST_PIECES = 50
#: butt ends are moved by more pieces so often before the doubler is refused
_MORE_PIECES = 6


@dataclass(frozen=True, slots=True)
class Line:
    """A joint line: at one x (axis 0) or at one y (axis 1), mm."""

    axis: int
    at_mm: float

    def point(self, u: float, v: float) -> Point:
        """A place off the line and along it, in the part's coordinates, to the nanometre."""
        across, along = rounded(self.at_mm + u), rounded(v)
        return (across, along) if self.axis == 0 else (along, across)

    def box(self, u0: float, u1: float, v0: float, v1: float) -> Polygon:
        """The box between two distances and two places along the line."""
        (xa, ya), (xb, yb) = self.point(u0, v0), self.point(u1, v1)
        return box(min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb))

    def stretches(self, shape: BaseGeometry, u: float = 0.0) -> list[tuple[float, float]]:
        """Where a shape meets the line's parallel at distance u, as ranges along it, rising."""
        v0, v1 = _v_range(shape, self.axis)
        along = LineString([self.point(u, v0 - 1.0), self.point(u, v1 + 1.0)])
        found = []
        for part in shapely.get_parts(shape.intersection(along)):
            if isinstance(part, LineString) and part.length > ROUNDING_MM:
                ends = sorted(point[1 - self.axis] for point in part.coords)
                found.append((ends[0], ends[-1]))
        return joined_ranges(sorted(found))


@dataclass(frozen=True, slots=True)
class Patch:
    """A doubler's shape, the line it lies over, and the stretch of the line that it covers."""

    line: Line
    outline: Outline
    covers: tuple[float, float]

    @property
    def covered_mm(self) -> float:
        """Length of the joint that lies under it."""
        return sum(b - a for a, b in self.line.stretches(self.outline.polygon))


def room_for_doublers(part: Part, doubling: Doubling) -> BaseGeometry:
    """Where doublers of a part may lie: off its edges and cuts by the inset, off folds and clear marks."""
    inside = part.outline.polygon.buffer(-doubling.inset_mm, join_style="mitre")
    return inside.difference(barred(part, doubling.inset_mm))


def curves(part: Part, doubling: Doubling) -> tuple[Circle, ...]:
    """Circles that edges of doublers may lie on: those of the part and of clear marks, moved by the inset."""
    found = list(part.outline.circles)
    for mark in part.marks:
        if mark.clear:
            arcs = (segment for run in mark.drawn().runs for segment in run if segment.bulge)
            found += [Circle(*arc.centre, arc.radius) for arc in arcs]
    return tuple(
        Circle(c.x, c.y, c.radius + side * doubling.inset_mm)
        for c in dict.fromkeys(found)
        for side in (-1, 1)
        if c.radius + side * doubling.inset_mm > 0
    )


def patches(
    line: Line,
    shape: Polygon,
    room: BaseGeometry,
    doubling: Doubling,
    others: Iterable[Patch] = (),
    circles: Sequence[Circle] = (),
) -> list[Patch]:
    """The doublers over one joint line, in their order along it; they keep off `others` by the inset.

    A doubler is what is left of the room within one overlap of the line, its ends run in at 45 degrees
    over the taper from what is there where they begin.  It has to lie on both sides of the line and to
    cover 10 mm of it, or a quarter of the board that is there if that is less.  `circles`: see `curves`.
    """
    v0, v1 = _v_range(shape, line.axis)
    strip = room.intersection(line.box(-doubling.overlap_mm, doubling.overlap_mm, v0 - 1.0, v1 + 1.0))
    for other in others:
        strip = strip.difference(_grown(other.outline.polygon, doubling.inset_mm))
    board = line.stretches(shape)
    found: list[Patch] = []
    for piece in _over_line(strip, line, board):
        tapered = piece.intersection(_tapered(piece, line, doubling, (v0 - 1.0, v1 + 1.0)))
        for end in _over_line(tapered, line, board):
            outline = _with_arcs(end, circles)
            if doubling.inset_mm - shape.boundary.distance(outline.polygon) > ROUNDING_MM / 2:
                # rounded corners of both have come closer; a few nanometres less are not seen
                outline = _with_arcs(end.buffer(-2 * ROUNDING_MM, join_style="mitre"), circles)
            if outline.fault() is None:
                found += _patch(line, outline)
    return sorted(found, key=lambda patch: patch.covers)


def divided(
    patch: Patch, fitting: Fitting, shape: Polygon, butts_off: Sequence[float], off_mm: float
) -> list[Patch]:
    """A doubler in as few equal pieces as its stock has room for, butt to butt; empty when none will do.

    No butt lies within `off_mm` of the places `butts_off` along the line, where other joints run.
    """
    low, high = _v_range(patch.outline.polygon, patch.line.axis)
    if not fitting.askew and not _wide_enough(patch, fitting):
        return []
    board = patch.line.stretches(shape)
    tries = 0
    for count in range(1, _MOST_PIECES + 1):
        ends = [low + (high - low) * i / count for i in range(count + 1)]
        cut = list(_cut(patch, ends, board))
        if not all(fitting.holds(piece.outline.polygon) for piece in cut):
            continue
        if all(abs(end - off) >= off_mm for end in ends[1:-1] for off in butts_off):
            return cut
        tries += 1
        if tries > _MORE_PIECES:
            break
    return []


def _wide_enough(patch: Patch, fitting: Fitting) -> bool:
    """Whether the doubler's length across the joint, which no division shortens, fits a room."""
    u0, u1 = _u_range(patch)
    across = nanometres(u1) - nanometres(u0)
    return fitting.box(across, 0) if patch.line.axis == 0 else fitting.box(0, across)


def _cut(patch: Patch, ends: Sequence[float], board: Sequence[tuple[float, float]]) -> Iterator[Patch]:
    if len(ends) == 2:
        yield patch
        return
    u0, u1 = _u_range(patch)
    for a, b in pairwise(ends):
        for piece in patch.outline.within(patch.line.box(u0 - 1.0, u1 + 1.0, a, b)):
            if any(_over_line(piece.polygon, patch.line, board)):
                yield from _patch(patch.line, piece)


def _patch(line: Line, outline: Outline) -> Iterator[Patch]:
    stretches = line.stretches(outline.polygon)
    if stretches:
        yield Patch(line, outline, (stretches[0][0], stretches[-1][1]))


def _u_range(patch: Patch) -> tuple[float, float]:
    bounds, axis = patch.outline.bounds, patch.line.axis
    return bounds[axis] - patch.line.at_mm, bounds[axis + 2] - patch.line.at_mm


def _v_range(shape: BaseGeometry, axis: int) -> tuple[float, float]:
    if shape.is_empty:
        return 0.0, 0.0
    return shape.bounds[1 - axis], shape.bounds[3 - axis]


def _with_arcs(polygon: Polygon, circles: Sequence[Circle]) -> Outline:
    """A shape with the circles that its vertices lie on.

    Chords moved by the inset meet a little off the circle that was moved: it is widened to the outermost of
    the vertices, so that they lie on it or less than a chord's sag inside.
    """
    if not circles:
        return Outline(polygon)
    xy = shapely.get_coordinates(polygon)
    fitted = []
    for circle in circles:
        out = np.hypot(xy[:, 0] - circle.x, xy[:, 1] - circle.y)
        near = out[np.abs(out - circle.radius) <= CHORD_MM]
        if len(near):
            fitted.append(Circle(circle.x, circle.y, float(near.max())))
    (outline,) = Outline(polygon, tuple(fitted)).plus()
    return outline


def _grown(shape: Polygon, by_mm: float) -> Polygon:
    return shape.buffer(max(by_mm, ROUNDING_MM), join_style="mitre")


def _over_line(
    shape: BaseGeometry, line: Line, board: Sequence[tuple[float, float]]
) -> Iterator[Polygon]:
    """The pieces of a shape that cover enough of the line, on both its sides."""
    for piece in shapely.get_parts(shape):
        if not isinstance(piece, Polygon) or piece.is_empty:
            continue
        covered = line.stretches(piece)
        if not covered or not _on_both_sides(piece, line):
            continue
        length = sum(b - a for a, b in covered)
        there = sum(b - a for a, b in board if b > covered[0][0] and a < covered[-1][1])
        if length >= min(_LEAST_MM, _LEAST_SHARE * there) - ROUNDING_MM:
            yield piece


def _on_both_sides(piece: Polygon, line: Line) -> bool:
    low, high = piece.bounds[line.axis] - line.at_mm, piece.bounds[line.axis + 2] - line.at_mm
    return low < -SAME_POINT_MM and high > SAME_POINT_MM


def _tapered(piece: Polygon, line: Line, doubling: Doubling, reach: tuple[float, float]) -> BaseGeometry:
    """All up to where the taper begins, and beyond it what 45 degrees leave of every stretch there."""
    shoulder, taper = doubling.overlap_mm - doubling.taper_mm, doubling.taper_mm
    shapes: list[BaseGeometry] = [line.box(-shoulder, shoulder, *reach)] if shoulder > 0 else []
    for side in (-1, 1):
        for a, b in line.stretches(piece, side * shoulder):
            deep = min(taper, (b - a) / 2)
            corners = [(0.0, a), (deep, a + deep), (deep, b - deep), (0.0, b)]
            ring = dict.fromkeys(line.point(side * (shoulder + u), v) for u, v in corners)
            if len(ring) > 2 and (shape := Polygon(ring)).is_valid:
                shapes.append(shape)
    return shapely.union_all(shapes)


def joined_ranges(ranges: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Rising ranges with those that touch put together."""
    found: list[tuple[float, float]] = []
    for a, b in ranges:
        if found and a - found[-1][1] <= ROUNDING_MM:
            found[-1] = found[-1][0], max(b, found[-1][1])
        else:
            found.append((a, b))
    return found


def letters(count: int, start: int = 0) -> list[str]:
    """So many letters, after the first `start` ones: A to Z, then AA, AB and on."""
    return [_letter(i) for i in range(start, start + count)]


def _letter(index: int) -> str:
    word = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        word = chr(ord("A") + rest) + word
    return word
