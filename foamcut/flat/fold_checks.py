"""Folds of a part: which cross it, which have room, which keep off slots, tabs and each other.

mm.  Folds that end at one corner of the part (the flaps of a tray) may: their lines are mitred there.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from foamcut.errors import Refusal
from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import DrawnFold, Side
from foamcut.flat.fold_lines import Crossing, Frame, across, crossing, fold_of
from foamcut.flat.fold_numbers import fold_numbers_refused
from foamcut.flat.folds import Fold
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
            refused = _crossing_refused(one, found, region)
            if not refused:
                laid.append(_Laid(drawn=one, alone=fold_of(one, thickness_mm, region), found=found))
        refusals += refused
    beside = _neighbours(laid, region)
    laid = [_with_room(fold, [laid[j].alone for j in beside[i]], region) for i, fold in enumerate(laid)]
    for fold in laid:
        refusals += [*_no_room(fold, region), *_in_the_way(fold, slots, tabs)]
    refusals += _meetings(laid, beside)
    if refusals:
        return (), refusals
    folds = (
        fold_of(fold.drawn, thickness_mm, region, [laid[j].alone for j in beside[i]])
        for i, fold in enumerate(laid)
    )
    return tuple(folds), []


def _with_room(one: _Laid, beside: Sequence[Fold], region: Polygon) -> _Laid:
    """A fold with its band cut off where the paper of its neighbours turns."""
    if not beside:
        return one
    found = crossing(one.drawn, one.alone.thickness_mm, region, beside)
    return _Laid(drawn=one.drawn, alone=one.alone, found=found)


def _crossing_refused(drawn: DrawnFold, found: Crossing, region: Polygon) -> list[Refusal]:
    """Why a fold does not cross its part from edge to edge."""
    if not found.runs:
        text = f"the fold from {place_text(drawn.start)} to {place_text(drawn.end)} "
        line = LineString([drawn.start, drawn.end])
        if line.distance(region) > SAME_POINT_MM:
            off = length_text(line.distance(region))
            text += f"lies outside the part by {off}; move it onto the part"
        else:
            text += "only runs along an edge of the part, or in a hole; move it onto the part"
        return [Refusal(key=drawn.key, text=text)]
    refusals = []
    (first, _), (_, last) = found.runs[0], found.runs[-1]
    stops = (
        ("from", "starts", drawn.start, first, -first),
        ("to", "ends", drawn.end, last, last - found.frame.length),
    )
    for name, verb, at, edge, short in stops:
        if short > ON_EDGE_MM:
            text = (
                f"the fold {verb} inside the part, at {place_text(at)}; it has to run from edge to edge: the"
                f" edge there lies at {place_text(found.frame.at(edge, 0.0))}"
            )
            refusals.append(Refusal(key=f"{drawn.key}.{name}", text=text))
    return refusals


def _no_room(one: _Laid, region: Polygon) -> list[Refusal]:
    """A band that takes all of the panel on one side of it."""
    fold, found = one.alone, one.found
    for s, side in zip(fold.band_mm, ("right", "left"), strict=True):
        lines = [((u0 + u1) / 2, s) for u0, u1 in across(found.frame, s, region)]
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


def _neighbours(laid: Sequence[_Laid], region: Polygon) -> list[list[int]]:
    """For each fold those that end at the same corner of the part."""
    beside: list[list[int]] = [[] for _ in laid]
    for i, j in combinations(range(len(laid)), 2):
        if _at_one_corner(laid[i], laid[j], region):
            beside[i].append(j)
            beside[j].append(i)
    return beside


def _at_one_corner(a: _Laid, b: _Laid, region: Polygon) -> bool:
    """Whether the lines where the paper turns meet at the part's edge or off it, close to an end of both."""
    at = _lines_meet(a.alone, b.alone)
    if at is None:
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


def _meetings(laid: Sequence[_Laid], beside: Sequence[Sequence[int]]) -> list[Refusal]:
    refusals = []
    worked = [one.worked for one in laid]
    for i, j in combinations(range(len(laid)), 2):
        a, b = laid[i], laid[j]
        corner, shared = j in beside[i], worked[i].intersection(worked[j])
        if corner and (a.drawn.side is b.drawn.side or shared.area <= ON_EDGE_MM):
            continue
        apart = shapely.shortest_line(worked[i], worked[j])
        if apart.length > SAME_POINT_MM:
            continue
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
