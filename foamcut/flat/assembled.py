"""Parts where they stand on the model: their boards with true thickness, bent ones as a grid of points.

mm; model axes: x aft, y right, z up.  Bodies are those of manifold3d, as in `foamcut.flat.solids`.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely
from shapely import Polygon

from foamcut.flat.drawn import Face, Hand, Place
from foamcut.flat.folded_body import Body
from foamcut.flat.outline import Outline
from foamcut.flat.panels import Panel, Pose, fold_up
from foamcut.flat.part import Part
from foamcut.flat.tolerances import PLACES, SAME_POINT_MM
from foamcut.flat.unrolled import bent_facets

if TYPE_CHECKING:
    from manifold3d import Manifold

#: how far past both faces of a bent board the tool reaches that cuts its openings: the flat panels between
#: its folds lie so close to it
_PAST_MM = 3.0


class Grid(NamedTuple):
    """The two papers of a bent board, (n, m, 3) points each; the same indexes lie through the board."""

    outer: np.ndarray
    inner: np.ndarray

    def mirrored(self) -> "Grid":
        """The same of the other hand: y -> -y."""
        other = np.array([1.0, -1.0, 1.0])
        return Grid(self.outer * other, self.inner * other)


@dataclass(frozen=True, kw_only=True, eq=False)
class BentBody(Body):
    """A bent board; `panel` is the one that keeps its place, `openings` stand through it where it is cut."""

    grid: Grid
    openings: tuple["Manifold", ...] = ()

    @cached_property
    def solid(self) -> "Manifold":
        """Its board; empty where the grid bounds none."""
        body = _grid_solid(self.grid)
        for opening in self.openings:
            body = body - opening
        return body

    @cached_property
    def box(self) -> np.ndarray:
        """The lowest and the highest corner of what holds its board."""
        points = np.concatenate([paper.reshape(-1, 3) for paper in self.grid])
        return np.array([points.min(axis=0), points.max(axis=0)])


@dataclass(frozen=True, kw_only=True, eq=False)
class Standing:
    """A part in its place: `boards` are its flat panels; a bent part has its own body besides."""

    part: Part
    boards: tuple[Body, ...]
    bent: BentBody | None = None
    facets: tuple[Body, ...] = ()  # of what is bent without folds

    @property
    def pair_name(self) -> str:
        """What both hands of it are called."""
        return self.part.name.removesuffix(f"-{self.part.hand.value}")

    @property
    def bodies(self) -> tuple[Body, ...]:
        """What it fills."""
        return (self.bent,) if self.bent else self.boards

    @cached_property
    def box(self) -> np.ndarray:
        """The lowest and the highest corner of what holds it."""
        boxes = np.array([body.box for body in self.bodies])
        return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])

    def board_of(self, x_mm: float, y_mm: float) -> Body:
        """The panel that holds a place of the flat part, its openings counted as board."""
        at = shapely.Point(x_mm, y_mm)
        for facet in self.facets:
            if facet.panel.outline.polygon.intersects(at):
                return facet
        return min(self.boards, key=lambda board: Polygon(board.panel.outline.rings()[0]).distance(at))

    @cached_property
    def triangles(self) -> tuple[np.ndarray, np.ndarray]:
        """Its surface: vertices (n, 3) and triangles (m, 3), seen counter-clockwise from outside."""
        bodies = [body.solid for body in self.bodies]
        whole = bodies[0] if len(bodies) == 1 else _together(bodies)
        if whole.is_empty() and self.bent:
            return _welded(self.bent.grid)
        return _mesh(whole)


def standing(part: Part, grid: Grid | None = None) -> Standing:
    """A part in its place; `grid` is its shape where it bends, of its own hand.

    Raises
    ------
    ValueError
        The part has no place.
    """
    if part.place is None:
        raise ValueError(f"part {part.name!r} has no place")
    if grid is not None and _is_strip(grid, part.place):
        panels = list(_facets(part, grid))
    else:
        panels = _folded(part, grid)
    one = Standing(part=part, boards=tuple(Body(part=part, panel=panel) for panel in panels))
    if grid is None:
        return one
    facets = bent_facets(panels, (grid.outer + grid.inner) / 2, part.thickness_mm)
    one = replace(one, facets=tuple(Body(part=part, panel=panel) for panel in facets))
    openings = tuple(_opening_tools(one))
    return replace(one, bent=BentBody(part=part, panel=panels[0], grid=grid, openings=openings))


def _folded(part: Part, grid: Grid | None) -> list[Panel]:
    """The panels of a part, folded, in space.

    The place is that of the panel that keeps it.  Of a bent part the place may be that of another panel: of
    the one with which the panels come to lie nearest to its grid.
    """
    assert part.place is not None
    onto, panels = place_matrix(part.place), fold_up(part).panels
    kept = panels[0]
    if grid is not None and len(panels) > 1:
        rows = _row_segments(grid)
        kept = min(panels, key=lambda panel: _off_rows(_moved(panels, onto, panel), rows))
    return _moved(panels, onto, kept)


def _moved(panels: Sequence[Panel], onto: np.ndarray, kept: Panel) -> list[Panel]:
    """Panels where they lie when a place is that of one of them."""
    onto = onto @ np.linalg.inv(kept.pose.matrix)
    return [replace(panel, pose=Pose.of(onto @ panel.pose.matrix)) for panel in panels]


def _row_segments(grid: Grid) -> tuple[np.ndarray, np.ndarray]:
    """Starts and ends (n, 3) of the stretches of a grid's rows, on both papers."""
    return (
        np.concatenate([paper[:, :-1].reshape(-1, 3) for paper in grid]),
        np.concatenate([paper[:, 1:].reshape(-1, 3) for paper in grid]),
    )


