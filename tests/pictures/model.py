"""Draws a pack's model from four sides: `python tests/pictures/model.py PACK/model.glb OUT.png`.

Read back with a reader that is not the writer's own (trimesh).  Parallel projection, far triangles first.
"""

import sys
from pathlib import Path

import numpy as np
import trimesh
from PIL import Image, ImageDraw

WIDE, HIGH, EDGE = 1500, 1100, 30
#: eye directions and up, in the file's axes: y up, front towards +z, the left wing towards +x
SIDES = {
    "from the left": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
    "from the front": ((0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
    "from above": ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "from the front, left and above": ((0.6, 0.5, 0.62), (0.0, 1.0, 0.0)),
}
LIGHT = np.array([0.35, 0.85, 0.4])


def triangles(path: Path) -> tuple[np.ndarray, np.ndarray]:
    """Corners (n, 3, 3) of every triangle of the scene, mm, and its colour (n, 3)."""
    scene = trimesh.load(path, force="scene")
    corners, colours = [], []
    for node in sorted(scene.graph.nodes_geometry):
        matrix, name = scene.graph[node]
        mesh = scene.geometry[name]
        corners.append(trimesh.transform_points(mesh.vertices, matrix)[mesh.faces] * 1000)
        material = getattr(mesh.visual, "material", None)
        base = getattr(material, "baseColorFactor", None)
        colour = np.array([200, 200, 200]) if base is None else np.asarray(base[:3])
        colours.append(np.tile(colour, (len(mesh.faces), 1)))
    return np.concatenate(corners), np.concatenate(colours)


def view(corners: np.ndarray, colours: np.ndarray, eye: tuple, up: tuple, words: str) -> Image.Image:
    """One view, as large as it fits."""
    forwards = np.array(eye) / np.linalg.norm(eye)
    right = np.cross(up, forwards)
    right /= np.linalg.norm(right)
    top = np.cross(forwards, right)
    flat = np.stack([corners @ right, -(corners @ top)], axis=-1)
    low, high = flat.reshape(-1, 2).min(axis=0), flat.reshape(-1, 2).max(axis=0)
    scale = min((WIDE - 2 * EDGE) / (high[0] - low[0]), (HIGH - 2 * EDGE) / (high[1] - low[1]))
    flat = (flat - (low + high) / 2) * scale + np.array([WIDE / 2, HIGH / 2])
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1)
    lit = np.abs(normals @ (LIGHT / np.linalg.norm(LIGHT))) / np.maximum(lengths, 1e-12)
    shown = np.clip(colours * (0.45 + 0.55 * lit)[:, None], 0, 255).astype(int)
    image = Image.new("RGB", (WIDE, HIGH), "white")
    draw = ImageDraw.Draw(image)
    for i in np.argsort((corners @ forwards).mean(axis=1), kind="stable"):
        draw.polygon([tuple(p) for p in flat[i].tolist()], fill=tuple(shown[i].tolist()))
    draw.text((EDGE, EDGE / 2), words, fill="black")
    return image


def main(path: Path, out: Path) -> None:
    """Write the picture."""
    corners, colours = triangles(path)
    sheet = Image.new("RGB", (2 * WIDE, 2 * HIGH), "white")
    for i, (words, (eye, up)) in enumerate(SIDES.items()):
        sheet.paste(view(corners, colours, eye, up, words), ((i % 2) * WIDE, (i // 2) * HIGH))
    sheet.save(out)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
