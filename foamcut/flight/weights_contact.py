"""Where edges of parts lie against other parts on the model: there they are glued.  mm; model axes.

An edge of board is two lines, one on each paper.  A stretch is glued when either of them lies on a face of
another part, inside that part's outline.  So a former is glued all round, a strip along both its long edges,
a plate on a larger one all round; of two boards that meet at a corner the one that stands against the other.
Plates of one size on each other, and halves that meet, are glued along the edges of one of them.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from foamcut.flat.assembled import Standing
from foamcut.flat.folded_body import Body
from foamcut.flight.weights_lines import Stretches, line, placed, poses_at

#: an edge so near to a face lies against it; bevels, fits and bent skins leave some tenths
_NEAR_MM = 1.0
#: an edge that crosses a board nearer to that board's own edge meets it at a corner
_INSIDE_MM = 1.0
#: the cosine of the angle between boards that lie flat on each other
_FLAT = 0.99


@dataclass(frozen=True, kw_only=True, eq=False)
class _Edges:
    """The outer edges of parts: stretches on both papers (n, 3), what part each is of, its board's normal."""

    papers: tuple[np.ndarray, np.ndarray]
    lengths: np.ndarray
    owner: np.ndarray
    normals: np.ndarray


def contacts(
    standing: Sequence[Standing], glued: Callable[[Standing, Standing], bool]
) -> tuple[Stretches, ...]:
    """For each part the stretches of its outer edge that lie against another part.

    `glued` says whether two parts that touch are glued to each other at all.
    """
    if not standing:
        return ()
    edges = _edges(standing)
    touched = np.zeros(len(edges.lengths), dtype=bool)
    areas = [round(one.part.outline.area, 3) for one in standing]
    for j, other in enumerate(standing):
        wanted = [i != j and glued(one, other) for i, one in enumerate(standing)]
        smaller = [(areas[i], i) < (areas[j], j) for i in range(len(standing))]
        low, high = other.box[0] - _NEAR_MM, other.box[1] + _NEAR_MM
        near = np.zeros(len(touched), dtype=bool)
        for paper in edges.papers:
            near |= ((paper >= low) & (paper <= high)).all(axis=1)
        at = np.flatnonzero(near & ~touched & np.array(wanted)[edges.owner])
        for body in (*other.boards, *other.facets) if len(at) else ():
            touched[at] |= _against(edges, at, body, np.array(smaller)[edges.owner[at]])
    middles = (edges.papers[0] + edges.papers[1]) / 2
    return tuple(
        Stretches(middles[touched & (edges.owner == i)], edges.lengths[touched & (edges.owner == i)])
        for i in range(len(standing))
    )


def _edges(standing: Sequence[Standing]) -> _Edges:
    outer, inner, lengths, owner, normals = [], [], [], [], []
    for i, one in enumerate(standing):
        ring = line(one.part.outline.rings()[0])
        poses = poses_at(one, ring.middles)
        outer.append(placed(poses, ring.middles, 0.0))
        inner.append(placed(poses, ring.middles, -one.part.thickness_mm))
        lengths.append(ring.lengths)
        normals.append(poses[:, :3, 2])
        owner.append(np.full(len(ring.lengths), i))
    return _Edges(
        papers=(np.concatenate(outer), np.concatenate(inner)),
        lengths=np.concatenate(lengths),
        owner=np.concatenate(owner),
        normals=np.concatenate(normals),
    )


def _against(edges: _Edges, at: np.ndarray, body: Body, smaller: np.ndarray) -> np.ndarray:
    """Which of some stretches lie against a panel; `smaller`: of a part smaller than the panel's."""
    matrix, t = body.matrix, body.part.thickness_mm
    flat_on = np.abs(edges.normals[at] @ matrix[:3, 2]) >= _FLAT
    found = np.zeros(len(at), dtype=bool)
    for paper in edges.papers:
        local = (paper[at] - matrix[:3, 3]) @ matrix[:3, :3]
        on_face = np.minimum(np.abs(local[:, 2]), np.abs(local[:, 2] + t)) <= _NEAR_MM
        some = np.flatnonzero(on_face & ~found)
        if not len(some):
            continue
        outline = body.panel.outline.polygon
        points = shapely.points(local[some, :2])
        inside = shapely.contains_xy(outline, local[some, 0], local[some, 1])
        off = shapely.distance(points, outline.boundary)
        crossing = inside & (off > _INSIDE_MM)
        lying = flat_on[some] & smaller[some] & (inside | (off <= _NEAR_MM))
        found[some] |= crossing | lying
    return found
