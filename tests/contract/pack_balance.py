"""Checks of balance.json and of its pictures: shapes, digits, and sums made again from the things in it."""

import math
import re
import xml.etree.ElementTree as ET
from collections import Counter
from pathlib import Path
from typing import Any

from pack_design import Design
from pack_layout import Layout
from pack_report import Report
from pack_schema import (
    DESIGN,
    Kind,
    counting,
    exactly,
    filled_text,
    flag,
    list_of,
    not_negative,
    nullable,
    number,
    positive,
    read_json,
    record,
    text,
)
from pack_words import says, squeezed

BALANCE = "balance.json"
SIDE, SPEEDS, WEIGHTS = "balance-side.svg", "balance-speeds.svg", "balance-weights.svg"
PICTURES = (SIDE, SPEEDS, WEIGHTS)
DIGITS = 6
# Two numbers of six digits each, and as many things as a model has: a few millionths of the sum.
SUM_SHARE = 5e-6
PLACE_MM = 0.01
_NUMBER = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]*[1-9])?\Z")
_NAME = re.compile(r"[a-z][a-z0-9_]*\Z")
_SVG = "{http://www.w3.org/2000/svg}"
_TAGS = {f"{_SVG}{tag}" for tag in ("svg", "title", "desc", "rect", "g", "path", "text")}
_ATTRIBUTES = {
    "width", "height", "viewBox", "role", "class", "d", "x", "y", "fill", "stroke", "stroke-width",
    "stroke-linejoin", "stroke-dasharray", "font-family", "font-size", "text-anchor",
}  # fmt: skip
_CLOSING = "Estimates from the numbers given"

_FINDING: Kind = record(
    {
        "code": filled_text,
        "level": exactly("note", "warning", "stop"),
        "where": text,
        "line": nullable(counting),
        "text": filled_text,
        "value": text,
        "range": text,
        "source": text,
        "mend": text,
    }
)
_MOVED = record({"name": filled_text, "along": number, "up": number})
DOCUMENT: Kind = record(
    {
        "format": exactly("foamcut-balance"),
        "version": exactly(1),
        "design": DESIGN,
        "numbers": list_of(
            record(
                {
                    "name": filled_text,
                    "value": number,
                    "unit": text,
                    "low": nullable(number),
                    "high": nullable(number),
                    "source": filled_text,
                    "assumed": flag,
                }
            )
        ),
        "items": list_of(
            record({"name": filled_text, "mass_g": number, "at": nullable(list_of(number, length=3))})
        ),
        "findings": list_of(_FINDING),
    },
    may={
        "places": list_of(
            record(
                {
                    "moved": list_of(_MOVED),
                    "along": number,
                    "mean_chord_share": nullable(number),
                    "lead_mm": nullable(not_negative),
                    "wire_g": nullable(not_negative),
                    "is_drawn": flag,
                    "is_best": flag,
                }
            )
        ),
        "throws": list_of(
            record(
                {
                    "surface": filled_text,
                    "word": exactly("aileron", "elevator", "rudder", "elevon"),
                    "deg": not_negative,
                    "mm": not_negative,
                    "chord_mm": positive,
                }
            )
        ),
    },
)


def digits_fault(token: str) -> str | None:
    """Tell what is wrong with a number as written: exponent, -0, needless noughts, more than six digits."""
    if "e" in token.lower():
        return f"number {token} is written with an exponent"
    if not _NUMBER.match(token):
        return f"number {token} has an odd form"
    if token == "-0":
        return "number -0 is minus nought"
    if len(token.lstrip("-").replace(".", "").strip("0")) > DIGITS:
        return f"number {token} has more than {DIGITS} digits"
    return None


def balance_due(design: Design) -> bool:
    """Tell whether a pack has the file: its design is an aeroplane."""
    return design.flies


def check_balance(report: Report, folder: Path, layout: Layout | None, design: Design | None) -> None:
    """Check balance.json, and that the pictures there are those that it has something to show for."""
    said, spelling = read_json((folder / BALANCE).read_bytes(), digits_fault)
    report.expect(not spelling, BALANCE, "; ".join(spelling[:5]))
    wrong: list[str] = []
    DOCUMENT(said, "", wrong.append)
    for words in wrong:
        report.expect(False, BALANCE, words)
    if wrong:
        return
    if layout is not None:
        report.expect(said["design"] == layout.raw["design"], BALANCE, "design: is not that of layout.json")
    _check_numbers(report, said["numbers"])
    _check_sums(report, said)
    _check_places(report, said)
    _check_throws(report, said.get("throws", []))
    for name, due in _pictures_due(said).items():
        path = folder / name
        report.expect(not due or path.is_file(), name, "is missing")
        if path.is_file():
            with report.section(name, "the picture"):
                _check_picture(report, name, path.read_bytes(), design)


def _check_numbers(report: Report, numbers: list[dict[str, Any]]) -> None:
    for name, count in Counter(one["name"] for one in numbers).items():
        report.expect(count == 1, BALANCE, f"number {name} stands {count} times")
        report.expect(_NAME.match(name) is not None, BALANCE, f"number {name!r} is oddly named")
    for one in numbers:
        low, high, room = one["low"], one["high"], 1e-5 * abs(one["value"])
        inside = (low is None or low <= one["value"] + room) and (high is None or high >= one["value"] - room)
        report.expect(inside, BALANCE, f"number {one['name']}: {one['value']} is not from {low} to {high}")


