"""Marks: anything on a part that is not its outline.

A mark has three duties: to check itself in its part and be trimmed to it, to be divided with the part,
and to say what is drawn of it.  A new kind of mark is a new class here.  mm, degrees.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Protocol, Self

import shapely
from shapely import Polygon

from foamcut.errors import Refusal, Refused
from foamcut.flat.clipping import Run, clipped, flip, mirrored
from foamcut.flat.drawn import DrawnMark, Face
from foamcut.flat.outline import Outline, Point, Segment, straight
from foamcut.flat.tolerances import FARTHEST_MM, SAME_POINT_MM
from foamcut.units import decimal_text

#: the V of a balance mark: how far its open end lies from the tip, and half its mouth, mm
_V_MM, _MOUTH_MM = 6.0, 3.5
#: the line across the chord at a balance mark's tip goes this far, mm
_CROSS_MM = 6.0
#: a strip's mitred corner reaches at most this many times as far from the middle line as its side
_MITRE = 3.0
#: words stand this far off their line, mm
_OFF_LINE_MM = 2.8
#: room left for one line of words between a V's open end and the baseline, mm
_BELOW_V_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkText:
    """Words beside a mark: the middle of their baseline, mm, and their turn."""

    at: Point
    text: str
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkLines:
    """What is drawn of a mark: runs of segments, words, and the points to prick through from the far face."""

    runs: tuple[tuple[Segment, ...], ...] = ()
    texts: tuple[MarkText, ...] = ()
    prick_points: tuple[Point, ...] = ()


class Mark(Protocol):
    """What every kind of mark can do."""

    @property
    def key(self) -> str: ...  # noqa: D102
    @property
    def face(self) -> Face: ...  # noqa: D102

    @property
    def clear(self) -> bool:
        """Whether doublers keep off it."""
        ...

    @property
    def handed(self) -> bool:
        """Whether it would read wrong on the mirror-image part."""
        ...

    def trimmed(self, region: Polygon) -> Self | None:
        """The mark within a region (the part, or a section of it); None when nothing lies in it."""
        ...

    def mirrored(self) -> Self:
        """The mark on the mirror-image part: y -> -y."""
        ...

    def drawn(self) -> MarkLines:
        """Lines and words in the part's coordinates."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class LineMark:
    """A line through points: a station, an edge of what is glued on; words along its longest stretch."""

    key: str
    face: Face
    runs: tuple[Run, ...]
    text: str = ""
    clear: bool = False

    @classmethod
    def of(cls, drawn: DrawnMark) -> Self:
        """The mark as the builder drew it.

        Raises
        ------
        Refused
            Fewer than two different points.
        """
        return cls(
            key=drawn.key, face=drawn.face, runs=(_polyline(drawn),), text=drawn.text, clear=drawn.clear
        )

    @property
    def handed(self) -> bool:
        """Words read backwards in a mirror, a line does not."""
        return bool(self.text)

    def trimmed(self, region: Polygon) -> Self | None:
        """What of the line lies in the region."""
        runs = clipped(self.runs, region)
        return replace(self, runs=runs) if runs else None

    def mirrored(self) -> Self:
        """The line with y -> -y; the words stay readable."""
        return replace(self, runs=mirrored(self.runs))

    def drawn(self) -> MarkLines:
        """The line; pricked at its ends and corners."""
        return MarkLines(
            runs=self.runs,
            texts=_along(self.runs, self.text, off=_OFF_LINE_MM),
            prick_points=_corners(self.runs),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeMark:
    """Where a strip of tape lies: two lines its width apart; `middle` is the line between them."""

    key: str
    face: Face
    width_mm: float
    middle: tuple[Run, ...]
    runs: tuple[Run, ...]
    text: str = ""
    clear: bool = False

    @classmethod
    def of(cls, drawn: DrawnMark) -> Self:
        """The mark as the builder drew it.

        Raises
        ------
        Refused
            Fewer than two different points, or no width above 0.
        """
        middle = _polyline(drawn)
        width = _above_zero(drawn, "width", drawn.width_mm)
        sides = [_beside(middle, side * width / 2) for side in (1, -1)]
        return cls(
            key=drawn.key,
            face=drawn.face,
            width_mm=width,
            middle=(middle,),
            runs=tuple(sides),
            text=drawn.text,
            clear=drawn.clear,
        )

    @property
    def handed(self) -> bool:
        """Words read backwards in a mirror, lines do not."""
        return bool(self.text)

    def trimmed(self, region: Polygon) -> Self | None:
        """What of both lines lies in the region; a strip wider than the region has none and is None."""
        runs = clipped(self.runs, region)
        return replace(self, runs=runs, middle=clipped(self.middle, region)) if runs else None

    def mirrored(self) -> Self:
        """The lines with y -> -y; the words stay readable."""
        return replace(self, runs=mirrored(self.runs), middle=mirrored(self.middle))

    def drawn(self) -> MarkLines:
        """Both lines, the words between them; pricked at ends and corners."""
        texts = _along(self.middle or self.runs, self.text, off=0.0)
        return MarkLines(runs=self.runs, texts=texts, prick_points=_corners(self.runs))


@dataclass(frozen=True, slots=True, kw_only=True)
class CircleMark:
    """A circle to be drawn, not cut; words at its centre."""

    key: str
    face: Face
    centre: Point
    runs: tuple[Run, ...]
    text: str = ""
    centre_inside: bool = True
    clear: bool = False

    @classmethod
    def of(cls, drawn: DrawnMark) -> Self:
        """The mark as the builder drew it.

        Raises
        ------
        Refused
            Not exactly one point, or no diameter above 0.
        """
        (x, y), *more = _finite(drawn) or [(0.0, 0.0)]
        if more or not drawn.points:
            raise Refused([Refusal(key=drawn.key, text="a circle has one point, its centre; give just that")])
        radius = _above_zero(drawn, "diameter", drawn.diameter_mm) / 2
        return cls(
            key=drawn.key,
            face=drawn.face,
            centre=(x, y),
            runs=Outline.circle(x, y, radius).lines(),
            text=drawn.text,
            clear=drawn.clear,
        )

    @property
    def handed(self) -> bool:
        """Words read backwards in a mirror, a circle does not."""
        return bool(self.text)

    def trimmed(self, region: Polygon) -> Self | None:
        """The arcs that lie in the region."""
        runs = clipped(self.runs, region)
        inside = self.centre_inside and bool(region.covers(shapely.Point(self.centre)))
        return replace(self, runs=runs, centre_inside=inside) if runs else None

    def mirrored(self) -> Self:
        """The circle with y -> -y; the words stay readable."""
        return replace(self, runs=mirrored(self.runs), centre=flip(self.centre))

    def drawn(self) -> MarkLines:
        """The circle; pricked at its centre, or the ends of its arcs where the centre is off the part."""
        texts = _along(self.runs, self.text, off=_OFF_LINE_MM)
        if self.text and self.centre_inside:
            texts = (MarkText(at=self.centre, text=self.text),)
        pricks = (self.centre,) if self.centre_inside else _corners(self.runs)
        return MarkLines(runs=self.runs, texts=texts, prick_points=pricks)


@dataclass(frozen=True, slots=True, kw_only=True)
class BalanceMark:
    """Where the model should balance: a V with its tip on the place, and a line across the chord."""

    key: str
    face: Face
    tip: Point
    text_at: Point
    text_turn_deg: float
    runs: tuple[Run, ...]
    text: str
    clear: bool = False

    @classmethod
    def of(cls, drawn: DrawnMark) -> Self:
        """The mark at a share of the chord from the first point to the second.

        The V opens to the right of that direction, the line across goes to its left.

        Raises
        ------
        Refused
            Not two different points, or the share is not between 0 and 1.
        """
        points = _finite(drawn)
        if len(points) != 2 or math.dist(*points) <= SAME_POINT_MM:
            text = "a balance mark needs two different points, the ends of the chord it is measured along"
            raise Refused([Refusal(key=drawn.key, text=text)])
        ratio = drawn.ratio
        if ratio is None or not 0 <= ratio <= 1:
            text = "the balance lies between 0 % and 100 % of the chord; give a share in between"
            raise Refused([Refusal(key=drawn.key, text=text)])
        (x0, y0), (x1, y1) = points
        chord = math.dist(*points)
        ux, uy = (x1 - x0) / chord, (y1 - y0) / chord
        tip = x0 + ratio * (x1 - x0), y0 + ratio * (y1 - y0)

        def off(along: float, left: float) -> Point:
            return tip[0] + along * ux - left * uy, tip[1] + along * uy + left * ux

        legs = straight([off(-_MOUTH_MM, -_V_MM), tip, off(_MOUTH_MM, -_V_MM), off(-_MOUTH_MM, -_V_MM)])
        return cls(
            key=drawn.key,
            face=drawn.face,
            tip=tip,
            text_at=off(0.0, -_V_MM - _BELOW_V_MM),
            text_turn_deg=_readable(math.degrees(math.atan2(uy, ux))),
            runs=(legs, straight([tip, off(0.0, _CROSS_MM)])),
            text=drawn.text or f"balance {decimal_text(100 * ratio, 1)} %",
            clear=drawn.clear,
        )

    @property
    def handed(self) -> bool:
        """Its words read backwards in a mirror."""
        return True

    def trimmed(self, region: Polygon) -> Self | None:
        """What of it lies in the region; None when its tip does not."""
        if not region.covers(shapely.Point(self.tip)):
            return None
        runs = clipped(self.runs, region)
        return replace(self, runs=runs) if runs else None

    def mirrored(self) -> Self:
        """The V with y -> -y; the words stay readable."""
        return replace(
            self,
            runs=mirrored(self.runs),
            tip=flip(self.tip),
            text_at=flip(self.text_at),
            text_turn_deg=_readable(-self.text_turn_deg),
        )

    def drawn(self) -> MarkLines:
        """The V, the line across and the words; pricked at the tip and the end of the line across."""
        pricks = dict.fromkeys([self.tip, *(run[-1].end for run in self.runs[1:])])
        words = MarkText(at=self.text_at, text=self.text, turn_deg=self.text_turn_deg)
        return MarkLines(runs=self.runs, texts=(words,), prick_points=tuple(pricks))


_KINDS: dict[str, type[LineMark] | type[TapeMark] | type[CircleMark] | type[BalanceMark]] = {
    "line": LineMark,
    "balance": BalanceMark,
    "circle": CircleMark,
    "tape": TapeMark,
}


def mark_of(drawn: DrawnMark) -> Mark:
    """The mark that the builder drew, not yet trimmed to its part.

    Raises
    ------
    Refused
        Its points or numbers make no mark.
    ValueError
        The kind is not one of line, balance, circle, tape: the reader must have refused it.
    """
    if drawn.kind not in _KINDS:
        raise ValueError(f"unknown kind of mark {drawn.kind!r}")
    return _KINDS[drawn.kind].of(drawn)


def _finite(drawn: DrawnMark) -> tuple[Point, ...]:
    """The points, each with both numbers within reason."""
    if all(abs(number) <= FARTHEST_MM for point in drawn.points for number in point):
        return drawn.points
    text = f"a point is no number, or lies beyond {decimal_text(FARTHEST_MM)} mm; mend it"
    raise Refused([Refusal(key=drawn.key, text=text)])


def _above_zero(drawn: DrawnMark, name: str, value: float | None) -> float:
    if value is not None and 0 < value <= FARTHEST_MM:
        return value
    raise Refused([Refusal(key=drawn.key, text=f"the {name} has to be above 0; give a {name}")])


def _polyline(drawn: DrawnMark) -> Run:
    points: list[Point] = []
    for point in _finite(drawn):
        if not points or math.dist(point, points[-1]) > SAME_POINT_MM:
            points.append(point)
    if len(points) < 2:
        text = "a line needs at least two different points; give where it starts and where it ends"
        raise Refused([Refusal(key=drawn.key, text=text)])
    return straight(points)


def _beside(run: Run, left_mm: float) -> Run:
    """The line parallel to a run of straight segments, to its left (negative: right), its corners mitred.

    A corner whose mitre would reach farther than `_MITRE` times the distance is cut off square.
    """
    ways = [_forwards(segment) for segment in run]
    points = [_off(run[0].start, ways[0], left_mm)]
    for segment, way, following in zip(run, ways, ways[1:], strict=False):
        turn = 1 + way[0] * following[0] + way[1] * following[1]  # 2 cos^2 of half the turn
        if turn > 2 / _MITRE**2:
            both = (way[0] + following[0]) / turn, (way[1] + following[1]) / turn
            points.append(_off(segment.end, both, left_mm))
        else:
            points += [_off(segment.end, way, left_mm), _off(segment.end, following, left_mm)]
    points.append(_off(run[-1].end, ways[-1], left_mm))
    return straight([p for p, before in zip(points, [None, *points], strict=False) if p != before])


def _forwards(segment: Segment) -> Point:
    length = math.dist(segment.start, segment.end)
    return (segment.end[0] - segment.start[0]) / length, (segment.end[1] - segment.start[1]) / length


def _off(point: Point, way: Point, left_mm: float) -> Point:
    return point[0] - left_mm * way[1], point[1] + left_mm * way[0]


def _corners(runs: Iterable[Run]) -> tuple[Point, ...]:
    """Ends and corners of runs, each once."""
    return tuple(dict.fromkeys(p for run in runs for p in (run[0].start, *(s.end for s in run))))


def _along(runs: Iterable[Run], text: str, *, off: float) -> tuple[MarkText, ...]:
    """Words at the middle of the longest stretch, above it as they are read; of like ones the first."""
    segments = [segment for run in runs for segment in run]
    if not text or not segments:
        return ()
    longest = max(segments, key=lambda s: round(math.dist(s.start, s.end) * 1e6))
    (x0, y0), (x1, y1) = longest.start, longest.end
    turn = _readable(math.degrees(math.atan2(y1 - y0, x1 - x0)))
    up = math.radians(turn + 90)
    at = (x0 + x1) / 2 + off * math.cos(up), (y0 + y1) / 2 + off * math.sin(up)
    return (MarkText(at=at, text=text, turn_deg=turn),)


def _readable(turn_deg: float) -> float:
    """The turn, or the opposite one, that is above -90 and at most 90 degrees."""
    if -90 < turn_deg <= 90:
        return turn_deg + 0.0
    turn = (turn_deg + 90) % 180 - 90
    return 90.0 if turn <= -90 else turn
