"""The model as numbers inside a page, for the script that turns it.

Places are whole steps from the middle of the model, 16 bits each, little end first; triangles name their
corners by number, counted through all parts.  Nothing of it is words.
"""

import base64
from collections.abc import Sequence

import numpy as np

from foamcut.airframe.model import Mesh
from foamcut.draw.styles import PALETTE

#: the largest step from the middle
_MOST = 32767
#: shades of the board, light enough for black edges: white and the two palest of the palette
_SHADES = ((232, 232, 232), PALETTE[9], PALETTE[4], PALETTE[14])


def numbers(meshes: Sequence[Mesh]) -> dict[str, object]:
    """What the script reads: `points` and `corners` in base64, `parts` as (points, triangles, colour).

    `bytes` is how many a corner takes.  A step is the same along all three axes, so that the shape is kept;
    for a model 2 m long it is 0.03 mm.  Parts of a stock share a colour.
    """
    vertices = [np.asarray(mesh.vertices, dtype=float).reshape(-1, 3) for mesh in meshes]
    counts = [len(each) for each in vertices]
    starts = np.cumsum([0, *counts])[:-1]
    wide = sum(counts) > 0xFFFF
    stocks = list(dict.fromkeys(mesh.stock for mesh in meshes))
    triangles = [
        np.asarray(mesh.triangles, dtype=np.int64).reshape(-1, 3) + start
        for mesh, start in zip(meshes, starts, strict=True)
    ]
    return {
        "points": _text(_steps(np.vstack([np.empty((0, 3)), *vertices])), "<i2"),
        "corners": _text(np.vstack([np.empty((0, 3)), *triangles]), "<u4" if wide else "<u2"),
        "bytes": 4 if wide else 2,
        "parts": [
            [count, len(own), _SHADES[stocks.index(mesh.stock) % len(_SHADES)]]
            for mesh, count, own in zip(meshes, counts, triangles, strict=True)
        ],
    }


def _steps(points: np.ndarray) -> np.ndarray:
    """Places as steps from the middle of their box, the farthest along an axis `_MOST` of them off."""
    if not len(points):
        return points
    low, high = points.min(axis=0), points.max(axis=0)
    reach = max(float((high - low).max()) / 2, 1e-9)  # a lone point has none
    return np.rint((points - (low + high) / 2) * (_MOST / reach))


def _text(values: np.ndarray, kind: str) -> str:
    return base64.b64encode(values.astype(kind).tobytes()).decode("ascii")
