"""Damages to the poses in layout.json and to model.glb."""

import json
import struct
from collections.abc import Callable
from pathlib import Path
from typing import Any

from breakage import Collection, NotApplicableError, load, store

BREAKAGES = Collection()
MODEL = "model.glb"


def _posed(document: dict[str, Any], hand: str | None = None) -> dict[str, Any]:
    for part in document["parts"]:
        if part["pose"] is not None and (hand is None or part["hand"] == hand):
            return part
    raise NotApplicableError("no part has a pose")


@BREAKAGES.add("a pose that stretches", r"layout.json: .*x is no unit vector")
def _long(folder: Path) -> None:
    document = load(folder)
    pose = _posed(document)["pose"]
    pose["x"] = [1.001 * value for value in pose["x"]]
    store(folder, document)


@BREAKAGES.add("a pose whose x and y lean", r"layout.json: .*not square to each other")
def _leaning(folder: Path) -> None:
    document = load(folder)
    pose = _posed(document)["pose"]
    pose["y"] = [0.6 * b + 0.8 * a for a, b in zip(pose["x"], pose["y"], strict=True)]
    store(folder, document)


@BREAKAGES.add("a left hand posed as the right", r"layout.json: .*not the mirror image of the right hand's")
def _same_side(folder: Path) -> None:
    document = load(folder)
    left, right = _posed(document, "left"), _posed(document, "right")
    left["pose"]["at"] = right["pose"]["at"]
    if left["pose"]["at"][1] == 0:
        left["pose"]["at"] = [left["pose"]["at"][0], 5, left["pose"]["at"][2]]
    store(folder, document)


@BREAKAGES.add("a pose left out", r"layout.json: .*(a place, and no pose|made by the program without a pose)")
def _no_pose(folder: Path) -> None:
    document = load(folder)
    _posed(document, "none")["pose"] = None
    store(folder, document)


def _text_changed(folder: Path, change: Callable[[dict[str, Any]], None]) -> None:
    path = folder / MODEL
    if not path.exists():
        raise NotApplicableError("no model")
    data = path.read_bytes()
    (size,) = struct.unpack_from("<I", data, 12)
    document = json.loads(data[20 : 20 + size])
    change(document)
    text = json.dumps(document, separators=(",", ":")).encode()
    text += b" " * (-len(text) % 4)
    rest = data[20 + size :]
    head = struct.pack("<4sIII4s", b"glTF", 2, 20 + len(text) + len(rest), len(text), b"JSON")
    path.write_bytes(head + text + rest)


@BREAKAGES.add("a model cut short", r"model.glb: (says \d+ bytes|the model cannot be read)")
def _short(folder: Path) -> None:
    path = folder / MODEL
    if not path.exists():
        raise NotApplicableError("no model")
    path.write_bytes(path.read_bytes()[:-8])


@BREAKAGES.add("a model that is left out", r"(manifest.json: model.glb is not listed|model.glb: )")
def _gone(folder: Path) -> None:
    if not (folder / MODEL).exists():
        raise NotApplicableError("no model")
    (folder / MODEL).unlink()
    manifest = load(folder, "manifest.json")
    manifest["files"] = [entry for entry in manifest["files"] if entry["name"] != MODEL]
    store(folder, manifest, "manifest.json")


@BREAKAGES.add("a part that the model does not show", r"model.glb: shows ")
def _unshown(folder: Path) -> None:
    _text_changed(folder, lambda document: document["scenes"][0]["nodes"].pop())


@BREAKAGES.add("a part that the model moves", r"model.glb: part .*is moved again")
def _moved(folder: Path) -> None:
    _text_changed(folder, lambda document: document["nodes"][0].update(translation=[0.1, 0.0, 0.0]))


@BREAKAGES.add("bounds that are not those of the points", r"model.glb: part .*bounds are not")
def _bounds(folder: Path) -> None:
    def change(document: dict[str, Any]) -> None:
        accessor = next(one for one in document["accessors"] if "min" in one)
        accessor["min"] = [value - 0.01 for value in accessor["min"]]

    _text_changed(folder, change)


@BREAKAGES.add("a model in millimetres", r"model.glb: part .*(lies 20000 mm off|is .* mm long)")
def _too_large(folder: Path) -> None:
    path = folder / MODEL
    if not path.exists():
        raise NotApplicableError("no model")
    data = bytearray(path.read_bytes())
    (size,) = struct.unpack_from("<I", data, 12)
    document = json.loads(data[20 : 20 + size])
    for accessor in document["accessors"]:
        if accessor["type"] == "VEC3":
            start = 28 + size + document["bufferViews"][accessor["bufferView"]]["byteOffset"]
            values = struct.unpack_from(f"<{3 * accessor['count']}f", data, start)
            struct.pack_into(f"<{len(values)}f", data, start, *(1000 * value for value in values))
    path.write_bytes(data)
