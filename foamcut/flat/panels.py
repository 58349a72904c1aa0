"""The folded shape of a flat part: its panels and where each comes to lie.

Space in mm: flat, the part lies in the plane z = 0 with its drawn face up (towards +z) and the board
behind it, down to z = -thickness.  The whole paper of a fold keeps its length and is what turns.
"""

import math
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import shapely
from shapely import LineString, Polygon, STRtree
from shapely.geometry.base import BaseGeometry
from shapely.ops import polygonize

from foamcut.flat.clipping import run_points
from foamcut.flat.drawn import FoldKind, Side
from foamcut.flat.folds import Fold
from foamcut.flat.frame import Frame
from foamcut.flat.outline import Outline, Point
from foamcut.flat.part import Part
from foamcut.flat.tolerances import DUST_MM, ON_EDGE_MM, PLACES, SAME_POINT_MM

Vector = tuple[float, float, float]


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
        matrix = np.eye(4)
        matrix[:3, 0], matrix[:3, 1], matrix[:3, 2] = self.x, self.y, np.cross(self.x, self.y)
        matrix[:3, 3] = self.at
        return matrix

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
    of the rolled fold whose band it is a facet of, None for a panel proper.
    """

    outline: Outline
    pose: Pose
    folds: tuple[int, ...] = ()
    turned_by: int | None = None
    of_roll: int | None = None


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

    Method: turns about the whole paper of each fold, one after another from the first panel on; a roll of
    outer radius R lays the paper along an arc of that radius, its facets touching the arc at their middles.
    """
    lines = [line for i, fold in enumerate(part.folds) for line in _lines(i, fold)]
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
            other, step = (hinge.left, line.turn) if forwards else (hinge.right, _undone(line.turn))
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
            of_roll=_roll_of(i, hanging[i], lines),
        )
        for i in order
    )
    return Folded(part=part, panels=tuple(panels), open_mm=round(open_mm, PLACES))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """A line at which the whole paper turns: its fold and the turn of what lies to its left.

    `turn` moves what lies to the left, in flat coordinates, as seen from what lies to the right.
    `last`: beyond it lies a panel proper, not another facet of a roll; `first`: before it.
    """

    fold: int
    shape: LineString
    left: Point  # unit vector
    turn: np.ndarray = field(compare=False)
    first: bool = True
    last: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hinge:
    """Two faces, by index, to the right and to the left of a line, by index."""

    right: int
    left: int
    line: int


def _lines(index: int, fold: Fold) -> Iterator[_Line]:
    frame = Frame(fold.start, fold.end)
    dx, dy = frame.along
    left = -dy, dx
    if fold.kind is not FoldKind.ROLL:
        turn = _turned(fold, frame, fold.axis_mm, 0.0, math.radians(fold.turn_deg))
        for run in fold.fold:
            yield _Line(fold=index, shape=_long(run_points(run)), left=left, turn=turn)
        return
    # a line of the roll that lies on the part's edge is cut already and has no run
    places = sorted({0.0, fold.band_mm[1], *(_s_of(run_points(run)[0], frame) for run in fold.half)})
    places = [places[0], *(b for a, b in pairwise(places) if b - a > SAME_POINT_MM)]
    bends = _facet_turns(fold, frame, places)
    for run in fold.half:
        at = min(range(len(places)), key=lambda i: abs(places[i] - _s_of(run_points(run)[0], frame)))
        yield _Line(
            fold=index, shape=_long(run_points(run)), left=left,
            turn=_undone(bends[at]) @ bends[at + 1], first=at == 0, last=at == len(places) - 1,
        )  # fmt: skip


def _facet_turns(fold: Fold, frame: Frame, places: Sequence[float]) -> list[np.ndarray]:
    """How the panel before a roll, each facet, and the panel beyond it lie, seen from the panel before."""
    radius = fold.radius_mm or 0.0
    radius = radius if fold.rises else -radius
    middles = [(a + b) / 2 for a, b in pairwise(places)]
    length = fold.band_mm[1]
    total = math.radians(fold.turn_deg)
    arcs = [*middles, length]
    return [np.eye(4), *(_turned(fold, frame, arc, radius, total * arc / length) for arc in arcs)]


