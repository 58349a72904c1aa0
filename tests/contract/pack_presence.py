"""Which files a pack holds: all that its kind has, no others, no leftovers.

A whole pack tells of the model too. One of some parts alone holds what these are cut by; that of a comparison
holds what became of each part besides.
"""

import re
from pathlib import Path
from typing import Any

from pack_balance import BALANCE, balance_due
from pack_balance_pictures import PICTURES
from pack_design import Design
from pack_layout import Layout
from pack_model import MODEL, model_due
from pack_report import Report
from pack_tables import MANIFEST_FILE, SHOPPING

FULL_SIZE = "full-size.pdf"
MARKING, MARKING_ROWS = "marking-out.pdf", "marking-out.csv"
OVERVIEW, GAUGES = "overview.pdf", "gauges.pdf"
BOOK, BOOK_PDF = "book.html", "book.pdf"
COMPARISON = "comparison.json"
_CUTTING = ("design.toml", "layout.json", SHOPPING, FULL_SIZE, MARKING, MARKING_ROWS)
_TELLING = (OVERVIEW, GAUGES, BOOK, BOOK_PDF)
_TEMPLATES = re.compile(r"templates-(a4|a3|letter|tabloid)\.pdf\Z")
_OVERLAY = re.compile(r"compare-[1-9][0-9]*-[a-z0-9-]{1,60}\.svg\Z")
MB = 10**6
#: bytes that a file may have
LARGEST = {BOOK: 2 * MB, ".pdf": 3 * MB}


def check_presence(
    report: Report, folder: Path, manifest: dict[str, Any], layout: Layout | None, design: Design | None
) -> None:
    """The files are those that this version writes, all of them, and no leftovers."""
    file = MANIFEST_FILE
    names = [entry["name"] for entry in manifest["files"]]
    for name in _wanted(layout, design):
        report.expect(name in names, file, f"{name} is not listed")
    if layout is not None:
        known = {*_wanted(layout, design), *_may(layout, design)}
        for name in names:
            overlay = COMPARISON in names and layout.is_partial and _OVERLAY.match(name)
            if layout.is_partial and name in (*_TELLING, MODEL, BALANCE, *PICTURES):
                report.expect(
                    False, file, f"{name} is listed, and tells of the model: this is a pack of some parts"
                )
            else:
                known_here = name in known or bool(overlay)
                report.expect(known_here, file, f"{name} is listed and belongs to nothing in layout.json")
    for name in PICTURES:
        report.expect(name not in names or BALANCE in names, file, f"{name} is listed without {BALANCE}")
    report.expect(any(_TEMPLATES.match(name) for name in names), file, "no templates-<paper>.pdf is listed")
    _check_sizes(report, manifest)
    _check_strangers(report, folder, names)


def _wanted(layout: Layout | None, design: Design | None) -> list[str]:
    """What must be there."""
    names = [*_CUTTING]
    if layout is None:
        return names
    names += [name for sheet in layout.raw["sheets"] for name in sheet["files"]]
    names += [entry["file"] for entry in layout.raw.get("templates", [])]
    if layout.is_partial:
        return names
    names += [*_TELLING, *([MODEL] if design is None or model_due(layout, design) else [])]
    return names + ([BALANCE] if design is not None and balance_due(design) else [])


def _may(layout: Layout, design: Design | None) -> tuple[str, ...]:
    """What may be there besides."""
    if layout.is_partial:
        return (COMPARISON,)
    return (BALANCE, *PICTURES) if design is None or balance_due(design) else ()


def _check_sizes(report: Report, manifest: dict[str, Any]) -> None:
    """What is mailed and opened on a telephone is small."""
    for entry in manifest["files"]:
        name = entry["name"]
        for ending, most in LARGEST.items():
            if name.endswith(ending) and not name.startswith(("full-size", "templates-")):
                held = f"{name} has {entry['bytes']} bytes, more than {most // MB} million"
                report.expect(entry["bytes"] < most, MANIFEST_FILE, held)


def _check_strangers(report: Report, folder: Path, names: list[str]) -> None:
    for name in (*_TELLING, MARKING, MARKING_ROWS, COMPARISON, BALANCE, MODEL):
        report.expect(name in names or not (folder / name).exists(), name, "is here and not listed")
    for path in sorted((folder / "sheets").rglob("*")):
        name = path.relative_to(folder).as_posix()
        report.expect(name in names, name, "is in the folder of the sheets and not in the manifest")
    for path in sorted(folder.iterdir()):
        hidden = path.name.startswith(".") and ("foamcut" in path.name or "replac" in path.name)
        report.expect(not hidden, path.name, "was left behind by an unfinished writing")
