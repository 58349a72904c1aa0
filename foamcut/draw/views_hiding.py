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
_AT_ONCE = 1_000_000


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
    pairs = _overlaps(faces, edges.ends, front)
    found = [np.empty((4, 0))]
    if pairs:
        edge, triangle = (np.concatenate(several) for several in zip(*pairs, strict=True))
        for at in range(0, len(edge), _AT_ONCE):
            some = slice(at, at + _AT_ONCE)
            found.append(_stretches(faces, edges, triangle[some], edge[some]))
    edge, by, start, end = np.concatenate(found, axis=1)
    return _merged(edge.astype(np.int64), by.astype(np.int64), start, end)


def _overlaps(faces: Faces, ends: np.ndarray, front: np.ndarray) -> list[tuple[np.ndarray, np.ndarray]]:
    """Pairs (edge, triangle) whose boxes overlap on the picture, and the edge not before the triangle.

    Part by part, since few edges meet the box of a part.
    """
    if not len(front) or not len(ends):
        return []
    corners = faces.corners[front]
    low = np.minimum(corners.min(axis=(0, 1)), ends.min(axis=(0, 1)))
    high = np.maximum(corners.max(axis=(0, 1)), ends.max(axis=(0, 1)))
    step = np.maximum(high - low, 1e-6) / _STEPS
    t_low = np.floor((corners.min(axis=1) - low) / step - 1).astype(np.int16).T.copy()
    t_high = np.ceil((corners.max(axis=1) - low) / step + 1).astype(np.int16).T.copy()
    e_low = ((ends.min(axis=1) - low) / step).astype(np.int16).T.copy()
    e_high = ((ends.max(axis=1) - low) / step).astype(np.int16).T.copy()
    starts = np.nonzero(np.r_[True, faces.part[front][1:] != faces.part[front][:-1]])[0]
    found = []
    for first, last in zip(starts.tolist(), [*starts[1:].tolist(), len(front)], strict=True):
        a, b = t_low[:, first:last], t_high[:, first:last]
        near = (e_low[0] <= b[0].max()) & (e_high[0] >= a[0].min())
        near &= (e_low[1] <= b[1].max()) & (e_high[1] >= a[1].min()) & (e_low[2] <= b[2].max())
        those = np.nonzero(near)[0]
        size = max(1, _AT_ONCE // (last - first))
        for at in range(0, len(those), size):
            some = those[at : at + size]
            lows, highs = e_low[:, some, None], e_high[:, some, None]
            both = (lows[0] <= b[0]) & (highs[0] >= a[0])
            both &= lows[1] <= b[1]
            both &= highs[1] >= a[1]
            both &= lows[2] <= b[2]
            edge, triangle = np.divmod(np.flatnonzero(both), last - first)
            found.append((some[edge], front[first + triangle]))
    return found


def _stretches(faces: Faces, edges: Edges, triangle: np.ndarray, edge: np.ndarray) -> np.ndarray:
    """(4, k): edge, part, start, end of what each triangle hides of its edge."""
    beside = edges.faces
    other = (triangle != beside[:, 0][edge]) & (triangle != beside[:, 1][edge])
    triangle, edge = triangle[other], edge[other]
    planes = _half_planes(faces)
    start, end = np.zeros(len(edge)), np.ones(len(edge))
    for plane in planes:
        a, b, c = (one[triangle] for one in plane[:3])
        own = faces.part[triangle] == edges.part[edge]
        c += np.where(own, plane[3][triangle], plane[4][triangle])
        first, last = edges.ends[:, 0][edge], edges.ends[:, 1][edge]
        if plane is planes[-1]:  # behind the triangle
            c -= first[:, 2]
            rise = last[:, 2] - first[:, 2]
        else:
            rise = np.zeros(1)
        at_first = a * first[:, 0] + b * first[:, 1] + c
        _narrow(at_first, a * last[:, 0] + b * last[:, 1] + c - rise, start, end)
        kept = start < end
        triangle, edge, start, end = triangle[kept], edge[kept], start[kept], end[kept]
    return np.stack([edge, faces.part[triangle], start, end])


def _half_planes(faces: Faces) -> list[tuple[np.ndarray, ...]]:
    """For each side of every triangle, then for its plane: a, b, c, what own and other edges add to c.

    a x + b y + c is how far inside the side a place lies, and how near the plane is there.
    """
    normals = np.where(faces.front[:, None], faces.normals, np.array([0.0, 0.0, 1.0]))
    over = np.where(normals[:, 2] < _STEEP, -_INSIDE_MM, _OVER_MM), np.full(len(normals), _OVER_MM)
    planes: list[tuple[np.ndarray, ...]] = []
    for i in range(3):
        start, end = faces.corners[:, i], faces.corners[:, (i + 1) % 3]
        dx, dy = end[:, 0] - start[:, 0], end[:, 1] - start[:, 1]
        length = np.maximum(np.sqrt(dx**2 + dy**2), 1e-9)
        a, b = -dy / length, dx / length
        planes.append((a, b, -a * start[:, 0] - b * start[:, 1], *over))
    corner = faces.corners[:, 0]
    a, b = -normals[:, 0] / normals[:, 2], -normals[:, 1] / normals[:, 2]
    slant = np.maximum(normals[:, 2], _SLANT)
    c = corner[:, 2] - a * corner[:, 0] - b * corner[:, 1]
    return [*planes, (a, b, c, -_OWN_MM / slant, -_SUNK_MM / slant)]


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
