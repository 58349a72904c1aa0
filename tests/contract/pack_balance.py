"""Checks of balance.json: shapes, digits, and sums made again from the things in it."""

import math
import re
from collections import Counter
from pathlib import Path
from typing import Any

from pack_balance_pictures import check_picture, check_told, pictures_due
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

BALANCE = "balance.json"
DIGITS = 6
# Two numbers of six digits each, and as many things as a model has: a few millionths of the sum.
SUM_SHARE = 5e-6
PLACE_MM = 0.01
_NUMBER = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]*[1-9])?\Z")
_NAME = re.compile(r"[a-z][a-z0-9_]*\Z")
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
    for name, due in pictures_due(said).items():
        path = folder / name
        report.expect(not due or path.is_file(), name, "is missing")
        if path.is_file():
            with report.section(name, "the picture"):
                texts = check_picture(report, name, path.read_bytes(), design)
                check_told(report, name, said, texts)


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
