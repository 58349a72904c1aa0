"""Edges of closed triangle surfaces that a line drawing shows: where a part ends, and where it bends sharply.

mm.  Everything is projected first: on the picture x to the right, y up, and `near` towards the eye.  Places
are rounded before anything is compared, and sums are written out, so that every machine sees the same.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamcut.airframe.model import Mesh

#: edges whose faces turn by more than this are drawn; the facets of a bent sheet turn by less
CREASE_DEG = 20.0
#: and where such an edge goes straight on, its faces may turn by as little as this: a fold that grows flatter
#: along its run shall not end on the way
_GOES_ON_DEG = 12.0
#: straight on: within this angle
_STRAIGHT_DEG = 8.0
#: a face whose normal is this near to square with the line of sight is seen edge on
_EDGE_ON = 1e-3
#: a triangle lower than this, mm, has no direction of its own
_SLIVER_MM = 0.02
#: decimals of a mm
_PLACES = 4
#: an edge shorter than this on the picture is a point, mm
_POINT_MM = 0.005


@dataclass(frozen=True, kw_only=True, eq=False)
class Faces:
    """Projected triangles of all parts.

    `corners` (n, 3, 3): x, y, near of each corner; `normals` (n, 3) in the same axes; `part` (n,) the index
    of its mesh; `front` (n,) whether it is turned to the eye.
    """

    corners: np.ndarray
    normals: np.ndarray
    part: np.ndarray
    front: np.ndarray


@dataclass(frozen=True, kw_only=True, eq=False)
class Edges:
    """Edges to draw: `ends` (m, 2, 3) x, y, near; `part` (m,); `ending` (m,) true where the part ends there.

    `faces` (m, 2) are the triangles on both sides, in `Faces`.
    """

    ends: np.ndarray
    part: np.ndarray
    ending: np.ndarray
    faces: np.ndarray


Vector = tuple[float, float, float]


def dotted(points: np.ndarray, direction: Vector) -> np.ndarray:
    """How far points (..., 3) lie along a direction, in an order of sums that no library changes."""
    x, y, z = direction
    return points[..., 0] * x + points[..., 1] * y + points[..., 2] * z


def crossed(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Cross products of vectors (n, 3)."""
    return np.stack(
        [
            a[:, 1] * b[:, 2] - a[:, 2] * b[:, 1],
            a[:, 2] * b[:, 0] - a[:, 0] * b[:, 2],
            a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0],
        ],
        axis=1,
    )


def drawn_edges(meshes: Sequence[Mesh], right: Vector, up: Vector) -> tuple[Faces, Edges]:
    """The triangles of all meshes on the picture, and the edges to draw."""
    points, triangles, part = _joined(meshes)
    towards = crossed(np.array([right]), np.array([up]))[0].tolist()
    axes = [dotted(points, axis) for axis in (right, up, (towards[0], towards[1], towards[2]))]
    places = np.round(np.stack(axes, axis=1), _PLACES) + 0.0
    corners = places[triangles]
    beside = _neighbours(triangles, len(places))
    normals = _normals(corners, triangles, beside)
    faces = Faces(corners=corners, normals=normals, part=part, front=normals[:, 2] > _EDGE_ON)
    return faces, _edges(places, triangles, beside, faces)


