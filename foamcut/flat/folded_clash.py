"""How deep two folded panels go into each other, and where.

mm.  The depth of what two boards share is its least width: how far one of them would have to be moved, at
least, to be out of the other there.  It is looked for square to each of the faces of the shared body, which
is exact where that is convex and its least width lies between a face and a corner, as with boards.  Faces
that only touch may share sheets as thin as the rounding of their corners, standing on each other; what keeps
them out is that a convex body of width w holds a ball of radius w / (2 sqrt 3) (P. Steinhagen, 1922) and one
that holds a ball of radius r has a volume of at least r / 3 times its surface (both from memory).
"""

import math
from typing import NamedTuple

import numpy as np

from foamcut.flat.folded_body import Body
from foamcut.flat.tolerances import PLACES


class Clash(NamedTuple):
    """A body that two panels share: its least width, mm, and its middle in space."""

    depth_mm: float
    middle: np.ndarray


def clash(a: Body, b: Body) -> Clash | None:
    """The deepest of what two panels share; None where they share nothing."""
    if not a.boxes_within(b, 0.0):
        return None
    shared = [_measured(piece) for piece in (a.solid ^ b.solid).decompose() if piece.volume() > 0]
    return max(shared, key=lambda one: (one.depth_mm, *one.middle.tolist()), default=None)


def _measured(piece: object) -> Clash:
    mesh = piece.to_mesh64()  # type: ignore[attr-defined]
    corners = np.asarray(mesh.vert_properties)[:, :3]
    a, b, c = (corners[np.asarray(mesh.tri_verts)[:, i]] for i in range(3))
    normals = np.cross(b - a, c - a)
    sizes = np.linalg.norm(normals, axis=1)
    # a triangle so small beside the others has no direction that could be trusted
    large = sizes > sizes.max() * 1e-6
    directions = np.unique(np.round(normals[large] / sizes[large, None], 6), axis=0)
    across = corners @ directions.T
    depth = float((across.max(axis=0) - across.min(axis=0)).min())
    most = 6 * math.sqrt(3) * piece.volume() / piece.surface_area()  # type: ignore[attr-defined]
    middle = (corners.min(axis=0) + corners.max(axis=0)) / 2
    return Clash(round(min(depth, most), PLACES), np.round(middle, PLACES))