def _turned(fold: Fold, frame: Frame, s_mm: float, radius_mm: float, angle_rad: float) -> np.ndarray:
    """A turn about a line parallel to the fold over the whole paper at s, `radius_mm` above it.

    With a radius, what lies at s was first moved to s = 0, over which the axis then lies: it rolls along.
    """
    dx, dy = frame.along
    paper = -fold.thickness_mm if fold.side is Side.UP else 0.0
    shift = np.eye(4)
    axis_s = s_mm
    if radius_mm:
        shift[:2, 3] = s_mm * dy, -s_mm * dx
        axis_s = 0.0
    x, y = frame.at(0.0, axis_s)
    to_axis, back = np.eye(4), np.eye(4)
    to_axis[:3, 3] = -x, -y, -(paper + radius_mm)
    back[:3, 3] = x, y, paper + radius_mm
    turn = np.eye(4)
    turn[:3, :3] = _about((dx, dy, 0.0), angle_rad if fold.rises else -angle_rad)
    return back @ turn @ to_axis @ shift


def _about(axis: Vector, angle_rad: float) -> np.ndarray:
    """The (3, 3) turn about a unit vector, by the right hand (Rodrigues' formula)."""
    x, y, z = axis
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.eye(3) + math.sin(angle_rad) * cross + (1 - math.cos(angle_rad)) * (cross @ cross)


def _s_of(point: Point, frame: Frame) -> float:
    dx, dy = frame.along
    return dx * (point[1] - frame.start[1]) - dy * (point[0] - frame.start[0])


def _long(points: Sequence[Point]) -> LineString:
    """A straight run a hair longer at both ends, so that it reaches the edges that it was rounded off."""
    (x0, y0), (x1, y1) = points[0], points[-1]
    length = math.dist(points[0], points[-1])
    hx, hy = (x1 - x0) / length * SAME_POINT_MM / 10, (y1 - y0) / length * SAME_POINT_MM / 10
    return LineString([(x0 - hx, y0 - hy), (x1 + hx, y1 + hy)])


def _faces(polygon: Polygon, lines: Sequence[_Line]) -> list[Polygon]:
    """What the lines part a polygon into, by their lowest x, then lowest y."""
    if not lines:
        return [polygon]
    noded = shapely.union_all([polygon.boundary, *(line.shape for line in lines)])
    faces = [
        face
        for face in polygonize(noded)
        if face.area > face.length * DUST_MM and polygon.covers(face.representative_point())
    ]
    return sorted(faces, key=lambda face: (face.bounds, face.area))


def _hinges(faces: Sequence[Polygon], lines: Sequence[_Line]) -> Iterator[_Hinge]:
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


def _first(faces: Sequence[Polygon], hanging: Sequence[Sequence[_Hinge]], lines: Sequence[_Line]) -> int:
    """The face that keeps its place (see `Folded`), the same one on the mirror-image part."""

    def rank(i: int) -> tuple[float, bool, int, int, float, int]:
        off_origin = round(faces[i].distance(shapely.Point(0, 0)), PLACES)
        facet = _roll_of(i, hanging[i], lines) is not None
        turned = sum(hinge.left == i for hinge in hanging[i])
        return off_origin, facet, -len(hanging[i]), turned, -round(faces[i].area, PLACES - 3), i

    return min(range(len(faces)), key=rank)


def _roll_of(face: int, hanging: Sequence[_Hinge], lines: Sequence[_Line]) -> int | None:
    """The roll whose facet a face is: it lies between two lines of one roll."""
    for hinge in hanging:
        line = lines[hinge.line]
        if (hinge.left == face and not line.last) or (hinge.right == face and not line.first):
            return line.fold
    return None


def _largest_tear(faces: Sequence[Polygon], hinges: Sequence[_Hinge], lines: Sequence[_Line]) -> float:
    """How far the board tears where a line has the same panel on both its sides, which goes round a hole."""
    used = {hinge.line for hinge in hinges}
    tears = [0.0]
    for n, line in enumerate(lines):
        if n not in used:
            middle = line.shape.interpolate(0.5, normalized=True)
            torn = [face for face in faces if face.distance(middle) <= SAME_POINT_MM]
            tears += [_largest_gap(face, line.turn, np.eye(4)) for face in torn]
    return max(tears)


def _undone(turn: np.ndarray) -> np.ndarray:
    """The move that takes a turn back: its rows and columns exchanged, which is exact."""
    back = np.eye(4)
    back[:3, :3] = turn[:3, :3].T
    back[:3, 3] = -(turn[:3, :3].T @ turn[:3, 3])
    return back


def _largest_gap(face: Polygon, a: np.ndarray, b: np.ndarray) -> float:
    """The largest distance between a face's corners in two poses."""
    flat = shapely.get_coordinates(face)
    corners = np.column_stack([flat, np.zeros(len(flat)), np.ones(len(flat))])
    return float(np.linalg.norm((corners @ (a - b).T)[:, :3], axis=1).max())