def _joined(meshes: Sequence[Mesh]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Points, triangles, and the part of each triangle; points of one part at one place are one."""
    if not meshes:
        return np.empty((0, 3)), np.empty((0, 3), dtype=np.int64), np.empty(0, dtype=np.int64)
    starts = np.cumsum([0, *(len(mesh.vertices) for mesh in meshes)])
    points = np.concatenate([np.asarray(mesh.vertices, dtype=float).reshape(-1, 3) for mesh in meshes])
    triangles = np.concatenate(
        [
            np.asarray(mesh.triangles, dtype=np.int64).reshape(-1, 3) + start
            for mesh, start in zip(meshes, starts, strict=False)
        ]
    )
    owner = np.repeat(np.arange(len(meshes)), np.diff(starts))
    part = np.repeat(np.arange(len(meshes)), [len(mesh.triangles) for mesh in meshes])
    grid = np.round(points, _PLACES)
    order = np.lexsort((grid[:, 2], grid[:, 1], grid[:, 0], owner))
    sorted_grid, sorted_owner = grid[order], owner[order]
    is_new = np.ones(len(order), dtype=bool)
    is_new[1:] = (sorted_grid[1:] != sorted_grid[:-1]).any(axis=1) | (sorted_owner[1:] != sorted_owner[:-1])
    first = order[is_new]
    one = np.empty(len(order), dtype=np.int64)
    one[order] = first[np.cumsum(is_new) - 1]
    triangles = one[triangles]
    a, b, c = triangles.T
    whole = (a != b) & (b != c) & (c != a)
    return points, triangles[whole], part[whole]


def _neighbours(triangles: np.ndarray, count: int) -> np.ndarray:
    """(n, 3): the triangle beside each side (corner i to i + 1); -1 where there is not just one."""
    starts, ends = triangles.ravel(), np.roll(triangles, -1, axis=1).ravel()
    keys = np.minimum(starts, ends) * count + np.maximum(starts, ends)
    order = np.argsort(keys, kind="stable")
    keys = keys[order]
    beside = np.full(len(keys), -1, dtype=np.int64)
    if len(keys) < 2:
        return beside.reshape(-1, 3)
    same = keys[1:] == keys[:-1]
    alone = same.copy()
    alone[1:] &= ~same[:-1]
    alone[:-1] &= ~same[1:]
    first, second = order[:-1][alone], order[1:][alone]
    beside[first], beside[second] = second // 3, first // 3
    return beside.reshape(-1, 3)


def _normals(corners: np.ndarray, triangles: np.ndarray, beside: np.ndarray) -> np.ndarray:
    """Unit normals; a sliver has that of the face beside its longest side."""
    sides = np.roll(corners, -1, axis=1) - corners
    lengths = np.sqrt((sides * sides)[..., 0] + (sides * sides)[..., 1] + (sides * sides)[..., 2])
    product = crossed(sides[:, 0], sides[:, 1])
    double = np.sqrt(product[:, 0] ** 2 + product[:, 1] ** 2 + product[:, 2] ** 2)
    longest = np.argmax(np.round(lengths, _PLACES), axis=1)
    rows = np.arange(len(triangles))
    thin = double < _SLIVER_MM * lengths[rows, longest]
    normals = product / np.maximum(double, 1e-12)[:, None]
    other = beside[rows, longest]
    left = thin & (other >= 0)
    for _ in range(4):
        normals[left] = normals[other[left]]
    return np.round(normals, 6) + 0.0


def _edges(places: np.ndarray, triangles: np.ndarray, beside: np.ndarray, faces: Faces) -> Edges:
    here, side = np.nonzero(beside < np.arange(len(triangles))[:, None])  # each pair once, and lone sides
    other = beside[here, side]
    start, end = triangles[here, side], triangles[here, (side + 1) % 3]
    alone = other < 0
    mate = np.where(alone, here, other)
    turn = dotted_rows(faces.normals[here], faces.normals[mate])
    bent = alone | (turn < _cosine(CREASE_DEG))
    weak = ~bent & (turn < _cosine(_GOES_ON_DEG))
    bent |= _going_on(places, start, end, bent, weak)
    seen, seen_beside = faces.front[here], faces.front[mate]
    ending = (seen != seen_beside) | (alone & seen)
    # where a part ends at an inward corner, the part itself lies in front
    opposite = places[triangles].sum(axis=1)[mate] / 3 - places[start]
    inward = dotted_rows(faces.normals[here], opposite) > _SLIVER_MM
    kept = (ending & ~(inward & ~alone)) | (bent & seen & seen_beside)
    ends = np.stack([places[start], places[end]], axis=1)
    flat = ends[:, 1, :2] - ends[:, 0, :2]
    kept &= np.abs(flat).max(axis=1, initial=0.0) > _POINT_MM
    return Edges(
        ends=ends[kept],
        part=faces.part[here][kept],
        ending=ending[kept],
        faces=np.stack([here, mate], axis=1)[kept],
    )


def _cosine(deg: float) -> float:
    return round(math.cos(math.radians(deg)), 6)


def _going_on(
    places: np.ndarray, start: np.ndarray, end: np.ndarray, bent: np.ndarray, weak: np.ndarray
) -> np.ndarray:
    """Which weak edges continue a bent one straight on, at once or over other weak ones."""
    along = places[end] - places[start]
    length = np.sqrt(dotted_rows(along, along))
    along = np.round(along / np.maximum(length, 1e-9)[:, None], 6)
    taken = bent.copy()
    at: dict[int, list[int]] = {}
    for edge in np.nonzero(weak)[0].tolist():
        for point in (int(start[edge]), int(end[edge])):
            at.setdefault(point, []).append(edge)
    touching = np.isin(start, list(at)) | np.isin(end, list(at))
    open_edges = np.nonzero(bent & touching)[0].tolist()
    while open_edges:
        edge = open_edges.pop()
        for point in (int(start[edge]), int(end[edge])):
            for other in at.get(point, ()):
                turn = sum(a * b for a, b in zip(along[edge].tolist(), along[other].tolist(), strict=True))
                if not taken[other] and abs(turn) > _cosine(_STRAIGHT_DEG):
                    taken[other] = True
                    open_edges.append(other)
    return taken & weak


def dotted_rows(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Dot products of vectors (n, 3), row by row."""
    return a[:, 0] * b[:, 0] + a[:, 1] * b[:, 1] + a[:, 2] * b[:, 2]
