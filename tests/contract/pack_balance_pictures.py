"""Checks of the pictures of the balance: plain SVG, whole, telling the numbers of balance.json."""

import math
import re
import xml.etree.ElementTree as ET
from typing import Any

from pack_design import Design
from pack_report import Report
from pack_words import says, squeezed, written

SIDE, SPEEDS, WEIGHTS = "balance-side.svg", "balance-speeds.svg", "balance-weights.svg"
PICTURES = (SIDE, SPEEDS, WEIGHTS)
_SVG = "{http://www.w3.org/2000/svg}"
_TAGS = {f"{_SVG}{tag}" for tag in ("svg", "title", "desc", "rect", "g", "path", "text")}
_ATTRIBUTES = {
    "width", "height", "viewBox", "role", "class", "d", "x", "y", "fill", "stroke", "stroke-width",
    "stroke-linejoin", "stroke-dasharray", "font-family", "font-size", "text-anchor",
}  # fmt: skip
_CLOSING = "Estimates from the numbers given"


def pictures_due(said: dict[str, Any]) -> dict[str, bool]:
    """Which pictures have something to show, by their names."""
    return {
        SIDE: any(one["name"] == "cg_along" for one in said["numbers"]),
        SPEEDS: any(one["unit"] == "m/s" and one["value"] > 0 for one in said["numbers"]),
        WEIGHTS: math.fsum(one["mass_g"] for one in said["items"]) > 0,
    }


def check_plain(report: Report, file: str, data: bytes) -> list[str]:
    """Plain SVG of its size in mm that loads and runs nothing; all that it shows lies in it."""
    words = data.decode("utf-8")
    if not report.expect("<!DOCTYPE" not in words and "<!ENTITY" not in words, file, "has a document type"):
        return []
    root = ET.fromstring(words)
    report.expect(root.tag == f"{_SVG}svg", file, f"the root is {root.tag}, not svg")
    for element in root.iter():
        report.expect(element.tag in _TAGS, file, f"has a {element.tag}")
        odd = sorted(set(element.attrib) - _ATTRIBUTES)
        report.expect(not odd, file, f"{element.tag} has {odd}")
    width, height = (root.get(name, "") for name in ("width", "height"))
    sized = width.endswith("mm") and height.endswith("mm")
    report.expect(
        sized and root.get("viewBox") == f"0 0 {width[:-2]} {height[:-2]}",
        file,
        "its width and height are not those of its viewBox in mm",
    )
    texts = ["".join(element.itertext()) for element in root.iter(f"{_SVG}text")]
    report.expect(bool(texts) and all(map(str.strip, texts)), file, "a text says nothing")
    report.expect(root.find(f".//{_SVG}path") is not None, file, "shows nothing")
    _check_frame(report, file, root, float(width[:-2]), float(height[:-2]))
    return texts


def check_picture(report: Report, file: str, data: bytes, design: Design | None) -> list[str]:
    """A picture of the balance; it names the plan and says what its numbers are."""
    texts = check_plain(report, file, data)
    report.expect(any(says(one, _CLOSING) for one in texts), file, "does not say that these are estimates")
    if design is not None:
        named = any(_names(one, name) for one in texts for name in (design.name, design.title) if name)
        report.expect(named, file, "the plan's name is not on it")
        promise = "s" + "afe"
        quiet = promise in design.text.lower() or promise not in squeezed(" ".join(texts)).lower()
        report.expect(quiet, file, "a word promises what no plan can")
    return texts


def check_told(report: Report, file: str, said: dict[str, Any], texts: list[str]) -> None:
    """The picture says the numbers of balance.json, in one of the units that people read."""
    lines = " | ".join(texts)
    for one in said["numbers"]:
        if file == SPEEDS and one["unit"] == "m/s" and one["value"] > 0:
            units = {"m/s": 1.0}
        elif (file, one["name"]) == (SIDE, "cg_along"):
            units = {"mm": 1.0, "in": 1 / 25.4}
        elif (file, one["name"]) == (WEIGHTS, "mass_all_up"):
            units = {"g": 1.0, "oz": 1 / 28.349523125}
        else:
            continue
        told = any(_tells(lines, abs(one["value"]) * per, unit) for unit, per in units.items())
        report.expect(told, file, f"does not say that {one['name']} is {one['value']} {one['unit']}")


def _tells(lines: str, value: float, unit: str) -> bool:
    """Tell whether a number stands there; that of the file was rounded before, to six digits."""
    return any(written(value * (1 + off), lines, unit) for off in (0.0, 1e-6, -1e-6))


def _names(line: str, name: str) -> bool:
    """Tell whether a line begins with a name, or with as much of it as stands before three dots."""
    start, dots, _ = line.partition("...")
    return says(line, name) or bool(dots and start.strip() and says(name, start))


def _check_frame(report: Report, file: str, root: ET.Element, width: float, height: float) -> None:
    """Every line lies in the picture, and every text begins in it."""
    for path in root.iter(f"{_SVG}path"):
        places = [float(word) for word in re.findall(r"-?[0-9.]+", path.get("d", ""))]
        inside = all(0 <= x <= width for x in places[::2]) and all(0 <= y <= height for y in places[1::2])
        report.expect(inside, file, "a line runs out of the picture")
    for element in root.iter(f"{_SVG}text"):
        x, y = float(element.get("x", "nan")), float(element.get("y", "nan"))
        report.expect(0 <= x <= width and 0 <= y <= height, file, "a text stands outside the picture")
