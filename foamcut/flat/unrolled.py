"""Where places of a flat part come to lie on a board that is bent without folds: its grid, unrolled.

mm; model axes.  A facet is what lies between two rows of a grid.  One that lies in a folded panel's plane
lies where that panel does; from there on each next facet is laid flat beside the one before, along the
middle of the board, which keeps its length in an unscored bend (common practice, no source).
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely import Polygon

from foamcut.flat.outline import Outline
from foamcut.flat.panels import Panel, Pose
from foamcut.flat.tolerances import SAME_POINT_MM
from foamcut.flat.vectors import cross

#: a facet that leans less from a panel's plane, in the sine, and is no farther off lies in it: a band that is
#: wider than its nose, and the rounding of turns, put it off
_LEANS, _OFF_MM = math.sin(math.radians(1.0)), 3.0
#: and no farther outside the panel's outline
_BESIDE_MM = 2.0
#: neighbours that lean more to each other have a fold between them
_BENDS = math.cos(math.radians(30.0))


def bent_facets(panels: Sequence[Panel], middle: np.ndarray, thickness_mm: float) -> tuple[Panel, ...]:
    """The facets of a grid (n, m, 3), half way through its board, that lie in no panel, as flat panels."""
    corners = [
        np.array([middle[i, 0], middle[i, -1], middle[i + 1, -1], middle[i + 1, 0]])
        for i in range(len(middle) - 1)
    ]
    poses = [_anchored(corner, panels, thickness_mm) for corner in corners]
    if all(pose is not None for pose in poses):
        return ()
    bent: dict[int, np.ndarray] = {}
    for order, shared in ((range(1, len(corners)), (0, 1)), (range(len(corners) - 2, -1, -1), (3, 2))):
        before = -1 if shared == (0, 1) else 1
        for i in order:
            last = poses[i + before]
            if poses[i] is None and last is not None and _goes_on(corners[i], last):
                poses[i] = bent[i] = _beside(corners[i], shared, last, thickness_mm)
    return tuple(_panels(bent, corners))


def _goes_on(corner: np.ndarray, last: np.ndarray) -> bool:
    """Whether a facet has an extent, and goes on from one without a fold between."""
    wide = np.linalg.norm(corner[1] - corner[0]) > SAME_POINT_MM < np.linalg.norm(corner[2] - corner[3])
    return bool(wide) and abs(float(_normal(corner) @ last[:3, 2])) >= _BENDS


def _normal(corner: np.ndarray) -> np.ndarray:
    """The unit normal of a facet, to one of its sides; zero where it has no extent."""
    across: np.ndarray = cross(corner[2] - corner[0], corner[3] - corner[1])
    return across / max(float(np.linalg.norm(across)), SAME_POINT_MM)


def _anchored(corner: np.ndarray, panels: Sequence[Panel], thickness_mm: float) -> np.ndarray | None:
    """The pose of the panel in which a facet lies."""
    for panel in panels:
        local = _flat(panel.pose.matrix, corner)
        leans = float(np.linalg.norm(cross(_normal(corner), panel.pose.matrix[:3, 2])))
        if leans <= _LEANS and np.abs(local[:, 2] + thickness_mm / 2).max() <= _OFF_MM:
            x, y, _ = local.mean(axis=0).tolist()
            if panel.outline.polygon.distance(shapely.Point(x, y)) <= _BESIDE_MM:
                return panel.pose.matrix
    return None


def _flat(matrix: np.ndarray, points: np.ndarray) -> np.ndarray:
    local: np.ndarray = (points - matrix[:3, 3]) @ matrix[:3, :3]
    return local


def _beside(corner: np.ndarray, shared: tuple[int, int], last: np.ndarray, thickness_mm: float) -> np.ndarray:
    """The pose of a facet that shares a row, its corners by index, with one whose pose is known."""
    a, b = corner[list(shared)]
    flat_a, flat_b = _flat(last, np.array([a, b]))[:, :2]
    along = (b - a) / np.linalg.norm(b - a)
    across = _normal(corner)
    normal = across - (across @ along) * along
    normal *= np.sign(normal @ last[:3, 2]) / np.linalg.norm(normal)
    beside = cross(normal, along)
    dx, dy = (flat_b - flat_a) / np.linalg.norm(flat_b - flat_a)
    x, y = dx * along - dy * beside, dy * along + dx * beside
    matrix = np.eye(4)
    matrix[:3, 0], matrix[:3, 1], matrix[:3, 2] = x, y, normal
    matrix[:3, 3] = a + normal * thickness_mm / 2 - flat_a[0] * x - flat_a[1] * y
    return matrix


def _panels(bent: dict[int, np.ndarray], corners: Sequence[np.ndarray]) -> Iterator[Panel]:
    for i, matrix in sorted(bent.items()):
        outline = Polygon(_flat(matrix, corners[i])[:, :2])
        if outline.is_valid and outline.area > SAME_POINT_MM:
            yield Panel(outline=Outline(outline), pose=Pose.of(matrix))
