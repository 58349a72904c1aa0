"""The outline of a folded surface's skins on the flat pattern, with control surfaces and bevels.

mm, degrees; the flat pattern is that of `foamcut.airframe.folded_flat`, outlines run counter-clockwise.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from foamcut.airframe.flat_controls import Hinged
from foamcut.airframe.folded_controls import Notch, notches, open_spans
from foamcut.airframe.folded_flat import FlatSkin
from foamcut.airframe.planform import Panel
from foamcut.airframe.values import TrailingEdge
from foamcut.flat.drawn import Reading, Readings
from foamcut.flat.outline import Point
from foamcut.flat.placement import rounded
from foamcut.flat.tolerances import SAME_POINT_MM

#: the rear edge: s and place
_Rear = list[tuple[float, Point]]
#: a point of an edge that lies closer to the line through its neighbours is left out
_STRAIGHT_MM = 0.002


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A corner of an outline; the bevels are of the edge that leaves it."""

    at: Point
    front_deg: float = 0.0  # off the drawn, inner face
    back_deg: float = 0.0


def readings(key: str, corners: Sequence[Corner]) -> Readings:
    """The outline as drawn."""
    return Readings(
        key=f"{key}.outline",
        points=tuple(
            Reading(
                key=f"{key}.outline[{i}]",
                at=(rounded(one.at[0]), rounded(one.at[1])),
                bevel_deg=one.front_deg or None,
                bevel_back_deg=one.back_deg or None,
            )
            for i, one in enumerate(corners)
        ),
    )


def lower_corners(flat: FlatSkin) -> list[Corner]:
    """The lower skin from its root's nose by the trailing edge to its tip's nose."""
    piece = flat.piece
    ends = piece.lower_end(0), piece.lower_end(1)
    root, tip = flat.nose_line
    behind = [flat.lower_at(piece.panel.trailing(s), s) for s in ends]
    cuts = [corner for one in notches(piece) for corner in _notched(one, ends, piece.panel)]
    rear = [flat.lower_at(c, s) for c, s in cuts]
    if not cuts or cuts[0][1] > ends[0] + SAME_POINT_MM:
        rear.insert(0, behind[0])
    if not cuts or cuts[-1][1] < ends[1] - SAME_POINT_MM:
        rear.append(behind[1])
    first, last = _bevels(flat, upper=False)
    return [
        replace(first, at=root),
        *(Corner(at=at) for at in rear[:-1]),
        replace(last, at=rear[-1]),
        Corner(at=tip),
    ]


def _notched(one: Notch, ends: tuple[float, float], panel: Panel) -> list[tuple[float, float]]:
    """The corners (c, s) of a notch from the root out; at an end of the skin it takes the corner off."""
    made = [(one.front_mm[0], one.from_mm), (one.front_mm[1], one.to_mm)]
    if one.from_mm > ends[0] + SAME_POINT_MM:
        made.insert(0, (panel.trailing(one.from_mm), one.from_mm))
    if one.to_mm < ends[1] - SAME_POINT_MM:
        made.append((panel.trailing(one.to_mm), one.to_mm))
    return made


def hinge_line(flat: FlatSkin, one: Hinged) -> tuple[Point, Point]:
    """The hinge line of a control on the lower skin, root to tip."""
    ends = flat.piece.lower_end(0), flat.piece.lower_end(1)
    low, high = max(one.from_mm, ends[0]), one.to_mm
    if high == flat.piece.last_mm:
        high = ends[1]
    return flat.lower_at(one.hinge(low), low), flat.lower_at(one.hinge(high), high)


def upper_corners(flat: FlatSkin) -> list[Corner]:
    """The upper skin from its tip's nose by the trailing edge to its root's nose, allowance included."""
    first, last = _bevels(flat, upper=True)
    rear = _rear(flat)
    root, tip = (_before(flat, end, rear[-1 - end]) for end in (0, -1))
    tip_edge, root_edge = thinned([*tip, rear[0]]), thinned([rear[-1], *reversed(root)])
    return [
        *(replace(last, at=at) for at in tip_edge[:-1]),
        *(Corner(at=at) for at in rear[:-1]),
        *(replace(first, at=at) for at in root_edge[:-1]),
        Corner(at=root_edge[-1]),
    ]


