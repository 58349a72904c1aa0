"""Pictures of folded parts: `python -m tests.pictures.folded DESIGN OUT_DIR` writes one SVG per folded part.

Each shows the part folded, in isometric projection from two opposite sides: the drawn face light grey with a
capital letter, the face behind it darker with a small one, bare foam white.  Letters lie on the panels as
they would be written on the board, so that a mirrored one shows that a panel is inside out.  What is nearer
hides what is behind it, by a tree of planes (H. Fuchs, Z. M. Kedem, B. F. Naylor, On visible surface
generation by a priori tree structures, SIGGRAPH 1980: from memory).
"""

import string
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from foamcut.design.design import read_design
from foamcut.flat.build import build_part
from foamcut.flat.panels import fold_up
from foamcut.flat.part import Part
from foamcut.flat.solids import flat_solid

#: fills: the drawn face, the face behind, foam
FILLS = {"drawn": "#dcdcdc", "behind": "#9a9a9a", "foam": "#ffffff"}
#: the two ways to look: from where, as seen from the middle of the part
VIEWS = {"seen from above": (-1.0, -1.3, 0.9), "seen from below": (1.0, 1.3, -0.9)}
#: what lies this close to a plane lies in it, mm
_ON_PLANE_MM = 1e-5
#: neighbours whose planes lean by less than this are drawn as one face (cosine)
_SAME_FACE = 0.999


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter on a face: where, and the ways right and up of whoever reads it from outside."""

    text: str
    at: np.ndarray
    right: np.ndarray
    up: np.ndarray
    size_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """A flat convex polygon in space: its corners, which sides of it are seen as lines, what is on it."""

    corners: np.ndarray
    lined: tuple[bool, ...]
    normal: np.ndarray
    fill: str
    face: tuple[int, str] = (0, "foam")  # number of the panel, and which of its faces


@dataclass(slots=True)
class _Node:
    plane: Patch
    same: list[Patch] = field(default_factory=list)
    front: "_Node | None" = None
    behind: "_Node | None" = None


def patches(part: Part) -> Iterator[Patch]:
    """What bounds the solids of a folded part, in space."""
    for number, panel in enumerate(fold_up(part).panels):
        mesh = flat_solid(part, panel).to_mesh()
        flat = np.asarray(mesh.vert_properties, dtype=float)[:, :3]
        triangles = np.asarray(mesh.tri_verts)
        a, b, c = (flat[triangles[:, i]] for i in range(3))
        normals = np.cross(b - a, c - a)
        sizes = np.linalg.norm(normals, axis=1)
        normals = normals / np.where(sizes > 0, sizes, 1.0)[:, None]
        sides: dict[tuple[int, int], int] = {
            (int(t[i]), int(t[(i + 1) % 3])): n for n, t in enumerate(triangles) for i in range(3)
        }
        matrix = panel.pose.matrix
        for n, t in enumerate(triangles):
            if sizes[n] < 1e-9:
                continue
            beyond = [sides.get((int(t[(i + 1) % 3]), int(t[i])), n) for i in range(3)]
            lined = tuple(float(normals[n] @ normals[other]) < _SAME_FACE for other in beyond)
            face = _face(flat[t][:, 2], part.thickness_mm)
            space = flat[t] @ matrix[:3, :3].T + matrix[:3, 3]
            yield Patch(space, lined, matrix[:3, :3] @ normals[n], FILLS[face], (number, face))


def _face(heights: np.ndarray, thickness: float) -> str:
    if np.all(heights > -1e-5):
        return "drawn"
    return "behind" if np.all(heights < -thickness + 1e-5) else "foam"


def letters(part: Part) -> dict[tuple[int, str], Letter]:
    """The letters of the panels, by panel and face; facets of a roll have none."""
    found = {}
    for number, panel in enumerate(fold_up(part).panels):
        if panel.of_roll is not None:
            continue
        letter = string.ascii_uppercase[number % 26]
        polygon = panel.outline.polygon
        spot = polygon.centroid if polygon.contains(polygon.centroid) else polygon.representative_point()
        room = polygon.boundary.distance(spot)
        turn, at = panel.pose.matrix[:3, :3], panel.pose.matrix[:3, 3]
        for face, z, way, text in (
            ("drawn", 0.0, 1.0, letter),
            ("behind", -part.thickness_mm, -1.0, letter.lower()),
        ):
            place = turn @ np.array((spot.x, spot.y, z)) + at
            found[number, face] = Letter(text, place, way * turn[:, 0], turn[:, 1], min(60.0, 1.2 * room))
    return found


def _tree(found: list[Patch]) -> _Node | None:
    """The tree of planes; the patch in the middle of the list parts the others."""
    root: _Node | None = None
    stack: list[tuple[list[Patch], _Node | None, bool]] = [(found, None, True)]
    while stack:
        here, above, in_front = stack.pop()
        if not here:
            continue
        plane = here[len(here) // 2]
        node = _Node(plane)
        if above is None:
            root = node
        elif in_front:
            above.front = node
        else:
            above.behind = node
        front: list[Patch] = []
        behind: list[Patch] = []
        for patch in here:
            _sort(patch, plane, node, front, behind)
        stack += [(front, node, True), (behind, node, False)]
    return root


def _sort(patch: Patch, plane: Patch, node: _Node, front: list[Patch], behind: list[Patch]) -> None:
    off = (patch.corners - plane.corners[0]) @ plane.normal
    if np.all(np.abs(off) <= _ON_PLANE_MM):
        node.same.append(patch)
    elif np.all(off >= -_ON_PLANE_MM):
        front.append(patch)
    elif np.all(off <= _ON_PLANE_MM):
        behind.append(patch)
    else:
        for half, sign in ((front, 1.0), (behind, -1.0)):
            corners, lined = _half(patch, sign * off)
            if len(corners) >= 3:
                half.append(replace(patch, corners=np.array(corners), lined=tuple(lined)))


def _half(patch: Patch, off: np.ndarray) -> tuple[list[np.ndarray], list[bool]]:
    """The corners where `off` is not negative, and which sides are lined."""
    corners: list[np.ndarray] = []
    lined: list[bool] = []
    count = len(off)
    for i in range(count):
        j = (i + 1) % count
        if off[i] >= 0:
            corners.append(patch.corners[i])
            lined.append(patch.lined[i] and (off[j] > 0 or off[i] > 0))
        if (off[i] > 0 > off[j]) or (off[i] < 0 < off[j]):
            share = off[i] / (off[i] - off[j])
            corners.append(patch.corners[i] + share * (patch.corners[j] - patch.corners[i]))
            lined.append(patch.lined[i] if off[i] < 0 else False)
    return corners, lined


def _painted(node: _Node | None, eye: np.ndarray) -> Iterator[list[Patch]]:
    """What lies in each plane, the farthest first, seen from far away towards `eye`."""
    stack: list[tuple[_Node | None, bool]] = [(node, False)]
    while stack:
        here, ready = stack.pop()
        if here is None:
            continue
        if ready:
            yield here.same
            continue
        towards = float(here.plane.normal @ eye) >= 0
        near, far = (here.front, here.behind) if towards else (here.behind, here.front)
        stack += [(near, False), (here, True), (far, False)]


def _view(
    found: list[Patch],
    tree: _Node | None,
    named: dict[tuple[int, str], Letter],
    way: tuple[float, float, float],
) -> tuple[list[str], np.ndarray, np.ndarray]:
    """The view as SVG lines, y down, and its lowest and highest corner."""
    eye = np.array(way) / np.linalg.norm(way)
    right = np.cross((0.0, 0.0, 1.0), eye)
    right /= np.linalg.norm(right)
    up = np.cross(eye, right)
    flat = np.array([right, -up])
    lines: list[str] = []
    seen = [patch for same in _painted(tree, eye) for patch in same if float(patch.normal @ eye) > 1e-9]
    for patch in seen:
        points = patch.corners @ flat.T
        text = " ".join(f"{x:.2f},{y:.2f}" for x, y in points)
        lines.append(
            f'<polygon points="{text}" fill="{patch.fill}" stroke="{patch.fill}" stroke-width="0.35"/>'
        )
        for i, line in enumerate(patch.lined):
            if line:
                (x0, y0), (x1, y1) = points[i], points[(i + 1) % len(points)]
                ends = f'x1="{x0:.2f}" y1="{y0:.2f}" x2="{x1:.2f}" y2="{y1:.2f}"'
                lines.append(f'<line {ends} stroke="#000000" stroke-width="0.4"/>')
        letter = named.get(patch.face)
        if letter is not None and _is_near(patch, letter):
            # the part of the letter that lies on this patch: another patch of the face may be hidden
            clip = f"{'-'.join(f'{c:.0f}' for c in way)}-{len(lines)}".replace(".", "")
            lines.append(f'<clipPath id="on{clip}"><polygon points="{text}"/></clipPath>')
            lines.append(f'<g clip-path="url(#on{clip})">{_written(letter, flat)}</g>')
    corners = np.concatenate([patch.corners for patch in found]) @ flat.T
    return lines, corners.min(axis=0), corners.max(axis=0)


def _is_near(patch: Patch, letter: Letter) -> bool:
    """Whether a letter lies on a patch of its face, at least in part (by the boxes round them)."""
    reach = letter.size_mm / 2
    low, high = patch.corners.min(axis=0) - reach, patch.corners.max(axis=0) + reach
    return bool(np.all(letter.at >= low) and np.all(letter.at <= high))


def _written(letter: Letter, flat: np.ndarray) -> str:
    (a, b), (c, d), (e, f) = flat @ letter.right, -(flat @ letter.up), flat @ letter.at
    return (
        f'<g transform="matrix({a:.4f} {b:.4f} {c:.4f} {d:.4f} {e:.2f} {f:.2f})"><text font-family="sans-serif"'
        f' font-size="{letter.size_mm:.1f}" text-anchor="middle" y="{letter.size_mm / 3:.1f}">'
        f"{letter.text}</text></g>"
    )


def picture(part: Part) -> str:
    """The folded part as an SVG, seen from two sides."""
    found = list(patches(part))
    tree, named = _tree(found), letters(part)
    views = [(words, *_view(found, tree, named, way)) for words, way in VIEWS.items()]
    size = max(float((high - low).max()) for _, _, low, high in views) / 25
    body: list[str] = []
    x, height = size, 0.0
    for words, lines, low, high in views:
        head = f'<text x="{x:.1f}" y="{1.5 * size:.1f}" font-family="sans-serif" font-size="{size:.1f}">'
        body.append(f"{head}{part.name}, {words}</text>")
        body += [f'<g transform="translate({x - low[0]:.2f} {2.5 * size - low[1]:.2f})">', *lines, "</g>"]
        x += float(high[0] - low[0]) + 2 * size
        height = max(height, float(high[1] - low[1]) + 3.5 * size)
    box = f'width="{x:.1f}mm" height="{height:.1f}mm" viewBox="0 0 {x:.1f} {height:.1f}"'
    ground = '<rect width="100%" height="100%" fill="#e8eef4"/>'
    return "\n".join([f'<svg xmlns="http://www.w3.org/2000/svg" {box}>', ground, *body, "</svg>"]) + "\n"


def main(design: Path, out: Path) -> None:
    """Write a picture of every folded part of a design."""
    out.mkdir(parents=True, exist_ok=True)
    for drawn in read_design(design.read_bytes(), design.name).parts:
        for part in build_part(drawn)[0]:
            if part.folds:
                path = out / f"{part.name}.svg"
                path.write_text(picture(part), encoding="utf-8")
                print(path)


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit("usage: python -m tests.pictures.folded DESIGN OUT_DIR")
    main(Path(sys.argv[1]), Path(sys.argv[2]))