def _check_sums(report: Report, said: dict[str, Any]) -> None:
    """All-up mass and centre of gravity, made again from the things."""
    items, found = said["items"], {one["name"]: one["value"] for one in said["numbers"]}
    placed = [one for one in items if one["at"] is not None]
    mass = math.fsum(one["mass_g"] for one in placed)
    if not (placed and mass > 0):
        report.expect("cg_along" not in found, BALANCE, "a centre of gravity of nothing that has a place")
        return
    for name in ("mass_all_up", "cg_along", "cg_out", "cg_up"):
        report.expect(name in found, BALANCE, f"the number {name} is not there")
    whole = math.fsum(one["mass_g"] for one in items)
    all_up = found.get("mass_all_up", whole)
    room = SUM_SHARE * math.fsum(abs(one["mass_g"]) for one in items)
    report.expect(
        abs(all_up - whole) <= room, BALANCE, f"mass_all_up is {all_up}, the things weigh {whole:.6g} g"
    )
    for axis, name in enumerate(("cg_along", "cg_out", "cg_up")):
        due = math.fsum(one["mass_g"] * one["at"][axis] for one in placed) / mass
        told = found.get(name, due)
        report.expect(
            abs(told - due) <= _place_room(one["at"][axis] for one in placed),
            BALANCE,
            f"{name} is {told}, the things have it at {due:.4f} mm",
        )


def _place_room(places: Any) -> float:
    """0.01 mm, more only where six digits of a place do not tell it."""
    return max(PLACE_MM, 1e-5 * max(map(abs, places), default=0.0))


def _check_places(report: Report, said: dict[str, Any]) -> None:
    """Each way to place things has the balance that their shift gives: mass moved over mass of all."""
    rows = said.get("places", [])
    if not rows:
        return
    drawn = [row for row in rows if row["is_drawn"]]
    report.expect(len(drawn) == 1, BALANCE, f"places: {len(drawn)} ways are those drawn, one is due")
    report.expect(sum(row["is_best"] for row in rows) <= 1, BALANCE, "places: more than one way is the best")
    if len(drawn) != 1:
        return
    items = said["items"]
    placed = [one for one in items if one["at"] is not None]
    mass = math.fsum(one["mass_g"] for one in placed)
    found = {one["name"]: one["value"] for one in said["numbers"]}
    room = 2 * _place_room(one["at"][0] for one in placed)
    told = found.get("cg_along", drawn[0]["along"])
    report.expect(abs(told - drawn[0]["along"]) <= room, BALANCE, "places: as drawn is not cg_along")
    start = {one["name"]: one["along"] for one in drawn[0]["moved"]}
    if len(start) != len(drawn[0]["moved"]):
        return  # things of one name: which is which cannot be told
    weights = {name: _weight(items, name) for name in start}
    for number_, row in enumerate(rows):
        known = [one["name"] for one in row["moved"]] == list(start)
        if report.expect(known, BALANCE, f"places[{number_}]: other things are moved than in the first"):
            moment = math.fsum(weights[o["name"]] * (o["along"] - start[o["name"]]) for o in row["moved"])
            due = drawn[0]["along"] + moment / mass
            report.expect(
                abs(row["along"] - due) <= room,
                BALANCE,
                f"places[{number_}]: balances at {row['along']}, what is moved brings it to {due:.3f}",
            )


def _weight(items: list[dict[str, Any]], name: str) -> float:
    names = (name, f"{name}-right", f"{name}-left")
    return math.fsum(one["mass_g"] for one in items if one["name"] in names and one["at"] is not None)


def _check_throws(report: Report, throws: list[dict[str, Any]]) -> None:
    """Where the trailing edge goes is the chord times the sine of the angle."""
    for one in throws:
        due = one["chord_mm"] * math.sin(math.radians(min(one["deg"], 90.0)))
        report.expect(
            abs(one["mm"] - due) <= PLACE_MM + 1e-5 * due,
            BALANCE,
            f"throw of {one['surface']} {one['word']}: {one['mm']} mm, {due:.3f} are due",
        )


def _pictures_due(said: dict[str, Any]) -> dict[str, bool]:
    """Which pictures have something to show, by their names."""
    return {
        SIDE: any(one["name"] == "cg_along" for one in said["numbers"]),
        SPEEDS: any(one["unit"] == "m/s" and one["value"] > 0 for one in said["numbers"]),
        WEIGHTS: math.fsum(one["mass_g"] for one in said["items"]) > 0,
    }


def _check_picture(report: Report, file: str, data: bytes, design: Design | None) -> None:
    """Plain SVG of its size in mm; it names the plan and says what its numbers are."""
    words = data.decode("utf-8")
    if not report.expect("<!DOCTYPE" not in words and "<!ENTITY" not in words, file, "has a document type"):
        return
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
    report.expect(any(says(one, _CLOSING) for one in texts), file, "does not say that these are estimates")
    report.expect(root.find(f".//{_SVG}path") is not None, file, "shows nothing")
    _check_frame(report, file, root, float(width[:-2]), float(height[:-2]))
    if design is not None:
        named = any(_names(one, name) for one in texts for name in (design.name, design.title) if name)
        report.expect(named, file, "the plan's name is not on it")
        promise = "s" + "afe"
        quiet = promise in design.text.lower() or promise not in squeezed(" ".join(texts)).lower()
        report.expect(quiet, file, "a word promises what no plan can")


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
