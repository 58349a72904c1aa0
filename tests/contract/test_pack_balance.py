"""The check of balance.json and its pictures, on documents written by hand and damaged in every way."""

import json
import re
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from breakage import Breakage
from breakages_balance import BREAKAGES
from pack_balance import BALANCE, check_balance, digits_fault
from pack_balance_pictures import PICTURES
from pack_report import Report

DESIGN = {"name": "p", "revision": "A", "sha256": "0" * 64}
_SVG = """<?xml version="1.0" encoding="utf-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50" role="img">
<title>t</title>
<g class="axis" stroke="#000000"><path d="M1 2 L3 4" /></g>
<g class="words"><text x="9" y="9">p, revision A</text>
<text x="9" y="15">175 mm, 420 g, 7.3 m/s</text>
<text x="9" y="20">Estimates from the numbers given.</text></g>
</svg>
"""


def _number(name: str, value: float, unit: str, **more: Any) -> dict[str, Any]:
    known = {"name": name, "value": value, "unit": unit, "low": None, "high": None}
    return known | {"source": "by hand", "assumed": False} | more


def _document() -> dict[str, Any]:
    """300 g at 200 mm and 100 g at 100 mm balance at 175 mm; moved by 40 mm the 100 g give 185 (arithmetic)."""

    def row(along: float, battery: float, **more: Any) -> dict[str, Any]:
        moved = [{"name": "battery", "along": battery, "up": 20}]
        return {
            "moved": moved,
            "along": along,
            "mean_chord_share": 0.25,
            "lead_mm": None,
            "wire_g": None,
        } | more

    finding = {"code": "balance-off", "level": "note", "where": "balance", "line": 3, "text": "it is off"}
    return {
        "format": "foamcut-balance",
        "version": 1,
        "design": DESIGN,
        "numbers": [
            _number("mass_all_up", 420, "g", low=400, high=440),
            _number("cg_along", 175, "mm", low=170.5, high=180),
            _number("cg_up", 22.5, "mm"),
            _number("cg_out", 0.5, "mm"),
            _number("stall_speed", 7.25, "m/s"),
        ],
        "items": [
            {"name": "board", "mass_g": 300, "at": [200, 0, 20]},
            {"name": "battery", "mass_g": 100, "at": [100, 2, 30]},
            {"name": "glue", "mass_g": 20, "at": None},
        ],
        "places": [
            row(175, 100, is_drawn=True, is_best=False),
            row(185, 140, is_drawn=False, is_best=True),
        ],
        "throws": [{"surface": "wing", "word": "aileron", "deg": 30, "mm": 24, "chord_mm": 48}],
        "findings": [finding | {"value": "", "range": "", "source": "", "mend": ""}],
    }


def _pack(folder: Path, document: Any) -> Path:
    (folder / BALANCE).write_text(json.dumps(document), "utf-8")
    for name in PICTURES:
        (folder / name).write_text(_SVG, "utf-8")
    return folder


def _faults(folder: Path) -> list[str]:
    report = Report()
    with report.section(BALANCE, "the balance"):
        check_balance(report, folder, SimpleNamespace(raw={"design": DESIGN}), None)
    return [str(fault) for fault in report.faults]


def test_a_good_balance_has_no_fault(tmp_path: Path) -> None:
    assert _faults(_pack(tmp_path, _document())) == []


@pytest.mark.parametrize("damage", BREAKAGES, ids=lambda damage: damage.name)
def test_every_damage_is_found(damage: Breakage, tmp_path: Path) -> None:
    _pack(tmp_path, _document())
    damage.damage(tmp_path)
    faults = _faults(tmp_path)
    assert any(re.search(damage.finds, fault) for fault in faults), faults


def test_a_balance_of_nothing_needs_no_numbers_or_pictures(tmp_path: Path) -> None:
    document = _document() | {"numbers": [], "items": [], "places": [], "throws": []}
    (tmp_path / BALANCE).write_text(json.dumps(document), "utf-8")
    assert _faults(tmp_path) == []


def test_things_of_one_name_are_not_told_apart(tmp_path: Path) -> None:
    document = _document()
    document["places"] = document["places"][:1]
    document["places"][0]["moved"] *= 2
    assert _faults(_pack(tmp_path, document)) == []


@pytest.mark.parametrize(
    ("token", "fault"),
    [
        ("0", None),
        ("-12.5", None),
        ("0.0000123456", None),
        ("123456000", None),
        ("100.001", None),
        ("-0", "minus nought"),
        ("1.0", "odd form"),
        ("01", "odd form"),
        ("1E5", "exponent"),
        ("1234567", "more than 6"),
        ("0.01234567", "more than 6"),
    ],
)
def test_a_number_is_plain_and_has_six_digits(token: str, fault: str | None) -> None:
    found = digits_fault(token)
    assert (found is None) if fault is None else (found is not None and fault in found)
