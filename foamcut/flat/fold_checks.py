"""Folds of a part: which cross it, which have room, which keep off slots, tabs and each other.

mm.  Folds that end at one corner of the part (the flaps of a tray) may: their lines are mitred there.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from foamcut.errors import Refusal
from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import DrawnFold, Side
from foamcut.flat.fold_lines import Crossing, crossing, fold_of, line_at
from foamcut.flat.fold_numbers import fold_numbers_refused
from foamcut.flat.folds import Fold
from foamcut.flat.frame import Frame
from foamcut.flat.outline import Point
from foamcut.flat.part import Slot, Tab
from foamcut.flat.tolerances import ON_EDGE_MM, PARALLEL, SAME_POINT_MM
from foamcut.flat.trace import length_text, place_text

#: folds whose lines meet off the part within so many band widths of both are neighbours at a corner
_CORNER_REACH = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """A fold that crosses its part, and where."""

    drawn: DrawnFold
    alone: Fold
    found: Crossing

    @property
    def word(self) -> str:
        """What it is called in a refusal."""
        return self.drawn.key.rsplit(".", 1)[-1]

    @property
    def ends(self) -> list[Point]:
        """Where the whole paper stops turning."""
        return [end for run in self.alone.fold for end in (run[0].start, run[-1].end)]

    @property
    def axis(self) -> BaseGeometry:
        """Where the whole paper turns."""
        return shapely.union_all([LineString(run_points(run)) for run in self.alone.fold])

    @property
    def width_mm(self) -> float:
        """How far the worked band reaches to its wider side."""
        return max(abs(s) for s in self.alone.band_mm)

    @property
    def worked(self) -> BaseGeometry:
        """The worked band, for a score the line."""
        if self.alone.band_mm[1] - self.alone.band_mm[0] <= SAME_POINT_MM:
            return self.axis
        return shapely.union_all(self.found.band)


def laid_folds(
    drawn: Sequence[DrawnFold],
    region: Polygon,
    thickness_mm: float,
    slots: Sequence[Slot] = (),
    tabs: Sequence[Tab] = (),
) -> tuple[tuple[Fold, ...], list[Refusal]]:
    """The folds as worked in a region (the part with its cuts), and what was refused.

    The folds are only of use when nothing was refused.
    """
    refusals: list[Refusal] = []
    laid: list[_Laid] = []
    shapely.prepare(region)
    for one in drawn:
        refused = fold_numbers_refused(one, thickness_mm)
        if not refused:
            found = crossing(one, thickness_mm, region)
            refused = [] if found.runs else [_misses(one, region)]
            if not refused:
                laid.append(_Laid(drawn=one, alone=fold_of(one, thickness_mm, region), found=found))
        refusals += refused
    groups = _neighbours(laid, region)
    laid = [_with_room(fold, group, region) for fold, group in zip(laid, groups, strict=True)]
    short = [_stops_inside(fold, group, region) for fold, group in zip(laid, groups, strict=True)]
    refusals += [refusal for found in short for refusal in found]
    groups = [group for group, found in zip(groups, short, strict=True) if not found]
    laid = [fold for fold, found in zip(laid, short, strict=True) if not found]
    for fold, group in zip(laid, groups, strict=True):
        refusals += [*_no_room(fold, group, region), *_in_the_way(fold, slots, tabs)]
    refusals += _meetings(laid, region)
    if refusals:
        return (), refusals
    return tuple(
        fold_of(fold.drawn, thickness_mm, region, group) for fold, group in zip(laid, groups, strict=True)
    ), []


def _with_room(one: _Laid, beside: Sequence[Fold], region: Polygon) -> _Laid:
    """A fold with its band cut off where the paper of its neighbours turns."""
    if not beside:
        return one
    found = crossing(one.drawn, one.alone.thickness_mm, region, beside)
    return _Laid(drawn=one.drawn, alone=one.alone, found=found)


def _misses(drawn: DrawnFold, region: Polygon) -> Refusal:
    """Why a fold crosses nothing of its part."""
    text = f"the fold from {place_text(drawn.start)} to {place_text(drawn.end)} "
    off = LineString([drawn.start, drawn.end]).distance(region)
    if off > SAME_POINT_MM:
        text += f"lies outside the part by {length_text(off)}; move it onto the part"
    else:
        text += "only runs along an edge of the part, or in a hole; move it onto the part"
    return Refusal(key=drawn.key, text=text)


def _stops_inside(one: _Laid, beside: Sequence[Fold], region: Polygon) -> list[Refusal]:
    """Ends of the drawn line that fall short of the edge, or of what is cut for a fold at the same corner."""
    drawn, found = one.drawn, one.found
    stretches = line_at(found, 0.0, region, beside, axis=one.alone.axis_mm, mitred=True)
    length = found.frame.length
    crossed = [(u0, u1) for u0, u1 in stretches if min(u1, length) - max(u0, 0.0) > ON_EDGE_MM]
    if not crossed:
        return []
    first, last = crossed[0][0], crossed[-1][1]
    stops = (
        ("from", "starts", drawn.start, first, -first),
        ("to", "ends", drawn.end, last, last - length),
    )
    refusals = []
    for name, verb, at, edge, short in stops:
        if short > ON_EDGE_MM:
            text = (
                f"the fold {verb} inside the part, at {place_text(at)}; it has to run from edge to edge: the"
                f" edge there lies at {place_text(found.frame.at(edge, 0.0))}"
            )
            refusals.append(Refusal(key=f"{drawn.key}.{name}", text=text))
    return refusals


def _no_room(one: _Laid, beside: Sequence[Fold], region: Polygon) -> list[Refusal]:
    """A band that takes all of the panel on one side of it."""
    fold, found = one.alone, one.found
    for s, side in zip(fold.band_mm, ("right", "left"), strict=True):
        stretches = line_at(found, s, region, beside, axis=fold.axis_mm, mitred=False)
        lines = [((u0 + u1) / 2, s) for u0, u1 in stretches]
        for piece in found.band:
            if any(piece.covers(shapely.Point(found.frame.at(*middle))) for middle in lines):
                continue
            at = piece.representative_point()
            low, high = fold.band_mm
            text = (
                f"the {fold.kind.value} takes {length_text(high - low)} of the board, from"
                f" {length_text(-low)} right of its line to {length_text(high)} left of it, and leaves"
                f" nothing of the panel on its {side} at {place_text((at.x, at.y))}; move the fold, or make"
                " that panel wider"
            )
            return [Refusal(key=fold.key, text=text)]
    return []


def _in_the_way(one: _Laid, slots: Sequence[Slot], tabs: Sequence[Tab]) -> list[Refusal]:
    worked = one.worked
    refusals = []
    for what, cuts in (("slot", slots), ("tab", tabs)):
        for cut in cuts:
            apart = shapely.shortest_line(worked, cut.outline.polygon)
            if apart.length > SAME_POINT_MM:
                continue
            x, y = shapely.get_coordinates(apart)[0].tolist()
            text = (
                f"the fold meets {cut.key.rsplit('.', 1)[-1]} at {place_text((x, y))}, and a {what} cannot be"
                " folded; move one of them"
            )
            refusals.append(Refusal(key=one.drawn.key, text=text))
    return refusals


def _neighbours(laid: Sequence[_Laid], region: Polygon) -> list[list[Fold]]:
    """For each fold those that end at the same corner of the part."""
    return [
        [other.alone for other in laid if other is not one and _at_one_corner(one, other, region)]
        for one in laid
    ]


def _at_one_corner(a: _Laid, b: _Laid, region: Polygon) -> bool:
    """Whether the lines where the paper turns meet at the part's edge or off it, close to an end of both."""
    at = _lines_meet(a.alone, b.alone)
    if at is None or not (a.ends and b.ends):  # one without room has no line where its paper turns
        return False
    place = shapely.Point(at)
    if region.contains(place) and region.boundary.distance(place) > ON_EDGE_MM:
        return False
    reach = max(_CORNER_REACH * (a.width_mm + b.width_mm), ON_EDGE_MM)
    return all(min(math.dist(end, at) for end in one.ends) <= reach for one in (a, b))


