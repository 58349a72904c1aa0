"""glTF 2.0 writer, binary form: the surfaces of a model in, bytes out.

Metres, y up, the front towards +z: a point (x, y, z) of the model, mm, x aft, y right, z up, is written as
(-y, z, -x) / 1000.  Faces are flat: without normals a reader has to shade them so (glTF 2.0, 3.7.2.1).  The
format is one JSON text and one block of numbers; the libraries that write it only pass the text through a
class for each record, so that json and numpy alone are less to keep.
"""

import json
import struct
from collections.abc import Sequence

import numpy as np

from foamcut.airframe.model import Mesh
from foamcut.draw.styles import PALETTE

#: which colours of the palette stocks have, in this order: light ones that differ most come first
_HANDED_OUT = (8, 12, 2, 3, 14, 6, 4, 10, 7, 11, 9, 1, 13, 5)
#: numbers of the standard: kinds of values, what a buffer is for
_FLOAT, _UNSIGNED_SHORT, _UNSIGNED_INT = 5126, 5123, 5125
_VERTICES, _INDICES = 34962, 34963
#: 65535 is the index that starts a strip anew and no vertex
_MOST_SHORT = 65535
#: what turns a point of the model, as a column, into one of the file
_TURN = np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]]) / 1000


def render(meshes: Sequence[Mesh], *, version: str) -> bytes:
    """The file: one node a part, with its name, one material a stock.

    Raises
    ------
    ValueError
        There is no surface: then there is no file.
    """
    if not meshes:
        raise ValueError("a model without parts")
    block = _Block()
    stocks = list(dict.fromkeys(mesh.stock for mesh in meshes))
    document = {
        "asset": {"version": "2.0", "generator": f"foamcut {version}"},
        "scene": 0,
        "scenes": [{"name": "model", "nodes": list(range(len(meshes)))}],
        "nodes": [{"name": mesh.name, "mesh": i} for i, mesh in enumerate(meshes)],
        "meshes": [_mesh(mesh, block, stocks) for mesh in meshes],
        "materials": [_material(stock, i) for i, stock in enumerate(stocks)],
        "accessors": block.accessors,
        "bufferViews": block.views,
        "buffers": [{"byteLength": len(block.data)}],
    }
    text = json.dumps(document, separators=(",", ":"), allow_nan=False).encode()
    chunks = _chunk(b"JSON", text, b" ") + _chunk(b"BIN\0", bytes(block.data), b"\0")
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


def _chunk(kind: bytes, data: bytes, filler: bytes) -> bytes:
    data += filler * (-len(data) % 4)
    return struct.pack("<I4s", len(data), kind) + data


class _Block:
    """The block of numbers, and what says where each list of them begins."""

    def __init__(self) -> None:
        self.data = bytearray()
        self.views: list[dict[str, int]] = []
        self.accessors: list[dict[str, object]] = []

    def add(self, values: np.ndarray, target: int, **said: object) -> int:
        """Append numbers at a place that all kinds of them may start at; the number of their accessor."""
        self.data += b"\0" * (-len(self.data) % 4)
        data = values.tobytes()
        view = {"buffer": 0, "byteOffset": len(self.data), "byteLength": len(data), "target": target}
        self.data += data
        self.views.append(view)
        self.accessors.append({"bufferView": len(self.views) - 1, "count": len(values), **said})
        return len(self.accessors) - 1


def _mesh(mesh: Mesh, block: _Block, stocks: Sequence[str]) -> dict[str, object]:
    points = (mesh.vertices @ _TURN.T + 0.0).astype("<f4")
    low, high = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    position = block.add(points, _VERTICES, componentType=_FLOAT, type="VEC3", min=low, max=high)
    short = len(points) <= _MOST_SHORT
    numbers = mesh.triangles.ravel().astype("<u2" if short else "<u4")
    kind = _UNSIGNED_SHORT if short else _UNSIGNED_INT
    indices = block.add(numbers, _INDICES, componentType=kind, type="SCALAR")
    part = {"attributes": {"POSITION": position}, "indices": indices, "material": stocks.index(mesh.stock)}
    return {"name": mesh.name, "primitives": [part]}


def _material(stock: str, number: int) -> dict[str, object]:
    colour = PALETTE[_HANDED_OUT[number % len(_HANDED_OUT)]]
    factor = [*(round(_linear(value / 255), 6) for value in colour), 1.0]
    surface = {"baseColorFactor": factor, "metallicFactor": 0.0, "roughnessFactor": 0.9}
    return {"name": stock, "pbrMetallicRoughness": surface}


def _linear(value: float) -> float:
    """The linear value of one of sRGB (IEC 61966-2-1, from memory): what the format's colours are."""
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)
