"""Views against the model's file, read by trimesh and drawn by other ways.

arithmetic: parallel projection and barycentric coordinates (plane geometry), numbers ours.  The file is the
glTF that the pack carries; its axes are those of glTF 2.0 (y up, front towards z, so that x is on the left), turned back here.
"""

import io
import math

import numpy as np
import pytest
import shapely
import trimesh

from foamcut.draw.views import ANGLED, FRONT, SIDE, TOP, Look, Stage
from foamcut.write import glb
from tests.draw.view_solids import meshes_of

SAMPLES = ("cordgrass-2", "thrift-1", "sea-blite-3")
#: of the grid of areas: about so many cells along the longer side
CELLS = 700


def read_back(name: str) -> list[tuple[str, np.ndarray]]:
    """Triangles (n, 3, 3) of each part as trimesh reads them from the file, in the model's axes, mm."""
    scene = trimesh.load(io.BytesIO(glb.render(meshes_of(name), version="1")), file_type="glb")
    whole = {mesh.name: mesh for mesh in meshes_of(name)}
    found = []
    for node in scene.graph.nodes_geometry:
        turn, key = scene.graph[node]
        triangles = trimesh.transform_points(scene.geometry[key].vertices, turn)[scene.geometry[key].faces]
        found.append((node, np.stack([-triangles[..., 2], -triangles[..., 0], triangles[..., 1]], -1) * 1000))
    assert {node for node, _ in found} == set(whole)
    for node, triangles in found:  # the axes are the model's
        for end in (np.min, np.max):
            assert end(triangles, axis=(0, 1)) == pytest.approx(end(whole[node].vertices, axis=0), abs=0.01)
    return found


def projected(triangles: np.ndarray, look: Look) -> np.ndarray:
    eye = np.cross(look.right, look.up)
    return np.stack([triangles @ np.array(axis) for axis in (look.right, look.up, eye)], axis=-1)


def shadow(flat: np.ndarray) -> shapely.Geometry:
    """The union of triangles on the picture."""
    return shapely.union_all(
        [shapely.Polygon(t) for t in flat[..., :2] if abs(shapely.Polygon(t).area) > 1e-9]
    )


def areas(seen) -> shapely.Geometry:
    """Everything within outer rings less the holes of the same part."""
    whole = []
    for one in seen:
        rings = [shapely.Polygon(ring).buffer(0) for ring in one.rings]
        outer = [r for r, ring in zip(rings, one.rings, strict=True) if shapely.LinearRing(ring).is_ccw]
        holes = [r for r, ring in zip(rings, one.rings, strict=True) if not shapely.LinearRing(ring).is_ccw]
        whole.append(shapely.union_all(outer).difference(shapely.union_all(holes)))
    return shapely.union_all(whole)


@pytest.mark.parametrize("look", [SIDE, TOP, FRONT], ids=lambda look: look.name)
@pytest.mark.parametrize("name", SAMPLES)
def test_the_silhouette_is_that_of_the_file_within_a_cell(name, look):
    """The areas of all parts together against the union of every projected triangle of the file."""
    flat = np.concatenate([projected(triangles, look) for _, triangles in read_back(name)])
    theirs = shadow(flat)
    ours = areas(Stage(meshes_of(name), look).seen())
    x0, y0, x1, y1 = theirs.bounds
    cell = max(x1 - x0, y1 - y0) / CELLS
    outside = ours.difference(theirs.buffer(1.2 * cell)).area
    missing = theirs.buffer(-1.2 * cell).difference(ours.buffer(0.6 * cell)).area
    print(
        f"{name} {look.name}: cell {cell:.2f} mm; area {ours.area:.0f} beside {theirs.area:.0f} mm2;"
        f" farther than 1.2 cells out {outside:.2f}, missing within {missing:.2f} mm2"
    )
    assert outside < cell**2
    assert missing < 12 * cell**2  # areas of less than 6 cells each are not filled
    assert abs(ours.area - theirs.area) < 0.25 * cell * theirs.length