def _off_rows(panels: Sequence[Panel], rows: tuple[np.ndarray, np.ndarray]) -> float:
    """How far the corners of panels, on their drawn faces, lie from the rows of a grid, as a mean."""
    corners = np.array([panel.pose.point(*at) for panel in panels for at in panel.outline.rings()[0][:-1]])
    start, way = rows[0][None], (rows[1] - rows[0])[None]
    share = ((corners[:, None] - start) * way).sum(axis=2) / np.maximum((way**2).sum(axis=2), SAME_POINT_MM)
    nearest = start + np.clip(share, 0.0, 1.0)[..., None] * way
    return round(float(np.linalg.norm(corners[:, None] - nearest, axis=2).min(axis=1).mean()), PLACES)


def _is_strip(grid: Grid, place: Place) -> bool:
    """Whether a grid is a strip that bends along the x of its part: rows of two points, each along its y."""
    if grid.outer.shape[1] != 2:
        return False
    rows = grid.outer[:, 1] - grid.outer[:, 0]
    off = np.linalg.norm(np.cross(rows, np.array(place.y)), axis=1)
    return bool((off <= SAME_POINT_MM * np.linalg.norm(rows, axis=1)).all())


def _facets(part: Part, grid: Grid) -> Iterator[Panel]:
    """Flat panels between the rows of a strip of board, two points each, that bends along its x.

    What lies between two rows is as long on the flat part as on the model: along the middle of the board, or
    where there are folds along the outer paper.  The row at which x begins is the one nearest to the place.
    """
    assert part.place is not None
    outer, inner = (paper.mean(axis=1) for paper in grid)
    line = outer if part.folds else (outer + inner) / 2
    steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    drawn = inner if part.face is Face.INNER else outer
    first = int(np.argmin(np.round(np.linalg.norm(drawn - np.array(part.place.at), axis=1), PLACES)))
    along -= along[first]
    across = np.array(part.place.y)
    for i, step in enumerate(steps.tolist()):
        low, high = along[i], along[i + 1]
        x0, y0, x1, y1 = part.outline.bounds
        ends = (x0 if i == 0 else low, x1 if i == len(steps) - 1 else high)
        piece = part.outline.polygon.intersection(shapely.box(ends[0], y0, ends[1], y1))
        if step < SAME_POINT_MM or not isinstance(piece, Polygon) or piece.is_empty:
            continue
        way = (line[i + 1] - line[i]) / step
        out = np.cross(way, across)
        middle = line[i] if part.folds else (outer[i] + inner[i]) / 2
        deep = 0.5 if not part.folds else float(part.face is Face.INNER)
        at = middle + out * deep * part.thickness_mm - way * low
        matrix = np.eye(4)
        matrix[:3, 0], matrix[:3, 1], matrix[:3, 3] = way, across, at
        yield Panel(outline=Outline(piece, part.outline.circles), pose=Pose.of(matrix))


def place_matrix(place: Place) -> np.ndarray:
    """A place as a (4, 4) matrix that moves points of the flat part onto the model."""
    return Pose(at=place.at, x=place.x, y=place.y).matrix