def sheet_corners(flat: FlatSkin) -> list[Corner]:
    """Both skins in one sheet: corners that fall together at the nose are one."""
    made, upper = lower_corners(flat), upper_corners(flat)
    if math.dist(made[-1].at, upper[0].at) <= SAME_POINT_MM:
        made.pop()
    made += upper
    if math.dist(made[-1].at, made[0].at) <= SAME_POINT_MM:
        made.pop()
    return made


def _before(flat: FlatSkin, end: int, rear: Point) -> list[Point]:
    """The points of an end before the rear edge there, from the nose."""
    line = [_point(at) for at in flat.upper[:, end]]
    reach = math.dist(line[0], rear)
    return [at for at in line[:-1] if math.dist(line[0], at) < reach - _STRAIGHT_MM]


def trimmed_line(flat: FlatSkin) -> np.ndarray:
    """Where the upper skin's board ends: the trimming allowance behind its edge, (m, 2), root to tip."""
    rail, before = flat.upper[-1], flat.upper[-2]
    trim = flat.piece.surface.trim_mm
    along = np.gradient(rail, axis=0)
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    way = rail - before
    way /= np.linalg.norm(way, axis=1, keepdims=True)
    across = np.abs(along[:, 0] * way[:, 1] - along[:, 1] * way[:, 0])
    return np.asarray(rail + trim * way / across[:, None])


def _rear(flat: FlatSkin) -> list[Point]:
    """The rear edge from the tip to the root, cut back to the hinge line over controls."""
    piece = flat.piece
    behind = [_point(at) for at in trimmed_line(flat)]
    line = list(zip(piece.rails[-1, :, 1].tolist(), behind, strict=True))
    if piece.surface.trailing_edge is TrailingEdge.BEVELLED:
        for low, high, one in open_spans(piece):
            line = _cut_back(flat, line, max(low, line[0][0]), min(high, line[-1][0]), one)
    return thinned([at for _, at in reversed(line)])


def _cut_back(flat: FlatSkin, line: _Rear, low: float, high: float, one: Hinged) -> _Rear:
    at_root, at_tip = low <= line[0][0], high >= line[-1][0]
    return [
        *(point for point in line if point[0] < low),
        *([] if at_root else [(low, _on(line, low))]),
        (low, _at_end(flat, 0, one) if at_root else flat.upper_at(one.hinge(low), low)),
        (high, _at_end(flat, -1, one) if at_tip else flat.upper_at(one.hinge(high), high)),
        *([] if at_tip else [(high, _on(line, high))]),
        *(point for point in line if point[0] > high),
    ]


def _at_end(flat: FlatSkin, end: int, one: Hinged) -> Point:
    """Where a hinge line crosses an end of the upper skin, which may lean."""
    places = flat.piece.middle[:, end]
    behind = np.array([c - one.hinge(s) for c, s, _ in places.tolist()])
    line = flat.upper[:, end]
    return float(np.interp(0.0, behind, line[:, 0])), float(np.interp(0.0, behind, line[:, 1]))


def _on(line: _Rear, s: float) -> Point:
    places = np.array([one for one, _ in line])
    points = np.array([at for _, at in line])
    return float(np.interp(s, places, points[:, 0])), float(np.interp(s, places, points[:, 1]))


def _bevels(flat: FlatSkin, *, upper: bool) -> tuple[Corner, Corner]:
    """The bevels of a skin's ends; the lower skin's is off the face inside, the upper's off that outside."""
    made = []
    piece = flat.piece
    for end, tilt in ((0, piece.first_tilt_deg), (1, 0.0 - piece.last_tilt_deg)):
        if not piece.bevelled(end):
            made.append(Corner(at=(0.0, 0.0)))
            continue
        inside = (tilt > 0) != upper
        angle = abs(tilt)
        made.append(
            Corner(at=(0.0, 0.0), front_deg=angle if inside else 0.0, back_deg=0.0 if inside else angle)
        )
    return made[0], made[1]


def thinned(points: Sequence[Point]) -> list[Point]:
    """A line without points that are hardly off the line through those kept beside them."""
    kept = [points[0]]
    i = 0
    while i < len(points) - 1:
        j = len(points) - 1
        while j > i + 1 and any(
            _off(points[k], points[i], points[j]) > _STRAIGHT_MM for k in range(i + 1, j)
        ):
            j -= 1
        kept.append(points[j])
        i = j
    return kept


def _off(at: Point, a: Point, b: Point) -> float:
    length = math.dist(a, b)
    if not length:
        return math.dist(at, a)
    return abs((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])) / length


def _point(at: np.ndarray) -> Point:
    return float(at[0]), float(at[1])
