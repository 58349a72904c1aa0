"""Checks of model.glb: the container, the numbers in it, the parts that it shows where their poses say.

glTF 2.0, chapters 3.6 (buffers, accessors) and 4 (the binary container).
"""

import json
import struct
from typing import Any

import numpy as np
from pack_design import Design
from pack_drawn import Drawn
from pack_geometry import vertices
from pack_layout import Layout
from pack_report import Report

MODEL = "model.glb"
_KINDS = {5123: "<u2", 5125: "<u4", 5126: "<f4"}
_ACROSS = {"SCALAR": 1, "VEC3": 3}
# Points are single precision metres: 6e-8 of a few metres.
POINT_MM = 1e-3
# No model of flat board is longer.
LARGEST_MM = 20_000.0


def model_due(layout: Layout, design: Design) -> bool:
    """Tell whether a pack has the file: its design has an airframe, and a part has a pose."""
    return design.airframe and any(part["pose"] is not None for part in layout.parts.values())


def check_model(report: Report, data: bytes, layout: Layout, drawn: Drawn | None) -> None:
    """The file is a glTF binary of one node for each part that has a pose."""
    said, block = _chunks(report, data)
    asset = said["asset"]
    report.expect(asset["version"] == "2.0", MODEL, f"its version is {asset['version']!r}, not 2.0")
    maker = f"foamcut {layout.raw['made_by']['foamcut']}"
    report.expect(asset.get("generator") == maker, MODEL, f"its generator is not {maker!r}")
    (buffer,) = said["buffers"]
    spare = len(block) - buffer["byteLength"]
    report.expect(0 <= spare < 4, MODEL, f"the buffer is {spare} bytes shorter than its chunk")
    for view in said["bufferViews"]:
        end = view.get("byteOffset", 0) + view["byteLength"]
        report.expect(end <= buffer["byteLength"], MODEL, "a view ends beyond the buffer")
        report.expect(view.get("byteOffset", 0) % 4 == 0, MODEL, "a view is not aligned to 4 bytes")
    wanted = [name for name, part in layout.parts.items() if part["pose"] is not None]
    nodes = {node["name"]: node for node in said["nodes"]}
    shown = [said["nodes"][index]["name"] for index in said["scenes"][said["scene"]]["nodes"]]
    report.expect(
        sorted(shown) == sorted(wanted),
        MODEL,
        f"shows {sorted(set(shown) ^ set(wanted))[:5]} too much or not",
    )
    for name in wanted:
        if name in nodes:
            points = _surface(report, said, block, nodes[name], name)
            material = said["materials"][said["meshes"][nodes[name]["mesh"]]["primitives"][0]["material"]]
            stock = layout.parts[name]["stock"]
            report.expect(material["name"] == stock, MODEL, f"part {name}: its material is not {stock!r}")
            _check_place(report, layout, drawn, name, points)


def model_extents_mm(data: bytes) -> dict[str, float]:
    """Return how long, wide and high the whole model is, by the bounds of its surfaces."""
    said, _ = _chunks(Report(), data)
    places = [mesh["primitives"][0]["attributes"]["POSITION"] for mesh in said["meshes"]]
    low = np.array([said["accessors"][place]["min"] for place in places]).min(axis=0)
    high = np.array([said["accessors"][place]["max"] for place in places]).max(axis=0)
    wide, up, along = (float(side) * 1000 for side in high - low)
    return {"length": along, "width": wide, "height": up}


def _chunks(report: Report, data: bytes) -> tuple[dict[str, Any], bytes]:
    magic, version, length = struct.unpack_from("<4sII", data)
    report.expect(magic == b"glTF", MODEL, "does not begin with glTF")
    report.expect(version == 2, MODEL, f"its container is of version {version}")
    report.expect(length == len(data), MODEL, f"says {length} bytes and has {len(data)}")
    at, chunks = 12, []
    while at < len(data):
        size, kind = struct.unpack_from("<I4s", data, at)
        report.expect(size % 4 == 0, MODEL, "a chunk is not aligned to 4 bytes")
        chunks.append((kind, data[at + 8 : at + 8 + size]))
        at += 8 + size
    kinds = [kind for kind, _ in chunks]
    report.expect(kinds == [b"JSON", b"BIN\0"], MODEL, f"its chunks are {kinds}")
    return json.loads(chunks[0][1]), chunks[1][1]


