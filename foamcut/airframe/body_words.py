"""Words beside the openings of a panel: a short line that points away from each, with what it is for.  mm.

The words stand on either side of their line, whichever hand of a pair is drawn: room is looked for on both.
"""

from collections.abc import Iterator, Sequence

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.airframe.body_holes import Hole
from foamcut.flat.drawn import DrawnMark, Face
from foamcut.flat.outline import Point

#: a line begins so far off its opening and is so long; what words take beside it and past both its ends
_OFF_MM, _LONG_MM, _HIGH_MM, _PAST_MM = 1.0, 6.0, 6.0, 3.0
#: between a line and an edge, an opening or another mark
_APART_MM = 1.0
#: along an edge of an opening its line begins at these shares of it, the middle first
_SHARES = (0.5, 0.2, 0.8)

Line = tuple[Point, Point]


def word_lines(
    shape: Polygon, holes: Sequence[Hole], taken: Sequence[BaseGeometry]
) -> list[tuple[Hole, Line]]:
    """A line for every hole that has a label, where there is room; `taken` is what it keeps off.

    A place with room for the words is taken before one where only the line has room; a hole round which
    nothing is free has none.
    """
    found: list[tuple[Hole, Line]] = []
    others = [*(hole.shape for hole in holes), *taken]
    inner = shape.buffer(-_APART_MM)
    for hole in holes:
        if not hole.label:
            continue
        busy = shapely.union_all([*others, *(LineString(line) for _, line in found)])
        free = [line for line in _lines(hole.shape.bounds) if _free(LineString(line), inner, busy)]
        roomy = [line for line in free if not _room(line).intersects(busy) and shape.contains(_room(line))]
        if free:
            found.append((hole, (roomy or free)[0]))
    return found


def word_marks(
    shape: Polygon, holes: Sequence[Hole], marks: Sequence[DrawnMark], what: str, face: Face = Face.INNER
) -> tuple[DrawnMark, ...]:
    """The marks on a face of a panel that is drawn as it is, off the marks which that face has already."""
    taken = [LineString(mark.points) for mark in marks if mark.face is face and len(mark.points) > 1]
    return tuple(
        DrawnMark(key=f"{hole.key}.{what}-words[{i}]", kind="line", face=face, points=line, text=hole.label)
        for i, (hole, line) in enumerate(word_lines(shape, holes, taken))
    )


def _free(line: LineString, inner: BaseGeometry, busy: BaseGeometry) -> bool:
    return bool(inner.contains(line)) and bool(busy.distance(line) >= _OFF_MM - 1e-6)


def _room(line: Line) -> BaseGeometry:
    """What the words may take on both sides of a line; towards its opening no more than the line."""
    (x0, y0), (x1, y1) = line
    ux, uy = (x1 - x0) / _LONG_MM, (y1 - y0) / _LONG_MM
    start = x0 - (_OFF_MM - _APART_MM / 2) * ux, y0 - (_OFF_MM - _APART_MM / 2) * uy
    end = x1 + 2 * _PAST_MM * ux, y1 + 2 * _PAST_MM * uy
    return LineString([start, end]).buffer(_HIGH_MM, cap_style="flat")


def _lines(bounds: tuple[float, float, float, float]) -> Iterator[Line]:
    """Where a line may lie: behind, before, above, below a box, pointing away from it."""
    x0, y0, x1, y1 = bounds
    near, far = _OFF_MM, _OFF_MM + _LONG_MM
    for share in _SHARES:
        y = y0 + share * (y1 - y0)
        yield (x1 + near, y), (x1 + far, y)
        yield (x0 - near, y), (x0 - far, y)
    for share in _SHARES:
        x = x0 + share * (x1 - x0)
        yield (x, y1 + near), (x, y1 + far)
        yield (x, y0 - near), (x, y0 - far)
