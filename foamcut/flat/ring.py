"""The closed line of an outline: edges with rounded corners between them, cut into chords, and looked over.

mm; points to the nanometre.
"""

import math
from collections.abc import Sequence

from foamcut.errors import Refusal
from foamcut.flat.corners import Fillet
from foamcut.flat.crossing import meeting, needle, only_touches
from foamcut.flat.drawn import Reading
from foamcut.flat.edges import Curve, Edge, Line
from foamcut.flat.outline import Outline, Point
from foamcut.flat.placement import rounded
from foamcut.flat.tolerances import ROUNDING_MM
from foamcut.flat.trace import place_text, row_text


class Ring:
    """The closed line as points to the nanometre, each with the row its leaving chord belongs to."""

    def __init__(
        self, rows: Sequence[Reading], edges: Sequence[Edge], fillets: Sequence[Fillet | None]
    ) -> None:
        self._rows = rows
        #: the edges in order: index of the row, edge, whether it is the rounding of the row's corner
        self.edges: list[tuple[int, Edge, bool]] = []
        for i, edge in enumerate(edges):
            here, there = fillets[i], fillets[(i + 1) % len(rows)]
            if here is not None:
                self.edges.append((i, here.arc, True))
            left = _between(edge, here, there)
            if left is not None:
                self.edges.append((i, left, False))
        self.circles = tuple(circle for _, edge, _ in self.edges for circle in edge.circles)
        arriving = [
            ((rounded(x), rounded(y)), row, isinstance(edge, Line))
            for row, edge, _ in self.edges
            for x, y in edge.points()
        ]
        arriving = [arriving[-1], *arriving[:-1]]  # from the start of the first row
        before = [arriving[-1], *arriving[:-1]]
        arriving = [a for a, b in zip(arriving, before, strict=True) if a[0] != b[0]]
        leaving = [*arriving[1:], *arriving[:1]]
        chords = [(a[0], b[1], a[2] and b[2], b[2]) for a, b in zip(arriving, leaving, strict=True)]
        kept = _without_flat_points(chords)
        self.points = [point for point, _, _, _ in kept]
        self._owners = [row for _, row, _, _ in kept]
        self._is_straight = [line for _, _, _, line in kept]

    def straight(self) -> tuple[tuple[Point, Point], ...]:
        """The straight edges, end to end."""
        following = [*self.points[1:], *self.points[:1]]
        chords = zip(self.points, following, self._is_straight, strict=True)
        return tuple((a, b) for a, b, line in chords if line)

    def faults(self, key: str) -> list[Refusal]:
        """Why the ring bounds no part."""
        if len(self.points) < 3:
            return [Refusal(key=key, text="all points lie on one line; an outline has to bound an area")]
        spike = needle(self.points)
        if spike is not None:
            row = self._rows[self._owners[spike]]
            text = (
                f"the outline runs out to {place_text(self.points[spike])} and back along the same line,"
                " a needle without width; take the point out or move it"
            )
            return [Refusal(key=row.key, text=text)]
        outline = Outline.of_points(self.points)
        if outline.polygon.is_valid and not outline.polygon.is_empty:
            return []
        found = meeting(self.points)
        if found is None:
            return [Refusal(key=key, text=f"the outline cannot be cut: {outline.fault()}")]
        first, second = (self._rows[self._owners[i]] for i in (found.first, found.second))
        word = "touches" if only_touches(self.points, found) else "crosses"
        text = (
            f"the outline {word} itself at {place_text(found.at)}: there the edge that leaves"
            f" {row_text(first)} meets the one that leaves {row_text(second)}; check these readings and their"
            " order"
        )
        return [Refusal(key=second.key, text=text)]


def _between(edge: Edge, here: Fillet | None, there: Fillet | None) -> Edge | None:
    """What roundings at its ends leave of an edge."""
    if isinstance(edge, Curve) or (here is None and there is None):
        return edge
    start = (here.off_leaving, here.arc.end) if here else (0.0, edge.start)
    end = (edge.length - there.off_arriving, there.arc.start) if there else (edge.length, edge.end)
    if end[0] - start[0] <= 2 * ROUNDING_MM:
        return None
    return edge.between(start, end)


Chord = tuple[Point, int, bool, bool]  # start, row, both sides of the start straight, chord straight


def _without_flat_points(chords: Sequence[Chord]) -> list[Chord]:
    """The chords without points on the straight line from the one before to the one after."""
    kept: list[Chord] = []
    for i, chord in enumerate(chords):
        before = kept[-1][0] if kept else chords[-1][0]
        after = chords[i + 1][0] if i + 1 < len(chords) else (kept[0][0] if kept else chord[0])
        if not (chord[2] and _flat(before, chord[0], after)):
            kept.append(chord)
    return kept


def _flat(a: Point, b: Point, c: Point) -> bool:
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    if ux * vx + uy * vy <= 0:
        return False
    return abs(ux * vy - uy * vx) <= ROUNDING_MM * math.hypot(ux + vx, uy + vy)
