"""Damages a good pack in many ways, one at a time: the checks must find each. A check that cannot fail is none."""

import concurrent.futures
import hashlib
import json
import re
import shutil
import tempfile
from collections.abc import Sequence
from pathlib import Path

import breakages_balance
import breakages_book
import breakages_drawings
import breakages_folds
import breakages_joint_marks
import breakages_joints
import breakages_layout
import breakages_left
import breakages_machine
import breakages_model
import breakages_packs
import breakages_pdf
import breakages_read
from breakage import Breakage, NotApplicableError
from check_pack import check_pack

# What folds, bevels, kerf, beds, back files, joints and doublers put into a pack.
WORKED: tuple[Breakage, ...] = (
    *breakages_folds.BREAKAGES,
    *breakages_machine.BREAKAGES,
    *breakages_joints.BREAKAGES,
    *breakages_joint_marks.BREAKAGES,
)
# What poses and the model put into the pack of an aeroplane.
MODEL: tuple[Breakage, ...] = tuple(breakages_model.BREAKAGES)
# What the weight and balance of an aeroplane put into its pack.
BALANCE: tuple[Breakage, ...] = tuple(breakages_balance.BREAKAGES)
# What is read in a whole pack: marking out, overview, gauges and build book.
READ: tuple[Breakage, ...] = (
    *breakages_packs.WHOLE,
    *breakages_read.BREAKAGES,
    *breakages_book.BREAKAGES,
)
# Packs of some parts alone, and those of them that come of a comparison.
PARTIAL: tuple[Breakage, ...] = breakages_packs.PARTIAL
# What every pack holds that parts are cut by.
CUTTING: tuple[Breakage, ...] = (
    *breakages_layout.BREAKAGES,
    *breakages_left.BREAKAGES,
    *breakages_drawings.BREAKAGES,
    *breakages_pdf.BREAKAGES,
)
BREAKAGES: tuple[Breakage, ...] = (
    *CUTTING,
    *MODEL,
    *BALANCE,
    *WORKED,
    *READ,
    *PARTIAL,
)
# Fewer than this that can be tried on a pack prove too little.
FEWEST = 20


def rewrite_manifest(folder: Path) -> None:
    """Put the sizes and digests of the files as they are now into the manifest: the damage must show by itself."""
    path = folder / "manifest.json"
    manifest = json.loads(path.read_text("utf-8"))
    for entry in manifest["files"]:
        file = folder / entry["name"]
        if file.is_file():
            data = file.read_bytes()
            entry["bytes"], entry["sha256"] = len(data), hashlib.sha256(data).hexdigest()
    path.write_text(json.dumps(manifest), "utf-8")


def try_one(folder: Path, number: int) -> tuple[str, str, str]:
    """Damage a copy of the pack; return the name, "found", "missed" or "not on this pack", and the fault."""
    breakage = BREAKAGES[number]
    with tempfile.TemporaryDirectory() as scratch:
        copy = Path(scratch) / "pack"
        shutil.copytree(folder, copy)
        try:
            breakage.damage(copy)
        except (NotApplicableError, LookupError, StopIteration, ValueError) as err:
            return breakage.name, "not on this pack", f"{type(err).__name__} {err}"
        if not breakage.on_manifest:
            rewrite_manifest(copy)
        faults = [str(fault) for fault in check_pack(copy, until=breakage.finds).faults]
    found = [fault for fault in faults if re.search(breakage.finds, fault, re.DOTALL)]
    if found:
        return breakage.name, "found", found[0]
    return breakage.name, "missed", f"expected {breakage.finds!r}, got {faults[:3]}"


def run_breakages(folder: Path, breakages: Sequence[Breakage] = BREAKAGES, *, fewest: int = FEWEST) -> int:
    """Try breakages on the pack in `folder`, print a table, return the exit code.

    1 when the pack has a fault, when a breakage is missed, or fewer than `fewest` can be tried on it.
    """
    whole = check_pack(folder).faults
    for fault in whole:
        print(f"{fault}")
    if whole:
        print(f"{folder}: the pack has {len(whole)} faults before anything is damaged")
        return 1
    with concurrent.futures.ProcessPoolExecutor() as pool:
        numbers = [number for number, breakage in enumerate(BREAKAGES) if breakage in breakages]
        results = list(pool.map(try_one, [folder] * len(numbers), numbers))
    for name, verdict, text in results:
        print(f'{name}: found by "{text}"' if verdict == "found" else f"{name}: {verdict} ({text})")
    found, missed = (sum(verdict == word for _, verdict, _ in results) for word in ("found", "missed"))
    print(
        f"{folder}: {found} damages found, {missed} missed, {len(results) - found - missed} not on this pack"
    )
    return 1 if missed or found < fewest else 0
