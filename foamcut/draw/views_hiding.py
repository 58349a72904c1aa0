"""Which stretches of edges lie behind faces, exactly: each edge against each triangle.

A point of an edge is hidden by a triangle when it lies within it on the picture and behind its plane.  Each
of these four conditions is linear along the edge, so that a triangle hides one stretch of it.  Stretches are
(edge, from, to) with places from 0 to 1 along the edge.
"""

from dataclasses import dataclass

import numpy as np

from foamcut.draw.views_edges import Edges, Faces

#: parts touch, and go this far into each other: what lies no deeper under another part's face is not hidden
_SUNK_MM = 0.6
#: the same within one part, whose faces meet exactly
_OWN_MM = 0.05
#: a face seen at a slant hides no less deep than this share of its normal says
_SLANT = 0.25
#: a triangle reaches this far beyond its sides, mm, so that nothing shows between neighbours
_OVER_MM = 1e-3
#: but within one part a face seen nearly edge on (by its normal) stays this far inside its sides: a step
#: aside on it is a long step in depth, and it would hide the outline of a rounded edge
_STEEP, _INSIDE_MM = 0.15, 0.05
#: steps of the picture in which boxes are compared
_STEPS = 30000
#: pairs of edge and triangle looked at in one go
_AT_ONCE = 4_000_000


@dataclass(frozen=True, kw_only=True, eq=False)
class Stretches:
    """What parts hide: of `edge`, from `start` to `end`, `by` the part of that index; sorted."""

    edge: np.ndarray
    by: np.ndarray
    start: np.ndarray
    end: np.ndarray


def hidden_stretches(faces: Faces, edges: Edges) -> Stretches:
    """Every stretch of an edge that one part hides, those of one part put together."""
    front = np.nonzero(faces.front)[0]
    found = [np.empty((4, 0))]
    for first, second in _overlaps(faces.corners[front], edges.ends):
        found.append(_stretches(faces, edges, front[second], first))
    edge, by, start, end = np.concatenate(found, axis=1)
    return _merged(edge.astype(np.int64), by.astype(np.int64), start, end)


