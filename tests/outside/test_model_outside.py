"""The model's file before the standard's own validator (Khronos glTF Validator); missing, it is a failure."""

import json
import os
import subprocess
from pathlib import Path

import pytest

from foamcut.airframe.model import model_meshes
from foamcut.write import glb
from tests.airframe.box_body import box_with

pytestmark = pytest.mark.outside_tools

MODULES = Path(__file__).parents[2] / ".venv" / "node_modules"
VALIDATE = """
const data = require('fs').readFileSync(process.argv[1]);
require('gltf-validator').validateBytes(new Uint8Array(data)).then(r => console.log(JSON.stringify(r)));
"""


def validated(path: Path) -> dict:
    """What the validator says of a file."""
    done = subprocess.run(
        ["node", "-e", VALIDATE, str(path)],
        capture_output=True, text=True, check=False, env={**os.environ, "NODE_PATH": str(MODULES)},
    )  # fmt: skip
    assert done.returncode == 0, (
        f"no validator in {MODULES}? make test-outside-tools installs it: {done.stderr}"
    )
    return json.loads(done.stdout)


def assert_valid(path: Path, nodes: int) -> None:
    """published: glTF 2.0 as the Khronos Group's validator knows it."""
    report = validated(path)
    issues = report["issues"]
    assert issues["numErrors"] == issues["numWarnings"] == 0, issues["messages"]
    assert report["mimeType"] == "model/gltf-binary"
    assert report["info"]["version"] == "2.0"
    assert report["info"]["drawCallCount"] == nodes
    assert report["info"]["totalTriangleCount"] > 0


def test_the_validator_passes_a_model(tmp_path):
    meshes = model_meshes(box_with(), ())
    path = tmp_path / "model.glb"
    path.write_bytes(glb.render(meshes, version="1"))
    assert_valid(path, len(meshes))


def test_the_validator_passes_every_sample(sample_packs):
    for folder in sample_packs.values():
        if (path := folder / "model.glb").exists():
            parts = json.loads((folder / "layout.json").read_text())["parts"]
            assert_valid(path, sum(part["pose"] is not None for part in parts))


def test_the_validator_finds_fault_with_a_damaged_model(tmp_path):
    """A bound that is not that of the points: the check above can fail."""
    data = glb.render(model_meshes(box_with(), ()), version="1")
    path = tmp_path / "model.glb"
    path.write_bytes(data.replace(b'"min":[', b'"min":[1', 1)[: len(data)])
    assert validated(path)["issues"]["numErrors"] > 0
