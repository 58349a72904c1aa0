"""What is drawn of a doubler: its outline, ticks and a letter, the same on the sections and on the doubler.

The part's coordinates, mm; u and v as in `foamcut.flat.doublers`.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

import shapely
from shapely import LineString, Polygon

from foamcut.flat.clipping import Run, clipped, flip, mirrored
from foamcut.flat.doublers import Line, Patch
from foamcut.flat.drawn import Face
from foamcut.flat.marks import MarkLines, MarkText
from foamcut.flat.outline import Point, straight
from foamcut.flat.placement import rounded
from foamcut.flat.tolerances import SAME_POINT_MM

#: a tick goes this far to either side of the line it stands across, mm
TICK_MM = 5.0
#: the second tick of one end stands this far beside the first, mm, or by this share of the doubler's width
_BESIDE_MM, _BESIDE_SHARE = 8.0, 1 / 4
#: the width of an end is looked at so far inside it, mm
_INSIDE_MM = 0.5
#: ticks along the joint take at most this share of what the doubler covers of it
_JOINT_SHARE = 1 / 3


@dataclass(frozen=True, slots=True, kw_only=True)
class JointMark:
    """Where a doubler is glued: `key` is that of the part or of the builder's line."""

    key: str
    face: Face
    letter: str
    runs: tuple[Run, ...]
    letter_places: tuple[Point, ...] = ()
    clear: bool = False

    @property
    def handed(self) -> bool:
        """A letter reads backwards in a mirror."""
        return True

    def trimmed(self, region: Polygon) -> Self | None:
        """What of the lines lies in the region, and the letters whose middle does."""
        runs = clipped(self.runs, region)
        places = tuple(at for at in self.letter_places if region.covers(shapely.Point(at)))
        return replace(self, runs=runs, letter_places=places) if runs else None

    def mirrored(self) -> Self:
        """The lines with y -> -y; the letters stay readable."""
        places = tuple(flip(at) for at in self.letter_places)
        return replace(self, runs=mirrored(self.runs), letter_places=places)

    def drawn(self) -> MarkLines:
        """Lines and letters; pricked at ends and corners of the lines."""
        texts = tuple(MarkText(at=at, text=self.letter) for at in self.letter_places)
        pricks = dict.fromkeys(p for run in self.runs for p in (run[0].start, *(s.end for s in run)))
        return MarkLines(runs=self.runs, texts=texts, prick_points=tuple(pricks))


@dataclass(frozen=True, slots=True)
class Glued:
    """A doubler with its letter, and all that is drawn of it."""

    key: str
    face: Face
    letter: str
    patch: Patch
    end_ticks: tuple[Run, ...]
    letter_places: tuple[Point, ...]
    flush: bool

    @classmethod
    def of(
        cls, key: str, face: Face, letter: str, patch: Patch, *, flipped: bool, flush: bool = False
    ) -> Self:
        """What is drawn of a doubler on a face.

        `flipped`: ticks stand as in the mirror image (y -> -y), for the left-hand one of a pair;
        `flush`: the doubler reaches the part's edges.
        """
        return cls(
            key, face, letter, patch, _end_ticks(patch, flipped), tuple(_letter_places(patch)), flush
        )

    def on_section(self, section: Polygon) -> JointMark | None:
        """On a section: outline, ticks across the ends, letter; None: the doubler lies off it.

        Where the outline runs along an edge of the section, the edge says it.
        """
        outline = self.patch.outline
        inside = section.buffer(-SAME_POINT_MM, join_style="mitre") if self.flush else section
        if not _boxes_meet(outline.bounds, section.bounds):
            return None
        shared = outline.polygon.intersection(section)
        if shared.area <= 0:
            return None
        mark = self._mark((*outline.lines(), *self.end_ticks), inside)
        if mark.letter_places:
            return mark
        # at a crossing of joints a doubler lies on more sections than the two that it was laid for
        middle = shared.representative_point()
        return replace(mark, letter_places=((rounded(middle.x), rounded(middle.y)),))

    def on_doubler(self) -> JointMark:
        """On the doubler itself: the ticks, and where the joint runs; its outline is cut."""
        return self._mark((*self.end_ticks, *_joint_ticks(self.patch)), self.patch.outline.polygon)

    def _mark(self, runs: Sequence[Run], region: Polygon) -> JointMark:
        return JointMark(
            key=self.key,
            face=self.face,
            letter=self.letter,
            runs=clipped(runs, region),
            letter_places=tuple(at for at in self.letter_places if region.covers(shapely.Point(at))),
        )


