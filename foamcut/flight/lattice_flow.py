"""The air that horseshoe vortices of unit strength drive through the points of a lattice.  1/m."""

import numpy as np

from foamcut.flight.lattice_grid import Lattice

#: keeps a point on a vortex finite; far below any length of a model
_TINY_M2 = 1e-18
_MIRROR = np.array([1.0, -1.0, 1.0])


def flow_through(grid: Lattice) -> np.ndarray:
    """(p, p): speed along the normal of point i by vortex j and its mirror image beyond the centre plane.

    Law of Biot and Savart for straight vortices (Katz and Plotkin, Low-Speed Aerodynamics; from memory): one
    along the quarter of the panel, from both its ends a leg straight aft without end.  A mirror image at a
    point does what the vortex does at the mirrored point.
    """
    here = _half(grid, grid.points, grid.normals)
    return (here + _half(grid, grid.points * _MIRROR, grid.normals * _MIRROR)) / (4 * np.pi)


def _half(grid: Lattice, points: np.ndarray, normals: np.ndarray) -> np.ndarray:
    legs = _legs(points, normals, grid.nodes)
    bound = _bound(points, normals, grid.nodes[grid.inner], grid.nodes[grid.outer])
    return bound + legs[:, grid.inner] - legs[:, grid.outer]


def _legs(points: np.ndarray, normals: np.ndarray, nodes: np.ndarray) -> np.ndarray:
    """By a leg that comes from far aft and ends at each node."""
    x, y, z = (points[:, None, i] - nodes[None, :, i] for i in range(3))
    aside2 = y * y + z * z
    far = np.sqrt(x * x + aside2 + _TINY_M2)
    turn = (normals[:, None, 1] * z - normals[:, None, 2] * y) / (aside2 + _TINY_M2)
    return turn * (1 + x / far)


def _bound(points: np.ndarray, normals: np.ndarray, first: np.ndarray, last: np.ndarray) -> np.ndarray:
    """By a straight vortex from one node to the next."""
    ax, ay, az = (points[:, None, i] - first[None, :, i] for i in range(3))
    bx, by, bz = (points[:, None, i] - last[None, :, i] for i in range(3))
    a = np.sqrt(ax * ax + ay * ay + az * az + _TINY_M2)
    b = np.sqrt(bx * bx + by * by + bz * bz + _TINY_M2)
    through = normals[:, None, 1] * (az * bx - ax * bz) + normals[:, None, 2] * (ax * by - ay * bx)
    return through * (a + b) / (a * b * (a * b + ax * bx + ay * by + az * bz) + _TINY_M2 * _TINY_M2)
