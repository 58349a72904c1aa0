"""The saddle of a body against the paper of the wing that lies in it, measured as cut.

The edge is taken where it comes closest to the paper across the board, since it is cut square.
mm; model axes: x aft, y right, z up.
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely import LineString, Polygon

from foamcut.airframe.values import Inputs, Role
from foamcut.findings import Finding, Level
from foamcut.flat.assembled import Standing, section_at
from foamcut.flat.folded_body import Body
from foamcut.units import decimal_text

#: what a builder's eye and the foam give way
OFF_MM = 0.5
#: a side stands upright along the body, within what a taper turns it
_SQUARE = math.cos(math.radians(10.0))
#: a side whose edge is farther from the wing, in the middle of all places, was not meant to carry it
_FAR_MM = 15.0
#: where across the thickness of a side it is looked at; an edge cut square meets a sloping paper at one face
_ACROSS = (0.02, 0.5, 0.98)
#: how far from the wing's edges it is looked at, and how finely
_ENDS_MM, _EVERY_MM = 4.0, 4.0


def saddle_findings(model: Sequence[Standing], inputs: Inputs) -> Iterator[Finding]:
    """Each side whose edge is off the paper of a wing that lies on it, with the largest gap or overlap."""
    told: set[str] = set()  # one hand of a pair is enough
    for surface in inputs.surfaces:
        if surface.role is not Role.WING:
            continue
        own = [one.part.name.startswith(f"{surface.name}-") for one in model]
        wing = [body for one, is_wing in zip(model, own, strict=True) if is_wing for body in one.bodies]
        for one, is_wing in zip(model, own, strict=True):
            for board in () if is_wing else one.boards:
                if one.pair_name in told or abs(board.matrix[1, 2]) <= _SQUARE:
                    continue
                if found := _saddle(one, board, wing, surface.name):
                    told.add(one.pair_name)
                    yield found


def _saddle(one: Standing, side: Body, wing: Sequence[Body], name: str) -> Finding | None:
    near = [
        body
        for body in wing
        if (np.maximum(body.box[0] - side.box[1], side.box[0] - body.box[1]) < _FAR_MM).all()
    ]
    papers = [paper for paper in (_papers(side, near, share) for share in _ACROSS) if paper is not None]
    if not papers:
        return None
    upright = _upright(side)
    gaps = []  # of the lower and of the upper paper, at each place along: the least across the edge
    for which in (0, 1):
        at: dict[float, float] = {}
        for paper in papers:
            for x, z in paper[which]:
                at[x] = min(at.get(x, math.inf), _gap(upright, x, z))
        gaps.append(at)
    offs = [float(np.median(np.abs(list(at.values())))) if at else math.inf for at in gaps]
    if min(offs) > _FAR_MM:
        return None
    x, gap = max(gaps[offs.index(min(offs))].items(), key=lambda found: abs(found[1]))
    return _told(one, name, gap, x) if abs(gap) > OFF_MM else None


_Line = list[tuple[float, float]]


def _papers(side: Body, wing: Sequence[Body], share: float) -> tuple[_Line, _Line] | None:
    """The lower and the upper paper of a wing, (x, z), over a share of the way across a side's board."""
    (_, y0, _), (_, y1, _) = side.box.tolist()
    section = section_at(wing, y0 + share * (y1 - y0)) if wing else Polygon()
    if section.is_empty:
        return None
    x0, z0, x1, z1 = section.bounds
    if side.box[1, 0] - side.box[0, 0] < (x1 - x0) / 2:  # a plate beside a motor carries no wing
        return None
    first = math.ceil((x0 + _ENDS_MM) / _EVERY_MM)
    along = [i * _EVERY_MM for i in range(first, math.floor((x1 - _ENDS_MM) / _EVERY_MM) + 1)]
    cuts = [
        (x, section.intersection(LineString([(x, z0 - 1), (x, z1 + 1)])).bounds)
        for x in along
        if _under(side, x)
    ]
    return [(x, cut[1]) for x, cut in cuts], [(x, cut[3]) for x, cut in cuts]


def _under(side: Body, x: float) -> bool:
    return bool(side.box[0, 0] + _ENDS_MM <= x <= side.box[1, 0] - _ENDS_MM)


def _upright(side: Body) -> Polygon:
    """A side as x and z."""
    onto = side.matrix[[0, 2], :][:, [0, 1, 3]]
    return shapely.transform(side.panel.outline.polygon, lambda flat: flat @ onto[:, :2].T + onto[:, 2])


def _gap(side: Polygon, x: float, z: float) -> float:
    """How far a place of the wing's paper is off a side's edge; less than 0 when it lies in the side."""
    at = shapely.Point(x, z)
    off = side.boundary.distance(at)
    return round(-off if side.covers(at) else off, 6)


def _told(one: Standing, wing: str, gap: float, x: float) -> Finding:
    amount = f"{decimal_text(abs(gap), 2)} mm"
    words = f"is {amount} off" if gap > 0 else f"goes {amount} into"
    return Finding(
        code="fit-saddle",
        level=Level.WARNING,
        where=one.part.key,
        text=f"the edge of {one.part.name} {words} the paper of {wing}, {decimal_text(x)} mm aft of the nose",
        value=amount,
        range=f"up to {decimal_text(OFF_MM)} mm",
        mend="cut the saddle to the wing's lower paper at its angle",
    )