def _overlaps(corners: np.ndarray, ends: np.ndarray) -> list[tuple[np.ndarray, np.ndarray]]:
    """Pairs (edge, triangle) whose boxes overlap on the picture, and the edge not before the triangle."""
    if not len(corners) or not len(ends):
        return []
    low = np.minimum(corners.min(axis=(0, 1)), ends.min(axis=(0, 1)))
    high = np.maximum(corners.max(axis=(0, 1)), ends.max(axis=(0, 1)))
    step = np.maximum(high - low, 1e-6) / _STEPS
    t_low = np.floor((corners.min(axis=1) - low) / step - 1).astype(np.int16)
    t_high = np.ceil((corners.max(axis=1) - low) / step + 1).astype(np.int16)
    e_low = ((ends.min(axis=1) - low) / step).astype(np.int16)
    e_high = ((ends.max(axis=1) - low) / step).astype(np.int16)
    found = []
    size = max(1, _AT_ONCE // len(corners))
    for at in range(0, len(ends), size):
        a, b = e_low[at : at + size, None], e_high[at : at + size, None]
        both = (a[..., 0] <= t_high[:, 0]) & (b[..., 0] >= t_low[:, 0])
        both &= (a[..., 1] <= t_high[:, 1]) & (b[..., 1] >= t_low[:, 1])
        both &= a[..., 2] <= t_high[:, 2]
        first, second = np.nonzero(both)
        found.append((first + at, second))
    return found


def _stretches(faces: Faces, edges: Edges, triangle: np.ndarray, edge: np.ndarray) -> np.ndarray:
    """(4, k): edge, part, start, end of what each triangle hides of its edge."""
    beside = edges.faces[edge]
    other = (triangle != beside[:, 0]) & (triangle != beside[:, 1])
    triangle, edge = triangle[other], edge[other]
    corners = faces.corners[triangle]
    ends = edges.ends[edge]
    own = faces.part[triangle] == edges.part[edge]
    over = np.where(own & (faces.normals[triangle, 2] < _STEEP), -_INSIDE_MM, _OVER_MM)
    start = np.zeros(len(edge))
    end = np.ones(len(edge))
    for i in range(3):
        a, b = corners[:, i, :2], corners[:, (i + 1) % 3, :2]
        across = b - a
        length = np.maximum(np.sqrt(across[:, 0] ** 2 + across[:, 1] ** 2), 1e-9)
        inside = [
            (across[:, 0] * (ends[:, j, 1] - a[:, 1]) - across[:, 1] * (ends[:, j, 0] - a[:, 0])) / length
            + over
            for j in (0, 1)
        ]
        _narrow(inside[0], inside[1], start, end)
        kept = start < end
        if not kept.all():
            triangle, edge, corners, ends = triangle[kept], edge[kept], corners[kept], ends[kept]
            start, end, own, over = start[kept], end[kept], own[kept], over[kept]
    normal = faces.normals[triangle]
    slant = np.maximum(normal[:, 2], _SLANT)
    under = np.where(own, _OWN_MM, _SUNK_MM) / slant
    behind = [_depth(corners, normal, ends[:, j]) - under for j in (0, 1)]
    _narrow(behind[0], behind[1], start, end)
    kept = start < end
    return np.stack([edge[kept], faces.part[triangle[kept]], start[kept], end[kept]])


def _depth(corners: np.ndarray, normal: np.ndarray, place: np.ndarray) -> np.ndarray:
    """How far places lie behind the planes of triangles, along the line of sight."""
    away = (place[:, 0] - corners[:, 0, 0]) * normal[:, 0] + (place[:, 1] - corners[:, 0, 1]) * normal[:, 1]
    return corners[:, 0, 2] - away / normal[:, 2] - place[:, 2]


def _narrow(first: np.ndarray, last: np.ndarray, start: np.ndarray, end: np.ndarray) -> None:
    """Keep of each stretch where a quantity that runs from `first` to `last` is above 0."""
    change = last - first
    flat = np.abs(change) < 1e-12
    root = np.where(flat, 0.0, -first / np.where(flat, 1.0, change))
    rising = change > 0
    np.maximum(start, np.where(~flat & rising, root, 0.0), out=start)
    np.minimum(end, np.where(~flat & ~rising, root, 1.0), out=end)
    end[flat & (first <= 0)] = -1.0


def _merged(edge: np.ndarray, by: np.ndarray, start: np.ndarray, end: np.ndarray) -> Stretches:
    """Stretches of one edge and one part that overlap put together."""
    start, end = np.round(start, 7), np.round(end, 7)
    order = np.lexsort((end, start, by, edge))
    edge, by, start, end = edge[order], by[order], start[order], end[order]
    if not len(edge):
        return Stretches(edge=edge, by=by, start=start, end=end)
    pair = np.cumsum(np.r_[0, (edge[1:] != edge[:-1]) | (by[1:] != by[:-1])])
    reach = np.maximum.accumulate(end + 2.0 * pair)
    fresh = np.r_[True, (start + 2.0 * pair)[1:] > reach[:-1]]
    at = np.nonzero(fresh)[0]
    last = np.r_[at[1:] - 1, len(edge) - 1]
    return Stretches(edge=edge[at], by=by[at], start=start[at], end=reach[last] - 2.0 * pair[last])


def gaps(
    edge: np.ndarray, start: np.ndarray, end: np.ndarray, among: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """What stretches leave free of the edges `among`: edge, from, to, in order."""
    all_edges = np.concatenate([edge, among, among])
    starts = np.concatenate([start, np.zeros(len(among)), np.ones(len(among))])
    ends = np.concatenate([end, np.zeros(len(among)), np.ones(len(among))])
    order = np.lexsort((ends, starts, all_edges))
    all_edges, starts, ends = all_edges[order], starts[order], ends[order]
    reach = np.round(np.maximum.accumulate(ends + 2.0 * all_edges) - 2.0 * all_edges, 7)
    free = (all_edges[1:] == all_edges[:-1]) & (starts[1:] > reach[:-1])
    return all_edges[1:][free], reach[:-1][free], starts[1:][free]
