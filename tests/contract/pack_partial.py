"""Checks of packs of some parts alone: which they are, and what a comparison says became of every part."""

from pathlib import Path

from pack_balance import DIGITS
from pack_balance_pictures import check_plain
from pack_design import Design
from pack_layout import FILE, Layout
from pack_report import Report
from pack_schema import (
    DESIGN,
    Kind,
    exactly,
    filled_text,
    list_of,
    nullable,
    number,
    read_json,
    record,
    text,
)

COMPARISON = "comparison.json"
_DOCUMENT: Kind = record(
    {
        "format": exactly("foamcut-comparison"),
        "version": exactly(1),
        "old": DESIGN,
        "new": DESIGN,
        "parts": list_of(
            record(
                {
                    "name": filled_text,
                    "verdict": exactly("keep", "trim", "extend", "cut again", "new", "gone"),
                    "reason": text,
                    "cut": list_of(filled_text),
                }
            )
        ),
        "numbers": list_of(
            record({"name": filled_text, "unit": text, "before": nullable(number), "after": nullable(number)})
        ),
        "changed": list_of(record({"key": filled_text, "before": text, "after": text})),
        "revision": filled_text,
    }
)
_CUT = ("extend", "cut again", "new")


def check_only(report: Report, layout: Layout, design: Design | None) -> None:
    """`only` names the parts of the layout; `added` those of them that are glued to parts of an older version."""
    raw = layout.raw
    both = ("only" in raw) == ("added" in raw)
    report.expect(both, FILE, "only one of `only` and `added` is there")
    if "only" not in raw:
        return
    names = [part["name"] for part in raw["parts"]]
    report.expect(bool(raw["only"]), FILE, "only: names no part")
    report.expect(raw["only"] == names, FILE, f"only: names {raw['only'][:5]}, the parts are {names[:5]}")
    for name in raw.get("added", []):
        report.expect(name in raw["only"], FILE, f"added: {name} is not among `only`")
        drawn = design is not None and any(part.name == name for part in design.parts)
        report.expect(not drawn, FILE, f"added: {name} is a part of the design")


def _digits_fault(token: str) -> str | None:
    """Tell of digits by which machines may differ."""
    digits = token.lower().partition("e")[0].lstrip("-").replace(".", "").strip("0")
    return f"number {token} has more than {DIGITS} digits" if len(digits) > DIGITS else None


def check_comparison(report: Report, folder: Path, layout: Layout) -> None:
    """comparison.json: what is cut is what is laid; every part has a verdict, a reason, and no two of them."""
    file = COMPARISON
    said, spelling = read_json((folder / file).read_bytes(), _digits_fault)
    report.expect(not spelling, file, "; ".join(spelling[:5]))
    wrong: list[str] = []
    _DOCUMENT(said, "", wrong.append)
    for words in wrong:
        report.expect(False, file, words)
    if wrong:
        return
    report.expect(said["new"] == layout.raw["design"], file, "new: is not the design of layout.json")
    cut = [name for part in said["parts"] for name in part["cut"]]
    same = sorted(cut) == sorted(layout.raw.get("only", []))
    report.expect(same, file, f"cut: names {cut[:5]}, laid are {layout.raw.get('only', [])[:5]}")
    names = [part["name"] for part in said["parts"]]
    report.expect(len(set(names)) == len(names), file, "parts: one stands there twice")
    added = layout.raw.get("added", [])
    for part in said["parts"]:
        what, verdict = f"part {part['name']}", part["verdict"]
        report.expect(bool(part["reason"].strip()), file, f"{what}: no reason is given")
        due = verdict in _CUT
        report.expect(
            bool(part["cut"]) == due, file, f"{what}: {verdict}, and cuts {part['cut'] or 'nothing'}"
        )
        own = (
            part["cut"] == [part["name"]]
            if verdict in ("cut again", "new")
            else part["name"] not in part["cut"]
        )
        report.expect(own, file, f"{what}: {verdict}, and cuts {part['cut']}")
        strips = [name for name in part["cut"] if name not in added]
        report.expect(verdict != "extend" or not strips, file, f"{what}: {strips} are not among `added`")
    for one in said["numbers"]:
        report.expect(
            one["before"] != one["after"], file, f"number {one['name']} is the same before and after"
        )
    for path in sorted(folder.glob("compare-*.svg")):
        with report.section(path.name, "the picture"):
            check_plain(report, path.name, path.read_bytes())
