"""Pictures of the model: what is there already in thin lines, what a step adds filled and in thick ones.

mm on the picture.  What others hide of the parts that are added is drawn through them, dashed.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely

from foamcut.airframe.model import Mesh
from foamcut.draw.balance_words import PLAIN_MM, words_at
from foamcut.draw.picture import Ink, Picture, Shape
from foamcut.draw.values import Align, Text
from foamcut.draw.views import ANGLED, Look, Seen, Stage
from foamcut.flat.outline import Point

#: white around the drawing, mm
_MARGIN_MM = 3.0
#: nothing is drawn larger than it is
_LARGEST = 1.0
#: the arrow to the nose: its length, head, and the room that it takes with its word
_ARROW_MM, _HEAD_MM, _ARROW_BOX_MM = 11.0, 2.6, (19.0, 15.0)
#: dashes shorter than this on the picture are left out, mm
_DASH_MM = 1.2
_NOTHING = "There is nothing to draw: where these parts sit on the model is not given."


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How places on a view come to lie on the picture: times `scale`, then moved."""

    scale: float
    x: float
    y: float

    def on(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Points of the view on the picture."""
        return tuple((x * self.scale + self.x, y * self.scale + self.y) for x, y in points)


class StepViews:
    """Pictures of one model as it grows, all from one place."""

    def __init__(
        self, meshes: Sequence[Mesh], look: Look = ANGLED, box_mm: tuple[float, float] = (170.0, 110.0)
    ) -> None:
        self._stage = Stage(meshes, look)
        self._names = frozenset(mesh.name for mesh in meshes)
        self._box_mm = box_mm

    def draws(self, names: Iterable[str]) -> bool:
        """Whether any of these parts has a place on the model, so that it can be drawn."""
        return any(name in self._names for name in names)

    def picture(
        self, name: str, heading: str, told: str, shown: Sequence[str], added: Sequence[str] = ()
    ) -> Picture:
        """The parts `shown` and `added`, which may be among them, as large as the box lets them be.

        Parts without a place are left out.  With nothing added all edges are thick.
        """
        every = [*shown, *added]
        seen = self._stage.seen(every, filled=added)
        runs = [run for one in seen for run in one.edges + one.creases]
        if not runs:
            return _empty(name, heading, told, self._box_mm)
        behind = self._stage.behind(added, every) if added else ()
        fit, height = _fitted([point for run in runs for point in run], self._box_mm)
        shapes = tuple(_shapes(seen, behind, frozenset(added), fit))
        arrow, words, below = _nose(
            self._stage.look, [fit.on(run) for run in runs], (self._box_mm[0], height)
        )
        return Picture(
            name=name,
            heading=heading,
            told=told,
            width_mm=self._box_mm[0],
            height_mm=height + below,
            shapes=tuple(shape.moved(0.0, below) for shape in shapes) + arrow,
            texts=words,
        )


def _empty(name: str, heading: str, told: str, box_mm: tuple[float, float]) -> Picture:
    height = PLAIN_MM * 3
    words = words_at((box_mm[0] / 2, PLAIN_MM), _NOTHING, align=Align.MIDDLE)
    return Picture(
        name=name,
        heading=heading,
        told=told,
        width_mm=box_mm[0],
        height_mm=height,
        shapes=(),
        texts=(words,),
    )


def _fitted(points: Sequence[Point], box_mm: tuple[float, float]) -> tuple[Fit, float]:
    """As large as the box lets them be, in its middle across; and the height that is needed."""
    (x0, x1), (y0, y1) = ((min(values), max(values)) for values in zip(*points, strict=True))
    room = [size - 2 * _MARGIN_MM for size in box_mm]
    scale = min(room[0] / max(x1 - x0, 0.1), room[1] / max(y1 - y0, 0.1), _LARGEST)
    fit = Fit(scale=scale, x=box_mm[0] / 2 - (x0 + x1) / 2 * scale, y=_MARGIN_MM - y0 * scale)
    return fit, (y1 - y0) * scale + 2 * _MARGIN_MM


def _shapes(seen: Sequence[Seen], behind: Sequence[Seen], added: frozenset[str], fit: Fit) -> Iterator[Shape]:
    for one in seen:
        if one.name in added:
            for ring in areas(one.rings):
                yield Shape(ink=Ink.ADDED, points=fit.on(ring), closed=True)
    for one in behind:
        for run in one.edges:
            if _length(run) * fit.scale >= _DASH_MM:
                yield Shape(ink=Ink.HIDDEN, points=fit.on(run))
    for thick in (False, True):
        for one in seen:
            for is_edge, several in ((False, one.creases), (True, one.edges)):
                if thick == (is_edge and (one.name in added or not added)):
                    for run in several:
                        yield line_shape(Ink.EDGE if thick else Ink.CREASE, fit.on(run))


def line_shape(ink: Ink, run: tuple[Point, ...]) -> Shape:
    """A run as a shape; one that comes back to its start is closed."""
    if len(run) > 3 and run[0] == run[-1]:
        return Shape(ink=ink, points=run[:-1], closed=True)
    return Shape(ink=ink, points=run)


def _length(run: Sequence[Point]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(run))


def areas(rings: Sequence[tuple[Point, ...]]) -> Iterator[tuple[Point, ...]]:
    """Rings without holes that cover the same: each hole (clockwise) is joined to the ring around it.

    The join runs there and back between the nearest corners, so that it has no width.
    """
    outer = [list(ring) for ring in rings if _area(ring) > 0]
    around = [shapely.Polygon(ring) for ring in outer]
    for hole in (ring for ring in rings if _area(ring) < 0):
        inside = [i for i, polygon in enumerate(around) if polygon.covers(shapely.Point(hole[0]))]
        if not inside:
            continue
        ring = outer[min(inside, key=lambda i: (round(around[i].area, 3), i))]
        i, j = min(
            ((i, j) for i in range(len(ring)) for j in range(len(hole))),
            key=lambda pair: (round(math.dist(ring[pair[0]], hole[pair[1]]), 3), pair),
        )
        ring[i : i + 1] = [ring[i], *hole[j:], *hole[: j + 1], ring[i]]
    yield from (tuple(ring) for ring in outer)


def _area(ring: Sequence[Point]) -> float:
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    return round(sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs) / 2, 6)


def _nose(
    look: Look, runs: Sequence[tuple[Point, ...]], size: tuple[float, float]
) -> tuple[tuple[Shape, ...], tuple[Text, ...], float]:
    """An arrow to where the nose is, in a corner that is free; how much room is needed below for one."""
    x, y = -look.right[0], -look.up[0]
    length = math.hypot(x, y)
    if length < 0.2:
        return (), (), 0.0
    wide, high = _ARROW_BOX_MM
    corners = [(0.0, 0.0), (size[0] - wide, 0.0), (0.0, size[1] - high), (size[0] - wide, size[1] - high)]
    drawn = shapely.MultiLineString([run for run in runs if len(run) > 1])
    free = [
        (a, b)
        for a, b in corners
        if size[1] > high and not drawn.intersects(shapely.box(a, b, a + wide, b + high))
    ]
    at, below = (free[0], 0.0) if free else ((0.0, 0.0), high)
    middle = at[0] + wide / 2, at[1] + high / 2 + PLAIN_MM / 2
    dx, dy = x / length, y / length
    tail, tip = ((middle[0] + s * dx * _ARROW_MM / 2, middle[1] + s * dy * _ARROW_MM / 2) for s in (-1, 1))
    neck = tip[0] - dx * _HEAD_MM, tip[1] - dy * _HEAD_MM
    half = _HEAD_MM / 4
    head = (tip, (neck[0] - dy * half, neck[1] + dx * half), (neck[0] + dy * half, neck[1] - dx * half))
    shapes = Shape(ink=Ink.AXIS, points=(tail, neck)), Shape(ink=Ink.SOLID, points=head, closed=True)
    words = words_at((middle[0], at[1] + 1.0), "nose", align=Align.MIDDLE)
    return shapes, (words,), below
