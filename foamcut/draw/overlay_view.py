"""Two versions of a part on one picture: how it is turned and scaled, its shapes, and what is added.

Part coordinates are those of the new version, mm; places on the picture are mm from the upper left corner of
the view, y up.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

import shapely
from shapely import Polygon
from shapely.affinity import translate

from foamcut.draw.balance_words import PLAIN_MM, words_at
from foamcut.draw.picture import Ink, Shape
from foamcut.draw.values import Align, Text
from foamcut.flat.clipping import run_points
from foamcut.flat.outline import Outline, Point
from foamcut.flat.part import Part

#: chords of arcs on a picture lie within this of them, mm on the picture
_FINE_MM = 0.03
#: slivers of board that are thinner than this are not shaded, mm on the picture
_SLIVER_MM = 0.15
#: edges of a strip within this of the new version's are no seam, mm
_SAME_MM = 1e-3


class Held(Protocol):
    """Two versions of a part held against each other (see `foamcut.compare.values`)."""

    @property
    def name(self) -> str: ...  # noqa: D102
    @property
    def verdict(self) -> "Word": ...  # noqa: D102
    @property
    def reason(self) -> str: ...  # noqa: D102
    @property
    def old(self) -> Part | None: ...  # noqa: D102
    @property
    def new(self) -> Part | None: ...  # noqa: D102
    @property
    def added(self) -> tuple[Part, ...]: ...  # noqa: D102
    @property
    def shift(self) -> Point: ...  # noqa: D102


class Word(Protocol):
    """A verdict, in words."""

    @property
    def value(self) -> str: ...  # noqa: D102


@dataclass(frozen=True, eq=False)
class Versions:
    """Both versions where they lie on each other; `strip` is the piece added to one that is extended."""

    old: Polygon | None
    new: Polygon | None
    strip: Part | None
    doublers: tuple[Part, ...]
    part: Part
    trimmed: bool

    @classmethod
    def of(cls, held: Held) -> "Versions | None":
        """Those of a part; None where it has neither."""
        part = held.new or held.old
        if part is None:
            return None
        old = translate(held.old.outline.polygon, *held.shift) if held.old else None
        own = [one for one in held.added if one.name != part.name] if held.old and held.new else []
        return cls(
            old=old,
            new=held.new.outline.polygon if held.new else None,
            strip=own[0] if own else None,
            doublers=tuple(own[1:]),
            part=part,
            trimmed=held.verdict.value == "trim",
        )

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """The box about both."""
        x0, y0, x1, y1 = shapely.total_bounds(
            [one for one in (self.old, self.new) if one is not None]
        ).tolist()
        return x0, y0, x1, y1

    def seam(self) -> tuple[Point, Point] | None:
        """The ends of the line at which the strip is glued on, across the whole part."""
        if self.strip is None or self.new is None:
            return None
        cut = self.strip.outline.polygon.boundary.difference(self.new.boundary.buffer(_SAME_MM))
        if cut.is_empty:
            return None
        x0, y0, x1, y1 = cut.bounds
        left, low, right, high = self.new.bounds
        if x1 - x0 < y1 - y0:
            return (x0, low), (x0, high)
        return (left, y0), (right, y0)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A part's coordinates on the picture: `corner` of its box, mm to the mm, whether it lies turned.

    A turned part lies a quarter turn clockwise: its y runs to the right, its x down.
    """

    corner: Point
    scale: float
    turned: bool
    wide_mm: float
    high_mm: float

    @classmethod
    def of(cls, bounds: Sequence[float], most_wide: float, most_high: float) -> "View":
        """The largest view that fits, at most full size; a part that is taller than wide is turned."""
        x0, y0, x1, y1 = bounds
        turned = y1 - y0 > x1 - x0
        wide, high = (y1 - y0, x1 - x0) if turned else (x1 - x0, y1 - y0)
        scale = min(1.0, most_wide / wide, most_high / high)
        corner = (x0, y0) if turned else (x0, y1)
        return cls(corner=corner, scale=scale, turned=turned, wide_mm=wide * scale, high_mm=high * scale)

    def at(self, point: Point) -> Point:
        """A point of the part on the picture."""
        x, y = point[0] - self.corner[0], point[1] - self.corner[1]
        return (y * self.scale, 0.0 - x * self.scale) if self.turned else (x * self.scale, y * self.scale)

    def closed(self, ink: Ink, points: Iterable[Point]) -> Shape:
        """A ring of the part, its arcs in as few chords as the picture shows."""
        ring = shapely.LinearRing([self.at(one) for one in points]).simplify(_FINE_MM)
        return Shape(ink=ink, points=tuple(map(_point, ring.coords[:-1])), closed=True)

    def run(self, ink: Ink, points: Iterable[Point]) -> Shape:
        """A line of the part."""
        return Shape(ink=ink, points=tuple(self.at(one) for one in points))

    def rings(self, ink: Ink, polygon: Polygon) -> Iterator[Shape]:
        """All rings of a shape."""
        for ring in (polygon.exterior, *polygon.interiors):
            yield self.closed(ink, map(_point, ring.coords))


def shapes(versions: Versions, view: View) -> Iterator[Shape]:
    """What is added or cut off in grey, folds, the edges of the new version and over them of the old one."""
    for piece in _added(versions, view):
        yield view.closed(Ink.ADDED, map(_point, piece.exterior.coords))
        # what shows through a hole is the paper
        yield from (view.closed(Ink.BOARD, map(_point, ring.coords)) for ring in piece.interiors)
    for fold in versions.part.folds:
        for run in fold.fold or fold.cut_runs():
            yield view.run(Ink.CREASE, run_points(run))
    if versions.new is not None:
        yield from view.rings(Ink.AFTER, versions.new)
    if versions.old is not None:
        yield from view.rings(Ink.BEFORE, versions.old)
    for one in versions.doublers:
        yield from view.rings(Ink.HIDDEN, one.outline.polygon)


def letters(versions: Versions, view: View) -> Iterator[Text]:
    """The letter of each doubler, on either side of the seam."""
    for one in versions.doublers:
        for text in (text for mark in one.marks for text in mark.drawn().texts):
            x, y = view.at(text.at)
            yield words_at((x, y - PLAIN_MM / 2), text.text, align=Align.MIDDLE)


def _added(versions: Versions, view: View) -> Iterator[Polygon]:
    """The strip of one that is extended, what is cut off to trim one, else what the new one has more."""
    if versions.strip is not None:
        yield versions.strip.outline.polygon
    elif versions.new is not None and versions.old is not None:
        one, other = (versions.old, versions.new) if versions.trimmed else (versions.new, versions.old)
        beyond = one.difference(other)
        thin = _SLIVER_MM / view.scale / 2
        for piece in shapely.get_parts(beyond):
            if isinstance(piece, Polygon) and not piece.buffer(-thin, join_style="mitre").is_empty:
                yield Outline(piece).polygon


def _point(at: Sequence[float]) -> Point:
    return float(at[0]), float(at[1])