def all_standing(parts: Iterable[Part], grids: dict[str, Grid]) -> tuple[Standing, ...]:
    """Every part that has a place; `grids` by what a part is called without its hand, of the right hand."""
    found = []
    for part in parts:
        if part.place is None:
            continue
        grid = grids.get(part.name.removesuffix(f"-{part.hand.value}"))
        if grid is not None and part.hand is Hand.LEFT:
            grid = grid.mirrored()
        found.append(standing(part, grid))
    return tuple(found)


def section_at(bodies: Sequence[Body], y_mm: float) -> Polygon:
    """What bodies show in the upright plane at a distance from the centre plane, as x and z; may be empty."""
    turned = np.array([[1.0, 0.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0], [0.0, -1.0, 0.0, 0.0]])  # (x, z, -y)
    found = []
    for body in bodies:
        if body.box[0, 1] < y_mm < body.box[1, 1]:
            rings = [Polygon(ring) for ring in body.solid.transform(turned).slice(-y_mm).to_polygons()]
            ccw = [ring for ring in rings if shapely.is_ccw(ring.exterior)]
            holes = [ring for ring in rings if not shapely.is_ccw(ring.exterior)]
            found.append(shapely.union_all(shapely.make_valid(ccw)) - shapely.union_all(holes))
    return shapely.union_all(found)


def _opening_tools(one: Standing) -> Iterator["Manifold"]:
    """Bodies that stand through the openings of a part, each square to the panel that its middle lies on."""
    from manifold3d import CrossSection, FillRule

    for ring in one.part.outline.rings()[1:]:
        middle = Polygon(ring).centroid
        tool = CrossSection([np.array(ring[:-1])], FillRule.EvenOdd).extrude(
            one.part.thickness_mm + 2 * _PAST_MM
        )
        tool = tool.translate((0.0, 0.0, -one.part.thickness_mm - _PAST_MM))
        yield tool.transform(one.board_of(middle.x, middle.y).matrix[:3, :])


def _together(bodies: Sequence["Manifold"]) -> "Manifold":
    from manifold3d import Manifold, OpType

    return Manifold.batch_boolean(list(bodies), OpType.Add)


def _mesh(body: "Manifold") -> tuple[np.ndarray, np.ndarray]:
    mesh = body.to_mesh64()
    vertices = np.round(np.asarray(mesh.vert_properties)[:, :3], PLACES) + 0.0
    return vertices, np.asarray(mesh.tri_verts).astype(np.int64)


def _grid_solid(grid: Grid) -> "Manifold":
    from manifold3d import Manifold, Mesh64

    vertices, triangles = _welded(grid)
    mesh = Mesh64(vert_properties=vertices, tri_verts=triangles.astype(np.uint64))
    return Manifold(mesh)


def _welded(grid: Grid) -> tuple[np.ndarray, np.ndarray]:
    """Both papers and the walls along their four sides; where the papers meet, at a feathered edge, one."""
    n, m = grid.outer.shape[:2]
    outer, inner = (np.round(paper.reshape(-1, 3), PLACES) + 0.0 for paper in grid)
    index = np.arange(n * m)
    meets = np.linalg.norm(outer - inner, axis=1) < SAME_POINT_MM
    behind = np.where(meets, index, index + n * m)
    cells = index.reshape(n, m)
    a, b, c, d = (part.ravel() for part in (cells[:-1, :-1], cells[1:, :-1], cells[1:, 1:], cells[:-1, 1:]))
    front = np.concatenate([np.column_stack([a, b, c]), np.column_stack([a, c, d])])
    back = behind[front[:, ::-1]]
    rim = np.concatenate([cells[:, 0], cells[-1, 1:], cells[-2::-1, -1], cells[0, -2:0:-1]])
    p, q = rim, np.roll(rim, -1)
    walls = np.concatenate([np.column_stack([q, p, behind[p]]), np.column_stack([q, behind[p], behind[q]])])
    triangles = np.concatenate([front, back, walls])
    i, j, k = triangles.T
    triangles = triangles[(i != j) & (j != k) & (k != i)]
    vertices = np.concatenate([outer, inner])
    used, again = np.unique(triangles, return_inverse=True)
    vertices, triangles = vertices[used], again.reshape(-1, 3)
    corner = vertices[triangles]
    volume = np.einsum("ij,ij->", corner[:, 0], np.cross(corner[:, 1], corner[:, 2]))
    return vertices, triangles if volume > 0 else triangles[:, ::-1]
