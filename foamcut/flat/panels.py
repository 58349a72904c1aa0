"""The folded shape of a flat part: its panels and where each comes to lie.

Space in mm: flat, the part lies in the plane z = 0 with its drawn face up (towards +z) and the board
behind it, down to z = -thickness.  The whole paper of a fold keeps its length and is what turns.
"""

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon, STRtree
from shapely.geometry.base import BaseGeometry
from shapely.ops import polygonize

from foamcut.flat.drawn import FoldKind
from foamcut.flat.fold_turns import TurnLine, Vector, turn_lines, undone
from foamcut.flat.folds import Fold
from foamcut.flat.outline import Outline
from foamcut.flat.part import Part
from foamcut.flat.tolerances import DUST_MM, ON_EDGE_MM, PLACES, SAME_POINT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """Where a part's (0, 0) lies in space and where its x and y run, unit vectors.

    x cross y points out of the drawn face.
    """

    at: Vector = (0.0, 0.0, 0.0)
    x: Vector = (1.0, 0.0, 0.0)
    y: Vector = (0.0, 1.0, 0.0)

    @property
    def matrix(self) -> np.ndarray:
        """The pose as a (4, 4) matrix that moves points of the flat part."""
        (a, b, c), (d, e, f), (x, y, z) = self.x, self.y, self.at
        return np.array(
            [
                [a, d, b * f - c * e, x],
                [b, e, c * d - a * f, y],
                [c, f, a * e - b * d, z],
                [0.0, 0.0, 0.0, 1.0],
            ]
        )

    @classmethod
    def of(cls, matrix: np.ndarray) -> "Pose":
        """The pose that moves points as a (4, 4) matrix does, which turns and moves only."""
        at, x, y = (tuple(float(v) for v in matrix[:3, i]) for i in (3, 0, 1))
        return cls(at=at, x=x, y=y)  # type: ignore[arg-type]

    def point(self, x_mm: float, y_mm: float, z_mm: float = 0.0) -> Vector:
        """Where a point of the flat part comes to lie; `z_mm` is its height over the drawn face."""
        x, y, z = (self.matrix @ (x_mm, y_mm, z_mm, 1.0))[:3].tolist()
        return x, y, z


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A flat panel between folds: its outline in the part's coordinates, and its pose once folded.

    The outline is that of its whole paper.  `folds` are the indexes (into the part's folds) of those that
    bound it, `turned_by` that of the one through which it hangs on the first panel; `of_roll` is the index
    of the rolled fold whose band it is a facet of, `of_strip` that of the strip whose bare paper it is;
    both None for a panel proper.
    """

    outline: Outline
    pose: Pose
    folds: tuple[int, ...] = ()
    turned_by: int | None = None
    of_roll: int | None = None
    of_strip: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """The panels of a part, folded; the first holds the part's (0, 0), or is nearest, and keeps its place.

    Where (0, 0) lies on a fold, that one of its panels stays from which most folds go; then the one to the
    right of more of them, then the larger one.
    `open_mm`: where folds close a ring round a hole, how far the last panel is off; 0 when it closes.
    """

    part: Part
    panels: tuple[Panel, ...]
    open_mm: float = 0.0


def fold_up(part: Part) -> Folded:
    """The part folded by all its folds; a part without folds is one panel in its place.

    Method: the turns of `foamcut.flat.fold_turns`, one after another from the first panel on.
    """
    lines = [line for i, fold in enumerate(part.folds) for line in turn_lines(i, fold)]
    faces = _faces(part.outline.polygon, lines)
    hinges = list(_hinges(faces, lines))
    hanging: list[list[_Hinge]] = [[] for _ in faces]
    for hinge in hinges:
        hanging[hinge.right].append(hinge)
        hanging[hinge.left].append(hinge)
    first = _first(faces, hanging, lines)
    matrices: dict[int, np.ndarray] = {first: np.eye(4)}
    turned_by: dict[int, int | None] = {first: None}
    open_mm = _largest_tear(faces, hinges, lines)
    waiting = deque([first])
    while waiting:
        at = waiting.popleft()
        for hinge in hanging[at]:
            line = lines[hinge.line]
            forwards = at == hinge.right
            other, step = (hinge.left, line.turn) if forwards else (hinge.right, undone(line.turn))
            matrix = matrices[at] @ step
            if other in matrices:
                open_mm = max(open_mm, _largest_gap(faces[other], matrix, matrices[other]))
                continue
            matrices[other], turned_by[other] = matrix, line.fold
            waiting.append(other)
    order = [first, *(i for i in matrices if i != first)]
    panels = (
        Panel(
            outline=Outline(faces[i], part.outline.circles),
            pose=Pose.of(matrices[i]),
            folds=tuple(sorted({lines[h.line].fold for h in hanging[i]})),
            turned_by=turned_by[i],
            of_roll=_band_of(i, hanging[i], lines, part.folds, FoldKind.ROLL),
            of_strip=_band_of(i, hanging[i], lines, part.folds, FoldKind.STRIP),
        )
        for i in order
    )
    return Folded(part=part, panels=tuple(panels), open_mm=round(open_mm, PLACES))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hinge:
    """Two faces, by index, to the right and to the left of a line, by index."""

    right: int
    left: int
    line: int


def _faces(polygon: Polygon, lines: Sequence[TurnLine]) -> list[Polygon]:
    """What the lines part a polygon into, by their lowest x, then lowest y."""
    if not lines:
        return [polygon]
    edge = polygon.boundary
    # a line that ends a rounding short of the outline would not part it
    ends = [shapely.snap(line.shape, edge, SAME_POINT_MM) for line in lines]
    noded = shapely.union_all([edge, *ends])
    faces = [
        face
        for face in polygonize(noded)
        if face.area > face.length * DUST_MM and polygon.covers(face.representative_point())
    ]
    return sorted(faces, key=lambda face: (face.bounds, face.area))


def _hinges(faces: Sequence[Polygon], lines: Sequence[TurnLine]) -> Iterator[_Hinge]:
    """Each stretch along which a line parts two faces."""
    if len(faces) < 2:
        return
    pairs = STRtree(faces).query(faces, predicate="intersects").T.tolist()
    tree = STRtree([line.shape for line in lines])
    for i, j in sorted((i, j) for i, j in pairs if i < j):
        for middle in _middles(faces[i].boundary.intersection(faces[j].boundary)):
            near = tree.query(middle, predicate="dwithin", distance=SAME_POINT_MM).tolist()
            if not near:
                continue
            n = min(near, key=lambda k: (lines[k].shape.distance(middle), k))
            lx, ly = lines[n].left
            beyond = shapely.Point(middle.x + ON_EDGE_MM * lx, middle.y + ON_EDGE_MM * ly)
            left, right = (i, j) if faces[i].distance(beyond) <= faces[j].distance(beyond) else (j, i)
            yield _Hinge(right=right, left=left, line=n)


def _middles(shared: BaseGeometry) -> Iterator[shapely.Point]:
    """The middle of each stretch; points alone have none."""
    for part in shapely.get_parts(shapely.line_merge(shared)):
        if isinstance(part, LineString) and part.length > SAME_POINT_MM:
            yield part.interpolate(0.5, normalized=True)


def _first(faces: Sequence[Polygon], hanging: Sequence[Sequence[_Hinge]], lines: Sequence[TurnLine]) -> int:
    """The face that keeps its place (see `Folded`), the same one on the mirror-image part."""

    def rank(i: int) -> tuple[float, bool, int, int, float, int]:
        off_origin = round(faces[i].distance(shapely.Point(0, 0)), PLACES)
        facet = _inside(i, hanging[i], lines) is not None
        turned = sum(hinge.left == i for hinge in hanging[i])
        return off_origin, facet, -len(hanging[i]), turned, -round(faces[i].area, PLACES - 3), i

    return min(range(len(faces)), key=rank)


def _band_of(
    face: int, hanging: Sequence[_Hinge], lines: Sequence[TurnLine], folds: Sequence[Fold], kind: FoldKind
) -> int | None:
    """The fold of a kind in whose band a face lies."""
    fold = _inside(face, hanging, lines)
    return fold if fold is not None and folds[fold].kind is kind else None


def _inside(face: int, hanging: Sequence[_Hinge], lines: Sequence[TurnLine]) -> int | None:
    """The fold in whose band a face lies, between two lines of one fold."""
    for hinge in hanging:
        line = lines[hinge.line]
        if (hinge.left == face and not line.last) or (hinge.right == face and not line.first):
            return line.fold
    return None


def _largest_tear(faces: Sequence[Polygon], hinges: Sequence[_Hinge], lines: Sequence[TurnLine]) -> float:
    """How far the board tears where a line has the same panel on both its sides, which goes round a hole."""
    used = {hinge.line for hinge in hinges}
    tears = [0.0]
    for n, line in enumerate(lines):
        if n not in used:
            middle = line.shape.interpolate(0.5, normalized=True)
            torn = [face for face in faces if face.distance(middle) <= SAME_POINT_MM]
            tears += [_largest_gap(face, line.turn, np.eye(4)) for face in torn]
    return max(tears)


def _largest_gap(face: Polygon, a: np.ndarray, b: np.ndarray) -> float:
    """The largest distance between a face's corners in two poses."""
    flat = shapely.get_coordinates(face)
    corners = np.column_stack([flat, np.zeros(len(flat)), np.ones(len(flat))])
    return float(np.linalg.norm((corners @ (a - b).T)[:, :3], axis=1).max())