@pytest.mark.parametrize("look", [SIDE, TOP, FRONT, ANGLED], ids=lambda look: look.name)
@pytest.mark.parametrize("name", SAMPLES)
def test_the_outline_of_the_file_is_drawn(name, look):
    """Every place of the silhouette's outer edge lies on a line of the view, within half a millimetre."""
    flat = np.concatenate([projected(triangles, look) for _, triangles in read_back(name)])
    theirs = shapely.union_all([part.exterior for part in shapely.get_parts(shadow(flat).buffer(0.01))])
    seen = Stage(meshes_of(name), look).seen(filled=())
    drawn = shapely.MultiLineString([run for one in seen for run in one.edges + one.creases])
    lost = theirs.difference(drawn.buffer(0.5))
    print(f"{name} {look.name}: outline {theirs.length:.0f} mm, not drawn {lost.length:.2f} mm")
    assert lost.length < 0.002 * theirs.length
    assert all(piece.length < 3 for piece in shapely.get_parts(lost))


def first_hits(flat: np.ndarray, owner: np.ndarray, points: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """For each point of the picture the part that is nearest to the eye there, and by how much to the next."""
    a, b, c = flat[:, 0], flat[:, 1], flat[:, 2]
    double = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    kept = np.abs(double) > 1e-6
    a, b, c, double, owner = a[kept], b[kept], c[kept], double[kept], owner[kept]
    first, ahead = [], []
    for x, y in points:
        u = ((b[:, 0] - x) * (c[:, 1] - y) - (b[:, 1] - y) * (c[:, 0] - x)) / double
        v = ((c[:, 0] - x) * (a[:, 1] - y) - (c[:, 1] - y) * (a[:, 0] - x)) / double
        hit = (u >= 0) & (v >= 0) & (u + v <= 1)
        depth = np.where(hit, u * a[:, 2] + v * b[:, 2] + (1 - u - v) * c[:, 2], -math.inf)
        if not hit.any():
            first.append(-1)
            ahead.append(math.inf)
            continue
        front = int(np.argmax(depth))
        others = depth[owner != owner[front]]
        first.append(int(owner[front]))
        ahead.append(float(depth[front] - others.max(initial=-math.inf)))
    return np.array(first), np.array(ahead)


@pytest.mark.parametrize("look", [SIDE, TOP, FRONT, ANGLED], ids=lambda look: look.name)
def test_the_part_that_a_ray_meets_first_is_the_one_that_is_seen_there(look):
    """Rays on a grid through the twin's file, by barycentric coordinates, against the areas of each part."""
    parts = read_back("cordgrass-2")
    flat = np.concatenate([projected(triangles, look) for _, triangles in parts])
    owner = np.repeat(np.arange(len(parts)), [len(triangles) for _, triangles in parts])
    (x0, y0), (x1, y1) = flat[..., :2].min(axis=(0, 1)), flat[..., :2].max(axis=(0, 1))
    cell = max(x1 - x0, y1 - y0) / CELLS
    points = np.array([(x, y) for x in np.linspace(x0, x1, 47) for y in np.linspace(y0, y1, 31)]) + 0.123
    first, ahead = first_hits(flat, owner, points)
    seen = {one.name: areas([one]) for one in Stage(meshes_of("cordgrass-2"), look).seen()}
    edges = shapely.union_all([shape.boundary for shape in seen.values()])
    looked = agreed = 0
    for point, i, by in zip(shapely.points(points), first.tolist(), ahead.tolist(), strict=True):
        if by < 1.0 or edges.distance(point) < 1.5 * cell:  # parts that touch, and the grid's own coarseness
            continue
        looked += 1
        here = {name for name, shape in seen.items() if shape.covers(point)}
        agreed += here == ({parts[i][0]} if i >= 0 else set())
    print(f"{look.name}: {agreed} of {looked} rays agree")
    assert looked > 300
    assert agreed == looked
