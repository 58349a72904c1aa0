"""Three views of the model and how they lie together on a sheet, by third-angle projection.

In third-angle projection (ISO 5456-2) each view lies on that side of its neighbour from which it is seen.
Two arrangements, both of that kind: `UPRIGHT`, all views the right way up, the view from above over the view
from the front, the view from the left side at its right; and `FOLDED`, narrower, the view from above with the
nose on the left, the left side below it, the front at its left and turned with it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum
from itertools import pairwise

from foamcut.airframe.meets import Disc
from foamcut.airframe.model import Mesh
from foamcut.draw.values import Line, Stroke
from foamcut.draw.views import FRONT, SIDE, TOP, Look, Stage, Vector
from foamcut.flat.outline import Point, Segment, straight

Box = tuple[float, float, float, float]

#: straight pieces that a circle is drawn with
_CIRCLE = 48


class Side(Enum):
    """A side of a view on the page."""

    ABOVE = "above"
    BELOW = "below"
    LEFT = "left"
    RIGHT = "right"

    @property
    def is_level(self) -> bool:
        """Whether sizes on this side are measured from left to right."""
        return self in (Side.ABOVE, Side.BELOW)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A view at full size, mm: its runs by kind of line, and the box of all of them."""

    look: Look
    runs: tuple[tuple[Line, tuple[Point, ...]], ...]
    box: Box

    def turned(self) -> "View":
        """A quarter turn counter-clockwise."""
        look = Look(name=self.look.name, right=_back(self.look.up), up=self.look.right)
        runs = tuple((line, tuple((0.0 - y, x) for x, y in run)) for line, run in self.runs)
        x0, y0, x1, y1 = self.box
        return replace(self, look=look, runs=runs, box=(0.0 - y1, x0, 0.0 - y0, x1))

    def point(self, place: Vector) -> Point:
        """A point of the model on the view."""
        return _dot(place, self.look.right), _dot(place, self.look.up)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A view on the page, reduced: its own (0, 0) comes to lie at `origin`."""

    view: View
    scale: float
    origin: Point

    def on_page(self, point: Point) -> Point:
        """A point of the view on the page."""
        return self.origin[0] + point[0] / self.scale, self.origin[1] + point[1] / self.scale

    def at(self, place: Vector) -> Point:
        """A point of the model on the page."""
        return self.on_page(self.view.point(place))

    @property
    def box(self) -> Box:
        """The box of the view on the page."""
        x0, y0, x1, y1 = self.view.box
        return (*self.on_page((x0, y0)), *self.on_page((x1, y1)))

    def moved(self, x: float, y: float) -> "Placed":
        """The view moved on the page."""
        return replace(self, origin=(self.origin[0] + x, self.origin[1] + y))

    def strokes(self) -> list[Stroke]:
        """All lines of the view."""
        return [
            Stroke(line=line, segments=_segments([self.on_page(point) for point in run]))
            for line, run in self.view.runs
        ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Three:
    """The view from above with the nose on the left, from the left side, and from the front."""

    above: View
    side: View
    front: View


def three_views(meshes: Sequence[Mesh], discs: Sequence[Disc]) -> Three:
    """The views of a model; it has a mesh."""
    above, side, front = (_view(meshes, discs, look) for look in (TOP, SIDE, FRONT))
    return Three(above=above, side=side, front=front)


class Arrangement(Enum):
    """How the views lie together."""

    UPRIGHT = "upright"
    FOLDED = "folded"


def arranged(
    three: Three, arrangement: Arrangement, scale: float, gaps: tuple[float, float]
) -> dict[str, Placed]:
    """The views above, side and front on the page; `gaps` are from one to the next across and upwards, mm."""
    across, upwards = gaps
    if arrangement is Arrangement.UPRIGHT:
        above, side, front = three.above.turned(), three.side, three.front
        high = max(front.box[3], side.box[3]) / scale + upwards
        right = max(front.box[2], above.box[2]) / scale + across
        origins = (0.0, high - above.box[1] / scale), (right - side.box[0] / scale, 0.0), (0.0, 0.0)
    else:
        above, side, front = three.above, three.side, three.front.turned().turned().turned()
        low = min(above.box[1], front.box[1]) / scale - upwards
        left = min(above.box[0], side.box[0]) / scale - across
        origins = (0.0, 0.0), (0.0, low - side.box[3] / scale), (left - front.box[2] / scale, 0.0)
    named = {"above": above, "side": side, "front": front}
    return {
        name: Placed(view=view, scale=scale, origin=origin)
        for (name, view), origin in zip(named.items(), origins, strict=True)
    }


def _view(meshes: Sequence[Mesh], discs: Sequence[Disc], look: Look) -> View:
    runs: list[tuple[Line, tuple[Point, ...]]] = []
    for one in Stage(meshes, look).seen(filled=()):
        runs += [(Line.CREASE, run) for run in one.creases]
        runs += [(Line.EDGE, run) for run in one.edges]
    runs += [(Line.SWEPT, _circle(disc, look)) for disc in discs]
    points = [point for _, run in runs for point in run] or [(0.0, 0.0)]
    xs, ys = zip(*points, strict=True)
    return View(look=look, runs=tuple(runs), box=(min(xs), min(ys), max(xs), max(ys)))


def _circle(disc: Disc, look: Look) -> tuple[Point, ...]:
    """What the propeller sweeps, as its edge; seen edge on a line."""
    length = math.sqrt(_dot(disc.forwards, disc.forwards)) or 1.0
    x, y, z = (one / length for one in disc.forwards)
    first = (y, 0.0 - x, 0.0) if abs(z) < 0.9 else (0.0, z, 0.0 - y)
    size = math.sqrt(_dot(first, first)) or 1.0
    a = (first[0] / size, first[1] / size, first[2] / size)
    b = (y * a[2] - z * a[1], z * a[0] - x * a[2], x * a[1] - y * a[0])
    radius = disc.diameter_mm / 2
    middle = _dot(disc.middle, look.right), _dot(disc.middle, look.up)
    spans = [(_dot(axis, look.right) * radius, _dot(axis, look.up) * radius) for axis in (a, b)]
    run = []
    for i in range(_CIRCLE + 1):
        c, s = math.cos(2 * math.pi * i / _CIRCLE), math.sin(2 * math.pi * i / _CIRCLE)
        point = [round(middle[k] + c * spans[0][k] + s * spans[1][k], 4) + 0.0 for k in (0, 1)]
        run.append((point[0], point[1]))
    wide, high = (max(one) - min(one) for one in zip(*run, strict=True))
    if min(wide, high) < radius * 1e-3:  # edge on: there and back would spoil the dashes
        return min(run), max(run)
    return tuple(run)


def _segments(run: Sequence[Point]) -> tuple[Segment, ...]:
    return straight([run[0], *(b for a, b in pairwise(run) if a != b)])


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _back(vector: Vector) -> Vector:
    x, y, z = vector
    return 0.0 - x, 0.0 - y, 0.0 - z
