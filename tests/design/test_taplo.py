"""The schema in an editor's hands: taplo, a checker of TOML files that reads JSON Schema, sees what we mean.

It works offline: the schema is a file.
"""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from foamcut.design.json_schema import SCHEMA_FILE, schema_text
from foamcut.design.key_kinds import keys_of
from foamcut.design.schema import DesignTable
from foamcut.design.starters import UNITS, Starter, starter

from .making import GOOD, changed, with_keys

ROOT = Path(__file__).resolve().parents[2]
TAPLO = Path(sys.executable).parent / "taplo"
FULL = (ROOT / "tests" / "design" / "every_key.toml").read_text(encoding="utf-8")


def lint(folder: Path, text: str) -> tuple[int, str]:
    """Exit code and words of the checker for a design beside its schema, found by its first line."""
    (folder / SCHEMA_FILE).write_text(schema_text(), encoding="utf-8")
    first = f"#:schema ./{SCHEMA_FILE}\n"
    (folder / "design.toml").write_text(first + text, encoding="utf-8")
    run = subprocess.run(
        [TAPLO, "lint", "--no-auto-config", "--colors", "never", "design.toml"],
        cwd=folder, capture_output=True, text=True, check=False,
    )  # fmt: skip
    return run.returncode, run.stdout + run.stderr


@pytest.mark.parametrize(
    "path",
    sorted([*(ROOT / "sample_designs").glob("*.toml"), *(ROOT / "tests" / "design").glob("*.toml")]),
    ids=lambda path: path.stem,
)
def test_samples_are_taken(path: Path, tmp_path: Path):
    """Nothing in a sample is taken for a fault."""
    code, words = lint(tmp_path, path.read_text(encoding="utf-8").split("\n", 1)[1])
    assert code == 0, words


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("name", [one.value for one in Starter])
def test_starters_are_taken(name: str, units: str, tmp_path: Path):
    """Nor in a starter."""
    code, words = lint(tmp_path, starter(name, units, "x").split("\n", 1)[1])
    assert code == 0, words


PLANTED = {
    "a misspelt key": (changed("units", "unit"), "unit"),
    "a word that is none of the choices": (changed('"mm"', '"cm"'), "is not one of"),
    "a bare number where a unit is due": (changed('thickness = "5 mm"', "thickness = 5"), "5 is not of type"),
    "a text without its unit": (changed('thickness = "5 mm"', 'thickness = "5"'), "does not match"),
    "a date that is none": (
        with_keys('[[revision]]\nletter = "A"\ndate = "first"\nwhat = "x"'),
        "does not match",
    ),
    "a size with one number": (changed('"700 x 500 mm"', '"700 mm"'), "does not match"),
    "a key that is missing": (changed('thickness = "5 mm"\n', ""), '"thickness" is a required property'),
    "a table of a later version": (with_keys("[surface.wing]\nspan = 3"), "surface"),
    "a count that is no whole number": (with_keys("count = 1.5"), "1.5 is not of type"),
    "two shapes for one part": (with_keys("circle = 3"), "is valid under more than one"),
    "a point with one number": (with_keys("label = { at = [3] }"), "has less than 2 items"),
    "a length that is not above 0": (
        FULL.replace("circle = 2", "circle = 0"), "is not valid under any of the schemas",
    ),
    "a direction that is none": (FULL.replace('y = "left"', 'y = "port"'), "is not valid under any"),
    "a name of a size with a hyphen": (changed("half_span =", "half-span ="), "half-span"),
    "a kind of fold that there is not": (
        with_keys("folds = [ { kind = 'grove', from = [0, 0], to = [8, 0] } ]"), "is not one of",
    ),
    "a fold that has no line": (with_keys("folds = [ { kind = 'wrap' } ]"), '"from" is a required property'),
    "a joint at x and y": (with_keys("joints = [ { x = 3, y = 4 } ]"), "is not valid under any"),
    "a word that forbids no joint": (with_keys('joints = "nome"'), "is not valid under any"),
    "nothing to keep clear": (with_keys("keep_clear = [ {} ]"), "is not valid under any"),
    "a doubler in sketch measures": (with_keys("doubler = { overlap = 8 }"), "8 is not of type"),
    "a kerf without its unit": (with_keys("cutting = { kerf = 0.2 }"), "0.2 is not of type"),
    "a charge in another unit": (FULL.replace('"2200 mAh"', '"2.2 Ah"'), "does not match"),
    "a thing with two numbers": (FULL.replace('"105 x 34 x 24 mm"', '"105 x 34 mm"'), "does not match"),
    "a battery of many cells": (FULL.replace("cells = 3", "cells = 30"), "30 is greater than the maximum"),
    "a kind of thing that there is not": (FULL.replace('kind = "motor"', 'kind = "moter"'), "is not one of"),
    "a load factor in quotes": (FULL.replace("load_factor = 4.5", 'load_factor = "4"'), "is not of type"),
    "paint of nothing": (FULL.replace('"60 g/m2"', '"-60 g/m2"'), "does not match"),
    "a part weighed without a unit": (FULL.replace('plate = "24 g"', "plate = 24"), "24 is not of type"),
    "a price in quotes": (FULL.replace("price = 3.40", 'price = "3.40"'), "is not of type"),
}  # fmt: skip


@pytest.mark.parametrize("name", PLANTED)
def test_planted_mistakes_are_reported(name: str, tmp_path: Path):
    """Each planted mistake is found while it is typed, before the program is run."""
    text, words = PLANTED[name]
    code, found = lint(tmp_path, text)
    assert code == 1
    assert words in found


def test_the_design_they_are_planted_in_is_taken(tmp_path: Path):
    """Without the mistake the same text passes."""
    code, words = lint(tmp_path, GOOD)
    assert code == 0, words


def test_the_schema_is_draft_4_to_the_letter():
    """exclusiveMinimum is a boolean beside minimum; every table refuses unknown keys and describes its own."""
    schema = json.loads(schema_text())
    assert schema["$schema"] == "http://json-schema.org/draft-04/schema#"
    assert set(schema["properties"]) == set(keys_of(DesignTable))
    tables = 0

    def walk(node: object) -> None:
        nonlocal tables
        if isinstance(node, list):
            for one in node:
                walk(one)
        if not isinstance(node, dict):
            return
        if "exclusiveMinimum" in node:
            assert node["exclusiveMinimum"] is True and "minimum" in node
        if node.get("type") == "object":
            tables += 1
            assert node["additionalProperties"] is False
            for word, inner in node.get("properties", {}).items():
                assert inner["description"], word
        for inner in node.values():
            walk(inner)

    walk(schema)
    assert tables > 20
