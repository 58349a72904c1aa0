"""Which edge of an outline is sloped, by what is said of the points it leaves, and which cannot be.

Degrees from square.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from foamcut.errors import Refusal
from foamcut.flat.drawn import Grain, Reading
from foamcut.flat.edges import Curve, Edge
from foamcut.flat.trace import TracedEdge, row_text
from foamcut.units import decimal_text

#: beyond this a slope runs out too thin to hold paper (common practice, no source)
_STEEPEST_DEG = 80.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """What is said of one edge, at the row that it leaves."""

    row: Reading

    @property
    def key(self) -> str:
        """The key of the row that the edge leaves."""
        return self.row.key

    @property
    def said(self) -> bool:
        """Whether the edge is bevelled at all."""
        return self.row.bevel_deg is not None or self.row.bevel_back_deg is not None


def drawn_slopes(points: Sequence[Reading], mirrored: Grain) -> tuple[Slope, ...]:
    """The slope of each edge of the whole outline; the mirrored half has those of the half, backwards."""
    slopes = tuple(Slope(row=row) for row in points)
    if mirrored is Grain.ANY:
        return slopes
    return (*slopes[:-1], *slopes[-2::-1])


def slopes_refused(
    rows: Sequence[Reading], edges: Sequence[Edge], slopes: Sequence[Slope], last: Slope | None
) -> list[Refusal]:
    """Bevels out of range, on edges that cannot have one, or on both faces of one edge.

    `rows` are those of the whole outline; `last` is what is said at the last point of a half, if it is one.
    """
    refusals = [refusal for slope in slopes for refusal in _angles_refused(slope.row)]
    for i, row in enumerate(rows):
        if row.round_mm is not None:
            refusals += _rounding_refused(row, slopes[i - 1].row, slopes[i].row)
    if last is not None and last.said:
        text = "no edge leaves the last point of a half: the mirror image goes on; leave out its bevel"
        refusals.append(Refusal(key=last.key, text=text))
    for edge, slope in zip(edges, slopes, strict=False):
        if slope.said and isinstance(edge, Curve):
            text = (
                "a bevel needs a straight edge or an arc, and this edge is smooth; leave the bevel out, or"
                " draw the edge as straight lines and arcs"
            )
            refusals.append(Refusal(key=slope.key, text=text))
    return refusals


def traced_edges(edges: Sequence[tuple[int, Edge, bool]], slopes: Sequence[Slope]) -> tuple[TracedEdge, ...]:
    """The edges of a closed line with their slopes; `edges` are row, edge, and whether it rounds a corner."""
    traced = []
    for row, edge, rounding in edges:
        here, before = slopes[row].row, slopes[row - 1].row
        front, back = here.bevel_deg, here.bevel_back_deg
        if rounding:
            front = front if front == before.bevel_deg else None
            back = back if back == before.bevel_back_deg else None
        traced.append(
            TracedEdge(key=here.key, edge=edge, rounding=rounding, bevel_deg=front, bevel_back_deg=back)
        )
    return tuple(traced)


def _rounding_refused(row: Reading, before: Reading, after: Reading) -> list[Refusal]:
    """A rounding between two slopes of different angles."""
    pairs = ((before.bevel_deg, after.bevel_deg), (before.bevel_back_deg, after.bevel_back_deg))
    if all(a is None or b is None or a == b for a, b in pairs):
        return []
    text = (
        f"the rounding of {row_text(row)} lies between bevels of different angles and can follow neither;"
        " make the angles equal, or leave round out"
    )
    return [Refusal(key=row.key, text=text)]


def _angles_refused(row: Reading) -> list[Refusal]:
    refusals = []
    for word, angle in (("bevel", row.bevel_deg), ("bevel_back", row.bevel_back_deg)):
        if angle is not None and not 0 < angle <= _STEEPEST_DEG:
            text = (
                f"{word} {decimal_text(angle, 3)} is out of range; a bevel goes above 0 and up to"
                f" {decimal_text(_STEEPEST_DEG)} degrees from square"
            )
            refusals.append(Refusal(key=row.key, text=text))
    if row.bevel_deg is not None and row.bevel_back_deg is not None:
        text = (
            f"the edge that leaves {row_text(row)} is bevelled from both faces, which would leave it short of"
            " the outline; take bevel or bevel_back out"
        )
        refusals.append(Refusal(key=row.key, text=text))
    return refusals
