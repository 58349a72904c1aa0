"""A stroke made ready for a file: checked, rounded, and as vertices with bulges.

mm, x right, y up.  What cannot be drawn is a bug of ours and stops here, before any writer: no file
format refuses it, and a machine would meet it first.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

from foamcut.draw.values import Stroke
from foamcut.flat.outline import Point, Segment
from foamcut.write.numbers import rounded

#: Ends of neighbouring segments may differ by the rounding of both.
GAP_MM = 2e-6

#: Arcs are half a turn at most; a bulge may be over 1 by the rounding of its angle.
_BULGE_OVER = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """Vertices in turn; `bulges[i]` belongs to the line from vertex i to the next.

    A closed path goes on from its last vertex to its first, which is not repeated, and has as many
    bulges as vertices; an open one has one fewer.
    """

    points: tuple[Point, ...]
    bulges: tuple[float, ...]
    closed: bool

    def segments(self) -> tuple[Segment, ...]:
        """The lines and arcs in turn, the closing one last."""
        ends = (*self.points[1:], self.points[0]) if self.closed else self.points[1:]
        return tuple(map(Segment, self.points, ends, self.bulges))


def path(stroke: Stroke) -> Path:
    """The stroke's vertices to the nanometre, without repeated ones.

    A closed stroke that does not come back to its start is closed by a straight line.

    Raises
    ------
    ValueError
        A number is not finite, an arc is over half a turn, segments do not join, the stroke has no
        length, or it is closed and encloses nothing.
    """
    segments = [s for s in map(_rounded, stroke.segments) if s.start != s.end]
    if not segments:
        raise ValueError(f"a line on {stroke.line.value} has no length: {stroke.segments!r:.200}")
    for before, after in pairwise(segments):
        if math.dist(before.end, after.start) > GAP_MM:
            raise ValueError(f"a line on {stroke.line.value} breaks between {before.end} and {after.start}")
    points = [s.start for s in segments]
    bulges = [s.bulge for s in segments]
    if math.dist(segments[-1].end, points[0]) > GAP_MM or not stroke.closed:
        points.append(segments[-1].end)
        if stroke.closed:
            bulges.append(0.0)
    if stroke.closed and (len(points) < 2 or (len(points) == 2 and not any(bulges))):
        raise ValueError(f"a closed line on {stroke.line.value} at {points[0]} encloses nothing")
    return Path(points=tuple(points), bulges=tuple(bulges), closed=stroke.closed)


def _rounded(segment: Segment) -> Segment:
    if not math.isfinite(segment.bulge) or abs(segment.bulge) > 1 + _BULGE_OVER:
        raise ValueError(f"not an arc of at most half a turn: bulge {segment.bulge} at {segment.start}")
    (x0, y0), (x1, y1) = segment.start, segment.end
    return Segment((rounded(x0), rounded(y0)), (rounded(x1), rounded(y1)), segment.bulge)