def _numbers(said: dict[str, Any], block: bytes, accessor: dict[str, Any]) -> np.ndarray:
    view = said["bufferViews"][accessor["bufferView"]]
    across = _ACROSS[accessor["type"]]
    start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
    found = np.frombuffer(block, _KINDS[accessor["componentType"]], accessor["count"] * across, start)
    return found.reshape(-1, across)


def _surface(
    report: Report, said: dict[str, Any], block: bytes, node: dict[str, Any], name: str
) -> np.ndarray:
    """Check a node's surface; return its points in model axes, mm: x aft, y right, z up."""
    report.expect(
        not {"matrix", "translation", "rotation", "scale"} & set(node), MODEL, f"part {name}: is moved again"
    )
    (primitive,) = said["meshes"][node["mesh"]]["primitives"]
    position = said["accessors"][primitive["attributes"]["POSITION"]]
    metres = _numbers(said, block, position).astype(float)
    indices = _numbers(said, block, said["accessors"][primitive["indices"]]).astype(np.int64)
    report.expect(bool(np.isfinite(metres).all()), MODEL, f"part {name}: a point is no number")
    report.expect(
        metres.min(axis=0).tolist() == position["min"] and metres.max(axis=0).tolist() == position["max"],
        MODEL,
        f"part {name}: its bounds are not those of its points",
    )
    whole = len(indices) % 3 == 0 and int(indices.max()) < len(metres)
    report.expect(whole, MODEL, f"part {name}: its triangles are not whole")
    points = np.column_stack([-metres[:, 2], -metres[:, 0], metres[:, 1]]) * 1000
    if whole:
        corner = points[indices.reshape(-1, 3)]
        volume = np.einsum("ij,ij->", corner[:, 0], np.cross(corner[:, 1], corner[:, 2])) / 6
        report.expect(volume > 0, MODEL, f"part {name}: its faces look inwards")
    report.expect(
        float(np.abs(points).max()) <= LARGEST_MM, MODEL, f"part {name}: lies {LARGEST_MM:g} mm off or more"
    )
    return points


def _check_place(report: Report, layout: Layout, drawn: Drawn | None, name: str, points: np.ndarray) -> None:
    """A flat part lies behind its drawn face, as large as its polygon; any other no farther than it reaches."""
    part = layout.parts[name]
    pose, thickness = part["pose"], layout.stocks[part["stock"]]["thickness"]
    x, y = np.array(pose["x"]), np.array(pose["y"])
    own = (points - np.array(pose["at"])) @ np.column_stack([x, y, np.cross(x, y)])
    shape = layout.part_shape(name)
    flat = vertices(shape)
    drawn_part = drawn.parts.get(name) if drawn else None
    if drawn_part is not None and not drawn_part.made and not drawn_part.folds:
        due = np.array([[*flat.min(axis=0), -thickness], [*flat.max(axis=0), 0.0]])
        off = float(np.abs(np.array([own.min(axis=0), own.max(axis=0)]) - due).max())
        report.expect(
            off <= POINT_MM + 3e-6 * float(np.abs(due).max()),
            MODEL,
            f"part {name}: {off:.3f} mm off its pose",
        )
        return
    reach = float(np.hypot(*np.ptp(flat, axis=0))) + 2 * thickness
    wide = float(np.linalg.norm(np.ptp(points, axis=0)))
    report.expect(wide <= reach * 1.01, MODEL, f"part {name}: is {wide:.0f} mm long, flat it is {reach:.0f}")
    level = float(own[:, 2].max()) >= -thickness - POINT_MM and float(own[:, 2].min()) <= POINT_MM
    report.expect(level, MODEL, f"part {name}: does not touch the plane of its pose")
