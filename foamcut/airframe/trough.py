"""A body whose two sides and floor are folded from one sheet: a trough.

The flat width on the outer paper is the body's width and twice the height of its sides, whichever edge of
the lifted strip is the fold (plane geometry).  mm.  Drawn on the inner face: x runs aft along the lower
edge, y to the right; the floor holds (0, 0), and the sides lie beyond the folds.
"""

import math
from dataclasses import replace

import shapely
from shapely import Polygon

from foamcut.airframe.body_holes import Cuts, Laying, Panel, cuts_of, ring_points, ring_readings
from foamcut.airframe.body_openings import servo_holes, strap_holes
from foamcut.airframe.body_side import SideCuts, bevelled_ring, side_clear, side_marks
from foamcut.airframe.body_strips import floor_panel
from foamcut.airframe.body_unroll import Strip
from foamcut.airframe.body_view import View
from foamcut.airframe.body_words import word_marks
from foamcut.airframe.made import Made
from foamcut.airframe.values import Corners, Inputs
from foamcut.errors import Refusal
from foamcut.flat.drawn import DrawnFold, DrawnPart, Face, FoldAt, FoldKind, Readings
from foamcut.flat.outline import Point
from foamcut.units import decimal_text

#: a lower edge this close to a straight line is straight
_STRAIGHT_MM = 0.05


def trough_made(view: View, inputs: Inputs, cuts: SideCuts) -> Made:
    """The sheet of a trough; the rest of the body is that of a box."""
    refusals = [*_bends(view), *_parted(view), *cuts.panel.refusals]
    if refusals:
        return Made(refusals=tuple(refusals))
    strip = _bottom(view)
    floor = floor_panel(view, strip, "the floor")
    for hole in (*strap_holes(view, strip, 0), *servo_holes(view, inputs, strip, "floor")):
        floor.lay(hole)
    right, left = _layings(view)
    made = cuts_of(floor.holes, Laying(), "floor")
    made = made.plus(cuts_of(cuts.panel.holes, right, "right")).plus(cuts_of(cuts.panel.holes, left, "left"))
    part = _part(view, strip, made, floor, cuts, (right, left))
    return Made(parts=(part,), refusals=tuple(floor.refusals))


def _bottom(view: View) -> Strip:
    """The floor, its outer paper along the whole lower edge."""
    line = view.profile.bottom_line
    ends = (line[0], line[-1])
    return Strip(line=ends, over=False, thickness_mm=view.thickness_mm, width_mm=view.body.width_mm)


def _bends(view: View) -> list[Refusal]:
    """Readings whose bottom lies off the straight line from nose to tail."""
    (x0, z0), (x1, z1) = view.profile.bottom_line[0], view.profile.bottom_line[-1]
    found = []
    for one in view.body.side[1:-1]:
        line = z0 + (z1 - z0) * (one.along_mm - x0) / (x1 - x0)
        if abs(one.bottom_mm - line) > _STRAIGHT_MM:
            text = (
                "a trough is folded along straight lines, and the bottom at"
                f" {decimal_text(one.along_mm, 1)} mm"
                f" along is {decimal_text(one.bottom_mm, 1)} mm where the line from nose to tail passes"
                f' {decimal_text(line, 1)} mm: straighten it, or write build = "box", which follows the bend'
            )
            found.append(Refusal(key=one.key, text=text))
    return found


def _parted(view: View) -> list[Refusal]:
    """A low wing would part the floor and its folds."""
    return [
        Refusal(
            key=f"{view.body.key}.build",
            text=f'the wing "{saddle.surface.name}" ({saddle.surface.key}) lies in the lower half and'
            " would part"
            ' the folds of a trough: write build = "box", or move the wing up',
        )
        for saddle in view.seats.saddles
        if not saddle.upwards
    ]


def _layings(view: View) -> tuple[Laying, Laying]:
    """How the right and the left side lie on the sheet."""
    (x0, z0), (x1, z1) = view.profile.bottom_line[0], view.profile.bottom_line[-1]
    lean = math.degrees(math.atan2(z1 - z0, x1 - x0))
    half = view.body.width_mm / 2
    right = Laying(origin=(x0, z0), lean_deg=lean, off=(0.0, half))
    return right, replace(right, mirrored=True)


def _part(
    view: View, strip: Strip, made: Cuts, floor: Panel, cuts: SideCuts, layings: tuple[Laying, Laying]
) -> DrawnPart:
    body, t = view.body, view.thickness_mm
    half, length = body.width_mm / 2, strip.length_mm
    key = f"{body.key}.build"
    flat = [shapely.box(0.0, -half, length, half)]
    flat += [Polygon([laying.at(p) for p in _on_floor(view)]) for laying in layings]
    whole = shapely.union_all(flat, grid_size=1e-6)
    right, left = layings
    marks = [*side_marks(view, cuts.panel, right, "right"), *side_marks(view, cuts.panel, left, "left")]
    marks += word_marks(floor.shape, floor.holes, marks, "floor")
    clear = (*side_clear(view, right),)
    return DrawnPart(
        key=key,
        name=f"{body.name}-trough",
        stock=body.material.name,
        thickness_mm=t,
        shape=_outline(view, key, ring_points(whole), layings),
        face=Face.INNER,
        cutouts=made.cutouts,
        slots=made.slots,
        marks=tuple(marks),
        folds=_folds(key, half - t, length),
        keep_clear=clear,
        doubling=body.doubling,
        kerf_mm=body.material.kerf_mm,
        place=strip.place(key),
    )


def _outline(view: View, key: str, points: list[Point], layings: tuple[Laying, Laying]) -> Readings:
    """The outline of the sheet; under a mitred deck the upper edges are bevelled."""
    if view.body.corners is not Corners.MITRED or view.deck is None:
        return ring_readings(key, points)
    return bevelled_ring(key, points, [[laying.at(p) for p in view.deck.line] for laying in layings])


def _on_floor(view: View) -> list[Point]:
    """The corners of a side, those of its lower edge put on the straight line from nose to tail."""
    (x0, z0), (x1, z1) = view.profile.bottom_line[0], view.profile.bottom_line[-1]
    points = []
    for x, z in ring_points(view.side):
        line = z0 + (z1 - z0) * (x - x0) / (x1 - x0)
        points.append((x, line if abs(z - line) <= 2 * _STRAIGHT_MM else z))
    return points


def _folds(key: str, to_side: float, length: float) -> tuple[DrawnFold, ...]:
    """Both wraps: the foam is lifted where a side lands, and the paper turns at the far edge."""
    ends = (((0.0, to_side), (length, to_side)), ((length, -to_side), (0.0, -to_side)))
    return tuple(
        DrawnFold(
            key=f"{key}.folds[{i}]",
            kind=FoldKind.WRAP,
            start=start,
            end=end,
            turn_deg=90.0,
            fold_at=FoldAt.FAR,
        )
        for i, (start, end) in enumerate(ends)
    )
