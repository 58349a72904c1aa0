"""Where edges of parts lie against other parts on the model: there they are glued.  mm; model axes.

An edge of board is two lines, one on each paper.  A stretch that stands against a face of another part,
inside that part's outline, takes a whole bead, whichever of its lines does: so a former takes one all round,
and of two boards that meet at a corner the one that stands against the other.  Where boards lie flat on each
other the lines of the smaller one take half a bead each: so a strip takes one bead along each of its faces, a
doubler half of what goes round it; halves that meet edge to edge take one.  The shares are common practice,
no source.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from foamcut.flat.assembled import Standing
from foamcut.flat.tolerances import PLACES
from foamcut.flight.weights_boards import boards_of
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
    share = np.zeros(len(edges.lengths))
    areas = [round(one.part.outline.area, 3) for one in standing]
    for j, other in enumerate(standing):
        wanted = np.array([i != j and glued(one, other) for i, one in enumerate(standing)])
        smaller = np.array([(areas[i], i) < (areas[j], j) for i in range(len(standing))])
        low, high = other.box[0] - _NEAR_MM, other.box[1] + _NEAR_MM
        near = np.zeros(len(share), dtype=bool)
        for paper in edges.papers:
            near |= ((paper >= low) & (paper <= high)).all(axis=1)
        at = np.flatnonzero(near & (share < 1.0) & wanted[edges.owner])
        if len(at):
            share[at] += _against(edges, at, other, smaller[edges.owner[at]])
    middles, lengths = (edges.papers[0] + edges.papers[1]) / 2, edges.lengths * np.minimum(share, 1.0)
    return tuple(
        Stretches(middles[ours], lengths[ours])
        for ours in ((edges.owner == i) & (share > 0) for i in range(len(standing)))
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


def _against(edges: _Edges, at: np.ndarray, other: Standing, smaller: np.ndarray) -> np.ndarray:
    """What share of a bead some stretches take on the boards of one part; `smaller`: than that part."""
    boards, t = boards_of(other).all, other.part.thickness_mm
    outlines = np.array([board.outline for board in boards])
    borders, boxes = shapely.boundary(outlines), shapely.bounds(outlines)
    matrices = np.array([board.matrix for board in boards])
    flat = np.abs(edges.normals[at] @ matrices[:, :3, 2].T) >= _FLAT
    crossing = np.zeros(len(at), dtype=bool)
    lying = np.zeros((2, len(at)), dtype=bool)
    for which, paper in enumerate(edges.papers):
        # every stretch as each board sees it (n, k, 3)
        turned = np.einsum("ni,kij->nkj", paper[at], matrices[:, :3, :3])
        local = turned - np.einsum("ki,kij->kj", matrices[:, :3, 3], matrices[:, :3, :3])
        x, y, z = local[..., 0], local[..., 1], local[..., 2]
        near = np.round(np.minimum(np.abs(z), np.abs(z + t)), PLACES) <= _NEAR_MM
        near &= (x >= boxes[:, 0] - _NEAR_MM) & (x <= boxes[:, 2] + _NEAR_MM)
        near &= (y >= boxes[:, 1] - _NEAR_MM) & (y <= boxes[:, 3] + _NEAR_MM)
        some, of = np.nonzero(near)
        x, y = x[some, of], y[some, of]
        off = np.round(shapely.distance(shapely.points(x, y), borders[of]), PLACES)
        inside = shapely.contains_xy(outlines[of], x, y)
        within = inside & (off > _INSIDE_MM)
        beside = smaller[some] & (inside | (off <= _NEAR_MM))
        crossing[some[within & ~flat[some, of]]] = True
        lying[which, some[flat[some, of] & (within | beside)]] = True
    return np.where(crossing, 1.0, lying.sum(axis=0) / 2)