def _lines_meet(a: Fold, b: Fold) -> Point | None:
    """Where the endless lines of two folds' turning paper meet; None when they are parallel."""
    first, second = Frame(a.start, a.end), Frame(b.start, b.end)
    (px, py), (dx, dy) = first.at(0.0, a.axis_mm), first.along
    (qx, qy), (ex, ey) = second.at(0.0, b.axis_mm), second.along
    cross = dx * ey - dy * ex
    if abs(cross) <= PARALLEL:
        return None
    return first.at(((qx - px) * ey - (qy - py) * ex) / cross, a.axis_mm)


def _meetings(laid: Sequence[_Laid], region: Polygon) -> list[Refusal]:
    refusals = []
    worked = np.array([one.worked for one in laid], dtype=object)
    near = STRtree(worked).query(worked, predicate="dwithin", distance=SAME_POINT_MM) if laid else ((), ())
    for i, j in sorted((int(i), int(j)) for i, j in zip(*near, strict=True) if i < j):
        a, b = laid[i], laid[j]
        corner, shared = _at_one_corner(a, b, region), worked[i].intersection(worked[j])
        if corner and (a.drawn.side is b.drawn.side or shared.area <= ON_EDGE_MM):
            continue
        apart = shapely.shortest_line(worked[i], worked[j])
        at = shapely.get_coordinates(apart if shared.is_empty else shared.representative_point())[0].tolist()
        where = place_text((at[0], at[1]))
        text = (
            f"{b.word} and {a.word} meet at {where}; inside the part some panel has to be left between"
            " what is cut for one fold and for the next: move one of them"
        )
        if corner and {a.drawn.side, b.drawn.side} == set(Side):
            text = (
                f"{b.word} and {a.word} end at one corner and are cut from both faces at {where}, which would"
                " cut the paper through; cut both on the same side"
            )
        refusals.append(Refusal(key=b.drawn.key, text=text))
    return refusals
