"""glTF read back by another reader (trimesh) and by the standard's own words."""

import io
import json
import struct

import numpy as np
import pytest
import trimesh

from foamcut.airframe.model import Mesh, model_meshes
from foamcut.draw.styles import PALETTE
from foamcut.write import glb
from tests.airframe.box_body import box_with


@pytest.fixture(scope="module")
def meshes() -> tuple[Mesh, ...]:
    return model_meshes(box_with(), ())


@pytest.fixture(scope="module")
def data(meshes) -> bytes:
    return glb.render(meshes, version="9.9")


def document(data: bytes) -> tuple[dict, bytes]:
    """The two chunks of the file (glTF 2.0, 4.4, from memory: header of 12 bytes, then length, type, data)."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON" and size % 4 == 0
    rest, other = struct.unpack_from("<I4s", data, 20 + size)
    assert other == b"BIN\0" and rest % 4 == 0 and 28 + size + rest == len(data)
    return json.loads(data[20 : 20 + size]), data[28 + size :]


def test_another_reader_finds_every_part_where_it_is(meshes, data):
    """The contract: metres, y up, the front towards +z, (x, y, z) -> (-y, z, -x) / 1000."""
    scene = trimesh.load(io.BytesIO(data), file_type="glb")
    assert sorted(scene.graph.nodes_geometry) == sorted(mesh.name for mesh in meshes)
    for mesh in meshes:
        transform, geometry = scene.graph[mesh.name]
        assert transform == pytest.approx(np.eye(4))
        read = scene.geometry[geometry]
        x, y, z = mesh.vertices.T
        expected = np.column_stack([-y, z, -x]) / 1000
        assert read.bounds == pytest.approx(np.array([expected.min(0), expected.max(0)]), abs=1e-7)
        assert read.is_watertight
        ours = trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)
        assert read.volume * 1e9 == pytest.approx(ours.volume, rel=1e-5)


def test_the_nose_looks_along_z_and_the_right_side_lies_at_minus_x(data):
    """Seen from the front (+z) with y up, +x is to the viewer's right, where the model's left wing is."""
    scene = trimesh.load(io.BytesIO(data), file_type="glb")
    right = scene.geometry[scene.graph["side-right"][1]]
    assert right.bounds[:, 0] == pytest.approx([-0.030, -0.025])
    assert right.bounds[:, 1] == pytest.approx([0.0, 0.080])
    assert right.bounds[:, 2] == pytest.approx([-0.200, 0.0])


def test_the_text_says_what_the_numbers_are(meshes, data):
    """glTF 2.0, 3.6.2 (from memory): aligned views that lie in the buffer, true bounds of positions."""
    said, block = document(data)
    assert said["asset"] == {"version": "2.0", "generator": "foamcut 9.9"}
    assert said["buffers"][0]["byteLength"] <= len(block) < said["buffers"][0]["byteLength"] + 4
    for view in said["bufferViews"]:
        assert view["byteOffset"] % 4 == 0
        assert view["byteOffset"] + view["byteLength"] <= said["buffers"][0]["byteLength"]
    for mesh in said["meshes"]:
        (part,) = mesh["primitives"]
        position = said["accessors"][part["attributes"]["POSITION"]]
        view = said["bufferViews"][position["bufferView"]]
        points = np.frombuffer(block, "<f4", position["count"] * 3, view["byteOffset"]).reshape(-1, 3)
        assert points.min(axis=0).tolist() == position["min"]
        assert points.max(axis=0).tolist() == position["max"]


def test_stocks_have_colours_of_the_palette_unlike_each_other(meshes):
    """One material a stock; the format's factors are linear, sRGB by IEC 61966-2-1 (from memory)."""
    several = [
        Mesh(name=f"{i}", stock=f"stock-{i // 2}", vertices=m.vertices, triangles=m.triangles)
        for i, m in enumerate(meshes)
    ]
    said, _ = document(glb.render(several, version="1"))
    assert [m["name"] for m in said["materials"]] == ["stock-0", "stock-1", "stock-2"]
    assert [m["primitives"][0]["material"] for m in said["meshes"]] == [0, 0, 1, 1, 2, 2]
    found = []
    for material in said["materials"]:
        linear = np.array(material["pbrMetallicRoughness"]["baseColorFactor"][:3])
        srgb = np.where(linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055)
        found.append(tuple(np.round(srgb * 255).astype(int).tolist()))
    assert set(found) <= set(PALETTE) and len(set(found)) == 3


def test_a_large_surface_has_wide_indexes():
    """More than 65,535 vertices need four bytes each (glTF 2.0, 3.6.2.4, from memory)."""
    ball = trimesh.creation.icosphere(subdivisions=7, radius=100.0)
    assert len(ball.vertices) > 65535
    mesh = Mesh(
        name="ball", stock="board", vertices=np.asarray(ball.vertices), triangles=np.asarray(ball.faces)
    )
    read = trimesh.load(io.BytesIO(glb.render([mesh], version="1")), file_type="glb")
    assert read.geometry["ball"].volume * 1e9 == pytest.approx(ball.volume, rel=1e-5)


def test_the_same_model_gives_the_same_bytes(data):
    assert glb.render(model_meshes(box_with(), ()), version="9.9") == data


def test_no_parts_no_file():
    with pytest.raises(ValueError, match="without parts"):
        glb.render((), version="1")
