"""Holes in the panels of a body: where they are wanted on a flat view, whether the panel has room for them.

A view is the side view (x aft, z up) or a panel's own plane; mm.  A view is laid on a part by a `Laying`.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import shapely
from shapely import Polygon
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from foamcut.airframe.values import Material
from foamcut.errors import Refusal
from foamcut.flat.drawn import Cutout, Disc, DrawnSlot, Reading, Readings
from foamcut.flat.outline import Point
from foamcut.flat.tolerances import SAME_POINT_MM
from foamcut.units import decimal_text
from foamcut.units import mm_text as _mm

#: material left round a hole: board tears in a narrower web (common practice, no source)
ROUND_MM = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Laying:
    """How places of a view lie on a part: `origin` of the view turned to (0, 0), x turned by `-lean_deg`.

    Then, for the far half of a folded sheet, y -> -y, and moved by `off`.
    """

    origin: Point = (0.0, 0.0)
    lean_deg: float = 0.0
    mirrored: bool = False
    off: Point = (0.0, 0.0)

    def at(self, place: Point) -> Point:
        """Where a place of the view lies on the part."""
        x, y = place[0] - self.origin[0], place[1] - self.origin[1]
        if self.lean_deg:
            cos, sin = math.cos(math.radians(self.lean_deg)), math.sin(math.radians(self.lean_deg))
            x, y = cos * x + sin * y, cos * y - sin * x
        y += self.off[1]
        return x + self.off[0], 0.0 - y if self.mirrored else y

    def turn(self, turn_deg: float) -> float:
        """A direction of the view on the part."""
        turn = turn_deg - self.lean_deg
        return 0.0 - turn if self.mirrored else turn


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A hole: its corners, or its middle and diameter, or as a slot its middle, length, turn and stock.

    `words` say what it is for, to stand in a refusal, `label` to stand beside it on the board; `reaches_in`:
    something stands inside the body there, so that it meets what bars the panel's inner face.
    """

    key: str
    words: str
    points: tuple[Point, ...] = ()
    middle: Point = (0.0, 0.0)
    diameter_mm: float = 0.0
    length_mm: float = 0.0
    turn_deg: float = 0.0
    takes: Material | None = None
    fit_mm: float = 0.0
    reaches_in: bool = True
    label: str = ""

    @property
    def shape(self) -> Polygon:
        """Its outline on the view; a round one a little larger."""
        if self.points:
            return Polygon(self.points)
        x, y = self.middle
        if self.takes is None:
            return shapely.Point(x, y).buffer(self.diameter_mm / 2 + 0.01)
        wide, high = (self.length_mm + self.fit_mm) / 2, (self.takes.thickness_mm + self.fit_mm) / 2
        flat = shapely.box(x - wide, y - high, x + wide, y + high)
        return rotate(flat, self.turn_deg, origin=(x, y))

    def cut(self, laying: Laying, key: str) -> Cutout | DrawnSlot:
        """The cutout or slot that it makes in a part."""
        if self.points:
            return Cutout(key=key, shape=ring_readings(key, [laying.at(p) for p in self.points]))
        if self.takes is None:
            disc = Disc(key=key, diameter_mm=self.diameter_mm)
            return Cutout(key=key, shape=disc, at=laying.at(self.middle))
        return DrawnSlot(
            key=key,
            at=laying.at(self.middle),
            length_mm=self.length_mm,
            takes=self.takes.name,
            takes_thickness_mm=self.takes.thickness_mm,
            fit_mm=self.fit_mm,
            turn_deg=laying.turn(self.turn_deg),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Cuts:
    """Holes as they are cut in a part."""

    cutouts: tuple[Cutout, ...] = ()
    slots: tuple[DrawnSlot, ...] = ()

    def plus(self, other: "Cuts") -> "Cuts":
        """Both."""
        return Cuts(cutouts=self.cutouts + other.cutouts, slots=self.slots + other.slots)


def cuts_of(holes: Iterable[Hole], laying: Laying, what: str) -> Cuts:
    """Holes laid on a part; `what` tells the part's cuts from those of the same hole in another."""
    made = [hole.cut(laying, f"{hole.key}.{what}[{i}]") for i, hole in enumerate(holes)]
    return Cuts(
        cutouts=tuple(one for one in made if isinstance(one, Cutout)),
        slots=tuple(one for one in made if isinstance(one, DrawnSlot)),
    )


def box_points(middle: Point, size: tuple[float, float], turn_deg: float = 0.0) -> tuple[Point, ...]:
    """The corners of a rectangle about its middle, counter-clockwise from the lower left."""
    (x, y), (w, h) = middle, size
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    corners = ((-w / 2, -h / 2), (w / 2, -h / 2), (w / 2, h / 2), (-w / 2, h / 2))
    return tuple((x + cos * a - sin * b, y + sin * a + cos * b) for a, b in corners)


def ring_points(polygon: Polygon) -> list[Point]:
    """The outer ring, open, counter-clockwise from its lowest x, points on straight lines left out."""
    ring = shapely.get_coordinates(orient(polygon).exterior).tolist()
    points: list[Point] = []
    for x, y in ring[:-1]:
        if not points or math.dist((x, y), points[-1]) > SAME_POINT_MM:
            points.append((round(x, 6) + 0.0, round(y, 6) + 0.0))
    if len(points) > 1 and math.dist(points[0], points[-1]) <= SAME_POINT_MM:
        points.pop()
    kept = [
        p
        for p, before, after in zip(points, [points[-1], *points], [*points[1:], points[0]], strict=False)
        if abs(_turning(before, p, after)) > 1e-7
    ]
    first = kept.index(min(kept))
    return kept[first:] + kept[:first]


def _turning(a: Point, b: Point, c: Point) -> float:
    """Sine of the turn at b."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    return (ux * vy - uy * vx) / (math.hypot(ux, uy) * math.hypot(vx, vy))


def ring_readings(key: str, points: Sequence[Point]) -> Readings:
    """Points in turn as an outline."""
    rows = (Reading(key=f"{key}.outline[{i}]", at=point) for i, point in enumerate(points))
    return Readings(key=key, points=tuple(rows))


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """What a hole of a panel may not meet: `words` say what, `key` what gave it; `always`: a fold."""

    key: str
    words: str
    shape: BaseGeometry
    always: bool = False


@dataclass(slots=True)
class Panel:
    """A panel while its holes are laid: what its outline is, what bars holes, what was refused.

    `words` call it in refusals.
    """

    words: str
    shape: Polygon
    bars: list[Bar] = field(default_factory=list)
    holes: list[Hole] = field(default_factory=list)
    refusals: list[Refusal] = field(default_factory=list)

    def lay(self, hole: Hole) -> None:
        """Take a hole in, or refuse it: off the panel, too near its edge, another hole or a bar.

        Of several holes of one key the first fault is told, and the rest are left.
        """
        if any(refusal.key == hole.key for refusal in self.refusals):
            return
        problem = self.problem(hole)
        if problem:
            self.refusals.append(Refusal(key=hole.key, text=f"{hole.words} {problem}"))
        else:
            self.holes.append(hole)

    def problem(self, hole: Hole) -> str:
        """Why the panel has no room for a hole; empty when it has."""
        shape = hole.shape
        return self._off(shape) or self._met(hole, shape)

    def _off(self, shape: Polygon) -> str:
        if self.shape.contains(shape):
            room = self.shape.boundary.distance(shape)
            if room >= ROUND_MM - SAME_POINT_MM:
                return ""
            return (
                f"leaves {_mm(room, 2)} of {self.words} to its edge near {_place(shape)};"
                f" {_mm(ROUND_MM, 2)} has to stay round it: move it, or make it smaller"
            )
        x0, y0, x1, y1 = self.shape.bounds
        if not self.shape.intersects(shape):
            return (
                f"at {_place(shape)} lies off {self.words} by {_mm(self.shape.distance(shape), 2)}; the panel"
                " goes"
                f" from {decimal_text(x0, 1)} to {decimal_text(x1, 1)} mm and from {decimal_text(y0, 1)} to"
                f" {decimal_text(y1, 1)} mm there: move it"
            )
        a0, b0, a1, b1 = shape.difference(self.shape).bounds
        past = max(min(a1 - a0, b1 - b0), 0.0)
        return (
            f"at {_place(shape)} runs {_mm(past, 2)} over the edge of {self.words};"
            f" {_mm(ROUND_MM, 2)} has to stay round it: move it, or make it smaller"
        )

    def _met(self, hole: Hole, shape: Polygon) -> str:
        for other in self.holes:
            room = other.shape.distance(shape)
            if room < ROUND_MM - SAME_POINT_MM:
                return (
                    f"at {_place(shape)} {_overlap(other.shape, shape, room)} {other.words} ({other.key});"
                    f" {_mm(ROUND_MM, 2)} has to stay between them: move one"
                )
        for bar in self.bars:
            if (hole.reaches_in or bar.always) and bar.shape.distance(shape) <= SAME_POINT_MM:
                return f"at {_place(shape)} meets {bar.words} ({bar.key}): move one"
        return ""


def _overlap(one: Polygon, other: Polygon, room: float) -> str:
    both = one.intersection(other)
    if both.is_empty:
        return f"comes within {_mm(room, 2)} of"
    a0, b0, a1, b1 = both.bounds
    return f"overlaps by {_mm(max(a1 - a0, b1 - b0), 2)}"


def _place(shape: Polygon) -> str:
    x0, y0, x1, y1 = shape.bounds
    return f"{decimal_text((x0 + x1) / 2, 1)}, {decimal_text((y0 + y1) / 2, 1)} mm"