def _boxes_meet(one: Sequence[float], other: Sequence[float]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _end_ticks(patch: Patch, flipped: bool) -> tuple[Run, ...]:
    """Across the middle of both ends one, and at the aft end a second one beside it.

    So that the doubler cannot be glued turned round.
    """
    line = patch.line
    second = -1 if flipped and line.axis == 1 else 1  # y -> -y turns a line at one y round
    beside = -1 if flipped and line.axis == 0 else 1
    ticks: list[Run] = []
    for side in (-1, 1):
        end = _end(patch, side)
        if end is None:
            continue
        a, b = end
        middle = (a + b) / 2
        ticks += _tick(patch, side, middle)
        if side == second:
            off = min(_BESIDE_MM, _BESIDE_SHARE * (patch.covers[1] - patch.covers[0]))
            ticks += _tick(patch, side, middle + beside * off) or _tick(patch, side, middle - beside * off)
    return tuple(ticks)


def _end(patch: Patch, side: int) -> tuple[float, float] | None:
    """The widest stretch of an end, as a range along the joint."""
    line, bounds = patch.line, patch.outline.bounds
    far = (bounds[line.axis + 2] if side > 0 else bounds[line.axis]) - line.at_mm
    stretches = line.stretches(patch.outline.polygon, far - side * min(_INSIDE_MM, abs(far) / 2))
    return max(stretches, key=lambda s: (round(s[1] - s[0], 6), -s[0]), default=None)


def _tick(patch: Patch, side: int, v: float) -> list[Run]:
    """A tick along u across the doubler's edge that lies farthest out on one side at a place v."""
    line = patch.line
    across = LineString([line.point(0.0, v), line.point(side * 1e4, v)])
    crossing = patch.outline.polygon.intersection(across)
    if crossing.is_empty:
        return []
    x0, y0, x1, y1 = crossing.bounds
    low, high = ((x0, x1), (y0, y1))[line.axis]
    u = (high if side > 0 else low) - line.at_mm
    return [_straight(line, (u - TICK_MM, v), (u + TICK_MM, v))]


def _joint_ticks(patch: Patch) -> list[Run]:
    """Where the joint runs below the doubler: from its edges inwards."""
    ticks = []
    for a, b in patch.line.stretches(patch.outline.polygon):
        long = min(TICK_MM, _JOINT_SHARE * (b - a))
        ticks.append(_straight(patch.line, (0.0, a), (0.0, a + long)))
        ticks.append(_straight(patch.line, (0.0, b - long), (0.0, b)))
    return ticks


def _straight(line: Line, a: Point, b: Point) -> Run:
    return straight([line.point(*a), line.point(*b)])


def _letter_places(patch: Patch) -> list[Point]:
    """On either side of the joint the middle of the doubler's widest stretch, half way to its end."""
    places = []
    bounds, line = patch.outline.bounds, patch.line
    for far in (bounds[line.axis] - line.at_mm, bounds[line.axis + 2] - line.at_mm):
        stretches = line.stretches(patch.outline.polygon, far / 2)
        if stretches:
            a, b = max(stretches, key=lambda s: (round(s[1] - s[0], 6), -s[0]))
            places.append(line.point(far / 2, (a + b) / 2))
    return places
